"""When an entry was written, by the times in its id and its stamp: whether it was changed later, or told late."""

from __future__ import annotations

from plytide import ids, stamps
from plytide.entries import Entry
from plytide.insight.clock import instant

EDIT_MS = 10 * 60 * 1000  # within this a change is still part of writing the entry
LATE_MS = 24 * 3600 * 1000


def edited(entry: Entry) -> bool:
    """Whether an entry was changed after it was first written."""
    made = made_ms(entry)
    return made is not None and stamps.ms_of(entry.stamp) - made > EDIT_MS


def late(entry: Entry) -> bool:
    """Whether an entry was written more than a day after what it tells of."""
    made = made_ms(entry)
    return made is not None and made - instant(entry.at) > LATE_MS


def made_ms(entry: Entry) -> int | None:
    """When the id was made, in milliseconds since 1970, if it says so (UUID version 7 only)."""
    return ids.ms_of(entry.id) if entry.id[14] == "7" else None
