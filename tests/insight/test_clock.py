"""Local days by the wall clock, against zoneinfo (tests/vectors/days.json is made from it alone)."""

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path
from random import Random
from zoneinfo import ZoneInfo

import pytest
from plytide.insight import clock

VECTORS = json.loads((Path(__file__).parents[1] / "vectors" / "days.json").read_text(encoding="utf-8"))
ZONES = ["Europe/Berlin", "Asia/Kolkata", "Australia/Lord_Howe", "Pacific/Apia", "America/St_Johns", "Europe/Lisbon"]


@pytest.mark.parametrize("zone", sorted({one["zone"] for one in VECTORS}))
def test_every_vector_falls_on_its_day(zone):
    for one in (one for one in VECTORS if one["zone"] == zone):
        assert clock.local_date(clock.instant(one["at"]), zone, one["day_starts"]) == one["day"], one


@pytest.mark.parametrize("zone", ZONES)
def test_a_day_begins_at_its_hour_and_the_instant_before_is_the_day_before(zone):
    for day in range(clock.number("2024-01-01"), clock.number("2025-01-01")):
        date = clock.named(day)
        begins = clock.day_begins(date, zone, 4)
        wall = datetime.fromtimestamp(begins / 1000, ZoneInfo(zone))
        assert (wall.hour, wall.minute) == (4, 0)
        assert clock.local_date(begins, zone, 4) == date
        assert clock.local_date(begins - 1, zone, 4) == clock.named(day - 1)


def test_days_of_a_clock_change_have_23_and_25_hours():
    for date, hours in (("2024-03-30", 23), ("2024-10-26", 25), ("2024-06-01", 24)):  # Berlin, from the tz database
        ends = clock.day_begins(clock.named(clock.number(date) + 1), "Europe/Berlin", 4)
        assert ends - clock.day_begins(date, "Europe/Berlin", 4) == hours * clock.HOUR_MS


def test_a_day_that_the_calendar_left_out_has_no_length():
    begins = clock.day_begins("2011-12-30", "Pacific/Apia", 4)  # Samoa crossed the date line, tz database
    assert begins == clock.day_begins("2011-12-31", "Pacific/Apia", 4)
    assert clock.local_date(begins, "Pacific/Apia", 4) == "2011-12-31"


def test_remembering_the_last_day_changes_no_answer():
    r = Random(3)
    dated = clock.dater(4)
    moment = datetime(2024, 1, 1, tzinfo=UTC)
    for _ in range(6000):
        moment += timedelta(minutes=r.choice([1, 7, 60, 400, -90]))
        zone = r.choice(ZONES) if r.random() < 0.1 else ZONES[moment.month % len(ZONES)]
        ms = round(moment.timestamp() * 1000)
        assert dated(ms, zone) == clock.local_date(ms, zone, 4)


def test_instants_are_written_as_they_were_read():
    for at in ("2031-03-02T07:10:00.000Z", "1970-01-01T00:00:00.001Z", "2199-12-31T23:59:59.999Z"):
        assert clock.written(clock.instant(at)) == at


def test_weekends_are_those_of_the_calendar():
    for day in range(clock.number("2031-01-01"), clock.number("2031-03-01")):
        assert clock.weekend(day) == (datetime.fromordinal(day).strftime("%a") in ("Sat", "Sun"))
