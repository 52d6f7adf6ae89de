"""Fit periods: from one change of socket or components to the next. Numbers from two fits are never mixed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from plytide.insight.clock import Timed, number
from plytide.insight.day import DayRecord
from plytide.insight.shape import FitPeriod


@dataclass(frozen=True, slots=True)
class Period:
    """`days` are its finished days with wear on them. `first` and `last` are day numbers; `last` None: still going."""

    change_id: str | None
    what: str | None
    since: str
    first: int
    last: int | None
    until: str | None
    days: Sequence[DayRecord]


def periods_of(changes: Sequence[Timed], days: Sequence[DayRecord], today: str) -> list[Period]:
    """The periods that the changes cut the log into. Changes of one day are one cut, named after the last of them.

    A day on which the change came after the leg was on is part of neither period (`DayRecord.mixed`).
    """
    cuts: dict[str, Timed] = {change.date: change for change in changes}
    starts: list[tuple[str, Timed | None]] = [(date, change) for date, change in sorted(cuts.items())]
    begin = days[0].date if days else today
    if not starts or begin < starts[0][0]:
        starts.insert(0, (begin, None))
    worn = [day for day in days if day.begun is not None and not day.partial and not day.mixed]
    out: list[Period] = []
    index = 0
    for place, (date, change) in enumerate(starts):
        until = starts[place + 1][0] if place + 1 < len(starts) else None
        begun = index
        while index < len(worn) and (until is None or worn[index].date < until):
            index += 1
        out.append(
            Period(
                change_id=change.id if change else None,
                what=change.body["what"] if change else None,
                since=date,
                first=number(date),
                last=None if until is None else number(until) - 1,
                until=until,
                days=worn[begun:index],
            )
        )
    return out


def shaped(period: Period) -> FitPeriod:
    """The period as the summary carries it; `days` counts the days it rests on."""
    return FitPeriod(
        change_id=period.change_id, what=period.what, since=period.since, until=period.until, days=len(period.days)
    )
