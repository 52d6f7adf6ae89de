"""The statistics that the reading needs, in plain Python.

Exact laws where the samples are small and free of ties (n <= 30), else normal approximations with continuity and tie
corrections. Importing a statistics library would cost more time and memory than the whole reading; tests hold every
function here to published examples and to those libraries. All functions are pure; empty input is the caller's to
avoid unless a function says otherwise.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import pairwise
from statistics import NormalDist
from typing import NamedTuple

EXACT_MAX = 30
_NORMAL = NormalDist()


def normal_sf(z: float) -> float:
    """Chance of a standard normal above z."""
    return 0.5 * math.erfc(z / math.sqrt(2))


def normal_quantile(p: float) -> float:
    """The standard normal's p quantile."""
    return _NORMAL.inv_cdf(p)


def median(values: Iterable[float]) -> float:
    """The middle value, or the mean of the two middle ones."""
    ordered = sorted(values)
    half = len(ordered) // 2
    return float(ordered[half]) if len(ordered) % 2 else (ordered[half - 1] + ordered[half]) / 2


def quantile(ordered: Sequence[float], p: float) -> float:
    """The p quantile of sorted values, linear between them (definition 7 of Hyndman and Fan 1996)."""
    place = (len(ordered) - 1) * p
    low = math.floor(place)
    high = min(low + 1, len(ordered) - 1)
    return ordered[low] + (ordered[high] - ordered[low]) * (place - low)


class Test(NamedTuple):
    """A statistic and its p values; `greater` is for a positive association or a larger second sample."""

    statistic: float
    two_sided: float
    greater: float
    exact: bool


