"""The page from a reading: what is on it, what is not, and that nothing in it can run or lie."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace
from datetime import timedelta
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from clinic import sample
from clinic.readings import FIRST, html, reading, without
from plytide.clinic import page

TOKENS = Path(__file__).parents[2] / "web" / "src" / "style" / "tokens.css"


class Seen(HTMLParser):
    """Tags, attributes, headings and the text that a person reads."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: set[str] = set()
        self.headings: list[tuple[int, str]] = []
        self.words = ""
        self._inside: list[str] = []
        self.feed(text)
        self.words = re.sub(r"\s+", " ", self.words)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes |= {name for name, _ in attrs}
        self._inside.append(tag)
        if re.fullmatch("h[1-6]", tag):
            self.headings.append((int(tag[1]), ""))

    def handle_endtag(self, tag: str) -> None:
        while self._inside and self._inside.pop() != tag:
            pass

    def handle_data(self, data: str) -> None:
        if "style" in self._inside:
            return
        self.words += data
        if self.headings and self._inside and re.fullmatch("h[1-6]", self._inside[-1]):
            level, said = self.headings[-1]
            self.headings[-1] = (level, said + data)


def test_the_first_half_page_says_who_what_cannot_wait_and_the_facts() -> None:
    seen = Seen(html())
    half = seen.words[: seen.words.index("What Marta asks")]
    for said in (
        "Marta, right leg, below the knee", "Liner with a pin, knee sleeve", "16 May to 12 June 2031",
        "Sore spot, and whether a new socket is due", "Same spot sore again", "A mark that stays",
        "Peak ply", "middle of 13 days of this fit", "not reached in 26 days",
        "1 in 5 to stand there within 30 days", "26 of 28 days logged",
        "bump below the kneecap", "Skin findings in 17 checks", "Not verified, not measured, not a diagnosis",
    ):  # fmt: skip
        assert said in half, said


def test_peak_and_start_are_compared_within_one_fit_only() -> None:
    # The sample's padding came in the middle: before it 13 days are known, after it 13 with the unfinished one.
    whole: Any = sample.limb()
    one_fit = {**whole, "periods": [{**whole["periods"][0], "until": None}]}
    assert "7.1 → 9" in Seen(html(summary={**sample.summary(), "limbs": {"right": one_fit}})).words
    assert "→" not in Seen(html(kinds=without("sore"))).words


def test_every_part_of_the_summary_has_its_place() -> None:
    assert [words for level, words in Seen(html()).headings if level == 2] == [
        "What Marta asks", "Sore spots", "Through a day", "Towards the ceiling", "Socks in use, last 7 days", "Skin",
        "Mishaps", "Before and after: padding, 30 May 2031", "By the phrases of the functional levels", "Day by day",
        "How to read this",
    ]  # fmt: skip


def test_headings_go_down_one_level_at_a_time() -> None:
    for text in (html(), html(summary=both_legs())):
        levels = [level for level, _ in Seen(text).headings]
        assert levels[0] == 1
        assert levels.count(1) == 1
        assert all(b <= a + 1 for a, b in itertools.pairwise(levels))


def both_legs() -> Any:
    whole = sample.summary()
    return {**whole, "limbs": {**whole["limbs"], "left": sample.limb()}}


def test_both_legs_are_told_apart() -> None:
    seen = Seen(html(summary=both_legs()))
    assert "Marta, both legs" in seen.words
    assert [w for level, w in seen.headings if level == 2].count("Left leg") == 2
    assert seen.tags.count("figure") == 2 * Seen(html()).tags.count("figure")


def test_legs_of_one_form_share_their_drawings_and_others_have_their_own() -> None:
    text = html(summary=both_legs())
    drawn = set(re.findall(r'<g class="limb" id="(.*?)">', text))
    assert drawn == {f"right-{view}" for view in ("front", "outer", "back", "inner", "end")}
    assert re.findall(r'<use href="#(.*?)"', text) == re.findall(r'<g class="limb" id="(.*?)">', text)
    limbs = [{"side": "left", "level": "transfemoral"}, {"side": "right", "level": "transtibial"}]
    other = html(summary=both_legs(), profile={"name": "Marta", "limbs": limbs})
    assert len(re.findall(r'<g class="limb" id=', other)) == 10
    assert "<use" not in other


def test_nothing_in_the_page_can_run_or_fetch() -> None:
    seen = Seen(html())
    assert not {"script", "iframe", "object", "embed", "link", "img", "base", "audio", "video"} & set(seen.tags)
    assert not {name for name in seen.attributes if name.startswith("on")} | ({"style", "src"} & seen.attributes)
    # A style sheet may name one file of this server (the font), and none elsewhere.
    assert re.findall(r"url\((.*?)\)", page.style("/assets/font.woff2")) == ['"/assets/font.woff2"']
    assert not re.search(r"//|@import|expression", re.sub(r"/\*.*?\*/", "", page.style(), flags=re.DOTALL))


