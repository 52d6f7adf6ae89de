"""`plytide serve` with a planted fault: it acknowledges before it has committed, as a write-behind cache would."""

import threading
from collections.abc import Sequence
from typing import Any

from plytide.cli import main
from plytide.store import Store, SyncAnswer

whole = Store.sync


def sync(
    store: Store, logbook_id: str, epoch: str | None, cursor: int, entries: Sequence[Any], *rest: Any
) -> SyncAnswer:
    if not entries:
        return whole(store, logbook_id, epoch, cursor, entries, *rest)
    threading.Timer(0.3, whole, (store, logbook_id, epoch, cursor, entries, *rest)).start()
    results = [{"id": entry["id"], "stamp": entry["stamp"], "r": "ok"} for entry in entries]
    return SyncAnswer(store.epoch(logbook_id), cursor, False, results, [], True)


Store.sync = sync  # type: ignore[method-assign]
main()
