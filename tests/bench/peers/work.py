"""The work that every server is given, the same for all, and how it is counted."""

from __future__ import annotations

import base64
import gzip
import http.client
import json
import random
import threading
import time
from abc import ABC, abstractmethod
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from bench_store import entry as sore
from plytide import stamps

ENTRIES, BATCH, PAGE, CLIENTS, PUSHES = 10_000, 50, 1_000, 8, 150
Entries = list[dict[str, Any]]
BEGAN_MS = time.time_ns() // 1_000_000  # stamps of the present: those of a later day would be moved back


def entry(n: int) -> dict[str, Any]:
    """Entries that differ as real ones do, so that packing them is worth no more than it would be."""
    draw = random.Random(n)
    body = {
        "height": round(draw.random(), 3), "angle": round(draw.uniform(0, 359), 1), "intensity": draw.randint(0, 10),
        "feel": draw.choice(["pressure", "rub", "pinch", "burn", "sharp"]), "phantom": False,
    }  # fmt: skip
    at = datetime.fromtimestamp(draw.randrange(1_700_000_000, 1_780_000_000), UTC).strftime("%Y-%m-%dT%H:%M:%S.000Z")
    return {**sore(n), "at": at, "body": body, "stamp": stamps.make(BEGAN_MS, n, "5f3a9c1e")}


def batches() -> list[Entries]:
    return [[entry(n) for n in range(start, start + BATCH)] for start in range(0, ENTRIES, BATCH)]


def singles() -> list[Entries]:
    """What each client pushes one by one."""
    return [[entry(ENTRIES + client * PUSHES + n) for n in range(PUSHES)] for client in range(CLIENTS)]


class Peer(ABC):
    """Something that takes entries and gives them back. Used in a `with`, which starts and stops it."""

    name: str
    durable: str  # what an answered push survives, and where that is less than a power cut

    @abstractmethod
    def __enter__(self) -> Peer: ...

    @abstractmethod
    def __exit__(self, *_: object) -> None: ...

    @abstractmethod
    def push(self, work: list[Entries]) -> float:
        """Push batch after batch from one client; answers the seconds."""

    @abstractmethod
    def pull(self) -> tuple[float, int]:
        """Pull everything with another client; answers the seconds and how many entries came."""

    @abstractmethod
    def one_by_one(self, work: list[Entries]) -> list[float]:
        """Push single entries, a client with its own log for each list, all at once; the milliseconds of each."""

    def processes(self) -> list[int]:
        """The server's process, then that of its database where it is another; empty where there is no server."""
        return []


@dataclass(frozen=True)
class Figures:
    """What was measured. Bytes are those on the wire in both directions, headers and acknowledgements included."""

    name: str
    durable: str
    push: float  # entries a second
    pull: float  # entries a second
    p50: float  # ms
    p99: float  # ms
    memory: float | None  # MB of the server's process
    memory_all: float | None  # MB of all that it needs to run, what is shared counted once
    push_bytes: float | None  # of one entry
    pull_bytes: float | None  # of one entry


def measure(peer: Peer) -> Figures:
    with peer:
        before = _wire()
        pushed = peer.push(batches())
        between = _wire()
        pulled, got = peer.pull()
        after = _wire()
        assert got == ENTRIES, f"{peer.name} gave back {got} of {ENTRIES} entries"
        taken = sorted(peer.one_by_one(singles()))
        assert len(taken) == CLIENTS * PUSHES
        processes = peer.processes()
        memory = memory_of(processes[0], "Rss") if processes else None
        memory_all = sum(memory_of(process, "Pss") for process in processes) or None
    alone = not processes
    return Figures(
        peer.name, peer.durable, ENTRIES / pushed, ENTRIES / pulled,
        taken[len(taken) // 2], taken[int(len(taken) * 0.99)], memory, memory_all,
        None if alone else (between - before) / ENTRIES, None if alone else (after - between) / ENTRIES,
    )  # fmt: skip


def _wire() -> int:
    """Bytes that went over the loopback interface so far: clients and servers talk by it, databases do not."""
    lines = Path("/proc/net/dev").read_text().splitlines()
    return next(int(line.split()[9]) for line in lines if line.strip().startswith("lo:"))


def together(calls: list[Callable[[], list[float]]]) -> list[float]:
    """Run all at once; answers everything they measured."""
    taken: list[float] = []
    threads = [threading.Thread(target=lambda call=call: taken.extend(call())) for call in calls]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return taken


def timed(do: Callable[[Any], object], each: list[Any]) -> list[float]:
    """Milliseconds of `do` with each of them."""
    taken = []
    for one in each:
        began = time.perf_counter()
        do(one)
        taken.append((time.perf_counter() - began) * 1000)
    return taken


def memory_of(pid: int, what: str) -> float:
    """Megabytes of a process and those that it started: Rss, all it holds, or Pss, its share of what several hold."""
    lines = Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines()
    mine = next(int(line.split()[1]) for line in lines if line.startswith(f"{what}:")) / 1024
    children = Path(f"/proc/{pid}/task/{pid}/children").read_text().split()
    return mine + sum(memory_of(int(child), what) for child in children)


class Line:
    """One client over one connection that stays open; takes gzip, as browsers do."""

    def __init__(self, port: int, user: str = "", headers: dict[str, str] | None = None) -> None:
        self.connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        self.headers = {"content-type": "application/json", "accept-encoding": "gzip", **(headers or {})}
        if user:
            self.headers["authorization"] = "Basic " + base64.b64encode(user.encode()).decode()

    def ask(self, method: str, path: str, body: object = None) -> tuple[Any, bytes]:
        """The answer's headers, and its body."""
        sent = None if body is None else json.dumps(body, separators=(",", ":"))
        self.connection.request(method, path, sent, self.headers)
        answer = self.connection.getresponse()
        came = answer.read()
        if answer.headers.get("content-encoding") == "gzip":
            came = gzip.decompress(came)
        assert answer.status < 300, f"{method} {path}: {answer.status} {came[:300]!r}"
        return answer.headers, came


def pages(ask: Callable[[], tuple[int, bool]]) -> tuple[float, int]:
    """Ask for page after page, each (how many came, whether there is more); answers the seconds and the sum."""
    began, got, more = time.perf_counter(), 0, True
    while more:
        came, more = ask()
        got += came
    return time.perf_counter() - began, got
