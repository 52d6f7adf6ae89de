"""The secret address of a calendar subscription: one a logbook, shown again when asked, changed when it got about."""

from __future__ import annotations

import uuid
from datetime import datetime

from sqlalchemy import select, update

from plytide.store import keys
from plytide.store.audit import note
from plytide.store.part import Part
from plytide.store.shapes import iso
from plytide.store.tables import calendar


class Calendars(Part):
    """Calendar tokens."""

    def calendar_token(self, logbook_id: str, now: datetime) -> str:
        """The logbook's token, made when there is none."""
        stands = (calendar.c.logbook_id == logbook_id) & calendar.c.revoked_at.is_(None)
        with self.db.write() as connection:
            id = connection.execute(select(calendar.c.id).where(stands)).scalar()
            if id is None:
                id = str(uuid.uuid4())
                hashed = keys.hash_token(self.keys.token("calendar", id))
                row = {"id": id, "logbook_id": logbook_id, "token_hash": hashed, "made_at": iso(now)}
                connection.execute(calendar.insert().values(row))
                note(connection, logbook_id, "calendar_made", "The calendar got an address.", now)
        return self.keys.token("calendar", id)

    def calendar_logbook(self, token: str) -> str | None:
        """The logbook of a token, or None where there is none any more."""
        known = (calendar.c.token_hash == keys.hash_token(token)) & calendar.c.revoked_at.is_(None)
        with self.db.read() as connection:
            return connection.execute(select(calendar.c.logbook_id).where(known)).scalar()

    def revoke_calendar(self, logbook_id: str, now: datetime) -> None:
        """End the address; calendars that have it get nothing from now on."""
        stands = (calendar.c.logbook_id == logbook_id) & calendar.c.revoked_at.is_(None)
        with self.db.write() as connection:
            if connection.execute(update(calendar).where(stands).values(revoked_at=iso(now))).rowcount:
                note(connection, logbook_id, "calendar_ended", "The calendar's address was ended.", now)
