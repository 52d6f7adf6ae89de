"""CSV in tidy form: one value a row, named by the entry that it belongs to and its place in it."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from plytide.entries import Entry

COLUMNS = ("id", "kind", "limb", "at", "zone", "local", "field", "value")


def dump(entries: Iterable[Entry]) -> Iterator[bytes]:
    """The rows of an export of entries that stand; UTF-8 with the mark that spreadsheets look for."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    yield b"\xef\xbb\xbf"
    for entry in entries:
        local = datetime.fromisoformat(entry.at).astimezone(ZoneInfo(entry.zone)).strftime("%Y-%m-%d %H:%M:%S")
        head = (entry.id, entry.kind, entry.limb or "", entry.at, entry.zone, local)
        for name, value in _flat(entry.body):
            writer.writerow((*head, safe(name), safe(value)))
        yield out.getvalue().encode()
        out.seek(0)
        out.truncate()
    yield out.getvalue().encode()


def _flat(value: Any, name: str = "") -> Iterator[tuple[str, Any]]:
    """Leaves with their dotted names; an entry without any still has one row, so that it is seen."""
    if isinstance(value, dict) and value:
        for key, inner in value.items():
            yield from _flat(inner, f"{name}.{key}" if name else key)
    elif isinstance(value, list) and value:
        for number, inner in enumerate(value):
            yield from _flat(inner, f"{name}.{number}")
    elif isinstance(value, bool):
        yield name, "true" if value else "false"
    else:
        yield name, "" if value is None or value == {} or value == [] else value


def safe(value: Any) -> Any:
    """Text that a spreadsheet would run as a formula gets a quote before it; numbers are left alone."""
    if isinstance(value, str) and value[:1] in ("=", "+", "-", "@", "\t", "\r"):
        return f"'{value}"
    return value
