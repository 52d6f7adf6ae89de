"""Which device is asking. The logbook comes from here alone: never from an address, never from a body."""

from __future__ import annotations

from typing import Annotated

from fastapi import Depends
from starlette.requests import Request
from starlette.responses import Response

from plytide.api.answers import pair_again
from plytide.api.parts import Parts, now, parts
from plytide.config import Settings
from plytide.store import Device

KEPT_S = 400 * 24 * 3600  # as long as browsers keep a cookie at most; each renewal begins it anew


def cookie_name(settings: Settings) -> str:
    """The token's cookie. Behind https the prefix binds it to this host, to https and to the whole path."""
    return "__Host-plytide" if settings.secure else "plytide"


def cookie(settings: Settings, token: str, kept_s: int = KEPT_S) -> str:
    """The Set-Cookie header that gives a device its token; with `kept_s` 0, takes it away."""
    response = Response()
    response.set_cookie(
        cookie_name(settings), token, max_age=kept_s, path="/", secure=settings.secure, httponly=True, samesite="strict"
    )
    return response.headers["set-cookie"]


def paired(request: Request, to: Annotated[Parts, Depends(parts)]) -> Device:
    """The device that sent this request, or 401. Runs in a thread: it asks the database.

    A token due for renewal goes out with the answer (headers.py adds what stands in the scope).
    """
    token = request.cookies.get(cookie_name(to.settings), "")
    device = to.store.device_by_token(token, now()) if token else None
    if device is None or device.revoked_at is not None:
        raise pair_again()
    to.rates.device.check(device.id)
    if device.new_token is not None:
        request.scope["plytide.cookie"] = cookie(to.settings, device.new_token)
    return device


Paired = Annotated[Device, Depends(paired)]
