"""The connections: one writer under one lock, several readers that cannot write, and a file that keeps others out.

SQLite, WAL, synchronous=FULL: what was committed survives a power cut. PostgreSQL goes through the same two doors,
`write` and `read`; there the logbook's row is the lock.
"""

from __future__ import annotations

import fcntl
import sqlite3
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, TypeVar

from sqlalchemy import Connection, Engine, create_engine, event, make_url
from sqlalchemy.exc import DBAPIError
from sqlalchemy.exc import TimeoutError as PoolTimeout
from sqlalchemy.pool import QueuePool

from plytide.store.shapes import StoreBusy, StoreError, StoreFull
from plytide.store.together import Together

T = TypeVar("T")

BUSY_MS = 10_000
READERS = 4
POSTGRES = {  # what the address itself says goes before these
    "application_name": "plytide",
    "connect_timeout": "5",
    # A process that hangs with a logbook's lock in its hand must not keep that wearer, and then everybody, waiting.
    "options": f"-c lock_timeout={BUSY_MS} -c idle_in_transaction_session_timeout=60000",
}
FULL = "There is no room left on the server's disk. Nothing of this was kept; make room and try again."
BUSY = "The database cannot be reached just now. Nothing of this was kept; try again."


class Database:
    """Both doors to one database. `file` is the SQLite file, or None for PostgreSQL."""

    def __init__(self, url: str, serving: bool) -> None:
        self.url = make_url(url)
        self.file = Path(self.url.database or "") if self.url.get_backend_name() == "sqlite" else None
        self._lock = threading.Lock()
        self._lock_file: Any = None
        self._together = Together(self.write)
        if self.file is None:
            self._writer = self._reader = create_engine(
                self.url.set(query=POSTGRES | dict(self.url.query)),
                pool_size=8, max_overflow=8, pool_timeout=BUSY_MS / 1000, pool_pre_ping=True,
            )  # fmt: skip
            return
        if str(self.file) in (".", ":memory:"):
            raise StoreError("The database needs a file; a log that is gone with the process is no log.")
        self.file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        self.file.touch(mode=0o600)  # health data: for its owner alone, and its log with it
        alone = self._keep_out_others(serving)
        self._writer = _sqlite(self.file, "BEGIN IMMEDIATE", 1, ["query_only=OFF"])
        self._reader = _sqlite(self.file, "BEGIN", READERS, ["query_only=ON"])
        if not alone:
            # Older SQLite can harm a WAL that two processes reset at once; the guest leaves that to the server.
            event.listen(self._writer, "connect", lambda c, _: c.execute("PRAGMA wal_autocheckpoint=0"))

    @contextmanager
    def write(self) -> Iterator[Connection]:
        """A transaction that may write; committed when the block ends, undone when it raises."""
        if self.file is None:
            with told(), self._writer.begin() as connection:
                yield connection
        else:
            with self._lock, told(), self._writer.begin() as connection:
                yield connection

    def together(self, work: Callable[[Connection], T]) -> T:
        """What `work` answers from inside a transaction that it may share with others. It may be called twice."""
        if self.file is None:  # there the server does the same by itself
            with self.write() as connection:
                return work(connection)
        return self._together.write(work)

    @contextmanager
    def read(self) -> Iterator[Connection]:
        """A transaction that sees one moment (SQLite), or committed rows only (PostgreSQL)."""
        with told(), self._reader.begin() as connection:
            yield connection

    @contextmanager
    def bare(self) -> Iterator[sqlite3.Connection]:
        """The writer's own SQLite connection outside any transaction, for the few statements that need that."""
        with self._lock, told():
            pooled = self._writer.raw_connection()
            try:
                yield pooled.driver_connection  # type: ignore[misc]
            finally:
                pooled.close()

    @property
    def postgres(self) -> Engine:
        """The engine, for the few statements that PostgreSQL wants outside a transaction."""
        return self._writer

    def check(self) -> None:
        """See that the database is kept as safely as it should be, and that a SQLite file is sound."""
        if self.file is None:
            with self.read() as connection:
                for name in ("fsync", "synchronous_commit"):
                    if connection.exec_driver_sql(f"SHOW {name}").scalar() == "off":
                        raise StoreError(f"PostgreSQL runs with {name} off and may lose what it confirms. Put it on.")
            return
        with self.bare() as connection:
            found = connection.execute("PRAGMA quick_check(1)").fetchone()[0]
            kept = [connection.execute(f"PRAGMA {name}").fetchone()[0] for name in ("journal_mode", "synchronous")]
        if found != "ok":
            raise StoreError(f"{self.file} is damaged ({found}). Restore a backup; phones send again what it lacks.")
        if kept != ["wal", 2]:
            raise StoreError(f"{self.file} lies on a disk that cannot keep a write-ahead log; move it to a local one.")

    def close(self) -> None:
        """Give back every connection, and the lock."""
        self._together.close()
        self._reader.dispose()
        self._writer.dispose()
        if self._lock_file is not None:
            self._lock_file.close()
            self._lock_file = None

    def _keep_out_others(self, serving: bool) -> bool:
        """Hold the lock file when serving; tell whether no server holds it."""
        assert self.file is not None
        name = self.file.with_name(self.file.name + ".lock")
        name.touch(mode=0o600)
        lock = name.open("a")
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            lock.close()
            if serving:
                raise StoreError(
                    f"Another Plytide process has {self.file} open. Stop that one first, or use another folder."
                ) from None
            return False
        if serving:
            self._lock_file = lock
        else:
            lock.close()
        return True


