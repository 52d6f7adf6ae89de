"""One limb's log at one moment: what every part of the reading is given, built once and never changed."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property, wraps
from typing import Any, TypeVar, cast

from plytide.entries import Limb
from plytide.insight.clock import Timed, named, number
from plytide.insight.day import DayRecord
from plytide.insight.periods import Period, periods_of
from plytide.insight.shape import On

Part = TypeVar("Part")


@dataclass(frozen=True)
class Log:
    """`days` are the logged days in order, today among them as far as it has gone; `kinds` hold this limb's entries
    and those of no limb (socks, trips, visits, day tags, activity, told), each sorted by time."""

    side: Limb
    now: datetime
    ms: int
    today: str
    zone: str
    profile: Mapping[str, Any]
    limb: Mapping[str, Any] | None
    kinds: Mapping[str, Sequence[Timed]]
    days: Sequence[DayRecord]
    on: On | None
    off_since: int | None
    known: dict[Callable[..., object], object] = field(default_factory=dict, compare=False, repr=False)  # by `once`

    def items(self, kind: str) -> Sequence[Timed]:
        """All entries of a kind, oldest first."""
        return self.kinds.get(kind, ())

    def lately(self, kind: str, days: int) -> Sequence[Timed]:
        """Entries of a kind from the last `days` local days, today being the first of them."""
        first = named(number(self.today) - days + 1)
        items = self.items(kind)
        # Zones may set a date back against its instant by a day at most, so look from two days before.
        start = bisect_left(items, self.ms - (days + 2) * 86_400_000, key=lambda item: item.ms)
        return [item for item in items[start:] if item.date >= first]

    def last_days(self, days: int) -> Sequence[DayRecord]:
        """Logged days among the last `days` local days, today being the first of them."""
        first = number(self.today) - days + 1
        return self.days[bisect_left(self.days, first, key=lambda day: day.number) :]

    def day(self, date: str) -> DayRecord | None:
        """The logged day of a date."""
        wanted = number(date)
        index = bisect_left(self.days, wanted, key=lambda day: day.number)
        return self.days[index] if index < len(self.days) and self.days[index].number == wanted else None

    @cached_property
    def periods(self) -> Sequence[Period]:
        """Fit periods, oldest first; the last one is the present one."""
        return periods_of(self.items("change"), self.days, self.today)

    @cached_property
    def present(self) -> Sequence[DayRecord]:
        """Finished days of the present fit period on which the leg was worn, oldest first."""
        return self.periods[-1].days


def once(read: Callable[[Log], Part]) -> Callable[[Log], Part]:
    """A part that several others ask for, worked out once for a log."""

    @wraps(read)
    def asked(log: Log) -> Part:
        if read not in log.known:
            log.known[read] = read(log)
        return cast(Part, log.known[read])

    return asked
