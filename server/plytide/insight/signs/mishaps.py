"""Signs that mishaps of one leg show together: suction lost, the leg that twists or would not go on."""

from __future__ import annotations

from collections.abc import Sequence

from plytide.data import table
from plytide.insight.clock import Timed, number
from plytide.insight.log import Log
from plytide.insight.rules import what_was_entered
from plytide.insight.signs.found import Found, dates, ids, ply_rises, run_of, within
from plytide.insight.words import on_day

WEEK = 7
MONTH = 30
SEAL = ("suction_lost", "valve_opened", "sleeve_leak")
SEAL_TIMES, SEAL_DAYS = 3, 2  # "again and again": three times, and not all on one bad day
TWIST_DAYS = 2
ADDED_HOURS = 12.0  # ply added this long before it twisted has had its chance
NOT_ON_STANDS = 3
SORE_ENOUGH = 4  # moderate pain on 0 to 10 (common practice)
COLOURS = ("redness", "purple", "black", "pale_cold", "cold_wet_end", "spreading")


def stand(log: Log) -> list[Found]:
    """The patterns of mishaps that stand now."""
    found = [_suction(log), _twists(log), _not_on_twice(log), _not_on_and_unwell(log)]
    return [one for one in found if one is not None]


def _of(log: Log, *what: str, days: int = MONTH) -> list[Timed]:
    return [item for item in log.lately("mishap", days) if item.body["what"] in what]


def _suction(log: Log) -> Found | None:
    run = run_of(log.today, _of(log, *SEAL), WEEK, lambda items: len(items) >= SEAL_TIMES and dates(items) >= SEAL_DAYS)
    facts = run and {"times": len(run.items), "days": dates(run.items), "window": WEEK}
    return run and Found("suction_again", run.since, ids(run.items), facts or {})


def _twists(log: Log) -> Found | None:
    """Twisting on more than one day although ply had been added."""
    twists = [item for item in _of(log, "twisted") if ply_rises(log, item.ms, ADDED_HOURS) > 0]
    run = run_of(log.today, twists, WEEK, lambda items: dates(items) >= TWIST_DAYS)
    return run and Found("movement", run.since, ids(run.items), {"days": dates(run.items)})


def _not_on_twice(log: Log) -> Found | None:
    items = _of(log, "cannot_don")
    pairs = [(a, b) for a in items for b in items if number(b.date) - number(a.date) == 1]
    if not pairs or number(log.today) - number(pairs[-1][1].date) > WEEK:
        return None
    first, last = pairs[-1]
    return Found(
        "cannot_don_again", pairs[0][1].ms if len(pairs) > 1 else last.ms, ids([first, last]),
        {"first": on_day(first.date), "last": on_day(last.date)},
    )  # fmt: skip


def _not_on_and_unwell(log: Log) -> Found | None:
    """The leg would not go on, and on the same local day there was pain, a change of colour or illness."""
    for item in reversed(_of(log, "cannot_don", days=NOT_ON_STANDS + 1)):
        beside = _beside(log, item)
        if beside:
            what = " ".join(said for _, said in beside[:1])
            return Found("cannot_don_unwell", item.ms, ids([item, *(other for other, _ in beside)]), {"what": what})
    return None


def _beside(log: Log, item: Timed) -> Sequence[tuple[Timed, str]]:
    beside = []
    for other in within(log, log.items("skin"), NOT_ON_STANDS + 1):
        coloured = any(f["what"] in COLOURS for f in other.body.get("findings") or ())
        ill = other.body.get("unwell") or (other.body.get("fever_c") or 0) >= 38.0
        if other.date == item.date and (coloured or ill):
            beside.append((other, what_was_entered("skin", other.body)))
    for other in within(log, log.items("sore"), NOT_ON_STANDS + 1):
        if other.date == item.date and not other.body.get("phantom") and other.body["intensity"] >= SORE_ENOUGH:
            beside.append((other, f"soreness of {other.body['intensity']}"))
    for other in within(log, log.items("day"), NOT_ON_STANDS + 1):
        if other.date == item.date and "ill" in other.body["tags"]:
            beside.append((other, table("signs")["words"]["tag"]["ill"]))
    return beside
