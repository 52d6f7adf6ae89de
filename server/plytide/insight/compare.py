"""Before and after each change: one number a day, the days of settling left out.

The shift is Hodges and Lehmann's with its exact rank interval. Where a trend stood before the change, each side is
read against that trend, so that a limb which was shrinking anyway does not count for or against the new socket.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise

from plytide.insight.day import DayRecord
from plytide.insight.log import Log
from plytide.insight.periods import Period
from plytide.insight.shape import Compare, Measure
from plytide.insight.stats import hodges_lehmann, kendall, median
from plytide.insight.trend import clock, fit

SETTLING = 3  # days after the change
WINDOW = 28  # local days on either side
LEAST_DAYS = 4
LATEST = 12  # changes, the latest ones
TREND_P, TREND_DAYS = 0.05, 10
Series = Sequence[tuple[int, float]]  # (day number, value)


def _soreness(day: DayRecord) -> float | None:
    """The worst of the day; none at all only on a day that was looked at or felt into, for unlogged is not zero."""
    if day.sore_worst is None:
        return None if day.skin is None and day.comfort is None else 0.0
    return float(day.sore_worst)


# What is compared, one number a day; None on days that do not say.
MEASURES: dict[str, Callable[[DayRecord], float | None]] = {
    "peak": lambda day: day.peak,
    "start": lambda day: day.start,
    "sore": _soreness,
    "comfort": lambda day: day.comfort,
    "worn_h": lambda day: day.worn_h if day.whole else None,
    "mishaps": lambda day: float(day.mishaps) if day.logged else None,
}
WITH_TREND = frozenset({"peak", "start"})


def compare_of(log: Log) -> list[Compare]:
    """The latest changes, newest first, by every measure that either side has days of."""
    changes = [period.first for period in log.periods[-LATEST - 1 :][1:]]
    near = {n for first in changes for n in range(first - WINDOW, first + SETTLING + WINDOW)}
    days = [day for day in log.days if day.number in near and not day.partial and not day.mixed]
    series = {
        name: [(day.number, float(value)) for day in days if (value := read(day)) is not None]
        for name, read in MEASURES.items()
    }
    return by_change(log, series, WITH_TREND)


def by_change(log: Log, series: Mapping[str, Series], with_trend: Container[str] = ()) -> list[Compare]:
    """The latest changes, newest first, each with the named series before and after it."""
    changes = {change.id: change for change in log.items("change")}
    out = []
    for before, after in pairwise(log.periods[-LATEST - 1 :]):
        change = changes[after.change_id or ""]
        measures = [measure(name, values, before, after, name in with_trend) for name, values in series.items()]
        measures = [one for one in measures if one["n_before"] or one["n_after"]]
        out.append(Compare(change_id=change.id, what=change.body["what"], at=change.entry.at, measures=measures))
    return out[::-1]


def measure(name: str, values: Series, before: Period, after: Period, with_trend: bool) -> Measure:
    """One measure on both sides of the change that `after` begins with."""
    first, last = max(before.first, after.first - WINDOW), after.first - 1
    late = min(after.first + SETTLING + WINDOW - 1, after.last or after.first + SETTLING + WINDOW)
    one = tuple((day, value) for day, value in values if first <= day <= last)
    other = tuple((day, value) for day, value in values if after.first + SETTLING <= day <= late)
    shift, low, high = _shift(one, other, after.first, with_trend)
    return Measure(
        name=name, before=_middle(one), after=_middle(other), shift=shift, low=low, high=high, n_before=len(one),
        n_after=len(other),
    )  # fmt: skip


def _middle(values: Series) -> float | None:
    return round(median([value for _, value in values]), 2) if values else None


@lru_cache(maxsize=512)
def _shift(
    one: tuple[tuple[int, float], ...], other: tuple[tuple[int, float], ...], change: int, with_trend: bool
) -> tuple[float | None, float | None, float | None]:
    """The shift with its 95 % interval; None with too few days on a side."""
    if min(len(one), len(other)) < LEAST_DAYS:
        return None, None, None
    slope = _slope(one, change) if with_trend else 0.0
    before, after = (
        [value - slope * (clock(day - change, None) if day > change else day - change) for day, value in side]
        for side in (one, other)
    )
    moved = hodges_lehmann(before, after)
    return round(moved.shift, 2), round(moved.low, 2), round(moved.high, 2)


def _slope(one: Series, change: int) -> float:
    """The slope that stood before the change, 0 where none can be told from chance."""
    days, values = [day - change for day, _ in one], [value for _, value in one]
    if len(one) < TREND_DAYS or kendall(days, values).two_sided >= TREND_P:
        return 0.0
    return fit(days, values).slope