def _sqlite(file: Path, begin: str, size: int, more: list[str]) -> Engine:
    engine = create_engine(
        f"sqlite:///{file}",
        poolclass=QueuePool,
        pool_size=size,
        max_overflow=0,
        pool_timeout=BUSY_MS / 1000,
        connect_args={"check_same_thread": False, "timeout": BUSY_MS / 1000},
    )

    @event.listens_for(engine, "connect")
    def _(connection: sqlite3.Connection, _record: Any) -> None:
        connection.isolation_level = None  # transactions are begun below, in the words that we mean
        pragmas = ["journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", "secure_delete=ON"]
        for pragma in [f"busy_timeout={BUSY_MS}", *pragmas, *more]:
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def _(connection: Connection) -> None:
        connection.exec_driver_sql(begin)

    return engine


@contextmanager
def told() -> Iterator[None]:
    """Database trouble as a store error: full, or not to be reached just now."""
    try:
        yield
    except DBAPIError as error:
        gone = StoreBusy(BUSY) if error.connection_invalidated else None
        raise gone or _amounts_to(error.orig) or error from error
    except sqlite3.DatabaseError as error:
        raise _amounts_to(error) or error from error
    except PoolTimeout as error:
        raise StoreBusy(BUSY) from error


def _amounts_to(error: BaseException | None) -> StoreError | None:
    """The store error that a driver's error amounts to, or None where it is a mistake of ours."""
    text = str(error).lower()
    if isinstance(error, sqlite3.Error):
        if "full" in text:
            return StoreFull(FULL)
        if "malformed" in text or "not a database" in text:
            return StoreError(f"The database is damaged ({error}). Restore a backup; phones send again what it lacks.")
        unreachable = ("locked", "busy", "disk i/o", "unable to open", "readonly")
        return StoreBusy(BUSY) if any(word in text for word in unreachable) else None
    state = getattr(error, "sqlstate", None) or ""
    if state == "53100" or "no space left" in text:
        return StoreFull(FULL)
    # 08 connection, 40 rolled back by the server, 53 resources, 55 not ready, 57 shut down; none: never reached it.
    kinds = [kind.__name__ for kind in type(error).__mro__]
    if state[:2] in ("08", "40", "53", "55", "57") or (not state and "OperationalError" in kinds):
        return StoreBusy(BUSY)
    return None
