"""Volumes from tapes against the truncated-cone formula's check values, and changes by one measurer only."""

import json
import math

import pytest
from insight.diary import Diary
from plytide.insight import girth

# Truncated cones in mL, worked by hand from V = h / 12 pi (C1^2 + C1 C2 + C2^2) (derived, exact).
CHECKS = [
    ({0: 30, 15: 30}, 1074.30),
    ({0: 34, 4: 30}, 326.37),
    ({0: 36, 10: 28}, 819.12),
    ({0: 34, 5: 33, 10: 31, 15: 28, 20: 24}, 1470.19),
    ({0: 33.5, 5: 32.5, 10: 30.5, 15: 27.5, 20: 23.5}, 1422.45),
]


def tape(diary, day, girths, by="self", hour=9):
    marks = [{"from_end_cm": level, "girth_cm": value} for level, value in girths.items()]
    return diary.add(day, hour, "girth", marks=marks, by=by)


@pytest.mark.parametrize(("girths", "expected"), CHECKS)
def test_the_check_values_are_met_to_a_twentieth_of_a_millilitre(girths, expected):
    assert girth.volume(girths) == pytest.approx(expected, abs=0.05)
    diary = Diary()
    tape(diary, 0, girths)
    assert girth.read(diary.log(0))["volume_ml"] == pytest.approx(expected, abs=0.05)


def test_a_cone_is_the_integral_of_its_slices():
    # Independent of the formula: 100,000 thin discs of the same frustum.
    n, h, c1, c2 = 100_000, 10.0, 36.0, 28.0
    discs = sum(((c1 + (c2 - c1) * (i + 0.5) / n) ** 2 / (4 * math.pi)) * h / n for i in range(n))
    assert girth.volume({0: c1, 10: c2}) == pytest.approx(discs, rel=1e-9)


def test_every_girth_times_k_gives_the_volume_times_k_squared():
    girths = dict(CHECKS[3][0])
    assert girth.volume({z: 1.02 * c for z, c in girths.items()}) == pytest.approx(1.02**2 * girth.volume(girths))


def test_half_a_centimetre_less_everywhere_is_three_and_a_quarter_in_a_hundred_less():
    diary = Diary()
    tape(diary, 0, CHECKS[3][0])
    tape(diary, 20, CHECKS[4][0])
    part = girth.read(diary.log(20))
    assert part["change_pct"] == pytest.approx(-3.25, abs=0.005)  # derived, exact
    assert part["against"] == "2031-03-03"
    assert {change for _, _, change in part["marks"]} == {-0.5}
    assert "about 3 in 100 less" in part["words"]
    assert "%" not in part["words"]


def test_a_tape_is_never_set_against_another_measurers():
    diary = Diary()
    tape(diary, 0, {0: 30, 10: 30}, by="clinic")
    tape(diary, 5, {0: 33, 10: 33}, by="self")
    part = girth.read(diary.log(5))
    assert (part["against"], part["change_pct"]) == (None, None)
    assert girth.changed(diary.log(5)) is None


def test_only_levels_that_both_tapes_have_are_compared():
    diary = Diary()
    tape(diary, 0, {0: 30, 5: 31, 10: 32})
    tape(diary, 9, {5.3: 30, 10: 31, 15: 33})
    part = girth.read(diary.log(9))
    assert part["marks"] == [(5.3, 30.0, -1.0), (10.0, 31.0, -1.0), (15.0, 33.0, None)]
    assert part["change_pct"] < 0


def test_a_tape_at_one_level_has_no_volume():
    diary = Diary()
    tape(diary, 0, {4: 30})
    tape(diary, 3, {4: 31})
    part = girth.read(diary.log(3))
    assert part["volume_ml"] is None
    assert part["marks"] == [(4.0, 31.0, 1.0)]


# 1.5 cm at one level, or 5 in 100 of the girth, on two days, same measurer (derived from the noise of tapes).
@pytest.mark.parametrize(
    ("base", "tapes", "expected"),
    [
        (34, [35.5, 35.5], 1.5), (34, [35.4, 35.6], None), (34, [35.4, 35.4], None),
        (20, [21, 21], 1), (20, [20.9, 20.9], None), (34, [32.5, 32.4], -1.6), (34, [35.5, 32.5], None),
    ],
)  # fmt: skip
def test_a_change_counts_when_it_is_large_and_seen_on_two_days(base, tapes, expected):
    diary = Diary()
    tape(diary, 0, {4: base, 8: 30})
    for day, value in enumerate(tapes, 10):
        tape(diary, day, {4: value, 8: 30})
    found = girth.changed(diary.log(11))
    assert (found and round(found.change_cm, 6)) == expected
    assert json.dumps(girth.read(diary.log(11)))


def test_two_tapes_of_one_day_are_one_day():
    diary = Diary()
    tape(diary, 0, {4: 34})
    tape(diary, 10, {4: 36})
    tape(diary, 10, {4: 36}, hour=10)
    assert girth.changed(diary.log(10)) is None


def test_a_new_socket_begins_the_comparison_anew():
    diary = Diary()
    tape(diary, 0, {4: 34})
    diary.add(5, 9, "change", what="new_socket")
    for day in (10, 11):
        tape(diary, day, {4: 31})
    assert girth.changed(diary.log(11)) is None


def test_no_tape_is_no_part():
    assert girth.read(Diary().log(0)) is None
