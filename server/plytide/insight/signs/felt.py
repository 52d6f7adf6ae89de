"""Signs in what is felt: the same spot sore again, pressure that ply does not cure, comfort down, soreness up.

Sizes of change are the published ones; a change of soreness must besides stand out from the wearer's own ordinary
scatter, for 30 in 100 of a small number is soon reached by chance.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import partial
from statistics import fmean, variance

from plytide.insight.clock import Timed, number
from plytide.insight.log import Log
from plytide.insight.rules import filled, rules
from plytide.insight.signs.found import BACK_DAYS, Found, begins, dates, ids, ply_rises, run_of, run_of_days, within
from plytide.insight.spots import groups
from plytide.insight.surface import Surface
from plytide.insight.words import on_day

WEEK, BEFORE = 7, 28  # a week's average against the four weeks before it
LEAST_NOW, LEAST_BEFORE = 3, 5  # days with an answer
COMFORT_POINTS, COMFORT_POSSIBLE, COMFORT_STAYS = 3.0, 2.0, 1.0  # it goes on while it is down by the next smaller
PAIN_POINTS, PAIN_SHARE = 2.0, 0.30
ERRORS = 2.0  # standard errors that a change of soreness must stand out by
SPOT_WINDOW, SPOT_DAYS = 14, 3  # "several days"
DEEP = ("kneecap_lower", "kneecap", "groin", "crotch")
DEEP_DAYS = 2
ADDED_HOURS = 12.0


def stand(log: Log) -> list[Found]:
    """The patterns of soreness and comfort that stand now."""
    return [*_spots(log), *_deep(log), *_comfort(log), *_pain(log)]


def pain_matters(before: float, after: float) -> tuple[bool, bool]:
    """Whether soreness moved by 2 points, and by 30 in 100 of what it was, either way (Farrar et al. 2001)."""
    move = abs(after - before)
    return move >= PAIN_POINTS - 1e-9, move >= PAIN_SHARE * before - 1e-9 and move > 0


def _spots(log: Log) -> list[Found]:
    """Spots marked on several days of two weeks: one sign that names them all."""
    said: list[str] = []
    sore: list[Timed] = []
    since = log.ms
    for marks in groups(log):
        run = run_of(log.today, [mark.item for mark in marks], SPOT_WINDOW, lambda items: dates(items) >= SPOT_DAYS)
        if run is not None:
            place = Surface(log.limb).name(*marks[-1].place)[1].lower()
            text, days = rules()["spot_again"]["entered"], dates(run.items)
            last = on_day(marks[-1].item.date)
            said.append(filled(text, log.profile, place=place, days=days, window=SPOT_WINDOW, last=last))
            sore += run.items
            since = min(since, run.since)
    return [Found("spot_again", since, ids(sorted(sore)), {"least": SPOT_DAYS}, " ".join(said))] if said else []


def _deep(log: Log) -> list[Found]:
    """Kneecap or groin sore on more than one day of a week although ply had been added that day."""
    surface = Surface(log.limb)

    def deep(item: Timed) -> bool:
        region = surface.name(item.body["height"], item.body["angle"])[0]
        return region in DEEP and not item.body.get("phantom") and ply_rises(log, item.ms, ADDED_HOURS) > 0

    run = run_of(
        log.today, [item for item in log.lately("sore", 30) if deep(item)], WEEK,
        lambda items: dates(items) >= DEEP_DAYS,
    )  # fmt: skip
    if run is None:
        return []
    last = run.items[-1].body
    place = surface.name(last["height"], last["angle"])[1].lower()
    return [Found("deep_pressure", run.since, ids(run.items), {"place": place, "days": dates(run.items)})]


def _comfort(log: Log) -> list[Found]:
    items = log.lately("comfort", BACK_DAYS + BEFORE + WEEK)
    scores = _by_day(log, items, "score", worst=False)

    def down(day: int, points: float) -> bool:
        now, before = _weeks(scores, day)
        return bool(now and before) and fmean(before) - fmean(now) >= points - 1e-9

    sizes = (("comfort_down", COMFORT_POINTS, COMFORT_POSSIBLE), ("comfort_possible", COMFORT_POSSIBLE, COMFORT_STAYS))
    for code, begun, stays in sizes:
        first = run_of_days(log, partial(down, points=begun), partial(down, points=stays))
        if first is not None:
            return [Found(code, begins(log, first), ids(within(log, items, WEEK)), _averages(log, scores))]
    return []


def _pain(log: Log) -> list[Found]:
    items = [item for item in log.lately("sore", BACK_DAYS + BEFORE + WEEK) if not item.body.get("phantom")]
    worst = _by_day(log, items, "intensity", worst=True)

    def stays(day: int) -> bool:
        now, before = _weeks(worst, day)
        return bool(now and before) and fmean(now) > fmean(before)

    def up(day: int) -> bool:
        if not stays(day):
            return False
        now, before = _weeks(worst, day)
        return any(pain_matters(fmean(before), fmean(now))) and stands_out(before, now)

    first = run_of_days(log, up, stays)
    if first is None:
        return []
    return [Found("pain_up", begins(log, first), ids(within(log, items, WEEK)), _averages(log, worst))]


def stands_out(before: Sequence[float], now: Sequence[float]) -> bool:
    """Whether two averages differ by more than the scatter of their days would give."""
    spread = variance([*before, *(value - fmean(now) + fmean(before) for value in now)])
    return abs(fmean(now) - fmean(before)) >= ERRORS * math.sqrt(spread / len(before) + spread / len(now))


def _by_day(log: Log, items: Sequence[Timed], name: str, worst: bool) -> dict[int, float]:
    """One number a day: the worst, or the average."""
    days: dict[int, list[float]] = {}
    for item in items:
        days.setdefault(number(item.date), []).append(item.body[name])
    return {day: max(values) if worst else fmean(values) for day, values in days.items()}


def _weeks(values: Mapping[int, float], day: int) -> tuple[list[float], list[float]]:
    """The week that ends on a day and the four weeks before it; empty where too few days have an answer."""
    now = [values[d] for d in range(day - WEEK + 1, day + 1) if d in values]
    before = [values[d] for d in range(day - WEEK - BEFORE + 1, day - WEEK + 1) if d in values]
    return now if len(now) >= LEAST_NOW else [], before if len(before) >= LEAST_BEFORE else []


def _averages(log: Log, values: Mapping[int, float]) -> dict[str, object]:
    now, before = _weeks(values, number(log.today))
    return {"after": f"{fmean(now):.1f}", "before": f"{fmean(before):.1f}"}
