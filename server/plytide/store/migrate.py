"""Bringing an older database up to date, so that nothing in it can be lost on the way.

A copy is made first. The steps run in one transaction on a connection with foreign keys off: with them on, SQLite
lets a rebuilt parent table take its children with it. Afterwards every entry and every earlier version has to be
there still, counted and hashed, or all of it is undone.
"""

from __future__ import annotations

import hashlib
import sqlite3
from contextlib import closing
from pathlib import Path

from sqlalchemy import Connection, create_engine, event, inspect, text
from sqlalchemy.pool import NullPool

from plytide.store.database import Database, told
from plytide.store.shapes import StoreError

HEAD = "0001"  # the newest file in migrations/versions; here too, so that alembic is read only when it is needed
SCRIPTS = "plytide.store:migrations"
KEPT = {"entry": "logbook_id, id, stamp, doc", "history": "logbook_id, id, stamp, doc", "logbook": "id"}
POSTGRES_LOCK = 0x506C7974  # any fixed number: one process migrates, the others wait


def migrate(database: Database) -> None:
    """Bring the database to HEAD, or raise a `StoreError` and leave it as it was."""
    engine = database.postgres
    if database.file is not None:
        if sqlite_revision(database.file) == HEAD:
            return
        engine = create_engine(f"sqlite:///{database.file}", poolclass=NullPool)

        @event.listens_for(engine, "connect")
        def _(connection: sqlite3.Connection, _record: object) -> None:
            connection.isolation_level = None
            connection.execute("PRAGMA foreign_keys=OFF")
            connection.execute("PRAGMA busy_timeout=60000")
            connection.execute("PRAGMA journal_mode=WAL")

        @event.listens_for(engine, "begin")
        def _(connection: Connection) -> None:
            connection.exec_driver_sql("BEGIN IMMEDIATE")

    with told(), engine.begin() as connection:
        if database.file is None:
            connection.execute(text("SELECT pg_advisory_xact_lock(:n)"), {"n": POSTGRES_LOCK})
        found = revision(connection)
        if found == HEAD:
            return
        refuse_newer(found)
        if found is not None and database.file is not None:
            _copy(database.file, found)
        before = {name: _census(connection, name) for name in KEPT} if found else {}
        try:
            _run(connection)
        except Exception as error:
            raise StoreError(
                f"Bringing the database up to date failed ({str(error).partition(chr(10))[0]}). It was left as it was; "
                "see that there is room on the disk, or go back to the earlier version."
            ) from error
        lost = [name for name, census in before.items() if _census(connection, name) != census]
        if lost or _dangling(connection, database):
            raise StoreError(
                f"Bringing the database up to date would have changed {', '.join(lost) or 'what belongs together'}. "
                "It was left as it was; go back to the earlier version and report this."
            )


def refuse_newer(revision: str | None) -> None:
    """Raise where a database has a form that only a later version knows."""
    if revision is not None and revision > HEAD:
        raise StoreError(
            f"This database was made by a newer Plytide (form {revision}; this one knows {HEAD}). "
            "Install that version again, or restore a backup made before the upgrade."
        )


def sqlite_revision(file: Path) -> str | None:
    """The revision of a SQLite file, or None where it has none."""
    with closing(sqlite3.connect(file)) as connection:
        try:
            row = connection.execute("SELECT version_num FROM alembic_version").fetchone()
        except sqlite3.OperationalError:
            return None
        except sqlite3.DatabaseError as error:
            raise StoreError(f"{file} is not a SQLite database, or is damaged ({error}).") from None
    return str(row[0]) if row else None


def revision(connection: Connection) -> str | None:
    """The revision of a database, or None where it has none."""
    if not inspect(connection).has_table("alembic_version"):
        return None
    found = connection.execute(text("SELECT version_num FROM alembic_version")).scalar()
    return None if found is None else str(found)


def _run(connection: Connection) -> None:
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", SCRIPTS)
    config.attributes["connection"] = connection
    command.upgrade(config, "head")


def _copy(file: Path, revision: str) -> None:
    """A copy beside the file, made by a second connection that reads what was committed."""
    target = file.with_name(f"{file.name}.before-{int(revision) + 1:04d}")
    target.unlink(missing_ok=True)
    target.touch(mode=0o600)
    with closing(sqlite3.connect(file)) as connection:
        connection.execute("VACUUM INTO ?", (str(target),))


def _census(connection: Connection, name: str) -> tuple[int, str]:
    """How many rows a table has, and a hash over what must not change in them."""
    digest, count = hashlib.sha256(), 0
    columns = KEPT[name]
    for row in connection.execute(text(f"SELECT {columns} FROM {name} ORDER BY {columns}")):
        digest.update(repr(tuple(row)).encode())
        count += 1
    return count, digest.hexdigest()


def _dangling(connection: Connection, database: Database) -> bool:
    """Whether a row points nowhere; PostgreSQL sees to that itself."""
    return database.file is not None and bool(connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall())
