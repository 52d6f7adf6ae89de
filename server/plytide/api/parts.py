"""What the routes work with: the store, the worker, the settings and the limits of one server."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime

from starlette.requests import Request

from plytide.api.rates import Rates
from plytide.config import Settings
from plytide.jobs import Worker
from plytide.store import Store


@dataclass(frozen=True, slots=True)
class Parts:
    """Kept in `app.state.parts`; routes take it by `Depends(parts)`."""

    store: Store
    worker: Worker
    settings: Settings
    rates: Rates


async def parts(request: Request) -> Parts:
    """The parts of the server that a request came to. Async: otherwise a thread would be asked for them."""
    found: Parts = request.app.state.parts
    return found


def now() -> datetime:
    """The server's clock: the one place where a route asks for the time."""
    return datetime.now(UTC)
