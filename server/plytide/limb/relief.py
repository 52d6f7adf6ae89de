"""Landmarks as form: what bones, tendons and muscles add to the smooth surface, for drawing only.

The map between spots and pictures never uses relief, so a redrawn landmark can never move what somebody logged.
"""

from __future__ import annotations

import math
from functools import lru_cache
from itertools import pairwise
from typing import Any, NamedTuple

from plytide.limb.geometry import Shape

Point = tuple[float, float]
SPLINE_STEPS = 8
RING_STEPS = 24
REACH = 3  # a landmark's form has faded out at this many widths


class Ridge(NamedTuple):
    """One landmark's form: `amount` mm high along a line of (u, angle), fading over `width` mm to either side."""

    amount: float
    width: float
    line: list[Point]
    low: float  # from here
    high: float  # to here it is felt, in u
    middle: float  # degrees
    spread: float  # degrees to either side of the middle that the line itself goes


def spline(points: list[list[float]]) -> list[Point]:
    """A Catmull-Rom curve through the points; closed where the last repeats the first."""
    closed = len(points) > 3 and points[0] == points[-1]
    p = [points[-2], *points, points[1]] if closed else [points[0], *points, points[-1]]
    out: list[Point] = []
    for a, b, c, d in zip(p, p[1:], p[2:], p[3:], strict=False):
        for step in range(SPLINE_STEPS):
            t = step / SPLINE_STEPS
            x, y = (
                (2 * b[k] + (c[k] - a[k]) * t + (2 * a[k] - 5 * b[k] + 4 * c[k] - d[k]) * t * t
                 + (3 * b[k] - a[k] - 3 * c[k] + d[k]) * t**3) / 2
                for k in (0, 1)
            )  # fmt: skip
            out.append((x, y))
    return [*out, (points[-1][0], points[-1][1])]


def feature_line(limb: Shape, feature: dict[str, Any]) -> list[Point]:
    """A landmark as points (u, angle); a ring goes once round its centre."""
    if feature["kind"] == "ring":
        (height, angle), (share, _) = feature["pts"]
        u, r = height * limb.brim, share * limb.brim
        wide = math.degrees(r / limb.radius(u, angle))
        turns = [2 * math.pi * i / RING_STEPS for i in range(RING_STEPS + 1)]
        return [(u + r * math.cos(t), angle + wide * math.sin(t)) for t in turns]
    return [(height * limb.brim, angle) for height, angle in spline(feature["pts"])]


@lru_cache(maxsize=64)
def ridges(limb: Shape) -> list[Ridge]:
    """The landmarks that raise or sink the surface."""
    out = []
    for feature in limb.table["features"]:
        if feature["relief"]:
            if feature["kind"] == "ring":
                height, angle = feature["pts"][0]
                line = [(height * limb.brim, angle)] * 2
            else:
                line = feature_line(limb, feature)[::2]
            us, angles, reach = [u for u, _ in line], [a for _, a in line], REACH * feature["width"]
            middle, spread = (max(angles) + min(angles)) / 2, (max(angles) - min(angles)) / 2
            out.append(
                Ridge(feature["relief"], feature["width"], line, min(us) - reach, max(us) + reach, middle, spread)
            )
    return out


def relief(limb: Shape, u: float, angle: float) -> float:
    """Millimetres that the landmarks add to the surface at a point."""
    total, r = 0.0, limb.radius(u, angle)
    for ridge in ridges(limb):
        if not ridge.low < u < ridge.high:
            continue
        beside = abs((ridge.middle - angle + 180) % 360 - 180) - ridge.spread
        if math.radians(beside) * r > REACH * ridge.width:
            continue
        nearest = (REACH * ridge.width) ** 2
        for (u0, a0), (u1, a1) in pairwise(ridge.line):
            x, y = math.radians((a0 - angle + 180) % 360 - 180) * r, u0 - u
            dx, dy = math.radians(a1 - a0) * r, u1 - u0
            t = max(0.0, min(1.0, -(x * dx + y * dy) / (dx * dx + dy * dy or 1)))
            nearest = min(nearest, (x + t * dx) ** 2 + (y + t * dy) ** 2)
        total += ridge.amount * math.exp(-nearest / ridge.width**2)
    return total
