"""The first half page in numbers: six facts that a hurried reader can act on, and the words of the figure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median
from typing import Literal

from plytide.clinic import words
from plytide.clinic.period import Bin, ends, mean_of
from plytide.clinic.reading import Reading
from plytide.clinic.said import chance
from plytide.clinic.words import count, number, t
from plytide.insight.shape import DaySummary, FitPeriod, LimbSummary, Trend


@dataclass(frozen=True)
class Fact:
    """A number, what it is, and what it rests on."""

    value: str
    name: str
    detail: str


def trend_of(limb: LimbSummary) -> Trend | None:
    """The trend, or None where it says nothing."""
    trend = limb["trend"]
    return None if "reason" in trend else trend


def facts(reading: Reading, limb: LimbSummary, ceiling: int | None, instead: Sequence[Fact] = ()) -> list[Fact]:
    """The facts of one limb, of what was ticked. `ceiling` None: it wears no socks, and `instead` stands for ply."""
    days, found = reading.days(limb), []
    if ceiling is not None:
        found += [*_ply(days, limb["periods"], reading.zone), _ceiling(days, trend_of(limb), ceiling)]
    found += instead
    if reading.shows("ply"):
        found.append(_worn(days, reading.length))
    if reading.shows("sore"):
        found.append(_sore(limb, sum(d["logged"] for d in days)))
    if reading.shows("skin"):
        found.append(_skin(limb))
    if reading.shows("comfort") and (comfort := mean_of([d["comfort"] for d in days if d["logged"]][-7:])) is not None:
        found.append(Fact(number(comfort), t("fact.comfort"), t("fact.comfort.detail")))
    return found


def figure_label(reading: Reading, column: Sequence[Bin], unit: str, ceiling: int | None) -> str:
    """The figure in a sentence, for who cannot see it."""
    edge = {"from": words.day(reading.begun), "to": words.day(reading.last), "unit": t(f"unit.word.{unit}")}
    peaks = [b.peak for b in column if b.peak is not None]
    starts = [b.start for b in column if b.start is not None]
    if not peaks or not starts or ceiling is None:
        return t("figure.label.plain", **edge)
    return t("figure.label", start=number(median(starts)), first=number(peaks[0]), last=number(peaks[-1]),
             ceiling=ceiling, **edge)  # fmt: skip


def _ply(whole: Sequence[DaySummary], periods: Sequence[FitPeriod], zone: str) -> list[Fact]:
    """Peak and start over the present fit: across a change of the socket there is nothing to compare."""
    since = periods[-1]["since"] if periods and periods[-1]["change_id"] else ""
    days = [d for d in whole if d["date"] >= since]
    fit = len(days) < len(whole)
    made = []
    names: tuple[Literal["peak", "start"], ...] = ("peak", "start")
    for name in names:
        known = [v for d in days if (v := d[name]) is not None]
        both = ends(days, name)
        title = t(f"fact.{name}")
        if both and number(both[0]) != number(both[1]):
            detail = t("fact.peak.fit" if fit else "fact.peak.detail")
            made.append(Fact(f"{number(both[0])} → {number(both[1])}", title, detail))
        elif both:
            made.append(Fact(number(both[1]), title, t("fact.same")))
        elif known:
            detail = t("fact.middle.fit" if fit else "fact.middle", days=count(len(known), "day"))
            made.append(Fact(number(median(known)), title, detail))
    late = [d["peak_at"] for d in days[-7:] if d["peak_at"] is not None and not d["partial"]]
    if made and late:
        hours = sorted(words.clock(at, zone) for at in late)
        made[0] = Fact(made[0].value, made[0].name,
                       f"{made[0].detail}; {t('fact.peak.at', time=hours[len(hours) // 2])}")  # fmt: skip
    return made


def _ceiling(days: Sequence[DaySummary], trend: Trend | None, ceiling: int) -> Fact:
    known = [d["peak"] for d in days if d["peak"] is not None]
    over, of = sum(p >= ceiling for p in known), count(len(known), "day")
    detail = t("fact.ceiling.over", days=over, of=of) if over else t("fact.ceiling.under", of=of)
    if trend is not None:
        detail += "; " + t("fact.ceiling.chance", chance=chance(trend["chance"]["30"]))
    return Fact(str(ceiling), t("fact.ceiling"), detail)


def _worn(days: Sequence[DaySummary], length: int) -> Fact:
    worn = mean_of(d["worn_h"] for d in days if not d["partial"])
    value = "–" if worn is None else f"{number(worn)} h"
    logged = sum(d["logged"] for d in days)
    return Fact(value, t("fact.worn"), t("fact.logged", logged=logged, days=count(length, "day")))


def _sore(limb: LimbSummary, logged: int) -> Fact:
    if not limb["spots"]:
        return Fact("0", t("fact.sore.none"), "")
    spot = max(limb["spots"], key=lambda s: (s["days"], s["worst"]))
    marks = spot.get("by_day") or []
    value = f"{marks[0][1]} → {marks[-1][1]}" if len(marks) > 1 else str(spot["latest"])
    detail = t("fact.sore.detail", days=count(spot["days"], "day"), of=logged, worst=spot["worst"])
    return Fact(value, t("fact.sore", place=spot["plain"][:1].lower() + spot["plain"][1:]), detail)


def _skin(limb: LimbSummary) -> Fact:
    skin = limb["skin"]
    if not skin["checks"]:
        return Fact("–", t("fact.skin.never"), "")
    places = skin["places"]
    title = t("fact.skin", checks=count(skin["checks"], "check"))
    if not places:
        return Fact("0", title, t("fact.skin.none"))
    latest = max(places, key=lambda p: p["last"])
    what = ", ".join(words.word("finding", w) for w in latest["what"])
    return Fact(str(sum(p["days"] for p in places)), title,
                t("fact.skin.last", what=what, date=words.day(latest["last"])))  # fmt: skip
