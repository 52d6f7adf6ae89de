"""What the recorded process does: pushes batches into a new store and notes each acknowledgement in a file.

Arguments: folder, number of batches, the synchronous level to hold (FULL as the store has it, or NORMAL as the
planted fault).
"""

import json
import sys
from pathlib import Path

from plytide.store import Store
from sqlalchemy import event
from sqlalchemy.pool import Pool

NOW = 1_930_000_000_000


def entry(n: int) -> dict[str, object]:
    """The nth entry of the workload."""
    return {
        "id": f"01980000-0000-7000-8000-{n:012x}",
        "kind": "note",
        "limb": None,
        "at": "2031-03-02T07:10:00.000Z",
        "zone": "Europe/Lisbon",
        "stamp": f"{NOW + n:012x}-0000-5f3a9c1e",
        "erased": False,
        "body": {"text": f"entry {n} " + "x" * (n % 700)},
    }


def main(folder: str, batches: str, synchronous: str) -> None:
    store = Store.open(f"sqlite:///{folder}/plytide.db")
    if synchronous != "FULL":  # planted after opening: the store itself refuses to start without FULL

        @event.listens_for(Pool, "checkout")
        def _(connection: object, *_: object) -> None:
            connection.execute(f"PRAGMA synchronous={synchronous}")  # type: ignore[attr-defined]

    logbook = store.create_logbook("power cut")
    epoch = store.epoch(logbook)
    with (Path(folder) / "acknowledged").open("w") as acknowledged:
        n = 0
        for batch in range(int(batches)):
            entries = [entry(n + i) for i in range(1 + batch % 5)]
            n += len(entries)
            # edit an earlier one too, so that pages already written are written again
            if n > 20:
                entries.append({**entry(batch), "stamp": f"{NOW + 10**6 + batch:012x}-0000-5f3a9c1e"})
            answer = store.sync(logbook, epoch, 0, entries, NOW, limit=1)
            kept = [r["id"] + ":" + r["stamp"] for r in json.loads(json.dumps(answer.results)) if r["r"] == "ok"]
            acknowledged.write(" ".join(kept) + "\n")
            acknowledged.flush()
    # No close: the cut comes while the process runs.


if __name__ == "__main__":
    main(*sys.argv[1:])
