"""Summaries: kept beside the entries, found where they are out of date, and made by one process at a time."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import ColumnElement, Select, case, func, select

from plytide.store.part import Part, insert
from plytide.store.rows import run
from plytide.store.shapes import iso
from plytide.store.tables import device, logbook, summary

ASKED_FOR = timedelta(days=30)  # a logbook that no phone has opened for longer is not read anew as time moves

_BEHIND = (logbook.c.seq > 0) & (summary.c.seq.is_(None) | (summary.c.seq < logbook.c.seq))


class Summaries(Part):
    """The latest reading of each logbook."""

    def summary(self, logbook_id: str) -> dict[str, Any] | None:
        """The latest summary, or None where none was made yet."""
        text = self.summary_json(logbook_id)
        return None if text is None else json.loads(text)

    def summary_json(self, logbook_id: str) -> str | None:
        """The latest summary as the JSON text that it is kept as."""
        with self.db.read() as connection:
            return connection.execute(select(summary.c.doc).where(summary.c.logbook_id == logbook_id)).scalar()

    def newer_summary(self, logbook_id: str, seq: int, made_at: str) -> str | None:
        """The latest summary as JSON text, unless it is the one that stands at `seq` and was made at `made_at`.

        Nor is an older one than that given. A summary is some hundred kilobytes, which most answers need not read.
        """
        newer = "SELECT doc FROM summary WHERE logbook_id = ? AND (seq > ? OR (seq = ? AND made_at > ?))"
        with self.db.read() as connection:
            return run(connection, newer, (logbook_id, seq, seq, made_at)).scalar()

    def put_summary(self, logbook_id: str, seq: int, summary_: dict[str, Any], made_at: datetime) -> None:
        """Keep a summary of the entries up to `seq`, unless a later one is there already."""
        doc = json.dumps(summary_, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
        row = {"logbook_id": logbook_id, "seq": seq, "made_at": iso(made_at), "doc": doc}
        with self.db.write() as connection:
            there = select(logbook.c.seq).where(logbook.c.id == logbook_id).with_for_update()
            if connection.execute(there).first() is None:
                return  # erased while it was being read
            put = insert(connection, summary).values(row)
            new = {name: put.excluded[name] for name in ("seq", "made_at", "doc")}
            newer = summary.c.seq <= put.excluded.seq
            connection.execute(put.on_conflict_do_update(index_elements=["logbook_id"], set_=new, where=newer))

    def dirty(self) -> list[tuple[str, int]]:
        """Logbooks whose summary rests on fewer changes than there are, with the number to reach."""
        with self.db.read() as connection:
            return [(row.id, row.seq) for row in connection.execute(_joined(_BEHIND))]

    def due(self, now: datetime, age: timedelta | None) -> list[str]:
        """Logbooks whose summary is to be made: those of `dirty`, then those made longer than `age` ago, oldest first.

        `age` None: a summary does not grow old.
        """
        first = case((_BEHIND, 0), else_=1)
        asked = _joined(_due(now, age)).order_by(first, summary.c.made_at.asc().nulls_first(), logbook.c.id)
        with self.db.read() as connection:
            return [row.id for row in connection.execute(asked)]

    @contextmanager
    def claim(self, logbook_id: str, now: datetime, age: timedelta | None) -> Iterator[bool]:
        """Whether the summary of a logbook is this process's to make, while the block lasts: due, and in no other hand.

        On PostgreSQL the claim is a lock of the connection, so it ends with a worker that is killed. On SQLite, where
        one server makes them, two workers would do the same twice, which does no harm.
        """
        asked = _joined(_due(now, age) & (logbook.c.id == logbook_id))
        if self.db.file is not None:  # a reader that stayed in its transaction would keep the log from being emptied
            with self.db.read() as connection:
                due = connection.execute(asked).first()
            yield due is not None
            return
        with self.db.read() as connection:
            lock = select(func.pg_try_advisory_xact_lock(func.hashtextextended(logbook_id, 0)))
            yield connection.execute(lock).scalar_one() and connection.execute(asked).first() is not None


def _joined(which: ColumnElement[bool]) -> Select[tuple[str, int]]:
    both = logbook.outerjoin(summary, summary.c.logbook_id == logbook.c.id)
    return select(logbook.c.id, logbook.c.seq).select_from(both).where(which)


def _due(now: datetime, age: timedelta | None) -> ColumnElement[bool]:
    if age is None:
        return _BEHIND
    seen = select(device.c.id).where(device.c.logbook_id == logbook.c.id, device.c.seen_at > iso(now - ASKED_FOR))
    # Between, so that one made while a clock stood in the future grows old too.
    old = summary.c.made_at.is_not(None) & ~summary.c.made_at.between(iso(now - age), iso(now + age))
    return _BEHIND | (old & seen.exists())
