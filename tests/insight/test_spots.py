"""Sore spots: what makes one, its state, phantom pain apart, heat, and soreness against ply."""

import json
import random
from pathlib import Path

import pytest
from insight.diary import Diary
from plytide.insight import soreness, spots
from scipy.ndimage import median_filter

ORACLES = {o["id"]: o for o in json.loads((Path(__file__).parent / "oracles.json").read_text())}


def test_three_marks_near_each_other_are_a_spot_with_the_trade_name_of_its_place():
    diary = Diary()
    for day in range(3):
        diary.sore(day, place=(0.7 + day / 100, 100 + day), score=4 + day, feel=("rub", "rub", "burn")[day])
    [spot], phantom, heat = spots.find(diary.log(2))
    assert (spot["region"], spot["trade"]) == ("fibular_head", "Fibular head")
    assert (spot["days"], spot["marks"], spot["worst"], spot["latest"]) == (3, 3, 6, 6)
    assert (spot["first"], spot["last"]) == ("2031-03-03", "2031-03-05")
    assert spot["by_day"] == [("2031-03-03", 4), ("2031-03-04", 5), ("2031-03-05", 6)]
    assert spot["feels"] == ["rub", "burn"]
    assert spot["recurring"]
    assert spot["state"] == "new"
    assert phantom == []
    assert max(heat, key=lambda point: point["value"])["height"] == pytest.approx(0.7, abs=0.05)


def test_two_marks_are_no_spot_and_three_on_one_day_do_not_recur():
    diary = Diary()
    diary.sore(0, 9)
    diary.sore(0, 12)
    assert spots.find(diary.log(0))[0] == []
    diary.sore(0, 15)
    assert [spot["recurring"] for spot in spots.find(diary.log(0))[0]] == [False]


def test_a_spot_across_the_front_and_one_on_the_end_are_each_one_spot():
    diary = Diary()
    for day, (front, end) in enumerate([(356, 10), (4, 200), (1, 120)]):
        diary.sore(day, 10, (0.8, front))
        diary.sore(day, 11, (0.004, end))
    found = spots.find(diary.log(2))[0]
    assert sorted(spot["region"] for spot in found) == ["kneecap_lower", "tip"]
    assert sorted(spot["marks"] for spot in found) == [3, 3]


def test_phantom_pain_is_never_a_spot_and_never_warms_the_limb():
    diary = Diary()
    for day in range(4):
        diary.sore(day, phantom=True, score=7)
    found, [phantom], heat = spots.find(diary.log(3))
    assert (found, heat) == ([], [])
    assert (phantom["region"], phantom["days"], phantom["worst"]) == ("phantom", 4, 7)
    assert phantom["with_ply"] is None


def test_a_spot_is_new_then_known_and_healed_only_after_worn_days_without_a_mark():
    diary = Diary()
    for day in (0, 1, 2):
        diary.worn(day)
        diary.sore(day)

    def state(day):
        return spots.find(diary.log(day))[0][0]["state"]

    assert state(3) == "new"
    assert state(8) == "known"
    assert state(40) == "known", "days without a log prove nothing"
    for day in range(40, 47):
        diary.worn(day)
        assert state(day) == "known", "the seventh day is not over"
    assert state(47) == "healed"


def test_marks_older_than_half_a_year_are_history():
    diary = Diary()
    for day in range(3):
        diary.sore(day)
    diary.sore(200)
    assert spots.find(diary.log(200))[0] == []


def test_heat_is_the_intensity_at_a_mark_on_the_grid():
    diary = Diary()
    diary.sore(0, place=(0.6, 90), score=8)
    heat = spots.find(diary.log(0))[2]
    assert max(point["value"] for point in heat) == pytest.approx(8, abs=0.01)
    assert all(abs(point["height"] - 0.6) < 0.5 for point in heat)


def test_the_tip_has_one_point_of_heat():
    diary = Diary()
    diary.sore(0, place=(0.0, 0), score=5)
    assert [point["value"] for point in spots.find(diary.log(0))[2] if point["height"] == 0] == [5.0]


def low_days(rng, n, sore_when_low):
    """A wearer whose ply at midday is 5, on some days 4; sore in the afternoon, more often when low."""
    diary = Diary()
    counts = {True: [0, 0], False: [0, 0]}
    low_on = {day for day in range(n) if rng.random() < 0.9 and day % 4 == rng.choice((1, 1, 2))}
    for day in range(n):
        low = day in low_on
        diary.worn(day, (7, 3), (12, 4 if low else 5))
        sore = rng.random() < (sore_when_low if low else 0.1)
        if sore:
            diary.sore(day, 14)
        counts[low][0] += 1
        counts[low][1] += sore
    return diary, counts


def test_soreness_is_counted_against_ply_that_is_low_for_the_wearer():
    diary, counts = low_days(random.Random(4), 40, 0.9)
    [spot] = spots.find(diary.log(40))[0]
    against = spot["with_ply"]
    assert spot["first"] < "2031-03-10", "so that every day is compared"
    assert [against["low_days"], against["low_sore"]] == counts[True]
    assert [against["other_days"], against["other_sore"]] == counts[False]
    low, other = counts[True], counts[False]
    assert against["ratio"] == pytest.approx((low[1] / low[0]) / (other[1] / other[0]), abs=1e-3)
    assert against["p"] <= 0.05
    assert "not a cause" in against["words"]


def test_a_common_trend_of_ply_and_soreness_is_not_taken_for_low_ply():
    # Ply falls a ply a week while soreness comes in by chance: the median of seven days takes the trend away.
    low = soreness.lows([9] * 7 + [8] * 7 + [7] * 7 + [6] * 7)
    assert sum(low) <= 9
    assert not any(low[:7])


@pytest.mark.parametrize("seed", range(10))
def test_low_is_below_the_median_of_the_seven_days_around(seed):
    rng = random.Random(seed)
    plies = [rng.randint(3, 9) for _ in range(30)]
    medians = median_filter(plies, size=7)  # scipy's; its edges are another rule, so only the days between
    assert soreness.lows(plies)[3:-3] == [ply < m for ply, m in zip(plies, medians, strict=True)][3:-3]
    assert soreness.lows(plies)[:3] == [ply < sorted(plies[:7])[3] for ply in plies[:3]]


def test_under_twenty_days_there_are_rates_and_no_p():
    diary, _ = low_days(random.Random(4), 15, 0.9)
    against = spots.find(diary.log(15))[0][0]["with_ply"]
    assert against["p"] is None
    assert "Too few days" in against["words"]
    # Wilson's interval, worked example "rr-sock-example": 7 of 12.
    low, high = ORACLES["rr-sock-example"]["expected"]["wilson_7_12"]
    assert soreness._rate(7, 12) == (0.583, round(low, 3), round(high, 3))


def test_too_few_days_of_either_sort_say_nothing():
    diary = Diary()
    for day in range(12):
        diary.worn(day, (7, 5))
        diary.sore(day, 14)
    assert spots.find(diary.log(12))[0][0]["with_ply"] is None
