"""The reading: entries in, summary out. Pure: no I/O, no clock of its own.

`summarise` is the only entry point; a caller that keeps a logbook warm holds a `Reading` and passes it in.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from plytide.entries import Entry
from plytide.insight import (
    activity,
    compare,
    day,
    fittings,
    forecast,
    girth,
    periods,
    shifts,
    signs,
    skin,
    socks,
    spots,
    trend,
    usual,
)
from plytide.insight.cache import Reading, uncollected
from plytide.insight.clock import named, number, written
from plytide.insight.limb_days import Shared
from plytide.insight.log import Log
from plytide.insight.shape import DaySummary, LimbSummary, Summary

__all__ = ["Reading", "Summary", "summarise"]

DAYS = 400  # thirteen months, so that a month can be held against the same month of the year before


def summarise(
    entries: Iterable[Entry], now: datetime, seq: int = 0, *, kept: Reading | None = None, days: int = DAYS
) -> Summary:
    """The whole reading of a logbook as of `now` (aware), standing at `seq`.

    `entries` may come in any order, with repeats, older versions and erased ones; those after `now` are not read.
    With `kept`, `entries` need only be what is new since that reading was last used. `days` bounds how many local
    days back the summary lists; the parts look as far back as they need.
    """
    reading = Reading() if kept is None else kept
    with uncollected():
        reading.take(entries)
        logs, shared = reading.logs(now)
        limbs: dict[str, LimbSummary] = {side: _limb(log, shared, days) for side, log in logs.items()}
    person = signs.of_person(list(logs.values()))
    everywhere = [*person, *(sign for limb in limbs.values() for sign in limb["signs"])]
    for limb in limbs.values():
        limb["signs"] = signs.sober(limb["signs"], everywhere)
    return Summary(
        now=written(round(now.timestamp() * 1000)), seq=seq, limbs=limbs,
        activity=activity.phrases(shared.kinds.get("activity", ()), now), signs=person,
    )  # fmt: skip


def _limb(log: Log, shared: Shared, days: int) -> LimbSummary:
    sore, phantom, heat = spots.find(log)
    usual_day, heading = usual.usual_of(log), trend.trend_of(log)
    peak, moved, checks = forecast.today_at(log), shifts.shifts_of(log), skin.read(log)
    fitted = fittings.fittings_of(log)
    parts: signs.Parts = {"usual": usual_day, "shifts": moved, "skin": checks, "fittings": fitted}
    return LimbSummary(
        on=log.on, off_since=None if log.off_since is None else written(log.off_since),
        days=_days(log, shared, days), usual=usual_day, forecast=peak, tomorrow=forecast.tomorrow_of(log),
        trend=heading, periods=[periods.shaped(period) for period in log.periods], shifts=moved,
        compare=compare.compare_of(log), spots=sore, phantom=phantom, heat=heat, skin=checks,
        socks=socks.read(log, peak), fittings=fitted, girth=girth.read(log),
        signs=signs.standing(log, parts),
    )  # fmt: skip


def _days(log: Log, shared: Shared, days: int) -> list[DaySummary]:
    """Every local day from the first logged one to today, at most `days` of them; days without a log say so."""
    logged = log.last_days(days)
    if not logged:
        return []
    zone, by_date = logged[0].zone, {record.date: record for record in logged}
    out: list[DaySummary] = []
    for each in range(logged[0].number, max(number(log.today), logged[-1].number) + 1):
        date = named(each)
        record = by_date.get(date)
        if record is None:
            now = log.ms if date == log.today else None
            record = day.silent_day(each, zone, log.profile["day_starts"], shared.tags_of(date), now)
        zone = record.zone
        out.append(day.shaped(record))
    return out
