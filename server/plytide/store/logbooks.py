"""Logbooks: made, listed, and taken away so that nothing of them stays in the file."""

from __future__ import annotations

import sqlite3
import time
import uuid
from datetime import UTC, datetime

from sqlalchemy import Connection, delete, select, text

from plytide.store.audit import note
from plytide.store.part import Part
from plytide.store.shapes import LogbookRow, NoLogbook, iso
from plytide.store.sync import new_epoch
from plytide.store.tables import OF_A_LOGBOOK, logbook

WIPE_TRIES = 50
_ANY = select(logbook.c.id).limit(1)


class Logbooks(Part):
    """One logbook is one wearer's log; a server keeps as many as it is asked to."""

    def create_logbook(self, name: str = "") -> str:
        """A new, empty logbook; answers its id."""
        with self.db.write() as connection:
            return _create(connection, name)

    def first_logbook(self) -> str | None:
        """Make a logbook where there is none yet; its id, or None. Of servers that start at once, one makes it."""
        if self.any_logbook():
            return None
        with self.db.write() as connection:
            if self.db.file is None:
                connection.execute(text("LOCK TABLE logbook IN SHARE ROW EXCLUSIVE MODE"))
            there = connection.execute(_ANY).first()
            return None if there else _create(connection, "")

    def any_logbook(self) -> bool:
        """Whether there is one: the least that can be asked of a database, to see whether it answers."""
        with self.db.read() as connection:
            return connection.execute(_ANY).first() is not None

    def logbooks(self) -> list[LogbookRow]:
        """All logbooks, oldest first."""
        c = logbook.c
        asked = select(c.id, c.name, c.epoch, c.seq, c.made_at).order_by(c.made_at, c.id)
        with self.db.read() as connection:
            return [LogbookRow(*row) for row in connection.execute(asked)]

    def logbook(self, logbook_id: str) -> LogbookRow:
        """One logbook, or `NoLogbook`."""
        c = logbook.c
        asked = select(c.id, c.name, c.epoch, c.seq, c.made_at).where(c.id == logbook_id)
        with self.db.read() as connection:
            row = connection.execute(asked).first()
        if row is None:
            raise NoLogbook("There is no such logbook.")
        return LogbookRow(*row)

    def epoch(self, logbook_id: str) -> str:
        """The name of the logbook's present life; a restored backup begins another."""
        return self.logbook(logbook_id).epoch

    def seq(self, logbook_id: str) -> int:
        """The number of the logbook's latest change; 0 when it is empty."""
        return self.logbook(logbook_id).seq

    def erase_logbook(self, logbook_id: str) -> bool:
        """Erase a logbook with everything that hangs on it.

        True when the rows are gone from the files too; False when a long-running reader held them open, in which case
        they go with the next `wipe`. Backups made earlier are the operator's to delete.
        """
        with self.db.write() as connection:
            found = connection.execute(select(logbook.c.id).where(logbook.c.id == logbook_id).with_for_update()).first()
            if found is None:
                raise NoLogbook("There is no such logbook.")
            for table in OF_A_LOGBOOK:
                connection.execute(delete(table).where(table.c.logbook_id == logbook_id))
            connection.execute(delete(logbook).where(logbook.c.id == logbook_id))
        return self.wipe()

    def wipe(self) -> bool:
        """See that what was deleted is in no file of the database any more."""
        if self.db.file is None:
            with self.db.postgres.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
                for table in (*OF_A_LOGBOOK, logbook):
                    connection.execute(text(f"VACUUM {table.name}"))
            return True
        for copy in self.db.file.parent.glob(f"{self.db.file.name}.before-*"):
            copy.unlink()  # copies made before an upgrade hold what was to be erased
        with self.db.bare() as connection:
            # secure_delete has overwritten the rows in the pages; VACUUM gives back the emptied pages as well.
            connection.execute("VACUUM")
            return _emptied(connection)


def _create(connection: Connection, name: str) -> str:
    id, now = str(uuid.uuid4()), datetime.now(UTC)
    row = {"id": id, "name": name, "epoch": new_epoch(), "seq": 0, "made_at": iso(now)}
    connection.execute(logbook.insert().values(row))
    note(connection, id, "made", "The logbook was made.", now)
    return id


def _emptied(connection: sqlite3.Connection) -> bool:
    """Empty the write-ahead log into the file; a reader in the middle of something makes it wait."""
    for _ in range(WIPE_TRIES):
        if connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()[0] == 0:
            return True
        time.sleep(0.02)
    return False
