"""The invented wearer: the same bytes each time, every entry good, and her last day is today wherever one is."""

import runpy
from collections import Counter
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from plytide import demo
from plytide.entries import BODIES, parse_entry

SEED = Path(__file__).parents[1] / "seed_data"
ZONES = ["Europe/Berlin", "America/Chicago", "Asia/Kolkata", "Australia/Lord_Howe", "Pacific/Apia", "America/St_Johns"]


def test_the_generator_writes_the_file_that_is_kept() -> None:
    made = runpy.run_path(str(SEED / "make_scenario.py"))
    assert made["text"]() == (SEED / "scenario.jsonl").read_text(encoding="utf-8")


def test_every_line_is_an_entry_of_a_known_kind() -> None:
    kinds = Counter(parse_entry(line).kind for line in demo.lines())
    assert set(kinds) <= set(BODIES)
    missing = set(BODIES) - set(kinds) - {"adjust", "told"}
    assert missing == set(), "the demo shows every kind but those of other sockets and of signs already told"


def test_her_telephone_numbers_are_from_the_range_kept_for_fiction() -> None:
    # 555-0100 to 555-0199 (North American Numbering Plan: line numbers reserved for fictitious use)
    profile = next(line["body"] for line in demo.lines() if line["kind"] == "profile")
    for phone in (profile["clinic_phone"], profile["emergency_phone"]):
        assert phone.startswith("555-01")
        assert len(phone) == 8


@pytest.mark.parametrize("zone", ZONES)
@pytest.mark.parametrize("hour", [2, 9, 15, 23])
def test_the_last_day_is_today_and_nothing_lies_ahead(zone: str, hour: int) -> None:
    now = datetime(2031, 3, 31, hour, 10, tzinfo=ZoneInfo(zone))
    entries = [parse_entry(line) for line in demo.scenario(now, zone)]
    at = [datetime.fromisoformat(entry.at).astimezone(ZoneInfo(zone)) for entry in entries]
    assert max(at) <= now
    today = (now - timedelta(hours=4)).date()  # a day runs from 04:00 to 04:00
    last = max((moment - timedelta(hours=4)).date() for moment in at)
    assert last in ((today,) if hour != 2 else (today, today - timedelta(days=1)))
    assert today - min((moment - timedelta(hours=4)).date() for moment in at) == timedelta(days=119)


def test_clock_times_are_kept_over_the_change_of_the_clocks() -> None:
    # Berlin's clocks went forward on 2031-03-30 (the last Sunday of March)
    now = datetime(2031, 4, 10, 23, 50, tzinfo=ZoneInfo("Europe/Berlin"))
    here, told = demo.scenario(now, "Europe/Berlin"), demo.lines()
    clocks = {
        line["id"][13:]: datetime.fromisoformat(line["at"]).astimezone(ZoneInfo(line["zone"])).strftime("%H:%M:%S")
        for line in told
    }
    for line in here:
        moved = datetime.fromisoformat(line["at"]).astimezone(ZoneInfo("Europe/Berlin"))
        assert moved.strftime("%H:%M:%S") == clocks[line["id"][13:]]  # an id begins with its time, which moves too


def test_dates_inside_entries_move_along() -> None:
    now = datetime(2031, 3, 2, 16, 0, tzinfo=UTC)
    bodies = {line["kind"]: line["body"] for line in demo.scenario(now, "UTC")}
    assert bodies["visit"]["on"] == "2031-03-05"
    assert bodies["trip"]["date"] == "2031-03-03"
    assert bodies["profile"]["limbs"][0]["amputated_on"] < "2030"


def test_ids_move_along_and_socks_and_needs_are_still_found() -> None:
    lines = demo.scenario(datetime(2031, 3, 2, 23, 0, tzinfo=UTC), "UTC")
    socks = {line["id"] for line in lines if line["kind"] == "sock"}
    worn = {id for line in lines if line["kind"] in ("ply", "don") for id in line["body"].get("socks") or []}
    assert worn
    assert worn <= socks
