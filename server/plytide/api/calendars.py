"""The calendar a wearer subscribes to: a secret address that can be ended, and what stands at it."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Depends
from starlette.responses import Response

from plytide.api.answers import answer, not_found
from plytide.api.parts import Parts, now, parts
from plytide.api.who import Paired

router = APIRouter()
Server = Annotated[Parts, Depends(parts)]


@router.post("/api/calendar")
def address(device: Paired, to: Server) -> Response:
    """The calendar's address, made when there is none -> {url}. The same each time until it is ended."""
    token = to.store.calendar_token(device.logbook_id, now())
    return answer({"url": f"{to.settings.base_url}/calendar/{token}.ics"})


@router.delete("/api/calendar")
def end(device: Paired, to: Server) -> Response:
    """End the address: calendars that have it get nothing from now on."""
    to.store.revoke_calendar(device.logbook_id, now())
    return answer({"ended": True})


@router.get("/calendar/{token}.ics", include_in_schema=False)
def subscribed(token: str, to: Server) -> Response:
    """The calendar, for whoever has its address."""
    logbook_id = to.store.calendar_logbook(token)
    if logbook_id is None:
        raise not_found()
    from plytide.exchange.calendar import calendar  # here: it is a quarter of a start, for an address few servers have

    entries, _ = to.store.live(logbook_id)
    text = calendar(entries, to.store.summary(logbook_id), now(), token[:8])
    return Response(text, headers={"cache-control": "private, max-age=900"}, media_type="text/calendar; charset=utf-8")
