"""The head of the page: who, what holds the leg, what period, how fresh; in the wearer's words where there are any."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

from plytide.clinic import words
from plytide.clinic.reading import TICKS, Reading
from plytide.clinic.words import count, t, word

OLD_DAYS = 2  # from this age on the page says above everything else how old it is


@dataclass(frozen=True)
class Head:
    """`strips`: (what is old or missing, what that means). `about`: sentences on the record itself."""

    name: str
    short: str  # what the page calls the wearer in its sentences
    title: str
    holds: list[str]
    period: str
    made: str
    visit: tuple[str, str] | None
    strips: list[tuple[str, str]]
    about: list[str]


def head(reading: Reading, sides: Sequence[str]) -> Head:
    """The head for these limbs."""
    name = reading.profile.get("name") or t("wearer.unnamed")
    short = name if name == t("wearer.unnamed") else name.split()[0]
    return Head(name, short, _title(reading, name, sides), [_limb(reading, s, len(sides) > 1) for s in sides],
                _period(reading), _made(reading), _visit(reading), _strips(reading, short),
                _about(reading, short))  # fmt: skip


def _title(reading: Reading, name: str, sides: Sequence[str]) -> str:
    legs = t("limb.both") if len(sides) > 1 else ""
    if len(sides) == 1:
        legs = f"{t(f'limb.{sides[0]}')}, {word('level', reading.limb_profile(sides[0])['level'])}"
    if not legs or name == t("wearer.unnamed"):
        return (legs or name).capitalize()
    return t("title.page", name=name, legs=legs)


def _limb(reading: Reading, side: str, named: bool) -> str:
    """How a limb's socket holds on and is fitted, and since when this fit."""
    limb = reading.limb_profile(side)
    holds = [word("suspension", s) for s in limb.get("suspension") or []]
    holds += [word("fitted_by", f) for f in limb.get("fitted_by") or [] if f != "socks"]
    said = []
    if named:
        said.append(f"{t(f'limb.{side}').capitalize()}, {word('level', limb['level'])}.")
    if holds:
        said.append(", ".join(holds).capitalize() + ".")
    periods = reading.summary["limbs"][side]["periods"]
    if periods and periods[-1]["change_id"]:
        span = words.span(max(1, (reading.last - words.as_date(periods[-1]["since"])).days))
        said.append(t("socket.since", date=words.day(periods[-1]["since"], year=True), span=span))
    if limb.get("amputated_on"):
        said.append(t("amputated", date=words.month(limb["amputated_on"])))
    if limb.get("functional_level"):
        said.append(t("functional", level=limb["functional_level"]))
    return " ".join(said)


def _period(reading: Reading) -> str:
    first, last = reading.begun, reading.last
    return t("period.to", **{"from": words.day(first, year=first.year != last.year), "to": words.day(last, year=True)})


def _made(reading: Reading) -> str:
    until = words.day((reading.expires or reading.now).astimezone(words.zone(reading.zone)).date())
    when = words.moment(reading.now if reading.live else reading.as_of, reading.zone)
    return t("made.live" if reading.live else "made", when=when, until=until)


def _visit(reading: Reading) -> tuple[str, str] | None:
    """The next visit and what it is for; else the last one of the period."""
    visits = sorted(reading.of("visit"), key=lambda e: str(e.body["on"]))
    today = words.local(reading.now, reading.zone).date().isoformat()
    ahead = [v for v in visits if v.body["on"] >= today]
    if not ahead or not ahead[0].body.get("purpose"):
        return None
    return t("visit", date=words.day(ahead[0].body["on"])), ahead[0].body["purpose"]


def _strips(reading: Reading, name: str) -> list[tuple[str, str]]:
    strips = []
    age = (reading.now - reading.as_of).days
    if not reading.live and age >= OLD_DAYS:
        strips.append((t("strip.old", days=count(age, "day")), t("strip.old.after", name=name)))
    if reading.live and reading.synced and reading.now - reading.synced >= timedelta(days=OLD_DAYS):
        quiet = count((reading.now - reading.synced).days, "day")
        strips.append((t("strip.sync", days=quiet), t("strip.sync.after")))
    if reading.waiting:
        strips.append((t("strip.waiting", entries=count(reading.waiting, "entry")), ""))
    return strips


def _about(reading: Reading, name: str) -> list[str]:
    dates = {d["date"] for limb in reading.summary["limbs"].values() for d in reading.days(limb) if d["logged"]}
    gaps = sum(1 for limb in reading.summary["limbs"].values() for d in reading.days(limb) for g in d["gaps"]
               if d["logged"] and g["why"] != "no_log")  # fmt: skip
    logged, zone = len(dates), reading.zone.replace("_", " ")
    hour = f"{reading.profile.get('day_starts', 4):02d}:00"
    lines = [t("about.days", logged=logged, days=count(reading.length, "day"), zone=zone), t("about.day", hour=hour)]
    if reading.begun > reading.first:
        first, begun = (words.day(day, year=True) for day in (reading.first, reading.begun))
        lines.insert(0, t("about.begun", first=first, date=begun))
    if gaps:
        lines.append(t("about.gaps", n=gaps))
    of = count(len(reading.entries), "entry")
    lines.append(t("about.edits" if reading.edits else "about.edits.none", n=reading.edits, entries=of))
    if reading.late:
        lines.append(t("about.late", n=reading.late))
    shown = [t(f"kinds.{tick}") for tick in TICKS if reading.shows(tick)]
    lines.append(t("about.shown", name=name, kinds=", ".join(shown)))
    if reading.shows("comfort"):
        lines.append(t("about.comfort"))
    return lines
