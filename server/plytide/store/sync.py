"""Push and pull in one call. Numbers are given under the logbook's own lock, so that a reader never skips one."""

from __future__ import annotations

import secrets
from collections.abc import Callable, Iterable, Sequence
from typing import Any

from sqlalchemy import Connection, update

from plytide.entries import Entry
from plytide.store import rows
from plytide.store.audit import note
from plytide.store.merge import Merged, Refused, merge, read
from plytide.store.part import Part
from plytide.store.shapes import DeviceGone, EpochChanged, SyncAnswer
from plytide.store.tables import logbook

PAGE = 1000


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
        batch = [read(raw) for raw in entries]

        def answer(connection: Connection) -> SyncAnswer:
            lives, seq = rows.life(connection, logbook_id, lock=bool(batch))
            _same_life(lives, seq, epoch, cursor)
            merged = Merged()
            if batch:
                if device is not None and not rows.paired(connection, logbook_id, device):
                    raise DeviceGone
                merged = _merged(connection, logbook_id, seq, batch, now_ms)
            page, more = _news(connection, logbook_id, cursor, seq, limit, merged)
            own = _as_sent(merged, entries)
            return SyncAnswer(
                epoch=lives, cursor=page[-1][0] if page else cursor, more=more, results=merged.results,
                docs=[doc for _, id, doc in page if id not in own], changed=bool(merged.standing),
            )  # fmt: skip

        try:
            if batch:
                return self.db.together(answer)
            with self.db.read() as connection:
                return answer(connection)
        except _Ahead:
            raise EpochChanged(self._begin_anew(logbook_id, cursor)) from None

    def _begin_anew(self, logbook_id: str, cursor: int) -> str:
        with self.db.write() as connection:
            epoch, seq = rows.life(connection, logbook_id, lock=True)
            if cursor > seq:
                epoch = new_epoch()
                connection.execute(update(logbook).where(logbook.c.id == logbook_id).values(epoch=epoch))
                words = "An older copy of the log was found in its place; phones send everything again."
                note(connection, logbook_id, "epoch", words)
        return epoch

    def bring_in(
        self,
        logbook_id: str,
        batches: Iterable[Sequence[object]],
        now_ms: int,
        answered: Callable[[list[dict[str, Any]]], None],
        device: str | None = None,
        by: str = "",
    ) -> None:
        """Take a whole file's entries in, all or none: one transaction, whatever ends it.

        `answered` is told the results of each batch, and must not be believed before this returns. No phone may write
        meanwhile, so the batches should come from a disk and not from a network. `by`: who the audit list names.
        """
        with self.db.write() as connection:
            _, seq = rows.life(connection, logbook_id, lock=True)
            if device is not None and not rows.paired(connection, logbook_id, device):
                raise DeviceGone
            for entries in batches:
                merged = _merged(connection, logbook_id, seq, [read(raw) for raw in entries], now_ms)
                seq += len(merged.standing)
                answered(merged.results)
            if by:
                note(connection, logbook_id, "imported", f"{by} brought in a file.")


class _Ahead(Exception):
    """The phone has seen numbers that this logbook has not given yet."""


def _same_life(lives: str, seq: int, epoch: str | None, cursor: int) -> None:
    """Whether epoch and cursor are of this life of the logbook; raises where they are not."""
    if epoch and epoch != lives:
        raise EpochChanged(lives)
    if cursor > seq:
        raise _Ahead


def _merged(connection: Connection, logbook_id: str, seq: int, batch: Sequence[Entry | Refused], now_ms: int) -> Merged:
    """Merge a batch into a logbook that stands at `seq` and is locked here, and write what came of it."""
    ids = list({item.id for item in batch if item.id})
    kept, moved = rows.kept(connection, logbook_id, ids), rows.moved(connection, logbook_id, ids)
    merged = merge(batch, kept, moved, now_ms)
    rows.write(connection, logbook_id, seq, merged)
    return merged


def _news(
    connection: Connection, logbook_id: str, cursor: int, seq: int, limit: int, merged: Merged
) -> tuple[Sequence[tuple[int, str, str]], bool]:
    """(seq, id, doc) of what came after `cursor`, and whether there is more than `limit` of it.

    `seq` is where the logbook stood before what was merged. A phone that was there has seen all else, so nothing needs
    to be read for it.
    """
    if cursor == seq and len(merged.standing) <= limit:
        return [(n, id, doc) for n, (id, (_, doc)) in enumerate(merged.standing.items(), seq + 1)], False
    found = rows.after(connection, logbook_id, cursor, limit + 1)
    return found[:limit], len(found) > limit


def _as_sent(merged: Merged, entries: Sequence[object]) -> set[str]:
    """Ids of what stands just as this phone sent it: it need not be sent back."""
    own = set()
    for told, raw in zip(merged.results, entries, strict=True):
        if told["r"] == "ok":
            stands, _ = merged.standing[told["id"]]
            if stands.stamp == told["stamp"] and stands.as_dict() == raw:
                own.add(told["id"])
    return own
