"""Plytide itself, as a phone would use it."""

from __future__ import annotations

import json
import tempfile
import time
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from crash.kill import UNLIMITED
from peers.work import Entries, Line, Peer, pages, timed, together
from plytide.store import Store
from serving import Server


class Phone:
    """A paired phone. `answers` keeps what the server said, word for word."""

    def __init__(self, server: Server, code: str) -> None:
        headers, _ = Line(server.port, headers={"origin": server.url}).ask("POST", "/api/pair", {"code": code})
        token = headers["set-cookie"].partition(";")[0]
        self.line = Line(server.port, headers={"origin": server.url, "cookie": token})
        self.standing: dict[str, Any] = {"epoch": None, "cursor": 0}
        # As the page does: it says which summary it has, and is sent a newer one when there is one.
        self.summary: dict[str, Any] = {"summary_seq": 2**40, "summary_made": ""}
        self.answers: list[bytes] = []

    def sync(self, entries: Entries) -> dict[str, Any]:
        asked = {"schema": 1, "entries": entries, **self.standing, **self.summary}
        _, came = self.line.ask("POST", "/api/sync", asked)
        told: dict[str, Any] = json.loads(came)
        assert all(result["r"] == "ok" for result in told["results"])
        self.standing = {"epoch": told["epoch"], "cursor": told["cursor"]}
        self.answers.append(came)
        return told


class Plytide(Peer):
    name = "Plytide"
    durable = "a power cut: SQLite, WAL, synchronous=FULL; a push also pulls, and keeps history"

    def __init__(self) -> None:
        self.answers: dict[str, list[bytes]] = {}

    def __enter__(self) -> Plytide:
        self.folder = tempfile.TemporaryDirectory(prefix="plytide-peers-")
        self.server = Server(Path(self.folder.name), settings=UNLIMITED | {"summary_wait_ms": "0"})
        self.server.start()
        self.first = Phone(self.server, self.server.code or "")
        return self

    def __exit__(self, *_: object) -> None:
        self.server.stop()
        self.folder.cleanup()

    def push(self, work: list[Entries]) -> float:
        began = time.perf_counter()
        for batch in work:
            self.first.sync(batch)
        self.answers["push"] = self.first.answers
        return time.perf_counter() - began

    def pull(self) -> tuple[float, int]:
        phone = Phone(self.server, json.loads(self.first.line.ask("POST", "/api/pair/codes", {})[1])["code"])

        def page() -> tuple[int, bool]:
            told = phone.sync([])
            return len(told["entries"]), told["more"]

        self.answers["pull"] = phone.answers
        return pages(page)

    def one_by_one(self, work: list[Entries]) -> list[float]:
        with Store.open(f"sqlite:///{self.folder.name}/plytide.db") as store:  # a visit beside the server
            codes = [store.new_pair_code(store.create_logbook(), datetime.now(UTC)).code for _ in work]
        phones = [Phone(self.server, code) for code in codes]
        taken = together([
            lambda phone=phone, mine=mine: timed(lambda one: phone.sync([one]), mine)
            for phone, mine in zip(phones, work, strict=True)
        ])  # fmt: skip
        self.answers["one"] = phones[0].answers
        return taken

    def processes(self) -> list[int]:
        return [self.server.process.pid]
