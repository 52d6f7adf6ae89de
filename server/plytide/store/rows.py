"""The statements of the sync path, in the driver's own words: to build one takes SQLAlchemy longer than to run it.

`?` stands for a value, on PostgreSQL as well. Everything here happens inside the transaction of the caller.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import chain
from typing import Any

from sqlalchemy import Connection, CursorResult, Row

from plytide.store.merge import Merged, Version
from plytide.store.shapes import NoLogbook
from plytide.store.tables import device, entry

_COLUMNS = [column.name for column in entry.c]
_REPLACE = f"(logbook_id, id) DO UPDATE SET {', '.join(f'{c} = excluded.{c}' for c in _COLUMNS[2:])}"
AT_ONCE = 500  # rows in one statement; no database takes fewer than thirty thousand values
_DEVICE = (
    f"SELECT {', '.join(column.name for column in device.c)} FROM device"
    " WHERE revoked_at IS NULL AND (token_hash = ? OR next_hash = ? OR old_hash = ?)"
)


def run(connection: Connection, text: str, values: tuple[Any, ...]) -> CursorResult[Any]:
    """One statement with its values."""
    if connection.dialect.name == "postgresql":
        text = text.replace("?", "%s")
    return connection.exec_driver_sql(text, values)


def _locked(connection: Connection, lock: bool) -> str:
    # SQLite has one writer at a time as it is.
    return " FOR UPDATE" if lock and connection.dialect.name == "postgresql" else ""


def life(connection: Connection, logbook_id: str, lock: bool = False) -> tuple[str, int]:
    """The logbook's epoch and number; with `lock`, nobody else writes to it until this transaction ends."""
    asked = "SELECT epoch, seq FROM logbook WHERE id = ?" + _locked(connection, lock)
    row = run(connection, asked, (logbook_id,)).first()
    if row is None:
        raise NoLogbook("There is no such logbook.")
    return row.epoch, row.seq


def device_of(connection: Connection, token_hash: str, lock: bool = False) -> Row[Any] | None:
    """The device that has, is to have or had a token of this hash; None where there is none, or it is shut out."""
    return run(connection, _DEVICE + _locked(connection, lock), (token_hash,) * 3).first()


def paired(connection: Connection, logbook_id: str, device: str) -> bool:
    """Whether the device may still write."""
    asked = "SELECT id FROM device WHERE id = ? AND logbook_id = ? AND revoked_at IS NULL"
    return run(connection, asked, (device, logbook_id)).first() is not None


def kept(connection: Connection, logbook_id: str, ids: Sequence[str]) -> dict[str, Version]:
    """What stands, by id."""
    rows = _of_ids(connection, "SELECT id, stamp, doc FROM entry", logbook_id, ids)
    return {id: Version(stamp, doc) for id, stamp, doc in rows}


def moved(connection: Connection, logbook_id: str, ids: Sequence[str]) -> dict[str, dict[str, str]]:
    """The stamps that were moved back, by id and stamp as sent."""
    found: dict[str, dict[str, str]] = {}
    for id, sent, stamp in _of_ids(connection, "SELECT id, sent, stamp FROM restamp", logbook_id, ids):
        found.setdefault(id, {})[sent] = stamp
    return found


def _of_ids(connection: Connection, chosen: str, logbook_id: str, ids: Sequence[str]) -> Iterable[Any]:
    if not ids:
        return ()
    return run(connection, f"{chosen} WHERE logbook_id = ? AND id IN ({', '.join('?' * len(ids))})", (logbook_id, *ids))


def write(connection: Connection, logbook_id: str, seq: int, merged: Merged) -> None:
    """What came of a batch, into a logbook that stands at `seq`."""
    book = logbook_id
    lost = [(book, id, stamp, doc) for (id, stamp), doc in merged.history.items()]
    back = [(book, id, sent, stamp) for (id, sent), stamp in merged.restamps.items()]
    rows = [
        (book, e.id, n, e.kind, e.limb, e.at, e.stamp, e.erased, doc)
        for n, (e, doc) in enumerate(merged.standing.values(), seq + 1)
    ]
    _insert(connection, "history (logbook_id, id, stamp, doc)", lost, "DO NOTHING")
    _insert(connection, "restamp (logbook_id, id, sent, stamp)", back, "DO NOTHING")
    _insert(connection, f"entry ({', '.join(_COLUMNS)})", rows, _REPLACE)
    if rows:
        run(connection, "UPDATE logbook SET seq = ? WHERE id = ?", (seq + len(rows), book))


def _insert(connection: Connection, into: str, rows: Sequence[tuple[Any, ...]], on_conflict: str) -> None:
    # Many rows a statement: after each statement Python's SQLite asks to go on, and may wait for a thread that reckons.
    for start in range(0, len(rows), AT_ONCE):
        part = rows[start : start + AT_ONCE]
        marks = ", ".join([f"({', '.join('?' * len(part[0]))})"] * len(part))
        run(connection, f"INSERT INTO {into} VALUES {marks} ON CONFLICT {on_conflict}", tuple(chain(*part)))


def after(connection: Connection, logbook_id: str, cursor: int, limit: int) -> Sequence[Any]:
    """(seq, id, doc) of what stands, in the order of its numbers, from the one after `cursor` on."""
    asked = "SELECT seq, id, doc FROM entry WHERE logbook_id = ? AND seq > ? ORDER BY seq LIMIT ?"
    return run(connection, asked, (logbook_id, cursor, limit)).all()
