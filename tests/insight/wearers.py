"""Synthetic wearers: invented, drawn per wearer from wide ranges, easy and hard. They say nothing about people.

A wearer's limb has a need for ply that is a real number and never seen: it starts each day at a level of its own,
rises while the leg is worn and eases off it, drifts over weeks, follows heat, activity and weekends, and carries
yesterday into today. The wearer notices the need now and then, changes whole plies, forgets taps, doffings and days.
What comes out is what a phone would have sent: entries.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from random import Random
from typing import Any
from zoneinfo import ZoneInfo

from plytide.entries import Entry
from plytide.stamps import make

START = date(2031, 1, 6)
CEILING = 11


@dataclass
class Wearer:
    """One wearer's hidden parameters. Ply and hours; `drift` in ply a day at the start."""

    seed: int
    days: int
    level: float  # need in the morning of the first day
    drift: float
    fade: float  # days over which the drift wears off
    weeks: float | None  # since amputation, where that drives the drift
    rise: float  # ply that a day adds in the end
    tau: float  # hours that the rise takes
    carry: float  # correlation of a day with the day before
    day_sd: float
    hot_share: float
    hot_ply: float
    weekend: float
    notice: float  # looks at the fit an hour
    slack: float  # need has to be off by this much to be acted on
    lost_taps: float
    lost_doffs: float
    lost_days: float
    changes: tuple[tuple[int, float, bool], ...] = ()  # (day, ply the need jumps by, logged)
    zone: str = "Europe/Lisbon"


def draw(seed: int, days: int = 120, kind: str = "") -> Wearer:
    """A wearer. `kind`: stable (no drift, no change of socket), early (first year), change (a logged change of
    socket), silent_change (not logged), or, when empty, drawn."""
    r = Random(seed)
    kind = kind or r.choices(["stable", "drifting", "early", "change", "silent_change"], [4, 4, 3, 3, 1])[0]
    weeks = r.uniform(8, 60) if kind == "early" else None
    drift = 0.0
    if kind in ("drifting", "change", "silent_change"):
        drift = max(-0.02, r.gauss(0.03, 0.03))
    if weeks is not None:
        drift = r.uniform(1.5, 5.0) / (7 * weeks)
    changes: tuple[tuple[int, float, bool], ...] = ()
    if kind in ("change", "silent_change"):
        changes = ((r.randint(35, max(36, days - 30)), -r.uniform(3, 6), kind == "change"),)
    return Wearer(
        seed=seed, days=days, level=r.uniform(2, 6.5), drift=drift, fade=r.uniform(60, 250), weeks=weeks,
        rise=max(0.0, r.gauss(1.7, 1.0)), tau=r.uniform(2, 8), carry=r.uniform(0.1, 0.8), day_sd=r.uniform(0.2, 0.9),
        hot_share=r.choice([0, 0.1, 0.25]), hot_ply=r.gauss(0, 0.9), weekend=r.choice([0, 0, r.gauss(0, 1)]),
        notice=r.uniform(0.3, 1.5), slack=r.uniform(0.4, 1.0), lost_taps=r.choice([0, 0.03, 0.15]),
        lost_doffs=r.choice([0, 0.05, 0.3]), lost_days=r.choice([0, 0.05, 0.2]), changes=changes,
    )  # fmt: skip


class Book:
    """Collects entries as a phone would make them."""

    def __init__(self, seed: int, zone: str, side: str = "left") -> None:
        self.entries: list[Entry] = []
        self.seed, self.zone, self.side = seed, zone, side
        self._zone = ZoneInfo(zone)

    def at(self, day: int, hour: float) -> datetime:
        """The instant of a wall-clock hour on a day counted from the start; hours past 24 run into the night."""
        return datetime.combine(START, time(0), self._zone) + timedelta(days=day, hours=hour)

    def add(self, day: int, hour: float, kind: str, limb: str | None = "", **body: Any) -> Entry:
        """One entry."""
        n = len(self.entries) + 1
        moment = self.at(day, hour).astimezone(UTC)
        entry = Entry(
            id=f"{self.seed % 2**32:08x}-0000-7000-8000-{n:012x}", kind=kind, limb=self.side if limb == "" else limb,
            at=f"{moment:%Y-%m-%dT%H:%M:%S}.{moment.microsecond // 1000:03d}Z", zone=self.zone,
            stamp=make(n, 0, "5f3a9c1e"), erased=False, body=body,
        )  # fmt: skip
        self.entries.append(entry)
        return entry

    def profile(self, **body: Any) -> None:
        """The profile, with this side's limb unless limbs are given."""
        limb = {"side": self.side, "level": "transtibial", **body.pop("limb", {})}
        self.add(-1, 12, "profile", None, limbs=[limb], ply_ceiling=CEILING, **body)


