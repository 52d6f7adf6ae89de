"""Other ways of fitting than socks, read the way ply is: usual day, heading, shifts, before and after a change.

An adjustment's value is its reading; where the wearer enters steps only, it is the sum of the steps since donning. A
fitting that is read at times counts only the days on which it was. Days without an entry of it are not taken as zero.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

from plytide.insight.clock import HOUR_MS, Timed, named, number
from plytide.insight.compare import by_change
from plytide.insight.day import DayRecord
from plytide.insight.log import Log
from plytide.insight.shape import Fitting
from plytide.insight.shifts import READ, limb_shifts, moves, of_late
from plytide.insight.trend import heading_of
from plytide.insight.usual import Track, over

# Where more of it takes up room that a smaller limb leaves; vacuum holds the leg on and says nothing about size.
TIGHTENS = frozenset({"dial", "strap", "air_bladder", "pad", "clicks"})
LOOK_BACK = 400  # local days


def fittings_of(log: Log) -> list[Fitting]:
    """Each fitting that the log has entries of, by name."""
    return [_fitting(log, what, items) for what, items in sorted(entered(log).items())]


def entered(log: Log, days: int = LOOK_BACK) -> dict[str, list[Timed]]:
    """The entries of each fitting within the last `days` local days."""
    kinds: dict[str, list[Timed]] = {}
    for item in log.lately("adjust", days):
        kinds.setdefault(item.entry.body["what"], []).append(item)
    clicked = [item for item in log.lately("don", days) if item.entry.body.get("clicks") is not None]
    return {**kinds, "clicks": clicked} if clicked else kinds


def _fitting(log: Log, what: str, items: Sequence[Timed]) -> Fitting:
    tracks = tracks_of(log, items)
    first, today = log.periods[-1].first, number(log.today)
    own = present(log, items, tracks)
    peaks = [(track.number, track.peak) for track in own]
    part = Fitting(
        what=what, days=sum(track.number >= first for track in tracks), usual=over(own, today),
        trend=heading_of(log, peaks), latest=tracks[-1].steps[-1][1] if tracks else None,
        compare=by_change(log, {what: [(track.number, track.peak) for track in tracks if track.number < today]}),
        by_day=[(named(track.number), track.peak) for track in tracks],
    )  # fmt: skip
    if what in TIGHTENS:
        part["shifts"] = of_late(limb_shifts(moves(peaks[-READ:])), [day for day, _ in peaks])
    return part


def present(log: Log, items: Sequence[Timed], tracks: Sequence[Track] | None = None) -> list[Track]:
    """The tracks of finished days of the present fit."""
    own = {day.number for day in log.present}
    return [track for track in (tracks_of(log, items) if tracks is None else tracks) if track.number in own]


def tracks_of(log: Log, items: Sequence[Timed]) -> list[Track]:
    """The fitting's course through each day that has entries of it, the running day included."""
    days = [day for day in log.last_days(LOOK_BACK + 1) if day.begun is not None]
    begins = [day.begun or 0 for day in days]
    by_day: dict[int, list[Timed]] = {}
    for item in items:
        place = bisect_right(begins, item.ms) - 1
        if place >= 0:
            by_day.setdefault(place, []).append(item)
    read = any(item.entry.body.get("reading") is not None for item in items)
    tracks = [_track(days[place], told, read) for place, told in sorted(by_day.items())]
    return [track for track in tracks if track is not None]


def _track(day: DayRecord, items: Sequence[Timed], read: bool) -> Track | None:
    value: float | None = None if read or "clicks" in items[0].entry.body else 0.0
    steps: list[tuple[float, float]] = [] if value is None else [(0.0, value)]
    for item in items:
        body = item.entry.body
        told = body.get("clicks", body.get("reading"))
        if told is not None:
            value = float(told)
        elif value is not None and body.get("by") is not None:
            value += body["by"]
        if value is not None:
            steps.append(((item.ms - (day.begun or 0)) / HOUR_MS, value))
    if not steps:
        return None
    values = [value for _, value in steps]
    # A vacuum is read below zero; its peak is the reading furthest from it. Steps count from donning, up or down.
    return Track(day.number, steps, day.last_h, max(values, key=abs) if read else max(values))
