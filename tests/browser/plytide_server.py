"""A real server for the browser tests: `plytide serve` as its own process, with its own data."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import UTC, datetime
from pathlib import Path

import httpx
from plytide.entries import Entry
from plytide.store import Store

BINARY = Path(sys.executable).parent / "plytide"


class Server:
    """Started at once. It can be killed, and started again on the same port with the same data."""

    def __init__(self, data: Path, log: Path) -> None:
        self.data = data
        self.log = log
        self.port = 0
        self.start()

    def start(self) -> None:
        """Returns when the server answers."""
        env = {**os.environ, "PLYTIDE_GUESS_RATE": "0", "PLYTIDE_DEVICE_RATE": "0", "PLYTIDE_ADDRESS_RATE": "0"}
        with self.log.open("ab") as log:
            self.process = subprocess.Popen(
                [BINARY, "serve", "--port", str(self.port), "--data", self.data, "--json"],
                env=env, stdout=subprocess.PIPE, stderr=log,
            )  # fmt: skip
        assert self.process.stdout is not None
        told = self.process.stdout.readline()
        assert told, f"the server did not start: {self.log.read_text()}"
        self.url: str = json.loads(told)["url"]
        self.port = int(self.url.rsplit(":", 1)[1])
        deadline = time.monotonic() + 20
        while True:
            try:
                httpx.get(f"{self.url}/healthz").raise_for_status()
                return
            except httpx.HTTPError:
                assert time.monotonic() < deadline, self.log.read_text()
                time.sleep(0.05)

    def kill(self) -> None:
        """As a power cut would: no last words."""
        self.process.kill()
        self.process.wait()
        assert self.process.stdout is not None
        self.process.stdout.close()

    @contextmanager
    def down(self) -> Iterator[None]:
        """The server is gone meanwhile, and back afterwards."""
        self.kill()
        try:
            yield
        finally:
            self.start()

    @property
    def store(self) -> Store:
        """The same database from outside, as `plytide pair` opens it."""
        return Store.open(f"sqlite:///{self.data / 'plytide.db'}")

    def new_logbook(self) -> str:
        """A fresh logbook's id."""
        with closing(self.store) as store:
            return store.create_logbook()

    def code(self, logbook: str) -> str:
        """A pairing code for that logbook."""
        with closing(self.store) as store:
            return store.new_pair_code(logbook, datetime.now(UTC)).code

    def live(self, logbook: str) -> list[Entry]:
        """What the server holds."""
        with closing(self.store) as store:
            return store.live(logbook)[0]
