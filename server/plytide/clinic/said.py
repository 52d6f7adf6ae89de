"""The reading in the language of the page. Insight speaks English; its sentences are few, of texts with blanks.

A text of the tables (data/said.es.json, the signs) is known again by what stands around its blanks; what stands in them
is put into the language as well. A sentence that is not known is shown as it came: never wrong, at worst English.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Any, TypeVar

from plytide.clinic import words
from plytide.data import table
from plytide.insight.shape import Sign
from plytide.insight.words import chance as chance_in_english

TEXTS = frozenset({"reason", "words", "phrase"})  # the fields of a summary that hold sentences
GROUPS = ("finding", "unwell", "mishap", "tag", "flag", "fitting")
AS_THEY_ARE = ("who", "at")  # blanks that hold names and times
QUARTERS = {"front": "front", "outer": "outer side", "back": "back", "inner": "inner side"}
BLANK = re.compile(r"\{(\w+)\}")
ENGLISH_MONTHS = words.catalogue("en")["months"].split()

Pair = tuple["re.Pattern[str]", str]
T = TypeVar("T")


def chance(p: float) -> str:
    """A chance from 0 to 1, such as "1 in 5"."""
    return own(chance_in_english(p))


def own(text: str) -> str:
    """Sentences of the reading in the language spoken."""
    if words.spoken() == "en":
        return text
    return _own(text, _sentences(words.spoken())) or text


def own_summary(part: T) -> T:
    """A summary, or a part of one, with every text in the language spoken. Days hold no text and stay the same ones."""
    return part if words.spoken() == "en" else _turned(part)


def _turned(part: Any) -> Any:
    if isinstance(part, list):
        return [_turned(inner) for inner in part]
    if not isinstance(part, dict):
        return part
    if "entered" in part:
        return _own_sign(part)  # type: ignore[arg-type]
    if "plain" in part:
        plain = _place(part["plain"]) or own(part["plain"])
        part = {**part, "plain": plain, "trade": _trades(words.spoken()).get(part["trade"], plain)}
    return {
        key: own(inner) if key in TEXTS and isinstance(inner, str) else inner if key == "days" else _turned(inner)
        for key, inner in part.items()
    }


def _own_sign(sign: Sign) -> Sign:
    theirs = table(f"signs.{words.spoken()}")["rules"].get(sign["code"])
    if theirs is None:
        return sign
    entered = _own(sign["entered"], _of_sign(words.spoken(), sign["code"])) or sign["entered"]
    return {**sign, "title": theirs["title"], "source": theirs["source"], "entered": entered}


def _own(text: str, pairs: Sequence[Pair]) -> str | None:
    """A row of sentences, each one of `pairs`; None where one of them is not known."""
    for pattern, theirs in pairs:
        found = pattern.match(text)
        told = found.groupdict() if found else {}
        blanks = {name: value if name in AS_THEY_ARE else _value(value) for name, value in told.items()}
        if not found or None in blanks.values() or not blanks.keys() >= set(BLANK.findall(theirs)):
            continue
        said = BLANK.sub(lambda blank, blanks=blanks: str(blanks[blank[1]]), theirs)  # type: ignore[misc]
        rest = _own(text[found.end() :], pairs) if found.end() < len(text) else ""
        if rest is not None:
            return f"{said} {rest}".rstrip()
    return None


def _value(text: str) -> str | None:
    """What stands in a blank: a number, a date, a size, a place, a sentence, things in a row; None: none of these."""
    if re.fullmatch(r"[+−-]?\d+(\.\d+)?", text):
        return text.replace(".", words.t("decimal"))
    if (date := re.fullmatch(r"(\d+) ([A-Z][a-z]+)", text)) and date[2] in ENGLISH_MONTHS:
        return words.day(f"2000-{ENGLISH_MONTHS.index(date[2]) + 1:02d}-{int(date[1]):02d}")
    if size := re.fullmatch(r"([+−-]?[\d.]+) (ply|h|cm)", text):
        return f"{_value(size[1])} {size[2]}"
    if place := _place(text):
        return place[:1].lower() + place[1:]
    return _own(text, _sentences(words.spoken())) or _in_row(text)


def _in_row(text: str) -> str | None:
    """ "a blister (took 32 minutes to fade) and vomiting": each known phrase is replaced; a letter left over is not."""
    said: list[str] = []
    for pattern, theirs in _phrases(words.spoken()):

        def put(found: re.Match[str], theirs: str = theirs) -> str:
            said.append(BLANK.sub(lambda blank: _value(found[blank[1]]) or found[blank[1]], theirs))
            return f"\0{len(said) - 1}\0"

        text = pattern.sub(put, text)
    if re.search(r"[a-zA-Z]", text):
        return None
    return re.sub("\0(\\d+)\0", lambda found: said[int(found[1])], text)


def _pattern(text: str, end: str = "") -> re.Pattern[str]:
    """What finds a text of the tables, whatever stands in its blanks; the same blank twice stands for the same."""
    seen: set[str] = set()

    def blank(name: str) -> str:
        again = name in seen
        seen.add(name)
        return f"(?P={name})" if again else f"(?P<{name}>.+?)"

    parts = BLANK.split(text)
    return re.compile("".join(blank(p) if i % 2 else re.escape(p) for i, p in enumerate(parts)) + end)


@cache
def _sentences(language: str) -> list[Pair]:
    return [(_pattern(one, r"(?: |\Z)"), other) for one, other in table(f"said.{language}")["sentences"]]


@cache
def _of_sign(language: str, code: str) -> list[Pair]:
    """What may stand in a sign's `entered`: what was entered, then which rule it meets."""
    ours, theirs = table("signs"), table(f"signs.{language}")
    rule = next(r for r in ours["rules"] if r["code"] == code)
    texts = [
        (source[name], target[name])
        for source, target in ((rule, theirs["rules"][code]), (ours["words"], theirs["words"]))
        for name in ("entered", "entered_never", "entered_also", "rule")
        if name in source and name in target
    ]
    return [(_pattern(one, r"(?: |\Z)"), other) for one, other in texts]


