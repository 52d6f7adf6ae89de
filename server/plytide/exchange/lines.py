"""JSON Lines: one entry a line, every version of it. Lossless; a file is brought in whole or not at all, and again
changes nothing."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, BinaryIO

from plytide.entries import Entry
from plytide.store import Store

BATCH = 500
LINE_BYTES = 256 * 1024
LISTED = 100  # refusals told one by one; the rest are only counted


def dump(entries: Iterable[Entry]) -> Iterator[bytes]:
    """The lines of an export, one by one."""
    for entry in entries:
        yield json.dumps(entry.as_dict(), ensure_ascii=False, separators=(",", ":")).encode() + b"\n"


@dataclass
class Taken:
    """What became of an import. `refusals` name the line and the reason, never the line itself."""

    taken: int = 0
    known: int = 0
    refused: int = 0
    refusals: list[dict[str, Any]] = field(default_factory=list)

    def count(self, numbers: list[int], results: list[dict[str, Any]]) -> None:
        """Add the store's results for the lines of these numbers."""
        for number, result in zip(numbers, results, strict=True):
            match result["r"]:
                case "ok" | "restamped":
                    self.taken += 1
                case "refused":
                    self.refuse(number, result["code"], result["why"])
                case _:
                    self.known += 1

    def refuse(self, number: int, code: str, why: str) -> None:
        """Note a line that was not taken."""
        self.refused += 1
        if len(self.refusals) < LISTED:
            self.refusals.append({"line": number, "code": code, "why": why})


def keep(store: Store, logbook_id: str, entries: Sequence[object], now: datetime) -> None:
    """Put entries that we made ourselves into a logbook, such as the demo's; all or none."""
    batches = (entries[start : start + BATCH] for start in range(0, len(entries), BATCH))
    store.bring_in(logbook_id, batches, round(now.timestamp() * 1000), lambda results: None)


def load(store: Store, logbook_id: str, source: BinaryIO, now: datetime, by: str, device: str | None = None) -> Taken:
    """Bring a file of lines into a logbook: all that can be taken, or nothing where anything ends it before its end.

    `source` should be a file on this machine: the logbook is locked while it is read. `by`: who the audit list names.
    """
    taken, waiting = Taken(), list[int]()

    def batches() -> Iterator[list[object]]:
        batch: list[object] = []
        for number, line in enumerate(_lines(source), 1):
            if not line.strip():
                continue
            try:
                batch.append(_entry(line))
                waiting.append(number)
            except (ValueError, RecursionError):
                taken.refuse(number, "not_json", "This line is not a whole entry in JSON; it may have been cut short.")
            if len(batch) == BATCH:
                yield batch
                batch = []
        if batch:
            yield batch

    def answered(results: list[dict[str, Any]]) -> None:
        taken.count(waiting, results)
        waiting.clear()

    store.bring_in(logbook_id, batches(), round(now.timestamp() * 1000), answered, device, by)
    taken.refusals.sort(key=lambda refusal: refusal["line"])
    return taken


def _entry(line: bytes) -> object:
    """What a line says. ValueError, RecursionError: it is too long, or not JSON."""
    if len(line.rstrip(b"\n")) > LINE_BYTES:
        raise ValueError
    return json.loads(line.decode("utf-8-sig"))


def _lines(source: BinaryIO) -> Iterator[bytes]:
    """The lines of a file. Of a line that is too long only so much is read at a time as shows that it is."""
    while line := source.readline(LINE_BYTES + 1):
        yield line
        while line and not line.endswith(b"\n"):
            line = source.readline(LINE_BYTES)
