"""Signs in how the limb fills its socket: ply at its limits or rising, sudden shifts, girth, fewer hours on the leg."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from plytide.data import table
from plytide.insight import fittings, girth
from plytide.insight.clock import Timed, named, number
from plytide.insight.day import DayRecord
from plytide.insight.log import Log
from plytide.insight.rules import filled, rules
from plytide.insight.shape import Fitting, Shift
from plytide.insight.signs.found import BACK_DAYS, KEEP, Found, begins, ids, peaks_of, run_of_days, starts_of
from plytide.insight.stats import median
from plytide.insight.trend import rise_of
from plytide.insight.words import on_day

WEEK = 7
MOST_DAYS = 4  # of a week: it begins on most days of one, and goes on until a fortnight has none
SHIFT_STANDS = 14  # days after it was found to have lasted, which it has as many days to show
# One or two ply either way is an ordinary swing; what is told is more than that and than the wearer's own scatter, and
# lasts. tests/bench/bench_alarms.py has how often that rings on stable invented wearers.
SHIFT_PLY, SHIFT_SCATTER = 2.5, 1.5
SWING, SWING_PLY = 60, 1.0  # worn days whose own swings a shift has to leave behind, and by how much
BEFORE, LEAST_BEFORE, LASTS = 14, 7, 4  # worn days before the shift; days on most of which it must still be there
GIRTH_STANDS = 60
ENDS = 4  # days at either end of a rise whose peaks stand for it


def stand(log: Log, shifts: Sequence[Shift], fitted: Sequence[Fitting]) -> list[Found]:
    """The signs of fit that stand now."""
    peaks = {day.number: day for day in log.last_days(BACK_DAYS + KEEP) if day.peak is not None}
    return [*_review(log, peaks), *_watch(log, peaks), *_shifts(log, shifts), *_fittings(log, fitted), *_girth(log)]


def _review(log: Log, days: dict[int, DayRecord]) -> list[Found]:
    """Ply at the review limit, a rise towards the ceiling, or both: one sign that grows, for it is one matter."""
    said = [one for one in (_at_limit(log, days), _rise(log)) if one is not None]
    if not said:
        return []
    facts = {"limit": int(log.profile["ply_review"]), "ceiling": int(log.profile["ply_ceiling"])}
    since, items = min(one.since for one in said), sorted(item for one in said for item in one.items)
    return [Found("ply_review", since, ids(items), facts, " ".join(one.text for one in said))]


class Said(NamedTuple):
    """Half of a sign: what was entered, since when (an instant), and by which entries."""

    text: str
    since: int
    items: Sequence[Timed]


def _at_limit(log: Log, days: dict[int, DayRecord]) -> Said | None:
    """Ply at the review limit on most days of a week of the present fit."""
    review, fitted = int(log.profile["ply_review"]), log.periods[-1].first
    days = {n: day for n, day in days.items() if n >= fitted and not day.mixed}

    def reached(day: int, window: int) -> list[DayRecord]:
        return [d for n in range(day - window + 1, day + 1) if (d := days.get(n)) and (d.peak or 0) >= review]

    def met(day: int) -> bool:
        return len(reached(day, WEEK)) >= MOST_DAYS

    today = number(log.today)
    first = run_of_days(log, met, lambda day: bool(reached(day, KEEP)))
    if first is None:
        return None
    window = WEEK if met(today) else KEEP
    logged = sum(n in days for n in range(today - window + 1, today + 1))
    at = reached(today, window)
    text = filled(rules()["ply_review"]["entered"], log.profile, limit=review, days=len(at), of=logged)
    return Said(text, begins(log, first), peaks_of(log, at))


def _rise(log: Log) -> Said | None:
    """A rise that is more than chance and more likely than not reaches the ceiling soon."""
    rise = rise_of(log, KEEP)
    if rise is None:
        return None
    heading, until = rise
    known = [day for day in log.present if heading["since"] <= day.date <= until]
    ends = [*known[:ENDS], *known[ENDS:][-ENDS:]]
    facts = {"per_week": f"{heading['per_week']:.1f}", "since": on_day(heading["since"]), "until": on_day(until)}
    text = filled(rules()["ply_review"]["entered_also"], log.profile, **facts)
    return Said(text, begins(log, number(heading["since"])), peaks_of(log, ends))


def _watch(log: Log, days: dict[int, DayRecord]) -> list[Found]:
    """Ply at the watch limit today or yesterday."""
    watch, today = int(log.profile["ply_watch"]), number(log.today)
    lately = [days[n] for n in (today - 1, today) if n in days and (days[n].peak or 0) >= watch]
    if not lately:
        return []
    last = lately[-1]
    facts = {"limit": watch, "peak": last.peak, "date": on_day(last.date)}
    return [Found("ply_watch", lately[0].peak_ms or log.ms, ids(peaks_of(log, lately)), facts)]


def _shifts(log: Log, shifts: Sequence[Shift]) -> list[Found]:
    """Sudden shifts of late: a smaller limb, a bigger limb and fewer hours are three different signs.

    Where a change of socket is suspected the wearer is asked; until one is logged the limb may as well be bigger.
    """
    found: dict[str, Found] = {}
    for shift in sorted(shifts, key=lambda shift: shift["date"]):
        code = "limb_bigger" if shift["code"] == "unlogged_change" else shift["code"]
        evidence = _fewer(log, shift["date"]) if code == "wear_falling" else _lasting(log, code, shift["date"])
        if evidence:
            facts = {"size": _size(shift), "date": on_day(shift["date"])}
            found[code] = Found(code, begins(log, number(shift["date"])), ids(evidence), facts)
    return list(found.values())


def _fewer(log: Log, date: str) -> list[Timed]:
    """The donnings and doffings of the week that ended on a day of late."""
    day = number(date)
    if number(log.today) - day >= SHIFT_STANDS:
        return []
    dates = [named(day - back) for back in range(WEEK)]
    return sorted(item for kind in ("don", "doff") for item in log.lately(kind, BACK_DAYS) if item.date in dates)


def _lasting(log: Log, code: str, date: str) -> list[Timed]:
    """The entries by which ply has lastingly left what it was before a shift; none where it has not, or not of late."""
    day = number(date)
    if number(log.today) - day >= 2 * SHIFT_STANDS:
        return []
    for name, told in (("start", starts_of), ("peak", peaks_of)):
        days = [d for d in log.present if getattr(d, name) is not None]
        moved = lasting([(d.number, getattr(d, name)) for d in days], day)
        stands = moved is not None and number(log.today) - moved.met < SHIFT_STANDS
        if moved and stands and (moved.after > moved.before) == (code == "limb_smaller"):
            return told(log, [*[d for d in days if d.number < day - LASTS][-LASTS:], *days[-LASTS:]])
    return []


class Moved(NamedTuple):
    """The middle before a shift, what was reached after it on most of LASTS days, and the day number of the last."""

    before: float
    after: float
    met: int


def lasting(values: Sequence[tuple[int, float]], day: int) -> Moved | None:
    """How (day number, value) moved for more than a few days within SHIFT_STANDS days of a shift; None if it did not.

    It has to be SHIFT_PLY away, more than the wearer's own scatter, and a ply beyond any such days of the weeks
    before; what was told is not taken back when later days are nearer.
    """
    before = [(n, value) for n, value in values if n < day - LASTS][-SWING:]
    if len(before) < LEAST_BEFORE:
        return None
    lately = [value for _, value in before[-BEFORE:]]
    middle = median(lately)
    scatter = 1.4826 * median([abs(value - middle) for value in lately])
    least = max(SHIFT_PLY, SHIFT_SCATTER * scatter)
    _, lows, highs = zip(*_most(before), strict=True)
    for met, low, high in _most([(n, value) for n, value in values if day - LASTS <= n <= day + SHIFT_STANDS]):
        if low >= max(middle + least, max(lows) + SWING_PLY):
            return Moved(middle, low, met)
        if high <= min(middle - least, min(highs) - SWING_PLY):
            return Moved(middle, high, met)
    return None


def _most(values: Sequence[tuple[int, float]]) -> list[tuple[int, float, float]]:
    """For each LASTS days running the last of them, and what all but one of them were at least, and at most."""
    runs = (values[i : i + LASTS] for i in range(len(values) - LASTS + 1))
    ordered = ((run[-1][0], sorted(value for _, value in run)) for run in runs)
    return [(last, run[1], run[-2]) for last, run in ordered]


def _size(shift: Shift) -> str:
    size = abs(shift["size"])
    if shift["code"] == "wear_falling":
        return f"{size:.1f} h"
    return f"{size:.0f} ply" if size >= 1 else "less than a ply"


def _fittings(log: Log, fitted: Sequence[Fitting]) -> list[Found]:
    """The latest sudden shift of a fitting other than socks that has lasted, held to what is asked of ply."""
    recent = [(shift["date"], part["what"]) for part in fitted for shift in part.get("shifts", ())]
    for date, what in sorted(recent, reverse=True):
        items = fittings.entered(log, BACK_DAYS)[what]
        values = [(track.number, track.peak) for track in fittings.present(log, items)]
        moved = lasting(values, number(date))
        if moved and number(log.today) - moved.met < SHIFT_STANDS:
            facts = {
                "what": table("signs")["words"]["fitting"][what], "date": on_day(date),
                "before": f"{moved.before:g}", "after": f"{moved.after:g}",
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
