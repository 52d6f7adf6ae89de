"""The page behind a clinic link: from a reading to HTML without any script.

The order is the reader's: who and why, what cannot wait, the whole period in one figure with six facts; then what the
wearer asks, and after that everything it rests on, down to the single day.
"""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from plytide.clinic import asks, facts, fittings, head, limbs, payer, tables, words
from plytide.clinic.daychart import LAST_DAYS, through_a_day
from plytide.clinic.figure import Story, figure
from plytide.clinic.fittings import Course
from plytide.clinic.glyphs import glyph
from plytide.clinic.period import Unit, bins, unit_of
from plytide.clinic.reading import Reading
from plytide.clinic.said import own_summary
from plytide.clinic.words import Language, t, word
from plytide.insight.shape import LimbSummary, Sign
from plytide.insight.spots import QUIET_DAYS

SPOT_ROWS = 4  # sore spots that get a row in the figure; the table has them all
NOTES_SHOWN = 60  # the latest ones
CHANGES_SHOWN = 4  # the latest changes, each with its before and after
LEVELS = ("emergency", "same_day", "review", "watch")


@dataclass(frozen=True)
class Section:
    """Everything about one limb, ready for the template."""

    side: str
    title: str
    empty: bool
    signs: list[dict[str, Any]]
    figure: Markup
    unit: Unit
    ply: bool
    facts: list[facts.Fact]
    day: Markup | None
    usual_silent: str
    trend: list[tuple[str, str]]
    trend_basis: str
    spots: tables.Table
    views: list[limbs.Picture]
    single: int  # sore marks that belong to no spot
    limb: LimbSummary
    socks: tables.Table
    skin: list[tuple[str, str]]
    unseen: int  # skin checks that could not see the end of the limb
    mishaps: tables.Table
    compare: list[tuple[str, tables.Table]]
    fittings: list[Course]
    girth: tables.Table | None
    days: tables.Table


def render(
    reading: Reading, *, style: str, done: str = "", back: str = "", sheet: str = "",
    downloads: Sequence[tuple[str, str]] = (),
) -> str:  # fmt: skip
    """The whole page.

    `done`: where its button posts to; `back`: where a wearer who only looked goes back to; `sheet`: where the dated
    facts are; `downloads`: (form, its address).
    """
    with words.speaking(reading.language):
        reading = replace(reading, summary=own_summary(reading.summary))
        ground = limbs.Ground()
        every = [section(reading, side, limb, ground)
                 for side in ("right", "left") if (limb := reading.summary["limbs"].get(side))]  # fmt: skip
        sections = [s for s in every if not s.empty] or every
        return _filled(
            "page", reading=reading, style=Markup(style), sections=sections,
            head=head.head(reading, [s.side for s in sections]), loose=signs(reading, reading.summary["signs"]),
            asks=asks.asks(reading), downloads=downloads, done=done, back=back, sheet=sheet,
            activity=reading.summary["activity"], empty=not any(not s.empty for s in every),
        )  # fmt: skip


def payer_sheet(reading: Reading, *, style: str, back: str = "") -> str:
    """The sheet for documentation of need."""
    with words.speaking(reading.language):
        reading = replace(reading, summary=own_summary(reading.summary))
        limbs_ = [(side, limb) for side in ("right", "left") if (limb := reading.summary["limbs"].get(side))]
        made = [(t(f"limb.{side}"), payer.sheet(reading, side, limb), payer.codes(reading, side))
                for side, limb in limbs_]  # fmt: skip
        return _filled(
            "payer", style=Markup(style), head=head.head(reading, [side for side, _ in limbs_]), limbs=made, back=back
        )


def plain(name: str, *, style: str, language: Language = "en", **values: object) -> str:
    """One of the small pages: code, closed."""
    with words.speaking(language):
        return _filled(name, style=Markup(style), **values)


