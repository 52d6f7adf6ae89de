"""The summary as a page of plain text that a prosthetist could be handed: the same facts, the weightiest first.

What a part does not say it does not get to guess: a part that is silent gives its reason, a day without a log says so,
and a wearer who is not fitted by socks is not told how many days of ply are missing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from plytide.data import table
from plytide.entries import Entry
from plytide.insight.lines import HARD, NONE, columns, count, date, moment, num, part, span, wall
from plytide.insight.shape import (
    Compare,
    DaySummary,
    Fitting,
    Forecast,
    LimbSummary,
    Shift,
    Sign,
    Silent,
    SkinPlace,
    SocksPart,
    Spot,
    Summary,
    Trend,
    Usual,
)  # fmt: skip
from plytide.insight.spots import QUIET_DAYS
from plytide.insight.words import days, on_day

DAYS_LISTED = 14
MEASURES = {
    "peak": "Peak", "start": "Start", "sore": "Worst soreness", "comfort": "Comfort", "worn_h": "Hours on the leg",
    "mishaps": "Mishaps",
}  # fmt: skip

# A spot without marks of late is not called healed here: the page says what was entered.
STATES = {"new": "new", "known": "known", "healed": f"no mark on {QUIET_DAYS} or more worn days since"}


def page(summary: Summary, entries: Iterable[Entry] = ()) -> str:
    """The whole page. `entries` are only asked for the names of the socks that the summary speaks of."""
    names = {e.id: str(e.body.get("name", e.id)) for e in entries if e.kind == "sock" and not e.erased}
    zone = next((limb["days"][-1]["zone"] for limb in summary["limbs"].values() if limb["days"]), "UTC")
    lines = [
        f"What the log shows, as of {moment(summary['now'], zone)}, {zone}",
        'Recorded by the wearer ("you"), not verified, not a diagnosis.',
        "Ply: the numbers that the socks are marked with, added up; not a thickness.",
    ]
    if not summary["limbs"]:
        lines += ["", "No limb has an entry yet."]
    lines += part("Signs of falls, whichever leg", [line for sign in summary["signs"] for line in _sign(sign, zone)])
    for side, limb in summary["limbs"].items():
        lines += _limb(side, limb, names, zone)
    done = [p for p in summary["activity"] if p["times"]]
    lines += part(
        "Activity in the last 12 weeks, by the phrases of the functional levels (a clinician assigns a level)",
        [f"{p['level']}  {p['phrase']}: {days(p['days'])}, {count(p['weeks'], 'week')}" for p in done],
    )
    return "\n".join(line.rstrip() for line in lines).replace(HARD, " ") + "\n"


def _limb(side: str, limb: LimbSummary, names: Mapping[str, str], zone: str) -> list[str]:
    title = f"{side.upper()} LIMB"
    if not limb["days"]:
        return ["", title, "=" * len(title), "", "Nothing is logged of this limb yet."]
    return [
        "", title, "=" * len(title),
        *part("Signs that stand", [line for sign in limb["signs"] for line in _sign(sign, zone)] or ["None."]),
        *part("Now", _now(limb, names, zone)),
        *_ply(limb),
        *part("Other ways of fitting", _fittings(limb["fittings"])),
        *part("Sudden shifts", [_shift(shift) for shift in limb["shifts"]]),
        *part("Before and after a change", _compared(limb, zone)),
        *part("Sore spots in the last half year", [_spot(spot) for spot in limb["spots"]]),
        *part("Soreness and ply", [f"{s['plain']}: {s['with_ply']['words']}" for s in limb["spots"] if s["with_ply"]]),
        *part("Phantom pain, asked apart", [_spot(spot) for spot in limb["phantom"]]),
        *part("Skin", _skin(limb)),
        *part("Socks", _socks(limb["socks"], names)),
        *part("Girth", [limb["girth"]["words"]] if limb["girth"] else []),
        *part(f"The last {DAYS_LISTED} days", _days(limb["days"][-DAYS_LISTED:], limb["fittings"])),
    ]  # fmt: skip


def _ply(limb: LimbSummary) -> list[str]:
    if limb["fittings"] and all(day["peak"] is None for day in limb["days"]):
        return part("Ply", ["No ply is logged of this limb."])
    return [
        *part("Usual day", _usual(limb["usual"])),
        *part("Peak to expect", [*_forecast("Today", limb["forecast"]), *_forecast("Next day", limb["tomorrow"])]),
        *part("Trend", _trend(limb["trend"])),
    ]


def _sign(sign: Sign, zone: str) -> list[str]:
    level = table("signs")["levels"][sign["level"]]["title"]
    told = f" Clinic told on {date(wall(sign['told'], zone))}." if sign["told"] else ""
    return [
        f"[{level}] {sign['title']}, since {date(wall(sign['since'], zone))}.{told}",
        f"  {sign['entered']}",
        *([f"  To do: {' '.join(sign['do'])}"] if sign["do"] else []),
        f"  Source: {sign['source']}.",
    ]


def _now(limb: LimbSummary, names: Mapping[str, str], zone: str) -> list[str]:
    on = limb["on"]
    if on is None:
        off = limb["off_since"]
        return [f"Leg off since {moment(off, zone)}." if off else "Not known whether the leg is on."]
    total = "ply not logged" if on["total"] is None else f"{on['total']} ply"
    made = f" ({', '.join(names.get(sock, 'a sock') for sock in on['socks'])}, inner first)" if on["socks"] else ""
    return [f"Leg on: {total}{made}, since {moment(on['since'], zone)}, {on['worn_h']:.1f} h worn today."]


def _usual(usual: Usual | Silent) -> list[str]:
    if "reason" in usual:
        return [_reason(usual)]
    kind = {"all": "", "weekday": ", working days alone", "day_off": ", days off alone"}[usual["kind"]]
    rows = [["Hours on", "Usual", "Middle half", "8 days in 10"]]
    for i, hour in enumerate(usual["hours"]):
        if hour % 2 == 0:
            half, most = _between(usual["p25"][i], usual["p75"][i]), _between(usual["p10"][i], usual["p90"][i])
            rows.append([f"{hour:g}", num(usual["p50"][i]), half, most])
    said = f"Ply by hours since the leg went on; rests on {days(usual['basis_days'])} of this fit{kind}."
    return [said, *columns(rows)]


def _between(low: float, high: float) -> str:
    return num(low) if num(low) == num(high) else f"{num(low)} to {num(high)}"


def _forecast(name: str, cast: Forecast | Silent) -> list[str]:
    if "reason" in cast:
        return [f"{name}: {_reason(cast)}"]
    ranges = [f"{span(one['low'], one['high'])} ply, {one['words']}" for one in (cast["likely"], cast["wide"])]
    hits, of = cast["hits"]
    counted = f"; the first range held on {hits} of the last {of} days." if of else "."
    return [f"{name}: {'; '.join(dict.fromkeys(ranges))}. Rests on {days(cast['basis_days'])}{counted}"]


def _trend(trend: Trend | Silent) -> list[str]:
    if "reason" in trend:
        return [_reason(trend)]
    lines = [
        f"Daily peak {trend['per_week']:+.1f} ply a week ({trend['low']:+.1f} to {trend['high']:+.1f}), now about "
        f"{trend['level']:.1f}; rests on {days(trend['basis_days'])} since {date(trend['since'])}.",
        trend["words"],
    ]
    if trend["book_by"]:
        lines.append(f"To have a socket in time in 9 cases of 10, with the waiting times entered: book by "
                     f"{date(trend['book_by'])}.")  # fmt: skip
    at = trend["at_delivery"]
    if at:
        lines.append(f"A socket ordered now would be back on {date(at['date'])}; peak then {at['p50']} ply "
                     f"({span(at['p10'], at['p90'])}).")  # fmt: skip
    return lines


def _compared(limb: LimbSummary, zone: str) -> list[str]:
    """Each change with every measure before and after it, those of other ways of fitting among them."""
    others = [one.get("compare", []) for one in limb["fittings"]]
    lines = []
    for change in limb["compare"]:
        same = [c for compares in others for c in compares if c["change_id"] == change["change_id"]]
        lines.append(f"{change['what'].replace('_', ' ').capitalize()} on {date(wall(change['at'], zone))}")
        lines += _measures([change, *same])
    return lines


def _measures(changes: Sequence[Compare]) -> list[str]:
    rows = [["", "Before", "After", "Change", "Interval", "Days before, after"]]
    for m in [m for change in changes for m in change["measures"]]:
        between = NONE if m["low"] is None else f"{num(m['low'])} to {num(m['high'])}"
        name = MEASURES.get(m["name"]) or _name(m["name"])
        numbers = [num(m["before"]), num(m["after"]), num(m["shift"])]
        rows.append([name, *numbers, between, f"{m['n_before']}, {m['n_after']}"])
    return columns(rows)


def _fittings(fitted: Sequence[Fitting]) -> list[str]:
    steps = ["Where no reading is entered, these are the steps since the leg went on."] if fitted else []
    return [*steps, *(line for one in fitted for line in _fitting(one))]


def _fitting(fitting: Fitting) -> list[str]:
    latest = "" if fitting["latest"] is None else f", latest {fitting['latest']:g}"
    usual, trend = fitting["usual"], fitting["trend"]
    lines = [f"{_name(fitting['what'])}: {days(fitting['days'])} of this fit{latest}."]
    if "reason" in usual:
        lines.append(f"  Usual: {_reason(usual)}")
    elif usual["hours"]:
        at = {usual["hours"][i]: i for i in (0, len(usual["hours"]) // 2, -1)}
        said = [f"{num(usual['p50'][i])} at {hour:g} h ({num(usual['p10'][i])} to {num(usual['p90'][i])})"
                for hour, i in at.items()]  # fmt: skip
        lines.append(f"  Usual since the leg went on: {', '.join(said)}; rests on {days(usual['basis_days'])}.")
    if "reason" in trend:
        lines.append(f"  Trend: {_reason(trend)}")
    else:
        move = f"{trend['per_week']:+.1f} a week ({trend['low']:+.1f} to {trend['high']:+.1f})"
        lines.append(f"  Daily peak {move}; rests on {days(trend['basis_days'])}. {trend['words']}")
    return lines + [
        f"  Sudden shift by about {num(abs(one['size']))} {'up' if one['size'] > 0 else 'down'} on {date(one['date'])}."
        for one in fitting.get("shifts", [])
    ]


def _shift(shift: Shift) -> str:
    """A shift of ply or hours, with what is asked about it."""
    size, way = num(abs(shift["size"])), "up" if shift["size"] > 0 else "down"
    moved = (
        f"hours on the leg {way} by about {size} a day"
        if shift["code"] == "wear_falling"
        else f"ply {way} by about {size}"
    )
    return f"{date(shift['date'])}: {moved}." + (f" {shift['question']}" if shift["question"] else "")


def _name(what: str) -> str:
    return what.replace("_", " ").capitalize()


def _spot(spot: Spot) -> str:
    name = spot["plain"] if spot["plain"] == spot["trade"] else f"{spot['plain']} ({spot['trade']})"
    feels = f", {', '.join(spot['feels'])}" if spot["feels"] else ""
    return (
        f"{name}: {days(spot['days'])}, {count(spot['marks'], 'mark')}, worst {spot['worst']}, "
        f"latest {spot['latest']} of 10{feels}; {on_day(spot['first'])} to {date(spot['last'])}, "
        f"{STATES[spot['state']]}."
    )


def _skin(limb: LimbSummary) -> list[str]:
    skin = limb["skin"]
    if skin["last"] is None:
        return ["No skin check is logged."]
    ending = "clear" if skin["last_clear"] else "with something entered"
    lines = [f"{count(skin['checks'], 'check')} in half a year, the last on {date(skin['last'])}, {ending}. "
             f"Limit for a mark to fade: {skin['limit_min']:g} minutes."]  # fmt: skip
    return lines + [_place(place) for place in skin["places"]]


def _place(place: SkinPlace) -> str:
    words = table("signs")["words"]["finding"]
    what = ", ".join(words.get(each, each) for each in place["what"])
    fades = ", ".join(f"{on_day(day)} {minutes:g}" for day, minutes in place["fades"][-5:])
    also = [name for name, on in (("a sore spot", place["at_sore"]), ("a tender place", place["at_tender"])) if on]
    return (
        f"{place['plain']}: {what}; {days(place['days'])}, last {date(place['last'])}."
        + (f" Minutes to fade: {fades}." if fades else "")
        + (f" At {' and '.join(also)}." if also else "")
    )


def _socks(socks: SocksPart, names: Mapping[str, str]) -> list[str]:
    worn = [f"{'+'.join(map(str, use['plies']))} = {use['total']} ply for {use['hours']:g} h" for use in socks["used"]]
    lines = [f"Worn in the last 4 weeks, inner first: {'; '.join(worn)}."] if worn else []
    carry = socks["carry"]
    if carry:
        bag = ", ".join(names.get(sock, "a sock") for sock in carry["socks"]) or "nothing more"
        low, high = carry["covers"]
        short = f" Nothing owned makes {', '.join(map(str, carry['missing']))}." if carry["missing"] else ""
        lines.append(f"To carry for {span(low, high)} ply: {bag}.{short} Rests on {carry['rests_on']}.")
    return lines


def _days(listed: Sequence[DaySummary], fittings: Sequence[Fitting]) -> list[str]:
    """A line a day, with a column for each thing that any of the days has."""
    peaks = {_name(one["what"]): dict(one.get("by_day", [])) for one in fittings}
    rows = [["Day", "Start", "Peak", "End", "Mean", *peaks, "Hours", "Sore", "Comfort", "Skin", ""]]
    for day in listed:
        if not day["logged"]:
            rows.append([on_day(day["date"]), *[""] * (len(rows[0]) - 2), "no log"])
            continue
        notes = ["still running"] if day["partial"] else []
        notes += [count(len(day["gaps"]), "gap")] if day["gaps"] else []
        rows.append([
            on_day(day["date"]), num(day["start"]), num(day["peak"]), num(day["end"]), num(day["mean"]),
            *(num(peak.get(day["date"])) for peak in peaks.values()), num(day["worn_h"]), num(day["sore_worst"]),
            num(day["comfort"]), day["skin"] or NONE, ", ".join(notes),
        ])  # fmt: skip
    said = [i for i in range(len(rows[0])) if any(row[i] not in (NONE, "") for row in rows[1:])]
    return columns([[row[i] for i in said] for row in rows]) if listed else []


def _reason(part: Mapping[str, object]) -> str:
    """Why a part says nothing."""
    return str(part["reason"])
