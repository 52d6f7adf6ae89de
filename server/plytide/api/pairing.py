"""Pairing by a one-time code, and the list of paired devices. There are no passwords."""

from __future__ import annotations

from typing import Annotated

import segno
from fastapi import APIRouter, Depends
from pydantic import StringConstraints
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from plytide.api.answers import Refused, answer, not_found
from plytide.api.body import Form, read, takes
from plytide.api.parts import Parts, now, parts
from plytide.api.rates import address_of
from plytide.api.who import Paired, cookie
from plytide.store import PairingRefused

router = APIRouter()
Server = Annotated[Parts, Depends(parts)]


class PairForm(Form):
    """`code` as typed. `logbook` is the one that the phone belongs to already, if any: another one is refused."""

    code: Annotated[str, StringConstraints(min_length=1, max_length=40)]
    name: Annotated[str, StringConstraints(max_length=120)] = ""
    logbook: Annotated[str, StringConstraints(max_length=64)] | None = None


@router.post("/api/pair", openapi_extra=takes(PairForm))
async def pair(request: Request, to: Server) -> Response:
    """{code, name, logbook} -> {logbook, device}, and the device's cookie."""
    to.rates.guess.check(address_of(request.scope))
    form = await read(request, PairForm)
    return await run_in_threadpool(_pair, to, form)


def _pair(to: Parts, form: PairForm) -> Response:
    try:
        logbook_id, token = to.store.use_pair_code(form.code, printable(form.name), now())
    except PairingRefused as refused:
        more = {"tries_left": refused.tries_left}
        raise Refused(403, refused.reason, str(refused), more=more) from None
    device = to.store.device_by_token(token, now())
    if device is None:
        raise Refused(403, "used", "That code has been used already; ask for a new one.")
    if form.logbook is not None and form.logbook != logbook_id:
        to.store.revoke_device(logbook_id, device.id)
        raise Refused(409, "other_logbook", "This code belongs to another logbook. Save what is on this phone to a "
                      "file first, then start afresh.")  # fmt: skip
    return answer(
        {"logbook": logbook_id, "device": device.id}, headers={"set-cookie": cookie(to.settings, token)}
    )


@router.post("/api/pair/codes")
def new_code(device: Paired, to: Server) -> Response:
    """A code for one more device of the same logbook -> {code, expires, url, squares}. `squares` is the QR code of the
    url, a string of 0 and 1 a row, for the page to draw: the page takes no markup from anywhere."""
    made = to.store.new_pair_code(device.logbook_id, now())
    url = to.settings.pair_url(made.code)
    squares = ["".join(map(str, row)) for row in segno.make(url, error="m", micro=False).matrix]
    return answer({"code": made.code, "expires": made.expires, "url": url, "squares": squares})


@router.get("/api/devices")
def devices(device: Paired, to: Server) -> Response:
    """The logbook's devices that may still come in -> {devices: [{id, name, made_at, seen_at, this}]}."""
    listed = [
        {"id": d.id, "name": d.name, "made_at": d.made_at, "seen_at": d.seen_at, "this": d.id == device.id}
        for d in to.store.devices(device.logbook_id)
        if d.revoked_at is None
    ]
    return answer({"devices": listed})


@router.delete("/api/devices/{device_id}")
def revoke(device_id: str, device: Paired, to: Server, request: Request) -> Response:
    """Shut a device out. What it holds stays on it."""
    theirs = {d.id for d in to.store.devices(device.logbook_id) if d.revoked_at is None}
    if device_id not in theirs:
        raise not_found()
    to.store.revoke_device(device.logbook_id, device_id)
    if device_id != device.id:
        return answer({"revoked": device_id})
    request.scope.pop("plytide.cookie", None)
    return answer({"revoked": device_id}, headers={"set-cookie": cookie(to.settings, "", kept_s=0)})


def printable(name: str) -> str:
    """A device's name without what a database or a screen cannot carry."""
    return "".join(c for c in name if c.isprintable() and not 0xD800 <= ord(c) <= 0xDFFF).strip()
