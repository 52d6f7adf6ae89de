"""Backup and restore of a SQLite database, and the check that either rests on.

A backup has its name only when it is whole: it is written under another one, synced, opened and checked first. The
server's key goes with it, as <name>.key, for without it no clinic link of the backup would open again. A restored
database begins a new epoch in every logbook: phones then send everything again, so that what came in after
the backup was made is not lost.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from plytide.store.database import Database, told
from plytide.store.keys import key_file, read_key, write_key
from plytide.store.migrate import migrate, refuse_newer, sqlite_revision
from plytide.store.shapes import StoreError
from plytide.store.soundness import Soundness
from plytide.store.sync import new_epoch


@dataclass(frozen=True, slots=True)
class Census:
    """What a database holds. `entries` counts those that stand, erased ones too; `versions` those replaced."""

    logbooks: int
    entries: int
    versions: int


class Backup(Soundness):
    """Copies, while the server runs."""

    def backup(self, file: Path) -> Census:
        """Write a checked copy of the database to `file`, which must not exist unless it is an earlier copy."""
        if self.db.file is None:
            raise StoreError("Back a PostgreSQL database up with pg_dump, or with what your provider has for that.")
        if file.exists() and file.samefile(self.db.file):
            raise StoreError("That is the database itself; name another file for the backup.")
        if not file.parent.is_dir():
            raise StoreError(f"There is no folder {file.parent} for the backup.")
        part = file.with_name(f".{file.name}.{os.getpid()}.part")
        try:
            part.touch(OWNER_ALONE)
            with told(), closing(sqlite3.connect(self.db.file)) as connection:
                connection.execute("VACUUM INTO ?", (str(part),))
            sync_file(part)
            census = inspect(part)
            write_key(key_file(file), read_key(key_file(self.db.file)), replace=True)
            part.replace(file)
            sync_file(file.parent)
        finally:
            part.unlink(missing_ok=True)
        return census

    def check(self) -> Census:
        """Look through the whole database; `StoreError` says what is wrong with it."""
        if self.db.file is not None:
            return inspect(self.db.file)
        with self.db.read() as connection:
            counts = [connection.exec_driver_sql(f"SELECT count(*) FROM {name}").scalar_one() for name in COUNTED]
        return Census(*counts)


COUNTED = ("logbook", "entry", "history")
OWNER_ALONE = 0o600


def inspect(file: Path) -> Census:
    """Check a database file from end to end and count what it holds; `StoreError` where it is not sound."""
    try:
        with closing(sqlite3.connect(f"file:{file}?mode=ro", uri=True)) as connection:
            found = [row[0] for row in connection.execute("PRAGMA integrity_check(5)")]
            if found != ["ok"]:
                raise StoreError(f"{file} is damaged: {found[0]}. Restore a backup; phones send again what it lacks.")
            if connection.execute("PRAGMA foreign_key_check").fetchone():
                raise StoreError(f"{file} has rows that belong to nothing. Restore a backup.")
            counts = [connection.execute(f"SELECT count(*) FROM {name}").fetchone()[0] for name in COUNTED]
    except sqlite3.Error as error:
        raise StoreError(f"{file} is not a sound Plytide database ({error}).") from None
    return Census(*counts)


def restore(url: str, backup: Path) -> Census:
    """Put a backup in the place of the database at `url`, while no server runs; the old one stays beside it.

    The backup's key comes with it, where it has one; else the present key stays. `StoreError` where the backup is not
    sound, or a server runs; then nothing has changed.
    """
    if not backup.is_file():
        raise StoreError(f"There is no file {backup}.")
    census = inspect(backup)
    refuse_newer(sqlite_revision(backup))
    key = read_key(key_file(backup)) if key_file(backup).is_file() else None
    with closing(Database(url, serving=True)) as database:
        if database.file is None:
            raise StoreError(
                "Restore a PostgreSQL database with pg_restore, then begin new epochs so that phones send everything "
                "again: UPDATE logbook SET epoch = md5(random()::text || id)."
            )
        if database.file.exists() and backup.samefile(database.file):
            raise StoreError("That is the database itself; name a backup.")
        _swap(database.file, backup)
        if key is not None:
            _swap_key(key_file(database.file), key)
        migrate(database)
    return census


def _swap(file: Path, backup: Path) -> None:
    fresh = file.with_name(f".{file.name}.{os.getpid()}.fresh")
    try:
        fresh.touch(OWNER_ALONE)
        shutil.copyfile(backup, fresh)
        _begin_epochs(fresh)
        _keep_restamps(fresh, file)
        sync_file(fresh)
        if file.exists():
            _put_aside(file)
        fresh.replace(file)  # at no moment is there no database, or one with another's write-ahead log
        sync_file(file.parent)
    finally:
        fresh.unlink(missing_ok=True)


def _swap_key(file: Path, key: bytes) -> None:
    """Another key than the present one: that stays beside it as <name>.replaced, as the database does."""
    if file.exists() and file.read_bytes() != key:
        file.replace(file.with_name(file.name + ".replaced"))
    write_key(file, key, replace=True)
    sync_file(file.parent)


def _begin_epochs(file: Path) -> None:
    with closing(sqlite3.connect(file)) as connection:
        connection.execute("PRAGMA journal_mode=DELETE")  # all of it in the one file
        for (id,) in connection.execute("SELECT id FROM logbook").fetchall():
            connection.execute("UPDATE logbook SET epoch = ? WHERE id = ?", (new_epoch(), id))
        connection.commit()


def _keep_restamps(fresh: Path, old: Path) -> None:
    """Take along which stamps were moved back since: a phone that never heard of it will send the one of the future."""
    if not old.exists():
        return
    with closing(sqlite3.connect(fresh)) as connection:
        try:
            connection.execute("ATTACH ? AS old", (str(old),))
            mine = "SELECT * FROM old.restamp WHERE logbook_id IN (SELECT id FROM main.logbook)"
            connection.execute(f"INSERT OR IGNORE INTO main.restamp {mine}")
            connection.commit()
        except sqlite3.DatabaseError:
            connection.rollback()  # the old database cannot be read, or is of another form: then without


def _put_aside(file: Path) -> None:
    """Keep the old database as <name>.replaced, its write-ahead log emptied into it; a broken one as it is."""
    try:
        with closing(sqlite3.connect(file)) as connection:
            connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    except sqlite3.DatabaseError:
        pass  # what cannot be read cannot be emptied either; its log is set aside beside it
    aside = file.with_name(file.name + ".replaced")
    for ending in ("-wal", "-shm"):
        log = file.with_name(file.name + ending)
        if log.exists():
            log.replace(aside.with_name(aside.name + ending))
    aside.unlink(missing_ok=True)
    aside.hardlink_to(file)


def sync_file(path: Path) -> None:
    """See that a file, or the list of files of a folder, is on the disk."""
    descriptor = os.open(path, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
