"""Places on one limb's surface: how far apart they are, which lie together, what they are called.

Distances are straight lines in space between points of the surface, in millimetres, so that neither the step from
359 to 0 degrees nor the rounded end needs a special case.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

from plytide.limb.geometry import Size, region_name, size_of, surface_point

Point = tuple[float, float, float]

SAME_PLACE_MM = 20.0  # marks nearer than this are of one place: about a fingertip on a limb and its aim
NOBODY = -1  # label of a mark that belongs to no cluster


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


@lru_cache(maxsize=64)
def cluster(points: tuple[Point, ...], within: float = SAME_PLACE_MM, least: int = 3) -> tuple[int, ...]:
    """The cluster of each point, NOBODY for those in none: DBSCAN (Ester et al. 1996), with scikit-learn's labels.

    A point with `least` points within reach, itself counted, is a core; cores within reach of each other are one
    cluster, and a point that only reaches a core belongs to the first cluster that finds it.
    """
    near = _neighbours(points, within)
    labels = [NOBODY] * len(points)
    label = 0
    for first in range(len(points)):
        if labels[first] != NOBODY or len(near[first]) < least:
            continue
        queue = [first]
        while queue:
            index = queue.pop()
            if labels[index] == NOBODY:
                labels[index] = label
                if len(near[index]) >= least:
                    queue += [other for other in near[index] if labels[other] == NOBODY]
        label += 1
    return tuple(labels)


def _neighbours(points: Sequence[Point], within: float) -> list[list[int]]:
    """For each point the indices within reach, itself among them. A grid spares the pairs that cannot be."""
    grid: dict[tuple[int, int, int], list[int]] = {}
    for index, (x, y, z) in enumerate(points):
        grid.setdefault((int(x // within), int(y // within), int(z // within)), []).append(index)
    around = [(a, b, c) for a in (-1, 0, 1) for b in (-1, 0, 1) for c in (-1, 0, 1)]
    reach = within * within
    near: list[list[int]] = [[] for _ in points]
    for (i, j, k), members in grid.items():
        others = [index for a, b, c in around for index in grid.get((i + a, j + b, k + c), ())]
        for index in members:
            x, y, z = points[index]
            near[index] = [
                other
                for other in others
                if (x - points[other][0]) ** 2 + (y - points[other][1]) ** 2 + (z - points[other][2]) ** 2 <= reach
            ]
    return near


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
    reach = (6 * sigma) ** 2  # beyond, nothing that six decimals could show
    total = 0.0
    for (x, y, z), weight in marks:
        d2 = (x - point[0]) ** 2 + (y - point[1]) ** 2 + (z - point[2]) ** 2
        if d2 <= reach:
            total += weight * math.exp(-d2 / (2 * sigma * sigma))
    return total
