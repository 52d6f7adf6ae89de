"""A real server for the browser tests: `plytide serve` as its own process, and its database seen from beside it."""

from __future__ import annotations

import subprocess
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import UTC, datetime
from pathlib import Path

import serving
from plytide.entries import Entry
from plytide.store import Store

UNLIMITED = {"guess_rate": "0", "device_rate": "0", "address_rate": "0"}  # all these phones have one address


class Server:
    """Started at once. It can be killed, and started again on the same port with the same data."""

    def __init__(self, data: Path, command: tuple[str, ...] = serving.COMMAND) -> None:
        self.data = data
        self.process = serving.Server(data, command, UNLIMITED)
        self.port = self.process.port
        self.url = f"http://localhost:{self.port}"
        self.start()

    def start(self) -> None:
        """Returns when the server listens."""
        self.process.start()

    def kill(self) -> None:
        """As a power cut would: no last words."""
        self.process.kill()

    @contextmanager
    def down(self) -> Iterator[None]:
        """The server is gone meanwhile, and back afterwards."""
        self.kill()
        try:
            yield
        finally:
            self.start()

    def command(self, *words: str) -> None:
        """A command of the operator's on the same data."""
        subprocess.run([*serving.COMMAND, *words, "--data", str(self.data)], check=True, capture_output=True)

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
