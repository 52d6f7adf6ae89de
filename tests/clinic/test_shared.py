"""/s/<token>: nothing before the code, the same answer to every wrong one, half an hour after the right one."""

from __future__ import annotations

import gzip
import re
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from datetime import UTC, datetime, timedelta
from typing import Any

import httpx
import pytest
from api.site import Phone, Site
from clinic.conftest import SECRETS, at, entry, log
from plytide.api import shared
from plytide.api.pages import Pages
from plytide.store import LinkSpec

# User agents of previews and scanners, as they name themselves (common practice; the list is not complete).
BOTS = ["facebookexternalhit/1.1", "WhatsApp/2.23", "Slackbot-LinkExpanding 1.0", "Mozilla/5.0 (compatible; bingbot)"]


@pytest.fixture
def link(phone: Phone) -> dict[str, Any]:
    made: dict[str, Any] = phone.post("/api/links", json={"days": 28, "notes": True}).json()
    return made


@pytest.fixture
def reader(site: Site) -> Iterator[httpx.Client]:
    """A browser at the clinic: not paired, nothing known about it."""
    with site.stranger() as reader:
        yield reader


def openings(phone: Phone) -> list[str]:
    """The results of all attempts that the wearer is shown, in order."""
    return [o["result"] for link in phone.get("/api/links").json()["links"] for o in link["openings"]]


def typed(site: Site, link: dict[str, Any], code: str) -> int:
    """What a browser of its own gets for a code."""
    return httpx.post(site.url + at(link), data={"code": code}, headers={"origin": site.url}).status_code


def other_code(code: str) -> str:
    return f"{(int(code) + 1) % 1_000_000:06d}"


def test_before_the_code_there_is_neither_name_nor_data_nor_trace(
    phone: Phone, reader: httpx.Client, link: dict[str, Any]
) -> None:
    for agent in BOTS:
        for headers in ({}, {"purpose": "prefetch", "sec-purpose": "prefetch;prerender"}):
            seen = reader.get(at(link), headers={"user-agent": agent, **headers})
            assert seen.status_code == 200
            said = re.sub("<style>.*</style>", "", seen.text, flags=re.DOTALL)
            assert not [s for s in [*SECRETS, "ply", "sore", "limb", link["id"]] if s in said]
            assert "set-cookie" not in seen.headers
    looked = reader.head(at(link))
    assert (looked.status_code, looked.content) == (200, b"")
    assert openings(phone) == []
    assert phone.get("/api/links").json()["links"][0]["tries_left"] == 10


def test_an_empty_form_counts_as_no_guess(phone: Phone, reader: httpx.Client, link: dict[str, Any]) -> None:
    # Mail scanners have been seen to post forms: twenty of them must not lock the clinic out.
    for data in ({}, {"code": ""}, {"code": "scan@mail"}, {"code": "12345"}):
        for _ in range(5):
            assert reader.post(at(link), data=data).status_code == 404
    assert phone.get("/api/links").json()["links"][0]["tries_left"] == 10
    assert reader.post(at(link), data={"code": link["code"]}).status_code == 303


def test_the_box_is_the_same_bytes_for_links_that_exist_and_that_do_not(
    site: Site, phone: Phone, reader: httpx.Client, link: dict[str, Any]
) -> None:
    stopped = phone.post("/api/links", json={"days": 7}).json()
    phone.delete(f"/api/links/{stopped['id']}")
    urls = [at(link), at(stopped), f"/s/{'A' * 22}", "/s/x"]
    answers = [reader.get(url) for url in urls]
    assert len({(a.status_code, a.content) for a in answers}) == 1
    assert len({tuple(sorted((k, v) for k, v in a.headers.items() if k != "date")) for a in answers}) == 1


