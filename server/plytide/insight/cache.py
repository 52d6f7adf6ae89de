"""A reading that is kept: entries go in as they come, and only the days they touch are read again.

`Reading().take(entries)` then `.logs(now)` is the one way from entries to logs; a fresh reading that takes
everything at once is the full computation, and tests hold the kept one to it. A kept reading may be used again as
long as the caller is alone with it.
"""

from __future__ import annotations

import gc
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import datetime
from typing import Any

from plytide.entries import LIMB_KINDS, Entry, Limb, LimbProfile, Profile
from plytide.insight.clock import Timed, dater, instant
from plytide.insight.limb_days import LimbDays, Lists, Shared, put_in, take_out
from plytide.insight.log import Log
from plytide.stamps import AHEAD_MS

_DEFAULTS = Profile().model_dump()
_LIMB_DEFAULTS = {
    name: field.get_default(call_default_factory=True)
    for name, field in LimbProfile.model_fields.items()
    if not field.is_required()
}
_SIDES: tuple[Limb, Limb] = ("left", "right")


class Reading:
    """All entries of one logbook, sorted and read day by day."""

    def __init__(self) -> None:
        self._held: dict[str, Entry | Timed] = {}  # the version that counts; timed where it is sorted into its day
        self._reset()

    def _reset(self) -> None:
        self._ahead: dict[str, Entry] = {}  # not yet: their time is after the last `now`
        self._stale: list[Timed] = []  # sorted in, and replaced since
        self._limbs: dict[str, LimbDays] = {}
        self._kinds: Lists = {}  # of no limb
        self._tags: Lists = {}
        self._fresh: dict[str, Entry] = {}
        self._day_starts = 4
        self._now = 0

    def take(self, entries: Iterable[Entry]) -> None:
        """Takes new entries and newer versions; what is already held, or older, changes nothing."""
        for entry in entries:
            held = self._held.get(entry.id)
            if held is None or _entry(held).stamp < entry.stamp:
                if isinstance(held, Timed):
                    self._stale.append(held)
                self._held[entry.id] = entry
                self._fresh[entry.id] = entry

    def logs(self, now: datetime) -> tuple[dict[Limb, Log], Shared]:
        """Each limb's log, and what belongs to no limb, as of `now`.

        Entries up to five minutes ahead are believed and `now` moves up to them, for a phone's clock may be a little
        fast; those further ahead wait until their time has come.
        """
        asked = round(now.timestamp() * 1000)
        if asked < self._now:
            self._again()
        self._now = asked
        self._admit(asked + AHEAD_MS)
        profile = self._profile()
        if profile["day_starts"] != self._day_starts:
            self._again()
            self._now, self._day_starts = asked, profile["day_starts"]
            self._admit(asked + AHEAD_MS)
        ms = max(asked, max((limb.newest for limb in self._limbs.values()), default=0))
        shared = Shared(profile, self._kinds, self._tags)
        named = {limb["side"] for limb in profile["limbs"]} | self._limbs.keys()
        sides = [side for side in _SIDES if side in named]
        return {side: self._limbs.setdefault(side, LimbDays()).log(side, ms, shared) for side in sides}, shared

    def _again(self) -> None:
        self._reset()
        self._fresh = {name: _entry(held) for name, held in self._held.items()}
        self._held = dict(self._fresh)

    def _admit(self, until: int) -> None:
        """Sorts fresh entries, and those whose time has come, into their limb's days."""
        dated = dater(self._day_starts)
        waiting, stale = self._ahead | self._fresh, self._stale
        self._ahead, self._fresh, self._stale = {}, {}, []
        for item in stale:
            self._drop(item)
        ready: list[tuple[int, str, Entry]] = []
        for entry in waiting.values():
            if entry.erased:
                continue
            ms = instant(entry.at)
            if ms > until:
                self._ahead[entry.id] = entry
            else:
                ready.append((ms, entry.id, entry))
        ready.sort()  # before they are dated: entries of one day in a row are dated at once
        for ms, name, entry in ready:
            item = self._held[name] = Timed(ms, name, dated(ms, entry.zone), entry)
            if entry.kind in LIMB_KINDS and entry.limb in _SIDES:
                if entry.limb not in self._limbs:
                    self._limbs[entry.limb] = LimbDays()
                self._limbs[entry.limb].add(item)
            else:
                put_in(self._kinds, entry.kind, item)
                if entry.kind == "day":
                    put_in(self._tags, item.date, item)
                    self._touch_tags(item.date)

    def _drop(self, item: Timed) -> None:
        """Takes an entry out again: a newer version, or an erasure, has come."""
        entry = item.entry
        if entry.kind in LIMB_KINDS and entry.limb in _SIDES:
            self._limbs[entry.limb].remove(item)
            if not self._limbs[entry.limb].kinds:
                del self._limbs[entry.limb]
        else:
            take_out(self._kinds, entry.kind, item)
            if entry.kind == "day":
                take_out(self._tags, item.date, item)
                self._touch_tags(item.date)

    def _touch_tags(self, date: str) -> None:
        for limb in self._limbs.values():
            limb.records.pop(date, None)

    def _profile(self) -> dict[str, Any]:
        """The latest profile, with defaults where it is silent."""
        items = self._kinds.get("profile")
        profile = {**_DEFAULTS, **(items[-1].body if items else {})}
        profile["limbs"] = [{**_LIMB_DEFAULTS, **limb} for limb in profile["limbs"]]
        return profile


def _entry(held: Entry | Timed) -> Entry:
    return held.entry if isinstance(held, Timed) else held


@contextmanager
def uncollected() -> Iterator[None]:
    """Without the search for rings of dead objects: what is made here is kept, and the search costs a fifth of it."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
