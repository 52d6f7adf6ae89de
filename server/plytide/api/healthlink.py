"""The second face of a clinic link, for health-record programs: the manifest of a SMART Health Link and its file.

Asked without a browser, or by a page of another site: so the manifest answers across sites, and nothing else does. The
code to type is the passcode, its tries are the link's own, and each reading is an opening that the wearer sees.
"""

from __future__ import annotations

from datetime import datetime
from typing import Annotated

from fastapi import APIRouter, Depends
from pydantic import Field, StringConstraints
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from plytide.api import shared
from plytide.api.answers import answer, not_found
from plytide.api.body import Form, read
from plytide.api.parts import Parts, now, parts
from plytide.api.rates import address_of
from plytide.config import Settings
from plytide.exchange import fhir, health_link
from plytide.exchange.forms import FORMS, Leaving
from plytide.store import Link, LinkRefused, LinkView

router = APIRouter(include_in_schema=False)
Server = Annotated[Parts, Depends(parts)]

ACROSS = {
    "access-control-allow-origin": "*", "access-control-allow-methods": "POST, GET",
    "access-control-allow-headers": "content-type", "cross-origin-resource-policy": "cross-origin",
    "cache-control": "no-store",
}  # fmt: skip
EMBEDDED_MAX = 1_000_000  # characters of a sealed file; a longer one is fetched by its own address
LABEL = "Prosthesis log"


class Ask(Form):
    """What a program sends: who is asking, the passcode, how long an embedded file may be."""

    recipient: Annotated[str, StringConstraints(min_length=1, max_length=400)]
    passcode: Annotated[str, StringConstraints(max_length=100)] = ""
    longest: Annotated[int, Field(alias="embeddedLengthMax", ge=0)] = EMBEDDED_MAX


def address(link: Link, proof: str, settings: Settings) -> str:
    """Where a link's manifest is."""
    return f"{settings.base_url}/s/{link.token}/shl/{proof}"


def written(link: Link, to: Parts) -> str | None:
    """The health link of a clinic link; None where no files were ticked."""
    if not link.spec.files:
        return None
    proof, key = to.store.health_link(link.id)
    expires = int(datetime.fromisoformat(link.expires).timestamp())
    return health_link.written(address(link, proof, to.settings), key, expires, label=link.spec.label or LABEL,
                               live=link.spec.live, passcode=link.spec.code)  # fmt: skip


@router.options("/s/{token}/shl/{proof}")
def may(token: str, proof: str) -> Response:
    """What a browser asks before a page of another site may ask."""
    return Response(status_code=204, headers=ACROSS)


@router.post("/s/{token}/shl/{proof}")
async def manifest(token: str, proof: str, request: Request, to: Server) -> Response:
    """{recipient, passcode} -> {files}; 401 with the attempts that remain, 404 when it is gone or never was."""
    to.rates.guess.check(address_of(request.scope))
    ask = await read(request, Ask)
    return await run_in_threadpool(_manifest, token, proof, ask, to)


def _manifest(token: str, proof: str, ask: Ask, to: Parts) -> Response:
    link = _standing(token, proof, to)
    at = now()
    try:
        session = to.store.open_link(token, ask.passcode, at).session
    except LinkRefused:
        left = to.store.link_of(token, at)
        if left is None or left.state != "open":
            return _gone()
        return answer({"remainingAttempts": left.tries_left}, 401, ACROSS)
    view = to.store.link_view(token, session, at)
    if view is None:
        return _gone()
    file = _file(view, to, at)
    told: dict[str, object] = {"contentType": health_link.FHIR}
    if len(file) <= min(ask.longest, EMBEDDED_MAX):
        told["embedded"] = file
        to.store.end_session(session)
    else:
        told["location"] = f"{address(link, proof, to.settings)}/{session}"
    return answer({"files": [told]}, headers=ACROSS)


@router.get("/s/{token}/shl/{proof}/{session}")
def file(token: str, proof: str, session: str, to: Server) -> Response:
    """A file too long to be embedded, for half an hour."""
    _standing(token, proof, to)
    at = now()
    view = to.store.link_view(token, session, at)
    if view is None:
        return _gone()
    return Response(_file(view, to, at), headers=ACROSS, media_type="application/jose")


def _standing(token: str, proof: str, to: Parts) -> Link:
    """The link, if it stands and `proof` is the rest of its address; else 404, whatever the reason."""
    link = to.store.link_of(token, now())
    if link is None or link.state != "open" or not link.spec.files or to.store.health_link(link.id)[0] != proof:
        raise not_found()
    return link


def _gone() -> Response:
    return not_found().response()


def _file(view: LinkView, to: Parts, at: datetime) -> str:
    reading = shared.read(to, view, at)
    link = view.link
    what = Leaving(reading.entries, reading.profile, fhir.plies(reading.entries), link.logbook_id, at)
    return health_link.sealed(b"".join(FORMS["fhir"].write(what)), to.store.health_link(link.id)[1])
