"""`plytide serve` with a planted fault: it takes a change's number first and writes the change afterwards.

A counter of its own does just that, as does the sequence that databases offer: a number is there before its row is, and
a reader who comes by in between never hears of it.
"""

import random
import time
from collections.abc import Sequence
from typing import Any

from plytide.cli import main
from plytide.entries import parse_entry
from plytide.store import Store, SyncAnswer
from plytide.store.tables import entry, logbook
from sqlalchemy import update

whole = Store.sync


def sync(
    store: Store, logbook_id: str, epoch: str | None, cursor: int, entries: Sequence[Any], *rest: Any
) -> SyncAnswer:
    parsed = [parse_entry(raw) for raw in entries]
    with store.db.write() as connection:
        more = update(logbook).where(logbook.c.id == logbook_id).values(seq=logbook.c.seq + len(parsed))
        last = connection.execute(more.returning(logbook.c.seq)).scalar_one()
    for seq, one in enumerate(parsed, last - len(parsed) + 1):
        time.sleep(random.random() * 0.02)
        with store.db.write() as connection:
            connection.execute(entry.insert().values(
                logbook_id=logbook_id, id=one.id, seq=seq, kind=one.kind, limb=one.limb, at=one.at, stamp=one.stamp,
                erased=one.erased, doc=one.as_json(),
            ))  # fmt: skip
    answer = whole(store, logbook_id, epoch, cursor, (), *rest)
    results = [{"id": one.id, "stamp": one.stamp, "r": "ok"} for one in parsed]
    return SyncAnswer(answer.epoch, answer.cursor, answer.more, results, answer.docs, bool(parsed))


Store.sync = sync  # type: ignore[method-assign]
main()
