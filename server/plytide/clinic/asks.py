"""What the wearer asks: questions, needs of the next socket, and ways to go set against those needs."""

from __future__ import annotations

from dataclasses import dataclass

from plytide.clinic.reading import Reading
from plytide.clinic.words import t, word
from plytide.entries import Entry


@dataclass(frozen=True)
class Asks:
    """`options`: (name, kind, a word for each need, note), in the order of `needs`."""

    questions: list[str]
    needs: list[tuple[str, bool]]
    options: list[tuple[str, str, list[str], str]]

    def __bool__(self) -> bool:
        return bool(self.questions or self.needs or self.options)


def asks(reading: Reading) -> Asks:
    """In the wearer's own order; firm needs first."""
    needs = sorted(reading.of("need"), key=lambda e: (not e.body.get("firm"), *_order(e)))
    options = []
    for e in sorted(reading.of("option"), key=lambda e: (e.body["kind"], *_order(e))):
        meets = e.body.get("meets") or {}
        cells = [t(f"meets.{meets[n.id]}") if n.id in meets else "–" for n in needs]
        options.append((e.body["name"], word("option", e.body["kind"]), cells, e.body.get("note", "")))
    return Asks([e.body["text"] for e in sorted(reading.of("question"), key=_order)],
                [(e.body["text"], bool(e.body.get("firm"))) for e in needs], options)  # fmt: skip


def _order(entry: Entry) -> tuple[int, str]:
    return entry.body.get("order", 0), entry.id