def test_every_refusal_is_the_same_answer_whatever_its_reason(
    site: Site, phone: Phone, reader: httpx.Client, link: dict[str, Any]
) -> None:
    now = datetime.now(UTC)
    past = site.store.make_link(phone.logbook_id, LinkSpec(days=7, expires=timedelta(hours=1)), now - timedelta(days=1))
    stopped = phone.post("/api/links", json={"days": 7}).json()
    phone.delete(f"/api/links/{stopped['id']}")
    locked = phone.post("/api/links", json={"days": 7}).json()
    for _ in range(10):
        reader.post(at(locked), data={"code": other_code(locked["code"])})
    tries = {
        "expired": (f"/s/{past.token}", past.code), "revoked": (at(stopped), stopped["code"]),
        "locked": (at(locked), locked["code"]), "mistyped": (at(link), other_code(link["code"])),
        "unknown": (f"/s/{'A' * 22}", "123456"), "empty": (at(link), ""), "garbled": (at(link), "ünïcode"),
    }  # fmt: skip
    answers = {why: reader.post(url, data={"code": code}) for why, (url, code) in tries.items()}
    assert {a.status_code for a in answers.values()} == {404}
    assert len({a.content for a in answers.values()}) == 1
    assert len({tuple(sorted((k, v) for k, v in a.headers.items() if k != "date")) for a in answers.values()}) == 1
    # The wearer is told which it was.
    results = {link["id"]: [o["result"] for o in link["openings"]] for link in phone.get("/api/links").json()["links"]}
    assert results[past.id] == ["expired"]
    assert results[stopped["id"]] == ["revoked"]
    assert results[locked["id"]] == ["wrong_code"] * 10 + ["locked"]
    assert results[link["id"]] == ["wrong_code"]
    states = {link["id"]: link["state"] for link in phone.get("/api/links").json()["links"]}
    assert [states[i] for i in (past.id, stopped["id"], locked["id"], link["id"])] == [
        "expired", "revoked", "locked", "open",
    ]  # fmt: skip


def test_the_right_code_opens_the_page_for_half_an_hour(
    phone: Phone, reader: httpx.Client, link: dict[str, Any]
) -> None:
    spaced = f" {link['code'][:3]} {link['code'][3:]} "  # as people type it
    answer = reader.post(at(link), data={"code": spaced})
    assert answer.status_code == 303
    cookie = answer.headers["set-cookie"].lower()
    for part in ("httponly", "samesite=strict", "path=/s/", "max-age=1800"):
        assert part in cookie
    seen = reader.get(answer.headers["location"])
    assert all(secret in seen.text for secret in SECRETS)
    assert "555 0100" not in seen.text
    assert openings(phone) == ["opened"]


def test_reading_again_within_the_half_hour_is_no_new_opening(
    phone: Phone, reader: httpx.Client, link: dict[str, Any]
) -> None:
    reader.post(at(link), data={"code": link["code"]})
    for _ in range(3):
        assert SECRETS[0] in reader.get(at(link)).text
    assert openings(phone) == ["opened"]


def test_done_ends_it_on_that_computer(reader: httpx.Client, link: dict[str, Any]) -> None:
    reader.post(at(link), data={"code": link["code"]})
    kept = dict(reader.cookies)
    address = re.search(r'action="([^"]+/done)"', reader.get(at(link)).text)
    assert address is not None
    closed = reader.post(f"/s/{address[1]}")
    assert closed.status_code == 200
    assert "Closed" in closed.text
    assert SECRETS[0] not in closed.text
    reader.cookies.update(kept)  # somebody who copied the cookie gets nothing either
    assert SECRETS[0] not in reader.get(at(link)).text


def test_the_cookie_of_one_link_opens_no_other(
    site: Site, phone: Phone, reader: httpx.Client, link: dict[str, Any]
) -> None:
    other = phone.post("/api/links", json={"days": 7}).json()
    answer = reader.post(at(link), data={"code": link["code"]})
    name, value = answer.headers["set-cookie"].split(";")[0].split("=", 1)
    stolen = httpx.get(site.url + at(other), headers={"cookie": f"{name}={value}"})
    assert SECRETS[0] not in stolen.text


