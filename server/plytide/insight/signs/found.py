"""What a rule hands over when it is met, and how long what is met goes on standing."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from plytide.entries import LIMB_KINDS
from plytide.insight.clock import HOUR_MS, Timed, day_begins, named, number
from plytide.insight.day import DayRecord
from plytide.insight.log import Log

BACK_DAYS = 60  # how far back a run of days is followed to say since when
KEEP = 14  # days that a pattern goes on after it was last met: it is one sign, and does not come and go at its limit
MOST = 40  # entries that a sign names: nobody reads more, and the summary travels with every sync


@dataclass(frozen=True)
class Found:
    """A rule that is met: since when (an instant), by which entries, and what fills the blanks of its text.

    `entered` is the text of the table that says what was entered, where it is not the rule's own.
    """

    code: str
    since: int
    evidence: Sequence[str]
    facts: Mapping[str, object] = field(default_factory=dict)
    entered: str | None = None


def ids(items: Iterable[Timed]) -> list[str]:
    """The ids of entries, each once, in their order: of many the first, which began it, and the latest ones."""
    found = list(dict.fromkeys(item.id for item in items))
    return found if len(found) <= MOST else [found[0], *found[1 - MOST :]]


def peaks_of(log: Log, days: Iterable[DayRecord]) -> list[Timed]:
    """The entries that put each day's total at its peak."""
    return sorted(item for day in days if day.peak_ms is not None for item in _told_at(log, day.peak_ms))


def starts_of(log: Log, days: Iterable[DayRecord]) -> list[Timed]:
    """The entries that said each day's first total."""
    first = ((day.begun or 0) + round(day.steps[0][0] * HOUR_MS) for day in days if day.steps)
    return sorted(item for ms in first for item in _told_at(log, ms))


def in_use(log: Log) -> Timed:
    """The latest entry about this limb: what shows that it is in use. The log has one."""
    return max(items[-1] for kind, items in log.kinds.items() if kind in LIMB_KINDS)


def _told_at(log: Log, ms: int) -> Iterable[Timed]:
    """The entries that said the total at an instant."""
    told = (item for kind in ("don", "ply") for item in _between(log.items(kind), ms, ms))
    return (item for item in told if item.body.get("total") is not None)


def chain(items: Sequence[Timed], days: int) -> list[Timed]:
    """The latest of these entries and those before it, as long as no gap is longer than `days` local days."""
    linked: list[Timed] = []
    for item in reversed(items):
        if linked and number(linked[-1].date) - number(item.date) > days:
            break
        linked.append(item)
    return linked[::-1]


class Run(NamedTuple):
    """A pattern that stands: since when (an instant), and the entries with which it was met last."""

    since: int
    items: list[Timed]


def run_of(
    today: str, items: Sequence[Timed], window: int, met: Callable[[Sequence[Timed]], bool], keep: int = KEEP
) -> Run | None:
    """The pattern that `met` asks of the entries of `window` local days, if that was so in the last `keep` days."""
    for end in range(len(items), 0, -1):
        last = number(items[end - 1].date)
        if number(today) - last >= keep:
            break
        first = named(last - window + 1)
        found = [item for item in items[:end] if item.date >= first]
        if met(found):
            return Run(chain(items[:end], window)[0].ms, found)
    return None


def dates(items: Iterable[Timed]) -> int:
    """On how many local days the entries are."""
    return len({item.date for item in items})


def within(log: Log, items: Iterable[Timed], days: int) -> list[Timed]:
    """Those of the entries that belong to the last `days` local days."""
    first = named(number(log.today) - days + 1)
    return [item for item in items if item.date >= first]


def run_of_days(log: Log, met: Callable[[int], bool], holds: Callable[[int], bool] | None = None) -> int | None:
    """The day number on which the rule was met first in the run of days that goes on today; None if none does.

    `holds` says on which days a run goes on once it has begun, so that a sign does not come and go at its limit.
    """
    since, today = None, number(log.today)
    if not (met(today) or (holds and holds(today))):
        return None  # nearly always: nobody has to look back
    for day in range(today - BACK_DAYS, today + 1):
        if met(day):
            since = day if since is None else since
        elif since is not None and not (holds and holds(day)):
            since = None
    return since


def begins(log: Log, day: int) -> int:
    """The instant a day number begins for this wearer."""
    return day_begins(named(day), log.zone, log.profile["day_starts"])


def ply_rises(log: Log, until: int, hours: float) -> int:
    """By how many ply the total went up at most within the hours before an instant."""
    begin = until - round(hours * HOUR_MS)
    told = sorted(item for kind in ("don", "ply") for item in _between(log.items(kind), begin, until))
    totals = [item.body["total"] for item in told if item.body.get("total") is not None]
    return max((b - a for i, a in enumerate(totals) for b in totals[i + 1 :]), default=0)


def _between(items: Sequence[Timed], begin: int, until: int) -> Sequence[Timed]:
    return items[bisect_left(items, begin, key=lambda i: i.ms) : bisect_right(items, until, key=lambda i: i.ms)]
