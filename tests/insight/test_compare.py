"""Before and after a change: one number a day, settling days left out, an earlier trend taken out."""

from random import Random

import pytest
import scipy.stats
from insight.diary import Diary
from plytide.insight import summarise
from plytide.insight.stats import hodges_lehmann


def measures(diary, day, index=0):
    told = summarise(diary.entries, diary.at(day, 12))["limbs"]["left"]["compare"]
    return {one["name"]: one for one in told[index]["measures"]}


def changed(before, after, what="new_socket"):
    """A diary of daily peaks with a change between."""
    diary = Diary()
    for day, peak in enumerate([*before, *after]):
        diary.worn(day, (7, 1), (12, peak))
    diary.add(len(before), 6, "change", what=what)
    return diary


def test_the_shift_is_hodges_and_lehmanns_over_days_after_settling():
    r = Random(4)
    before, after = [r.randint(7, 10) for _ in range(14)], [r.randint(2, 5) for _ in range(12)]
    told = measures(changed(before, after), 26)["peak"]
    expected = hodges_lehmann(before, after[3:])  # held to Hollander & Wolfe's example in test_stats
    assert (told["n_before"], told["n_after"]) == (14, 9)
    assert (told["shift"], told["low"], told["high"]) == pytest.approx(tuple(expected)[:3], abs=0.005)
    p = scipy.stats.mannwhitneyu(before, after[3:]).pvalue
    assert (told["high"] < 0) == (p < 0.05)


def test_three_days_on_a_side_give_numbers_but_no_shift():
    told = measures(changed([8] * 10, [4] * 6), 16)["peak"]
    assert (told["before"], told["after"], told["n_after"]) == (8, 4, 3)
    assert (told["shift"], told["low"], told["high"]) == (None, None, None)


def test_a_trend_that_stood_before_is_taken_out():
    rising = [4 + day // 4 for day in range(28)]  # 4 to 10, still rising at the change
    told = measures(changed(rising, [11] * 10), 38)["peak"]
    assert told["after"] - told["before"] == pytest.approx(4, abs=0.6)
    assert told["shift"] < 1.5


def test_every_measure_counts_only_the_days_that_speak_of_it():
    diary = changed([8] * 10, [5] * 10)
    for day in range(20):
        diary.add(day, 13, "comfort", score=4 if day < 10 else 8)
        if day % 2:
            diary.sore(day, score=5 if day < 10 else 1)
    for day in (2, 5):
        diary.add(day, 15, "mishap", what="stumble")
    told = measures(diary, 20)
    assert (told["comfort"]["before"], told["comfort"]["after"], told["comfort"]["shift"]) == (4, 8, 4)
    assert (told["sore"]["n_before"], told["sore"]["before"]) == (10, 2.5)  # a day felt into, with no mark, is a nought
    assert (told["mishaps"]["n_before"], told["mishaps"]["before"]) == (10, 0)
    assert told["worn_h"]["shift"] == 0


def test_a_day_that_says_nothing_of_soreness_is_not_a_day_without_it():
    diary = changed([8] * 6, [5] * 8)
    diary.sore(2, score=5)
    told = measures(diary, 14)["sore"]
    assert (told["n_before"], told["before"], told["n_after"], told["after"]) == (1, 5, 0, None)


def test_changes_are_told_newest_first_each_against_its_own_neighbours():
    diary = Diary()
    for day in range(30):
        diary.worn(day, (7, 3 if day < 10 else 8 if day < 20 else 5))
    diary.add(10, 6, "change", what="liner")
    diary.add(20, 6, "change", what="new_socket")
    told = summarise(diary.entries, diary.at(30, 12))["limbs"]["left"]["compare"]
    assert [one["what"] for one in told] == ["new_socket", "liner"]
    assert measures(diary, 30, 0)["peak"]["shift"] == -3
    assert measures(diary, 30, 1)["peak"]["shift"] == 5
    assert measures(diary, 30, 1)["peak"]["n_after"] == 7
