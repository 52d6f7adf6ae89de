"""The database under two servers and a worker is killed and comes back: nothing is lost, nobody has to be restarted.

PLYTIDE_DATABASE_KILLS lengthens the run.
"""

import os
import tempfile
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest
from crash.kill import Client, Outcome, compare, entry, paired
from growth.cluster import Postgres, serving, until, working, writers
from serving import COMMAND, Server
from sqlalchemy import NullPool, create_engine, text

KILLS = int(os.environ.get("PLYTIDE_DATABASE_KILLS", "2"))


class Site:
    """Two servers on a PostgreSQL of their own, and the phones' tokens."""

    def __init__(self, postgres: Postgres, servers: list[Server]) -> None:
        self.postgres, self.servers = postgres, servers
        self.tokens = paired(next(server for server in servers if server.code))
        self.http = httpx.Client(base_url=servers[0].url, cookies={"plytide": self.tokens[0]}, timeout=30)
        self.http.post("/api/sync", json={"schema": 1, "entries": [entry(9, 0)]}, headers={"origin": servers[0].url})
        assert until(lambda: self.read(1)), "the worker is at work"

    def read(self, number: int) -> bool:
        """Whether the worker has read as far as that."""
        summary = self.http.get("/api/summary").json()
        return bool(summary) and summary["seq"] >= number

    def killing(self, kills: int) -> tuple[Outcome, list[Client]]:
        """Kill the database and start it again under four phones that push through both servers."""
        ending = threading.Event()
        clients = writers(self.servers, self.tokens, ending)
        for client in clients:
            client.start()
        for _ in range(kills):
            time.sleep(0.6)
            self.postgres.kill()
            time.sleep(0.2)
            self.postgres.start()
        time.sleep(0.4)
        ending.set()
        for client in clients:
            client.join(60)
        return compare(self.servers[0], clients, kills), clients


@pytest.fixture(scope="module")
def site() -> Iterator[Site]:
    with tempfile.TemporaryDirectory(prefix="plytide-pg-") as folder:
        postgres = Postgres(Path(folder))
        with serving(postgres.url, Path(folder), [COMMAND, COMMAND]) as servers, working(postgres.url):
            made = Site(postgres, servers)
            yield made
            made.http.close()
        postgres.close()


def test_a_killed_database_loses_nothing_and_its_servers_go_on_without_a_restart(site: Site) -> None:
    outcome, _ = site.killing(KILLS)
    assert (outcome.lost, outcome.changed, outcome.doubled, outcome.gaps) == ([], [], 0, 0)
    assert set(outcome.strange) <= {503}, "meanwhile they say that they cannot, and never that they are at fault"
    # The run was a real one.
    assert outcome.acknowledged > 20 * KILLS
    assert outcome.repeats >= KILLS
    assert until(lambda: site.read(outcome.held)), "the worker goes on too"


def test_while_the_database_is_gone_every_server_says_so(site: Site) -> None:
    site.postgres.kill()
    try:
        for server in site.servers:
            with httpx.Client(base_url=server.url, headers={"origin": server.url}, timeout=30) as http:
                http.cookies["plytide"] = site.tokens[0]
                pushed = http.post("/api/sync", json={"schema": 1, "entries": [entry(1, 1)]})
                health = http.get("/healthz")
            assert (pushed.status_code, pushed.json()["code"]) == (503, "busy")
            assert "Nothing was lost" in pushed.json()["why"]
            assert int(pushed.headers["retry-after"]) > 0
            assert (health.status_code, health.json()["ok"]) == (503, False)
    finally:
        site.postgres.start()
    for server in site.servers:
        assert httpx.get(f"{server.url}/healthz", timeout=30).json()["ok"] is True


def test_the_same_check_catches_a_database_that_confirms_before_it_has_written(site: Site) -> None:
    engine = create_engine(site.postgres.url, isolation_level="AUTOCOMMIT", poolclass=NullPool)
    with engine.connect() as connection:
        for setting in ("synchronous_commit = off", "wal_writer_delay = '10s'"):
            connection.execute(text(f"ALTER SYSTEM SET {setting}"))
        connection.execute(text("SELECT pg_reload_conf()"))
    try:
        outcome, _ = site.killing(1)
    finally:
        with engine.connect() as connection:
            connection.execute(text("ALTER SYSTEM RESET ALL"))
            connection.execute(text("SELECT pg_reload_conf()"))
    assert outcome.lost
