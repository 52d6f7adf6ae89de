"""The limb's surface: where a stored spot is in space, and what the place is called.

A spot is stored as `height` (0 tip of the limb, 1 socket brim) and `angle` (degrees: 0 front, 90 outer, 180 back,
270 inner). Left and right limbs share the table: "outer" is outer on both. Three lengths, all from the tip, in mm:
`u` along the table's typical limb (height x brim), `z` along the wearer's own limb, and x (outward), y (forward)
across it. Stored spots are tied to landmarks, so they never move when the wearer's sizes change.

The sizes in the table are plausible typical ones, not measurements of anybody.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import Any, Literal, NamedTuple

from plytide.data import table

View = Literal["front", "inner", "back", "outer", "end"]
LEVELS = ("transtibial", "knee_disarticulation", "transfemoral")
SIDES: tuple[View, ...] = ("front", "outer", "back", "inner")  # in the order of the table's columns
SHORTEST_STRETCH_MM = 20.0
KEPT = 4096  # cross-sections remembered for one limb
TIP_MM = 5.0  # a tape nearer to the tip than this measures the rounded end, not a girth


class Size(NamedTuple):
    """The wearer's own sizes: length from the table's reference line to the tip, and (mm from tip, girth mm)."""

    length_mm: float | None = None
    girths: tuple[tuple[float, float], ...] = ()


TYPICAL = Size()


def size_of(limb: Mapping[str, Any]) -> Size:
    """The size that a limb of the profile states (`length_cm`, `girths`), or the typical one."""
    length = limb.get("length_cm")
    girths = tuple((10 * g["from_end_cm"], 10 * g["girth_cm"]) for g in limb.get("girths") or [])
    return Size(10 * length if length else None, girths)


def monotone(xs: Sequence[float], ys: Sequence[float]) -> Callable[[float], float]:
    """A smooth curve through points that never overshoots them: cubic, slopes by Fritsch and Butland (1984).

    `xs` rise; outside them the curve stays at its end values.
    """
    n = len(xs)
    if n == 1:
        return lambda x: ys[0]
    h = [b - a for a, b in pairwise(xs)]
    d = [(b - a) / w for (a, b), w in zip(pairwise(ys), h, strict=True)]
    m = [d[0], *([0.0] * (n - 2)), d[-1]]
    for i in range(1, n - 1):
        if d[i - 1] * d[i] > 0:
            a, b = 2 * h[i] + h[i - 1], h[i] + 2 * h[i - 1]
            m[i] = (a + b) / (a / d[i - 1] + b / d[i])

    def curve(x: float) -> float:
        x = min(max(x, xs[0]), xs[-1])
        i = min(bisect_right(xs, x) - 1, n - 2)
        t = (x - xs[i]) / h[i]
        s = 1 - t
        return (
            ys[i] * (1 + 2 * t) * s * s
            + h[i] * m[i] * t * s * s
            + ys[i + 1] * t * t * (3 - 2 * t)
            - h[i] * m[i + 1] * t * t * s
        )

    return curve


class Shape:
    """The surface of one limb: a level of the table at the wearer's size. Get it from `shape`, which keeps it."""

    def __init__(self, level: str, size: Size = TYPICAL) -> None:
        t = table("limb")["levels"][level]
        self.table: dict[str, Any] = t
        self.brim: float = t["brim_mm"]
        self.end: float = t["end_mm"]
        self.heights: list[float] = [row[0] for row in t["rows"]]
        self.top = self.heights[-1]
        self._profiles = [monotone(self.heights, [row[k] for row in t["rows"]]) for k in (1, 2, 3, 4)]
        self._caps: list[float] = [t["cap_mm"][side] for side in SIDES]
        self._square = {half: monotone(*zip(*knots, strict=True)) for half, knots in t["squareness"].items()}
        self._low: float = t["stretch_mm"][0]
        self._high: float = t["stretch_mm"][1]
        grow = size.length_mm - t["typical_length_mm"] if size.length_mm else 0.0
        zone = self._high - self._low
        self._stretch: float = max(SHORTEST_STRETCH_MM, zone + grow) / zone
        self.swell: Callable[[float], float] = lambda u: 1.0
        self._radii: dict[float, tuple[float, float, float, float]] = {}
        self._fit(size.girths)

    def _fit(self, girths: Sequence[tuple[float, float]]) -> None:
        """Swell the typical limb so that it has the girths measured, exactly, at their heights."""
        at: dict[float, list[float]] = {}
        for z, girth in girths:
            u = self.u_of_z(z)
            if u >= TIP_MM:
                at.setdefault(u, []).append(girth)
        if at:
            us = sorted(at)
            factors = [sum(at[u]) / len(at[u]) / self.girth(u) for u in us]
            self.swell, self._radii = monotone(us, factors), {}

    def z_of_u(self, u: float) -> float:
        """Own millimetres from the tip. Only the shaft between bony landmarks grows with the limb's length."""
        if u <= self._low:
            return u
        return self._low + (min(u, self._high) - self._low) * self._stretch + max(0.0, u - self._high)

    def u_of_z(self, z: float) -> float:
        """The table's millimetres from the tip: the inverse of `z_of_u`."""
        if z <= self._low:
            return z
        shaft = (self._high - self._low) * self._stretch
        if z <= self._low + shaft:
            return self._low + (z - self._low) / self._stretch
        return self._high + (z - self._low - shaft)

    def radii(self, u: float) -> tuple[float, float, float, float]:
        """Radius in mm towards front, outer, back, inner at `u`."""
        found = self._radii.get(u)
        if found is None:
            if len(self._radii) > KEPT:
                self._radii.clear()
            swell = self.swell(u)
            front, outer, back, inner = (
                profile(u) * swell * self._rounding(u, cap)
                for profile, cap in zip(self._profiles, self._caps, strict=True)
            )
            found = self._radii[u] = (front, outer, back, inner)
        return found

    def _rounding(self, u: float, cap: float) -> float:
        """How much of its radius a side has kept at `u`, on the rounded end that begins at `cap`."""
        if u >= cap:
            return 1.0
        power: float = self.table["cap_power"]
        return float(max(0.0, 1 - (1 - max(u, 0.0) / cap) ** power) ** (1 / power))

    def square(self, u: float, front: bool) -> float:
        """Exponent of the superellipse in the front or back half at `u`; 2 is an ellipse, more is squarer."""
        return self._square["front" if front else "back"](u)

    def radius(self, u: float, angle: float) -> float:
        """Distance in mm from the limb's axis to its surface."""
        front, outer, back, inner = self.radii(u)
        s, c = math.sin(math.radians(angle)), math.cos(math.radians(angle))
        a, b = (outer if s >= 0 else inner), (front if c >= 0 else back)
        if a <= 0 or b <= 0:
            return 0.0
        n = self.square(u, c >= 0)
        return float((abs(s / a) ** n + abs(c / b) ** n) ** (-1 / n))

    def point(self, u: float, angle: float) -> tuple[float, float, float]:
        """The surface in space: x outward, y forward, z up from the tip, in mm."""
        r, turn = self.radius(u, angle), math.radians(angle)
        return r * math.sin(turn), r * math.cos(turn), self.z_of_u(u)

    def girth(self, u: float) -> float:
        """Length in mm of a tape round the limb at `u`."""
        around = [self.point(u, degree) for degree in range(360)]
        return sum(math.dist(a, b) for a, b in zip(around, around[1:] + around[:1], strict=True))

    def edge(self, angle: float) -> float:
        """Where the usual socket edge runs, as `u`."""
        t, turn = self.table["trim_mm"], math.radians(angle)
        s, c = math.sin(turn), math.cos(turn)
        across, along = t["outer" if s >= 0 else "inner"], t["front" if c >= 0 else "back"]
        return float(along * c * c + across * s * s)


