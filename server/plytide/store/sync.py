"""Push and pull in one call. Numbers are given under the logbook's own lock, so that a reader never skips one."""

from __future__ import annotations

import secrets
from collections.abc import Iterable, Sequence
from typing import Any

from sqlalchemy import Connection, select, update

from plytide.store.audit import note
from plytide.store.merge import Merged, Version, merge, read
from plytide.store.part import Part, insert
from plytide.store.shapes import DeviceGone, EpochChanged, NoLogbook, SyncAnswer
from plytide.store.tables import device as device_table
from plytide.store.tables import entry, history, logbook, restamp

PAGE = 1000

# In the driver's own words: rows go in at twice the speed. The columns are those of tables.Entry, in their order.
_MARKS = {"sqlite": "?", "postgresql": "%s"}
_COLUMNS = [column.name for column in entry.c]
_PUT = {
    name: f"INSERT INTO entry ({', '.join(_COLUMNS)}) VALUES ({', '.join([mark] * len(_COLUMNS))})"
    f" ON CONFLICT (logbook_id, id) DO UPDATE SET {', '.join(f'{c} = excluded.{c}' for c in _COLUMNS[2:])}"
    for name, mark in _MARKS.items()
}


def new_epoch() -> str:
    """A name for a life of a logbook, from its making or its restoring on."""
    return secrets.token_hex(8)


class Sync(Part):
    """The store's side of `POST /api/sync`."""

    def sync(
        self,
        logbook_id: str,
        epoch: str | None,
        cursor: int,
        entries: Sequence[object],
        now_ms: int,
        device: str | None = None,
        limit: int = PAGE,
    ) -> SyncAnswer:
        """Take `entries` in, all or none, and answer each; then give what is new since `cursor`, at most `limit`.

        `epoch` None or empty says that the phone has nothing from here yet; another one than the logbook's raises
        `EpochChanged` before anything is written. `device` is the id of the paired device, which must still be paired.
        """
        cursor = cursor if epoch else 0
        try:
            merged = self._push(logbook_id, epoch, cursor, entries, now_ms, device) if entries else Merged()
            return self._pull(logbook_id, epoch, cursor, limit, merged, entries)
        except _Ahead:
            raise EpochChanged(self._begin_anew(logbook_id, cursor)) from None

    def _begin_anew(self, logbook_id: str, cursor: int) -> str:
        with self.db.write() as connection:
            epoch, seq = _life(connection, logbook_id, lock=True)
            if cursor > seq:
                epoch = new_epoch()
                connection.execute(update(logbook).where(logbook.c.id == logbook_id).values(epoch=epoch))
                words = "An older copy of the log was found in its place; phones send everything again."
                note(connection, logbook_id, "epoch", words)
        return epoch

    def _push(
        self, logbook_id: str, epoch: str | None, cursor: int, entries: Sequence[object], now_ms: int,
        device: str | None,
    ) -> Merged:  # fmt: skip
        batch = [read(raw) for raw in entries]
        ids = list({item.id for item in batch if item.id})
        with self.db.write() as connection:
            life = _life(connection, logbook_id, lock=True)
            _same_life(life, epoch, cursor)
            if device is not None and not _paired(connection, logbook_id, device):
                raise DeviceGone
            merged = merge(batch, _kept(connection, logbook_id, ids), _moved(connection, logbook_id, ids), now_ms)
            _write(connection, logbook_id, life[1], merged)
        return merged

    def _pull(
        self, logbook_id: str, epoch: str | None, cursor: int, limit: int, merged: Merged, entries: Sequence[object]
    ) -> SyncAnswer:
        wanted = select(entry.c.seq, entry.c.id, entry.c.stamp, entry.c.doc)
        wanted = wanted.where(entry.c.logbook_id == logbook_id, entry.c.seq > cursor).order_by(entry.c.seq)
        with self.db.read() as connection:
            life = _life(connection, logbook_id)
            _same_life(life, epoch, cursor)
            rows = connection.execute(wanted.limit(limit + 1)).all()
        page = rows[:limit]
        known = _as_sent(merged, entries)
        return SyncAnswer(
            epoch=life[0],
            cursor=page[-1].seq if page else cursor,
            more=len(rows) > limit,
            results=merged.results,
            docs=[row.doc for row in page if known.get(row.id) != row.stamp],
            changed=bool(merged.standing),
        )


