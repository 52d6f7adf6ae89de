"""A real server for the tests of its endpoints: uvicorn on a free port, a SQLite file, phones with real cookies."""

from __future__ import annotations

import json
import socket
import threading
import time
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import httpx
import uvicorn
from fastapi.routing import APIRoute
from plytide.app import create_app, serving
from plytide.cli.running import listen
from plytide.config import Settings
from plytide.jobs import Worker
from plytide.store import Store

DEVICE = "0a0b0c0d"


class Site:
    """A running server with its store at hand."""

    def __init__(self, store: Store, worker: Worker, settings: Settings) -> None:
        self.store = store
        self.worker = worker
        self.settings = settings
        self.url = f"http://127.0.0.1:{settings.port}"
        self.clients: list[httpx.Client] = []  # closed with the site

    def stranger(self) -> httpx.Client:
        """A browser at this server's own page that is not paired."""
        self.clients.append(httpx.Client(base_url=self.url, headers={"origin": self.url}, timeout=20))
        return self.clients[-1]

    def phone(self, logbook_id: str | None = None, name: str = "phone") -> Phone:
        """A paired phone, of a new logbook unless one is named."""
        return Phone(self, logbook_id or self.store.create_logbook(), name)


class Phone(httpx.Client):
    """A paired client that syncs the way a phone does."""

    def __init__(self, site: Site, logbook_id: str, name: str) -> None:
        super().__init__(base_url=site.url, headers={"origin": site.url}, timeout=20)
        site.clients.append(self)
        self.logbook_id = logbook_id
        code = site.store.new_pair_code(logbook_id, datetime.now(UTC)).code
        paired = self.post("/api/pair", json={"code": code, "name": name})
        assert paired.status_code == 200, paired.text
        self.device_id = paired.json()["device"]

    def __enter__(self) -> Phone:
        """Pairing has opened the connection already."""
        return self

    def sync(self, entries: list[Any] | None = None, **more: Any) -> httpx.Response:
        """One round trip, with the body given to the letter where json.dumps would not write it."""
        body = {"schema": 1, "epoch": None, "cursor": 0, "now": 0, "entries": entries or [], **more}
        return self.post("/api/sync", content=json.dumps(body), headers={"content-type": "application/json"})

    def pulled(self) -> dict[str, dict[str, Any]]:
        """The whole logbook by id, page after page."""
        found: dict[str, dict[str, Any]] = {}
        state: dict[str, Any] = {"epoch": None, "cursor": 0}
        while True:
            answer = self.sync(**state).json()
            found |= {entry["id"]: entry for entry in answer["entries"]}
            state = {"epoch": answer["epoch"], "cursor": answer["cursor"]}
            if not answer["more"]:
                return found


def entry(kind: str = "comfort", **over: Any) -> dict[str, Any]:
    """A valid entry of now; `over` replaces parts of it."""
    now = time.time()
    at = datetime.fromtimestamp(now, UTC).strftime("%Y-%m-%dT%H:%M:%S.000Z")
    made = {
        "id": str(uuid.uuid4()), "kind": kind, "limb": "left", "at": at, "zone": "Europe/Lisbon",
        "stamp": f"{int(now * 1000):012x}-0000-{DEVICE}", "erased": False, "body": {"score": 7},
    }  # fmt: skip
    return {**made, **over}


def routes(router: Any) -> Iterator[APIRoute]:
    """Every route of an app, those of routers within routers too."""
    for route in router.routes:
        if isinstance(route, APIRoute):
            yield route
        else:
            yield from routes(route.original_router)


def every_route() -> list[tuple[str, str]]:
    """Method and path of everything that the server answers to."""
    app = create_app(Settings(), None, None)  # type: ignore[arg-type]
    return [(method, route.path) for route in routes(app) for method in sorted(route.methods)]


@contextmanager
def running(folder: Path, *, work: bool = False, **settings: Any) -> Iterator[Site]:
    """A server over a new database in `folder`; `work`: with its worker."""
    unlimited = {"guess_rate": 0, "address_rate": 0, "device_rate": 0}  # all tests come from one address
    wanted = replace(Settings(data=folder, port=0), **{**unlimited, **settings})
    with listen(wanted) as (listening, asked), Store.open(asked.database) as store:
        yield from serve(asked, store, listening, work)


def serve(asked: Settings, store: Store, listening: socket.socket, work: bool) -> Iterator[Site]:
    worker = Worker(store, asked.summary_minutes)
    if work:
        worker.start()
    server = uvicorn.Server(serving(create_app(asked, store, worker), asked))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]})
    thread.start()
    site = Site(store, worker, asked)
    try:
        yield site
    finally:
        for client in site.clients:
            client.close()
        server.should_exit = True
        thread.join()
        if work:
            worker.stop()
