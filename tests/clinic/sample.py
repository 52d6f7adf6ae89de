"""A summary written by hand, in the shape of insight/shape.py: four weeks of one invented wearer.

It is what the page is drawn from in the tests of the page itself, so that a change in how insight reads entries does
not move them. Two days have no log, the last one is not over, the peak rises, one spot comes back.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

from plytide.entries import Entry
from plytide.insight.shape import DaySummary, LimbSummary, Summary

LAST = date(2031, 6, 12)
NOW = datetime(2031, 6, 12, 13, 15, tzinfo=UTC)
ZONE = "Europe/Berlin"
UNLOGGED = {9, 18}
SOCKS = {"5": 5, "3": 3, "1": 1}
HOURS = [i / 2 for i in range(29)]


def when(day: date, hour: float) -> str:
    """The instant at `hour` local summer time (two hours ahead of UTC) on `day`."""
    moment = datetime(day.year, day.month, day.day, tzinfo=UTC) + timedelta(hours=hour - 2)
    return moment.strftime("%Y-%m-%dT%H:%M:%S.000Z")


def silent(days: int) -> dict[str, Any]:
    return {"reason": f"Not enough days yet: {days} of 3.", "code": "few_days", "days": days}


def day(i: int, last: date = LAST, of: int = 28) -> DaySummary:
    """Day `i` of `of`, counted from the oldest."""
    that = last - timedelta(days=of - 1 - i)
    start, peak = 5 + (i % 9 == 4), 7 + (i * 7 % 5 == 0) + (i > 9) + (i > 21) - (i % 13 == 3)
    on, worn = 7 + (i % 4) / 6, 8.2 + (i * 5 % 11) / 4
    today = i == of - 1
    if i in UNLOGGED:
        return {
            "date": that.isoformat(), "zone": ZONE, "start": None, "peak": None, "peak_at": None, "end": None,
            "mean": None, "worn_h": None, "on_at": None, "off_at": None, "changes": 0, "logged": False,
            "partial": False, "steps": [], "off": [], "gaps": [{"start": when(that, 4), "end": when(that, 28),
            "why": "no_log"}], "sore_worst": None, "sore_marks": 0, "comfort": None, "skin": None, "mishaps": 0,
            "tags": [],
        }  # fmt: skip
    rises = peak - start
    steps = [(0.0, start)] + [(round(1.4 + 2.1 * k + (i % 3) * 0.3, 2), start + k + 1) for k in range(rises)]
    if today:
        steps, worn = steps[:3], 6.1
    sore = next((v for d, v in FRONT if d == i), None)
    skin = None if i % 3 == 1 or today else "finding" if i == 24 else "clear"
    return {
        "date": that.isoformat(), "zone": ZONE, "start": start, "peak": steps[-1][1],
        "peak_at": when(that, on + steps[-1][0]), "end": steps[-1][1], "mean": round((start + peak) / 2, 2),
        "worn_h": round(worn, 1), "on_at": when(that, on), "off_at": None if today else when(that, on + worn + 0.4),
        "changes": len(steps) - 1, "logged": True, "partial": today, "steps": steps, "off": [(4.0, 4.4)],
        "gaps": [{"start": when(that, 12), "end": when(that, 14), "why": "no_doff"}] if i == 14 else [],
        "sore_worst": sore, "sore_marks": 1 if sore is not None else 0, "comfort": 7.0 - (i > 20) - (i % 5 == 0),
        "skin": skin, "mishaps": 1 if i == 16 else 0, "tags": ["hot"] if i in (20, 21, 24) else [],
    }  # fmt: skip


FRONT = [(3, 2), (11, 3), (16, 3), (20, 4), (23, 4), (25, 5), (26, 4)]


def spot(region: str, plain: str, trade: str, height: float, angle: float, marks: list[tuple[int, int]],
         feels: list[str], recurring: bool, first: date = LAST - timedelta(days=27)) -> dict[str, Any]:  # fmt: skip
    by_day = [((first + timedelta(days=i)).isoformat(), v) for i, v in marks]
    return {
        "region": region, "plain": plain, "trade": trade, "height": height, "angle": angle, "days": len(marks),
        "marks": len(marks), "first": by_day[0][0], "last": by_day[-1][0], "worst": max(v for _, v in marks),
        "latest": marks[-1][1], "feels": feels, "state": "known", "recurring": recurring, "with_ply": None,
        "by_day": by_day,
    }  # fmt: skip


def measure(name: str, before: float, after: float, shift: float, low: float, high: float) -> dict[str, Any]:
    return {"name": name, "before": before, "after": after, "shift": shift, "low": low, "high": high,
            "n_before": 21, "n_after": 13}  # fmt: skip


def limb() -> LimbSummary:
    """One limb, every part of the shape filled."""
    days = [day(i) for i in range(28)]
    front = spot("tibial_tubercle", "Bump below the kneecap", "Tibial tubercle", 0.65, 2, FRONT,
                 ["rub", "pressure"], True)  # fmt: skip
    front["with_ply"] = {
        "low_days": 12, "low_sore": 6, "low_rate": (0.5, 0.25, 0.75), "other_days": 14, "other_sore": 1,
        "other_rate": (0.07, 0.01, 0.31), "ratio": 7.0, "p": 0.04,
        "words": "Sore on 6 of 12 days with less ply than usual, and on 1 of 14 other days.",
    }  # fmt: skip
    brim = spot("fibular_head", "Outer bump below the knee", "Fibular head", 0.7, 105, [(6, 2), (14, 3), (21, 3)],
                ["rub"], True)  # fmt: skip
    end = spot("end", "End of the limb", "Distal end", 0.02, 40, [(12, 1), (26, 2)], ["pressure"], False)
    phantom = spot("calf", "Calf", "Gastrocnemius", 0.4, 180, [(8, 4), (22, 3)], ["burn"], False)
    usual = [5 + 3.2 * (1 - 2.718 ** (-h / 5)) for h in HOURS]
    sign = {
        "code": "same_spot", "level": "review", "since": "2031-06-05T02:00:00.000Z", "evidence": [],
        "title": "Same spot sore again",
        "entered": "Bump below the kneecap: sore on 5 of the last 12 days, 4 on 11 June.",
        "do": ["Show your prosthetist at the next visit."], "keep_off": False, "source": "common practice",
        "told": None,
    }  # fmt: skip
    skin = dict(sign, code="long_redness", since="2031-06-09T21:10:00.000Z", title="A mark that stays",
                entered="9 June: redness at the bump below the kneecap still there after 35 min; the limit is 20.",
                source="clinic handouts: 20 min", told="2031-06-10T22:30:00.000Z")  # fmt: skip
    made: dict[str, Any] = {
        "on": {"total": 7, "socks": None, "since": when(LAST, 7.5), "worn_h": 6.1}, "off_since": None, "days": days,
        "usual": {"basis_days": 25, "hours": HOURS, "p10": [u - 1.2 for u in usual], "p25": [u - 0.6 for u in usual],
                  "p50": usual, "p75": [u + 0.7 for u in usual], "p90": [u + 1.4 for u in usual], "kind": "all"},
        "forecast": silent(2), "tomorrow": silent(2),
        "trend": {"since": "2031-03-03", "basis_days": 26, "per_week": 0.45, "low": 0.2, "high": 0.8, "level": 8.9,
                  "ceiling": 11, "reach": {"p10": "2031-07-08", "p50": "2031-08-20", "p90": None},
                  "chance": {"30": 0.18, "90": 0.61, "180": 0.8}, "words": "Up about 2 ply in 4 weeks.",
                  "book_by": "2031-06-17",
                  "at_delivery": {"date": "2031-08-14", "p10": 9, "p50": 11, "p90": 13}},
        "periods": [{"change_id": None, "what": None, "since": "2031-05-16", "until": "2031-05-30", "days": 14},
                    {"change_id": "01978000-0000-7000-8000-000000000001", "what": "padding", "since": "2031-05-30",
                     "until": None, "days": 14}],
        "shifts": [],
        "compare": [{"change_id": "01978000-0000-7000-8000-000000000001", "what": "padding",
                     "at": when(date(2031, 5, 30), 10),
                     "measures": [measure("peak", 7.4, 8.9, 1.5, 1.0, 2.0), measure("sore", 1.0, 2.1, 1.0, -0.5, 2.0),
                                  measure("comfort", 6.8, 6.2, -0.5, -1.0, 0.0),
                                  measure("worn_h", 9.4, 9.7, 0.3, -0.6, 1.1)]}],
        "spots": [front, brim, end], "phantom": [phantom],
        "heat": [{"height": 0.65, "angle": 2, "value": 1.0}, {"height": 0.7, "angle": 105, "value": 0.5}],
        "skin": {"checks": 17, "last": "2031-06-11", "last_clear": True, "limit_min": 20,
                 "places": [{"region": "tibial_tubercle", "plain": "Bump below the kneecap", "trade": "Tibial tubercle",
                             "height": 0.65, "angle": 2, "what": ["redness"], "days": 2, "first": "2031-06-01",
                             "last": "2031-06-09", "fades": [("2031-06-01", 15), ("2031-06-09", 35)], "at_sore": True,
                             "at_tender": False}]},
        "socks": {"wear": [], "carry": None,
                  "used": [{"plies": [5], "total": 5, "hours": 17}, {"plies": [5, 1], "total": 6, "hours": 14},
                           {"plies": [5, 3], "total": 8, "hours": 21}, {"plies": [5, 3, 1], "total": 9, "hours": 11}]},
        "fittings": [], "girth": None, "signs": [sign, skin],
    }  # fmt: skip
    return made  # type: ignore[return-value]


def summary() -> Summary:
    """The whole reading."""
    return {"now": "2031-06-12T13:15:00.000Z", "seq": 412, "limbs": {"right": limb()}, "activity": [
        {"level": "K2", "phrase": "low barriers such as curbs and stairs", "days": 9, "weeks": 4, "times": 11},
        {"level": "K3", "phrase": "varied pace", "days": 4, "weeks": 3, "times": 4}], "signs": []}  # fmt: skip


def entry(n: int, kind: str, body: dict[str, Any], limb: str | None = None, at: str | None = None) -> Entry:
    """An entry with a made-up id and stamp."""
    return Entry(f"01978000-0000-7000-8000-{n:012d}", kind, limb, at or when(LAST, 9), ZONE,
                 f"0198f2c3a7b4-{n:04x}-5f3a9c1e", False, body)  # fmt: skip


NEED = ["01978000-0000-7000-8000-000000000201", "01978000-0000-7000-8000-000000000202"]


def entries() -> list[Entry]:
    """What the page reads as it was written: who, what is asked for, what went wrong."""
    return [
        entry(100, "profile", {"name": "Marta", "limbs": [{
            "side": "right", "level": "transtibial", "amputated_on": "2029-10-02",
            "suspension": ["pin_lock", "sleeve"], "fitted_by": ["socks"], "functional_level": "K3"}]}),
        entry(1, "change", {"what": "padding", "note": "pad at the back"}, "right", when(date(2031, 5, 30), 10)),
        entry(102, "mishap", {"what": "stumble", "hurt": False, "note": "kerb in the rain"}, "right",
              when(date(2031, 6, 1), 17)),
        entry(201, "need", {"text": "Kneel in the garden for ten minutes", "firm": True, "order": 1}),
        entry(202, "need", {"text": "Put it on with one hand", "firm": False, "order": 2}),
        entry(203, "question", {"text": "Is this socket at its limit, and how would I know?", "order": 1}),
        entry(204, "question", {"text": "Can I try a test socket before the next one is made?", "order": 2}),
        entry(205, "option", {"name": "Seal liner with suction", "kind": "suspension",
                              "meets": {NEED[0]: "yes", NEED[1]: "partly"}, "note": ""}),
        entry(206, "option", {"name": "Pin lock as now", "kind": "suspension",
                              "meets": {NEED[0]: "no", NEED[1]: "yes"}, "note": ""}),
        entry(207, "visit", {"on": "2031-06-13", "purpose": "Sore spot, and whether a new socket is due"}),
    ]  # fmt: skip
