"""Sittings: the stretches with the leg on that the log can vouch for.

How worn hours are counted:
- from a donning to its doffing, and no further;
- a sock change or another adjustment says that the leg is on at that moment. Between two such signs of one day the
  leg is taken as worn; so it is past midnight and into the next day as long as the signs are no more than 6 hours
  apart, and up to a doffing, but never longer than 24 hours after it went on;
- where the doffing is missing, the sitting ends with its last sign. The rest is a gap (`no_doff`), not wear;
- where the donning is missing, the sitting begins with its first sign. What went before is a gap (`no_don`).
A sitting belongs to the day it began on, so a night out counts to the evening it started.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from plytide.insight.clock import HOUR_MS, Timed

WEAR_KINDS = frozenset({"don", "doff", "ply", "adjust"})
SILENCE_MS = 6 * HOUR_MS  # longest silence that wear carries over into the next local day
SITTING_MS = 24 * HOUR_MS  # longest sitting that is believed
SAME_ACT_MS = HOUR_MS // 2  # a donning told twice, or the ply tapped just before it


class Step(NamedTuple):
    """Ply from an instant on; None where the entry did not say."""

    ms: int
    total: int | None
    socks: tuple[str, ...] | None


class Sitting(NamedTuple):
    """One stretch with the leg on, from `begun` to `until` (the last instant the log vouches for)."""

    date: str
    begun: int
    until: int
    donned: bool  # begun by a donning; else by the first sign
    doffed: bool  # ended by a doffing; else with the last sign
    steps: tuple[Step, ...]
    clicks: int | None = None


@dataclass(frozen=True, slots=True)
class Wear:
    """What one local day's entries say about wear.

    `tail` is the sitting carried in from an earlier day as these entries leave it, `open` the one still on at the
    end, `loose` the doffings that no sitting answers to.
    """

    tail: Sitting | None
    begun: tuple[Sitting, ...]
    loose: tuple[int, ...]
    open: Sitting | None


def follow(carried: Sitting | None, day: Iterable[Timed]) -> Wear:
    """Reads one local day's entries in order, with the sitting that was still open before them."""
    done: list[Sitting] = []
    loose: list[int] = []
    now_on = carried
    last_off = 0

    def close(sitting: Sitting) -> None:
        nonlocal now_on
        done.append(sitting)
        now_on = None

    for item in day:
        kind = item.entry.kind
        if kind not in WEAR_KINDS:
            continue
        if now_on is not None and not _goes_on(now_on, item):
            close(now_on)
        if kind == "doff":
            if now_on is not None:
                close(now_on._replace(until=item.ms, doffed=True))
            elif item.ms - last_off > SAME_ACT_MS:
                loose.append(item.ms)
            last_off = item.ms
        elif now_on is not None and (kind != "don" or item.ms - now_on.begun <= SAME_ACT_MS):
            now_on = _told(now_on, item)
        else:
            if now_on is not None:
                close(now_on)
            now_on = _told(Sitting(item.date, item.ms, item.ms, kind == "don", False, ()), item)
    if now_on is not None:
        done.append(now_on)
    tail = done.pop(0) if carried is not None else None
    return Wear(tail, tuple(done), tuple(loose), now_on)


def still_on(sitting: Sitting, ms: int, date: str) -> bool:
    """Whether an open sitting is believed to go on at an instant of a local day, with no further sign."""
    return 0 <= ms - sitting.begun <= SITTING_MS and (date == sitting.date or ms - sitting.until <= SILENCE_MS)


def _goes_on(sitting: Sitting, item: Timed) -> bool:
    if item.entry.kind == "doff":
        return 0 <= item.ms - sitting.begun <= SITTING_MS
    return still_on(sitting, item.ms, item.date)


def _told(sitting: Sitting, item: Timed) -> Sitting:
    """The sitting with one more sign in it."""
    kind, body = item.entry.kind, item.entry.body
    donned, clicks, steps = sitting.donned, sitting.clicks, sitting.steps
    if kind == "don":
        donned, clicks = True, body.get("clicks", clicks)
    if kind != "adjust" and (body.get("total") is not None or not steps):
        socks = body.get("socks")
        steps = (*steps, Step(item.ms, body.get("total"), None if socks is None else tuple(socks)))
    return Sitting(sitting.date, sitting.begun, max(sitting.until, item.ms), donned, False, steps, clicks)
