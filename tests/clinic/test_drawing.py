"""The figures: gaps stay gaps, the middle of the days is the middle, every mark lies where its day is."""

from __future__ import annotations

import re
from datetime import timedelta
from statistics import median_low
from typing import Any
from xml.etree import ElementTree

import pytest
from clinic import sample
from clinic.readings import FIRST
from hypothesis import given
from hypothesis import strategies as st
from plytide.clinic.daychart import middle_of, ply_at, steps_of, through_a_day
from plytide.clinic.figure import NARROW, WIDE, Story, figure
from plytide.clinic.glyphs import FILLED, SHAPES, glyph
from plytide.clinic.period import bins
from plytide.clinic.svg import line, n

DAYS = [sample.day(i) for i in range(28)]


def story(**over: Any) -> Story:
    whole: dict[str, Any] = {
        "bins": bins(DAYS, FIRST, sample.LAST), "unit": "day", "ceiling": 11, "trend": sample.limb()["trend"],
        "spots": [("1 Front", [(DAYS[3]["date"], 2), (DAYS[25]["date"], 5)])],
        "skin": {DAYS[0]["date"]: True, DAYS[24]["date"]: False}, "comfort": True,
        "changes": [(DAYS[14]["date"], "padding")], "mishaps": [DAYS[16]["date"]],
    }  # fmt: skip
    return Story(**{**whole, **over})


def drawn(**over: Any) -> tuple[ElementTree.Element, ElementTree.Element]:
    """The wide and the narrow drawing."""
    both = ElementTree.fromstring(f"<both>{figure(story(**over), 'said')}</both>")
    return both[0], both[1]


def marks(picture: ElementTree.Element, kind: str) -> list[ElementTree.Element]:
    return [e for e in picture.iter() if e.get("class") == kind]


def xs(data: str) -> list[float]:
    """Where the strokes of a path begin."""
    return [float(x) for x in re.findall(r"M([\d.]+) ", data)]


def test_each_drawing_is_as_wide_as_it_says_and_says_it_in_words() -> None:
    for picture, width in zip(drawn(), (WIDE, NARROW), strict=True):
        assert picture.get("viewBox", "").split()[2] == str(width)
        assert picture.get("aria-label") == "said"


def test_a_day_without_a_log_is_dotted_and_has_no_bar() -> None:
    for picture in drawn():
        bars = [x for kind in ("past", "late") for e in marks(picture, kind) for x in xs(e.get("d", ""))]
        dotted = [x for e in marks(picture, "missing") for x in xs(e.get("d", ""))]
        assert len(dotted) == len(sample.UNLOGGED)
        assert len(bars) == 28 - len(sample.UNLOGGED) - 1  # and the unfinished day is hollow
        assert not set(bars) & set(dotted)
        assert len(marks(picture, "hollow")) == 1


def test_marks_of_one_day_stand_above_each_other() -> None:
    wide, _ = drawn()
    diamond = xs(marks(wide, "dot")[0].get("d", ""))[0]
    cross = xs(marks(wide, "cross")[0].get("d", ""))[0] + 4
    pitch = (cross - diamond) / 2  # the change was on day 14, the mishap on day 16
    dots = [float(e.get("cx", 0)) for e in wide.iter() if e.tag == "circle"]
    assert dots == pytest.approx([diamond - 11 * pitch, diamond + 11 * pitch], abs=0.3)


@pytest.mark.parametrize("left_out", ["spots", "mishaps", "skin", "changes"])
def test_a_row_without_marks_is_not_drawn(left_out: str) -> None:
    wide, _ = drawn(**{left_out: {} if left_out == "skin" else ()})
    fuller, _ = drawn()
    assert float(wide.get("viewBox", "").split()[3]) < float(fuller.get("viewBox", "").split()[3])


@given(st.floats(-2000, 2000))
def test_a_coordinate_is_short_and_true(value: float) -> None:
    assert abs(float(n(value)) - value) <= 0.05 + 1e-9
    assert not n(value).endswith(".0")
    assert n(value) != "-0"


def test_a_line_lifts_the_pen_at_a_gap() -> None:
    assert line([(0, 1), (2, 1), None, (4, 1), (4, 3), (5, 4)]) == "M0 1H2M4 1V3L5 4"


def test_steps_are_broken_where_the_leg_was_off() -> None:
    day = {**DAYS[0], "steps": [(0.0, 5), (2.0, 6)], "off": [(3.0, 4.0)]}
    assert steps_of(day, 8.0) == [(0, 5), (2, 5), (2, 6), (3, 6), None, (4, 6), (8, 6)]  # type: ignore[arg-type]


def test_the_middle_of_the_days_is_the_median_of_those_that_had_the_leg_on() -> None:
    days: list[Any] = [{**DAYS[0], "steps": [(0.0, p)], "off": off}
                       for p, off in ((5, []), (7, [(1.0, 2.0)]), (9, []))]  # fmt: skip
    middle = dict(middle_of(days, [3.0, 3.0, 1.5]))
    assert middle[0.5] == median_low([5, 7, 9])
    assert middle[1.25] == median_low([5, 9])
    assert middle[1.75] is None  # one of three is no middle
    assert middle[2.5] == median_low([5, 7])
    assert ply_at(days[1], 1.5, 3.0) is None


def test_a_day_figure_holds_a_ceiling_that_was_passed() -> None:
    days: list[Any] = [{**DAYS[0], "steps": [(0.0, 5), (3.0, 14)], "off": []}]
    picture = ElementTree.fromstring(through_a_day(sample.limb()["usual"], days, 11))  # type: ignore[arg-type]
    heights = [float(y) for e in picture.iter() for y in re.findall(r"[MLV] ?[\d.]*? ?([\d.]+)", e.get("d", ""))]
    assert min(heights) >= 0


def test_signs_gain_corners_and_fill_as_they_rise() -> None:
    assert list(SHAPES) == ["watch", "review", "same_day", "emergency"]
    assert set(FILLED) == {"watch", "review", "same_day"}  # the gravest is full
    assert len({str(glyph(level)) for level in SHAPES}) == 4
    assert timedelta(days=27) == (sample.LAST - FIRST)
