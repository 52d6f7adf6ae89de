"""The summary as a page of plain text that a prosthetist could be handed: the same facts, the weightiest first.

What a part does not say it does not get to guess: a part that is silent gives its reason, a day without a log says so.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from plytide.data import table
from plytide.entries import Entry
from plytide.insight.shape import (
    DaySummary,
    Fitting,
    Forecast,
    LimbSummary,
    Sign,
    Silent,
    SkinPlace,
    SocksPart,
    Spot,
    Summary,
    Trend,
    Usual,
)  # fmt: skip
from plytide.insight.words import days, on_day

WIDTH = 78
DAYS_LISTED = 14
NONE = "-"
HARD = "\u00a0"
MEASURES = {
    "peak": "Peak", "start": "Start", "sore": "Worst soreness", "comfort": "Comfort", "worn_h": "Hours on the leg",
    "mishaps": "Mishaps",
}  # fmt: skip


def page(summary: Summary, entries: Iterable[Entry] = ()) -> str:
    """The whole page. `entries` are only asked for the names of the socks that the summary speaks of."""
    names = {e.id: str(e.body.get("name", e.id)) for e in entries if e.kind == "sock" and not e.erased}
    zone = next((limb["days"][-1]["zone"] for limb in summary["limbs"].values() if limb["days"]), "UTC")
    lines = [
        f"What the log shows, as of {_moment(summary['now'], zone)}, {zone}",
        "Recorded by the wearer, not verified, not a diagnosis.",
        "Ply is a count of socks, not a thickness.",
    ]
    if not summary["limbs"]:
        lines += ["", "No limb has an entry yet."]
    for side, limb in summary["limbs"].items():
        lines += _limb(side, limb, names, zone)
    if summary["signs"]:
        said = [line for sign in summary["signs"] for line in _sign(sign, zone)]
        lines += _part("Signs of no limb in particular", said)
    done = [p for p in summary["activity"] if p["times"]]
    lines += _part(
        "Activity in the last 12 weeks, by the phrases of the functional levels (a clinician assigns a level)",
        [f"{p['level']}  {p['phrase']}: {days(p['days'])}, {_count(p['weeks'], 'week')}" for p in done],
    )
    return "\n".join(line.rstrip() for line in lines).replace(HARD, " ") + "\n"


def _limb(side: str, limb: LimbSummary, names: Mapping[str, str], zone: str) -> list[str]:
    title = f"{side.upper()} LIMB"
    return [
        "", title, "=" * len(title),
        *_part("Signs that stand", [line for sign in limb["signs"] for line in _sign(sign, zone)] or ["None."]),
        *_part("Now", _now(limb, names, zone)),
        *_part("Usual day", _usual(limb["usual"])),
        *_part("Peak to expect", [*_forecast("Today", limb["forecast"]), *_forecast("Next day", limb["tomorrow"])]),
        *_part("Trend", _trend(limb["trend"])),
        *_part("Questions", [shift["question"] for shift in limb["shifts"] if shift["question"]]),
        *_part("Before and after a change", _compare(limb, zone)),
        *_part("Sore spots in the last half year", [_spot(spot) for spot in limb["spots"]]),
        *_part("Soreness and ply", [f"{s['plain']}: {s['with_ply']['words']}" for s in limb["spots"] if s["with_ply"]]),
        *_part("Phantom pain, asked apart", [_spot(spot) for spot in limb["phantom"]]),
        *_part("Skin", _skin(limb)),
        *_part("Socks", _socks(limb["socks"], names)),
        *_part("Other ways of fitting", [_fitting(fitting) for fitting in limb["fittings"]]),
        *_part("Girth", [limb["girth"]["words"]] if limb["girth"] else []),
        *_part(f"The last {DAYS_LISTED} days", _days(limb["days"][-DAYS_LISTED:])),
    ]  # fmt: skip


def _part(title: str, lines: Sequence[str]) -> list[str]:
    """A part with its title; nothing at all where it has no lines."""
    return ["", *textwrap.wrap(title, WIDTH), *(wrapped for line in lines for wrapped in _wrap(line))] if lines else []


def _wrap(line: str) -> list[str]:
    """A line no wider than the page; what follows is set in under its first word."""
    lead = " " * (2 + len(line) - len(line.lstrip(" ")))
    return textwrap.wrap(
        line.lstrip(" "), WIDTH, initial_indent=lead, subsequent_indent=lead + "  ", break_long_words=False,
        break_on_hyphens=False,
    )  # fmt: skip


def _sign(sign: Sign, zone: str) -> list[str]:
    level = table("signs")["levels"][sign["level"]]["title"]
    told = f" Clinic told on {_day(_wall(sign['told'], zone))}." if sign["told"] else ""
    return [
        f"[{level}] {sign['title']}, since {_day(_wall(sign['since'], zone))}.{told}",
        f"  {sign['entered']}",
        *([f"  To do: {' '.join(sign['do'])}"] if sign["do"] else []),
        f"  Source: {sign['source']}.",
    ]


def _now(limb: LimbSummary, names: Mapping[str, str], zone: str) -> list[str]:
    on = limb["on"]
    if on is None:
        off = limb["off_since"]
        return [f"Leg off since {_moment(off, zone)}." if off else "Not known whether the leg is on."]
    total = "ply not logged" if on["total"] is None else f"{on['total']} ply"
    made = f" ({', '.join(names.get(sock, 'a sock') for sock in on['socks'])}, inner first)" if on["socks"] else ""
    return [f"Leg on: {total}{made}, since {_moment(on['since'], zone)}, {on['worn_h']:.1f} h worn today."]


def _usual(usual: Usual | Silent) -> list[str]:
    if "reason" in usual:
        return [_reason(usual)]
    rows = [["Hours on", "Usual", "Middle half", "8 days in 10"]]
    for i, hour in enumerate(usual["hours"]):
        if hour % 2 == 0:
            half = f"{_num(usual['p25'][i])} to {_num(usual['p75'][i])}"
            most = f"{_num(usual['p10'][i])} to {_num(usual['p90'][i])}"
            rows.append([f"{hour:g}", _num(usual["p50"][i]), half, most])
    return [f"Ply by hours since the leg went on; rests on {days(usual['basis_days'])} of this fit.", *_table(rows)]


def _forecast(name: str, cast: Forecast | Silent) -> list[str]:
    if "reason" in cast:
        return [f"{name}: {_reason(cast)}"]
    likely, wide = cast["likely"], cast["wide"]
    hits, of = cast["hits"]
    return [
        f"{name}: {_span(likely['low'], likely['high'])} ply, {likely['words']}; "
        f"{_span(wide['low'], wide['high'])}, {wide['words']}. "
        f"Rests on {days(cast['basis_days'])}" + (f"; right on {hits} of {of} earlier days." if of else "."),
    ]


def _trend(trend: Trend | Silent) -> list[str]:
    if "reason" in trend:
        return [_reason(trend)]
    lines = [
        f"Daily peak {trend['per_week']:+.1f} ply a week ({trend['low']:+.1f} to {trend['high']:+.1f}), now about "
        f"{trend['level']:.1f}; rests on {days(trend['basis_days'])} since {_day(trend['since'])}.",
        trend["words"],
    ]
    if trend["book_by"]:
        lines.append(f"Date to book by, with the waiting times entered: {_day(trend['book_by'])}.")
    at = trend["at_delivery"]
    if at:
        lines.append(f"A socket ordered now would be back on {_day(at['date'])}; peak then {at['p50']} ply "
                     f"({_span(at['p10'], at['p90'])}).")  # fmt: skip
    return lines


def _compare(limb: LimbSummary, zone: str) -> list[str]:
    lines = []
    for change in limb["compare"]:
        lines.append(f"{change['what'].replace('_', ' ').capitalize()} on {_day(_wall(change['at'], zone))}")
        rows = [["", "Before", "After", "Change", "Interval", "Days"]]
        for m in change["measures"]:
            span = NONE if m["low"] is None else f"{_num(m['low'])} to {_num(m['high'])}"
            numbers = [_num(m["before"]), _num(m["after"]), _num(m["shift"])]
            rows.append([MEASURES.get(m["name"], m["name"]), *numbers, span, f"{m['n_before']}, {m['n_after']}"])
        lines += _table(rows)
    return lines


def _spot(spot: Spot) -> str:
    name = spot["plain"] if spot["plain"] == spot["trade"] else f"{spot['plain']} ({spot['trade']})"
    feels = f", {', '.join(spot['feels'])}" if spot["feels"] else ""
    return (
        f"{name}: {days(spot['days'])}, {_count(spot['marks'], 'mark')}, worst {spot['worst']}, "
        f"latest {spot['latest']} of 10{feels}; {on_day(spot['first'])} to {_day(spot['last'])}, {spot['state']}."
    )


def _skin(limb: LimbSummary) -> list[str]:
    skin = limb["skin"]
    if skin["last"] is None:
        return ["No skin check is logged."]
    ending = "clear" if skin["last_clear"] else "with something entered"
    lines = [f"{_count(skin['checks'], 'check')} in half a year, the last on {_day(skin['last'])}, {ending}. "
             f"Limit for a mark to fade: {skin['limit_min']:g} minutes."]  # fmt: skip
    return lines + [_place(place) for place in skin["places"]]


def _place(place: SkinPlace) -> str:
    words = table("signs")["words"]["finding"]
    what = ", ".join(words.get(each, each) for each in place["what"])
    fades = ", ".join(f"{on_day(day)} {minutes:g}" for day, minutes in place["fades"][-5:])
    also = [name for name, on in (("a sore spot", place["at_sore"]), ("a tender place", place["at_tender"])) if on]
    return (
        f"{place['plain']}: {what}; {days(place['days'])}, last {_day(place['last'])}."
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
        lines.append(f"To carry for {_span(low, high)} ply: {bag}.{short} Rests on {carry['rests_on']}.")
    return lines


def _fitting(fitting: Fitting) -> str:
    latest = "" if fitting["latest"] is None else f", latest {fitting['latest']:g}"
    trend = fitting["trend"]
    move = _reason(trend) if "reason" in trend else trend["words"]
    return f"{fitting['what'].replace('_', ' ').capitalize()}: {days(fitting['days'])}{latest}. {move}"


def _days(listed: Sequence[DaySummary]) -> list[str]:
    rows = [["Day", "Start", "Peak", "End", "Mean", "Hours", "Sore", "Comfort", "Skin", ""]]
    for day in listed:
        if not day["logged"]:
            rows.append([on_day(day["date"]), *[""] * 8, "no log"])
            continue
        notes = ["still running"] if day["partial"] else []
        notes += [_count(len(day["gaps"]), "gap")] if day["gaps"] else []
        rows.append([
            on_day(day["date"]), _num(day["start"]), _num(day["peak"]), _num(day["end"]), _num(day["mean"]),
            _num(day["worn_h"]), _num(day["sore_worst"]), _num(day["comfort"]), day["skin"] or NONE, ", ".join(notes),
        ])  # fmt: skip
    return _table(rows) if listed else []


def _reason(part: Mapping[str, object]) -> str:
    """Why a part says nothing."""
    return str(part["reason"])


def _table(rows: Sequence[Sequence[str]]) -> list[str]:
    """Columns as wide as their widest cell. Gaps are hard spaces until the page is done, so that no row is wrapped."""
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    lines = ["  ".join(cell.ljust(w) for cell, w in zip(row, widths, strict=True)).rstrip() for row in rows]
    return [line.replace(" ", HARD) for line in lines]


def _num(value: float | None) -> str:
    return NONE if value is None else f"{value:.1f}".removesuffix(".0")


def _span(low: int, high: int) -> str:
    return f"{low}" if low == high else f"{low} to {high}"


def _count(n: int, thing: str) -> str:
    return f"{n} {thing}" if n == 1 else f"{n} {thing}s"


def _day(text: str) -> str:
    """A date as "3 March 2031"."""
    return f"{on_day(text)} {text[:4]}"


def _moment(at: str, zone: str) -> str:
    """An instant on the wearer's clock."""
    wall = _wall(at, zone)
    return f"{_day(wall)} {wall[11:16]}"


def _wall(at: str, zone: str) -> str:
    return datetime.fromisoformat(at).astimezone(ZoneInfo(zone)).isoformat()
