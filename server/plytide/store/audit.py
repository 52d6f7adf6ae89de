"""The audit list: what was done with a logbook, in plain words, for its wearer."""

from __future__ import annotations

from datetime import UTC, datetime

from sqlalchemy import Connection, select

from plytide.store.part import Part
from plytide.store.shapes import AuditLine, iso
from plytide.store.tables import audit


def note(connection: Connection, logbook_id: str, code: str, words: str, now: datetime | None = None) -> None:
    """Add a line, inside the transaction of what it tells of."""
    at = iso(now or datetime.now(UTC))
    connection.execute(audit.insert().values(logbook_id=logbook_id, at=at, code=code, words=words))


class Audit(Part):
    """Reading the list, and adding to it what happens outside the store."""

    def audit(self, logbook_id: str) -> list[AuditLine]:
        """All lines, newest first."""
        asked = select(audit.c.at, audit.c.code, audit.c.words).where(audit.c.logbook_id == logbook_id)
        with self.db.read() as connection:
            return [AuditLine(*row) for row in connection.execute(asked.order_by(audit.c.n.desc()))]

    def add_audit(self, logbook_id: str, code: str, words: str, now: datetime) -> None:
        """A line about something that was done outside the store, such as an export."""
        with self.db.write() as connection:
            note(connection, logbook_id, code, words, now)
