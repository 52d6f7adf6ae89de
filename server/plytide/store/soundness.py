"""A database may be sound and still be in trouble: a key that is another's, files that strangers read, a full disk."""

from __future__ import annotations

import shutil
from datetime import datetime

from sqlalchemy import select, text

from plytide.store import keys
from plytide.store.part import Part
from plytide.store.shapes import iso
from plytide.store.tables import calendar, link

LEAST_ROOM = 64 * 1024 * 1024  # bytes: about a hundred thousand entries, and as much again while they are written


class Soundness(Part):
    """Questions for `plytide check` and /healthz."""

    def short_of_room(self) -> bool:
        """Whether new entries will soon be refused for a full disk. That of a PostgreSQL is not seen from here."""
        return self.db.file is not None and shutil.disk_usage(self.db.file.parent).free < LEAST_ROOM

    def form(self) -> str:
        """The form of the tables, as its last migration is named."""
        with self.db.read() as connection:
            return str(connection.execute(text("SELECT version_num FROM alembic_version")).scalar_one())

    def addresses_lost(self, now: datetime) -> int:
        """How many clinic links and calendars stand that the server's key does not make: nobody can be shown them."""
        stands = {
            "link": select(link.c.id, link.c.token_hash).where(link.c.revoked_at.is_(None), link.c.expires > iso(now)),
            "calendar": select(calendar.c.id, calendar.c.token_hash).where(calendar.c.revoked_at.is_(None)),
        }
        with self.db.read() as connection:
            return sum(
                keys.hash_token(self.keys.token(kind, row.id)) != row.token_hash
                for kind, asked in stands.items()
                for row in connection.execute(asked)
            )

    def read_by_others(self) -> list[str]:
        """Names of the database's own files that other users of this machine may read or write."""
        if self.db.file is None:
            return []
        own = [self.db.file, keys.key_file(self.db.file)]
        return [str(file) for file in own if file.exists() and file.stat().st_mode & 0o077]
