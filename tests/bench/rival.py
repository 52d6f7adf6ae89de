"""The ceiling's day by plain simulation: every path drawn by itself, day by day, from the line that `trend.fit` gives.

The plain form of the method that `trend.reached` makes quicker and evener (paths in mirrored pairs, a walk by
weeks). Held beside it on the same wearers, it shows what that is worth.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt
from random import Random

from plytide.insight import trend

PATHS = 400


def simulated(line: trend.Fit, ceiling: int, before: Sequence[int], weeks: float | None, seed: int = 1) -> list[int]:
    """On which day from today (0) on each of PATHS paths reaches the ceiling, sorted; HORIZON + 1 stands for never."""
    r = Random(seed)
    course = [trend.clock(t, weeks) for t in range(trend.HORIZON + 1)]
    lean = line.cov / sqrt(line.slope_var)
    rest, spread, fresh = sqrt(max(0.0, line.level_var - lean * lean)), sqrt(line.noise), sqrt(1 - line.carry**2)
    out = []
    for _ in range(PATHS):
        first = r.gauss(0, 1)
        slope = line.slope + sqrt(line.slope_var) * first
        level = line.level + lean * first + rest * r.gauss(0, 1)
        noise, walk, there = r.gauss(0, 1), 0.0, list(before)
        for t, passed in enumerate(course):
            if level + slope * passed + walk + spread * noise >= ceiling - 0.5:
                there.append(t)
            noise = line.carry * noise + fresh * r.gauss(0, 1)
            walk += r.gauss(0, trend.WANDER)
        out.append(trend.first_week(there))
    return sorted(out)
