"""The peak of the day, given all that is known now, and tomorrow's.

Today: how much further earlier days of this fit went up from the same hour on, drawn to where today stands, recent
days counting more. Tomorrow: how far days lately peaked from the level around them, set on the level now. Both are
chances over whole plies, so that an interval can say the mass it really holds.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from math import exp, floor

from plytide.insight.clock import HOUR_MS, named, number
from plytide.insight.day import DayRecord
from plytide.insight.log import Log
from plytide.insight.shape import Forecast, Interval, Silent
from plytide.insight.words import chance, days, share

LEAST_DAYS, NORMAL_DAYS = 3, 10
LOOK_BACK = 100  # days of wear; older ones would weigh next to nothing
HALF_LIFE = 28.0  # days until an earlier day counts half
DRAW = 0.35  # share of today's distance from an earlier day that is expected to close again, until the log knows
DRAW_TRUST = 6.0  # how much spread (plies squared) the log has to show before its own share counts as much
LEVEL_HALF, LEVEL_LOOK = 7.0, 60  # tomorrow: days until a day counts half in the level, and how far back to look
LAST = 30  # forecasts whose hits are counted
HIT_HOUR = 2.0  # hours since donning at which the counted forecasts of today are made
EVENING_H = 8.0  # hours since donning from which a running day tells enough about tomorrow
PLY_TOP = 80

Chances = list[float]  # by whole ply, from 0
Forecaster = Callable[
    [Sequence[DayRecord]], Callable[[int], Chances | None]
]  # for each of some days, from those before


def further_rise(
    earlier: Sequence[DayRecord], today: int, hour: float, ply: int, learn: bool = True
) -> tuple[Chances, int]:
    """Chances of 0, 1, 2… plies more than `ply` from this hour since donning on, and how many days they rest on.

    `earlier` are finished days of the same fit, `today` a day number. One pseudo-day keeps a small chance on what has
    not been seen yet. Once there are days enough, how strongly they are drawn to today is learnt from them (`learn`).
    """
    return _risen([_rise(day, hour) for day in earlier[-LOOK_BACK:]], today, hour, ply, learn)


Rise = tuple[int, int, int]  # of one day: its number, the ply at some hour, how much further it rose


def _rise(day: DayRecord, hour: float) -> Rise | None:
    """None for a day that was not worn past this hour."""
    here, peak = day.at(hour), day.peak_from(hour)
    return None if here is None or peak is None or day.last_h <= hour else (day.number, here, peak - here)


def _risen(rises: Sequence[Rise | None], today: int, hour: float, ply: int, learn: bool) -> tuple[Chances, int]:
    seen = [(here, more, 0.5 ** ((today - day) / HALF_LIFE)) for day, here, more in filter(None, rises)]
    draw = _draw(seen) if learn and len(seen) >= NORMAL_DAYS else DRAW
    chances = [0.0] * (PLY_TOP + 1)
    for here, rise, weight in seen:
        _put(chances, rise - draw * (ply - here), weight)
    mean = 1.5 * exp(-hour / 6)
    ratio = mean / (1 + mean)
    for more in range(PLY_TOP + 1):
        chances[more] += (1 - ratio) * ratio**more
    return _whole(chances), len(seen)


def _draw(seen: Sequence[tuple[int, int, float]]) -> float:
    """How strongly a high hour is followed by less rise in this wearer's own days: a slope held towards DRAW."""
    total = sum(weight for _, _, weight in seen)
    ply = sum(here * weight for here, _, weight in seen) / total
    rise = sum(more * weight for _, more, weight in seen) / total
    square = sum(weight * (here - ply) ** 2 for here, _, weight in seen)
    product = sum(weight * (here - ply) * (more - rise) for here, more, weight in seen)
    return min(1.0, max(0.0, (DRAW * DRAW_TRUST - product) / (DRAW_TRUST + square)))


def next_peak(earlier: Sequence[DayRecord], coming: int) -> tuple[Chances, int]:
    """Chances of each peak ply on the coming day number, and how many days they rest on (at least 2 given)."""
    known = [(day.number, float(day.peak)) for day in earlier[-LEVEL_LOOK:] if day.peak is not None]
    numbers, peaks = [day for day, _ in known], [peak for _, peak in known]
    chances = [0.0] * (PLY_TOP + 1)
    level = _levels(numbers, peaks, coming)
    for i, (day, peak) in enumerate(known):
        _put(chances, level[-1] + peak - level[i], 0.5 ** ((coming - day) / (2 * LEVEL_HALF)))
    for away, weight in ((-2, 0.1), (-1, 0.2), (0, 0.4), (1, 0.2), (2, 0.1)):
        _put(chances, level[-1] + away, weight)
    return _whole(chances), len(known)


def _levels(numbers: Sequence[int], values: Sequence[float], coming: int) -> list[float]:
    """The level round each day, itself left out, nearer days counting more; last, the level that leads to `coming`."""
    ahead = _swept(numbers, values)
    back = _swept([-n for n in reversed(numbers)], list(reversed(values)))[::-1]
    around = [(a[0] + b[0]) / (a[1] + b[1]) for a, b in zip(ahead, back, strict=True)]
    fade = 0.5 ** ((coming - numbers[-1]) / LEVEL_HALF)
    total, weight = ahead[-1][0] + values[-1], ahead[-1][1] + 1.0
    return [*around, total * fade / (weight * fade)]


