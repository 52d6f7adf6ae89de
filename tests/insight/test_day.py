"""A day's numbers: what is worn when, gaps named and not filled, nothing invented from what is missing."""

import pytest
from insight.diary import Diary
from plytide.entries import parse_entry
from plytide.insight import summarise


def days(diary, until, hour=23.0):
    """The summary's days by date."""
    summary = summarise(diary.entries, diary.at(until, hour))
    return {day["date"]: day for day in summary["limbs"]["left"]["days"]}


def whys(day):
    return [gap["why"] for gap in day["gaps"]]


def test_a_full_day_has_start_peak_end_mean_and_hours():
    diary = Diary()
    diary.worn(0, (7, 5), (10, 6), (16, 8), (19, 7), off=22)
    day = days(diary, 1)["2031-03-03"]
    assert (day["start"], day["peak"], day["end"], day["changes"]) == (5, 8, 7, 3)
    assert day["worn_h"] == 15
    assert day["mean"] == pytest.approx((3 * 5 + 6 * 6 + 3 * 8 + 3 * 7) / 15, abs=0.005)
    assert day["steps"] == [(0.0, 5), (3.0, 6), (9.0, 8), (12.0, 7)]
    assert (day["peak_at"], day["on_at"], day["off_at"]) == (
        "2031-03-03T16:00:00.000Z", "2031-03-03T07:00:00.000Z", "2031-03-03T22:00:00.000Z",
    )  # fmt: skip
    assert day["gaps"] == []
    assert not day["partial"]


def test_hours_off_between_two_sittings_are_not_worn():
    diary = Diary()
    diary.worn(0, (7, 5), off=12)
    diary.worn(0, (14, 6), off=20)
    day = days(diary, 1)["2031-03-03"]
    assert (day["worn_h"], day["off"], day["gaps"]) == (11, [(5.0, 7.0)], [])


def test_a_missing_doffing_ends_wear_at_the_last_sign_and_leaves_a_gap():
    diary = Diary()
    diary.add(0, 7, "don", total=5)
    diary.add(0, 15, "ply", total=7)
    diary.worn(1, (8, 5), off=20)
    day = days(diary, 2)["2031-03-03"]
    assert day["worn_h"] == 8
    assert day["off_at"] is None
    assert day["gaps"] == [{"start": "2031-03-03T15:00:00.000Z", "end": "2031-03-04T04:00:00.000Z", "why": "no_doff"}]


def test_a_donning_alone_vouches_for_no_hours():
    diary = Diary()
    diary.add(0, 7, "don", total=5)
    diary.worn(1)
    day = days(diary, 2)["2031-03-03"]
    assert (day["worn_h"], day["mean"], day["start"], whys(day)) == (None, None, 5, ["no_doff"])


def test_a_doffing_without_a_donning_is_a_gap_and_no_hours():
    diary = Diary()
    diary.add(0, 21, "doff")
    day = days(diary, 1)["2031-03-03"]
    assert (day["worn_h"], day["start"], day["peak"], whys(day)) == (None, None, None, ["no_don"])
    assert day["logged"]


def test_a_day_of_sock_changes_alone_counts_from_the_first_to_the_last():
    diary = Diary()
    for hour, total in ((8, 5), (12, 6), (18, 7)):
        diary.add(0, hour, "ply", total=total)
    day = days(diary, 1)["2031-03-03"]
    assert (day["worn_h"], whys(day)) == (10, ["no_don", "no_doff"])


def test_two_donnings_without_a_doffing_between_leave_the_time_between_open():
    diary = Diary()
    diary.add(0, 7, "don", total=5)
    diary.add(0, 10, "ply", total=6)
    diary.add(0, 14, "don", total=6)
    diary.add(0, 21, "doff")
    day = days(diary, 1)["2031-03-03"]
    assert (day["worn_h"], whys(day)) == (10, ["no_doff"])
    assert day["gaps"][0]["start"] == "2031-03-03T10:00:00.000Z"
    assert day["gaps"][0]["end"] == "2031-03-03T14:00:00.000Z"


def test_a_night_out_counts_to_the_evening_it_began():
    diary = Diary()
    diary.add(0, 18, "don", total=5)
    diary.add(0, 29.5, "doff")
    diary.worn(1, (11, 5), off=20)
    by_date = days(diary, 2)
    assert by_date["2031-03-03"]["worn_h"] == 11.5
    assert by_date["2031-03-04"]["worn_h"] == 9


def test_the_hour_that_the_clock_repeats_is_worn_twice():
    diary = Diary(start="2024-10-26", zone="Europe/Berlin")
    diary.add(0, 20, "don", total=5)
    raw = diary.entries[-1].as_dict() | {"id": "0198f2c3-0000-7000-8000-00000000ffff", "kind": "doff", "body": {}}
    diary.entries.append(parse_entry(raw | {"at": "2024-10-27T02:00:00.000Z"}))  # 03:00 after the change
    assert days(diary, 1)["2024-10-26"]["worn_h"] == 8  # 20:00 CEST to 03:00 CET: zoneinfo says 25 hours that day


