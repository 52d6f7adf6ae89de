"""Plytide beside general-purpose servers for offline-first apps, and beside what no server could beat.

    .venv/bin/python tests/bench/bench_peers.py [NAME …]

All in one run, on the same 10,000 entries: pushed in batches of 50 by one client, pulled by a second one, then 150
entries one at a time by each of eight clients with logs of their own. Prints a table, the ratios, and what each of
them does less than the others. The peers are installed into ~/.cache/plytide-peers first. The clients run on the same
machine and are in the figures: threads of this program for Plytide, Kinto and the limits, PouchDB in a Node process
for pouchdb-server. Bytes are counted on the loopback interface: let nothing else talk over it meanwhile.
"""

from __future__ import annotations

import sys
import warnings
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))
from peers.kinto import Kinto
from peers.limits import RawStarlette, Sqlite
from peers.ours import Plytide
from peers.pouch import Pouch
from peers.work import BATCH, CLIENTS, ENTRIES, Figures, measure

ROWS = [  # what, its unit, the figure, whether more of it is better
    (f"push, batches of {BATCH}", "entries/s", "push", True),
    ("pull", "entries/s", "pull", True),
    (f"one entry, {CLIENTS} clients, p50", "ms", "p50", False),
    (f"one entry, {CLIENTS} clients, p99", "ms", "p99", False),
    ("memory of the server's process", "MB", "memory", False),
    ("memory with its database", "MB", "memory_all", False),
    ("on the wire, an entry pushed", "bytes", "push_bytes", False),
    ("on the wire, an entry pulled", "bytes", "pull_bytes", False),
]


def table(all_of_them: list[Figures]) -> str:
    """A column each; in brackets how many times better Plytide is (below 1: worse)."""
    ours = all_of_them[0]
    lines = [["", *(each.name for each in all_of_them)]]
    for what, unit, name, more in ROWS:
        mine = getattr(ours, name)
        row = [f"{what}, {unit}"]
        for each in all_of_them:
            value = getattr(each, name)
            if value is None:
                row.append("-")
                continue
            better = mine / value if more else value / mine
            row.append(f"{value:,.0f}" if value >= 100 else f"{value:.1f}")
            row[-1] += "" if each is ours else f" ({better:.1f}x)"
        lines.append(row)
    widths = [max(len(line[n]) for line in lines) for n in range(len(lines[0]))]
    return "\n".join(" | ".join(f"{cell:>{width}}" for cell, width in zip(line, widths, strict=True)) for line in lines)


def main() -> None:
    warnings.simplefilter("ignore")
    plytide = Plytide()
    wanted = [plytide, Kinto(), Pouch(), Sqlite(), RawStarlette(plytide)]
    names = [name.lower() for name in sys.argv[1:]] or [""]
    asked = [peer for peer in wanted if peer is plytide or any(name in peer.name.lower() for name in names)]
    figures = [measure(peer) for peer in asked]
    print(f"{ENTRIES:,} entries. In brackets: how many times better Plytide is; below 1, how much worse.\n")
    print(table(figures))
    print("\nAn answered push survives:")
    for each in figures:
        print(f"  {each.name}: {each.durable}")


if __name__ == "__main__":
    main()
