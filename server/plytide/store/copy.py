"""A whole database into another, empty one: to PostgreSQL when one machine is outgrown, or back into a file.

Every row goes over as it is, numbers, epochs and hashes of tokens with it, and so does the server's key: phones and
links go on as if nothing had happened. It is one transaction, and before it is kept every table is counted and hashed
on both sides.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Connection, Row, Table, func, inspect, make_url, select, text
from sqlmodel import SQLModel

from plytide.store import keys
from plytide.store.database import Database
from plytide.store.migrate import HEAD, migrate, revision
from plytide.store.shapes import StoreError
from plytide.store.tables import meta

BATCH = 1000
# Parents come before what hangs on them. `meta` holds the key, which lies elsewhere in each kind of database.
TABLES = [table for table in SQLModel.metadata.sorted_tables if table is not meta]
OTHERS = "SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND application_name = 'plytide'"


@dataclass(frozen=True, slots=True)
class Copied:
    """One table as it stands on both sides: how many rows, and a hash over all of them, whatever their order."""

    table: str
    rows: int
    hash: str


def copy(source: str, target: str) -> list[Copied]:
    """Copy the database at one address into the empty one at another, while no server runs on either.

    `StoreError` where a server runs, the target is not empty, or what arrived is not what was sent; then the target is
    as empty as before.
    """
    url = make_url(source)
    if url.get_backend_name() == "sqlite" and not Path(url.database or "").is_file():
        raise StoreError(f"There is no Plytide database at {url.database}.")
    with closing(Database(source, serving=True)) as old, closing(Database(target, serving=True)) as new:
        for database in (old, new):
            _alone(database)
        with new.read() as connection:
            if (found := revision(connection)) not in (None, HEAD) or _filled(connection):
                raise StoreError(f"The database to copy to is not empty{f' (form {found})' if found else ''}. "
                                 "Name one that holds nothing, so that nothing can be lost.")  # fmt: skip
        migrate(old)
        migrate(new)
        with old.write() as reading, new.write() as writing:
            _hold(reading, "SHARE")
            _hold(writing, "EXCLUSIVE")
            keys.put_key(new, writing, keys.key_of(old))
            return [_table(reading, writing, table) for table in TABLES]


def _table(reading: Connection, writing: Connection, table: Table) -> Copied:
    sent = Proof()
    for rows in _batches(reading, table):
        writing.execute(table.insert(), [dict(row._mapping) for row in rows])
        sent.take(rows)
    arrived = Proof()
    for rows in _batches(writing, table):
        arrived.take(rows)
    if sent != arrived:
        raise StoreError(f"{table.name} did not arrive as it was sent ({sent.rows} rows, {arrived.rows} arrived). "
                         "Nothing was kept; try again.")  # fmt: skip
    _count_on(writing, table)
    return Copied(table.name, sent.rows, f"{sent.total:064x}")


@dataclass
class Proof:
    """Rows counted, and their hashes added up, so that the order in which a database gives them is no matter."""

    rows: int = 0
    total: int = 0

    def take(self, rows: Iterable[Row[tuple[object, ...]]]) -> None:
        """Count these in."""
        for row in rows:
            self.rows += 1
            self.total += int.from_bytes(hashlib.sha256(repr(tuple(row)).encode()).digest())
        self.total %= 2**256


def _batches(connection: Connection, table: Table) -> Iterator[Sequence[Row[tuple[object, ...]]]]:
    return connection.execute(select(table), execution_options={"yield_per": BATCH}).partitions()


def _filled(connection: Connection) -> bool:
    """Whether there is a row of anything; a database that was opened once has its form, and maybe a key."""
    names = set(inspect(connection).get_table_names()) - {"alembic_version", meta.name}
    return any(connection.execute(text(f'SELECT 1 FROM "{name}" LIMIT 1')).first() for name in names)


def _alone(database: Database) -> None:
    """See that no Plytide is at work on a PostgreSQL database; a file has its lock for that."""
    if database.file is None:
        with database.read() as connection:
            if connection.execute(text(f"{OTHERS} AND pid <> pg_backend_pid()")).scalar_one():
                raise StoreError("A Plytide server or worker is connected to the PostgreSQL database. Stop it first.")


def _hold(connection: Connection, mode: str) -> None:
    """Keep writers out of a PostgreSQL database while the copy is made, however long the other side takes."""
    if connection.dialect.name == "postgresql":
        connection.execute(text("SET LOCAL idle_in_transaction_session_timeout = 0"))
        connection.execute(text(f"LOCK TABLE {', '.join(table.name for table in TABLES)} IN {mode} MODE"))


def _count_on(connection: Connection, table: Table) -> None:
    """Let PostgreSQL number new rows from where the old database was; SQLite looks for itself."""
    column = table.autoincrement_column
    if column is not None and connection.dialect.name == "postgresql":
        highest = func.max(column)
        sequence = func.pg_get_serial_sequence(table.name, column.name)
        connection.execute(select(func.setval(sequence, func.coalesce(highest, 1), highest.is_not(None))))
