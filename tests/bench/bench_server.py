"""The server as a whole, over HTTP: start-up, memory, pushes one by one and by 500, pulls. Prints a table.

    .venv/bin/python tests/bench/bench_server.py

Clients run beside the server on the same machine, so its figures hold them too; the last rows are ratios, which
travel better from machine to machine.
"""

from __future__ import annotations

import http.client
import json
import os
import sqlite3
import statistics
import sys
import tempfile
import threading
import time
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))
from crash.kill import UNLIMITED
from crash.kill import entry as note
from plytide.ids import uuid7
from serving import Server

CLIENTS, PUSHES, BATCHES, BATCH = 8, 200, 20, 500


def entry(client: int, n: int) -> dict[str, Any]:
    """A note with an id as the phone makes it: of the time it was written."""
    return {**note(client, n), "id": uuid7(time.time_ns() // 1_000_000 + n)}


class Line:
    """One phone over one connection that stays open."""

    def __init__(self, server: Server, token: str = "") -> None:
        self.connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=60)
        self.headers = {"content-type": "application/json", "origin": server.url, "cookie": f"plytide={token}"}
        self.standing: dict[str, Any] = {"epoch": None, "cursor": 0}
        self.summary: dict[str, Any] = {"summary_seq": 0, "summary_made": ""}
        self.asks = False  # whether it waits for a summary with its entries in it, as the page does

    def post(self, path: str, body: dict[str, Any]) -> tuple[http.client.HTTPResponse, dict[str, Any]]:
        self.connection.request("POST", path, json.dumps(body), self.headers)
        answer = self.connection.getresponse()
        told = json.loads(answer.read())
        assert answer.status == 200, told
        return answer, told

    def sync(self, entries: list[dict[str, Any]]) -> dict[str, Any]:
        has = self.summary if self.asks else {}
        _, told = self.post("/api/sync", {"schema": 1, "entries": entries, **self.standing, **has})
        self.standing = {"epoch": told["epoch"], "cursor": told["cursor"]}
        if told["summary"]:
            self.summary = {"summary_seq": told["summary"]["seq"], "summary_made": told["summary"]["now"]}
        return told


def phone(server: Server, code: str) -> tuple[Line, str]:
    answer, _ = Line(server).post("/api/pair", {"code": code})
    token = (answer.getheader("set-cookie") or "").partition("=")[2].partition(";")[0]
    return Line(server, token), token


def memory_mb(server: Server, what: str) -> float:
    status = Path(f"/proc/{server.process.pid}/status").read_text()
    return next(int(line.split()[1]) for line in status.splitlines() if line.startswith(what)) / 1024


def cpu_s(server: Server) -> float:
    """Processor time of the server so far: it does not depend on what else runs on the machine."""
    times = Path(f"/proc/{server.process.pid}/stat").read_text().rpartition(")")[2].split()
    return (int(times[11]) + int(times[12])) / os.sysconf("SC_CLK_TCK")


def percentile(values: list[float], share: float) -> float:
    return sorted(values)[min(len(values) - 1, int(len(values) * share))]


def pushes(lines: list[Line]) -> tuple[list[float], float]:
    """Milliseconds of every one-entry push by all clients at once, and pushes a second."""
    taken: list[float] = []

    def push(line: Line, number: int) -> None:
        for n in range(PUSHES):
            one = [entry(number, n)]
            began = time.perf_counter()
            line.sync(one)
            taken.append((time.perf_counter() - began) * 1000)

    threads = [threading.Thread(target=push, args=(line, n)) for n, line in enumerate(lines)]
    began = time.perf_counter()
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return taken, len(taken) / (time.perf_counter() - began)


def plain_sqlite(folder: Path, batches: list[list[dict[str, Any]]]) -> float:
    """Entries a second of sqlite3 alone: the same rows under the same keys, the same durability, one commit a batch."""
    book = uuid7(0)
    db = sqlite3.connect(folder / "plain.db", isolation_level=None)
    db.execute("PRAGMA journal_mode=WAL")
    db.execute("PRAGMA synchronous=FULL")
    db.execute(
        "CREATE TABLE entry (logbook_id, id, seq, kind, limb, at, stamp, erased, doc, PRIMARY KEY (logbook_id, id))"
        " WITHOUT ROWID"
    )
    db.execute("CREATE UNIQUE INDEX entry_seq ON entry (logbook_id, seq)")
    began, seq = time.perf_counter(), 0
    for batch in batches:
        rows = []
        for e in batch:
            seq += 1
            rows.append((book, e["id"], seq, e["kind"], e["limb"], e["at"], e["stamp"], 0, json.dumps(e)))
        db.execute("BEGIN IMMEDIATE")
        db.executemany("INSERT INTO entry VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)", rows)
        db.execute("COMMIT")
    db.close()
    return seq / (time.perf_counter() - began)


def one_by_one(line: Line, pushes: int) -> list[float]:
    taken = []
    for n in range(pushes):
        one = [entry(98, n)]
        began = time.perf_counter()
        line.sync(one)
        taken.append((time.perf_counter() - began) * 1000)
    return taken


def shares(taken: list[float], *wanted: float) -> str:
    return ", ".join(f"p{share * 100:.0f} {percentile(taken, share):.1f}" for share in wanted) + " ms"


def pulled(line: Line) -> int:
    got, more = 0, True
    while more:
        told = line.sync([])
        got, more = got + len(told["entries"]), told["more"]
    return got


def measure(server: Server, starts: list[float], folder: Path) -> list[tuple[str, str]]:
    """Rows of what and how much."""
    assert server.code is not None
    first, _ = phone(server, server.code)

    def another() -> Line:
        return phone(server, first.post("/api/pair/codes", {})[1]["code"])[0]

    lines = [another() for _ in range(CLIENTS)]
    rows = [
        ("start, first time (makes the database)", f"{starts[0]:.2f} s"),
        ("start, later", f"{statistics.median(starts[1:]):.2f} s"),
        ("memory after start and pairing", f"{memory_mb(server, 'VmRSS'):.0f} MB"),
        ("one-entry push, alone", shares(one_by_one(another(), PUSHES), 0.5, 0.95)),
    ]
    before = cpu_s(server)
    taken, rate = pushes(lines)
    rows.append((f"one-entry pushes, {CLIENTS} clients", f"{shares(taken, 0.5, 0.99)}, {rate:.0f}/s"))
    rows.append(("processor time of one of them", f"{(cpu_s(server) - before) / len(taken) * 1000:.1f} ms"))
    for line in lines:
        line.asks = True
    rows.append(("the same, waiting for the summary", shares(pushes(lines)[0], 0.5, 0.99)))
    batches = [[entry(99, start + n) for n in range(BATCH)] for start in range(0, BATCHES * BATCH, BATCH)]
    first = another()
    before, began = cpu_s(server), time.perf_counter()
    for batch in batches:
        first.sync(batch)
    pushed = BATCHES * BATCH / (time.perf_counter() - began)
    rows.append((f"pushes of {BATCH}", f"{pushed:.0f} entries/s"))
    spent = (cpu_s(server) - before) / BATCHES / BATCH
    rows.append(("processor time of one of those entries", f"{spent * 1e6:.0f} us"))
    fresh, began = another(), time.perf_counter()
    got = pulled(fresh)
    rows.append(("pull of everything", f"{got / (time.perf_counter() - began):.0f} entries/s ({got} entries)"))
    rows.append(("memory at most", f"{memory_mb(server, 'VmHWM'):.0f} MB"))
    rows.append((f"pushes of {BATCH} against plain sqlite3", f"{pushed / plain_sqlite(folder, batches):.2f} of it"))
    return rows


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        server, starts = Server(Path(name), settings=UNLIMITED), []
        for n in range(4):
            began = time.perf_counter()
            server.start()
            starts.append(time.perf_counter() - began)
            if n < 3:
                server.stop()
        try:
            rows = measure(server, starts, Path(name))
        finally:
            server.stop()
    for what, figure in rows:
        print(f"{what:45} {figure}")


if __name__ == "__main__":
    main()
