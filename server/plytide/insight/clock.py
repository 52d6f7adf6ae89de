"""Local days: which day an instant belongs to where the wearer was, and when such a day begins.

A day is named after the date on the wearer's wall some hours ago: with days that start at 4, half past three in the
night still belongs to the day before. Only the wall clock is asked, so a night with 23 or 25 hours needs no special
case, and an entry keeps its day wherever it is read. web/src/log/clock.ts follows the same rule.

Instants are whole milliseconds since 1970 UTC, dates are YYYY-MM-DD, day numbers are proleptic ordinals.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache
from typing import Any, NamedTuple
from zoneinfo import ZoneInfo

from plytide.entries import Entry

HOUR_MS = 3_600_000


class Timed(NamedTuple):
    """An entry with its instant and its local day; sorts by time, then id."""

    ms: int
    id: str
    date: str
    entry: Entry

    @property
    def body(self) -> dict[str, Any]:
        """The entry's body."""
        return self.entry.body


def instant(at: str) -> int:
    """Milliseconds since 1970 of an RFC 3339 time."""
    return round(datetime.fromisoformat(at).timestamp() * 1000)


def written(ms: int) -> str:
    """An instant as RFC 3339 in UTC with milliseconds, the form that entries have."""
    return f"{datetime.fromtimestamp(ms // 1000, UTC).isoformat()[:19]}.{ms % 1000:03d}Z"


def local_date(ms: int, zone: str, day_starts: int) -> str:
    """The local day of an instant in a zone."""
    wall = datetime.fromtimestamp(ms / 1000, _zone(zone)).replace(tzinfo=None)
    return (wall - timedelta(hours=day_starts)).date().isoformat()


@lru_cache(maxsize=8192)
def day_begins(day: str, zone: str, day_starts: int) -> int:
    """The instant a local day begins. Where the clock jumps over that hour, the day begins with the jump."""
    wall = datetime.combine(date.fromisoformat(day), time(day_starts), _zone(zone))
    return round(wall.timestamp() * 1000)


def number(day: str) -> int:
    """The day as a number, for counting days between dates."""
    return date.fromisoformat(day).toordinal()


def named(day: int) -> str:
    """The date of a day number."""
    return date.fromordinal(day).isoformat()


def weekend(day: int) -> bool:
    """Whether a day number is a Saturday or Sunday."""
    return day % 7 in (6, 0)  # ordinal 1 was a Monday


def dater(day_starts: int) -> Callable[[int, str], str]:
    """`local_date` for many instants: remembers the stretch of the last answer, for entries come in runs."""
    begins = ends = 0
    last_zone = answer = ""

    def dated(ms: int, zone: str) -> str:
        nonlocal begins, ends, last_zone, answer
        if not (begins <= ms < ends and zone == last_zone):
            answer, last_zone = local_date(ms, zone, day_starts), zone
            # A stretch with no change of offset in it is the only one that is safe to remember whole.
            begins, ends = ms, day_begins(named(number(answer) + 1), zone, day_starts)
            if ends - begins > 26 * HOUR_MS or _offset(begins, zone) != _offset(ends, zone):
                ends = begins + 1
        return answer

    return dated


@lru_cache(maxsize=64)
def _zone(name: str) -> ZoneInfo:
    return ZoneInfo(name)


def _offset(ms: int, zone: str) -> timedelta | None:
    return datetime.fromtimestamp(ms / 1000, _zone(zone)).utcoffset()