def _swept(numbers: Sequence[int], values: Sequence[float]) -> list[tuple[float, float]]:
    """For each day the weighted sum and weight of the days before it in this order."""
    out: list[tuple[float, float]] = []
    total = weight = 0.0
    for i, value in enumerate(values):
        fade = 0.5 ** ((numbers[i] - numbers[i - 1]) / LEVEL_HALF) if i else 1.0
        total, weight = total * fade, weight * fade
        out.append((total, weight))
        total, weight = total + value, weight + 1.0
    return out


def today_at(log: Log) -> Forecast | Silent:
    """Today's peak: from the hour and ply that today stands at, or like tomorrow's while the leg has not been on."""
    today = log.day(log.today)
    earlier = log.present
    if today is None or today.begun is None or today.end is None or today.peak is None:
        return _from_peaks(log, earlier, number(log.today))
    hour = (log.ms - today.begun) / HOUR_MS
    rises, basis = further_rise(earlier, today.number, hour, today.end)
    if basis < LEAST_DAYS <= len(earlier):
        return Silent(reason="Too few of your days lasted as long as today to go by.", code="late", days=basis)
    if basis < LEAST_DAYS:
        return _few(basis)
    peaks = [0.0] * today.end + rises
    so_far = today.peak
    peaks = [0.0] * so_far + [sum(peaks[: so_far + 1])] + peaks[so_far + 1 :]
    return _shaped(today.number, peaks, 1 - rises[0], basis, _hits(earlier, _rest_of_day))


def tomorrow_of(log: Log) -> Forecast | Silent:
    """Tomorrow's peak. A running day counts from the evening on."""
    today = log.day(log.today)
    earlier = list(log.present)
    if today is not None and today.partial and today.last_h >= EVENING_H and not today.mixed:
        earlier.append(today)
    return _from_peaks(log, earlier, number(log.today) + 1)


def _from_peaks(log: Log, earlier: Sequence[DayRecord], coming: int) -> Forecast | Silent:
    known = [day for day in earlier[-LEVEL_LOOK:] if day.peak is not None]
    if len(known) < LEAST_DAYS:
        return _few(len(known))
    peaks, basis = next_peak(known, coming)
    first = known[-1].start or 0
    more = sum(peaks[first + 1 :])
    return _shaped(coming, peaks, more, basis, _hits(log.present, _whole_day))


def _few(basis: int) -> Silent:
    return Silent(
        reason=f"Not enough days yet: {days(basis)} with this fit, {LEAST_DAYS} are needed.",
        code="few_days", days=basis,
    )  # fmt: skip


def _rest_of_day(known: Sequence[DayRecord]) -> Callable[[int], Chances | None]:
    """The forecast of a day's peak that would have been made HIT_HOUR after donning."""
    rises = [_rise(day, HIT_HOUR) for day in known]

    def made(index: int) -> Chances | None:
        today = rises[index]
        if today is None:
            return None
        more, basis = _risen(rises[max(0, index - LOOK_BACK) : index], today[0], HIT_HOUR, today[1], learn=True)
        return [0.0] * today[1] + more if basis >= LEAST_DAYS else None

    return made


def _whole_day(known: Sequence[DayRecord]) -> Callable[[int], Chances | None]:
    """The forecast of a day's peak that would have been made the day before."""
    return lambda index: next_peak(known[max(0, index - LOOK_BACK) : index], known[index].number)[0]


def _hits(earlier: Sequence[DayRecord], forecast: Forecaster) -> tuple[int, int]:
    """Of the last forecasts, each made from the days before it alone, how many named the peak in their likely range."""
    known = [day for day in earlier if day.peak is not None]
    return _counted(tuple(known[-LAST - LOOK_BACK :]), forecast)


@lru_cache(maxsize=64)  # finished days do not change with every entry of today
def _counted(known: tuple[DayRecord, ...], forecast: Forecaster) -> tuple[int, int]:
    hits = made = 0
    made_for = forecast(known)
    for index in range(len(known) - 1, LEAST_DAYS - 1, -1):
        day = known[index]
        chances = made_for(index)
        if chances is None:
            continue
        peak = day.peak_from(HIT_HOUR) if forecast is _rest_of_day else day.peak
        made += 1
        hits += peak is not None and least(chances, 0.25) <= peak <= least(chances, 0.75)
        if made == LAST:
            break
    return hits, made


def _shaped(day: int, peaks: Chances, more: float, basis: int, hits: tuple[int, int]) -> Forecast:
    at = {f"p{round(100 * mass):02d}": least(peaks, mass) for mass in (0.05, 0.25, 0.5, 0.75, 0.95)}
    return Forecast(
        date=named(day), peak=at, likely=_interval(peaks, at["p25"], at["p75"]),
        wide=_interval(peaks, at["p05"], at["p95"]), more=round(more, 4), more_words=chance(more), basis_days=basis,
        grade="normal" if basis >= NORMAL_DAYS else "rough", hits=hits,
    )  # fmt: skip


def _interval(chances: Chances, low: int, high: int) -> Interval:
    mass = sum(chances[low : high + 1])
    return Interval(low=low, high=high, mass=round(mass, 4), words=share(mass))


def least(chances: Chances, mass: float) -> int:
    """The first ply whose chances up to it reach `mass`."""
    total = 0.0
    for ply, value in enumerate(chances):
        total += value
        if total >= mass - 1e-12:
            return ply
    return len(chances) - 1


def _put(chances: Chances, value: float, weight: float) -> None:
    """Adds a weight at a value (not below 0), split between its two whole neighbours."""
    value = min(max(0.0, value), PLY_TOP - 1.0)
    low = floor(value)
    part = value - low
    chances[low] += weight * (1 - part)
    chances[low + 1] += weight * part


def _whole(chances: Chances) -> Chances:
    total = sum(chances)
    return [value / total for value in chances]
