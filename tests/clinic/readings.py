"""Readings of the sample for the tests of the page: whole, or with some things not ticked."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from clinic import sample
from plytide.clinic import page
from plytide.clinic.reading import ALL_KINDS, TICKS, Reading, profile_shown

FIRST = sample.LAST - timedelta(days=27)


def reading(**over: Any) -> Reading:
    """The sample as a link of four weeks shows it a day after it was made; `over` replaces parts."""
    entries = over.pop("all_entries", sample.entries())
    whole: dict[str, Any] = {
        "summary": sample.summary(), "profile": profile_shown(entries),
        "entries": [e for e in entries if e.kind != "profile"], "first": FIRST, "last": sample.LAST,
        "zone": sample.ZONE, "kinds": ALL_KINDS, "live": False, "as_of": sample.NOW,
        "now": sample.NOW + timedelta(hours=20), "expires": sample.NOW + timedelta(days=7), "edits": 3,
    }  # fmt: skip
    return Reading(**{**whole, **over})


def without(*ticks: str) -> frozenset[str]:
    """All kinds less those of these ticks."""
    return ALL_KINDS - {kind for tick in ticks for kind in TICKS[tick]}


def html(**over: Any) -> str:
    """The page of a reading."""
    return page.render(reading(**over), style=page.style(), done="x/done")


def day_of(i: int) -> date:
    """Day `i` of the four weeks."""
    return FIRST + timedelta(days=i)
