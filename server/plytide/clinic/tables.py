"""The rows of the page's tables: plain texts, made from the summary and from what the wearer wrote."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from plytide.clinic import words
from plytide.clinic.fittings import Course
from plytide.clinic.period import Bin, Unit
from plytide.clinic.reading import Reading
from plytide.clinic.said import chance
from plytide.clinic.words import count, number, signed, t, word
from plytide.insight.shape import Compare, DaySummary, LimbSummary, Spot, Trend

Row = list[str]
Key = str | Course  # what a column of the table of days holds: a part of the day, or another fitting
FADES_SHOWN = 4  # the latest minutes to fade of one place
MISHAPS_SHOWN = 12  # the latest ones; the figure and the downloads have them all


@dataclass(frozen=True)
class Table:
    """`numeric`: the columns that are numbers; `long`: those of words, the only ones whose lines may break.

    A row of fewer cells than the head says its last one over the rest.
    """

    head: Row
    rows: list[Row]
    numeric: frozenset[int] = frozenset()
    long: frozenset[int] = frozenset()


def spots(found: Sequence[Spot]) -> Table:
    """Sore spots in the order of their numbers on the drawing."""
    head = ["", *(t(f"spots.{k}") for k in ("place", "days", "first", "last", "worst", "latest", "feels", "ply"))]
    rows = []
    for i, s in enumerate(found, 1):
        ply = s["with_ply"]["words"] if s["with_ply"] else ""
        rows.append([str(i), _place(s["plain"], s["trade"]), str(s["days"]), words.short_day(s["first"]),
                     words.short_day(s["last"]), str(s["worst"]), str(s["latest"]),
                     ", ".join(word("feel", f) for f in s["feels"]), ply])  # fmt: skip
    if not any(row[-1] for row in rows):
        head, rows = head[:-1], [row[:-1] for row in rows]
    return Table(head, rows, frozenset({2, 5, 6}), frozenset({1, 7, 8}))


def skin(limb: LimbSummary) -> list[tuple[str, str]]:
    """Findings by place: where, and what was seen there on which days, with the minutes that marks took to fade."""
    rows = []
    for place in limb["skin"]["places"]:
        at = t("skin.whole") if place["height"] is None else _place(place["plain"], place["trade"])
        near = [t(f"skin.{k}") for k in ("at_sore", "at_tender") if place[k]]
        what = ", ".join(word("finding", w) for w in place["what"])
        edge = {"first": words.short_day(place["first"]), "last": words.short_day(place["last"])}
        said = [t("skin.once" if place["days"] == 1 else "skin.days", what=what.capitalize(),
                  days=count(place["days"], "day"), **edge)]  # fmt: skip
        if place["fades"]:
            latest = place["fades"][-FADES_SHOWN:]
            fades = [t("skin.min", date=words.short_day(d), minutes=number(m, 0)) for d, m in latest]
            said.append(t("skin.fades", fades=", ".join(fades)))
        rows.append((", ".join([at, *near]), " ".join(said)))
    return rows


def socks(limb: LimbSummary) -> Table:
    rows = [[" + ".join(map(str, u["plies"])) or "–", str(u["total"]), number(u["hours"], 0)]
            for u in limb["socks"]["used"][:8]]  # fmt: skip
    return Table([t("socks.on"), t("socks.total"), t("socks.hours")], rows, frozenset({1, 2}))


def mishaps(reading: Reading, side: str) -> Table:
    rows = []
    for e in reversed(reading.of("mishap", side)[-MISHAPS_SHOWN:]):
        how = [t(f"mishap.{k}") for k in ("hurt", "head", "cannot_stand") if e.body.get(k)]
        rows.append([words.moment(e.at, e.zone), word("mishap", e.body["what"]), ". ".join(
            filter(None, [", ".join(how), e.body.get("note", "")]))])  # fmt: skip
    return Table([t("mishap.when"), t("mishap.what"), t("mishap.how")], rows, long=frozenset({1, 2}))


def compare(reading: Reading, one: Compare) -> Table:
    """Before and after one change, in what was ticked."""
    rows = []
    for m in one["measures"]:
        tick = {"sore": "sore", "comfort": "comfort"}.get(m["name"], "ply")
        if not reading.shows(tick) or not m["n_before"] + m["n_after"]:
            continue
        shift = t("fit.few")
        if m["shift"] is not None and m["low"] is not None and m["high"] is not None:
            span = t("range", low=signed(m["low"]), high=signed(m["high"]))
            shift = f"{signed(m['shift'])} ({span})"
        rows.append([word("measure", m["name"]), f"{number(m['before'])} ({m['n_before']})",
                     f"{number(m['after'])} ({m['n_after']})", shift])  # fmt: skip
    head = [t("fit.measure"), t("fit.before"), t("fit.after"), t("fit.shift")]
    return Table(head, rows, frozenset({1, 2, 3}), frozenset({0}))


def girth(limb: LimbSummary) -> Table | None:
    """The latest tape, a column a level."""
    tape = limb["girth"]
    if tape is None:
        return None
    head = [t("girth.from"), *(number(end) for end, _, _ in tape["marks"])]
    rows = [[t("girth.girth"), *(number(girth) for _, girth, _ in tape["marks"])]]
    if any(change is not None for _, _, change in tape["marks"]):
        changes = (change for _, _, change in tape["marks"])
        rows.append([t("girth.change"), *("–" if change is None else signed(change) for change in changes)])
    return Table(head, rows, frozenset(range(1, len(head))))


def trend(one: Trend) -> list[tuple[str, str]]:
    """The way to the ceiling as terms and what they come to."""
    reach, delivery = one["reach"], one["at_delivery"]
    odds = {f"d{k}": chance(one["chance"][k]) for k in ("30", "90", "180")}
    when = [t("trend.reach.none")]
    if reach and reach["p50"]:
        when = [t("trend.reach.value", p50=words.day(reach["p50"], year=True))]
    if reach and reach["p10"]:
        when.append(t("trend.reach.from", p10=words.day(reach["p10"], year=True)))
    rows = [
        (t("trend.week"), t("trend.week.value", per_week=signed(one["per_week"]), low=signed(one["low"]),
                            high=signed(one["high"]))),
        (t("trend.chance", ceiling=one["ceiling"]), t("trend.chance.value", **odds)),
        (t("trend.reach"), ", ".join(when)),
    ]  # fmt: skip
    if delivery:
        rows.append((t("trend.delivery"), t("trend.delivery.value", date=words.day(delivery["date"]), **{
            k: delivery[k] for k in ("p10", "p50", "p90")})))  # fmt: skip
    return rows


def days(reading: Reading, side: str, column: Sequence[Bin], unit: Unit, ply: bool, courses: Sequence[Course]) -> Table:
    """Newest first: every day with the times, or every week or month with its middle day.

    `ply`: whether the limb wears socks; other fittings stand in their place.
    """
    if unit == "day":
        return _single(reading, side, column, ply, () if ply else courses)
    return _several(reading, column, unit, ply, () if ply else courses)


def _single(reading: Reading, side: str, column: Sequence[Bin], ply: bool, courses: Sequence[Course]) -> Table:
    keys: list[Key] = ["day", *(["on", "off"] if reading.shows("ply") else []), *(["start", "peak"] if ply else [])]
    keys += ["hours", *courses] if reading.shows("ply") else []
    keys += [k for k in ("comfort", "sore", "skin") if reading.shows(k)]
    if reading.shows("day", "mishap"):
        keys.append("kind")
    rows = []
    for b in reversed(column):
        if not b.logged:
            rows.append([words.week_day(b.first), t("days.none")])
        else:
            rows.append([_read(b, k) if isinstance(k, Course) else _cell(k, b.days[0], reading, side) for k in keys])
    kind = frozenset(i for i, k in enumerate(keys) if k == "kind")
    return Table(_named(keys), rows, _numbers(keys), kind)


def _cell(key: str, d: DaySummary, reading: Reading, side: str) -> str:
    match key:
        case "day":
            return words.week_day(d["date"])
        case "on":
            return words.clock(d["on_at"], d["zone"]) or "–"
        case "off":
            if d["off_at"] is None:
                return t("days.still") if d["partial"] and d["on_at"] else t("days.unknown") if d["on_at"] else "–"
            return words.clock(d["off_at"], d["zone"])
        case "peak":
            return t("days.sofar", n=d["peak"]) if d["partial"] and d["peak"] is not None else _whole(d["peak"])
        case "start":
            return _whole(d["start"])
        case "hours":
            return number(d["worn_h"])
        case "comfort":
            return number(d["comfort"]) if d["comfort"] is not None else ""
        case "sore":
            return "" if d["sore_worst"] is None else str(d["sore_worst"])
        case "skin":
            return t({"clear": "days.clear", "finding": "days.finding"}.get(d["skin"] or "", "days.unchecked"))
    tags = [word("tag", x) for x in d["tags"]] if reading.shows("day") else []
    went = [word("mishap", e.body["what"]) for e in reading.of("mishap", side) if reading.date_of(e) == d["date"]]
    return ", ".join(tags + went)


def _several(reading: Reading, column: Sequence[Bin], unit: Unit, ply: bool, courses: Sequence[Course]) -> Table:
    keys: list[Key] = [unit, "logged", *(["start", "peak"] if ply else [])]
    keys += ["hours", *courses] if reading.shows("ply") else []
    keys += [k for k in ("comfort", "sore", "skin") if reading.shows(k)]
    rows = []
    for b in reversed(column):
        name = words.month(b.first) if unit == "month" else words.day(b.first, year=True)
        checks = [d["skin"] for d in b.days if d["skin"]]
        cells = {
            unit: name, "logged": str(b.logged), "start": number(b.start), "peak": number(b.peak),
            "hours": number(b.worn_h), "comfort": number(b.comfort), "sore": "" if b.sore is None else str(b.sore),
            "skin": t("days.found", found=checks.count("finding"), checks=len(checks)) if checks else "",
        }  # fmt: skip
        made = [_read(b, k) if isinstance(k, Course) else cells[k] for k in keys]
        rows.append(made if b.logged else [name, t("days.none")])
    return Table(_named(keys), rows, _numbers(keys))


def _read(b: Bin, course: Course) -> str:
    """What another fitting was on the middle day of a bin."""
    return "" if (value := b.middle_of(course.by_day)) is None else number(value)


def _named(keys: Sequence[Key]) -> Row:
    return [k.name if isinstance(k, Course) else t(f"days.{k}") for k in keys]


def _numbers(keys: Sequence[Key]) -> frozenset[int]:
    right = {"on", "off", "start", "peak", "hours", "comfort", "sore", "logged"}
    return frozenset(i for i, k in enumerate(keys) if isinstance(k, Course) or k in right)


def _place(plain: str, trade: str) -> str:
    return f"{plain} ({trade})" if trade and trade != plain else plain


def _whole(value: int | None) -> str:
    return "–" if value is None else str(value)
