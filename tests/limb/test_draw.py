"""The drawing: small, without colour or data, true to the surface, and the same as the page's own."""

import json
import math
import re
import xml.etree.ElementTree as ET

import pytest
from plytide.limb.draw import drawing, outline
from plytide.limb.geometry import LEVELS, Size
from plytide.limb.overlay import Heat, Mark, hidden, picture
from plytide.limb.views import SLOP, VIEWS, frame
from vectors.make_outlines import FILE, outlines

ALL = [(level, side, view) for level in LEVELS for side in ("left", "right") for view in VIEWS]
OWN = Size(190.0, ((60.0, 260.0), (120.0, 330.0)))
NUMBER = re.compile(r"-?\d*\.?\d+")


@pytest.mark.parametrize(("level", "side", "view"), ALL)
@pytest.mark.parametrize("size", [Size(), OWN], ids=["typical", "own"])
def test_a_view_is_well_formed_and_within_eight_kilobytes(level, side, view, size):
    svg = picture(
        level, side, view, size, label="Left & right", marks=[Mark(0.5, 0, "4"), Mark(0.1, 90, "3", now=False)]
    )
    assert len(svg.encode()) <= 8 * 1024
    root = ET.fromstring(svg)
    assert root.get("aria-label") == "Left & right"
    assert not {name for node in root.iter() for name in node.attrib} & {"style", "fill", "stroke", "id"}
    assert not re.search(r"nan|inf", svg)


@pytest.mark.parametrize(("level", "side", "view"), ALL)
def test_every_point_of_the_outline_is_on_the_limb(level, side, view):
    pictures = frame(level, side)
    own, rim, _ = outline(pictures, view)
    for x, y in own:
        assert pictures.from_view(view, x, y, slop=0.1) is not None
        beyond = 150 + (x - 150) * 1.4, y if view != "end" else 210 + (y - 210) * 1.4
        if math.dist((x, y), beyond) > SLOP:
            assert pictures.from_view(view, *beyond) is None
    assert (rim == []) == (view == "end")
    if rim:
        assert rim[0] == pytest.approx(own[0], abs=1e-6)
        assert rim[-1] == pytest.approx(own[-1], abs=1e-6)


@pytest.mark.parametrize("view", VIEWS)
def test_a_right_limb_is_drawn_mirrored(view):
    left, right = outline(frame("transfemoral", "left"), view), outline(frame("transfemoral", "right"), view)
    mirrored = {(round(300 - x, 6), round(y, 6)) for x, y in left[0]}
    assert {(round(x, 6), round(y, 6)) for x, y in right[0]} == mirrored


def test_the_bones_a_prosthetist_looks_for_are_drawn():
    """Fibular head on the outer view, tubercle and kneecap in front: ring or closed line, a dot on the bone."""
    for view, height, angle in (("outer", 0.7, 107), ("front", 0.648, 0), ("front", 0.2, -2), ("outer", 0.238, 101)):
        x, y = frame("transtibial", "left").to_view(view, height, angle)
        dots = re.search(r'limb-dot" d="([^"]+)"', drawing("transtibial", "left", view)).group(1)
        at = [tuple(map(float, NUMBER.findall(dot)[:2])) for dot in dots.split("M")[1:]]
        assert min(math.dist((x, y), dot) for dot in at) < 0.2
    assert "limb-bone" in drawing("knee_disarticulation", "left", "front")
    assert "limb-scar" in drawing("transfemoral", "left", "end")


def test_the_shared_outlines_are_those_drawn_here():
    """tests/vectors/limb_outlines.json holds the page to the same lines (web/test/limb_draw.test.ts)."""
    kept, now = json.loads(FILE.read_text()), outlines()
    assert json.loads(json.dumps(now["outlines"])) == kept["outlines"]
    assert now["whole"]["svg"] == kept["whole"]["svg"]


def test_marks_stand_where_their_spots_are_and_the_rest_are_counted():
    marks = [Mark(0.62, 340, "4"), Mark(0.5, 20, "3", now=False), Mark(0.7, 170, "7", now=False), Mark(0.06, 150, "5")]
    svg = picture("transtibial", "left", "front", label="Front", marks=marks)
    root = ET.fromstring(svg)
    x, y = frame("transtibial", "left").to_view("front", 0.62, 340)
    now = next(node for node in root if node.get("class") == "limb-now")
    assert (float(now.get("cx")), float(now.get("cy"))) == pytest.approx((x, y), abs=0.06)
    assert [node.text for node in root if (node.get("class") or "").endswith("-text")] == ["3", "4"]
    assert hidden("transtibial", "left", "front", marks) == 2
    assert [hidden("transtibial", "left", view, marks[:1]) for view in VIEWS] == [0, 0, 1, 1, 1]


def test_more_heat_makes_larger_dots_near_where_it_is():
    heat = [Heat(0.5, 0, 1.0), Heat(0.25, 0, 4.0)]
    svg = picture("transtibial", "left", "front", label="Front", heat=heat)
    sizes = {int(n): d for n, d in re.findall(r'limb-heat-(\d)" d="([^"]+)"', svg)}
    pictures = frame("transtibial", "left")

    def nearest(step, height):
        x = y = 0.0
        best = math.inf
        for command, dx, dy in re.findall(r"([Mm])(-?[\d.]+) ?(-?[\d.]+)h0", sizes[step]):
            x, y = (float(dx), float(dy)) if command == "M" else (x + float(dx), y + float(dy))
            best = min(best, math.dist((x, y), pictures.to_view("front", height, 0)))
        return best

    assert nearest(max(sizes), 0.25) < 6
    assert nearest(max(sizes), 0.5) > 40
    assert picture("transtibial", "left", "back", label="Back", heat=heat).count("limb-heat") == 0


def test_a_tender_place_is_outlined_and_words_say_which_side_is_which():
    svg = picture("transtibial", "right", "outer", label="Outer", tender=[(0.7, 107)])
    root = ET.fromstring(svg)
    oval = next(node for node in root if node.get("class") == "limb-tender")
    assert float(oval.get("rx")) < float(oval.get("ry"))
    words = {node.text: float(node.get("x")) for node in root if node.get("class") == "limb-word"}
    pictures = frame("transtibial", "right")
    front, back = pictures.project("outer", 150, 0)[0], pictures.project("outer", 150, 180)[0]
    assert (words["front"] < words["back"]) == (front < back)
