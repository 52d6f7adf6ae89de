"""Scores of forecasts on synthetic wearers, beside naive rivals. Weighted interval scores: lower is better."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from random import Random
from statistics import fmean

from insight import wearers
from plytide.insight import Reading, forecast, trend
from plytide.insight.day import DayRecord
from plytide.insight.log import Log
from plytide.insight.stats import median, quantile

LEVELS = (0.05, 0.25, 0.5, 0.75, 0.95)
HOURS = (1.0, 4.0, 8.0)  # since donning, at which the rest of the day is forecast
BINS = ((3, 4), (5, 7), (8, 13), (14, 27), (28, 10**6))
Table = dict[str, dict[str, float]]


def records(wearer: wearers.Wearer) -> Log:
    """The log of a wearer's whole time, every day of it over."""
    reading = Reading()
    reading.take(wearers.entries(wearer))
    end = datetime.combine(wearers.START, datetime.min.time(), UTC) + timedelta(days=wearer.days + 1, hours=12)
    return reading.logs(end)[0]["left"]


def pinball(quantiles: Sequence[float], seen: float) -> float:
    """The mean pinball loss over LEVELS; twice that is the weighted interval score (Bracher et al. 2021)."""
    return fmean((seen - q) * p if seen >= q else (q - seen) * (1 - p) for p, q in zip(LEVELS, quantiles, strict=True))


def bin_of(days: int) -> str:
    """The bin of a number of days of history."""
    low, high = next(one for one in BINS if one[0] <= days <= one[1])
    return f"{low}+" if high > 1000 else f"{low}-{high}"


def calibrated(pits: Sequence[float]) -> tuple[float, float]:
    """The share of randomised PIT values inside the middle half, and inside the middle nine tenths."""
    return fmean(0.25 <= p <= 0.75 for p in pits), fmean(0.05 <= p <= 0.95 for p in pits)


@dataclass
class Scores:
    """Mean weighted interval scores by days of history and method; PIT values; hits of the likely interval."""

    today: Table
    tomorrow: Table
    pit_today: list[float] = field(default_factory=list)
    pit_tomorrow: list[float] = field(default_factory=list)


def forecasts(logs: Iterable[Log]) -> Scores:
    """Every day of every fit period forecast from the days before it: the rest of the day, and the day before."""
    today: dict[str, dict[str, list[float]]] = defaultdict(lambda: defaultdict(list))
    tomorrow: dict[str, dict[str, list[float]]] = defaultdict(lambda: defaultdict(list))
    scores, r = Scores({}, {}), Random(5)
    for log in logs:
        for period in log.periods:
            days = [day for day in period.days if day.peak is not None]
            for index in range(forecast.LEAST_DAYS, len(days)):
                day, earlier = days[index], days[:index]
                chances, basis = forecast.next_peak(earlier, day.number)
                scores.pit_tomorrow.append(_pit(chances, day.peak or 0, r))
                _add(tomorrow[bin_of(basis)], chances, [d.peak or 0 for d in earlier], day.peak or 0, 0)
                for hour in HOURS:
                    _rest(today, scores, day, earlier, hour, r)
    scores.today, scores.tomorrow = _means(today), _means(tomorrow)
    return scores


def _rest(today, scores: Scores, day: DayRecord, earlier: Sequence[DayRecord], hour: float, r: Random) -> None:
    here, seen = day.at(hour), day.peak_from(hour)
    if here is None or seen is None or day.last_h <= hour:
        return
    rises, basis = forecast.further_rise(earlier, day.number, hour, here)
    if basis < forecast.LEAST_DAYS:
        return
    scores.pit_today.append(_pit(rises, seen - here, r))
    before = [peak for d in earlier if d.last_h > hour and (peak := d.peak_from(hour)) is not None]
    into = today[bin_of(basis)]
    _add(into, [0.0] * here + rises, before, seen, here)
    fixed, _ = forecast.further_rise(earlier, day.number, hour, here, learn=False)
    into["with a fixed draw"].append(2 * pinball([here + forecast.least(fixed, p) for p in LEVELS], seen))


def _add(into, chances: Sequence[float], before: Sequence[int], seen: int, least: int) -> None:
    into["plytide"].append(2 * pinball([forecast.least(list(chances), p) for p in LEVELS], seen))
    into["all earlier days"].append(2 * pinball([max(least, quantile(sorted(before), p)) for p in LEVELS], seen))
    into["yesterday"].append(2 * pinball([max(least, before[-1])] * len(LEVELS), seen))


