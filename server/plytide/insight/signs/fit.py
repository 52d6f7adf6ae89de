"""Signs in how the limb fills its socket: ply at its limits or rising, sudden shifts, girth, fewer hours on the leg."""

from __future__ import annotations

from collections.abc import Sequence

from plytide.insight import girth
from plytide.insight.clock import named, number
from plytide.insight.day import DayRecord
from plytide.insight.log import Log
from plytide.insight.shape import Shift, Silent, Trend
from plytide.insight.signs.found import BACK_DAYS, Found, begins, run_of_days
from plytide.insight.stats import median
from plytide.insight.words import on_day

WEEK = 7
MOST_DAYS, HOLD_DAYS = 4, 3  # of a week: it begins on most days of one, and ends below three
LIKELY = 0.5  # chance of reaching the ceiling within 90 days from which a rise is worth telling
SHIFT_STANDS = 14  # days
# One or two ply either way is an ordinary swing; what is told is more than that and than the wearer's own scatter, and
# lasts. On 80 stable invented wearers that began a sign every 14 months; 3 and 4 ply planted took 3 days to find.
SHIFT_PLY, SHIFT_SCATTER = 2.5, 1.5
BEFORE, LEAST_BEFORE, LASTS = 14, 7, 4  # worn days before the shift; days on most of which it must still be there
GIRTH_STANDS = 60


def stand(log: Log, trend: Trend | Silent, shifts: Sequence[Shift]) -> list[Found]:
    """The signs of fit that stand now."""
    peaks = {day.number: day for day in log.last_days(BACK_DAYS + 2 * WEEK) if day.peak is not None}
    return [*_limits(log, peaks), *_rise(log, trend), *_shifts(log, shifts), *_girth(log)]


def _limits(log: Log, days: dict[int, DayRecord]) -> list[Found]:
    """Ply at the review limit on most days of a week; at the watch limit today or yesterday."""
    review, watch = int(log.profile["ply_review"]), int(log.profile["ply_watch"])

    def week(day: int, limit: int) -> list[DayRecord]:
        return [d for n in range(day - WEEK + 1, day + 1) if (d := days.get(n)) and (d.peak or 0) >= limit]

    found = []
    today = number(log.today)
    first = run_of_days(
        log, lambda day: len(week(day, review)) >= MOST_DAYS, lambda day: len(week(day, review)) >= HOLD_DAYS
    )
    if first is not None:
        reached = week(today, review)
        logged = sum(n in days for n in range(today - WEEK + 1, today + 1))
        said = {"limit": review, "days": len(reached), "of": logged}
        found.append(Found("ply_review", begins(log, first), _entries(log, reached, review), said))
    lately = [days[n] for n in (today - 1, today) if n in days and (days[n].peak or 0) >= watch]
    if lately:
        last = lately[-1]
        facts: dict[str, object] = {"limit": watch, "peak": last.peak, "date": on_day(last.date)}
        found.append(Found("ply_watch", lately[0].peak_ms or log.ms, _entries(log, lately, watch), facts))
    return found


def _entries(log: Log, days: Sequence[DayRecord], limit: int) -> list[str]:
    """The entries that put the total at a limit or over it on these days."""
    dates = {day.date for day in days}
    items = sorted([*log.lately("don", WEEK + 1), *log.lately("ply", WEEK + 1)])
    return [item.id for item in items if item.date in dates and (item.body.get("total") or 0) >= limit]


def _rise(log: Log, trend: Trend | Silent) -> list[Found]:
    """A rise that is more than chance and more likely than not reaches the ceiling within 90 days."""
    if "reason" in trend or trend["low"] <= 0 or trend["chance"].get("90", 0.0) < LIKELY:
        return []
    facts = {"per_week": f"{trend['per_week']:.1f}", "since": on_day(trend["since"]), "ceiling": trend["ceiling"]}
    return [Found("ply_rise", begins(log, number(trend["since"])), (), facts)]


def _shifts(log: Log, shifts: Sequence[Shift]) -> list[Found]:
    """Sudden shifts of late: a smaller limb, a bigger limb and fewer hours are three different signs."""
    first = named(number(log.today) - SHIFT_STANDS + 1)
    latest = {shift["code"]: shift for shift in sorted(shifts, key=lambda shift: shift["date"])}
    return [
        Found(code, begins(log, number(shift["date"])), (), {"size": _size(shift), "date": on_day(shift["date"])})
        for code, shift in latest.items()
        if shift["date"] >= first and (code == "wear_falling" or _lasts(log, shift))
    ]


def _lasts(log: Log, shift: Shift) -> bool:
    """Whether ply has stayed away from what it was before the shift; a suspected change of socket is a question."""
    if shift["code"] == "unlogged_change":
        return False
    sign = 1 if shift["code"] == "limb_smaller" else -1
    day = number(shift["date"])
    for name in ("start", "peak"):
        values = [(d.number, value) for d in log.present if (value := getattr(d, name)) is not None]
        before = [value for n, value in values if n < day - LASTS][-BEFORE:]
        now = [value for n, value in values if n >= day - LASTS][-LASTS:]
        if len(now) == LASTS and len(before) >= LEAST_BEFORE:
            scatter = 1.4826 * median([abs(value - median(before)) for value in before])
            if sign * (median(now) - median(before)) >= max(SHIFT_PLY, SHIFT_SCATTER * scatter):
                return True
    return False


def _size(shift: Shift) -> str:
    size = abs(shift["size"])
    if shift["code"] == "wear_falling":
        return f"{size:.1f} h"
    return f"{size:.0f} ply" if size >= 1 else "less than a ply"


def _girth(log: Log) -> list[Found]:
    changed = girth.changed(log)
    if changed is None or number(log.today) - number(changed.items[-1].date) > GIRTH_STANDS:
        return []
    facts = {"change": f"{changed.change_cm:+.1f} cm", "from_end": f"{changed.from_end_cm:g}"}
    return [Found("girth_change", changed.items[1].ms, [item.id for item in changed.items], facts)]
