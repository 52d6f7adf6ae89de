"""Sudden shifts: found soon, said once, never for an ordinary scatter; a suspected change is a question."""

import math
from random import Random
from statistics import stdev

import pytest
from insight.diary import Diary
from plytide.insight import shifts, summarise
from plytide.insight.stats import ewma
from plytide.insight.trend import fit

SCATTER = (0, 1, 0, 0, 1, -1, 0, 1, 0, -1, 0, 0, 1, 0)


def diary_of(*levels, hours=None):
    """Days at these levels with an ordinary scatter; `hours`: how long each is worn."""
    diary = Diary()
    for day, level in enumerate(levels):
        low = level + SCATTER[day % len(SCATTER)]
        diary.worn(day, (7, low), (12, low + 2), off=7 + (hours[day] if hours else 14))
    return diary


def found(diary, day, hour=6):
    return summarise(diary.entries, diary.at(day, hour))["limbs"]["left"]["shifts"]


@pytest.mark.parametrize(("jump", "code"), [(3, "limb_smaller"), (-3, "limb_bigger")])
def test_a_jump_of_three_ply_is_found_within_three_days(jump, code):
    diary = diary_of(*[6] * 30, *[6 + jump] * 3)
    told = [shift for shift in found(diary, 33) if shift["code"] == code]
    assert len(told) == 1
    assert told[0]["size"] == pytest.approx(jump, abs=1)
    assert told[0]["date"] >= "2031-04-02"


def test_a_shift_once_said_stays_and_is_not_said_again():
    levels = [6] * 30 + [9] * 20
    told = [found(diary_of(*levels[:day]), day) for day in range(33, 50)]
    said = [[shift["date"] for shift in day if shift["code"] == "limb_smaller"] for day in told]
    assert said == [said[0]] * len(said)
    assert len(said[0]) == 1


def test_an_ordinary_scatter_and_a_slow_rise_are_no_shift():
    assert found(diary_of(*[6] * 60), 60) == []
    assert found(diary_of(*[4 + day // 20 for day in range(60)]), 60) == []


def test_a_large_fall_is_asked_about_and_cuts_nothing():
    diary = diary_of(*[9] * 20, *[4] * 3)
    summary = summarise(diary.entries, diary.at(23, 6))["limbs"]["left"]
    asked = [shift for shift in summary["shifts"] if shift["code"] == "unlogged_change"]
    assert [shift["size"] for shift in asked] == [pytest.approx(-5, abs=1)]
    assert asked[0]["question"] == shifts.QUESTION
    assert asked[0]["question"].endswith("stay as they are.")
    assert [period["days"] for period in summary["periods"]] == [23]


def test_a_peak_alone_that_falls_is_not_asked_about():
    diary = Diary()
    for day in range(23):
        diary.worn(day, (7, 4), (12, 9 if day < 20 else 4))
    assert "unlogged_change" not in [shift["code"] for shift in found(diary, 23)]


def test_a_logged_change_is_not_asked_about():
    diary = diary_of(*[9] * 20, *[4] * 10)
    diary.add(20, 6, "change", what="new_socket")
    assert found(diary, 30) == []


def test_hours_that_fall_are_found_on_days_without_a_gap_only():
    hours = [14 + day % 2 for day in range(30)] + [10] * 7
    told = [shift for shift in found(diary_of(*[6] * 37, hours=hours), 37) if shift["code"] == "wear_falling"]
    assert len(told) == 1
    assert told[0]["size"] <= -2
    forgetful = diary_of(*[6] * 37, hours=hours)
    forgetful.entries = [entry for entry in forgetful.entries if entry.kind != "doff"]
    assert found(forgetful, 37) == []


def test_the_limits_are_those_of_an_ewma_of_correlated_days():
    # NIST/SEMATECH e-Handbook 6.3.2.4 for independent days; an AR(1)'s variance gains (1+rq)/(1-rq), q = 1 - weight.
    days = tuple((n - 28, float(n % 2)) for n in range(28))
    _, limit = shifts._before(days, 0)
    carry = fit([n for n, _ in days], [value for _, value in days]).carry
    q = 1 - shifts.WEIGHT
    plain = shifts.LIMIT * 1.4826 * 0.5 * math.sqrt(shifts.WEIGHT / (2 - shifts.WEIGHT))
    assert limit == pytest.approx(plain * math.sqrt((1 + carry * q) / (1 - carry * q)), rel=0.05)
    r, spread = Random(1), []  # and by simulation
    for _ in range(400):
        noise = [r.gauss(0, 1)]
        for _ in range(60):
            noise.append(0.5 * noise[-1] + math.sqrt(0.75) * r.gauss(0, 1))
        spread.append(ewma(noise, shifts.WEIGHT)[-1])
    told = math.sqrt(shifts.WEIGHT / (2 - shifts.WEIGHT) * (1 + 0.5 * q) / (1 - 0.5 * q))
    assert stdev(spread) == pytest.approx(told, rel=0.1)
