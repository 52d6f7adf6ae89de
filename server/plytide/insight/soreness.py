"""Is it sorer when ply is low? An observation to take to the clinic, never a cause.

Low means below the wearer's own usual for that hour: the day's ply then, less the median of the seven days round it,
so that ply which rises over months does not count as low at first and high at last.
"""

from __future__ import annotations

from collections.abc import Sequence

from plytide.insight.clock import HOUR_MS, Timed, number
from plytide.insight.log import Log
from plytide.insight.shape import WithPly
from plytide.insight.stats import circular_shift, median, wilson

LEAST_DAYS = 8  # below this even a rate says nothing
LEAST_EACH = 3
P_DAYS = 20  # a p value only from here on
AROUND = 7
RARE = 0.05


def against_ply(log: Log, items: Sequence[Timed]) -> WithPly | None:
    """Days with and without these marks, by whether ply was low at the hour they are usually made.

    None where the present fit has too few days, or too few of either sort, to compare.
    """
    sore_on = {item.date for item in items}
    hours = _hours(log, items)
    if not hours:
        return None
    hour = median(hours)
    first = number(items[0].date) - AROUND
    days = [day for day in log.present if day.number >= first and day.last_h >= hour and day.at(hour) is not None]
    low = lows([day.at(hour) or 0 for day in days])
    sore = [day.date in sore_on for day in days]
    low_days, other_days = sum(low), len(low) - sum(low)
    if len(days) < LEAST_DAYS or min(low_days, other_days) < LEAST_EACH:
        return None
    low_sore = sum(a and b for a, b in zip(low, sore, strict=True))
    other_sore = sum(sore) - low_sore
    p = circular_shift(low, sore)[1] if len(days) >= P_DAYS else None
    ratio = (low_sore / low_days) / (other_sore / other_days) if other_sore else None
    return WithPly(
        low_days=low_days, low_sore=low_sore, low_rate=_rate(low_sore, low_days),
        other_days=other_days, other_sore=other_sore, other_rate=_rate(other_sore, other_days),
        ratio=None if ratio is None else round(ratio, 3), p=None if p is None else round(p, 4),
        words=_words(low_sore, low_days, other_sore, other_days, p),
    )  # fmt: skip


def lows(plies: Sequence[int]) -> list[bool]:
    """Whether each day's ply is below the median of the seven days nearest to it in order."""
    start = max(0, len(plies) - AROUND)
    return [
        ply < median(plies[(begin := max(0, min(index - AROUND // 2, start))) : begin + AROUND])
        for index, ply in enumerate(plies)
    ]


def _hours(log: Log, items: Sequence[Timed]) -> list[float]:
    """Hours from the day's first sign of wear to each mark that was made after it."""
    days = log.last_days(number(log.today) - number(items[0].date) + 1)
    begun = {day.date: day.begun for day in days}
    return [(item.ms - on) / HOUR_MS for item in items if (on := begun.get(item.date)) is not None and item.ms >= on]


def _rate(sore: int, days: int) -> tuple[float, float, float]:
    low, high = wilson(sore, days)
    return round(sore / days, 3), round(low, 3), round(high, 3)


def _words(low_sore: int, low_days: int, other_sore: int, other_days: int, p: float | None) -> str:
    said = (
        f"Sore here on {low_sore} of {low_days} days with less ply than usual by that hour, "
        f"and on {other_sore} of {other_days} other days."
    )
    if p is None:
        return f"{said} Too few days to say more."
    if p <= RARE:
        return f"{said} Chance alone would rarely give this. It is an observation, not a cause: show it to your clinic."
    return f"{said} Chance alone could give this."
