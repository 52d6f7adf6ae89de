"""From what a link may reach to what it shows: the wearer's own days, the ticked kinds, no free words unticked."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from clinic.sample import entry
from hypothesis import given
from hypothesis import strategies as st
from plytide.clinic import words
from plytide.clinic.behind import kinds_of, reading_of, ticked, window, zone_of
from plytide.clinic.reading import ALL_KINDS, TICKS
from plytide.entries import Entry
from plytide.ids import uuid7
from plytide.insight.telling import edited, late

WEB = Path(__file__).parents[2] / "web" / "src"
ZONES = ["Europe/Berlin", "Australia/Lord_Howe", "Pacific/Apia", "Asia/Kolkata", "America/St_Johns"]


@dataclass(frozen=True)
class Asked:
    days: int | None = None
    start: str | None = None
    end: str | None = None
    kinds: tuple[str, ...] | None = None
    notes: bool = True
    live: bool = False
    waiting: int = 0
    language: words.Language = "en"


def at(moment: datetime, zone: str, kind: str = "comfort", body: dict[str, Any] | None = None) -> Entry:
    when, number = moment.astimezone(UTC).isoformat(), int(moment.timestamp()) % 10**9
    return replace(entry(number, kind, body or {"score": 5}, "left", when), zone=zone)


@given(
    st.datetimes(datetime(2030, 1, 5), datetime(2032, 12, 20)), st.sampled_from(ZONES),  # noqa: DTZ001 wall-clock times
    st.integers(1, 60), st.integers(-3, 63),
)  # fmt: skip
def test_a_day_is_the_wearers_own_from_four_to_four(wall: datetime, zone: str, days: int, back: int) -> None:
    now = wall.replace(hour=12, minute=0, tzinfo=ZoneInfo(zone))
    one = at(wall.replace(tzinfo=ZoneInfo(zone)) - timedelta(days=back), zone)
    first, last = window(Asked(days=days), [one], now, zone, 4)
    local = datetime.fromisoformat(one.at).astimezone(ZoneInfo(zone)).replace(tzinfo=None)  # by zoneinfo alone
    theirs = (local - timedelta(hours=4)).date()
    assert (last - first).days == days - 1
    assert (ticked([one], ALL_KINDS, first, last, 4) == [one]) is (first <= theirs <= last)


def test_half_past_three_in_the_night_belongs_to_the_day_before() -> None:
    zone = "Europe/Berlin"
    night = at(datetime(2031, 6, 12, 3, 30, tzinfo=ZoneInfo(zone)), zone)
    first, last = window(Asked(days=1), [night], datetime(2031, 6, 12, 12, tzinfo=ZoneInfo(zone)), zone, 4)
    assert (first, last) == (date(2031, 6, 12), date(2031, 6, 12))
    assert ticked([night], ALL_KINDS, first, last, 4) == []
    assert ticked([night], ALL_KINDS, first, last, 3) == [night]


def test_a_period_by_its_days_has_both_and_never_runs_past_today() -> None:
    now = datetime(2031, 6, 12, 12, tzinfo=UTC)
    past, ahead = (Asked(start="2031-06-01", end=end) for end in ("2031-06-05", "2032-01-01"))
    assert window(past, [], now, "UTC", 4) == (date(2031, 6, 1), date(2031, 6, 5))
    assert window(ahead, [], now, "UTC", 4) == (date(2031, 6, 1), date(2031, 6, 12))
    everything = [at(datetime(2029, 1, 1, 12, tzinfo=UTC), "UTC")]
    assert window(Asked(), everything, now, "UTC", 4) == (date(2029, 1, 1), date(2031, 6, 12))
    assert window(Asked(), [], now, "UTC", 4) == (date(2031, 6, 12), date(2031, 6, 12))


def test_what_stands_until_further_notice_has_no_date_that_matters() -> None:
    old = datetime(2020, 1, 1, tzinfo=UTC)
    standing = [at(old, "UTC", kind, {"text": "x", "name": "x", "kind": "foot", "ply": 1, "on": "2020-01-01"})
                for kind in ("profile", "sock", "need", "question", "option", "visit")]  # fmt: skip
    dated = [at(old, "UTC", kind, {}) for kind in ("ply", "sore", "skin", "mishap", "note", "change")]
    edge = date(2031, 6, 1), date(2031, 6, 12)
    assert ticked([*standing, *dated], ALL_KINDS, *edge, 4) == standing


def test_free_words_go_with_the_tick_for_notes() -> None:
    fall = at(datetime(2031, 6, 12, 12, tzinfo=UTC), "UTC", "mishap", {"what": "fall", "note": "secret"})
    edge = date(2031, 6, 1), date(2031, 6, 12)
    assert ticked([fall], kinds_of(Asked(notes=True)), *edge, 4)[0].body["note"] == "secret"
    assert ticked([fall], kinds_of(Asked(notes=False)), *edge, 4)[0].body == {"what": "fall"}
    assert "note" not in kinds_of(Asked(kinds=("note", "ply"), notes=False))


def test_the_reading_rests_on_what_was_ticked_alone() -> None:
    now = datetime(2031, 6, 12, 12, tzinfo=UTC)
    sore = at(now - timedelta(days=1), "UTC", "sore", {"height": 0.5, "angle": 10, "intensity": 9})
    clear = at(now - timedelta(days=1), "UTC", "skin", {"clear": True})
    seen = reading_of(Asked(days=7, kinds=("skin", "told")), [sore, clear], now, now)
    assert seen.summary["limbs"]["left"]["skin"]["checks"] == 1
    assert [d["sore_worst"] for d in seen.summary["limbs"]["left"]["days"]] == [None] * len(seen.days(
        seen.summary["limbs"]["left"]))  # fmt: skip
    assert list(seen.entries) == [clear]


def test_the_zone_is_that_of_the_latest_entry() -> None:
    first = at(datetime(2031, 6, 1, tzinfo=UTC), "Asia/Kolkata")
    second = at(datetime(2031, 6, 2, tzinfo=UTC), "Europe/Rome")
    assert zone_of([second, first]) == "Europe/Rome"
    assert zone_of([]) == "UTC"


@pytest.mark.parametrize(("minutes", "is_edit"), [(0, False), (10, False), (11, True)])
def test_an_entry_is_edited_when_it_was_changed_over_ten_minutes_later(minutes: int, is_edit: bool) -> None:
    made = int(datetime(2031, 6, 12, 12, tzinfo=UTC).timestamp() * 1000)
    raw = at(datetime(2031, 6, 12, 12, tzinfo=UTC), "UTC")
    one = replace(raw, id=uuid7(made), stamp=f"{made + minutes * 60_000:012x}-0000-0a0b0c0d")
    assert edited(one) is is_edit
    assert not late(one)


def test_an_id_that_carries_no_time_tells_of_no_edit() -> None:
    raw = at(datetime(2031, 6, 12, 12, tzinfo=UTC), "UTC")
    version_4 = replace(raw, id="f47ac10b-58cc-4372-a567-0e02b2c3d479")
    assert (edited(version_4), late(version_4)) == (False, False)


def test_phone_and_server_know_the_same_ticks() -> None:
    source = (WEB / "screens" / "clinic" / "ticks.ts").read_text()
    rows = re.findall(r"^  (\w+): \[(.*)\],$", source, re.MULTILINE)
    assert {name: tuple(re.findall(r'"(\w+)"', kinds)) for name, kinds in rows} == TICKS
