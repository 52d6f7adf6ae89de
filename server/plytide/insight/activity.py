"""What the log shows for each phrase of the functional levels: days, weeks and times, never a level.

A clinician assigns the level; standing counts beside each phrase are facts for that talk. A phrase with nothing
logged stays in the list with zeros: nothing logged is not the same as not done, and the screen says so.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from datetime import datetime

from plytide.data import table
from plytide.insight.clock import Timed, number
from plytide.insight.shape import Phrase

WEEKS = 12


def phrases(entries: Sequence[Timed], now: datetime) -> list[Phrase]:
    """Counts for each phrase over the last twelve weeks before `now`, from all `activity` entries, oldest first."""
    since = round(now.timestamp() * 1000) - WEEKS * 7 * 86_400_000
    lately = entries[bisect_right(entries, since, key=lambda item: item.ms) :]
    return [_phrase(row["level"], row["phrase"], [i for i in lately if i.body["what"] in row["activities"]])
            for row in table("levels")["phrases"]]  # fmt: skip


def _phrase(level: str, phrase: str, items: list[Timed]) -> Phrase:
    dates = {item.date for item in items}
    weeks = {(number(date) - 1) // 7 for date in dates}  # day number 1 was a Monday
    return Phrase(level=level, phrase=phrase, days=len(dates), weeks=len(weeks), times=len(items))