def test_a_session_ends_with_its_half_hour_and_with_its_link(site: Site, phone: Phone, link: dict[str, Any]) -> None:
    now = datetime.now(UTC)
    token = link["url"].rsplit("/", 1)[1]
    session = site.store.open_link(token, link["code"], now).session
    assert site.store.link_view(token, session, now + timedelta(minutes=29)) is not None
    assert site.store.link_view(token, session, now + timedelta(minutes=31)) is None
    short = site.store.make_link(phone.logbook_id, LinkSpec(days=7, expires=timedelta(minutes=5)), now)
    session = site.store.open_link(short.token, short.code, now).session
    assert site.store.link_view(short.token, session, now + timedelta(minutes=6)) is None


def test_without_a_code_one_press_opens_it(phone: Phone, reader: httpx.Client) -> None:
    made = phone.post("/api/links", json={"days": 28, "code": False, "hours": 24}).json()
    assert made["code"] is None
    assert SECRETS[0] not in reader.get(at(made)).text
    assert reader.post(at(made), data={"code": ""}).status_code == 303
    assert SECRETS[0] in reader.get(at(made)).text


def test_guesses_side_by_side_share_no_try(site: Site, phone: Phone, link: dict[str, Any]) -> None:
    wrong = [c for c in (f"{n:06d}" for n in range(40)) if c != link["code"]]
    with ThreadPoolExecutor(16) as pool:
        codes = list(pool.map(lambda c: typed(site, link, c), wrong))
    assert set(codes) == {404}
    results = openings(phone)
    assert results.count("wrong_code") == 10
    assert results.count("locked") == len(wrong) - 10
    assert typed(site, link, link["code"]) == 404


def test_a_snapshot_stands_still_and_a_live_link_goes_on(phone: Phone, reader: httpx.Client) -> None:
    now = datetime.now(UTC)
    still, live = (phone.post("/api/links", json={"days": 28, "live": x}).json() for x in (False, True))
    phone.sync([entry(now - timedelta(hours=1), "question", {"text": "Brand new question"}, limb=None)])
    for made, seen in ((still, False), (live, True)):
        reader.post(at(made), data={"code": made["code"]})
        assert ("Brand new question" in reader.get(at(made)).text) is seen


def test_only_what_was_ticked_is_behind_it(site: Site) -> None:
    with closing(site.phone()) as phone, site.stranger() as reader:
        old = log(datetime.now(UTC) - timedelta(days=40), days=3)
        phone.sync([*old[2:], *log()])
        made = phone.post("/api/links", json={"days": 14, "kinds": ["skin", "need"], "notes": False}).json()
        reader.post(at(made), data={"code": made["code"]})
        text = reader.get(at(made)).text
        assert SECRETS[1] in text
        assert "10 checks" in text
        assert not [s for s in ("Peak ply", "Sore spots", "stumble", SECRETS[2], SECRETS[3]) if s in text]


def test_another_site_cannot_post_a_code(site: Site, link: dict[str, Any]) -> None:
    for headers in ({"sec-fetch-site": "cross-site"}, {"origin": "https://elsewhere.example"}):
        answer = httpx.post(site.url + at(link), data={"code": link["code"]}, headers=headers)
        assert answer.status_code == 403


def test_nothing_runs_is_kept_or_found_on_these_pages(reader: httpx.Client, link: dict[str, Any]) -> None:
    reader.post(at(link), data={"code": link["code"]})
    for answer in (reader.get("/s/nobody"), reader.post("/s/nobody", data={"code": "1"}), reader.get(at(link))):
        policy = answer.headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "script-src" not in policy
        assert "unsafe" not in policy
        assert "frame-ancestors 'none'" in policy
        assert answer.headers["cache-control"] == "no-store"
        assert "noindex" in answer.headers["x-robots-tag"]
        assert answer.headers["referrer-policy"] == "same-origin"
        assert "<script" not in answer.text


