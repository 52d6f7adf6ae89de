"""JSON Lines: one entry a line, every version of it. Lossless, and importing it again changes nothing."""

from __future__ import annotations

import json
from collections.abc import AsyncIterable, Awaitable, Callable, Iterable, Iterator
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

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


def keep(
    store: Store, logbook_id: str, batch: list[Any], now: datetime, device: str | None = None
) -> list[dict[str, Any]]:
    """Put a batch into a logbook the way a phone would; a pull is not wanted, so its page is the shortest."""
    epoch, now_ms = store.epoch(logbook_id), round(now.timestamp() * 1000)
    return store.sync(logbook_id, epoch, store.seq(logbook_id), batch, now_ms, device, 1).results


Put = Callable[[list[Any]], Awaitable[list[dict[str, Any]]]]


async def load(chunks: AsyncIterable[bytes], put: Put) -> Taken:
    """Import lines that come in chunks of any size, `BATCH` at a time; `put` keeps a batch and answers its results."""
    taken = Taken()
    numbers: list[int] = []
    batch: list[Any] = []

    async def flush() -> None:
        if batch:
            taken.count(numbers, await put(list(batch)))
            numbers.clear()
            batch.clear()

    number = 0
    async for line in _lines(chunks):
        number += 1
        if not line.strip():
            continue
        try:
            if len(line) > LINE_BYTES:
                raise ValueError
            batch.append(json.loads(line.decode("utf-8")))
            numbers.append(number)
        except (ValueError, RecursionError):
            taken.refuse(number, "not_json", "This line is not a whole entry in JSON; it may have been cut short.")
        if len(batch) == BATCH:
            await flush()
    await flush()
    return taken


async def _lines(chunks: AsyncIterable[bytes]) -> AsyncIterable[bytes]:
    """Lines out of chunks. Of a line that is too long only so much is kept as shows that it is."""
    rest = b""
    async for chunk in chunks:
        *whole, last = chunk.split(b"\n")
        for part in whole:
            yield rest + part
            rest = b""
        rest = (rest + last)[: LINE_BYTES + 1]
    if rest:
        yield rest
