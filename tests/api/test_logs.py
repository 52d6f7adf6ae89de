"""The log has one line a request and no word of anybody's health, token or code."""

import io
import logging
import re
from datetime import UTC, datetime
from pathlib import Path

import pytest
from api.site import Site, entry, running
from plytide import logs

WORD = "kittiwake"
LINE = re.compile(r"time=\d{4}-\d\d-\d\dT[\d:.]+Z level=[a-z]+ event=[a-z_]+.*")


@pytest.fixture
def out(monkeypatch: pytest.MonkeyPatch) -> io.StringIO:
    """What the log writes while a test runs."""
    out = io.StringIO()
    monkeypatch.setattr("sys.stderr", out)
    before = {name: logging.getLogger(name).__dict__.copy() for name in ("plytide", "uvicorn")}
    logs.start("debug")
    yield out
    for name, state in before.items():
        logging.getLogger(name).__dict__.update(state)


def talk(site: Site) -> list[str]:
    """Everything a phone and a clinic do; answers the secrets that were used."""
    logbook = site.store.create_logbook(f"{WORD}-book")
    code = site.store.new_pair_code(logbook, datetime.now(UTC)).code
    with site.phone(logbook, f"{WORD}-phone") as phone:
        phone.sync([entry(kind="note", limb=None, body={"text": WORD}), entry(body={"score": WORD})])
        phone.sync(epoch=WORD)
        link = phone.post("/api/links", json={"days": 7}).json()
        token = link["url"].rsplit("/", 1)[1]
        phone.get(f"/s/{token}", params={"q": WORD})
        phone.post(f"/s/{token}", data={"code": link["code"]}, headers={"referer": f"{site.url}/{WORD}"})
        proof = site.store.health_link(link["id"])[0]
        phone.post(f"/s/{token}/shl/{proof}", json={"recipient": WORD, "passcode": link["code"]})
        phone.get(f"/s/{token}/{WORD}/{WORD}/{WORD}/{WORD}")
        calendar = phone.post("/api/calendar").json()["url"].rsplit("/", 1)[1].removesuffix(".ics")
        phone.get(f"/calendar/{calendar}.ics")
        phone.get(f"/{WORD}", headers={"user-agent": WORD})
        phone.request(WORD.upper(), "/")
        return [WORD, WORD.upper(), token, proof, calendar, code, link["code"], *phone.cookies.values()]


def test_secrets_and_health_data_never_reach_the_log(out: io.StringIO, tmp_path: Path) -> None:
    with running(tmp_path, work=True) as site:
        secrets = talk(site)
    text = out.getvalue()
    assert len(text.splitlines()) >= 8
    assert [secret for secret in secrets if secret in text] == []


def test_a_log_that_names_paths_is_found_out(out: io.StringIO, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("plytide.api.access.template", lambda scope: scope["path"])  # the planted fault
    with running(tmp_path) as site:
        secrets = talk(site)
    assert len([secret for secret in secrets if secret in out.getvalue()]) >= 4


def test_every_line_is_of_one_form_and_names_the_route(out: io.StringIO, tmp_path: Path) -> None:
    with running(tmp_path) as site:
        talk(site)
    lines = out.getvalue().splitlines()
    assert [line for line in lines if not LINE.fullmatch(line)] == []
    assert any("route=/s/{token} status=200" in line for line in lines)
    assert any("route=/s/{token}/shl/{proof} status=200" in line for line in lines)
    assert any("route=/calendar/{token}.ics status=200" in line for line in lines)
    assert any("method=POST route=/api/sync status=200 ms=" in line for line in lines)


def test_a_fault_is_logged_by_type_and_place_and_answered_without_either(
    out: io.StringIO, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with running(tmp_path) as site, site.phone() as phone:

        def broken(*_: object) -> None:
            raise ValueError(f"could not read {WORD}")

        monkeypatch.setattr(site.store, "sync", broken)
        answer = phone.sync([entry()])
    assert answer.status_code == 500
    assert answer.json()["code"] == "fault"
    assert "ValueError" not in answer.text
    assert WORD not in out.getvalue() + answer.text
    assert re.search(r"level=error event=fault error=ValueError@\w+\.py:\d+\n", out.getvalue())
