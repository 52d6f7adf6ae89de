"""The page in Spanish: what the reading says in English is known again, sentence by sentence, and said in Spanish."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from clinic.readings import html, reading
from plytide import demo, insight
from plytide.clinic import page, said, words
from plytide.data import table
from plytide.entries import parse_entry
from plytide.limb.geometry import region_name

NOW = datetime(2031, 6, 12, 13, 15, tzinfo=UTC)
# What may stand in a blank of a sign, and the same in Spanish (the tables' own words).
FILLED = {
    "place": ("shin ridge", "filo de la tibia"), "what": ("a blister (took 32 minutes to fade) and vomiting",
                                                          "una ampolla (tardó 32 minutos en irse) y vómitos"),
    "tags": ("a hot day and long sitting", "un día de calor y mucho rato en silla"), "size": ("2 ply", "2 ply"),
    "change": ("+1.5", "+1,5"),
    **dict.fromkeys(("date", "since", "first", "last"), ("3 March", "3 de marzo")),
}  # fmt: skip


def filled(text: str, n: int) -> str:
    return re.sub(r"\{(\w+)\}", lambda blank: FILLED.get(blank[1], ("4.5", "4,5"))[n], text)


def in_spanish(text: str) -> str:
    with words.speaking("es"):
        return said.own(text)


@pytest.mark.parametrize("code", [rule["code"] for rule in table("signs")["rules"]])
def test_every_sign_is_told_in_spanish(code: str) -> None:
    rule, theirs = next(r for r in table("signs")["rules"] if r["code"] == code), table("signs.es")["rules"][code]
    entered, own = table("signs")["words"]["entered"], table("signs.es")["words"]["entered"]
    ways = [(rule.get(name), theirs.get(name)) for name in ("entered", "entered_never", "entered_also")]
    for one, other in [way for way in ways if way[0]] or [(entered, own)]:
        sign: Any = {"code": code, "title": rule["title"], "source": rule["source"],
                     "entered": f"{filled(one, 0)} {filled(rule['rule'], 0)}"}  # fmt: skip
        with words.speaking("es"):
            told = said.own_summary(sign)
        assert (told["title"], told["source"]) == (theirs["title"], theirs["source"])
        assert told["entered"] == f"{filled(other, 1)} {filled(theirs['rule'], 1)}"
        assert said.own_summary(sign) == sign


def texts(part: Any) -> list[tuple[str, str]]:
    """(field, text) of every sentence and place of a summary."""
    if isinstance(part, list):
        return [pair for inner in part for pair in texts(inner)]
    if not isinstance(part, dict):
        return []
    own = [(k, v) for k, v in part.items() if k in said.TEXTS | {"plain", "entered"} and isinstance(v, str)]
    return own + [pair for k, inner in part.items() if k != "days" for pair in texts(inner)]


@pytest.mark.parametrize("days", [3, 120])
def test_all_that_a_reading_says_of_the_demos_wearer_is_known(days: int) -> None:
    entries = [parse_entry(e) for e in demo.scenario(NOW, "Europe/Lisbon")]
    if days < 120:
        entries = [e for e in entries if e.kind == "profile" or e.at[:10] >= f"2031-06-{12 - days:02d}"]
    found = insight.summarise(entries, NOW)
    with words.speaking("es"):
        own = said.own_summary(found)
    before, after = texts(found), texts(own)
    assert len(before) == len(after) >= 10
    same = [one for one, other in zip(before, after, strict=True) if one == other and re.search("[a-z]{3}", one[1])]
    assert same == []


def test_every_place_has_a_plain_and_a_trade_name_in_spanish() -> None:
    levels = table("limb")["levels"]
    spots = [(level, (h + 0.5) / 30, a * 10.0) for level in levels for h in range(30) for a in range(36)]
    names = {region_name(*spot)[1:] for spot in spots}
    assert len(names) > 50
    with words.speaking("es"):
        told = [said.own_summary({"plain": plain, "trade": trade}) for plain, trade in sorted(names)]
    left = [t for t, (plain, trade) in zip(told, sorted(names), strict=True) if t["plain"] in (plain, trade)]
    assert left == []
    assert [t for t in told if t["trade"] == t["plain"] and t["trade"] != "Rótula"] == []


def test_sentences_of_the_reading() -> None:
    rising = "Rising by about 0.4 a week. Chance of 12 ply on most days of a week within 90 days: "
    sube = "Sube alrededor de 0,4 a la semana. Probabilidad de 12 ply casi todos los días de una semana en 90 días: "
    assert in_spanish(f"{rising}1 in 5.") == f"{sube}1 de 5."
    assert in_spanish(f"{rising}fewer than 1 in 20.") == f"{sube}menos de 1 de 20."
    assert in_spanish("Not enough days yet: 1 day with this fit, 5 over 6 days are needed.").startswith(
        "Aún faltan días: 1 día con este ajuste, hacen falta 5 a lo largo de 6 días."
    )
    assert in_spanish("Something of a later version. Rising by about 0.4 a week.") == (
        "Something of a later version. Rising by about 0.4 a week."
    ), "all of it, or as it came"
    assert said.own("1 in 5") == "1 in 5"


def test_every_line_of_the_audit_list_is_known() -> None:
    server = Path(said.__file__).parents[1]
    source = "".join(path.read_text() for path in [*(server / "store").glob("*.py"), server / "api" / "export.py"])
    told = re.findall(r'(?:note|add_audit)\([^"]+"\w+", f?"([^"]+\.)"', source)
    told += re.findall(r'\bwords = f?"([^"]+\.)"', source)
    assert len(told) >= 10
    for line in told:
        for whom in ("", " for the clinic"):
            text = re.sub(r"\{said_for\([^}]*\)\}", whom, line)
            text = re.sub(r"\{[^}]*\}", "Ada", text)
            assert in_spanish(text) != text, text
    assert in_spanish("Ada's phone was paired.") == "Se vinculó Ada's phone."


def test_the_page_is_spanish_from_its_first_word_to_its_last() -> None:
    text = html(language="es")
    assert '<html lang="es">' in text
    assert "Marta, pierna derecha, por debajo de la rodilla" in text
    assert "9,5 h" in text
    sheet = page.payer_sheet(reading(language="es"), style="")
    seen = re.sub(r"<style>.*?</style>|<[^>]+>", " ", text + sheet, flags=re.DOTALL)
    whole = [t for t in words.catalogue("en").values() if len(t) > 15 and "{" not in t and "<" not in t]
    assert len(whole) > 60
    assert [t for t in whole if t in seen] == []
    assert '<html lang="en">' in html()


def test_the_code_form_is_in_the_readers_language() -> None:
    spanish = page.plain("code", style="", language="es", refused=True)
    assert "Con eso no se abrió nada." in spanish
    assert '<html lang="es">' in spanish