def needs(wearer: Wearer) -> tuple[list[float], list[bool]]:
    """The morning's need of each day, and which days are hot."""
    r = Random(wearer.seed * 7919 + 1)
    need, hot, noise = [], [], r.gauss(0, wearer.day_sd)
    for day in range(wearer.days):
        noise = wearer.carry * noise + r.gauss(0, wearer.day_sd * math.sqrt(1 - wearer.carry**2))
        slow = wearer.drift * wearer.fade * (1 - math.exp(-day / wearer.fade))
        if wearer.weeks is not None:
            slow = wearer.drift * 7 * wearer.weeks * math.log1p(day / (7 * wearer.weeks))
        jumps = sum(ply for when, ply, _ in wearer.changes if day >= when)
        hot.append(r.random() < wearer.hot_share)
        weekend = wearer.weekend if (START + timedelta(days=day)).weekday() >= 5 else 0.0
        need.append(max(0.0, wearer.level + slow + noise + jumps + weekend + hot[-1] * wearer.hot_ply))
    return need, hot


def entries(wearer: Wearer, extra: bool = False) -> list[Entry]:
    """What the wearer's phone sent, in order; with `extra` also sore marks, comfort and evening skin checks."""
    r = Random(wearer.seed * 104729 + 2)
    book = Book(wearer.seed, wearer.zone)
    amputated = None
    if wearer.weeks is not None:
        amputated = (START - timedelta(weeks=wearer.weeks)).isoformat()
    book.profile(limb={"amputated_on": amputated})
    morning, hot = needs(wearer)
    for day in range(wearer.days):
        logged = [ply for when, ply, told in wearer.changes if when == day and told]
        if logged:
            book.add(day, 6, "change", what="new_socket", height=None, angle=None, note="")
        if r.random() < wearer.lost_days:
            continue
        if hot[day]:
            book.add(day, 5.5, "day", None, tags=["hot"])
        _a_day(book, wearer, day, morning[day], r)
        if extra:
            if r.random() < 0.5:
                book.add(day, 21.5, "comfort", score=min(10, max(0, round(r.gauss(7, 0.9)))))
            if r.random() < 0.06:
                place = {"height": r.random(), "angle": r.uniform(0, 359)}
                book.add(day, 16, "sore", **place, intensity=r.randint(1, 4), phantom=False)
            if r.random() < 0.85:
                book.add(day, 22.6, "skin", clear=True, findings=[], fever_c=None, unwell=[])
    return book.entries


def _a_day(book: Book, wearer: Wearer, day: int, need: float, r: Random) -> None:
    hour = max(5.0, r.gauss(7.2, 0.8))
    off = min(23.5, hour + max(3.0, r.gauss(13.5, 2.0)))
    busy = r.lognormvariate(0, 0.35)
    ply = max(0, round(need + r.gauss(0, 0.25)))
    book.add(day, hour, "don", total=ply)
    worn = 0.0
    rest = hour + r.uniform(4, 8) if r.random() < 0.35 else math.inf
    clock = hour
    while True:
        pause = r.expovariate(wearer.notice)
        if clock < rest <= clock + pause and rest < off - 2:
            book.add(day, rest, "doff")
            worn = max(0.0, worn + (rest - clock) - 2.0)
            clock = rest + r.uniform(0.3, 1.0)
            rest = math.inf
            wanted = need + busy * wearer.rise * (1 - math.exp(-worn / wearer.tau))
            ply = max(0, ply if abs(wanted - ply) < wearer.slack else round(wanted))
            book.add(day, clock, "don", total=ply)
            continue
        clock += pause
        worn += pause
        if clock >= off:
            break
        wanted = need + busy * wearer.rise * (1 - math.exp(-worn / wearer.tau)) + r.gauss(0, 0.15)
        if abs(wanted - ply) > wearer.slack:
            ply = max(0, round(wanted))
            if r.random() >= wearer.lost_taps:
                book.add(day, clock, "ply", total=ply, socks=None, why=None)
    if r.random() >= wearer.lost_doffs:
        book.add(day, off, "doff")