HOSTILE = ["<script>alert(1)</script>", '"><img src=x onerror=alert(1)>', "{{ 1111*1111 }}", "</style>"]


@pytest.mark.parametrize("bad", HOSTILE)
def test_what_a_wearer_typed_stays_text(bad: str) -> None:
    entries = [
        replace(e, body={**e.body, **{k: bad for k in ("name", "text", "note", "purpose") if k in e.body}})
        for e in [*sample.entries(), sample.entry(300, "note", {"text": bad})]
    ]
    text = html(all_entries=entries)
    assert {"script", "img"}.isdisjoint(Seen(text).tags)
    assert Seen(text).words.count(bad) >= 8


@pytest.mark.parametrize(
    ("tick", "gone"),
    [
        ("ply", ["Peak ply", "Through a day", "Socks in use", "Towards the ceiling", "Hours on"]),
        ("sore", ["Sore spots", "Sore, 0 to 10", "Worst sore"]),
        ("skin", ["Skin findings", "No finding", "not checked", "Limit for a mark"]),
        ("mishap", ["Mishaps", "stumble", "kerb"]),
        ("need", ["What Marta asks", "Kneel in the garden", "test socket", "whether a new socket is due"]),
        ("day", ["functional levels"]),
    ],
)
def test_what_was_not_ticked_is_not_there(tick: str, gone: list[str]) -> None:
    kinds = without(tick)
    kept = [e for e in sample.entries() if e.kind in kinds | {"profile"}]
    whole, rest = Seen(html()).words, Seen(html(kinds=kinds, all_entries=kept)).words
    about = rest.index("This link shows")  # it names what was ticked
    assert [words for words in gone if words in rest[:about]] == []
    assert any(words in whole for words in gone)


def test_a_period_without_entries_says_so_and_shows_no_empty_figure() -> None:
    whole = sample.summary()
    for limbs in ({}, {"right": {**sample.limb(), "days": [], "spots": [], "phantom": [], "heat": [], "signs": [],
                                 "skin": {**sample.limb()["skin"], "checks": 0, "places": []}}}):  # fmt: skip
        profile_alone = [e for e in sample.entries() if e.kind == "profile"]
        seen = Seen(html(summary={**whole, "limbs": limbs}, all_entries=profile_alone))
        assert "Nothing was logged in this time" in seen.words
        assert "That says nothing about how those days went" in seen.words
        assert "figure" not in seen.tags
        assert "Recorded by the wearer" in seen.words


def test_an_old_snapshot_says_its_age_above_everything_else() -> None:
    assert "ago" not in Seen(html(now=sample.NOW + timedelta(days=1))).words
    words = Seen(html(now=sample.NOW + timedelta(days=9))).words
    assert "This was made 9 days ago. Newer entries are not in it. Ask Marta for a new link." in words
    assert words.index("9 days ago") < words.index("Same spot")


def test_a_live_page_says_when_the_phone_was_last_heard_of() -> None:
    quiet = {"live": True, "as_of": sample.NOW, "now": sample.NOW, "synced": sample.NOW - timedelta(days=5)}
    assert "The phone last sent entries 5 days ago." in Seen(html(**quiet)).words
    assert "Live:" in Seen(html(**quiet)).words
    assert "last sent" not in Seen(html(**{**quiet, "synced": sample.NOW})).words


def test_entries_still_on_the_phone_are_told() -> None:
    assert "3 entries had not left the phone when this was made." in Seen(html(waiting=3)).words


def test_edits_late_entries_gaps_and_the_zone_are_told() -> None:
    words = Seen(html(edits=3, late=2)).words
    assert "3 of 9 entries were changed after they were first written" in words
    assert "2 were written more than a day after what they tell of" in words
    assert "Stretches that nothing was logged for: 1." in words
    assert "26 of 28 days logged; times as in Europe/Berlin" in words


def test_a_day_without_a_log_is_named_as_such_in_the_table() -> None:
    rows = re.findall(r"<tr[^>]*>.*?</tr>", html())
    assert sum("no log" in row for row in rows) == 2
    assert any("Thu 12 June" in row and "still on" in row and "7 so far" in row for row in rows)


def test_silent_parts_say_why() -> None:
    limb = {**sample.limb(), "usual": sample.silent(2), "trend": sample.silent(2)}
    words = Seen(html(summary={**sample.summary(), "limbs": {"right": limb}})).words
    assert words.count("Not enough days yet: 2 of 3.") == 2
    assert "1 in 5" not in words


