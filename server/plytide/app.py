"""The server's one ASGI app: the routes, and the layers that every request passes."""

from __future__ import annotations

from typing import cast

import uvicorn
from fastapi import FastAPI
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from plytide import __version__
from plytide.api import calendars, export, health, links, page, pairing, sync
from plytide.api.access import AccessLog
from plytide.api.door import Door
from plytide.api.faults import Faults, of_routing
from plytide.api.headers import SafeHeaders
from plytide.api.parts import Parts
from plytide.api.rates import Rates
from plytide.config import Settings
from plytide.jobs import Worker
from plytide.store import Store

KEEP_ALIVE_S = 65  # longer than the usual proxy keeps a connection, so that it is the one to close


def create_app(settings: Settings, store: Store, worker: Worker) -> FastAPI:
    """The app over a store. It starts and stops nothing: that is the caller's (cli.py, tests)."""
    app = FastAPI(
        title="Plytide", version=__version__, docs_url=None, redoc_url=None, openapi_url=None, redirect_slashes=False
    )
    app.state.parts = Parts(store, worker, settings, Rates(settings))
    for module in (sync, pairing, links, calendars, export, health, page):
        app.include_router(module.router)
    app.add_exception_handler(HTTPException, _routing)
    # The last one added is the outermost: log, headers, faults, door, routes.
    app.add_middleware(Door, settings=settings, rates=app.state.parts.rates)
    app.add_middleware(Faults)
    app.add_middleware(SafeHeaders, secure=settings.secure)
    app.add_middleware(AccessLog)
    return app


def serving(app: FastAPI, settings: Settings) -> uvicorn.Config:
    """How uvicorn runs the app: its own access log would print whole addresses, and by default it believes whatever
    a client on this machine says in forwarded headers.
    """
    return uvicorn.Config(
        app, lifespan="off", log_config=None, access_log=False, server_header=False,
        timeout_keep_alive=KEEP_ALIVE_S, timeout_graceful_shutdown=5,
        proxy_headers=bool(settings.proxy), forwarded_allow_ips=settings.proxy or [],
    )  # fmt: skip


def _routing(_request: Request, error: Exception) -> Response:
    return of_routing(cast(HTTPException, error))
