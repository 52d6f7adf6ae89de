"""`plytide summary`: entries in, the reading out; no server, no database."""

from __future__ import annotations

import json as jsonlib
import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from plytide import insight
from plytide.cli.say import Json, say, stop
from plytide.entries import Entry, Refusal, parse_entry
from plytide.insight import plain


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command(help="Read a log from a file and print what it says.")(summary)


def summary(
    file: Annotated[str, typer.Argument(metavar="FILE.jsonl", help="Entries, one a line; - for standard input.")],
    now: Annotated[str | None, typer.Option(metavar="T", help="As of when, such as 2031-03-02T15:00:00Z.")] = None,
    json: Json = False,
) -> None:
    """A page of plain text that a prosthetist could be handed; with --json the summary as the phone gets it."""
    moment = _moment(now)
    text = sys.stdin.read() if file == "-" else Path(file).read_text(encoding="utf-8")
    entries, refused = _entries(text)
    for line in refused:
        typer.echo(line, err=True)
    if not entries and refused:
        stop("None of the lines is an entry.")
    made = insight.summarise(entries, moment, len(entries))
    say(json, dict(made), plain.page(made, entries))


def _moment(text: str | None) -> datetime:
    if text is None:
        return datetime.now(UTC)
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        stop("--now takes a date and time with its zone, such as 2031-03-02T15:00:00Z.", 2)
    if moment.tzinfo is None:
        stop("--now needs its zone too, such as 2031-03-02T15:00:00Z.", 2)
    return moment


def _entries(text: str) -> tuple[list[Entry], list[str]]:
    entries, refused = [], []
    for number, line in enumerate(text.splitlines(), 1):
        if not line.strip():
            continue
        try:
            entries.append(parse_entry(jsonlib.loads(line)))
        except Refusal as refusal:
            refused.append(f"Line {number} is left out: {refusal.why}")
        except (ValueError, RecursionError):
            refused.append(f"Line {number} is left out: it is not JSON.")
    return entries, refused
