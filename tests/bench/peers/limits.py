"""What no server could beat on this machine: sqlite3 without a server, and a server without a store."""

from __future__ import annotations

import json
import sqlite3
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path

from bench_store import DURABLE
from peers.ours import Plytide
from peers.work import PAGE, Entries, Line, Peer, pages, timed, together
from serving import free_port

TABLE = (
    "CREATE TABLE entry (logbook_id TEXT, id TEXT, seq INT, kind TEXT, limb TEXT, at TEXT, stamp TEXT, erased INT,"
    " doc TEXT, PRIMARY KEY (logbook_id, id)) WITHOUT ROWID; CREATE UNIQUE INDEX s ON entry (logbook_id, seq);"
)


class Sqlite(Peer):
    """The same rows, the JSON made beforehand: no checks, no merge, no HTTP, no clients."""

    name = "plain sqlite3"
    durable = "a power cut: WAL, synchronous=FULL"

    def __enter__(self) -> Sqlite:
        self.folder = tempfile.TemporaryDirectory(prefix="plytide-peers-")
        file = Path(self.folder.name) / "plain.db"
        self.db = sqlite3.connect(file, isolation_level=None, check_same_thread=False)
        for pragma in DURABLE:
            self.db.execute(f"PRAGMA {pragma}")
        self.db.executescript(TABLE)
        self.seq, self.lock = 0, threading.Lock()
        return self

    def __exit__(self, *_: object) -> None:
        self.db.close()
        self.folder.cleanup()

    def push(self, work: list[Entries]) -> float:
        rows = [self._rows(batch) for batch in work]
        began = time.perf_counter()
        for part in rows:
            self._insert(part)
        return time.perf_counter() - began

    def pull(self) -> tuple[float, int]:
        cursor = 0

        def page() -> tuple[int, bool]:
            nonlocal cursor
            asked = "SELECT seq, doc FROM entry WHERE logbook_id = 'b' AND seq > ? ORDER BY seq LIMIT ?"
            found = self.db.execute(asked, (cursor, PAGE)).fetchall()
            cursor = found[-1][0] if found else cursor
            return len(found), len(found) == PAGE

        return pages(page)

    def one_by_one(self, work: list[Entries]) -> list[float]:
        rows = [[self._rows([one]) for one in mine] for mine in work]

        def insert(part: list[tuple[object, ...]]) -> None:
            with self.lock:
                self._insert(part)

        return together([lambda mine=mine: timed(insert, mine) for mine in rows])

    def _rows(self, batch: Entries) -> list[tuple[object, ...]]:
        self.seq += len(batch)
        return [
            ("b", e["id"], n, e["kind"], e["limb"], e["at"], e["stamp"], 0, json.dumps(e, separators=(",", ":")))
            for n, e in enumerate(batch, self.seq - len(batch) + 1)
        ]  # fmt: skip

    def _insert(self, rows: list[tuple[object, ...]]) -> None:
        self.db.execute("BEGIN IMMEDIATE")
        self.db.executemany("INSERT INTO entry VALUES (?,?,?,?,?,?,?,?,?)", rows)
        self.db.execute("COMMIT")


class RawStarlette(Peer):
    """Starlette under uvicorn that reads each request and answers what Plytide answered, kept beforehand."""

    name = "raw Starlette"
    durable = "nothing: it keeps nothing"

    def __init__(self, plytide: Plytide) -> None:
        self.plytide = plytide

    def __enter__(self) -> RawStarlette:
        self.folder = tempfile.TemporaryDirectory(prefix="plytide-peers-")
        answers = self.plytide.answers
        kept = {"push": answers["push"][-1], "one": answers["one"][-1]}
        self.pages = [f"pull{n}" for n in range(len(answers["pull"]))]
        for name, body in (kept | dict(zip(self.pages, answers["pull"], strict=True))).items():
            (Path(self.folder.name) / name).write_bytes(body)
        self.port = free_port()
        words = [sys.executable, str(Path(__file__).with_name("echo.py")), self.folder.name, str(self.port)]
        self.process = subprocess.Popen(words, stdout=subprocess.PIPE)
        assert self.process.stdout is not None
        assert self.process.stdout.readline() == b"up\n"
        return self

    def __exit__(self, *_: object) -> None:
        self.process.terminate()
        self.process.communicate(timeout=20)
        self.folder.cleanup()

    def push(self, work: list[Entries]) -> float:
        line, began = Line(self.port), time.perf_counter()
        for batch in work:
            json.loads(line.ask("POST", "/push", {"entries": batch})[1])
        return time.perf_counter() - began

    def pull(self) -> tuple[float, int]:
        line, left = Line(self.port), list(self.pages)

        def page() -> tuple[int, bool]:
            told = json.loads(line.ask("POST", f"/{left.pop(0)}", {"entries": []})[1])
            return len(told["entries"]), bool(left)

        return pages(page)

    def one_by_one(self, work: list[Entries]) -> list[float]:
        def push(line: Line, one: object) -> object:
            return json.loads(line.ask("POST", "/one", {"entries": [one]})[1])

        return together([
            lambda line=Line(self.port), mine=mine: timed(lambda one: push(line, one), mine) for mine in work
        ])  # fmt: skip

    def processes(self) -> list[int]:
        return [self.process.pid]
