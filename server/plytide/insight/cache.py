"""A reading that is kept: entries go in as they come, and only the days they touch are read again.

`Reading().take(entries)` then `.logs(now)` is the one way from entries to logs; a fresh reading that takes
everything at once is the full computation, and tests hold the kept one to it. A kept reading may be used again as
long as the caller is alone with it.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Iterable
from datetime import UTC, datetime
from typing import Any

from plytide.entries import LIMB_KINDS, Entry, Limb, LimbProfile, Profile
from plytide.insight.clock import Timed, dater, instant, local_date, written
from plytide.insight.day import DayRecord, record
from plytide.insight.log import Log
from plytide.insight.shape import On
from plytide.insight.wear import WEAR_KINDS, Sitting, Wear, follow, still_on
from plytide.stamps import AHEAD_MS

_DEFAULTS = Profile().model_dump()
_SIDES: tuple[Limb, Limb] = ("left", "right")


class Reading:
    """All entries of one logbook, sorted and read day by day."""

    def __init__(self) -> None:
        self._held: dict[str, Entry] = {}
        self._reset()

    def _reset(self) -> None:
        self._ahead: dict[str, Entry] = {}  # not yet: their time is after the last `now`
        self._timed: dict[str, Timed] = {}
        self._limbs: dict[str, _Limb] = {}
        self._kinds: dict[str, list[Timed]] = {}  # of no limb
        self._tags: dict[str, list[Timed]] = {}
        self._fresh: dict[str, Entry] = {}
        self._day_starts = 4
        self._now = 0
        self._zone = "UTC"

    def take(self, entries: Iterable[Entry]) -> None:
        """Takes new entries and newer versions; what is already held, or older, changes nothing."""
        for entry in entries:
            held = self._held.get(entry.id)
            if held is None or held.stamp < entry.stamp:
                self._held[entry.id] = entry
                self._fresh[entry.id] = entry

    def logs(self, now: datetime) -> tuple[dict[Limb, Log], dict[str, list[Timed]]]:
        """Each limb's log, and the entries of no limb by kind, as of `now`.

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
        sides = {limb["side"]: limb for limb in profile["limbs"]}
        logs: dict[Limb, Log] = {}
        for side in _SIDES:
            if side in sides or side in self._limbs:
                limb = self._limbs.setdefault(side, _Limb())
                logs[side] = limb.log(self, side, ms, profile, sides.get(side))
        return logs, self._kinds

    def _again(self) -> None:
        self._reset()
        self._fresh = dict(self._held)

    def _admit(self, until: int) -> None:
        """Sorts fresh entries, and those whose time has come, into their limb's days."""
        dated = dater(self._day_starts)
        waiting = self._ahead | self._fresh
        self._ahead, self._fresh = {}, {}
        ready: list[Timed] = []
        for entry in waiting.values():
            if entry.id in self._timed:
                self._drop(self._timed.pop(entry.id))
            if entry.erased:
                continue
            ms = instant(entry.at)
            if ms > until:
                self._ahead[entry.id] = entry
            else:
                ready.append(Timed(ms, entry.id, dated(ms, entry.zone), entry))
        for item in sorted(ready):
            self._timed[item.id] = item
            entry = item.entry
            if entry.kind in LIMB_KINDS and entry.limb in _SIDES:
                self._limbs.setdefault(entry.limb, _Limb()).add(item)
            else:
                _put_in(self._kinds, entry.kind, item)
                if entry.kind == "day":
                    _put_in(self._tags, item.date, item)
                    self._touch_tags(item.date)

    def _drop(self, item: Timed) -> None:
        """Takes an entry out again: a newer version, or an erasure, has come."""
        entry = item.entry
        if entry.kind in LIMB_KINDS and entry.limb in _SIDES:
            self._limbs[entry.limb].remove(item)
            if not self._limbs[entry.limb].kinds:
                del self._limbs[entry.limb]
        else:
            _take_out(self._kinds, entry.kind, item)
            if entry.kind == "day":
                _take_out(self._tags, item.date, item)
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

    def tags(self, date: str) -> tuple[str, ...]:
        """The tags of a day, each once."""
        return tuple(dict.fromkeys(tag for item in self._tags.get(date, ()) for tag in item.body["tags"]))

    @property
    def day_starts(self) -> int:
        """The hour that local days begin at."""
        return self._day_starts


_LIMB_DEFAULTS = {
    name: field.get_default(call_default_factory=True)
    for name, field in LimbProfile.model_fields.items()
    if not field.is_required()
}


def _put_in(lists: dict[str, list[Timed]], key: str, item: Timed) -> None:
    items = lists.get(key)
    if items is None:
        lists[key] = [item]
    elif items[-1] < item:  # nearly always: entries come in the order of time
        items.append(item)
    else:
        insort(items, item)


