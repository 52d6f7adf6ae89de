"""The days of a period in bins that fit a page: days up to nine weeks, then weeks, then months.

A bin of several days shows its middle day (the median) and counts the days that were logged; a day without a log adds
nothing, so a bin without a logged day stays empty.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from statistics import fmean, median
from typing import Literal

from plytide.insight.shape import DaySummary

Unit = Literal["day", "week", "month"]

DAYS_MAX = 63
WEEKS_MAX = 80 * 7
AVERAGE_REACH = 4  # days to each side of the 9-day average


@dataclass(frozen=True, slots=True)
class Bin:
    """One column of the figure and one row of the table. Dates inclusive; None where nothing was logged."""

    first: date
    last: date
    days: list[DaySummary]
    start: float | None
    peak: float | None
    worn_h: float | None
    comfort: float | None
    sore: int | None
    partial: bool

    @property
    def logged(self) -> int:
        return sum(d["logged"] for d in self.days)

    def middle_of(self, by_day: Mapping[str, float]) -> float | None:
        """The middle of what a day of this bin has; None where none has anything."""
        known = [by_day[d["date"]] for d in self.days if d["date"] in by_day]
        return median(known) if known else None


def unit_of(first: date, last: date) -> Unit:
    """How finely a period is shown."""
    length = (last - first).days + 1
    return "day" if length <= DAYS_MAX else "week" if length <= WEEKS_MAX else "month"


def bins(days: Iterable[DaySummary], first: date, last: date) -> list[Bin]:
    """The period in order, without holes: a bin for every day, week or month in it."""
    unit = unit_of(first, last)
    by_start: dict[date, list[DaySummary]] = {}
    for day in days:
        that = date.fromisoformat(day["date"])
        if first <= that <= last:
            by_start.setdefault(_begin(that, unit), []).append(day)
    made, at = [], _begin(first, unit)
    while at <= last:
        after = _next(at, unit)
        made.append(_bin(max(at, first), min(after - timedelta(days=1), last), by_start.get(at, [])))
        at = after
    return made


def averages(column: Sequence[Bin], name: Literal["start", "peak"]) -> list[float | None]:
    """Nine-day averages; a day that is not over has no say in the peak, and an empty stretch has no average."""
    values = [None if name == "peak" and b.partial else getattr(b, name) for b in column]
    found: list[float | None] = []
    for i in range(len(values)):
        near = [v for v in values[max(0, i - AVERAGE_REACH) : i + AVERAGE_REACH + 1] if v is not None]
        found.append(fmean(near) if near else None)
    return found


def ends(days: Iterable[DaySummary], name: Literal["start", "peak"], reach: int = 7) -> tuple[float, float] | None:
    """The mean of the first and of the last `reach` logged days; nothing under twice as many days as `reach` is long.

    A day that is not over has no say, because its peak may still come.
    """
    values = [v for d in days if not d["partial"] and (v := d[name]) is not None]
    if len(values) < 2 * reach:
        return None
    return fmean(values[:reach]), fmean(values[-reach:])


def mean_of(values: Iterable[float | None]) -> float | None:
    """The mean of what is there, or None."""
    known = [v for v in values if v is not None]
    return fmean(known) if known else None


def _bin(first: date, last: date, days: list[DaySummary]) -> Bin:
    def middle(name: Literal["start", "peak", "worn_h", "comfort"]) -> float | None:
        known = [v for d in days if (v := d[name]) is not None]
        return median(known) if known else None

    sores = [d["sore_worst"] for d in days if d["sore_worst"] is not None]
    return Bin(first, last, days, middle("start"), middle("peak"), middle("worn_h"), middle("comfort"),
               max(sores, default=None), len(days) == 1 and days[0]["partial"])  # fmt: skip


def _begin(that: date, unit: Unit) -> date:
    """The first day of the bin that `that` falls in; weeks begin on Monday."""
    if unit == "week":
        return that - timedelta(days=that.weekday())
    return that.replace(day=1) if unit == "month" else that


def _next(that: date, unit: Unit) -> date:
    if unit == "month":
        return (that.replace(day=28) + timedelta(days=7)).replace(day=1)
    return that + timedelta(days=7 if unit == "week" else 1)
