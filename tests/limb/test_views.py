"""Surface to picture and back: what must hold for every spot, not only for the worked points."""

import math

from hypothesis import given
from hypothesis import strategies as st
from plytide.limb.geometry import LEVELS, Size, region_name, rounded, surface_point
from plytide.limb.views import EDGE_ON, SLOP, VIEWS, frame

levels = st.sampled_from(LEVELS)
sides = st.sampled_from(("left", "right"))
views = st.sampled_from(VIEWS)
heights = st.floats(0, 1)
angles = st.floats(0, 360, exclude_max=True)
sizes = st.builds(
    Size,
    st.none() | st.floats(60, 480),
    st.lists(st.tuples(st.floats(40, 200), st.floats(200, 700)), max_size=4).map(tuple),
)


def apart(level, a, b, size):
    return math.dist(surface_point(level, *a, size), surface_point(level, *b, size))


@given(levels, sides, views, heights, angles, sizes)
def test_a_stored_spot_drawn_and_tapped_again_is_within_two_millimetres(level, side, view, height, angle, size):
    """The limit is the project's own: a tap, its entry and its redrawing agree within 2 mm."""
    pictures = frame(level, side, size)
    spot = rounded(height, angle)
    point = pictures.to_view(view, *spot)
    if point is None:
        return
    hit = pictures.from_view(view, *point)
    assert hit is not None
    again = rounded(hit.height, hit.angle)
    drawn = pictures.to_view(view, *again) or pictures.project(view, again[0] * pictures.limb.brim, again[1])
    scale = pictures.end_scale if view == "end" else pictures.scale
    assert math.dist(point, drawn) / scale < 2
    if not hit.oblique:  # on the outline a hair's breadth of picture is millimetres round the corner
        assert apart(level, spot, again, size) < 2


@given(levels, views, heights, angles, sizes)
def test_a_right_limb_is_a_left_limb_mirrored(level, view, height, angle, size):
    left = frame(level, "left", size).to_view(view, height, angle)
    right = frame(level, "right", size).to_view(view, height, angle)
    if left is None:
        assert right is None
    else:
        assert math.isclose(right[0], 300 - left[0], abs_tol=1e-9)
        assert math.isclose(right[1], left[1], abs_tol=1e-9)


@given(levels, sides, heights, angles)
def test_the_best_view_of_a_spot_shows_it_squarely(level, side, height, angle):
    pictures = frame(level, side)
    view = pictures.best_view(height, angle)
    point = pictures.to_view(view, height, angle)
    assert point is not None
    assert not pictures.from_view(view, *point).oblique


@given(levels, heights, angles)
def test_storing_a_spot_moves_it_less_than_half_a_millimetre(level, height, angle):
    stored = rounded(height, angle)
    assert 0 <= stored[0] <= 1
    assert 0 <= stored[1] < 360
    assert apart(level, (height, angle), stored, Size()) < 0.5


@given(levels, sides, views, st.floats(-40, 340), st.floats(-40, 460))
def test_a_near_miss_snaps_to_the_outline_and_a_wide_one_does_not(level, side, view, x, y):
    pictures = frame(level, side)
    exact, near = pictures.from_view(view, x, y), pictures.from_view(view, x, y, SLOP)
    if exact is not None:
        assert near is not None
        assert math.isclose(near.height, exact.height, abs_tol=1e-9)
        return
    if near is None:
        return
    u = near.height * pictures.limb.brim
    assert 0 <= near.height <= 1
    assert math.dist((x, y), pictures.project(view, u, near.angle)) <= SLOP * 1.5


def test_a_finger_that_misses_the_outline_by_its_own_width_still_counts():
    pictures = frame("transtibial", "left")
    x, y = pictures.project("front", 100, 90)  # the outline, outer side
    assert pictures.from_view("front", x + 10, y) is None
    hit = pictures.from_view("front", x + 10, y, SLOP)
    assert (round(hit.angle), hit.turn, hit.oblique) == (90, "outer", True)
    assert pictures.from_view("front", x + 15, y, SLOP) is None
    tip = pictures.project("front", 0, 0)
    assert pictures.from_view("front", tip[0], tip[1] + 10) is None
    assert pictures.from_view("front", tip[0], tip[1] + 10, SLOP).height == 0


def test_a_tap_near_an_outline_names_the_view_to_turn_to():
    pictures = frame("transfemoral", "right")
    left_edge = pictures.project("front", 150, 90)[0]  # a right limb's outer side lies to the left
    middle = pictures.project("front", 150, 0)[0]
    y = pictures.project("front", 150, 0)[1]
    just_in = middle + (left_edge - middle) * (EDGE_ON - 0.02)
    just_out = middle + (left_edge - middle) * (EDGE_ON + 0.02)
    assert not pictures.from_view("front", just_in, y).oblique
    hit = pictures.from_view("front", just_out, y)
    assert (hit.oblique, hit.turn) == (True, "outer")


def test_above_the_usual_edge_is_told():
    """The hollow of the knee lies above the back edge of a usual below-knee socket, though below its highest point."""
    pictures = frame("transtibial", "left")
    x, y = pictures.to_view("back", 0.9, 180)
    assert pictures.from_view("back", x, y).above_edge
    assert not pictures.from_view("back", *pictures.to_view("back", 0.6, 180)).above_edge


def test_every_spot_has_a_name():
    for level in LEVELS:
        for height in range(101):
            for angle in range(0, 360, 3):
                place, plain, trade = region_name(level, height / 100, float(angle))
                assert place
                assert plain
                assert trade
    assert region_name("transtibial", 0.62, 180.0) == ("calf", "Calf", "Gastrocnemius / posterior flap")
    assert region_name("transtibial", 0.7, 107.0)[2] == "Fibular head"
    assert region_name("transtibial", 0.25, 20.0) == ("front_lower", "Front, lower third", "Distal third, anterior")
