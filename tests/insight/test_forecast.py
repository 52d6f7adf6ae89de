"""The peak of the day and tomorrow's: the worked example, what it is silent about, no peeking, chances that hold."""

import json
from pathlib import Path
from random import Random
from types import SimpleNamespace

import pytest
from insight import wearers
from insight.diary import Diary
from insight.score import calibrated, forecasts, pinball, records
from plytide.insight import forecast, summarise

ORACLES = {one["id"]: one for one in json.loads((Path(__file__).parent / "oracles.json").read_text(encoding="utf-8"))}


def part(diary, day, hour, name="forecast"):
    return summarise(diary.entries, diary.at(day, hour))["limbs"]["left"][name]


def test_the_worked_example_gives_its_chances():
    oracle = ORACLES["peak-forecast"]
    earlier = [
        SimpleNamespace(number=-age, last_h=12.0, at=lambda _, ply=ply: ply, peak_from=lambda _, peak=peak: peak)
        for age, ply, peak in oracle["input"]["history_age_ply_peak"]
    ]
    for given, expected in zip(oracle["input"]["cases"], oracle["expected"], strict=True):
        rises, basis = forecast.further_rise(earlier, 0, given["hours"], given["c"])
        assert rises[:6] == pytest.approx(expected["pmf6"], abs=1e-6)
        assert basis == expected["n"]
        peaks = [0.0] * given["c"] + rises
        assert forecast.least(peaks, 0.5) == expected["median"]
        for low, high, interval in ((0.25, 0.75, "i50"), (0.05, 0.95, "i90")):
            first, last, mass = expected[interval]
            assert (forecast.least(peaks, low), forecast.least(peaks, high)) == (first, last)
            assert sum(peaks[first : last + 1]) == pytest.approx(mass, abs=1e-9)
        assert 1 - rises[0] == pytest.approx(expected["p_more"], abs=1e-9)


def test_under_three_days_it_says_why_it_says_nothing():
    diary = Diary()
    diary.worn(0)
    diary.worn(1)
    diary.add(2, 7, "don", total=5)
    silent = part(diary, 2, 10)
    assert (silent["code"], silent["days"]) == ("few_days", 2)
    assert "3 are needed" in silent["reason"]
    assert part(diary, 2, 10, "tomorrow")["code"] == "few_days"


def test_an_hour_that_few_days_reached_is_said_to_be_late():
    diary = Diary()
    for day in range(8):
        diary.worn(day, (7, 5), off=18)
    diary.add(8, 7, "don", total=5)
    silent = part(diary, 8, 20)
    assert (silent["code"], silent["days"]) == ("late", 0)
    assert "reason" not in part(diary, 8, 12)


def test_three_days_are_rough_and_ten_are_normal():
    diary = Diary()
    for day in range(10):
        diary.worn(day, (7, 5), (12, 7))
    for day, grade in ((3, "rough"), (10, "normal")):
        cut = Diary()
        cut.entries = [entry for entry in diary.entries if entry.at < diary.at(day, 0).isoformat()]
        cut.entries.append(Diary().entries[0])
        cut.add(day, 7, "don", total=5)
        assert part(cut, day, 8)["grade"] == grade


def test_the_interval_says_the_mass_that_it_holds():
    diary = Diary()
    for day in range(12):
        diary.worn(day, (7, 5), (12, 6 + day % 2))
    diary.add(12, 7, "don", total=5)
    peak = part(diary, 12, 9)
    assert (peak["likely"]["low"], peak["likely"]["high"]) == (6, 7)
    assert 0.8 < peak["likely"]["mass"] <= 1
    assert peak["likely"]["words"] == "about 9 days in 10"
    assert (peak["hits"], peak["basis_days"], peak["date"]) == ((9, 9), 12, "2031-03-15")


def test_what_was_reached_already_is_never_forecast_lower():
    diary = Diary()
    for day in range(12):
        diary.worn(day, (7, 5), (12, 6))
    diary.worn(12, (7, 9), (10, 6), off=23)
    assert part(diary, 12, 11)["peak"]["p05"] == 9


def test_before_the_first_donning_the_day_is_forecast_like_tomorrow():
    diary = Diary()
    for day in range(12):
        diary.worn(day, (7, 5), (12, 7))
    morning, evening = part(diary, 12, 6), part(diary, 11, 23, "tomorrow")
    assert (morning["date"], morning["peak"]) == (evening["date"], evening["peak"])
    assert morning["peak"]["p50"] == 7


def test_a_change_of_socket_begins_from_nothing():
    diary = Diary()
    for day in range(12):
        diary.worn(day, (7, 9), (12, 11))
    diary.add(12, 6, "change", what="new_socket")
    for day in range(12, 16):
        diary.worn(day, (7, 2), (12, 3))
    diary.add(16, 7, "don", total=2)
    peak = part(diary, 16, 8)
    assert (peak["basis_days"], peak["peak"]["p50"]) == (4, 3)


def test_hits_are_counted_without_peeking():
    diary = Diary()
    r = Random(5)
    for day in range(40):
        diary.worn(day, (7, 5), (12, 5 + r.randint(0, 3)))
    days = list(diary.log(40, 12).present)
    hits = [0, 0]
    for index in range(len(days) - 30, len(days)):
        here = days[index].at(forecast.HIT_HOUR)
        rises, _ = forecast.further_rise(days[:index], days[index].number, forecast.HIT_HOUR, here)
        peaks = [0.0] * here + rises
        hits[0] += forecast.least(peaks, 0.25) <= days[index].peak <= forecast.least(peaks, 0.75)
        hits[1] += 1
    diary.add(40, 7, "don", total=5)
    assert part(diary, 40, 8)["hits"] == tuple(hits)


def test_the_score_is_the_weighted_interval_score_of_the_worked_example():
    oracle = ORACLES["wis"]  # Bracher et al. 2021, by hand
    score = pinball(list(oracle["input"]["q"].values()), oracle["input"]["y"])
    assert score == pytest.approx(oracle["expected"]["mean_pinball"], abs=1e-12)
    assert 2 * score == pytest.approx(oracle["expected"]["wis"], abs=1e-12)


def test_chances_hold_and_beat_the_naive_rivals_on_a_fixed_set_of_wearers():
    scores = forecasts([records(wearers.draw(seed, 90)) for seed in range(10)])
    # tests/bench/backtest.py is the proof on many fresh wearers; the bounds here are wide on purpose.
    for bin_ in ("8-13", "14-27", "28+"):
        ours = scores.today[bin_]
        assert ours["plytide"] < 0.95 * ours["all earlier days"]
        assert ours["plytide"] < 0.75 * ours["yesterday"]
    inside = calibrated(scores.pit_today)
    assert 0.42 < inside[0] < 0.60
    assert 0.84 < inside[1] < 0.96
    inside = calibrated(scores.pit_tomorrow)
    assert 0.42 < inside[0] < 0.60
    assert 0.84 < inside[1] < 0.96
