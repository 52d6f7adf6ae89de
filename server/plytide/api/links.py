"""Clinic links as the wearer has them: made, listed with their openings, drawn as QR, stopped, looked at beforehand.

What a stranger meets at the address itself is in shared.py.
"""

from __future__ import annotations

import io
from dataclasses import asdict
from datetime import date, timedelta
from typing import Annotated, Any

import segno
from fastapi import APIRouter, Depends, Query
from pydantic import Field, StringConstraints, ValidationError
from starlette.background import BackgroundTask
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from plytide.api import healthlink, shared
from plytide.api.answers import Refused, answer, not_found
from plytide.api.body import Form, read, takes
from plytide.api.parts import Parts, now, parts
from plytide.api.who import Paired
from plytide.bodies import DayDate
from plytide.clinic.reading import ALL_KINDS
from plytide.clinic.words import Language
from plytide.config import Settings
from plytide.store import Link, LinkSpec

router = APIRouter()
router.include_router(healthlink.router)
router.include_router(shared.router)
Server = Annotated[Parts, Depends(parts)]

HOURS_WITHOUT_CODE = 24
HOURS_MAX = 90 * 24


class LinkForm(Form):
    """`days` back from today, or `from` and `to` (both included); neither: everything. `kinds` none: all kinds.

    `hours` is how long it stands: at most 24 without a code, 90 days with one. `waiting`: entries that have not left
    the phone yet, so that the page can say so. `files`: whether the entries can be taken along as well. `language`: of
    the page.
    """

    days: Annotated[int, Field(ge=1, le=36600)] | None = None
    start: Annotated[DayDate | None, Field(alias="from")] = None
    end: Annotated[DayDate | None, Field(alias="to")] = None
    kinds: Annotated[list[str], Field(max_length=40)] | None = None
    notes: bool = False
    live: bool = False
    code: bool = True
    hours: Annotated[int, Field(ge=1, le=HOURS_MAX)] = 7 * 24
    label: Annotated[str, StringConstraints(max_length=80)] = ""
    waiting: Annotated[int, Field(ge=0, le=1_000_000)] = 0
    files: bool = True
    language: Language = "en"


@router.post("/api/links", openapi_extra=takes(LinkForm))
async def make(request: Request, device: Paired, to: Server) -> Response:
    """{days | from, to, kinds, notes, live, code, hours, label, files, language, …} -> {id, url, code, expires, …}."""
    form = await read(request, LinkForm)
    link = await run_in_threadpool(to.store.make_link, device.logbook_id, spec_of(form), now())
    response = answer(told(link, to))
    response.background = BackgroundTask(shared.prepare, to, link.token)  # so that its first reader need not wait
    return response


@router.get("/api/links")
def links(device: Paired, to: Server) -> Response:
    """All links, newest first, with their openings -> {links: […]}."""
    found = sorted(to.store.links(device.logbook_id, now()), key=lambda link: link.made_at, reverse=True)
    return answer({"links": [told(link, to) for link in found]})


@router.get("/api/links/{link_id}/qr")
def qr(link_id: str, device: Paired, to: Server, health: bool = False) -> Response:
    """The link's address as a QR code in SVG; with `health` its health link as well, for programs that read such.

    A camera opens the same page either way. The code to type is not in it: that is told apart.
    """
    link, drawn = _own(to, device.logbook_id, link_id), io.BytesIO()
    text = address(link, to.settings)
    if health and (second := healthlink.written(link, to)):
        text += f"#{second}"
    segno.make(text, error="l" if health else "m").save(
        drawn, kind="svg", border=4, dark="#000", light="#fff", xmldecl=False, svgns=True, omitsize=True
    )
    return Response(drawn.getvalue(), media_type="image/svg+xml")


@router.delete("/api/links/{link_id}")
def revoke(link_id: str, device: Paired, to: Server) -> Response:
    """Stop a link at once, for those who have it open as well."""
    _own(to, device.logbook_id, link_id)
    to.store.revoke_link(device.logbook_id, link_id, now())
    return answer({"revoked": link_id})


@router.get("/api/links/preview")
def preview(
    device: Paired, to: Server, days: int | None = None, start: Annotated[str | None, Query(alias="from")] = None,
    kinds: str | None = None, notes: bool = False, language: str = "en",
) -> Response:  # fmt: skip
    """The page that a link of this form would show now, for the wearer; no link is made. `kinds` with commas."""
    asked = {"days": days, "from": start, "kinds": None if kinds is None else kinds.split(","), "notes": notes,
             "language": language}  # fmt: skip
    try:
        form = LinkForm.model_validate(asked)
    except ValidationError:
        raise Refused(422, "bad_form", "The request is not of the form it should be.") from None
    return shared.preview(to, device.logbook_id, spec_of(form), now())


def spec_of(form: LinkForm) -> LinkSpec:
    """The form as the store takes it, or 422 with what to put right."""
    unknown = set(form.kinds or ()) - ALL_KINDS
    if unknown:
        raise Refused(422, "bad_kinds", "One of the kinds to show is not known here.")
    if form.kinds is not None and not form.kinds:
        raise Refused(422, "no_kinds", "Tick at least one thing to show.")
    if form.days is not None and (form.start or form.end):
        raise Refused(422, "two_periods", "Give a number of days, or a first and a last day, not both.")
    for given in filter(None, (form.start, form.end)):
        try:
            date.fromisoformat(given)
        except ValueError:
            raise Refused(422, "bad_date", "One of the two days is not in the calendar.") from None
    if form.start and form.end and form.start > form.end:
        raise Refused(422, "bad_period", "The first day has to come before the last one.")
    if not form.code and form.hours > HOURS_WITHOUT_CODE:
        raise Refused(422, "code_needed", "Without a code a link stands for 24 hours at most.")
    return LinkSpec(
        days=form.days, start=form.start, end=form.end, kinds=None if form.kinds is None else tuple(form.kinds),
        notes=form.notes, live=form.live, code=form.code, expires=timedelta(hours=form.hours), label=form.label.strip(),
        waiting=form.waiting, files=form.files, language=form.language,
    )  # fmt: skip


def address(link: Link, settings: Settings) -> str:
    """Where a link is opened."""
    return f"{settings.base_url}/s/{link.token}"


def told(link: Link, to: Parts) -> dict[str, Any]:
    """A link as the wearer sees it."""
    spec = link.spec
    return {
        "id": link.id, "url": address(link, to.settings), "code": link.code, "state": link.state,
        "made_at": link.made_at, "expires": link.expires, "revoked_at": link.revoked_at,
        "tries_left": link.tries_left, "days": spec.days, "from": spec.start, "to": spec.end,
        "kinds": None if spec.kinds is None else list(spec.kinds), "notes": spec.notes, "live": spec.live,
        "files": spec.files, "label": spec.label, "language": spec.language,
        "health_link": healthlink.written(link, to), "openings": [asdict(opening) for opening in link.openings],
    }  # fmt: skip


def _own(to: Parts, logbook_id: str, link_id: str) -> Link:
    """The link, if it is this logbook's."""
    found = next((link for link in to.store.links(logbook_id, now()) if link.id == link_id), None)
    if found is None:
        raise not_found()
    return found
