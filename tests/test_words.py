"""The catalogue of screen texts: each text gets what it asks for, and says it in the house's way."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

SRC = Path(__file__).parents[1] / "web" / "src"
# Areas that are added to by a second file, loaded later than the first.
SECOND = {"beside": "today", "parts": "common"}
ENTRY = re.compile(r'(\w+): (\{[^{}]*(?:\{\w+\}[^{}]*)*\}|"(?:[^"\\]|\\.)*")')
LITERAL_CALL = re.compile(r'\bt\("(\w+)\.(\w+)"(?:,\s*\{([^{}]*)\})?\)')


def catalogue() -> dict[str, str]:
    """All texts by key; of a text with plural forms, all of them together."""
    texts: dict[str, str] = {}
    for path in (SRC / "words" / "en").glob("*.ts"):
        source = path.read_text(encoding="utf-8")
        named = re.search(r"export const (\w+) = \{", source)
        if named:
            area = SECOND.get(named[1], named[1])
            for key, text in ENTRY.findall(source, named.end()):
                if key not in ("one", "other"):
                    texts[f"{area}.{key}"] = text
    return texts


TEXTS = catalogue()


def calls() -> list[tuple[str, str, frozenset[str]]]:
    """Every call with a literal key and a literal object, without a spread: file, key, names passed."""
    found = []
    for path in SRC.rglob("*.ts*"):
        for area, key, passed in LITERAL_CALL.findall(path.read_text(encoding="utf-8")):
            if "..." not in passed:
                found.append((path.name, f"{area}.{key}", frozenset(re.findall(r"(?:^|,)\s*(\w+)", passed))))
    return found


def test_the_catalogue_is_found() -> None:
    assert len(TEXTS) > 300
    assert TEXTS["common.ply"] == '"{n}\\u00a0ply"'
    assert "{n} entries refused." in TEXTS["common.refused"]


def test_each_text_is_given_what_it_asks_for() -> None:
    missing = []
    for file, key, names in calls():
        asked = set(re.findall(r"\{(\w+)\}", TEXTS.get(key, "")))
        if asked - names:
            missing.append(f"{file}: {key} asks for {sorted(asked - names)}")
    assert missing == []


@pytest.mark.parametrize(
    ("rule", "pattern"),
    [
        ("no percentages", r"%"),
        ("no praise", r"(?i)\b(great|well done|good job|congratulations|awesome|nice work)\b"),
        ("no blame", r"(?i)\byou (missed|forgot|failed)\b"),
        ("no exclamation", r"!"),
        ("nothing is had or diagnosed", r"(?i)\byou have (a|an) (ulcer|infection|clot|pressure)"),
        ("no dose of socks", r"(?i)\b(add|put on|take off) (one|two|\d) (sock|ply)\b"),
    ],
)
def test_words(rule: str, pattern: str) -> None:
    assert [key for key, text in TEXTS.items() if re.search(pattern, text)] == [], rule


def test_every_reason_for_which_the_server_refuses_something_is_told_in_spanish() -> None:
    server = Path(__file__).parents[1] / "server" / "plytide"
    source = "".join(path.read_text(encoding="utf-8") for path in server.rglob("*.py"))
    codes = set(re.findall(r'\bRefus(?:al|ed)\((?:\d{3}, )?"(\w+)"', source))
    assert len(codes) > 30
    told = (SRC / "words" / "es" / "refusals.ts").read_text(encoding="utf-8")
    assert codes - set(re.findall(r"^  (\w+): ", told, re.MULTILINE)) == set()
