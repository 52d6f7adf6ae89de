"""What every part of the store has at hand."""

from __future__ import annotations

from sqlalchemy import Connection, Table
from sqlalchemy.dialects import sqlite

from plytide.store.database import Database
from plytide.store.keys import Keys


class Part:
    """A part of the store: the database's two doors, and the server's key."""

    db: Database
    keys: Keys


def insert(connection: Connection, table: Table) -> sqlite.Insert:
    """An INSERT that can say what to do on a conflict; both databases say it alike."""
    if connection.dialect.name == "postgresql":
        from sqlalchemy.dialects import postgresql  # here: a server on SQLite need not hold it

        return postgresql.insert(table)  # type: ignore[return-value]
    return sqlite.insert(table)