def test_a_day_without_a_log_says_so_and_has_no_zero():
    diary = Diary()
    diary.worn(0)
    diary.worn(2)
    day = days(diary, 3)["2031-03-04"]
    assert not day["logged"]
    assert whys(day) == ["no_log"]
    unknown = ("start", "peak", "end", "mean", "worn_h", "sore_worst", "comfort", "skin")
    assert [day[name] for name in unknown] == [None] * len(unknown)


def test_today_counts_up_to_now_and_is_partial():
    diary = Diary()
    diary.worn(0)
    diary.add(1, 8, "don", total=5, socks=None)
    summary = summarise(diary.entries, diary.at(1, 12.5))["limbs"]["left"]
    assert summary["on"] == {"total": 5, "socks": None, "since": "2031-03-04T08:00:00.000Z", "worn_h": 4.5}
    assert summary["days"][-1]["partial"]
    assert summary["days"][-1]["worn_h"] == 4.5
    off = summarise(diary.entries, diary.at(0, 23))["limbs"]["left"]
    assert (off["on"], off["off_since"]) == (None, "2031-03-03T22:00:00.000Z")


def test_a_leg_with_no_sign_overnight_is_not_believed_on():
    diary = Diary()
    diary.add(0, 7, "don", total=5)
    assert summarise(diary.entries, diary.at(0, 23))["limbs"]["left"]["on"] is not None
    after = summarise(diary.entries, diary.at(1, 9))["limbs"]["left"]
    assert (after["on"], after["off_since"]) == (None, None)


def test_entries_from_1970_and_a_clock_years_ahead_cost_nothing_but_their_own_day():
    diary = Diary()
    diary.worn(0)
    before = days(diary, 1)["2031-03-03"]
    for n, at in enumerate(("1970-01-01T00:00:00.000Z", "2199-12-31T23:59:59.999Z")):
        raw = diary.entries[-1].as_dict() | {"at": at, "kind": "don", "body": {"total": 4}}
        diary.entries.append(parse_entry(raw | {"id": f"0198f2c3-0000-7000-8000-00000000fff{n}"}))
    summary = summarise(diary.entries, diary.at(1, 23))["limbs"]["left"]
    assert summary["days"][-2] == before
    assert len(summary["days"]) == 2  # what happened decades ago is not listed, nor is the time between
    assert summary["on"] is None


def test_two_limbs_are_read_apart():
    diary = Diary()
    diary.worn(0, (7, 5), off=22)
    diary.add(0, 9, "don", limb="right", total=3)
    diary.add(0, 19, "doff", limb="right")
    limbs = summarise(diary.entries, diary.at(1, 9))["limbs"]
    assert {side: limb["days"][0]["worn_h"] for side, limb in limbs.items()} == {"left": 15, "right": 10}


def test_a_donning_that_does_not_say_its_ply_says_none():
    diary = Diary()
    diary.add(0, 7, "don")
    diary.add(0, 11, "ply", total=6)
    diary.add(0, 21, "doff")
    day = days(diary, 1)["2031-03-03"]
    assert (day["start"], day["steps"], day["worn_h"], day["mean"]) == (6, [(4.0, 6)], 14, 6)


def test_what_else_was_noted_is_on_its_day():
    diary = Diary()
    diary.worn(0)
    diary.sore(0, score=3)
    diary.sore(0, score=6)
    diary.sore(0, score=9, phantom=True)
    diary.add(0, 12, "comfort", score=6)
    diary.add(0, 18, "comfort", score=7)
    diary.add(0, 13, "mishap", what="stumble")
    diary.skin(0, "redness")
    diary.add(0, 8, "day", limb=None, tags=["hot", "salty"])
    day = days(diary, 1)["2031-03-03"]
    assert (day["sore_worst"], day["sore_marks"], day["comfort"], day["mishaps"]) == (6, 2, 6.5, 1)
    assert (day["skin"], day["tags"]) == ("finding", ["hot", "salty"])


def test_a_change_of_socket_before_donning_begins_the_new_period_and_after_it_spoils_the_day():
    diary = Diary()
    for day in range(8):
        diary.worn(day, (7, 8), off=22)
    diary.add(3, 6, "change", what="new_socket")
    diary.add(6, 12, "change", what="liner")
    periods = summarise(diary.entries, diary.at(8, 9))["limbs"]["left"]["periods"]
    assert [(one["what"], one["since"], one["days"]) for one in periods] == [
        (None, "2031-03-03", 3), ("new_socket", "2031-03-06", 3), ("liner", "2031-03-09", 1),
    ]  # fmt: skip
