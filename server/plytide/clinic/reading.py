"""What one page is made from: the entries that were ticked, the reading of just those, and how they came here.

The page shows nothing that is not in here, and this holds nothing that was not ticked: the summary is insight's reading
of the ticked entries alone, never the wearer's whole summary cut down.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import cached_property
from typing import Any

from plytide.clinic.words import Language
from plytide.entries import Entry
from plytide.insight.clock import instant, local_date
from plytide.insight.shape import DaySummary, LimbSummary, Summary

# What a wearer ticks, and the kinds of entries that each tick stands for. The profile comes with every link.
TICKS: dict[str, tuple[str, ...]] = {
    "ply": ("ply", "don", "doff", "adjust", "sock"),
    "sore": ("sore",),
    "skin": ("skin", "told"),
    "comfort": ("comfort",),
    "mishap": ("mishap",),
    "change": ("change", "girth"),
    "day": ("day", "activity"),
    "need": ("need", "question", "option", "visit"),
    "note": ("note",),
}
ALL_KINDS = frozenset(kind for kinds in TICKS.values() for kind in kinds)

# The parts of the profile that the page uses; phone numbers and the like stay at home.
PROFILE_SHOWN = ("name", "limbs", "ply_watch", "ply_review", "ply_ceiling", "fade_limit_min", "day_starts", "units")


@dataclass(frozen=True)
class Reading:
    """Dates inclusive, in the wearer's days. Of `entries`, `edits` were changed later and `late` written days after."""

    summary: Summary
    profile: dict[str, Any]
    entries: Sequence[Entry]
    first: date
    last: date
    zone: str
    kinds: frozenset[str]
    live: bool
    as_of: datetime
    now: datetime
    expires: datetime | None = None
    edits: int = 0
    late: int = 0
    waiting: int = 0  # entries still on the phone when the link was made
    synced: datetime | None = None  # when a phone last sent anything; told of live links only
    language: Language = "en"

    def of(self, kind: str, limb: str | None = None) -> list[Entry]:
        """Entries of a kind in order of time; of one limb if asked."""
        return [e for e in self._by_kind.get(kind, ()) if limb in (None, e.limb)]

    @cached_property
    def _by_kind(self) -> dict[str, list[Entry]]:
        """Sorted once: a page asks for a dozen kinds, and ten years are thirty thousand entries."""
        found: dict[str, list[Entry]] = {}
        for e in self.entries:
            found.setdefault(e.kind, []).append(e)
        return found

    def date_of(self, entry: Entry) -> str:
        """The wearer's day that an entry belongs to."""
        return local_date(instant(entry.at), entry.zone, self.profile.get("day_starts", 4))

    def date_at(self, moment: str) -> str:
        """The wearer's day at an instant that the summary gives in UTC."""
        return local_date(instant(moment), self.zone, self.profile.get("day_starts", 4))

    def shows(self, *ticks: str) -> bool:
        """Whether any of these was ticked."""
        return any(kind in self.kinds for tick in ticks for kind in TICKS[tick])

    @cached_property
    def begun(self) -> date:
        """The first day of the period that anything was logged for: what comes before it is said once, not drawn."""
        logged = [d["date"] for limb in self.summary["limbs"].values() for d in self.days(limb) if d["logged"]]
        return date.fromisoformat(min(logged)) if logged else self.first

    @property
    def length(self) -> int:
        """Days in the period, from the first that anything was logged for."""
        return (self.last - self.begun).days + 1

    def days(self, limb: LimbSummary) -> list[DaySummary]:
        """The limb's days inside the period, oldest first."""
        first, last = self.first.isoformat(), self.last.isoformat()
        return [d for d in limb["days"] if first <= d["date"] <= last]

    def limb_profile(self, side: str) -> dict[str, Any]:
        """What the wearer said about a limb; a leg below the knee where nothing was said."""
        for limb in self.profile.get("limbs") or []:
            if limb.get("side") == side:
                return dict(limb)
        return {"side": side, "level": "transtibial"}


def profile_shown(entries: Iterable[Entry]) -> dict[str, Any]:
    """The latest profile, less what no reader of the page needs."""
    latest = max((e for e in entries if e.kind == "profile" and not e.erased), key=lambda e: e.stamp, default=None)
    return {} if latest is None else {k: latest.body[k] for k in PROFILE_SHOWN if k in latest.body}