def section(reading: Reading, side: str, limb: LimbSummary, ground: limbs.Ground) -> Section:
    """One limb of the reading."""
    days = reading.days(limb)
    column = bins(days, reading.begun, reading.last)
    unit = unit_of(reading.begun, reading.last)
    trend = facts.trend_of(limb)
    ceiling = trend["ceiling"] if trend else reading.profile.get("ply_ceiling", 11)
    ply = reading.shows("ply") and any(d["peak"] for d in days)  # a limb without socks has none, or 0
    found = fittings.courses(reading, side, limb)
    usual = limb["usual"]
    spots = limb["spots"] if reading.shows("sore") else []
    story = Story(
        bins=column, unit=unit, ceiling=ceiling, trend=trend if ply else None, ply=ply,
        wear=reading.shows("ply"), courses=[(c.name, [b.middle_of(c.by_day) for b in column]) for c in found
                                            if not (ply and c.beside)],
        spots=[(f"{i} {s['plain']}", s.get("by_day") or []) for i, s in enumerate(spots[:SPOT_ROWS], 1)],
        skin={d["date"]: d["skin"] == "clear" for d in days if d["skin"]} if reading.shows("skin") else {},
        comfort=reading.shows("comfort") and any(d["comfort"] is not None for d in days),
        changes=[(reading.date_of(e), word("change", e.body["what"])) for e in reading.of("change", side)],
        mishaps=[reading.date_of(e) for e in reading.of("mishap", side)],
    )  # fmt: skip
    return Section(
        side=side, title=t(f"limb.{side}"),
        empty=not (any(d["logged"] for d in days) or limb["spots"] or limb["heat"] or limb["skin"]["checks"]),
        signs=signs(reading, limb["signs"]),
        figure=figure(story, facts.figure_label(reading, column, unit, ceiling if ply else None)), unit=unit, ply=ply,
        facts=facts.facts(reading, limb, ceiling if ply else None, [] if ply else fittings.facts(found, reading)),
        day=None if "reason" in usual or not ply else through_a_day(usual, days, ceiling),
        usual_silent=str(usual.get("reason", "")),
        trend=tables.trend(trend) if trend and ply else [],
        trend_basis=_basis(limb) if ply else "",
        spots=tables.spots(limb["spots"]), views=limbs.pictures(reading, side, limb, ground),
        single=_marks(reading, side) - sum(s["marks"] for s in limb["spots"]), limb=limb,
        socks=tables.socks(limb), skin=tables.skin(limb),
        unseen=sum(bool(e.body.get("end_unseen")) for e in reading.of("skin", side)),
        mishaps=tables.mishaps(reading, side),
        compare=[(f"{word('change', c['what'])}, {words.day(c['at'], year=True)}", tables.compare(reading, c))
                 for c in limb["compare"][-CHANGES_SHOWN:]],
        fittings=found, girth=tables.girth(limb), days=tables.days(reading, side, column, unit, ply, found),
    )  # fmt: skip


def signs(reading: Reading, standing: Sequence[Sign]) -> list[dict[str, Any]]:
    """Signs, gravest first, with the days of the entries that they rest on."""
    evidence = {i for sign in standing for i in sign["evidence"]}
    at = {e.id: reading.date_of(e) for e in reading.entries if e.id in evidence}
    found = []
    for sign in sorted(standing, key=lambda s: (LEVELS.index(s["level"]), s["since"])):
        days = sorted({at[i] for i in sign["evidence"] if i in at})
        since, told = reading.date_at(sign["since"]), sign["told"] and reading.date_at(sign["told"])
        days = [words.short_day(d) for d in days]
        found.append({**sign, "glyph": glyph(sign["level"]), "days": days, "since": since, "told": told})
    return found


@cache
def style(font: str = "") -> str:
    """The page's style sheet; `font` is the address of the font file, or empty for the reader's own fonts."""
    face = f'@font-face{{font-family:"Commissioner Variable";src:url("{font}") format("woff2");'
    face += "font-weight:100 900;font-display:swap}\n"
    return (face if font else "") + files(__package__).joinpath("style.css").read_text("utf-8")


@cache
def style_hash(text: str) -> str:
    """What a content security policy calls this style sheet."""
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()


def _marks(reading: Reading, side: str) -> int:
    return sum(not e.body.get("phantom") for e in reading.of("sore", side))


def _basis(limb: LimbSummary) -> str:
    trend = limb["trend"]
    if "reason" in trend:
        return trend["reason"]  # type: ignore[typeddict-item]
    return t("trend.basis", days=words.count(trend["basis_days"], "day"), date=words.day(trend["since"]))


@cache
def _environment() -> Environment:
    made = Environment(
        loader=PackageLoader("plytide.clinic"), autoescape=True, undefined=StrictUndefined,
        trim_blocks=True, lstrip_blocks=True,
    )  # fmt: skip
    made.globals.update(
        t=t, word=word, words=words, last_days=LAST_DAYS, notes_shown=NOTES_SHOWN, quiet_days=QUIET_DAYS
    )
    return made


def _filled(name: str, **values: object) -> str:
    return _environment().get_template(f"{name}.jinja").render(**values)
