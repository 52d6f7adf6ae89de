"""The store: entries, devices, links and what else is kept. The only place that speaks SQL.

`Store` is the one way in: synchronous, safe to use from many threads, on a SQLite file or on PostgreSQL.
"""

from __future__ import annotations

from pathlib import Path
from types import TracebackType

from plytide.store.audit import Audit
from plytide.store.backup import Backup, Census
from plytide.store.backup import restore as _restore
from plytide.store.calendars import Calendars
from plytide.store.copy import Copied
from plytide.store.copy import copy as _copy
from plytide.store.database import Database
from plytide.store.devices import Devices
from plytide.store.keys import load_keys
from plytide.store.logbooks import Logbooks
from plytide.store.migrate import migrate as bring_up_to_date
from plytide.store.opening import Openings
from plytide.store.pairing import Pairing
from plytide.store.shapes import (
    AuditLine,
    Device,
    DeviceGone,
    EpochChanged,
    Link,
    LinkRefused,
    LinkSession,
    LinkSpec,
    LinkView,
    LogbookRow,
    NoLogbook,
    Opening,
    PairCode,
    PairingRefused,
    StoreBusy,
    StoreError,
    StoreFull,
    SyncAnswer,
    iso,
)  # fmt: skip
from plytide.store.summaries import Summaries
from plytide.store.sync import Sync

__all__ = [
    "AuditLine", "Census", "Copied", "Device", "DeviceGone", "EpochChanged", "Link", "LinkRefused", "LinkSession",
    "LinkSpec", "LinkView", "LogbookRow", "NoLogbook", "Opening", "PairCode", "PairingRefused", "Store", "StoreBusy",
    "StoreError", "StoreFull", "SyncAnswer", "iso",
]  # fmt: skip


class Store(Logbooks, Sync, Summaries, Openings, Pairing, Devices, Calendars, Audit, Backup):
    """Everything that is kept. Made by `Store.open`; closed by `close`, or at the end of a `with`."""

    @classmethod
    def open(cls, url: str, *, serving: bool = False) -> Store:
        """Open, bring up to date and check the database at `url` (sqlite:///FILE or postgresql+psycopg://…).

        `serving` keeps every other server out of a SQLite file; without it, a short visit beside a server is fine.
        """
        store = cls()
        store.db = Database(url, serving)
        try:
            bring_up_to_date(store.db)
            store.db.check()
            store.keys = load_keys(store.db)
        except BaseException:
            store.close()
            raise
        return store

    @staticmethod
    def restore(url: str, backup: Path) -> Census:
        """See backup.restore."""
        return _restore(url, backup)

    @staticmethod
    def copy(source: str, target: str) -> list[Copied]:
        """See copy.copy."""
        return _copy(source, target)

    def close(self) -> None:
        """Give everything back. The store cannot be used any more."""
        self.db.close()

    def __enter__(self) -> Store:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()
