"""Ways of fitting other than socks, such as a dial or a vacuum: what each is called, its days, its fact, its sentences.

Where a limb wears no socks they take the place of ply: in the facts, the figure and the table of days.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from statistics import fmean

from plytide.clinic.facts import Fact
from plytide.clinic.reading import Reading
from plytide.clinic.words import count, number, signed, t, word
from plytide.insight.shape import Fitting, LimbSummary

REACH = 7  # days at either end that a fact compares


@dataclass(frozen=True)
class Course:
    """One fitting over the period. `by_day`: its furthest value on each day with an entry of it.

    `beside`: it says how the leg sits and not how full the socket is, so beside socks it has no part in the figure.
    """

    name: str
    by_day: Mapping[str, float]
    latest: float | None
    said: str
    beside: bool


def courses(reading: Reading, side: str, limb: LimbSummary) -> list[Course]:
    """The fittings of a limb, where ply and wear were ticked."""
    if not reading.shows("ply"):
        return []
    edge = reading.first.isoformat(), reading.last.isoformat()
    made = []
    for one in limb["fittings"]:
        by_day = {day: value for day, value in one.get("by_day", []) if edge[0] <= day <= edge[1]}
        made.append(Course(_name(reading, side, one["what"]), by_day, one["latest"], _said(one),
                           one["what"] == "clicks"))  # fmt: skip
    return made


def facts(found: list[Course], reading: Reading) -> list[Fact]:
    """First and last week of each; the last day of the period may not be over, and has no say."""
    made = []
    for course in found:
        known = [value for day, value in sorted(course.by_day.items()) if day < reading.last.isoformat()]
        if len(known) >= 2 * REACH:
            value = f"{number(fmean(known[:REACH]))} → {number(fmean(known[-REACH:]))}"
            made.append(Fact(value, course.name, t("fact.peak.detail")))
        elif course.latest is not None:
            made.append(Fact(number(course.latest), course.name, t("fact.latest")))
    return made


def _name(reading: Reading, side: str, what: str) -> str:
    """The fitting with the unit it was last read in, or with what is counted where it is not read."""
    entered = [e.body for e in reading.of("adjust", side) if e.body["what"] == what]
    if what == "clicks" or not entered:
        return word("what", what)
    units = [body.get("unit") or "" for body in entered if body.get("reading") is not None]
    unit = units[-1] if units else t("what.steps")
    return f"{word('what', what)}, {unit}" if unit else word("what", what)


def _said(one: Fitting) -> str:
    said = [t("fitting.latest", value=number(one["latest"]), days=count(one["days"], "day"))]
    usual, way = one["usual"], one["trend"]
    if "reason" in usual:
        said.append(t("fitting.silent", reason=usual["reason"]))  # type: ignore[typeddict-item]
    elif usual["p50"]:
        said.append(t("fitting.usual", value=number(usual["p50"][-1])))
    if "reason" not in way:
        said.append(t("fitting.trend", **{k: signed(way[k]) for k in ("per_week", "low", "high")}))
    return " ".join(said)
