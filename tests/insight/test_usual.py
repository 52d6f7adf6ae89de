"""The usual day: quantiles of the last weeks by hours since donning, today against it, days off told apart."""

from random import Random

import numpy as np
import pytest
from insight.diary import Diary
from plytide.insight import summarise
from plytide.insight.usual import LEAST_DAYS, LOOK_BACK


def usual(diary, day, hour=12):
    return summarise(diary.entries, diary.at(day, hour))["limbs"]["left"]["usual"]


def test_each_hour_has_the_quantiles_of_the_days_worn_that_long():
    diary, r = Diary(), Random(2)
    rows = []
    for day in range(20):
        start, more, off = r.randint(3, 6), r.randint(0, 3), r.choice([14, 22])
        diary.worn(day, (7, start), (11, start + more), off=off)
        rows.append((start, start + more, off - 7))
    told = usual(diary, 20)
    assert told["basis_days"] == 20
    for name, share in (("p10", 10), ("p25", 25), ("p50", 50), ("p75", 75), ("p90", 90)):
        for hour, value in zip(told["hours"], told[name], strict=True):
            here = [late if hour >= 4 else early for early, late, worn in rows if worn >= hour]
            assert value == pytest.approx(np.percentile(here, share), abs=0.006), (name, hour)  # numpy's default


def test_hours_that_fewer_than_half_of_the_days_reached_are_left_out():
    diary = Diary()
    for day in range(12):
        diary.worn(day, (7, 5), off=20 if day < 5 else 15)
    assert usual(diary, 12)["hours"][-1] == 8.0


def test_today_is_held_against_the_usual_at_its_hour():
    diary = Diary()
    for day in range(10):
        diary.worn(day, (7, 5), (12, 7))
    diary.add(10, 8, "don", total=6)
    diary.add(10, 13.5, "ply", total=9)
    assert usual(diary, 10, 14)["now"] == {"hour": 6.0, "total": 9, "usual": 7.0, "above": 2}
    diary.add(10, 15, "doff")
    assert usual(diary, 10, 16)["now"] is None


def test_less_than_a_whole_ply_from_the_usual_is_no_difference():
    diary = Diary()
    for day in range(10):
        diary.worn(day, (7, 4 + day % 2))
    diary.add(10, 7, "don", total=4)
    assert usual(diary, 10, 8)["now"] == {"hour": 1.0, "total": 4, "usual": 4.5, "above": 0}


def test_too_few_days_are_said_and_older_weeks_do_not_count():
    diary = Diary()
    for day in range(LEAST_DAYS - 1):
        diary.worn(day)
    assert (usual(diary, 5)["code"], usual(diary, 5)["days"]) == ("few_days", 4)
    diary.worn(4)
    assert usual(diary, 5)["basis_days"] == 5
    assert usual(diary, 1 + LOOK_BACK)["days"] == 4  # the first of them is too old by now


def test_the_running_day_is_not_part_of_its_own_usual():
    diary = Diary()
    for day in range(6):
        diary.worn(day, (7, 5))
    diary.add(6, 7, "don", total=12)
    told = usual(diary, 6, 20)
    assert (told["basis_days"], max(told["p90"])) == (6, 5)


def test_days_off_are_told_apart_only_where_they_really_differ():
    differing, same = Diary(), Diary()  # day 0 is a Monday
    for day in range(28):
        off = day % 7 in (5, 6)
        differing.worn(day, (7, 3 if off else 6))
        same.worn(day, (7, 5 + day % 2))
    weekday, weekend = usual(differing, 28), usual(differing, 26)
    assert (weekday["kind"], weekday["basis_days"], weekday["p50"][0]) == ("weekday", 20, 6)
    assert (weekend["kind"], weekend["p50"][0]) == ("day_off", 3)
    assert usual(same, 28)["kind"] == "all"
