"""Where the daily peak is heading within the present fit, and when it may reach the ceiling.

The line is robust and held towards "no change" (or, in a limb still young, towards the loss that is usual then); what
the line does not know is spread over many seeded paths, so that the same log always gives the same dates. "No date in
sight" is an answer.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import accumulate, pairwise
from math import exp, floor, log1p, sqrt
from random import Random
from typing import NamedTuple

from plytide.insight.clock import named, number
from plytide.insight.log import Log
from plytide.insight.shape import AtDelivery, Heading, Reach, Silent, Trend
from plytide.insight.stats import lag1, normal_quantile, theil_sen_line
from plytide.insight.words import chance, days

LOOK_BACK = 60  # local days
LEAST_DAYS, LEAST_SPAN = 5, 5
HORIZON = 180
SOON, LIKELY = 90, 0.5  # a rise is worth telling when this chance or more says that so many days reach the ceiling
WEEK, MOST = 7, 4  # the ceiling is reached on the first day on which most days of a week were at it
NOISE, NOISE_DAYS = 0.5, 4  # day-to-day variance believed before the log says, and how many days that counts
CARRY, CARRY_DAYS = 0.6, 15  # the same for the correlation of neighbouring days
SLOPE_SD = 0.05  # ply a day
WANDER = 0.05  # ply per root day: the level's own random walk
DAMP = 120.0  # days over which a slope wears off when nothing is known of the amputation
# A limb loses about 9.7 % of its first volume per natural-log unit of weeks (Tantua et al. 2014); 3.2 ply stand for it.
LOSS = 3.2
PAIRS = 200  # paths, each with its mirror image
QUANTILES = 1000


class Fit(NamedTuple):
    """The line: level on day 0 (today), slope in ply a day, their variances, the days' own variance and carry-over."""

    level: float
    slope: float
    level_var: float
    cov: float
    slope_var: float
    noise: float
    carry: float


def fit(x: Sequence[float], y: Sequence[float], weeks: float | None = None) -> Fit:
    """The line through peaks y on days x before today; `weeks` since the amputation where known."""
    n = len(x)
    raw, middle = theil_sen_line(x, y)
    residuals = [b - raw * a - middle for a, b in zip(x, y, strict=True)]
    noise = (sum(value * value for value in residuals) + NOISE * NOISE_DAYS) / (n - 2 + NOISE_DAYS)
    carry = (n * lag1(residuals) + CARRY_DAYS * CARRY) / (n + CARRY_DAYS)
    inflated = noise * (1 + carry) / (1 - carry)
    mean = sum(x) / n
    seen = inflated / sum((a - mean) ** 2 for a in x)
    expected, sd = (0.0, SLOPE_SD) if weeks is None else (LOSS / (7 * weeks) / 2, LOSS / (7 * weeks) + 0.015)
    slope_var = 1 / (1 / seen + 1 / sd**2)
    slope = slope_var * (raw / seen + expected / sd**2)
    # The level is known best in the middle of the days; from there the slope carries it to today.
    level = middle + raw * mean - slope * mean
    return Fit(level, slope, inflated / n + mean**2 * slope_var, -mean * slope_var, slope_var, noise, carry)


def clock(t: float, weeks: float | None) -> float:
    """The slope's own days after t days: change slows down, in a young limb by the logarithm of its age."""
    return DAMP * (1 - exp(-t / DAMP)) if weeks is None else 7 * weeks * log1p(t / (7 * weeks))


@lru_cache(maxsize=256)
def reached(line: Fit, ceiling: int, before: tuple[int, ...], weeks: float | None = None) -> tuple[int, ...]:
    """On which day from today (0) on each path reaches the ceiling, sorted; HORIZON + 1 stands for never.

    `before`: those of the last six days (-6 to -1) that peaked at the ceiling.
    """
    course = [clock(t, weeks) for t in range(HORIZON + 1)]
    root = sqrt(line.slope_var)
    lean = line.cov / root
    rest = sqrt(max(line.level_var - lean * lean, 0.0))
    carry, fresh = line.carry, sqrt(1 - line.carry**2)
    scale = sqrt(line.noise) * fresh
    out = []
    for first, second, shocks, wander in _DRAWS:
        first_day = last = shocks[0] / fresh  # as far out as any day, not only by what is fresh on it
        noise = [first_day, *(last := carry * last + shock for shock in shocks[1:])]
        swing = [walk + scale * each for walk, each in zip(wander, noise, strict=True)]
        for sign, furthest in ((1.0, max(swing)), (-1.0, -min(swing))):
            slope = line.slope + sign * root * first
            short = ceiling - 0.5 - line.level - sign * (lean * first + rest * second)
            if max(0.0, slope * course[-1]) + furthest < short:
                out.append(HORIZON + 1)  # not on any day
                continue
            there = [t for t, (c, s) in enumerate(zip(course, swing, strict=True)) if slope * c + sign * s >= short]
            out.append(first_week((*before, *there)))
    return tuple(sorted(out))