@lru_cache(maxsize=64)
def shape(level: str, size: Size = TYPICAL) -> Shape:
    """The surface for a level and size; made once and kept. KeyError for a level the table does not have."""
    return Shape(level, size)


@lru_cache(maxsize=65536)
def surface_point(level: str, height: float, angle: float, size: Size = TYPICAL) -> tuple[float, float, float]:
    """Where a stored spot is in space: (x outward, y forward, z up from the tip) in mm."""
    limb = shape(level, size)
    return limb.point(height * limb.brim, angle)


def rounded(height: float, angle: float) -> tuple[float, float]:
    """A spot as it is stored: coarser heights would move a spot at the very tip by millimetres."""
    return round(min(max(height, 0.0), 1.0), 6), round(angle % 360, 1) % 360


def regions_at(level: str, height: float, angle: float) -> list[dict[str, Any]]:
    """The table's regions under a spot, the smallest (the one to name) first."""
    hit = []
    for region in table("limb")["levels"][level]["regions"]:
        low, high = region["height"]
        a0, a1 = region["angle"]
        width = (a1 - a0) % 360 or 360
        if low <= height <= high and (angle - a0) % 360 <= width:
            hit.append(((high - low) * width, region))
    return [region for _, region in sorted(hit, key=lambda pair: pair[0])]


_QUARTERS = (("front", "Front", "anterior"), ("outer", "Outer side", "lateral"),
             ("back", "Back", "posterior"), ("inner", "Inner side", "medial"))  # fmt: skip
_THIRDS = (("lower", "distal"), ("middle", "mid"), ("upper", "proximal"))


@lru_cache(maxsize=65536)
def region_name(level: str, height: float, angle: float) -> tuple[str, str, str]:
    """(id, plain name, trade name) of the place: the smallest region there, or else its quarter and third."""
    hit = regions_at(level, height, angle)
    if hit:
        return hit[0]["id"], hit[0]["plain"], hit[0]["trade"]
    quarter, plain, trade = _QUARTERS[int(((angle + 45) % 360) // 90)]
    third, part = _THIRDS[min(2, int(height * 3))]
    return f"{quarter}_{third}", f"{plain}, {third} third", f"{part.capitalize()} third, {trade}"
