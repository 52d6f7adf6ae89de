"""/api/calendar and /calendar/<token>.ics: a secret address, the same until it is ended."""

from __future__ import annotations

import icalendar
from api.site import Phone, Site


def path(phone: Phone) -> str:
    return "/calendar/" + str(phone.post("/api/calendar").json()["url"]).rsplit("/", 1)[1]


def test_the_address_is_secret_and_the_same_each_time(phone: Phone) -> None:
    assert path(phone) == path(phone)
    assert len(path(phone)) == len("/calendar/") + 22 + len(".ics")  # 128 bits


def test_anybody_who_has_it_reads_the_calendar_and_nothing_else(site: Site, phone: Phone) -> None:
    with site.stranger() as stranger:
        answer = stranger.get(path(phone))
    assert answer.headers["content-type"] == "text/calendar; charset=utf-8"
    names = [str(e["summary"]) for e in icalendar.Calendar.from_ical(answer.content).walk("VEVENT")]
    assert names == ["Look at the skin"]
    assert "Philippa" not in answer.text


def test_an_ended_address_is_gone_and_the_next_is_another(phone: Phone) -> None:
    first = path(phone)
    assert phone.delete("/api/calendar").status_code == 200
    assert phone.get(first).status_code == 404
    assert path(phone) != first
    assert phone.get(first).status_code == 404
    lines = [line["code"] for line in phone.get("/api/audit").json()["lines"]]
    assert lines[:3] == ["calendar_made", "calendar_ended", "calendar_made"]


def test_a_made_up_address_is_gone_too(phone: Phone) -> None:
    assert phone.get("/calendar/" + "A" * 22 + ".ics").status_code == 404
