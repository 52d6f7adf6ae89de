"""`plytide serve` with a planted fault: it remembers something of every request."""

from typing import Any

from plytide.cli import main
from plytide.store import Store, SyncAnswer

whole, remembered = Store.sync, []


def sync(store: Store, *words: Any) -> SyncAnswer:
    remembered.append(b"x" * 150_000)
    return whole(store, *words)


Store.sync = sync  # type: ignore[method-assign]
main()
