"""One limb's entries by kind and by day, kept so that a new entry costs no more than the days it touches."""

from __future__ import annotations

from bisect import bisect_left, insort
from datetime import UTC, datetime
from typing import Any, NamedTuple

from plytide.entries import Limb
from plytide.insight.clock import Timed, local_date, written
from plytide.insight.day import DayRecord, record
from plytide.insight.log import Log
from plytide.insight.shape import On
from plytide.insight.wear import WEAR_KINDS, Sitting, Wear, follow, still_on

Lists = dict[str, list[Timed]]


def put_in(lists: Lists, key: str, item: Timed) -> None:
    """Adds an entry to one of the sorted lists."""
    items = lists.get(key)
    if items is None:
        lists[key] = [item]
    elif items[-1] < item:  # nearly always: entries come in the order of time
        items.append(item)
    else:
        insort(items, item)


def take_out(lists: Lists, key: str, item: Timed) -> None:
    """Takes an entry out of one of the sorted lists; an empty list goes."""
    items = lists[key]
    del items[bisect_left(items, item)]
    if not items:
        del lists[key]


class Shared(NamedTuple):
    """What both limbs share: the profile with its defaults, entries of no limb by kind, day tags by date."""

    profile: dict[str, Any]
    kinds: Lists
    tags: Lists

    def tags_of(self, date: str) -> tuple[str, ...]:
        """The tags of a day, each once."""
        return tuple(dict.fromkeys(tag for item in self.tags.get(date, ()) for tag in item.body["tags"]))


class LimbDays:
    """The limb's entries, its wear day by day, and the records of days that are over."""

    def __init__(self) -> None:
        self.kinds: Lists = {}
        self.dates: Lists = {}
        self.order: list[str] = []  # dates with entries
        self.wear: dict[str, Wear] = {}
        self.touched: set[str] = set()
        self.records: dict[str, DayRecord] = {}

    @property
    def newest(self) -> int:
        """The instant of the newest entry."""
        return max((items[-1].ms for items in self.kinds.values()), default=0)

    def add(self, item: Timed) -> None:
        """Takes an entry of this limb in."""
        put_in(self.kinds, item.entry.kind, item)
        if item.date not in self.dates:
            insort(self.order, item.date)
        put_in(self.dates, item.date, item)
        self.touched.add(item.date)

    def remove(self, item: Timed) -> None:
        """Takes an entry out again."""
        take_out(self.kinds, item.entry.kind, item)
        take_out(self.dates, item.date, item)
        if item.date not in self.dates:
            self.order.remove(item.date)
        self.touched.add(item.date)

    def _follow(self) -> None:
        """Reads the touched days again, and those after them as long as a sitting carried over has changed."""
        dates = sorted(self.touched)
        self.touched = set()
        while dates:
            date = dates.pop(0)
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
            if leaves != left and place < len(self.order) and self.order[place] not in dates[:1]:
                dates.insert(0, self.order[place])

    def _sittings(self, place: int) -> tuple[list[Sitting], bool]:
        """The sittings that began on the day at `place`, and whether the last of them is open to this moment."""
        wear = self.wear[self.order[place]]
        sittings = list(wear.begun)
        if not sittings or wear.open is not sittings[-1]:
            return sittings, False
        for after in range(place + 1, len(self.order)):
            later = self.wear[self.order[after]]
            sittings[-1] = later.tail or sittings[-1]
            if later.open is not later.tail:
                return sittings, False
        return sittings, True

    def log(self, side: Limb, ms: int, shared: Shared) -> Log:
        """The limb's log at `ms`."""
        self._follow()
        profile, day_starts = shared.profile, shared.profile["day_starts"]
        zone = self.dates[self.order[-1]][-1].entry.zone if self.order else "UTC"
        today = local_date(ms, zone, day_starts)
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
                    date, items[0].entry.zone, day_starts, sittings, self.wear[date].loose, items,
                    shared.tags_of(date), ms if running else None, is_open and on_now,
                )  # fmt: skip
                if not running:
                    self.records[date] = kept
            days.append(kept)
        on, off_since = self._state(days, last if on_now else None)
        return Log(
            side=side, now=datetime.fromtimestamp(ms / 1000, UTC), ms=ms, today=today, zone=zone, profile=profile,
            limb=next((limb for limb in profile["limbs"] if limb["side"] == side), None),
            kinds={**shared.kinds, **self.kinds}, days=days, on=on, off_since=off_since,
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
