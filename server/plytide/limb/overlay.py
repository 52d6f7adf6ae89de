"""What was logged, laid over the drawing of a limb: marks, heat, tender places; and the whole picture as one <svg>.

Marks of now are filled with a ring round them, earlier ones are open rings, both with their number; heat is a
halftone whose dots grow with the value; tender places have a dotted outline. Shape and number carry the meaning,
colour comes from the page's style.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from html import escape
from typing import NamedTuple

from plytide.limb.contour import Pen
from plytide.limb.draw import drawing
from plytide.limb.geometry import TYPICAL, Size, View, surface_point
from plytide.limb.views import FACING, Frame, frame

SAMPLE_MM = 8.0  # about how far apart the reading samples heat
REACH_MM = 18.0  # how far from a sample there may be a dot
ALONE = 0.4  # weight under which a point is too far from all samples to have their value in full
HEAT_STEPS = 5  # sizes of dots
PITCH = 8.0  # view units between dots
RISE = PITCH * math.sqrt(3) / 2
FAINTEST = 0.08  # share of the most heat below which no dot is drawn
TENDER_MM = 14.0
WORDS = {"front": "front", "outer": "outer", "back": "back", "inner": "inner"}


class Mark(NamedTuple):
    """A spot to show. `text` stands in it, usually how sore it was; `now` marks the present ones."""

    height: float
    angle: float
    text: str = ""
    now: bool = True


class Heat(NamedTuple):
    """How much at a sample of the surface, as the summary has it; only the proportion to the greatest counts."""

    height: float
    angle: float
    value: float


def picture(
    level: str,
    side: str,
    view: View,
    size: Size = TYPICAL,
    *,
    label: str,
    marks: Sequence[Mark] = (),
    heat: Sequence[Heat] = (),
    tender: Sequence[tuple[float, float]] = (),
    words: Mapping[str, str] = WORDS,
    ground: str | None = None,
) -> str:
    """One view with all that is to be seen on it. `label` says the same in words, for those who cannot see it.

    `words`: which side is which; none are written where it is empty. `ground`: what stands for the drawing itself
    where that is on the page already.
    """
    pictures = frame(level, side, size)
    width, height = pictures.view["width"], pictures.view["height"]
    inside = (drawing(level, side, view, size) if ground is None else ground) + halftone(pictures, view, heat)
    inside += tender_places(pictures, view, tender) + shown_marks(pictures, view, marks) + sides(pictures, view, words)
    return (
        f'<svg class="limb" viewBox="0 0 {width:g} {height:g}" role="img" aria-label="{escape(label)}">{inside}</svg>'
    )


def hidden(level: str, side: str, view: View, marks: Iterable[Mark], size: Size = TYPICAL) -> int:
    """How many of the marks are on other views only."""
    pictures = frame(level, side, size)
    return sum(pictures.to_view(view, mark.height, mark.angle) is None for mark in marks)


def shown_marks(pictures: Frame, view: View, marks: Sequence[Mark]) -> str:
    """The marks a view shows, present ones on top."""
    out = ""
    for mark in sorted(marks, key=lambda m: m.now):
        at = pictures.to_view(view, mark.height, mark.angle)
        if at is None:
            continue
        x, y = at
        if mark.now:
            out += f'<circle class="limb-ring" cx="{x:.1f}" cy="{y:.1f}" r="18"/>'
        name = "limb-now" if mark.now else "limb-earlier"
        out += f'<circle class="{name}" cx="{x:.1f}" cy="{y:.1f}" r="{12.5 if mark.now else 11}"/>'
        if mark.text:
            out += f'<text class="{name}-text" x="{x:.1f}" y="{y + 5:.1f}">{escape(mark.text)}</text>'
    return out


def halftone(pictures: Frame, view: View, heat: Sequence[Heat]) -> str:
    """Heat as dots on a hexagonal grid, in a few sizes: one path a size."""
    most = max((h.value for h in heat), default=0.0)
    if most <= 0:
        return ""
    scale = pictures.end_scale if view == "end" else pictures.scale
    near: dict[tuple[int, int], list[tuple[tuple[float, float, float], float]]] = {}
    for h in heat:
        at = pictures.to_view(view, h.height, h.angle)
        if at is not None:
            source = surface_point(pictures.level, h.height, h.angle, pictures.size), h.value / most
            for node in _nodes(at, REACH_MM * scale):
                near.setdefault(node, []).append(source)
    pens, dots = [Pen() for _ in range(HEAT_STEPS + 1)], [""] * (HEAT_STEPS + 1)
    for j, i in sorted(near):
        here = _under(pictures, view, j, i)
        if here is None:
            continue
        x, y = _node(j, i)
        value = _between(here, near[j, i])
        if value >= FAINTEST:
            step = math.ceil(math.sqrt(value) * HEAT_STEPS)
            dots[step] += (pens[step].to("m", (x, y)) if dots[step] else pens[step].move((x, y))) + "h0"
    return "".join(f'<path class="limb-heat limb-heat-{n}" d="{d}"/>' for n, d in enumerate(dots) if d)


def _node(j: int, i: int) -> tuple[float, float]:
    """Where a node of the dots' grid is in a view: every second row is set over by half a dot."""
    return (i + j % 2 / 2) * PITCH, j * RISE