def kendall(x: Sequence[float], y: Sequence[float]) -> Test:
    """Kendall's S between x and y, its p by the exact law, or by the normal one where ties or size forbid that."""
    n = len(x)
    s = kendall_s(x, y)
    if n <= EXACT_MAX and len(set(x)) == n and len(set(y)) == n:
        counts = _inversions(n)
        whole = math.factorial(n)
        # S = pairs - 2 * inversions, so S >= s means at most (pairs - s) / 2 inversions.
        pairs = n * (n - 1) // 2
        greater = sum(counts[: (pairs - s) // 2 + 1]) / whole
        less = sum(counts[: (pairs + s) // 2 + 1]) / whole
        return Test(s, min(1.0, 2 * min(greater, less)), greater, True)
    deviation = math.sqrt(kendall_variance(x, y))
    if deviation == 0:
        return Test(s, 1.0, 1.0, False)
    return Test(s, *_normal_p(s, 1, deviation), False)


def kendall_s(x: Sequence[float], y: Sequence[float]) -> int:
    """Concordant less discordant pairs."""
    total = 0
    for i, (xi, yi) in enumerate(zip(x, y, strict=True)):
        for j in range(i):
            sign = (xi - x[j]) * (yi - y[j])
            total += (sign > 0) - (sign < 0)
    return total


def kendall_variance(x: Sequence[float], y: Sequence[float]) -> float:
    """The variance of S with ties in either variable (Kendall 1975)."""
    n = len(x)
    tx, ty = [t for t in Counter(x).values() if t > 1], [t for t in Counter(y).values() if t > 1]
    fall = n * (n - 1) * (2 * n + 5) - sum(t * (t - 1) * (2 * t + 5) for t in (*tx, *ty))
    pairs = sum(t * (t - 1) for t in tx) * sum(t * (t - 1) for t in ty)
    triples = sum(t * (t - 1) * (t - 2) for t in tx) * sum(t * (t - 1) * (t - 2) for t in ty)
    variance = fall / 18 + (pairs / (2 * n * (n - 1)) if n > 1 else 0)
    return variance + (triples / (9 * n * (n - 1) * (n - 2)) if n > 2 else 0)


class Slope(NamedTuple):
    """A Theil-Sen line: y rises by `slope` a unit of x; `low` and `high` hold it at the asked confidence."""

    slope: float
    intercept: float
    low: float
    high: float


def theil_sen(x: Sequence[float], y: Sequence[float], confidence: float = 0.95) -> Slope:
    """Theil-Sen slope, the median of y - slope x, and Sen's rank interval (Sen 1968). Needs two distinct x."""
    slopes = pair_slopes(x, y)
    slope, level = _line(slopes, x, y)
    z = normal_quantile(0.5 + confidence / 2)
    n = len(x)
    ties = [t for values in (x, y) for t in Counter(values).values() if t > 1]
    spread = math.sqrt((n * (n - 1) * (2 * n + 5) - sum(t * (t - 1) * (2 * t + 5) for t in ties)) / 18)
    low = max(round((len(slopes) - z * spread) / 2) - 1, 0)
    high = min(round((len(slopes) + z * spread) / 2), len(slopes) - 1)
    return Slope(slope, level, slopes[low], slopes[high])


def theil_sen_line(x: Sequence[float], y: Sequence[float]) -> tuple[float, float]:
    """Slope and intercept of `theil_sen` where nobody asks for the interval, which costs as much again."""
    return _line(pair_slopes(x, y), x, y)


def _line(slopes: Sequence[float], x: Sequence[float], y: Sequence[float]) -> tuple[float, float]:
    half = len(slopes) // 2
    slope = slopes[half] if len(slopes) % 2 else (slopes[half - 1] + slopes[half]) / 2
    return slope, median([b - slope * a for a, b in zip(x, y, strict=True)])


def pair_slopes(x: Sequence[float], y: Sequence[float]) -> list[float]:
    """The slopes of all pairs with distinct x, sorted."""
    points = list(zip(x, y, strict=True))
    slopes = [(b - d) / (a - c) for i, (a, b) in enumerate(points) for c, d in points[:i] if a != c]
    slopes.sort()
    return slopes


def mann_whitney(x: Sequence[float], y: Sequence[float]) -> Test:
    """Mann-Whitney's U of y over x (pairs with y above, ties half), with `greater` for y tending to be larger."""
    m, n = len(x), len(y)
    u = sum((b > a) + 0.5 * (b == a) for a in x for b in y)
    values = [*x, *y]
    if max(m, n) <= EXACT_MAX and len(set(values)) == m + n:
        counts = rank_law(m, n)
        whole = math.comb(m + n, m)
        greater = sum(counts[int(u) :]) / whole
        less = sum(counts[: int(u) + 1]) / whole
        return Test(u, min(1.0, 2 * min(greater, less)), greater, True)
    total = m + n
    ties = sum(t**3 - t for t in Counter(values).values())
    deviation = math.sqrt(m * n / 12 * (total + 1 - ties / (total * (total - 1))))
    if deviation == 0:
        return Test(u, 1.0, 1.0, False)
    return Test(u, *_normal_p(u - m * n / 2, 0.5, deviation), False)


class Moved(NamedTuple):
    """A Hodges-Lehmann shift with its rank interval and the confidence that interval really has."""

    shift: float
    low: float
    high: float
    confidence: float


def hodges_lehmann(before: Sequence[float], after: Sequence[float], confidence: float = 0.95) -> Moved:
    """How far `after` lies above `before`: the median of all differences, with the interval of the rank law."""
    m, n = len(before), len(after)
    gaps = sorted(b - a for a in before for b in after)
    cut, achieved = _rank_cut(m, n, confidence)
    return Moved(median(gaps), gaps[cut], gaps[m * n - 1 - cut], achieved)


@lru_cache(maxsize=1024)
def _rank_cut(m: int, n: int, confidence: float) -> tuple[int, float]:
    """How many of the m n ordered differences to leave out at either end, and the confidence that gives."""
    alpha = 1 - confidence
    if max(m, n) > EXACT_MAX:
        spread = math.sqrt(m * n * (m + n + 1) / 12)
        cut = math.floor(m * n / 2 - normal_quantile(1 - alpha / 2) * spread - 0.5)
        return max(0, cut), confidence
    counts, whole = rank_law(m, n), math.comb(m + n, m)
    tail, cut = counts[0], 0
    while 2 * (tail + counts[cut + 1]) <= alpha * whole:
        cut += 1
        tail += counts[cut]
    return cut, 1 - 2 * tail / whole


@lru_cache(maxsize=1024)
def rank_law(m: int, n: int) -> tuple[int, ...]:
    """Of all ways to mix m and n ranks, how many give each value of U from 0 to m n."""
    counts = [1] + [0] * (m * n)
    # The generating function is a product of (1 - q^(n+i)) / (1 - q^i) for i in 1..m.
    for i in range(1, m + 1):
        for k in range(m * n, n + i - 1, -1):
            counts[k] -= counts[k - n - i]
        for k in range(i, m * n + 1):
            counts[k] += counts[k - i]
    return tuple(counts)


@lru_cache(maxsize=EXACT_MAX + 1)
def _inversions(n: int) -> tuple[int, ...]:
    """How many orders of n things have each number of inversions."""
    counts = [1]
    for size in range(2, n + 1):
        wider = [0] * (len(counts) + size - 1)
        for k, count in enumerate(counts):
            for extra in range(size):
                wider[k + extra] += count
        counts = wider
    return tuple(counts)


def _normal_p(centred: float, continuity: float, deviation: float) -> tuple[float, float]:
    """Two-sided and upper p of a centred statistic, drawn towards the middle by the continuity correction."""
    two = min(1.0, 2 * normal_sf(max(0.0, abs(centred) - continuity) / deviation))
    return two, normal_sf((centred - continuity) / deviation)


def wilson(hits: int, of: int, confidence: float = 0.95) -> tuple[float, float]:
    """Wilson's interval for a rate; (0, 1) where there is nothing to count."""
    if of == 0:
        return 0.0, 1.0
    z = normal_quantile(0.5 + confidence / 2)
    rate, z2 = hits / of, z * z
    middle = (rate + z2 / (2 * of)) / (1 + z2 / of)
    half = z / (1 + z2 / of) * math.sqrt(rate * (1 - rate) / of + z2 / (4 * of * of))
    return max(0.0, middle - half), min(1.0, middle + half)


def fisher(a: int, b: int, c: int, d: int) -> Test:
    """Fisher's exact test of the table [[a, b], [c, d]]; the statistic is a, `greater` for more a than by chance."""
    row, column, whole = a + b, a + c, a + b + c + d
    first, last = max(0, row + column - whole), min(row, column)
    ways = [math.comb(column, k) * math.comb(whole - column, row - k) for k in range(first, last + 1)]
    here, total = ways[a - first], math.comb(whole, row)
    return Test(a, sum(w for w in ways if w <= here) / total, sum(ways[a - first :]) / total, True)


def relative_risk(
    hits: int, of: int, other_hits: int, other_of: int, confidence: float = 0.95
) -> tuple[float, float, float] | None:
    """The ratio of two rates with its log interval (Katz 1978); None where a rate is 0 and no interval exists."""
    if not (hits and of and other_hits and other_of):
        return None
    ratio = (hits / of) / (other_hits / other_of)
    spread = math.sqrt(1 / hits - 1 / of + 1 / other_hits - 1 / other_of)
    wide = math.exp(normal_quantile(0.5 + confidence / 2) * spread)
    return ratio, ratio / wide, ratio * wide


def circular_shift(x: Sequence[int], y: Sequence[int]) -> tuple[int, float]:
    """How often two 0/1 series of days are 1 together, and its one-sided p among all circular shifts of y.

    Shifting keeps each series' own runs of days whole, which is what makes the p honest for days that depend on
    their neighbours.
    """
    n = len(x)
    ones, others = (sum(1 << i for i, value in enumerate(series) if value) for series in (x, y))
    twice = others | others << n
    counts = [(ones & twice >> shift).bit_count() for shift in range(n)]
    return counts[0], sum(count >= counts[0] for count in counts) / n


def ewma(values: Iterable[float], weight: float, start: float = 0.0) -> list[float]:
    """Exponentially weighted means: each value counts `weight`, all before it the rest (Roberts 1959)."""
    out = []
    for value in values:
        start += weight * (value - start)
        out.append(start)
    return out


def cusum(values: Iterable[float], target: float, slack: float) -> tuple[list[float], list[float]]:
    """Upper and lower cumulative sums of what exceeds the target by more than the slack (Page 1954)."""
    high = low = 0.0
    highs, lows = [], []
    for value in values:
        high = max(0.0, high + value - target - slack)
        low = max(0.0, low + target - slack - value)
        highs.append(high)
        lows.append(low)
    return highs, lows


def lag1(values: Sequence[float]) -> float:
    """The correlation of centred values with their neighbours; 0 where nothing varies."""
    square = sum(value * value for value in values)
    return sum(a * b for a, b in pairwise(values)) / square if square else 0.0
