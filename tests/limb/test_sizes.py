"""The wearer's own length and girths."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from plytide.limb.geometry import LEVELS, Size, monotone, region_name, shape, size_of
from scipy.integrate import quad
from scipy.interpolate import PchipInterpolator

girth_lists = st.lists(st.tuples(st.floats(10, 300), st.floats(150, 800)), min_size=1, max_size=6)


@given(st.sampled_from(LEVELS), girth_lists, st.none() | st.floats(100, 400))
def test_girths_are_met_exactly_where_they_were_measured(level, girths, length):
    girths = list({round(z / 10): (z, girth) for z, girth in girths}.values())
    limb = shape(level, Size(length, tuple(girths)))
    for z, girth in girths:
        assert limb.girth(limb.u_of_z(z)) == pytest.approx(girth, rel=1e-9)


def test_two_tapes_at_one_height_meet_in_the_middle_and_one_on_the_tip_is_left_out():
    limb = shape("transtibial", Size(None, ((100.0, 300.0), (100.0, 320.0), (0.0, 50.0))))
    assert limb.girth(100) == pytest.approx(310)


@given(st.sampled_from(LEVELS), st.floats(50, 600), st.floats(0, 500))
def test_length_stretches_the_shaft_alone_and_back_again(level, length, z):
    limb, typical = shape(level, Size(length)), shape(level)
    assert limb.z_of_u(limb.u_of_z(z)) == pytest.approx(z, abs=1e-9)
    low, high = typical.table["stretch_mm"]
    assert limb.z_of_u(low) == low
    assert limb.z_of_u(high + 30) - limb.z_of_u(high) == pytest.approx(30)
    assert limb.z_of_u(high) - low >= 20 - 1e-9


@pytest.mark.parametrize("level", LEVELS)
def test_a_stated_length_is_where_the_reference_line_falls(level):
    limb = shape(level, Size(300.0))
    assert limb.z_of_u(limb.table["reference"]["mm"]) == pytest.approx(300)


def test_a_size_never_moves_a_name():
    """Names hang on height and angle alone, and height 1 is the brim of every size."""
    own = shape("transtibial", Size(210.0, ((100.0, 330.0),)))
    assert own.brim == shape("transtibial").brim
    assert region_name("transtibial", 0.7, 107.0)[0] == "fibular_head"


def test_the_profile_states_the_size_in_centimetres():
    limb = {"level": "transtibial", "length_cm": 17.5, "girths": [{"from_end_cm": 10, "girth_cm": 31}]}
    assert size_of(limb) == Size(175, ((100, 310),))
    assert size_of({"level": "transtibial"}) == Size()


# A hair's breadth is told, but not so little that scipy's own sums overflow.
heights = st.floats(-60, 60).map(lambda y: round(y, 6))


@given(st.lists(st.tuples(st.floats(0.5, 40), heights), min_size=4, max_size=12))
def test_the_curve_is_scipys_monotone_cubic_away_from_its_ends(steps):
    """scipy.interpolate.PchipInterpolator: the same slopes inside; only its two end slopes are made otherwise."""
    xs = np.cumsum([step for step, _ in steps]).tolist()
    ys = [y for _, y in steps]
    inside = np.linspace(xs[1], xs[-2], 50)
    ours = monotone(xs, ys)
    assert [ours(x) for x in inside] == pytest.approx(PchipInterpolator(xs, ys)(inside).tolist(), abs=1e-6)


@given(st.lists(st.floats(1, 90), min_size=2, max_size=9), st.floats(-10, 200))
def test_the_curve_never_leaves_the_span_of_its_neighbours(ys, x):
    ours = monotone([20.0 * i for i in range(len(ys))], ys)
    i = min(max(int(x // 20), 0), len(ys) - 2)
    assert min(ys[i : i + 2]) - 1e-9 <= ours(x) <= max(ys[i : i + 2]) + 1e-9


@pytest.mark.parametrize(("level", "u"), [("transtibial", 30), ("transtibial", 150), ("transfemoral", 200)])
def test_the_tape_measures_the_curve(level, u):
    """Against scipy.integrate.quad along the outline; 360 straight pieces fall short of it by a hair."""
    limb = shape(level)

    def speed(angle):
        step = 1e-4
        a, b = limb.point(u, angle - step), limb.point(u, angle + step)
        return math.dist(a, b) / (2 * step)

    length = sum(quad(speed, a, a + 90, limit=200)[0] for a in (0, 90, 180, 270))
    assert limb.girth(u) == pytest.approx(length, rel=3e-4)
