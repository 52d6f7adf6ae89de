"""The lines of a page of plain text: parts with a title, tables, numbers and moments."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from plytide.insight.words import on_day

WIDTH = 78
NONE = "-"
HARD = "\u00a0"


def part(title: str, lines: Sequence[str]) -> list[str]:
    """A part with its title; nothing at all where it has no lines."""
    return ["", *textwrap.wrap(title, WIDTH), *(wrapped for line in lines for wrapped in _wrap(line))] if lines else []


def _wrap(line: str) -> list[str]:
    """A line no wider than the page; what follows is set in under its first word."""
    lead = " " * (2 + len(line) - len(line.lstrip(" ")))
    return textwrap.wrap(
        line.lstrip(" "), WIDTH, initial_indent=lead, subsequent_indent=lead + "  ", break_long_words=False,
        break_on_hyphens=False,
    )  # fmt: skip


def columns(rows: Sequence[Sequence[str]]) -> list[str]:
    """Columns as wide as their widest cell. Gaps are hard spaces until the page is done, so that no row is wrapped."""
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    lines = ["  ".join(cell.ljust(w) for cell, w in zip(row, widths, strict=True)).rstrip() for row in rows]
    return [line.replace(" ", HARD) for line in lines]


def num(value: float | None) -> str:
    """A number with a decimal where it has one."""
    return NONE if value is None else f"{value:.1f}".removesuffix(".0")


def span(low: int, high: int) -> str:
    """Whole numbers from one to another."""
    return f"{low}" if low == high else f"{low} to {high}"


def count(n: int, thing: str) -> str:
    """A number of things."""
    return f"{n} {thing}" if n == 1 else f"{n} {thing}s"


def date(text: str) -> str:
    """A date as "3 March 2031"."""
    return f"{on_day(text)} {text[:4]}"


def moment(at: str, zone: str) -> str:
    """An instant on the wearer's clock."""
    here = wall(at, zone)
    return f"{date(here)} {here[11:16]}"


def wall(at: str, zone: str) -> str:
    """An instant as the wearer's clock and calendar have it."""
    return datetime.fromisoformat(at).astimezone(ZoneInfo(zone)).isoformat()
