"""The sheet for documentation of need: dated facts with counts, no claim, no code that was not checked as such."""

from __future__ import annotations

import re
from typing import Any

import pytest
from api.site import Phone, Site
from clinic import sample
from clinic.conftest import at
from clinic.readings import reading, without
from clinic.test_page import Seen
from plytide.clinic import page, payer


def words(**over: Any) -> str:
    return Seen(page.payer_sheet(reading(**over), style=page.style())).words


def test_it_gives_dated_facts_in_the_order_such_documentation_asks() -> None:
    text = words()
    for said in (
        "the most set for this socket: on 0 days of 26",
        "30 May 2031: padding. pad at the back", "Peak ply: 7.4 before, 8.9 after",
        "Bump below the kneecap: a mark that stays, on 2 days, 1 June 2031 to 9 June 2031.",
        "Bump below the kneecap: sore on 7 days", "Stumble: once; 1 June 2031.", "days of 28 days with known hours",
        "K2, low barriers such as curbs and stairs: on 9 days, in 4 weeks.",
    ):  # fmt: skip
        assert said in text, said
    titles = ["Change in the limb", "Attempts to make it fit", "Skin and soreness", "Falls and mishaps", "Wear"]
    places = [text.index(title) for title in titles]
    assert places == sorted(places)


def test_weeks_are_compared_within_one_fit_only() -> None:
    whole: Any = sample.limb()
    assert "mean of 7 days" not in words()
    one_fit = {**whole, "periods": [{**whole["periods"][0], "until": None}]}
    text = words(summary={**sample.summary(), "limbs": {"right": one_fit}})
    assert "Peak ply of the day, mean of 7 days: 7.1 (from 16 May 2031), 9 (to 11 June 2031)." in text


def test_it_claims_nothing() -> None:
    text = words()
    assert "It claims no functional level, no need and no entitlement." in text
    assert not re.search(r"\b(qualif|entitled|eligible|medically necessary|requires a new|diagnos(?!is))", text)


def test_codes_are_a_reference_and_those_from_memory_are_marked() -> None:
    # HCPCS L8420 and L8470 read in payers' documents, L8430 and L8480 from memory (clinical basis of the project).
    below = words()
    assert ("L8420" in below, "L8470" in below) == (True, True)
    assert "check before use" not in below
    above = [e for e in sample.entries() if e.kind != "profile"]
    limb = {"side": "right", "level": "transfemoral"}
    text = words(all_entries=[*above, sample.entry(100, "profile", {"limbs": [limb]})])
    assert len(re.findall(r"L84[38]0[^.]*\(check before use\)", text)) == 2
    assert "L8420" not in text
    knee = sample.entry(100, "profile", {"limbs": [{**limb, "level": "knee_disarticulation"}]})
    assert payer.codes(reading(all_entries=[*above, knee]), "right") == []


@pytest.mark.parametrize(
    ("tick", "gone"),
    [
        ("mishap", "Stumble"), ("skin", "a mark that stays"), ("day", "curbs"), ("comfort", "Comfort 6"),
        ("change", "padding."),
    ],
)  # fmt: skip
def test_what_was_not_ticked_is_not_in_it(tick: str, gone: str) -> None:
    kinds = without(tick)
    kept = [e for e in sample.entries() if e.kind in kinds | {"profile"}]
    assert gone in words()
    assert gone not in words(kinds=kinds, all_entries=kept)


def test_no_fall_is_said_only_where_falls_would_be_seen() -> None:
    nothing = [e for e in sample.entries() if e.kind != "mishap"]
    assert "No fall and no stumble was logged." in words(all_entries=nothing)
    assert "No fall" not in words(all_entries=nothing, kinds=without("mishap"))


def test_it_lies_behind_the_link_and_nowhere_else(site: Site, phone: Phone) -> None:
    made = phone.post("/api/links", json={"days": 28}).json()
    with site.stranger() as reader:
        box = reader.get(f"{at(made)}/sheet")
        assert "Dated facts" not in box.text
        reader.post(at(made), data={"code": made["code"]})
        assert f'href="{at(made).removeprefix("/s/")}/sheet"' in reader.get(at(made)).text
        sheet = reader.get(f"{at(made)}/sheet")
        assert "Dated facts" in sheet.text
        assert f'href="{at(made)}"' in sheet.text
        assert "script-src" not in sheet.headers["content-security-policy"]
