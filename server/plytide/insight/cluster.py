"""Which points lie together: DBSCAN (Ester et al. 1996) with scikit-learn's labels, in cells instead of pairs.

Marks gather: hundreds of them on one spot would be tens of thousands of pairs. Points of one small cell are within
reach of each other by its size alone, so that only points of different cells near each other are ever compared.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from itertools import product

Point = tuple[float, float, float]
Cell = tuple[int, int, int]

NOBODY = -1  # label of a point that belongs to no cluster
_SIDE = 0.577  # of the reach: just under 1 / sqrt(3), so that a cell's diagonal is within reach
_AROUND = [offset for offset in product(range(-2, 3), repeat=3) if offset != (0, 0, 0)]


@lru_cache(maxsize=64)
def cluster(points: tuple[Point, ...], within: float, least: int) -> tuple[int, ...]:
    """The cluster of each point, NOBODY for those in none.

    A point with `least` points within reach, itself counted, is a core; cores within reach of each other are one
    cluster, numbered by their first core; a point that only reaches cores belongs to the first of their clusters.
    """
    side, reach = within * _SIDE, within * within
    cells: dict[Cell, list[int]] = {}
    for index, (x, y, z) in enumerate(points):
        cells.setdefault((int(x // side), int(y // side), int(z // side)), []).append(index)

    def close(index: int, other: int) -> bool:
        (x, y, z), (a, b, c) = points[index], points[other]
        return (x - a) ** 2 + (y - b) ** 2 + (z - c) ** 2 <= reach

    def is_core(index: int, cell: Cell) -> bool:
        count = len(cells[cell])
        for other in _near(cells, cell) if count < least else ():
            count += sum(close(index, one) for one in cells[other])
        return count >= least

    cores = {cell: [index for index in members if is_core(index, cell)] for cell, members in cells.items()}
    cores = {cell: members for cell, members in cores.items() if members}
    label_of = _joined(cores, close)
    labels = [NOBODY] * len(points)
    for cell, members in cells.items():
        around = [other for other in (cell, *_near(cores, cell)) if other in cores]
        for index in members:
            reached = (label_of[other] for other in around if any(close(index, one) for one in cores[other]))
            labels[index] = label_of[cell] if index in cores.get(cell, ()) else min(reached, default=NOBODY)
    return tuple(labels)


def _joined(cores: Mapping[Cell, Sequence[int]], close: Callable[[int, int], bool]) -> dict[Cell, int]:
    """The label of each cell with cores: cells are one cluster where a core of one reaches a core of the other."""
    label_of: dict[Cell, int] = {}
    label = 0
    for start in sorted(cores, key=lambda cell: cores[cell][0]):
        if start in label_of:
            continue
        label_of[start] = label
        edge = [start]
        while edge:
            cell = edge.pop()
            for other in _near(cores, cell):
                if other not in label_of and any(close(a, b) for a in cores[cell] for b in cores[other]):
                    label_of[other] = label
                    edge.append(other)
        label += 1
    return label_of


def _near(cells: Mapping[Cell, object], cell: Cell) -> list[Cell]:
    """The occupied cells that may hold points within reach of this one's."""
    i, j, k = cell
    return [near for a, b, c in _AROUND if (near := (i + a, j + b, k + c)) in cells]