@lru_cache(maxsize=8192)
def _under(pictures: Frame, view: View, j: int, i: int) -> tuple[float, float, float] | None:
    """The point of the surface (mm) under a node, or None off the limb. Kept: a wearer's limb is drawn time and again,
    and its size does not change from one page to the next."""
    hit = pictures.from_view(view, *_node(j, i))
    return None if hit is None else pictures.limb.point(hit.height * pictures.limb.brim, hit.angle)


def _nodes(at: tuple[float, float], reach: float) -> list[tuple[int, int]]:
    """The nodes (row, column) of the dots' grid within `reach` of a point."""
    rows = range(math.ceil((at[1] - reach) / RISE), math.floor((at[1] + reach) / RISE) + 1)
    return [
        (j, i)
        for j in rows
        for i in range(math.floor((at[0] - reach) / PITCH), math.ceil((at[0] + reach) / PITCH) + 1)
        if math.dist(at, _node(j, i)) <= reach
    ]


def _between(here: tuple[float, float, float], sources: Iterable[tuple[tuple[float, float, float], float]]) -> float:
    """The value at a point amid sampled ones: their average, the near ones counting most; nothing far from all."""
    weights = [(math.exp(-((math.dist(here, p) / SAMPLE_MM) ** 2) / 2), value) for p, value in sources]
    total = sum(w for w, _ in weights)
    return sum(w * value for w, value in weights) / max(total, ALONE)


def tender_places(pictures: Frame, view: View, places: Sequence[tuple[float, float]]) -> str:
    """Places to be watched, each as a dotted outline of one size on the limb."""
    out = ""
    for height, angle in places:
        if (at := pictures.to_view(view, height, angle)) is None:
            continue
        r = TENDER_MM * (pictures.end_scale if view == "end" else pictures.scale)
        # a round place turns into an oval towards the outline
        narrow = 1.0 if view == "end" else max(0.3, math.cos(math.radians(angle - FACING[view])))
        out += f'<ellipse class="limb-tender" cx="{at[0]:.1f}" cy="{at[1]:.1f}" rx="{r * narrow:.1f}" ry="{r:.1f}"/>'
    return out


def sides(pictures: Frame, view: View, words: Mapping[str, str]) -> str:
    """Which side is which, in words."""
    return "".join(
        f'<text class="limb-word" x="{x:g}" y="{y:g}" text-anchor="{anchor}">{escape(words[name])}</text>'
        for name, x, y, anchor in side_places(pictures, view)
        if name in words
    )


def side_places(pictures: Frame, view: View) -> list[tuple[str, float, float, str]]:
    """(side, x, y, anchor) of each word."""
    if view == "end":
        left, right = ("inner", "outer") if pictures.sign(view) > 0 else ("outer", "inner")
        return [("front", 150, 84, "middle"), ("back", 150, 346, "middle"),
                (left, 12, 412, "start"), (right, 288, 412, "end")]  # fmt: skip
    towards, away = ("outer", "inner") if view in ("front", "back") else ("front", "back")
    left, right = (away, towards) if pictures.sign(view) > 0 else (towards, away)
    return [(left, 12, 412, "start"), (right, 288, 412, "end")]
