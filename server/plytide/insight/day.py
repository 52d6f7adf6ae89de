"""One local day of one limb: what was worn when, the gaps, and what else was noted.

Nothing is filled in: where the log cannot speak, there is a gap with its reason and the number is None.
`wear` says how worn hours are counted.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from plytide.insight.clock import HOUR_MS, Timed, day_begins, named, number, written
from plytide.insight.shape import DaySummary, Gap
from plytide.insight.wear import Sitting


@dataclass(frozen=True, slots=True)
class DayRecord:
    """A day's numbers. Hours are since the day's first sign of wear, ply in whole plies."""

    date: str
    number: int  # the date as a day number
    zone: str
    logged: bool  # anything about this limb was entered
    partial: bool  # still running at `now`
    mixed: bool  # the fit changed after the leg went on: neither the old fit's day nor the new one's
    begun: int | None  # instant of the first sign of wear
    doffed: bool  # the last sitting ended with a doffing
    start: int | None
    peak: int | None
    peak_ms: int | None
    end: int | None
    mean: float | None
    worn_h: float | None
    steps: tuple[tuple[float, int], ...]
    on: tuple[tuple[float, float], ...]
    off: tuple[tuple[float, float], ...]
    gaps: tuple[tuple[int, int, str], ...]
    changes: int
    clicks: int | None  # pin lock clicks at the first donning
    sore_worst: int | None
    sore_marks: int
    comfort: float | None
    skin: Literal["clear", "finding"] | None
    mishaps: int
    tags: tuple[str, ...]
    said: list[DaySummary] = field(default_factory=list, compare=False, repr=False)  # what `shaped` has made of it

    @property
    def whole(self) -> bool:
        """Every hour of wear is vouched for: the day is over and has no gap."""
        return self.worn_h is not None and not self.gaps and not self.partial

    @property
    def last_h(self) -> float:
        """Hours from the first sign of wear to the last."""
        return self.on[-1][1] if self.on else 0.0

    def at(self, hour: float) -> int | None:
        """Ply at an hour since the first sign of wear, None before it was said."""
        total = None
        for h, value in self.steps:
            if h > hour:
                break
            total = value
        return total

    def peak_from(self, hour: float) -> int | None:
        """The most ply from an hour on, what was on at that hour included."""
        here = self.at(hour)
        later = [total for h, total in self.steps if h > hour]
        return max([*later, here]) if here is not None else max(later, default=None)


def record(
    date: str,
    zone: str,
    day_starts: int,
    sittings: Sequence[Sitting],
    loose: Sequence[int],
    items: Iterable[Timed],
    tags: tuple[str, ...] = (),
    now: int | None = None,
    on_now: bool = False,
) -> DayRecord:
    """The day's record from its sittings, the doffings no sitting answers to, and its other entries.

    `now` is given while the day, or its last sitting, is still running; `on_now` while the leg is believed on.
    """
    opens = day_begins(date, zone, day_starts)
    closes = day_begins(named(number(date) + 1), zone, day_starts) if now is None else now
    if on_now and now is not None:
        last = sittings[-1]
        sittings = [*sittings[:-1], last._replace(until=max(now, last.until))]
    worn = [(sitting.begun, sitting.until) for sitting in sittings]
    off, gaps = _away(sittings, loose, opens, closes, on_now)
    steps: list[tuple[int, int]] = []
    for step in (step for sitting in sittings for step in sitting.steps):
        if step.total is not None and not (steps and steps[-1][1] == step.total):
            steps.append((step.ms, step.total))
    begun = worn[0][0] if worn else None
    base = begun or 0
    worn_ms = sum(b - a for a, b in worn)
    peak = max((total for _, total in steps), default=None)
    notes = _notes(items)
    return DayRecord(
        date=date, number=number(date), zone=zone, logged=notes.any, partial=now is not None,
        mixed=begun is not None and any(begun < ms for ms in notes.changes),
        begun=begun, doffed=bool(sittings) and sittings[-1].doffed, start=steps[0][1] if steps else None, peak=peak,
        peak_ms=next((ms for ms, total in steps if total == peak), None), end=steps[-1][1] if steps else None,
        mean=_mean(steps, worn), worn_h=worn_ms / HOUR_MS if worn_ms > 0 else None,
        steps=tuple(((ms - base) / HOUR_MS, total) for ms, total in steps),
        on=tuple(((a - base) / HOUR_MS, (b - base) / HOUR_MS) for a, b in worn),
        off=tuple(((a - base) / HOUR_MS, (b - base) / HOUR_MS) for a, b in off),
        gaps=tuple(gaps), changes=max(0, len(steps) - 1), clicks=sittings[0].clicks if sittings else None,
        sore_worst=max(notes.sore, default=None), sore_marks=len(notes.sore),
        comfort=sum(notes.comfort) / len(notes.comfort) if notes.comfort else None,
        skin=notes.skin, mishaps=notes.mishaps, tags=tags,
    )  # fmt: skip


def _away(
    sittings: Sequence[Sitting], loose: Sequence[int], opens: int, closes: int, on_now: bool
) -> tuple[list[tuple[int, int]], list[tuple[int, int, str]]]:
    """The stretches with the leg off between sittings, and the gaps: stretches that nothing speaks for."""
    off: list[tuple[int, int]] = []
    gaps: list[tuple[int, int, str]] = []
    spoken = opens  # the log has spoken for everything up to here
    before: Sitting | None = None
    events: list[tuple[int, Sitting | None]] = [(sitting.begun, sitting) for sitting in sittings]
    events = sorted([*events, *((ms, None) for ms in loose)], key=lambda event: event[0])
    for ms, sitting in events:
        if before is not None and not before.doffed:
            gaps.append((before.until, ms, "no_doff"))
        elif sitting is None or not sitting.donned:
            gaps.append((spoken, ms, "no_don"))
        elif before is not None:
            off.append((before.until, ms))
        before, spoken = sitting, ms if sitting is None else sitting.until
    if before is not None and not before.doffed and not on_now:
        gaps.append((before.until, closes, "no_doff"))
    if not events:
        gaps.append((opens, closes, "no_log"))
    return off, [gap for gap in gaps if gap[1] > gap[0]]


def _mean(steps: Sequence[tuple[int, int]], worn: Sequence[tuple[int, int]]) -> float | None:
    """Ply weighted by the worn time for which it is known."""
    weight = total = 0
    for index, (ms, ply) in enumerate(steps):
        end = steps[index + 1][0] if index + 1 < len(steps) else max(b for _, b in worn)
        for a, b in worn:
            span = min(b, end) - max(a, ms)
            if span > 0:
                weight += span
                total += span * ply
    return total / weight if weight else None


@dataclass
class _Notes:
    any: bool
    sore: list[int]
    comfort: list[int]
    skin: Literal["clear", "finding"] | None
    mishaps: int
    changes: list[int]


def _notes(items: Iterable[Timed]) -> _Notes:
    """What else the day's entries say. Phantom pain is not the limb's soreness and is left out here."""
    notes = _Notes(False, [], [], None, 0, [])
    for item in items:
        notes.any = True
        kind, body = item.entry.kind, item.entry.body
        if kind == "sore" and not body.get("phantom"):
            notes.sore.append(body["intensity"])
        elif kind == "comfort":
            notes.comfort.append(body["score"])
        elif kind == "skin":
            look = _look(body)
            notes.skin = "finding" if "finding" in (look, notes.skin) else look or notes.skin
        elif kind == "mishap":
            notes.mishaps += 1
        elif kind == "change":
            notes.changes.append(item.ms)
    return notes


def _look(body: Mapping[str, Any]) -> Literal["clear", "finding"] | None:
    """What one skin check makes of the day: what was not looked at is not clear."""
    if body.get("end_unseen"):
        return "finding" if any(body.get(said) for said in ("findings", "unwell", "fever_c")) else None
    return "finding" if body.get("findings") or not body["clear"] else "clear"


def silent_day(day: int, zone: str, day_starts: int, tags: tuple[str, ...], now: int | None) -> DayRecord:
    """The record of a day without a single entry about the limb."""
    return record(named(day), zone, day_starts, (), (), (), tags, now)


def shaped(day: DayRecord) -> DaySummary:
    """The record as the summary carries it, made once: most days of a summary are those of the one before."""
    if not day.said:
        day.said.append(_shaped(day))
    return day.said[0].copy()


def _shaped(day: DayRecord) -> DaySummary:
    return DaySummary(
        date=day.date, zone=day.zone, start=day.start, peak=day.peak,
        peak_at=None if day.peak_ms is None else written(day.peak_ms), end=day.end,
        mean=None if day.mean is None else round(day.mean, 2),
        worn_h=None if day.worn_h is None else round(day.worn_h, 2),
        on_at=None if day.begun is None else written(day.begun), off_at=_off_at(day), changes=day.changes,
        logged=day.logged, partial=day.partial, steps=[(round(h, 2), total) for h, total in day.steps],
        off=[(round(a, 2), round(b, 2)) for a, b in day.off],
        gaps=[Gap(start=written(a), end=written(b), why=why) for a, b, why in day.gaps],
        sore_worst=day.sore_worst, sore_marks=day.sore_marks,
        comfort=None if day.comfort is None else round(day.comfort, 1), skin=day.skin, mishaps=day.mishaps,
        tags=list(day.tags),
    )  # fmt: skip


def _off_at(day: DayRecord) -> str | None:
    """When the leg came off for the day; None while it is on or where nobody knows."""
    if day.begun is None or not day.doffed:
        return None
    return written(day.begun + round(day.last_h * HOUR_MS))
