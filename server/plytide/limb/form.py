"""What a view shows of the surface: a grid of places with their depth and light, and the lines drawn from it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from itertools import pairwise
from typing import NamedTuple, TypeVar

from plytide.limb.contour import Line, Point, level_lines, thin
from plytide.limb.geometry import View
from plytide.limb.relief import relief
from plytide.limb.views import Frame

T = TypeVar("T")
ROWS, COLUMNS = 36, 30
RELIEF = 2.5  # landmarks are drawn this much stronger than they stand out
FLAT = 0.35  # light falls on the unrolled end as if it were this much less deep: at full depth it looks like a cone
LIGHT = (-0.5, -0.42, 0.76)  # from the upper left and the front; x right, y down, z towards the eye
STEP_MM = 9.0  # between depth lines
FIRST_MM = 2.5  # the highest one below the nearest point
DEEPEST = {"end": 0.1}  # below this share of the depth the lines would crowd along the outline
DEEPEST_SIDE = 0.36
SHADES = (0.3, 0.5, 0.68)  # light below which one more layer of shade is laid
CLOSE = 0.2  # view units between ends that are one point
SHORTEST = 9.0  # view units; a shorter line is a speck


class Ground(NamedTuple):
    """Rows of places (u, angle), each with its depth towards the eye in mm and the light on it, up to 1."""

    places: list[list[Point]]
    depth: list[list[float]]
    light: list[list[float]]


def ground(frame: Frame, view: View) -> Ground:
    """The surface as a view shows it, landmarks raised."""
    places, depth = _end_grid(frame) if view == "end" else _side_grid(frame, view)
    return Ground(places, depth, _lit(frame, view, places, depth))


def _side_grid(frame: Frame, view: View) -> tuple[list[list[Point]], list[list[float]]]:
    limb, places, depth = frame.limb, [], []
    shares = [math.sin(math.pi * (i / COLUMNS - 0.5)) for i in range(COLUMNS + 1)]
    for j in range(ROWS + 1):
        u = limb.top * max(j / ROWS, 0.01) ** 1.5
        row = [(u, *frame.turned(view, u, share)) for share in shares]
        places.append([(u, angle) for u, angle, _ in row])
        depth.append([d + RELIEF * relief(limb, u, a) * d / (limb.radius(u, a) or 1) for u, a, d in row])
    return places, depth


def _end_grid(frame: Frame) -> tuple[list[list[Point]], list[list[float]]]:
    limb, places, depth = frame.limb, [], []
    angles = [360 * i / (2 * COLUMNS) for i in range(2 * COLUMNS + 1)]
    for j in range(ROWS // 2 + 1):
        u = limb.end * max(j / (ROWS // 2), 0.02) ** 2
        places.append([(u, a) for a in angles])
        depth.append([RELIEF * relief(limb, u, a) * _downward(frame, u, a) - limb.z_of_u(u) for a in angles])
    return places, depth


def _downward(frame: Frame, u: float, angle: float) -> float:
    """How much of the surface's normal points down, towards an eye below the end."""
    step = u * 0.02
    rise = (frame.limb.radius(u + step, angle) - frame.limb.radius(u - step, angle)) / (2 * step)
    return float(rise / math.hypot(1, rise))


def _lit(frame: Frame, view: View, places: list[list[Point]], depth: list[list[float]]) -> list[list[float]]:
    """Cosine between the surface, as the picture has it, and the light."""
    scale = FLAT * frame.end_scale if view == "end" else frame.scale
    at = [
        [(*frame.project(view, *p), scale * d) for p, d in zip(row, depths, strict=True)]
        for row, depths in zip(places, depth, strict=True)
    ]
    rows, columns, round_about = len(at), len(at[0]), view == "end"

    def light(j: int, i: int) -> float:
        if round_about:
            east, west = at[j][(i + 1) % (columns - 1)], at[j][(i - 1) % (columns - 1)]
        else:
            east, west = at[j][min(i + 1, columns - 1)], at[j][max(i - 1, 0)]
        north, south = at[min(j + 1, rows - 1)][i], at[max(j - 1, 0)][i]
        (ax, ay, az), (bx, by, bz) = (
            (p[0] - q[0], p[1] - q[1], p[2] - q[2]) for p, q in ((east, west), (north, south))
        )
        x, y, z = ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx
        towards = (x * LIGHT[0] + y * LIGHT[1] + z * LIGHT[2]) / (math.hypot(x, y, z) or 1)
        return float(towards if z >= 0 else -towards)

    return [[light(j, i) for i in range(columns)] for j in range(rows)]


