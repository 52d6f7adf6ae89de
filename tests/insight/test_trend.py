"""The trend and the ceiling: the worked example's line, dates that follow from it, silence, and the waiting times."""

import json
from datetime import date, timedelta
from pathlib import Path
from statistics import fmean

import pytest
from insight.diary import Diary
from insight.score import ceilings
from plytide.insight import summarise, trend

ORACLE = next(
    one
    for one in json.loads((Path(__file__).parent / "oracles.json").read_text(encoding="utf-8"))
    if one["id"] == "ceiling-forecast"
)
X, Y, CEILING = ORACLE["input"]["x"], ORACLE["input"]["y"], ORACLE["input"]["ceiling"]


def part(diary, day, hour=12):
    return summarise(diary.entries, diary.at(day, hour))["limbs"]["left"]["trend"]


def rising(days, first=4, per_day=0.1, **profile):
    """A diary whose peak rises by the given ply a day."""
    diary = Diary(**profile)
    for day in range(days):
        diary.worn(day, (7, first), (12, round(first + day * per_day)))
    return diary


def test_the_worked_example_gives_its_line():
    line = trend.fit(X, Y)
    level, slope, level_var, cov, slope_var, noise, carry, _ = ORACLE["expected"]["fit"]
    assert tuple(line) == pytest.approx((level, slope, level_var, cov, slope_var, noise, carry), abs=1e-12)
    assert 7 * line.slope == pytest.approx(ORACLE["expected"]["unknown_date"]["slope_per_week"], abs=1e-12)
    early = trend.fit(X, Y, 20)
    assert 7 * early.slope == pytest.approx(ORACLE["expected"]["weeks20"]["slope_per_week"], abs=1e-12)


@pytest.mark.parametrize(("name", "weeks"), [("unknown_date", None), ("weeks20", 20)])
def test_the_worked_examples_dates_are_met_as_nearly_as_400_paths_tell(name, weeks):
    expected = ORACLE["expected"][name]
    # Here today is the day after the last one; in the example it is the last one itself.
    paths = trend.reached(trend.fit([x - 1 for x in X], Y, weeks), CEILING, (), weeks)
    for share, near in ((0.05, 2), (0.25, 2), (0.5, 1), (0.75, 2), (0.95, 9)):
        assert paths[round(share * len(paths)) - 1] + 1 == pytest.approx(expected["q"][f"{share}"], abs=near)
    for days in (30, 90, 180):
        assert sum(day < days for day in paths) / len(paths) == pytest.approx(expected[f"p{days}"], abs=0.06)


def test_the_same_log_always_gives_the_same_dates():
    first = trend.reached(trend.fit(X, Y), CEILING, ())
    trend.reached.cache_clear()
    assert trend.reached(trend.fit(X, Y), CEILING, ()) == first
    assert trend._drawn() == trend._DRAWS


def test_the_ceiling_is_reached_on_the_first_day_that_ends_a_week_with_four_such_days():
    assert trend.first_week([3, 5, 6, 9]) == 9
    assert trend.first_week([3, 5, 6, 10, 11]) == 11
    assert trend.first_week([-5, -4, -2, 0]) == 0
    assert trend.first_week([1, 2, 3, 8]) == trend.HORIZON + 1


def test_the_ply_to_expect_is_the_line_carried_on_and_wider_the_further_ahead():
    line = trend.fit(X, Y)
    near, far = trend.expected_at(line, 1, None), trend.expected_at(line, 150, None)
    assert near[1] == round(line.level + line.slope)
    assert far[2] - far[0] > near[2] - near[0]
    assert trend.expected_at(line._replace(level=0.0, slope=-0.1), 60, None)[0] == 0