def test_signs_stand_gravest_first_with_rule_and_days() -> None:
    limb = sample.limb()
    grave: Any = dict(limb["signs"][0], code="open", level="same_day", title="Open skin", keep_off=True,
                      evidence=[sample.entries()[1].id])  # fmt: skip
    text = html(summary={**sample.summary(), "limbs": {"right": {**limb, "signs": [*limb["signs"], grave]}}})
    words = Seen(text).words
    assert words.index("Same day. Open skin") < words.index("Review. Same spot")
    assert "The wearer is told to keep the leg off." in words
    assert "From entries of 30 May." in words
    assert "Rule: clinic handouts: 20 min." in words


def test_the_days_of_signs_are_the_wearers_own() -> None:
    words = Seen(html()).words
    assert "Same spot sore again, since 5 June." in words
    assert "A mark that stays, since 9 June." in words
    assert "10 June" in words[words.index("A mark that stays, since") :]  # told half an hour after midnight
    assert "Same spot sore again, since 4 June." in Seen(html(zone="America/Chicago")).words


@pytest.mark.parametrize("weeks", [4, 52, 520])
def test_a_page_of_any_length_stays_within_its_size(weeks: int) -> None:
    days = [sample.day(i, of=7 * weeks) for i in range(7 * weeks)]
    limb = {**sample.limb(), "days": days}
    text = html(summary={**sample.summary(), "limbs": {"right": limb}}, first=FIRST - timedelta(days=7 * weeks - 28))
    assert 40_000 < len(text.encode()) <= 150_000


def test_the_colours_are_those_of_the_project() -> None:
    def blocks(css: str) -> list[dict[str, str]]:
        css = re.sub(r"/\*.*?\*/", "", css, flags=re.DOTALL)
        found = re.findall(r"\{([^{}]*--mist:[^{}]*)\}", css)
        return [dict(re.findall(r"--([\w-]+):\s*([^;}]+)", part)) for part in found]

    ours, theirs = blocks(page.style()), blocks(TOKENS.read_text())
    assert len(ours) == 3  # light, dark, print
    light, dark, paper = theirs[0], theirs[1], theirs[-1]
    for mine, truth in zip(ours, (light, dark, paper), strict=True):
        named = {k: v.strip().lower() for k, v in mine.items() if k in truth and k != "font"}
        assert len(named) >= 12
        assert named == {k: truth[k].strip().lower() for k in named}


def test_the_small_pages_hold_no_name_and_no_token() -> None:
    code = page.plain("code", style=page.style(), refused=False)
    assert "Marta" not in code
    assert Seen(code).tags.count("input") == 1
    assert 'action="' not in code  # it posts to its own address, so that the bytes are the same for every address
    assert reading().profile["name"] == "Marta"


def without_socks() -> Any:
    """The sample's wearer with a vacuum in the place of socks: no ply on any day."""
    none = dict.fromkeys(("start", "peak", "peak_at", "end", "mean"))
    days = [{**d, **none, "steps": []} for d in sample.limb()["days"]]
    vacuum = {"what": "vacuum", "days": 26, "usual": sample.silent(2), "trend": sample.silent(2), "latest": 18.0,
              "by_day": [(d["date"], 15 + i / 10) for i, d in enumerate(days) if d["logged"]]}  # fmt: skip
    return {**sample.summary(), "limbs": {"right": {**sample.limb(), "days": days, "fittings": [vacuum]}}}


def test_a_limb_without_socks_is_told_by_what_fits_it() -> None:
    text = html(summary=without_socks())
    words = Seen(text).words
    half = words[: words.index("What Marta asks")]
    assert re.search(r"15\.3 → 17\.[0-9] ?Vacuum ?first and last 7 logged days", half)
    assert "Vacuum</text>" in text  # its course has a row in the figure
    assert [w for w in ("Peak ply", "Ceiling", "Socks in use", "Through a day", "9-day averages") if w in half] == []
    assert "Towards the ceiling" not in words
    assert re.search(r"<th scope=\"col\" class=\"r\">Vacuum</th>", text)
    assert "Hours on" in text


def test_what_lies_before_the_first_log_is_said_once_and_not_drawn() -> None:
    days = [{**d, "logged": False} if i < 14 else d for i, d in enumerate(sample.limb()["days"])]
    limb = {**sample.limb(), "days": days}
    text = html(summary={**sample.summary(), "limbs": {"right": limb}})
    words = Seen(text).words
    assert "30 May to 12 June 2031" in words
    assert "The link reaches back to 16 May 2031; nothing was logged before 30 May 2031." in words
    assert "13 of 14 days logged" in words
    assert "Thu 29 May" not in words
    assert "reaches back" not in Seen(html()).words


def test_looks_that_could_not_see_the_end_are_counted() -> None:
    look = sample.entry(301, "skin", {"clear": True, "findings": [], "end_unseen": True}, "right",
                        sample.when(sample.LAST, 20))  # fmt: skip
    assert "could not be seen" not in Seen(html()).words
    assert (
        "In 1 of them the end of the limb could not be seen." in Seen(html(all_entries=[*sample.entries(), look])).words
    )