def _pit(chances: Sequence[float], seen: int, r: Random) -> float:
    return sum(chances[:seen]) + r.random() * chances[seen]


def _means(bins) -> Table:
    order = [bin_of(low) for low, _ in BINS]
    return {name: {how: fmean(values) for how, values in bins[name].items()} for name in order if name in bins}


@dataclass
class Ceilings:
    """By days of history: mean pinball in days of ours and of a least-squares line, and our 90 % interval's cover."""

    pinball: dict[int, list[float]] = field(default_factory=lambda: defaultdict(list))
    line: dict[int, list[float]] = field(default_factory=lambda: defaultdict(list))
    covered: dict[int, list[bool]] = field(default_factory=lambda: defaultdict(list))
    early: list[bool] = field(default_factory=list)
    rival: dict[int, list[float]] = field(default_factory=lambda: defaultdict(list))


Simulation = Callable[[trend.Fit, int, Sequence[int], float | None], Sequence[int]]


def ceilings(seeds: Iterable[int], spans: Sequence[int] = (7, 14, 28, 60), rival: Simulation | None = None) -> Ceilings:
    """The day a ceiling is reached, forecast from spans of history and seen in the wearer's further days.

    Days that lie beyond the horizon count as the horizon, for the forecast and for what came. `rival`: another way to
    the same paths, scored beside ours.
    """
    out = Ceilings()
    for seed in seeds:
        r = Random(seed)
        kind = r.choice(["drifting", "drifting", "early", "stable"])
        wearer = replace(wearers.draw(seed, 310, kind), lost_days=0.0)
        peaks = {day.number: day.peak for day in records(wearer).days if day.peak is not None}
        for span in spans:
            _ceiling(out, wearer, peaks, span, r, rival)
    return out


def _ceiling(
    out: Ceilings, wearer: wearers.Wearer, peaks: dict[int, int], span: int, r: Random, rival: Simulation | None
) -> None:
    today = min(peaks) + span + r.randint(0, 40)
    known = [(n, float(peak)) for n, peak in peaks.items() if today - span <= n < today and r.random() > 0.08]
    if len(known) < trend.LEAST_DAYS or known[-1][0] - known[0][0] < trend.LEAST_SPAN:
        return
    ceiling = int(median([peak for _, peak in known[-7:]]) + r.choice([1, 2, 3, 4]))
    before = [n - today for n, peak in known if peak >= ceiling and n >= today - trend.WEEK]
    if len(before) >= trend.MOST:
        return
    there = [n - today for n in range(today - trend.WEEK + 1, today + trend.HORIZON + 1) if peaks.get(n, -1) >= ceiling]
    seen = min(trend.HORIZON, trend.first_week(there))
    weeks = None if wearer.weeks is None else wearer.weeks + (today - min(peaks)) / 7
    x, y = [n - today for n, _ in known], [peak for _, peak in known]
    line, lately = trend.fit(x, y, weeks), tuple(d for d in before if d > -trend.WEEK)
    asked = _asked(trend.reached(line, ceiling, lately, weeks))
    if rival is not None:
        out.rival[span].append(pinball(_asked(rival(line, ceiling, lately, weeks)), seen))
    covered = asked[0] <= seen <= asked[-1]
    out.pinball[span].append(pinball(asked, seen))
    out.covered[span].append(covered)
    out.line[span].append(pinball([_line(x, y, ceiling)] * len(LEVELS), seen))
    if weeks is not None:
        out.early.append(covered)


def _asked(paths: Sequence[int]) -> list[float]:
    return [min(trend.HORIZON, paths[max(0, round(p * len(paths)) - 1)]) for p in LEVELS]


def _line(x: Sequence[float], y: Sequence[float], ceiling: int) -> float:
    """When an ordinary least-squares line crosses the ceiling."""
    mean_x, mean_y = fmean(x), fmean(y)
    slope = sum((a - mean_x) * (b - mean_y) for a, b in zip(x, y, strict=True)) / sum((a - mean_x) ** 2 for a in x)
    if slope <= 0:
        return trend.HORIZON
    return min(float(trend.HORIZON), max(0.0, (ceiling - 0.5 - mean_y) / slope + mean_x))
