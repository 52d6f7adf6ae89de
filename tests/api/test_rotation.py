"""A device's token is renewed in band every month; a stolen old one gives itself away."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import httpx
import pytest
from api.site import Phone, Site, entry, running

LATER = timedelta(days=32)


@pytest.fixture
def later(monkeypatch: pytest.MonkeyPatch) -> list[timedelta]:
    """The server's clock, to be set forward."""
    ahead = [timedelta()]
    for module in ("plytide.api.who", "plytide.api.pairing"):
        monkeypatch.setattr(f"{module}.now", lambda: datetime.now(UTC) + ahead[0])
    return ahead


def with_token(site: Site, token: str) -> httpx.Client:
    return httpx.Client(base_url=site.url, headers={"origin": site.url}, cookies={"plytide": token})


def token_of(phone: Phone) -> str:
    return phone.cookies["plytide"]


def test_a_fresh_token_stays(tmp_path: Path) -> None:
    with running(tmp_path) as site, site.phone() as phone:
        before = token_of(phone)
        assert "set-cookie" not in phone.sync([entry()]).headers
        assert token_of(phone) == before


def test_after_a_month_an_answer_brings_a_new_token_and_the_phone_goes_on(
    tmp_path: Path, later: list[timedelta]
) -> None:
    with running(tmp_path) as site, site.phone() as phone:
        old = token_of(phone)
        later[0] = LATER
        assert phone.sync([entry()]).status_code == 200
        assert token_of(phone) != old
        assert phone.sync([entry()]).status_code == 200
        assert len(phone.get("/api/devices").json()["devices"]) == 1


def test_an_answer_that_got_lost_costs_nothing_the_old_token_is_good_until_the_new_one_is_seen(
    tmp_path: Path, later: list[timedelta]
) -> None:
    with running(tmp_path) as site, site.phone() as phone:
        old = token_of(phone)
        later[0] = LATER
        for _ in range(3):
            with with_token(site, old) as lossy:
                answer = lossy.post("/api/sync", json={"schema": 1})
                assert answer.status_code == 200
                assert "set-cookie" in answer.headers


def test_an_old_token_that_comes_back_after_the_new_one_shuts_the_device_out(
    tmp_path: Path, later: list[timedelta]
) -> None:
    with running(tmp_path) as site, site.phone() as phone:
        other = site.phone(phone.logbook_id)
        old = token_of(phone)
        later[0] = LATER
        phone.sync()
        phone.sync()
        later[0] = LATER + timedelta(days=1)
        with with_token(site, old) as thief:
            assert thief.post("/api/sync", json={"schema": 1}).status_code == 401
        assert phone.sync().status_code == 401, "which of the two is the thief cannot be known"
        assert other.get("/api/audit").json()["lines"][0]["code"] != "made"
        assert len(other.get("/api/devices").json()["devices"]) == 1
