"""Places on one limb's surface: how far apart they are, which lie together, what they are called.

Distances are straight lines in space between points of the surface, in millimetres, so that neither the step from
359 to 0 degrees nor the rounded end needs a special case.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from plytide.insight.cluster import Point
from plytide.limb.geometry import Size, region_name, size_of, surface_point

SAME_PLACE_MM = 20.0  # marks nearer than this are of one place: about a fingertip on a limb and its aim


class Surface:
    """The surface of one limb of the profile; with no profile a typical limb below the knee."""

    def __init__(self, limb: Mapping[str, Any] | None) -> None:
        self.level: str = limb["level"] if limb else "transtibial"
        self.size: Size = size_of(limb or {})

    def point(self, height: float, angle: float) -> Point:
        """Where a stored place is in space."""
        return surface_point(self.level, height, angle, self.size)

    def name(self, height: float, angle: float) -> tuple[str, str, str]:
        """(id, plain name, trade name) of a place."""
        return region_name(self.level, height, angle)


def middle(places: Sequence[tuple[float, float]], points: Sequence[Point]) -> tuple[float, float]:
    """One (height, angle) for a cluster: mean height and mean direction.

    Where the marks lie all the way round, as they do on the end of the limb, a mean direction says nothing; there it
    is the mark nearest to all the others.
    """
    east = sum(math.sin(math.radians(angle)) for _, angle in places) / len(places)
    north = sum(math.cos(math.radians(angle)) for _, angle in places) / len(places)
    if math.hypot(east, north) < math.cos(math.radians(60)):
        far = [sum(math.dist(a, b) for b in points) for a in points]
        return places[far.index(min(far))]
    height = sum(height for height, _ in places) / len(places)
    return round(height, 4), round(math.degrees(math.atan2(east, north)) % 360, 1) % 360


def heat_at(point: Point, marks: Sequence[tuple[Point, float]], sigma: float) -> float:
    """Heat at a point: each mark's weight, falling off with distance as a Gaussian that is 1 at the mark."""
    narrow, exp, dist = -0.5 / (sigma * sigma), math.exp, math.dist  # asked for thousands of times in a row
    return sum([weight * exp(narrow * (away := dist(point, mark)) * away) for mark, weight in marks])
