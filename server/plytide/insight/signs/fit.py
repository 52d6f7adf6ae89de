"""Signs in how the limb fills its socket: ply at its limits or rising, sudden shifts, girth, fewer hours on the leg."""

from __future__ import annotations

from collections.abc import Sequence

from plytide.data import table
from plytide.insight import fittings, girth
from plytide.insight.clock import Timed, named, number
from plytide.insight.day import DayRecord
from plytide.insight.log import Log
from plytide.insight.shape import Fitting, Shift, Silent, Trend
from plytide.insight.signs.found import BACK_DAYS, KEEP, Found, begins, ids, peaks_of, run_of_days, starts_of
from plytide.insight.stats import median
from plytide.insight.words import on_day

WEEK = 7
MOST_DAYS = 4  # of a week: it begins on most days of one, and goes on until a fortnight has none
LIKELY = 0.5  # chance of reaching the ceiling within 90 days from which a rise is worth telling
SHIFT_STANDS = 14  # days
# One or two ply either way is an ordinary swing; what is told is more than that and than the wearer's own scatter, and
# lasts. tests/bench/bench_alarms.py has how often that rings on stable invented wearers.
SHIFT_PLY, SHIFT_SCATTER = 2.5, 1.5
SWING, SWING_PLY = 60, 1.0  # worn days whose own swings a shift has to leave behind, and by how much
BEFORE, LEAST_BEFORE, LASTS = 14, 7, 4  # worn days before the shift; days on most of which it must still be there
GIRTH_STANDS = 60
ENDS = 4  # days at either end of a rise whose peaks stand for it


def stand(log: Log, trend: Trend | Silent, shifts: Sequence[Shift], fitted: Sequence[Fitting]) -> list[Found]:
    """The signs of fit that stand now."""
    peaks = {day.number: day for day in log.last_days(BACK_DAYS + KEEP) if day.peak is not None}
    return [*_limits(log, peaks), *_rise(log, trend), *_shifts(log, shifts), *_fittings(log, fitted), *_girth(log)]


def _limits(log: Log, days: dict[int, DayRecord]) -> list[Found]:
    """Ply at the review limit on most days of a week; at the watch limit today or yesterday."""
    review, watch = int(log.profile["ply_review"]), int(log.profile["ply_watch"])

    def reached(day: int, window: int) -> list[DayRecord]:
        return [d for n in range(day - window + 1, day + 1) if (d := days.get(n)) and (d.peak or 0) >= review]

    def met(day: int) -> bool:
        return len(reached(day, WEEK)) >= MOST_DAYS

    found = []
    today = number(log.today)
    first = run_of_days(log, met, lambda day: bool(reached(day, KEEP)))
    if first is not None:
        window = WEEK if met(today) else KEEP
        logged = sum(n in days for n in range(today - window + 1, today + 1))
        at = reached(today, window)
        said = {"limit": review, "days": len(at), "of": logged}
        found.append(Found("ply_review", begins(log, first), ids(peaks_of(log, at)), said))
    lately = [days[n] for n in (today - 1, today) if n in days and (days[n].peak or 0) >= watch]
    if lately:
        last = lately[-1]
        facts: dict[str, object] = {"limit": watch, "peak": last.peak, "date": on_day(last.date)}
        found.append(Found("ply_watch", lately[0].peak_ms or log.ms, ids(peaks_of(log, lately)), facts))
    return found


def _rise(log: Log, trend: Trend | Silent) -> list[Found]:
    """A rise that is more than chance and more likely than not reaches the ceiling within 90 days."""
    if "reason" in trend or trend["low"] <= 0 or trend["chance"].get("90", 0.0) < LIKELY:
        return []
    facts = {"per_week": f"{trend['per_week']:.1f}", "since": on_day(trend["since"]), "ceiling": trend["ceiling"]}
    known = [day for day in log.present if day.number >= number(trend["since"])]
    ends = [*known[:ENDS], *known[ENDS:][-ENDS:]]
    return [Found("ply_rise", begins(log, number(trend["since"])), ids(peaks_of(log, ends)), facts)]


