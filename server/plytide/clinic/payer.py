"""The sheet for documentation of need: dated facts with their counts and spans, and nothing that claims anything.

A payer asks the clinic for evidence that the limb, the needs or the socket have changed. What a wearer logged is such
evidence, so it is put together here in the order in which such documentation asks: the clinic uses what it finds right.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from statistics import median
from typing import Literal

from plytide.clinic import fittings, words
from plytide.clinic.facts import trend_of
from plytide.clinic.period import ends, mean_of
from plytide.clinic.reading import Reading
from plytide.clinic.words import count, number, t, word
from plytide.insight.shape import LimbSummary

# Code: what it is, and whether the description was read in a payer's document or is from memory, to be checked.
SOCK_CODES = {"transtibial": (("L8420", "multiple"), ("L8470", "single")),
              "transfemoral": (("L8430", "multiple_check"), ("L8480", "single_check"))}  # fmt: skip
FALLS = ("fall", "stumble")
ENDS: tuple[Literal["peak", "start"], ...] = ("peak", "start")


@dataclass(frozen=True)
class Part:
    """A heading and the facts below it; `facts` empty where nothing was logged that says anything."""

    title: str
    facts: list[str]


def sheet(reading: Reading, side: str, limb: LimbSummary) -> list[Part]:
    """The facts of one limb, of what was ticked."""
    made = [
        Part(t("payer.limb"), list(_limb(reading, side, limb))), Part(t("payer.fit"), list(_fit(reading, side, limb))),
        Part(t("payer.skin"), list(_skin(reading, limb))), Part(t("payer.falls"), list(_falls(reading, side))),
        Part(t("payer.wear"), list(_wear(reading, limb))), Part(t("payer.activity"), list(_activity(reading))),
    ]  # fmt: skip
    return [part for part in made if part.facts]


def codes(reading: Reading, side: str) -> list[str]:
    """Codes of socks for this limb, as a reference line."""
    level = reading.limb_profile(side)["level"]
    return [t(f"payer.code.{what}", code=code) for code, what in SOCK_CODES.get(level, ())]


def _limb(reading: Reading, side: str, limb: LimbSummary) -> Iterator[str]:
    days = reading.days(limb)
    for period in limb["periods"]:  # never across a change of the socket: there is nothing to compare
        within = [d for d in days if period["since"] <= d["date"] < (period["until"] or "9999")]
        known = [d["date"] for d in within if d["peak"] is not None and not d["partial"]]
        for name in ENDS:
            both = ends(within, name)
            if both:
                edge = {"from": words.day(known[0], year=True), "to": words.day(known[-1], year=True)}
                yield t(f"payer.{name}", first=number(both[0]), last=number(both[1]), **edge)
    peaks = [d["peak"] for d in days if d["peak"] is not None]
    for key, limit in (("review", "ply_review"), ("ceiling", "ply_ceiling")):
        most = reading.profile.get(limit, {"ply_review": 10, "ply_ceiling": 11}[limit])
        over = sum(p >= most for p in peaks)
        if peaks:
            yield t(f"payer.{key}", limit=most, over=count(over, "day"), of=len(peaks))
    trend = trend_of(limb)
    if trend and reading.shows("ply"):
        yield t("payer.trend", days=count(trend["basis_days"], "day"), **{
            k: number(trend[k]) for k in ("per_week", "low", "high")})  # fmt: skip
    for fact in fittings.facts(fittings.courses(reading, side, limb), reading):
        yield t("payer.fitting", name=fact.name, value=fact.value, detail=fact.detail)
    tape = limb["girth"]
    if tape and tape["against"]:
        yield t("payer.girth", at=words.day(tape["at"], year=True), against=words.day(tape["against"], year=True),
                by=t(f"payer.by.{tape['by']}"), change=number(tape["change_pct"]))  # fmt: skip


def _fit(reading: Reading, side: str, limb: LimbSummary) -> Iterator[str]:
    for change in reading.of("change", side):
        note = change.body.get("note", "")
        said = t("payer.change", date=words.day(reading.date_of(change), year=True),
                 what=word("change", change.body["what"]))  # fmt: skip
        after = next((c for c in limb["compare"] if c["change_id"] == change.id), None)
        shifts = [
            t("payer.shift", name=word("measure", m["name"]), before=number(m["before"]), after=number(m["after"]))
            for m in (after["measures"] if after else []) if None not in (m["before"], m["after"])
        ]  # fmt: skip
        yield " ".join(filter(None, [said, note, "; ".join(shifts) + ("." if shifts else "")]))
    adjusted = reading.of("adjust", side)
    if adjusted:
        yield t("payer.adjusted", times=count(len(adjusted), "time"))
    used = limb["socks"]["used"]
    if used and reading.shows("ply"):
        yield t("payer.socks", stacks=", ".join(" + ".join(map(str, u["plies"])) for u in used[:6] if u["plies"]))


def _skin(reading: Reading, limb: LimbSummary) -> Iterator[str]:
    if not reading.shows("skin"):
        return
    skin = limb["skin"]
    if skin["checks"]:
        yield t("payer.checks", checks=count(skin["checks"], "check"), places=len(skin["places"]))
    for place in skin["places"]:
        yield t("payer.place", place=place["plain"] or t("skin.whole"), days=count(place["days"], "day"),
                what=", ".join(word("finding", w) for w in place["what"]),
                first=words.day(place["first"], year=True), last=words.day(place["last"], year=True))  # fmt: skip
    for spot in limb["spots"] if reading.shows("sore") else []:
        yield t("payer.spot", place=spot["plain"], days=count(spot["days"], "day"), worst=spot["worst"],
                first=words.day(spot["first"], year=True), last=words.day(spot["last"], year=True))  # fmt: skip


def _falls(reading: Reading, side: str) -> Iterator[str]:
    if not reading.shows("mishap"):
        return
    found: dict[str, list[str]] = {}
    for mishap in reading.of("mishap", side):
        found.setdefault(mishap.body["what"], []).append(words.day(reading.date_of(mishap), year=True))
    for what, dates in sorted(found.items(), key=lambda item: (item[0] not in FALLS, item[0])):
        yield t("payer.mishap", what=word("mishap", what).capitalize(), times=count(len(dates), "time"),
                dates=", ".join(dates[-12:]))  # fmt: skip
    if not any(what in found for what in FALLS):
        yield t("payer.no_falls")


def _wear(reading: Reading, limb: LimbSummary) -> Iterator[str]:
    days = reading.days(limb)
    worn = [d["worn_h"] for d in days if d["worn_h"] is not None and not d["partial"]]
    if worn and reading.shows("ply"):
        yield t("payer.worn", mean=number(mean_of(worn)), middle=number(median(worn)),
                days=count(len(worn), "day"), of=count(reading.length, "day"))  # fmt: skip
    comfort = [d["comfort"] for d in days if d["comfort"] is not None]
    if comfort and reading.shows("comfort"):
        yield t("payer.comfort", mean=number(mean_of(comfort)), days=count(len(comfort), "day"))


def _activity(reading: Reading) -> Iterator[str]:
    if not reading.shows("day"):
        return
    for phrase in reading.summary["activity"]:
        if phrase["days"]:
            yield t("payer.phrase", level=phrase["level"], phrase=phrase["phrase"], days=count(phrase["days"], "day"),
                    weeks=count(phrase["weeks"], "week"))  # fmt: skip
