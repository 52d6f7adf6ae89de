"""The usual day: ply by hours since donning over the last weeks of the present fit, and today against it.

Working days and days off are told apart only where they really differ in this wearer's log. Works on any fitting that
is kept as steps through the day (`Track`), ply being the first of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import trunc

from plytide.insight.clock import HOUR_MS, number, weekend
from plytide.insight.day import DayRecord
from plytide.insight.log import Log
from plytide.insight.shape import Silent, Usual, UsualNow
from plytide.insight.stats import hodges_lehmann, mann_whitney, quantile
from plytide.insight.words import days

LOOK_BACK = 28  # local days
LEAST_DAYS = 5
LEAST_APART = 8, 4  # working days and days off that are needed to tell them apart
APART_P, APART_PLY = 0.05, 1.0
STEP_H = 0.5
GRID = [index * STEP_H for index in range(49)]  # a day's hours


@dataclass(frozen=True, slots=True)
class Track:
    """One day of one fitting: its steps as (hours since donning, value), the hours it was followed, its peak."""

    number: int
    steps: Sequence[tuple[float, float]]
    last_h: float
    peak: float

    def at(self, hour: float) -> float | None:
        """The value at an hour, None before the first step."""
        value = None
        for h, here in self.steps:
            if h > hour:
                break
            value = here
        return value


def tracks(records: Sequence[DayRecord]) -> list[Track]:
    """Days of ply as tracks."""
    return [Track(day.number, day.steps, day.last_h, day.peak) for day in records if day.peak is not None]


def usual_of(log: Log) -> Usual | Silent:
    """The usual day of ply, with today against it while the leg is on."""
    part = over(tracks(log.present[-LOOK_BACK:]), number(log.today))
    if "reason" not in part:
        part["now"] = _now(log, part)
    return part


def over(known: Sequence[Track], today: int) -> Usual | Silent:
    """The usual day from tracks of finished days of the same fit."""
    lately = [track for track in known if today - LOOK_BACK <= track.number < today]
    if len(lately) < LEAST_DAYS:
        return Silent(
            reason=f"Not enough days yet: {days(len(lately))} with this fit in four weeks, {LEAST_DAYS} are needed.",
            code="few_days", days=len(lately),
        )  # fmt: skip
    off: list[Track] = []
    working: list[Track] = []
    for track in lately:
        (off if weekend(track.number) else working).append(track)
    apart = differ(working, off)
    if apart:
        lately = off if weekend(today) else working
    hours: list[float] = []
    columns: list[list[float]] = []
    for hour in GRID:
        here = [value for track in lately if track.last_h >= hour and (value := track.at(hour)) is not None]
        if len(here) >= min(LEAST_DAYS, len(lately)) and 2 * len(here) >= len(lately):
            hours.append(hour)
            columns.append([round(quantile(sorted(here), p), 2) for p in (0.1, 0.25, 0.5, 0.75, 0.9)])
        elif hours:
            break
    lines = [list(line) for line in zip(*columns, strict=True)] if columns else [[], [], [], [], []]
    return Usual(
        basis_days=len(lately), hours=hours, p10=lines[0], p25=lines[1], p50=lines[2], p75=lines[3],
        p90=lines[4], kind=("day_off" if weekend(today) else "weekday") if apart else "all",
    )  # fmt: skip


def differ(working: Sequence[Track], off: Sequence[Track]) -> bool:
    """Whether days off really differ: at least a ply between their peaks, and more than chance would give."""
    if len(working) < LEAST_APART[0] or len(off) < LEAST_APART[1]:
        return False
    one, other = [track.peak for track in working], [track.peak for track in off]
    return abs(hodges_lehmann(one, other).shift) >= APART_PLY and mann_whitney(one, other).two_sided < APART_P


def _now(log: Log, part: Usual) -> UsualNow | None:
    today = log.day(log.today)
    if log.on is None or today is None or today.begun is None or today.end is None or not part["hours"]:
        return None
    hour = (log.ms - today.begun) / HOUR_MS
    first, last = part["hours"][0], part["hours"][-1]
    if not first <= hour <= last + STEP_H:
        return None
    middle = part["p50"][round((min(hour, last) - first) / STEP_H)]
    return UsualNow(hour=round(hour, 2), total=today.end, usual=middle, above=trunc(today.end - middle))