def test_the_page_is_in_the_links_language_and_the_box_in_the_readers(phone: Phone, reader: httpx.Client) -> None:
    made = phone.post("/api/links", json={"days": 28, "language": "es"}).json()
    assert made["language"] == "es"
    for asks, speaks in (("es-AR,es;q=0.9,en;q=0.5", "es"), ("fr,en;q=0.5,es;q=0.4", "en"), ("fr", "en"), ("", "en")):
        answers = [reader.get(url, headers={"accept-language": asks}) for url in (at(made), "/s/nobody")]
        assert answers[0].content == answers[1].content, "the box does not tell what the link is in"
        assert f'<html lang="{speaks}">' in answers[0].text
    reader.post(at(made), data={"code": made["code"]})
    page = reader.get(at(made), headers={"accept-language": "en"}).text
    assert '<html lang="es">' in page
    assert "pierna izquierda" in page
    assert "pierna izquierda" in phone.get("/api/links/preview", params={"language": "es"}).text
    assert phone.get("/api/links/preview", params={"language": "tlh"}).status_code == 422


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> list[object]:
    """What the server has drawn pages from."""
    seen: list[object] = []
    render = shared.page.render

    def counted(reading: Any, **more: Any) -> str:
        seen.append(reading)
        return render(reading, **more)

    monkeypatch.setattr(shared.page, "render", counted)
    return seen


def settled(drawn: list[object], n: int) -> bool:
    """Whether so many pages are drawn, and no more come."""
    until = time.monotonic() + 10
    while len(drawn) < n and time.monotonic() < until:
        time.sleep(0.01)
    time.sleep(0.1)
    return len(drawn) == n


def test_the_page_is_drawn_while_the_code_is_typed(
    site: Site, phone: Phone, reader: httpx.Client, drawn: list[object]
) -> None:
    link = site.store.make_link(phone.logbook_id, LinkSpec(days=28, live=True), datetime.now(UTC))
    reader.head(f"/s/{link.token}")
    reader.get("/s/nobody")
    assert settled(drawn, 0)
    for _ in range(3):
        reader.get(f"/s/{link.token}")
    assert settled(drawn, 1)
    assert reader.post(f"/s/{link.token}", data={"code": str(link.code)}).status_code == 303
    assert "Peak ply" in reader.get(f"/s/{link.token}").text
    assert settled(drawn, 1), "the reader got the page that was there already"
    phone.sync([entry(datetime.now(UTC), "comfort", {"score": 2})])
    reader.get(f"/s/{link.token}")
    assert settled(drawn, 2), "a live page is drawn anew when something came in"


def test_of_a_link_that_has_ended_nothing_is_drawn(
    site: Site, phone: Phone, reader: httpx.Client, drawn: list[object]
) -> None:
    link = site.store.make_link(phone.logbook_id, LinkSpec(days=28), datetime.now(UTC))
    site.store.revoke_link(phone.logbook_id, link.id, datetime.now(UTC))
    reader.get(f"/s/{link.token}")
    assert settled(drawn, 0)


def test_who_asks_for_a_page_that_is_being_made_waits_for_it() -> None:
    pages, made, now = Pages(), [], datetime.now(UTC)

    def slow() -> str:
        made.append(1)
        time.sleep(0.1)
        return "page"

    with ThreadPoolExecutor(8) as pool:
        got = [pool.submit(pages.of, ("a",), now, timedelta(minutes=5), slow) for _ in range(8)]
        assert {gzip.decompress(future.result()) for future in got} == {b"page"}
    assert len(made) == 1
    pages.of(("a",), now + timedelta(minutes=6), timedelta(minutes=5), slow)
    assert len(made) == 2, "and one that is too old is made anew"


def test_a_page_travels_packed_where_the_browser_can_unpack_it(
    phone: Phone, reader: httpx.Client, link: dict[str, Any]
) -> None:
    reader.post(at(link), data={"code": link["code"]})
    packed, plain = (reader.get(at(link), headers={"accept-encoding": how}) for how in ("gzip, br", "identity"))
    assert packed.headers["content-encoding"] == "gzip"
    assert "content-encoding" not in plain.headers
    assert packed.text == plain.text
    assert 3 * int(packed.headers["content-length"]) < int(plain.headers["content-length"])
    assert packed.headers["content-security-policy"] == plain.headers["content-security-policy"]
