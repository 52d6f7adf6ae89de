"""Sudden shifts of the day's start and peak, fewer hours on the leg, and a change that may not have been logged.

Start and peak are watched by an EWMA (Roberts 1959) of their distance from the level before, the present trend taken
out. A rise means a smaller limb, a fall a bigger one: two different matters. A large fall may also be a new socket that
nobody entered: that is asked, and the history is left whole.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import sqrt

from plytide.insight.clock import named
from plytide.insight.day import DayRecord
from plytide.insight.log import Log
from plytide.insight.shape import Shift
from plytide.insight.stats import ewma, mann_whitney, median
from plytide.insight.trend import CARRY, LEAST_DAYS, fit

WEIGHT = 0.3
BEFORE, LEVEL, LEAST_BEFORE = 28, 14, 7  # days that scatter and slope rest on, that the level does, the fewest
LOOK_BACK = 60  # worn days of the present fit whose shifts are told
READ = LOOK_BACK + BEFORE  # more are read, so that a shift neither comes nor goes by where the reading begins
LIMIT = 3.0  # standard deviations of the EWMA
LEAST_PLY = 1.0
SPREAD_LEAST = 0.6  # whole plies scatter by rounding alone
REST_DAYS = 14  # a shift that was said is not said again for so long
DROP_PLY, DROP_NOW, DROP_BEFORE = 3.0, 3, 7
WEAR_HOURS, WEAR_NOW, WEAR_BEFORE, WEAR_P = 2.0, 7, 28, 0.01
LEAST_NOW, LEAST_WEAR = 4, 10
QUESTION = "Was the socket changed around then? If so, add the change; your earlier days stay as they are."


def shifts_of(log: Log) -> list[Shift]:
    """The shifts within the last worn days of the present fit, oldest first."""
    records = [day for day in log.present[-READ:] if day.peak is not None]
    starts = [(day.number, float(day.start)) for day in records if day.start is not None]
    peaks = [(day.number, float(day.peak)) for day in records if day.peak is not None]
    found = limb_shifts(sorted([*moves(starts), *moves(peaks)]))
    found += [
        Shift(code="unlogged_change", date=named(day), size=round(size, 1), question=QUESTION)
        for day, size in rested(drops(starts, peaks))
    ]
    found += [
        Shift(code="wear_falling", date=named(day), size=round(size, 1), question=None)
        for day, size in rested(fewer_hours(records))
    ]
    return sorted(of_late(found, [day.number for day in records]), key=lambda shift: (shift["date"], shift["code"]))


def of_late(shifts: Sequence[Shift], days: Sequence[int]) -> list[Shift]:
    """The shifts within the last LOOK_BACK of these days."""
    return [shift for shift in shifts if shift["date"] >= named(days[-LOOK_BACK:][0])]


def limb_shifts(moved: Sequence[tuple[int, float]]) -> list[Shift]:
    """Moves of one fitting, said as what they mean for the limb."""
    return [
        Shift(code="limb_smaller" if size > 0 else "limb_bigger", date=named(day), size=round(size, 1), question=None)
        for day, size in rested(moved)
    ]


def moves(values: Sequence[tuple[int, float]]) -> list[tuple[int, float]]:
    """Days on which the EWMA of (day number, value) leaves its limits, with how far away those days are.

    Every day is held against the days before it alone, so that a shift once said is not unsaid by later days. The
    first BEFORE days serve the others: the EWMA has to run in.
    """
    out: list[tuple[int, float]] = []
    away: list[float] = []
    mean, known = 0.0, tuple(values)
    for i in range(LEAST_BEFORE, len(known)):
        day, value = known[i]
        expected, limit = _before(known[max(0, i - BEFORE) : i], day)
        away.append(value - expected)
        [mean] = ewma(away[-1:], WEIGHT, mean)
        if abs(mean) > max(LEAST_PLY, limit):
            clear = [gap for gap in away[-3:] if gap * mean > 0 and abs(gap) >= LEAST_PLY]
            out.append((day, median(clear or [mean])))
            away, mean = [], 0.0
    return out


@lru_cache(maxsize=2048)
def _before(window: tuple[tuple[int, float], ...], day: int) -> tuple[float, float]:
    """What the days before a day, as (day number, value), lead one to expect of it; and the EWMA's limit."""
    slope, carry = 0.0, CARRY
    if window[-1][0] - window[0][0] >= LEAST_DAYS:
        line = fit([n - day for n, _ in window], [value for _, value in window])
        slope, carry = line.slope, line.carry
    level = [value - slope * (n - day) for n, value in window]
    expected = median(level[-LEVEL:])
    scatter = max(SPREAD_LEAST, 1.4826 * median([abs(value - expected) for value in level]))
    keep = (1 - WEIGHT) * carry
    return expected, LIMIT * scatter * sqrt(WEIGHT / (2 - WEIGHT) * (1 + keep) / (1 - keep))


def drops(starts: Sequence[tuple[int, float]], peaks: Sequence[tuple[int, float]]) -> list[tuple[int, float]]:
    """Days whose last starts and peaks both lie so far under those of the week before that a new socket is likely.

    Both lists are of the same days. A limb that swells by the evening, or a few quiet days, lower one of them only.
    """
    out = []
    for end in range(DROP_NOW + DROP_BEFORE, len(peaks) + 1):
        fell = [_fell(values[end - DROP_NOW - DROP_BEFORE : end]) for values in (starts, peaks)]
        if min(fell) >= DROP_PLY:
            out.append((peaks[end - 1][0], -fell[1]))
    return out


def _fell(values: Sequence[tuple[int, float]]) -> float:
    """How far the median of the last DROP_NOW values lies under that of those before."""
    return median([v for _, v in values[:-DROP_NOW]]) - median([v for _, v in values[-DROP_NOW:]])


def fewer_hours(records: Sequence[DayRecord]) -> list[tuple[int, float]]:
    """Days that end a week with clearly fewer hours on the leg than the four weeks before, of days with no gap."""
    worn = [(day.number, day.worn_h) for day in records if day.whole and day.worn_h is not None]
    out = []
    for i, (day, _) in enumerate(worn):
        now = [hours for number, hours in worn[: i + 1] if day - WEAR_NOW < number]
        before = [hours for number, hours in worn[:i] if day - WEAR_NOW - WEAR_BEFORE < number <= day - WEAR_NOW]
        if len(now) < LEAST_NOW or len(before) < LEAST_WEAR or median(before) - median(now) < WEAR_HOURS:
            continue
        if mann_whitney(now, before).greater < WEAR_P:
            out.append((day, median(now) - median(before)))
    return out


def rested(moved: Sequence[tuple[int, float]]) -> list[tuple[int, float]]:
    """Each direction's shifts without those that only say an earlier one again."""
    out: list[tuple[int, float]] = []
    last: dict[bool, int] = {}
    for day, size in moved:
        if size and day - last.get(size > 0, -REST_DAYS) >= REST_DAYS:
            out.append((day, size))
            last[size > 0] = day
    return out