def test_a_young_limb_slows_by_the_logarithm_of_its_age_and_any_other_wears_off():
    assert trend.clock(0, None) == trend.clock(0, 10) == 0
    assert trend.clock(1, None) == pytest.approx(1, abs=0.01)
    assert trend.clock(10_000, None) == pytest.approx(trend.DAMP)
    # Tantua et al. 2014: loss goes by the natural logarithm of the weeks; from week 1 to 4 as from 4 to 16.
    week = 7
    assert trend.clock(3 * week, 1) == pytest.approx(trend.clock(15 * week, 1) - trend.clock(3 * week, 1))


def test_a_steady_rise_has_a_date_and_the_date_to_book_by_takes_off_the_waiting_times():
    diary = rising(40, weeks_to_appointment=2, weeks_to_socket=5)
    told = part(diary, 40)
    assert told["low"] > 0
    assert told["per_week"] == pytest.approx(0.7, abs=0.15)
    assert (told["basis_days"], told["since"], told["ceiling"]) == (40, "2031-03-03", 11)
    first = date.fromisoformat(told["reach"]["p10"])
    today = date(2031, 4, 12)
    assert told["reach"]["p10"] <= told["reach"]["p50"]
    assert told["book_by"] == max(today, first - timedelta(weeks=7)).isoformat()
    assert told["at_delivery"]["date"] == (today + timedelta(weeks=5)).isoformat()
    assert told["at_delivery"]["p50"] > 8
    assert told["chance"]["30"] <= told["chance"]["90"] <= told["chance"]["180"]
    assert told["words"].startswith("Rising by about 0.")
    assert "11 ply" in told["words"]


def test_a_level_log_far_from_the_ceiling_has_no_date_in_sight():
    told = part(rising(40, per_day=0), 40)
    assert (told["reach"], told["book_by"], told["chance"]["180"]) == (None, None, 0)
    assert told["words"] == "No clear rise or fall. No date in sight for 11 ply."
    assert told["low"] < 0 < told["high"]


def test_a_log_at_the_ceiling_says_that_it_is_there():
    told = part(rising(20, first=11, per_day=0), 20)
    assert told["reach"] == {"p10": "2031-03-23", "p50": "2031-03-23", "p90": "2031-03-23"}
    assert told["book_by"] == "2031-03-23"
    assert "At 11 ply on most days of the last week." in told["words"]


def test_the_clinics_own_ceiling_wins():
    low, high = part(rising(40, ply_ceiling=9), 40), part(rising(40, ply_ceiling=14), 40)
    assert (low["ceiling"], high["ceiling"]) == (9, 14)
    assert low["reach"]["p50"] < high["reach"]["p50"]


def test_under_five_days_or_a_span_of_five_it_says_nothing():
    for days in (4, 5):
        silent = part(rising(days), days)
        assert (silent["code"], silent["days"]) == ("few_days", days)
    assert "reason" not in part(rising(6), 6)


def test_only_days_since_the_last_change_count():
    diary = rising(30)
    diary.add(30, 6, "change", what="new_socket")
    for day in range(30, 37):
        diary.worn(day, (7, 2), (12, 2))
    told = part(diary, 37)
    assert (told["basis_days"], told["since"]) == (7, "2031-04-02")
    assert told["level"] == pytest.approx(2, abs=0.3)


def test_a_known_amputation_date_changes_the_outlook_of_a_young_limb():
    young = rising(12, per_day=0.03, limb={"amputated_on": "2031-01-06"})
    assert part(young, 12)["per_week"] > part(rising(12, per_day=0.03), 12)["per_week"]
    assert "reason" not in part(rising(12, limb={"amputated_on": "2032-01-06"}), 12)


def test_dates_beat_a_straight_line_and_hold_on_a_fixed_set_of_wearers():
    seen = ceilings(range(1000, 1025), spans=(14, 60))
    # tests/bench/backtest.py is the proof on many fresh wearers; the bounds here are wide on purpose.
    ours, line = (sum(map(sum, table.values())) for table in (seen.pinball, seen.line))
    assert ours < 0.7 * line
    for span in (14, 60):
        assert fmean(seen.covered[span]) >= 0.8
