"""The forms in which entries leave: what each is called, and how it is written."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from plytide.entries import Entry
from plytide.exchange import dictionary, fhir, lines, table


@dataclass(frozen=True, slots=True)
class Leaving:
    """What is to leave: entries as they stand, oldest first, whose they are, and when. `entries` is read once."""

    entries: Iterable[Entry]
    profile: Mapping[str, Any]
    socks: Mapping[str, int]  # ply by id of sock
    logbook_id: str
    at: datetime


@dataclass(frozen=True, slots=True)
class Form:
    """`kind`: media type; `file`: what the file is called; `write`: the file in pieces."""

    kind: str
    file: str
    write: Callable[[Leaving], Iterator[bytes]]


def in_bulk(pieces: Iterable[bytes], size: int = 64 * 1024) -> Iterator[bytes]:
    """Small pieces in larger ones: a server hands each on by itself, and one an entry takes longer than the entry."""
    held, length = list[bytes](), 0
    for piece in pieces:
        held.append(piece)
        length += len(piece)
        if length >= size:
            yield b"".join(held)
            held, length = [], 0
    yield b"".join(held)


def _fhir(what: Leaving) -> Iterator[bytes]:
    patient = fhir.patient_id(what.logbook_id)
    return in_bulk(fhir.dump(fhir.resources(what.entries, what.profile, patient, what.socks), what.at))


CSV = "text/csv; charset=utf-8"
FORMS = {
    "csv": Form(CSV, "prosthesis-log.csv", lambda what: in_bulk(table.dump(what.entries))),
    "dictionary": Form(CSV, "prosthesis-log-fields.csv", lambda what: dictionary.dump()),
    "fhir": Form("application/fhir+json", "prosthesis-log-fhir.json", _fhir),
    "jsonl": Form("application/jsonl", "prosthesis-log.jsonl", lambda what: in_bulk(lines.dump(what.entries))),
}
