"""Level lines of a field on a grid, and lines as small smooth SVG paths."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import pairwise

Point = tuple[float, float]
Node = tuple[int, int]
Line = list[Point]


def level_lines(field: Sequence[Sequence[float]], level: float) -> list[Line]:
    """Lines along which `field[row][column]` is `level`, as points (row, column), higher ground on their left.

    Marching squares. A line that leaves the grid is open; a closed one repeats its first point.
    """
    after: dict[tuple[Node, Node], tuple[Node, Node]] = {}
    for j in range(len(field) - 1):
        for i in range(len(field[0]) - 1):
            corners = [(j, i), (j, i + 1), (j + 1, i + 1), (j + 1, i)]
            high = [field[a][b] >= level for a, b in corners]
            entries = [k for k in range(4) if not high[k - 1] and high[k]]
            for k in (k for k in range(4) if high[k - 1] and not high[k]):
                m = min(entries, key=lambda entry: (entry - k) % 4)
                after[_side(corners[k - 1], corners[k])] = _side(corners[m - 1], corners[m])
    lines = []
    for start in [*sorted(after.keys() - after.values()), *sorted(after)]:  # open lines from where they come in
        side, line = start, []
        while side in after:
            line.append(_cross(field, side, level))
            side = after.pop(side)
        if line:
            lines.append([*line, _cross(field, side, level)])
    return lines


def _side(a: Node, b: Node) -> tuple[Node, Node]:
    return (a, b) if a < b else (b, a)


def _cross(field: Sequence[Sequence[float]], side: tuple[Node, Node], level: float) -> Point:
    (j, i), (m, n) = side
    low, high = field[j][i], field[m][n]
    t = (level - low) / (high - low)
    return j + t * (m - j), i + t * (n - i)


def thin(line: Line, slack: float) -> Line:
    """The line with the points left out that lie within `slack` of what remains (Douglas and Peucker)."""
    if len(line) < 3:
        return line
    (x0, y0), (x1, y1) = line[0], line[-1]
    length = math.dist(line[0], line[-1])

    def off(p: Point) -> float:
        if length == 0:
            return math.dist(p, line[0])
        return abs((x1 - x0) * (y0 - p[1]) - (x0 - p[0]) * (y1 - y0)) / length

    far = max(range(1, len(line) - 1), key=lambda i: off(line[i]))
    if off(line[far]) <= slack:
        return [line[0], line[-1]]
    return thin(line[: far + 1], slack)[:-1] + thin(line[far:], slack)


def smooth(line: Line) -> str:
    """A path that rounds the line off: quadratic curves through the middles of its pieces."""
    pen = Pen()
    if len(line) < 3:
        return pen.move(line[0]) + pen.to("l", line[-1])
    closed = line[0] == line[-1]
    middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in pairwise(line)]
    if closed:
        first, curves = middles[-1], list(zip(line, middles, strict=False))
    else:
        first, curves = line[0], [*zip(line[1:-2], middles[1:-1], strict=True), (line[-2], line[-1])]
    return pen.move(first) + "".join(pen.bend(by, to) for by, to in curves) + ("z" if closed else "")


def straight(line: Line, closed: bool = False) -> str:
    """A path of straight pieces."""
    pen = Pen()
    return pen.move(line[0]) + "".join(pen.to("l", p) for p in line[1:]) + ("z" if closed else "")


class Pen:
    """Writes relative path commands in tenths of a unit, without letting their rounding add up."""

    def __init__(self) -> None:
        self.x = self.y = 0
        self.handle: tuple[int, int] | None = None

    def move(self, p: Point) -> str:
        """Lift and set down at `p`."""
        self.x, self.y, self.handle = tenths(p[0]), tenths(p[1]), None
        return "M" + _number(self.x) + _next(self.y)

    def bend(self, by: Point, p: Point) -> str:
        """A quadratic curve to `p`. Where the last curve's mirrored handle will do for `by`, it is not written."""
        x, y = tenths(by[0]), tenths(by[1])
        if self.handle:
            mirrored = 2 * self.x - self.handle[0], 2 * self.y - self.handle[1]
            if max(abs(mirrored[0] - x), abs(mirrored[1] - y)) <= 4:
                out = self.to("t", p)
                self.handle = mirrored
                return out
        out = self.to("q", by, p)
        self.handle = x, y
        return out

    def to(self, command: str, *points: Point) -> str:
        """One relative command (l, q) to the last of `points`."""
        out = ""
        for p in points:
            x, y = tenths(p[0]), tenths(p[1])
            out += (_next(x - self.x) if out else _number(x - self.x)) + _next(y - self.y)
            last = x, y
        self.x, self.y = last
        return command + out


def tenths(value: float) -> int:
    """A length in whole tenths, halves upwards: the same in Python and in a browser."""
    return math.floor(value * 10 + 0.5)


def _number(value: int) -> str:
    sign, (whole, part) = "-" if value < 0 else "", divmod(abs(value), 10)
    if not part:
        return f"{sign}{whole}"
    return f"{sign}{whole or ''}.{part}"


def _next(value: int) -> str:
    return _number(value) if value < 0 else " " + _number(value)


def brush(line: Line, width: Callable[[float], float]) -> Line:
    """A stroke of changing width as the closed outline of it; `width(t)` with t from 0 to 1 along its points."""
    left, right = [], []
    for i, p in enumerate(line):
        a, b = line[max(i - 1, 0)], line[min(i + 1, len(line) - 1)]
        reach = width(i / (len(line) - 1)) / 2 / (math.dist(a, b) or 1)
        dx, dy = (b[1] - a[1]) * reach, (a[0] - b[0]) * reach
        left.append((p[0] + dx, p[1] + dy))
        right.append((p[0] - dx, p[1] - dy))
    return [*left, *right[::-1], left[0]]
