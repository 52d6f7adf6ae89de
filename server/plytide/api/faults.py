"""Errors become answers here, once, for every route."""

from __future__ import annotations

from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect
from starlette.responses import Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from plytide.api.answers import Refused, answer, busy, full, not_found, pair_again
from plytide.logs import log
from plytide.store.shapes import DeviceGone, EpochChanged, NoLogbook, StoreBusy, StoreFull


class Faults:
    """A refusal is sent as it is; a database that fails is 503 or 507; anything else is 500 and a line in the log."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """ASGI."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        started = False

        async def watched(message: Message) -> None:
            nonlocal started
            started = True
            await send(message)

        try:
            await self.app(scope, receive, watched)
        except Exception as error:
            if started:
                raise  # half an answer is out: the connection has to break, so that nobody takes it for a whole one
            await refusal_of(error).response()(scope, receive, send)


def refusal_of(error: Exception) -> Refused:
    """What an error that reached the top means for the one who asked."""
    if isinstance(error, Refused):
        return error
    if isinstance(error, StoreFull):
        return full()
    if isinstance(error, StoreBusy):
        return busy()
    if isinstance(error, DeviceGone):
        return pair_again()
    if isinstance(error, NoLogbook):
        return not_found()
    if isinstance(error, EpochChanged):
        why = "The server was restored from a backup. Everything on this phone is sent again; nothing is lost."
        return Refused(409, "epoch", why, more={"epoch": error.epoch})
    if isinstance(error, ClientDisconnect):  # a phone that lost its network: no fault of ours, and nobody reads this
        return Refused(400, "cut", "The request broke off. Nothing was lost; it is sent again.")
    log.error("event=fault", exc_info=error)
    return Refused(500, "fault", "Something went wrong in the server. Nothing was lost; it is tried again.")


def of_routing(error: HTTPException) -> Response:
    """The router's own refusals (no such path, not this method) in the form of all others."""
    why = {404: "There is nothing at this address.", 405: "This address does not take that kind of request."}
    code = {404: "not_found", 405: "bad_method"}.get(error.status_code, "refused")
    body = {"code": code, "why": why.get(error.status_code, "The request was refused.")}
    return answer(body, error.status_code, error.headers)