class _Ahead(Exception):
    """The phone has seen numbers that this logbook has not given yet."""


def _same_life(life: tuple[str, int], epoch: str | None, cursor: int) -> None:
    """Whether epoch and cursor are of this life of the logbook; raises where they are not."""
    if epoch and epoch != life[0]:
        raise EpochChanged(life[0])
    if cursor > life[1]:
        raise _Ahead


def _life(connection: Connection, logbook_id: str, lock: bool = False) -> tuple[str, int]:
    """The logbook's epoch and number; with `lock`, nobody else writes to it until this transaction ends."""
    asked = select(logbook.c.epoch, logbook.c.seq).where(logbook.c.id == logbook_id)
    row = connection.execute(asked.with_for_update() if lock else asked).first()
    if row is None:
        raise NoLogbook("There is no such logbook.")
    return row.epoch, row.seq


def _paired(connection: Connection, logbook_id: str, device: str) -> bool:
    c = device_table.c
    asked = select(c.id).where(c.id == device, c.logbook_id == logbook_id, c.revoked_at.is_(None))
    return connection.execute(asked).first() is not None


def _kept(connection: Connection, logbook_id: str, ids: list[str]) -> dict[str, Version]:
    rows = _of_ids(connection, "SELECT id, stamp, doc FROM entry", logbook_id, ids)
    return {id: Version(stamp, doc) for id, stamp, doc in rows}


def _moved(connection: Connection, logbook_id: str, ids: list[str]) -> dict[str, dict[str, str]]:
    moved: dict[str, dict[str, str]] = {}
    for id, sent, stamp in _of_ids(connection, "SELECT id, sent, stamp FROM restamp", logbook_id, ids):
        moved.setdefault(id, {})[sent] = stamp
    return moved


def _of_ids(connection: Connection, chosen: str, logbook_id: str, ids: list[str]) -> Iterable[Any]:
    if not ids:
        return ()
    mark = _MARKS[connection.dialect.name]
    text = f"{chosen} WHERE logbook_id = {mark} AND id IN ({', '.join([mark] * len(ids))})"
    return connection.exec_driver_sql(text, (logbook_id, *ids))


def _write(connection: Connection, logbook_id: str, seq: int, merged: Merged) -> None:
    rows = [
        (logbook_id, e.id, seq + n, e.kind, e.limb, e.at, e.stamp, e.erased, doc)
        for n, (e, doc) in enumerate(merged.standing.values(), 1)
    ]
    lost = [{"logbook_id": logbook_id, "id": i, "stamp": s, "doc": doc} for (i, s), doc in merged.history.items()]
    moved = [{"logbook_id": logbook_id, "id": i, "sent": s, "stamp": to} for (i, s), to in merged.restamps.items()]
    if lost:
        connection.execute(insert(connection, history).on_conflict_do_nothing(), lost)
    if moved:
        connection.execute(insert(connection, restamp).on_conflict_do_nothing(), moved)
    if rows:
        connection.exec_driver_sql(_PUT[connection.dialect.name], rows)
        connection.execute(update(logbook).where(logbook.c.id == logbook_id).values(seq=seq + len(rows)))


def _as_sent(merged: Merged, entries: Sequence[object]) -> dict[str, str]:
    """Stamps by id of what stands just as this phone sent it: it need not be sent back."""
    by_stamp = {(e.id, e.stamp): e.as_dict() for e, _ in merged.standing.values()}
    answered = zip(merged.results, entries, strict=True)
    return {a["id"]: a["stamp"] for a, raw in answered if a["r"] == "ok" and by_stamp.get((a["id"], a["stamp"])) == raw}
