"""`plytide serve` with a planted fault: it takes a full disk for a passing trouble and acknowledges all the same."""

from collections.abc import Sequence
from typing import Any

from plytide.cli import main
from plytide.store import Store, StoreBusy, StoreFull, SyncAnswer

whole = Store.sync


def sync(store: Store, book: str, epoch: str | None, cursor: int, entries: Sequence[Any], *rest: Any) -> SyncAnswer:
    try:
        return whole(store, book, epoch, cursor, entries, *rest)
    except (StoreFull, StoreBusy):
        results = [{"id": entry["id"], "stamp": entry["stamp"], "r": "ok"} for entry in entries]
        return SyncAnswer(store.epoch(book), cursor, False, results, [], True)


Store.sync = sync  # type: ignore[method-assign]
main()
