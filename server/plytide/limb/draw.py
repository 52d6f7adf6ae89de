"""The drawing of a limb as SVG: outline, depth lines, quiet shade, landmarks, and the usual socket edge.

It carries no data and no colour: classes only, so that page, paper and dark mode colour it. web/src/limb/draw.ts
draws the same. What is logged is laid over it by overlay.py.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache
from itertools import pairwise

from plytide.limb.contour import Line, Point, brush, smooth, straight, thin
from plytide.limb.form import depth_lines, drawn, ground, in_socket, runs, shades
from plytide.limb.geometry import TYPICAL, Size, View
from plytide.limb.relief import feature_line
from plytide.limb.views import FACING, Frame, frame

OUTLINE_STEPS = 60
STRONG = 0.5  # ink of a landmark from which it is drawn dark
TURNED = 8  # degrees from edge-on within which a landmark is not drawn
RING_TURNED = 12
STITCH = 3.0


@lru_cache(maxsize=256)
def drawing(level: str, side: str, view: View, size: Size = TYPICAL) -> str:
    """The elements of one view, without the <svg> around them; made once and kept. About 6 KB."""
    pictures = frame(level, side, size)
    seen = ground(pictures, view)
    own, rim, far = outline(pictures, view)
    body = own + rim[-2:0:-1] if rim else own
    dark, faint, bone, dots, scar, above = _landmarks(pictures, view)
    parts = [
        ("limb-body", straight(thin(body, 0.1), closed=True)),
        *(("limb-shade", "".join(map(smooth, layer))) for layer in shades(pictures, view, seen)),
        ("limb-depth", "".join(map(smooth, depth_lines(pictures, view, seen)))),
        ("limb-far", "".join(smooth(thin(line, 0.2)) for line in far) + above),
        ("limb-faint", faint),
        ("limb-stroke", dark),
        ("limb-bone", bone),
        ("limb-dot", dots),
        ("limb-scar", scar),
        ("limb-edge", smooth(thin(rim, 0.15)) if rim else ""),
        ("limb-line", straight(thin(own, 0.1))),
    ]
    return "".join(f'<path class="{name}" d="{d}"/>' for name, d in parts if d)


def outline(pictures: Frame, view: View) -> tuple[Line, Line, list[Line]]:
    """(the limb in its socket, the socket edge, the body going on above it) as lines of the picture.

    The first runs from the left end of the edge down round the tip and up to its right end, where the edge begins.
    On the end view it is closed and the others are empty.
    """
    limb = pictures.limb
    if view == "end":
        return [pictures.project("end", limb.end, a) for a in range(0, 361, 5)], [], []
    right, left = (90, 270) if view in ("front", "back") else (0, 180)
    if pictures.sign(view) < 0:
        right, left = left, right
    us = [limb.top * (i / OUTLINE_STEPS) ** 2 for i in range(OUTLINE_STEPS + 1)]

    def side(angle: int, above: bool) -> Line:
        edge = limb.edge(angle)
        picked = [edge, *(u for u in us if u > edge)] if above else [*(u for u in us if u < edge), edge]
        return [pictures.project(view, u, angle) for u in picked]

    own = side(left, False)[::-1] + side(right, False)[1:]
    rim = [pictures.project(view, limb.edge(a), a) for a in range(FACING[view] - 90, FACING[view] + 91, 6)]
    rim = rim if rim[0][0] < rim[-1][0] else rim[::-1]
    far = [side(left, True), side(right, True)]
    if limb.table["other_leg"] and view in ("front", "back"):
        inner = 0 if left == 270 else 1
        far[inner] = _other_leg(pictures, view)
    return own, rim, far


def _other_leg(pictures: Frame, view: View) -> Line:
    """From the inner end of the edge over the crotch and down the other thigh."""
    limb, leg = pictures.limb, pictures.limb.table["other_leg"]
    crotch, sign = leg["crotch_mm"], pictures.sign(view)
    middle = pictures.project(view, 0.0, 0.0)[0] - sign * pictures.scale * leg["midline_mm"] * limb.swell(crotch)
    own = [pictures.project(view, crotch * (1 - 0.5 * i / 12), 270) for i in range(13)]
    top = own[0][1]
    arch = [own[0], (middle + sign * 3, top - 4), (middle, top - 5.5), (middle - sign * 3, top - 4)]
    return arch + [(2 * middle - x, y) for x, y in own]


def _landmarks(pictures: Frame, view: View) -> tuple[str, str, str, str, str, str]:
    """Paths of the landmarks shown: dark and faint strokes, bones, their dots, scars, and what is above the edge."""
    limb = pictures.limb
    dark = faint = bone = dots = scar = above = ""

    def facing(degrees: float) -> Callable[[Point], bool]:
        return lambda place: _faces(pictures, view, place, degrees)

    for feature in limb.table["features"]:
        if not feature["ink"]:
            continue
        places, ring = feature_line(limb, feature), feature["kind"] == "ring"
        shown = [run for run in runs(places, facing(RING_TURNED if ring else TURNED)) if len(run) > 1]
        if ring and (not shown or len(shown[0]) < len(places)):
            continue
        for stretch in shown:
            outside = runs(stretch, lambda p: not in_socket(pictures, view, p))
            above += "".join(map(smooth, drawn(pictures, view, outside, 6)))
            inside = runs(stretch, lambda p: in_socket(pictures, view, p))
            for line in drawn(pictures, view, inside, 6, slack=0.3):
                if feature["kind"] == "scar":
                    scar += smooth(line) + _stitches(line)
                elif ring or line[0] == line[-1] or places[0] == places[-1]:
                    bone += smooth(line)
                elif feature["ink"] >= STRONG:
                    dark += smooth(brush(line, _swell))
                else:
                    faint += smooth(brush(line, _swell))
        if ring:
            height, angle = feature["pts"][0]
            x, y = pictures.project(view, height * limb.brim, angle)
            dots += straight([(x, y), (x, y)])
    return dark, faint, bone, dots, scar, above


def _faces(pictures: Frame, view: View, place: Point, degrees: float) -> bool:
    if view == "end":
        return place[0] <= pictures.limb.end * 0.98
    return math.cos(math.radians(place[1] - FACING[view])) > math.sin(math.radians(degrees))


def _swell(t: float) -> float:
    return 0.5 + 1.6 * float(max(0.0, math.sin(math.pi * t)) ** 0.7)


def _stitches(line: Line) -> str:
    """Short strokes across a line, at even steps along it."""
    out, walked, due = "", 0.0, 7.0
    for (x0, y0), (x1, y1) in pairwise(line):
        length = math.dist((x0, y0), (x1, y1))
        while due <= walked + length:
            t = (due - walked) / length
            x, y = x0 + (x1 - x0) * t, y0 + (y1 - y0) * t
            dx, dy = (y1 - y0) / length * STITCH, (x0 - x1) / length * STITCH
            out += straight([(x - dx, y - dy), (x + dx, y + dy)])
            due += 14
        walked += length
    return out
