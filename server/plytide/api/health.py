"""Whether the server can do its work: asked of the database each time, not remembered."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Depends
from starlette.responses import Response

from plytide import __version__
from plytide.api.answers import answer
from plytide.api.parts import Parts, parts
from plytide.logs import log

router = APIRouter()


@router.get("/healthz")
@router.head("/healthz", include_in_schema=False)
def health(to: Annotated[Parts, Depends(parts)]) -> Response:
    """200 {ok: true} when the database answers and has room, else 503 {ok: false}. It says nothing of anybody's log."""
    try:
        to.store.any_logbook()
        full = to.store.short_of_room()
    except Exception as error:
        log.warning("event=unhealthy", exc_info=error)
        return answer({"ok": False, "database": "failing", "version": __version__}, 503)
    if full:
        return answer({"ok": False, "database": "short of room", "version": __version__}, 503)
    return answer({"ok": True, "database": "ok", "version": __version__})