def _shifts(log: Log, shifts: Sequence[Shift]) -> list[Found]:
    """Sudden shifts of late: a smaller limb, a bigger limb and fewer hours are three different signs."""
    first = named(number(log.today) - SHIFT_STANDS + 1)
    latest = {shift["code"]: shift for shift in sorted(shifts, key=lambda shift: shift["date"])}
    found = []
    for code, shift in latest.items():
        day = number(shift["date"])
        evidence = _fewer(log, day) if code == "wear_falling" else _lasting(log, code, day)
        if shift["date"] >= first and evidence:
            facts = {"size": _size(shift), "date": on_day(shift["date"])}
            found.append(Found(code, begins(log, day), ids(evidence), facts))
    return found


def _fewer(log: Log, day: int) -> list[Timed]:
    """The donnings and doffings of the week that ended on a day."""
    dates = [named(day - back) for back in range(WEEK)]
    return sorted(item for kind in ("don", "doff") for item in log.lately(kind, BACK_DAYS) if item.date in dates)


def _lasting(log: Log, code: str, day: int) -> list[Timed]:
    """The entries by which ply has lastingly left what it was before a shift; none where it has not.

    A suspected change of socket is a question and no sign.
    """
    if code == "unlogged_change":
        return []
    for name, told in (("start", starts_of), ("peak", peaks_of)):
        days = [d for d in log.present if getattr(d, name) is not None]
        sides = lasting([(d.number, getattr(d, name)) for d in days], day)
        if sides and (sides[1] > sides[0]) == (code == "limb_smaller"):
            return told(log, [*[d for d in days if d.number < day - LASTS][-LASTS:], *days[-LASTS:]])
    return []


def lasting(values: Sequence[tuple[int, float]], day: int) -> tuple[float, float] | None:
    """The middle before a shift on a day, and what was reached since on most days of some LASTS running.

    `values` are (day number, value). It has to be SHIFT_PLY away, more than the wearer's own scatter, and a ply beyond
    any such days of the weeks before; what was told is not taken back when later days are nearer. Else None.
    """
    before = [value for n, value in values if n < day - LASTS][-SWING:]
    if len(before) < LEAST_BEFORE:
        return None
    middle = median(before[-BEFORE:])
    scatter = 1.4826 * median([abs(value - middle) for value in before[-BEFORE:]])
    least = max(SHIFT_PLY, SHIFT_SCATTER * scatter)
    lows, highs = zip(*_most(before), strict=True)
    for low, high in _most([value for n, value in values if n >= day - LASTS]):
        if low >= max(middle + least, max(lows) + SWING_PLY):
            return middle, low
        if high <= min(middle - least, min(highs) - SWING_PLY):
            return middle, high
    return None


def _most(values: Sequence[float]) -> list[tuple[float, float]]:
    """For each LASTS days running what all but one of them were at least, and at most."""
    runs = (sorted(values[i : i + LASTS]) for i in range(len(values) - LASTS + 1))
    return [(run[1], run[-2]) for run in runs]


def _size(shift: Shift) -> str:
    size = abs(shift["size"])
    if shift["code"] == "wear_falling":
        return f"{size:.1f} h"
    return f"{size:.0f} ply" if size >= 1 else "less than a ply"


def _fittings(log: Log, fitted: Sequence[Fitting]) -> list[Found]:
    """The latest sudden shift of a fitting other than socks that has lasted, held to what is asked of ply."""
    first = named(number(log.today) - SHIFT_STANDS + 1)
    recent = [(shift["date"], part["what"]) for part in fitted for shift in part.get("shifts", ())]
    for date, what in sorted([one for one in recent if one[0] >= first], reverse=True):
        items = fittings.entered(log, BACK_DAYS)[what]
        values = [(track.number, track.peak) for track in fittings.present(log, items)]
        sides = lasting(values, number(date))
        if sides:
            facts = {
                "what": table("signs")["words"]["fitting"][what], "date": on_day(date),
                "before": f"{sides[0]:g}", "after": f"{sides[1]:g}",
            }  # fmt: skip
            days = {day for day, _ in values[-LASTS:]}
            evidence = [item for item in items if number(item.date) in days]
            return [Found("fitting_shift", begins(log, number(date)), ids(evidence), facts)]
    return []


def _girth(log: Log) -> list[Found]:
    changed = girth.changed(log)
    if changed is None or number(log.today) - number(changed.items[-1].date) > GIRTH_STANDS:
        return []
    facts = {"change": f"{changed.change_cm:+.1f} cm", "from_end": f"{changed.from_end_cm:g}"}
    return [Found("girth_change", changed.items[1].ms, [item.id for item in changed.items], facts)]
