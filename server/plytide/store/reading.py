"""What is read out of a logbook: entries for the reading, their history, everything for export."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from operator import attrgetter

from sqlalchemy import ColumnElement, Table, select, tuple_

from plytide.entries import Entry
from plytide.store.part import Part
from plytide.store.shapes import NoLogbook
from plytide.store.tables import entry, history, logbook

CHUNK = 1000


def in_order(entries: Iterable[Entry]) -> list[Entry]:
    """By time then id. Sorted here, where they lie nearly so: a database would carry the whole texts about for it."""
    return sorted(entries, key=attrgetter("at", "id"))


class Reading(Part):
    """Entries as they stand and as they were."""

    def live(self, logbook_id: str) -> tuple[list[Entry], int]:
        """Every entry that stands and is not erased, by time then id, and the number of the change they stand at."""
        asked = select(entry.c.doc).where(entry.c.logbook_id == logbook_id, entry.c.erased.is_(False))
        with self.db.read() as connection:
            # The number first: on PostgreSQL an entry may come between, and must then make the summary stale.
            seq = connection.execute(select(logbook.c.seq).where(logbook.c.id == logbook_id)).scalar()
            if seq is None:
                raise NoLogbook("There is no such logbook.")
            docs = connection.execute(asked).scalars().all()
        return in_order(map(Entry.from_json, docs)), seq

    def history(self, logbook_id: str, entry_id: str) -> list[Entry]:
        """Every version of one entry, oldest stamp first; the last one stands. Empty for an unknown id."""
        with self.db.read() as connection:
            found = [
                Entry.from_json(doc)
                for table in (history, entry)
                for doc in connection.execute(
                    select(table.c.doc).where(table.c.logbook_id == logbook_id, table.c.id == entry_id)
                ).scalars()
            ]
        return sorted(found, key=lambda version: version.stamp)

    def all_versions(self, logbook_id: str) -> Iterator[Entry]:
        """Every version of every entry: those that stand by id, then those replaced. Read piece by piece.

        A version that is replaced while this runs comes twice rather than never; ids and stamps make that harmless.
        """
        for table in (entry, history):
            yield from self._pieces(table, table.c.logbook_id == logbook_id)

    def standing(self, logbook_id: str, kinds: Collection[str] | None = None) -> Iterator[Entry]:
        """Every entry as it stands, erased ones too, by id; of these kinds if asked. Read piece by piece."""
        theirs = entry.c.logbook_id == logbook_id
        return self._pieces(entry, theirs if kinds is None else theirs & entry.c.kind.in_(kinds))

    def _pieces(self, table: Table, which: ColumnElement[bool]) -> Iterator[Entry]:
        key = [table.c[column.name] for column in table.primary_key if column.name != "logbook_id"]
        asked = select(*key, table.c.doc).where(which).order_by(*key).limit(CHUNK)
        last: tuple[str, ...] = ("",) * len(key)
        while True:
            with self.db.read() as connection:
                rows = connection.execute(asked.where(tuple_(*key) > tuple_(*last))).all()
            yield from (Entry.from_json(row.doc) for row in rows)
            if len(rows) < CHUNK:
                break
            last = tuple(rows[-1])[: len(key)]