def depth_lines(frame: Frame, view: View, seen: Ground) -> list[Line]:
    """Lines of equal depth below the socket edge, as points of the picture."""
    nearest, deepest = max(map(max, seen.depth)), min(map(min, seen.depth))
    lines, level = [], nearest - FIRST_MM
    while level > deepest + DEEPEST.get(view, DEEPEST_SIDE) * (nearest - deepest):
        for line in level_lines(seen.depth, level):
            places = [_between(seen.places, at) for at in line]
            lines += drawn(frame, view, (run for run in runs(places, lambda p: in_socket(frame, view, p))), SHORTEST)
        level -= STEP_MM
    return lines


def shades(frame: Frame, view: View, seen: Ground) -> list[list[Line]]:
    """The shaded areas below the socket edge, one list for each layer of shade, as closed lines."""
    rows, columns = len(seen.light), len(seen.light[0])
    left = 0 if view == "end" else 1  # the end goes round: only its rim needs a fence
    layers = []
    for shade in SHADES:
        dark = [[-9.0] * left + [shade - light for light in row] + [-9.0] * left for row in seen.light]
        fence = [[-9.0] * (columns + 2 * left)]
        layer = []
        for line in level_lines(fence + dark + fence, 0.0):
            places = [
                _between(seen.places, (min(max(j - 1, 0), rows - 1), min(max(i - left, 0), columns - 1)))
                for j, i in line
            ]
            if view != "end":
                places = [(min(u, frame.limb.edge(angle)), angle) for u, angle in places]
            layer += drawn(frame, view, [[*places, places[0]]], 4 * SHORTEST)
        layers.append(layer)
    return layers


def drawn(frame: Frame, view: View, lines: Iterable[list[Point]], shortest: float, slack: float = 0.4) -> list[Line]:
    """Lines of places as thinned lines of the picture; those shorter than `shortest` left out."""
    out = []
    for line in lines:
        points = [frame.project(view, u, angle) for u, angle in line]
        if sum(math.dist(a, b) for a, b in pairwise(points)) < shortest:
            continue
        if math.dist(points[0], points[-1]) < CLOSE:
            points[-1] = points[0]
        out.append(thin(points, slack))
    return out


def in_socket(frame: Frame, view: View, place: Point) -> bool:
    """Whether a place lies below the usual socket edge; all of the end does."""
    return view == "end" or place[0] <= frame.limb.edge(place[1]) + 0.5


def runs(items: Iterable[T], keep: Callable[[T], bool]) -> list[list[T]]:
    """The unbroken stretches of items to keep."""
    out: list[list[T]] = [[]]
    for item in items:
        if keep(item):
            out[-1].append(item)
        elif out[-1]:
            out.append([])
    return out if out[-1] else out[:-1]


def _between(places: list[list[Point]], at: Point) -> Point:
    """The place at a fractional (row, column) of the grid."""
    j, i = min(int(at[0]), len(places) - 2), min(int(at[1]), len(places[0]) - 2)
    down, across = at[0] - j, at[1] - i

    def mix(a: Point, b: Point, t: float) -> Point:
        return a[0] + (b[0] - a[0]) * t, a[1] + ((b[1] - a[1] + 180) % 360 - 180) * t

    return mix(mix(places[j][i], places[j][i + 1], across), mix(places[j + 1][i], places[j + 1][i + 1], across), down)
