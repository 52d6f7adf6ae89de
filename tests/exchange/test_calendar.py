"""The calendar: icalendar reads what is served, nine in the evening stays nine in the evening for a whole DST year."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from io import StringIO
from typing import Any
from zoneinfo import ZoneInfo

import icalendar
import pytest
from dateutil.rrule import rrulestr
from dateutil.tz import tzical
from exchange.logs import NOW, entry
from plytide.entries import Entry
from plytide.exchange.calendar import calendar

TODAY = date(2031, 6, 12)
# Berlin changes by an hour, Lord Howe by half an hour, Apia and Kolkata not at all, St John's stands at half past.
ZONES = ["Europe/Berlin", "Australia/Lord_Howe", "Pacific/Apia", "Asia/Kolkata", "America/St_Johns"]


def read(entries: list[Entry], summary: Any = None, now: datetime = NOW) -> icalendar.Calendar:
    found = icalendar.Calendar.from_ical(calendar(entries, summary, now, "abcd1234"))
    assert isinstance(found, icalendar.Calendar)
    return found


def events(told: icalendar.Calendar) -> dict[str, icalendar.Event]:
    return {str(e["summary"]): e for e in told.walk("VEVENT")}


def visit(on: date, **body: str) -> Entry:
    return entry(1, "visit", {"on": on.isoformat(), **body})


@pytest.mark.parametrize("zone", ZONES)
def test_the_evening_look_is_at_nine_on_every_day_of_a_year(zone: str) -> None:
    first = entry(0, "doff", {}, zone=zone, at="2031-01-01T12:00:00.000Z")
    told = read([first], now=datetime(2031, 12, 30, tzinfo=UTC))
    event = events(told)["Look at the skin"]
    # An outsider's way: dateutil reads the zone as it was served, and repeats the event by its rule.
    [served] = told.walk("VTIMEZONE")
    theirs = tzical(StringIO(served.to_ical().decode())).get(zone)
    begin = event["dtstart"].dt.replace(tzinfo=None)
    rule = rrulestr(event["rrule"].to_ical().decode(), dtstart=begin)
    seen = 0
    for local in rule.between(datetime(2031, 1, 2), datetime(2031, 12, 31)):  # noqa: DTZ001 wall-clock times
        assert local.time() == time(21)
        assert local.replace(tzinfo=theirs).astimezone(UTC) == local.replace(tzinfo=ZoneInfo(zone)).astimezone(UTC)
        seen += 1
    assert seen == 363


def test_visits_are_whole_days_and_say_where_but_not_why() -> None:
    told = read([visit(TODAY + timedelta(days=3), clinic="Tern Street", purpose="a sore that will not heal")])
    event = events(told)["Clinic: Tern Street"]
    assert (event["dtstart"].dt, event["dtend"].dt) == (date(2031, 6, 15), date(2031, 6, 16))
    assert "sore" not in told.to_ical().decode()


def test_visits_long_past_are_left_out() -> None:
    assert "Clinic" in events(read([visit(TODAY - timedelta(days=60))]))
    assert "Clinic" not in events(read([visit(TODAY - timedelta(days=61))]))


def test_break_in_steps_that_are_left_lie_on_the_coming_days() -> None:
    plan = [{"minutes": 30.0, "times": 1, "days": 1}, {"minutes": 45.0, "times": 3, "days": 2}]
    log = [entry(48, "change", {"what": "new_socket"}), entry(0, "profile", {"break_in": plan})]
    days = [{"date": "2031-06-11", "start": 3, "skin": "clear"}, {"date": "2031-06-12", "start": 3, "skin": "clear"}]
    summary = {"limbs": {"left": {"trend": {"reason": "few", "code": "few", "days": 1}, "days": days}}}
    told = read(log, summary).walk("VEVENT")
    steps = [(e["dtstart"].dt, str(e["summary"])) for e in told if "socket" in e["summary"]]
    assert steps == [(TODAY, "New socket: 45 min, 3 times"), (TODAY + timedelta(days=1), "New socket: 45 min, 3 times")]
    days[0]["skin"] = "finding"  # a day whose look found something gains no step
    assert len([e for e in read(log, summary).walk("VEVENT") if "socket" in e["summary"]]) == 3


def test_the_day_to_book_by_is_in_it_when_there_is_one() -> None:
    summary = {"limbs": {"left": {"trend": {"book_by": "2031-07-01"}, "days": []}}}
    assert events(read([visit(TODAY)], summary))["Book the clinic by today"]["dtstart"].dt == date(2031, 7, 1)
    summary["limbs"]["left"]["trend"]["book_by"] = None  # type: ignore[assignment]
    assert "Book the clinic by today" not in events(read([visit(TODAY)], summary))


def test_an_empty_log_has_a_calendar_all_the_same() -> None:
    assert list(events(read([]))) == ["Look at the skin"]


def test_names_stay_the_same_and_differ_between_addresses() -> None:
    log = [visit(TODAY)]
    uids = [str(e["uid"]) for e in read(log, now=NOW + timedelta(days=1)).walk("VEVENT")]
    assert uids == [str(e["uid"]) for e in read(log).walk("VEVENT")]
    other = icalendar.Calendar.from_ical(calendar(log, None, NOW, "other"))
    assert not set(uids) & {str(e["uid"]) for e in other.walk("VEVENT")}
