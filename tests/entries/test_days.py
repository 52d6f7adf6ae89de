"""Local days: the shared vectors, and zoneinfo itself asked about instants that nobody chose."""

import json
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st
from plytide.insight.clock import day_begins, instant, local_date

ROWS = json.loads((Path(__file__).parents[1] / "vectors" / "days.json").read_text())
ZONES = sorted({row["zone"] for row in ROWS})


@pytest.mark.parametrize("zone", ZONES)
def test_the_vectors(zone: str) -> None:
    rows = [row for row in ROWS if row["zone"] == zone]
    assert len(rows) >= 50
    found = [local_date(instant(row["at"]), zone, row["day_starts"]) for row in rows]
    assert found == [row["day"] for row in rows]


def test_the_vectors_hold_the_nights_that_matter() -> None:
    assert ZONES == ["America/St_Johns", "Asia/Kolkata", "Australia/Lord_Howe", "Europe/Berlin", "Pacific/Apia"]
    changed = {row["zone"] for row in ROWS if row["note"] == "clock change"}
    # Samoa gave up summer time in 2021 and India long before (IANA time zone database): no change to hold there.
    assert changed == {"America/St_Johns", "Australia/Lord_Howe", "Europe/Berlin"}


@given(st.integers(86_400, 7_200_000_000), st.sampled_from(ZONES), st.integers(0, 12))
def test_any_instant_has_the_day_that_the_wall_clock_says(seconds: int, zone: str, day_starts: int) -> None:
    moment = datetime.fromtimestamp(seconds, UTC)
    wall = moment.astimezone(ZoneInfo(zone))
    expected = wall.date() if wall.hour >= day_starts else wall.date() - timedelta(days=1)
    assert local_date(round(moment.timestamp() * 1000), zone, day_starts) == str(expected)


@given(st.dates(date(2024, 1, 1), date(2031, 12, 31)), st.sampled_from(ZONES))
def test_a_day_begins_where_its_first_instant_is(day: date, zone: str) -> None:
    begins = day_begins(str(day), zone, 4)
    assert local_date(begins, zone, 4) == str(day)
    assert local_date(begins - 1, zone, 4) == str(day - timedelta(days=1))