@cache
def _phrases(language: str) -> list[Pair]:
    """Phrases of the signs' tables, the longest first: "a blister" also begins "a blister that has burst"."""
    ours, theirs = table("signs")["words"], table(f"signs.{language}")["words"]
    pairs = [(ours[g][key], theirs[g][key]) for g in GROUPS for key in ours.get(g, ()) if key in theirs.get(g, ())]
    pairs += [(ours[name], theirs[name]) for name in ("fade", "still_red", "no_blanch", "fever")]
    pairs.sort(key=lambda pair: len(pair[0]), reverse=True)
    made = [(re.compile(_pattern(one).pattern.replace(".+?", r"[\d.]+")), other) for one, other in pairs]
    return [*made, (re.compile(r"(?<=\0|\)) and (?=\0)"), f" {theirs['and']} ")]


def _place(text: str) -> str | None:
    return _places(words.spoken()).get(text.lower())


@cache
def _places(language: str) -> Mapping[str, str]:
    """The plain names of all places, in lower case."""
    return dict(_named(language))


@cache
def _trades(language: str) -> Mapping[str, str]:
    """The trade names of all places."""
    told = table(f"trades.{language}")
    thirds = {f"{one}, {side}": f"{part}, {own_}" for one, part in told["thirds"].items()
              for side, own_ in told["quarters"].items()}  # fmt: skip
    return {**told["names"], **thirds}


def _named(language: str) -> Iterator[tuple[str, str]]:
    theirs = table(f"places.{language}")
    for level, form in table("limb")["levels"].items():
        for region in form["regions"]:
            yield region["plain"].lower(), theirs["levels"][level][region["id"]]
    for quarter, side in theirs["quarters"].items():
        for third, part in theirs["thirds"].items():
            yield f"{QUARTERS[quarter]}, {third} third", f"{side}, {part}"