def first_week(there: Sequence[int]) -> int:
    """The first day that ends a week with most of its days among these."""
    pairs = zip(there, there[MOST - 1 :], strict=False)
    return next((last for first, last in pairs if last - first < WEEK), HORIZON + 1)


def _drawn() -> tuple[tuple[float, float, list[float], list[float]], ...]:
    """The same standard normal draws for every log: slope, level, each day's shock; and the level's own walk.

    With their mirror images the slopes are evenly spread, and so are the levels; the rest is picked from a table of
    the normal's quantiles, which is much faster than drawing each by itself.
    """
    normal = [normal_quantile((n + 0.5) / QUANTILES) for n in range(QUANTILES)]
    levels = [normal_quantile((n + 0.5) / PAIRS) for n in range(PAIRS)]
    random, weekly_sd = Random(12345), WANDER * sqrt(WEEK)
    random.shuffle(levels)
    out = []
    for n, level in enumerate(levels):
        slope = normal_quantile(0.5 + (n + 0.5) / (2 * PAIRS))
        shocks = random.choices(normal, k=HORIZON + 1)
        steps = random.choices(normal, k=HORIZON // WEEK + 1)
        walk = list(accumulate((weekly_sd * step for step in steps), initial=0.0))
        wander = [a + (b - a) * part / WEEK for a, b in pairwise(walk) for part in range(WEEK)][: HORIZON + 1]
        out.append((slope, level, shocks, wander))
    return tuple(out)


_DRAWS = _drawn()  # with the module, once for all logs


def trend_of(log: Log) -> Trend | Silent:
    """The trend of the daily peak in the present fit, with the ceiling's dates."""
    today, weeks, ceiling = number(log.today), _weeks(log), int(log.profile["ply_ceiling"])
    known = lately(_peaks(log), today)
    if not _enough(known):
        return _few(known)
    line = _line(known, today, weeks)
    paths = _paths(known, today, line, ceiling, weeks)
    first, middle, last = (_date(today, paths, share) for share in (0.1, 0.5, 0.9))
    wait = round(7 * (log.profile["weeks_to_appointment"] + log.profile["weeks_to_socket"]))
    part = Trend(
        **_heading(known, line), ceiling=ceiling,
        reach=None if first is None else Reach(p10=first, p50=middle, p90=last),
        chance={str(n): round(_within(paths, n), 4) for n in (30, 90, HORIZON)},
        book_by=None if first is None else named(max(today, number(first) - wait)),
        at_delivery=_at_delivery(log, line, weeks),
    )  # fmt: skip
    part["words"] = f"{part['words']} {_ceiling_words(part, len(paths) == 1)}"
    return part


def heading_of(log: Log, values: Sequence[tuple[int, float]]) -> Heading | Silent:
    """Where one number a day, as (day number, value) of the present fit, is heading."""
    known = lately(values, number(log.today))
    return _heading(known, _line(known, number(log.today), _weeks(log))) if _enough(known) else _few(known)


def rise_of(log: Log, days: int) -> tuple[Heading, str] | None:
    """A rise by more than chance that more likely than not reaches the ceiling within SOON days, as of the latest of
    the last `days` days on which there was one, and that rise's last day; None where there was none.

    Each day is judged by the days before it alone. Where even the likeliest course ends far below the ceiling, the
    paths need not be asked.
    """
    ceiling, peaks = int(log.profile["ply_ceiling"]), _peaks(log)
    for today in range(number(log.today), number(log.today) - days, -1):
        known = lately(peaks, today)
        if not _enough(known):
            return None
        weeks = _weeks(log, today)
        line = _line(known, today, weeks)
        heading = _heading(known, line)
        likeliest = line.level + line.slope * clock(SOON, weeks) + 2 * sqrt(line.noise)
        if heading["low"] <= 0 or likeliest < ceiling - 0.5:
            continue
        if _within(_paths(known, today, line, ceiling, weeks), SOON) >= LIKELY:
            return heading, named(known[-1][0])
    return None


def lately(values: Sequence[tuple[int, float]], today: int) -> list[tuple[int, float]]:
    """Those of the last LOOK_BACK days before a day."""
    return [(day, value) for day, value in values if today - LOOK_BACK <= day < today]


def _peaks(log: Log) -> list[tuple[int, float]]:
    return [(day.number, float(day.peak)) for day in log.present[-2 * LOOK_BACK :] if day.peak is not None]


def _paths(
    known: Sequence[tuple[int, float]], today: int, line: Fit, ceiling: int, weeks: float | None
) -> tuple[int, ...]:
    """The day on which each path reaches the ceiling; today alone where most days of the week before were at it."""
    before = tuple(day - today for day, peak in known if peak >= ceiling and day >= today - WEEK)
    return (0,) if len(before) >= MOST else reached(line, ceiling, tuple(d for d in before if d > -WEEK), weeks)


def _within(paths: Sequence[int], days: int) -> float:
    """The share of paths that reach the ceiling within some days."""
    return sum(day <= days for day in paths) / len(paths)


def _enough(known: Sequence[tuple[int, float]]) -> bool:
    return len(known) >= LEAST_DAYS and known[-1][0] - known[0][0] >= LEAST_SPAN


def _few(known: Sequence[object]) -> Silent:
    least = f"{LEAST_DAYS} over {days(LEAST_SPAN + 1)}"
    return Silent(
        reason=f"Not enough days yet: {days(len(known))} with this fit, {least} are needed.",
        code="few_days", days=len(known),
    )  # fmt: skip


def _line(known: Sequence[tuple[int, float]], today: int, weeks: float | None) -> Fit:
    return _fitted(tuple((day - today, value) for day, value in known), weeks)


@lru_cache(maxsize=256)  # the days before today do not change with every entry of today
def _fitted(known: tuple[tuple[int, float], ...], weeks: float | None) -> Fit:
    return fit([day for day, _ in known], [value for _, value in known], weeks)


def _heading(known: Sequence[tuple[int, float]], line: Fit) -> Heading:
    wide = normal_quantile(0.975) * sqrt(line.slope_var)
    pace, low, high = (round(7 * value, 3) for value in (line.slope, line.slope - wide, line.slope + wide))
    said = "No clear rise or fall."
    if low > 0 or high < 0:
        said = f"{'Rising' if pace > 0 else 'Falling'} by about {abs(pace):.1f} a week."
    return Heading(
        since=named(known[0][0]), basis_days=len(known), per_week=pace, low=low, high=high,
        level=round(line.level, 2), words=said,
    )  # fmt: skip


def _at_delivery(log: Log, line: Fit, weeks: float | None) -> AtDelivery:
    ahead = round(7 * log.profile["weeks_to_socket"])
    low, middle, high = expected_at(line, ahead, weeks)
    return AtDelivery(date=named(number(log.today) + ahead), p10=low, p50=middle, p90=high)


def expected_at(line: Fit, t: int, weeks: float | None) -> tuple[int, int, int]:
    """The peak ply to expect t days ahead: 10, 50 and 90 in 100 of what line, walk and day together give."""
    g = clock(t, weeks)
    mean = line.level + line.slope * g
    spread = sqrt(line.level_var + 2 * g * line.cov + g * g * line.slope_var + WANDER**2 * t + line.noise)
    low, middle, high = (max(0, floor(mean + spread * normal_quantile(p) + 0.5)) for p in (0.1, 0.5, 0.9))
    return low, middle, high


def _date(today: int, paths: Sequence[int], share: float) -> str | None:
    day = paths[max(0, floor(share * len(paths) + 0.5) - 1)]
    return named(today + day) if day <= HORIZON else None


def _weeks(log: Log, today: int | None = None) -> float | None:
    """Weeks since the amputation as of a day, None where it is not known or does not lie before that day."""
    when = log.limb["amputated_on"] if log.limb is not None else None
    since = (number(log.today) if today is None else today) - number(when) if when else 0
    return since / 7 if since > 0 else None


def _ceiling_words(part: Trend, already: bool) -> str:
    """What to say of the ceiling: reached, a chance, or no date in sight."""
    ceiling = f"{part['ceiling']} ply"
    if already:
        return f"At {ceiling} on most days of the last week."
    if part["reach"] is None:
        return f"No date in sight for {ceiling}."
    return f"Chance of {ceiling} on most days of a week within 90 days: {chance(part['chance']['90'])}."