def _take_out(lists: dict[str, list[Timed]], key: str, item: Timed) -> None:
    items = lists[key]
    del items[bisect_left(items, item)]
    if not items:
        del lists[key]


class _Limb:
    """One limb's entries by kind and by day, its wear day by day, and the records of days that are over."""

    def __init__(self) -> None:
        self.kinds: dict[str, list[Timed]] = {}
        self.dates: dict[str, list[Timed]] = {}
        self.order: list[str] = []  # dates with entries
        self.wear: dict[str, Wear] = {}
        self.touched: set[str] = set()
        self.records: dict[str, DayRecord] = {}

    @property
    def newest(self) -> int:
        """The instant of the newest entry."""
        return max((items[-1].ms for items in self.kinds.values()), default=0)

    def add(self, item: Timed) -> None:
        _put_in(self.kinds, item.entry.kind, item)
        if item.date not in self.dates:
            insort(self.order, item.date)
        _put_in(self.dates, item.date, item)
        self.touched.add(item.date)

    def remove(self, item: Timed) -> None:
        _take_out(self.kinds, item.entry.kind, item)
        _take_out(self.dates, item.date, item)
        if item.date not in self.dates:
            self.order.remove(item.date)
        self.touched.add(item.date)

    def _follow(self) -> None:
        """Reads the touched days again, and those after them as long as a sitting carried over has changed."""
        todo = sorted(self.touched)
        self.touched = set()
        while todo:
            date = todo.pop(0)
            place = bisect_left(self.order, date)
            carried = self.wear[self.order[place - 1]].open if place > 0 else None
            before = self.wear.pop(date, None)
            left = before.open if before is not None else carried
            leaves = carried
            self.records.pop(date, None)
            if carried is not None:
                self.records.pop(carried.date, None)  # these entries say how that day's last sitting ended
            if date in self.dates:
                wear = self.wear[date] = follow(carried, self.dates[date])
                leaves = wear.open
                place += 1
            if leaves != left and place < len(self.order) and self.order[place] not in todo[:1]:
                todo.insert(0, self.order[place])

    def _sittings(self, place: int) -> tuple[list[Sitting], bool]:
        """The sittings that began on the day at `place`, and whether the last of them is open to this moment."""
        wear = self.wear[self.order[place]]
        sittings = list(wear.begun)
        if not sittings or wear.open is not sittings[-1]:
            return sittings, False
        for date in self.order[place + 1 :]:
            later = self.wear[date]
            if later.tail is None:
                break
            sittings[-1] = later.tail
            if later.open is not later.tail:
                return sittings, False
        return sittings, True

    def log(self, book: Reading, side: Limb, ms: int, profile: dict[str, Any], limb: dict[str, Any] | None) -> Log:
        """The limb's log at `ms`."""
        self._follow()
        zone = self.dates[self.order[-1]][-1].entry.zone if self.order else "UTC"
        today = local_date(ms, zone, book.day_starts)
        last = self.wear[self.order[-1]].open if self.order else None
        on_now = last is not None and still_on(last, ms, today)
        days: list[DayRecord] = []
        for place, date in enumerate(self.order):
            kept = self.records.get(date)
            if kept is None:
                sittings, is_open = self._sittings(place)
                items = self.dates[date]
                running = date == today or (is_open and on_now)
                kept = record(
                    date, items[0].entry.zone, book.day_starts, sittings, self.wear[date].loose, items,
                    book.tags(date), ms if running else None, is_open and on_now,
                )  # fmt: skip
                if not running:
                    self.records[date] = kept
            days.append(kept)
        on, off_since = self._state(days, last if on_now else None)
        return Log(
            side=side, now=datetime.fromtimestamp(ms / 1000, UTC), ms=ms, today=today, zone=zone, profile=profile,
            limb=limb, kinds={**book._kinds, **self.kinds}, days=days, on=on, off_since=off_since,
        )  # fmt: skip

    def _state(self, days: list[DayRecord], sitting: Sitting | None) -> tuple[On | None, int | None]:
        """What is on now, or since when the leg is known to be off."""
        if sitting is not None:
            told = [step for step in sitting.steps if step.total is not None]
            worn = next(day.worn_h for day in reversed(days) if day.date == sitting.date)
            socks = told[-1].socks if told else None
            return On(
                total=told[-1].total if told else None, socks=None if socks is None else list(socks),
                since=written(sitting.begun), worn_h=round(worn or 0.0, 2),
            ), None  # fmt: skip
        signs = [self.kinds[kind][-1] for kind in WEAR_KINDS if kind in self.kinds]
        last = max(signs, default=None)
        return None, last.ms if last is not None and last.entry.kind == "doff" else None
