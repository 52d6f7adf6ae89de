"""What stands at /s/<token>: a box for a code, and behind the right code a page without any script.

Before the code everybody gets the same bytes, whether the link exists or not; after a wrong one again the same, for a
mistyped, an ended, a locked and an unknown link alike. A GET changes nothing and counts nothing: mail scanners and
previews may look as often as they like.
"""

from __future__ import annotations

import gzip
import re
from datetime import datetime, timedelta
from functools import cache
from typing import Annotated
from urllib.parse import parse_qs

from fastapi import APIRouter, Depends
from starlette.background import BackgroundTask
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

from plytide.api import page as files
from plytide.api.pages import Pages
from plytide.api.parts import Parts, now, parts
from plytide.api.rates import address_of
from plytide.clinic import behind, page
from plytide.clinic.reading import Reading
from plytide.clinic.words import LANGUAGES, Language
from plytide.config import Settings
from plytide.exchange import fhir
from plytide.exchange.forms import FORMS, Leaving
from plytide.store import LinkRefused, LinkSpec, LinkView

router = APIRouter(include_in_schema=False)
Server = Annotated[Parts, Depends(parts)]

SESSION_S = 30 * 60
FORM_BYTES = 200
LIVE_GOOD = timedelta(minutes=5)  # how long a live page stands while nothing comes in: hours on go on
SHEET = "sheet"
CODE = re.compile(r"[0-9]{6}\Z")
TOKEN = re.compile(r"[A-Za-z0-9_-]{1,64}\Z")


_pages = Pages()


@router.api_route("/s/{token}", methods=["GET", "HEAD"])
def show(token: str, request: Request, to: Server) -> Response:
    """The box for the code; the page for a browser that opened this link within the last half hour."""
    view = _view(to, token, request)
    if view is None:
        response = html(page.plain("code", style=style(), language=wanted(request), refused=False))
        if request.method == "GET":
            response.background = BackgroundTask(prepare, to, token)
        return response
    return unpacked(shown(to, view, now()), request)


@router.post("/s/{token}")
async def unlock(token: str, request: Request, to: Server) -> Response:
    """The typed code: 303 to the page with a cookie for half an hour, or the same refusal for every reason."""
    to.rates.guess.check(address_of(request.scope))
    body = await request.body()
    typed = parse_qs(body[:FORM_BYTES].decode("ascii", "replace")).get("code", [""])[0]
    code = re.sub(r"[\s-]", "", typed)
    try:
        if code and not CODE.match(code):
            raise LinkRefused("wrong_code")  # no code of ours looks like that, so it is not counted as a guess
        opened = await run_in_threadpool(to.store.open_link, token, code, now())
    except LinkRefused:
        return html(page.plain("code", style=style(), language=wanted(request), refused=True), 404)
    response = html("", 303)
    response.headers["location"] = f"/s/{token}"
    response.headers["set-cookie"] = cookie(to.settings, token, opened.session)
    return response


@router.get("/s/{token}/{form}")
def take(token: str, form: str, request: Request, to: Server) -> Response:
    """What is shown in another form: the sheet of dated facts, or a file (csv, its dictionary, fhir, jsonl).

    Whoever has not opened the link gets the box.
    """
    view = _view(to, token, request)
    if view is None or form not in {SHEET, *(FORMS if view.link.spec.files else ())}:
        return html(page.plain("code", style=style(), language=wanted(request), refused=False))
    at, reading = now(), read(to, view, now())
    if form == SHEET:
        return html(page.payer_sheet(reading, style=style(), back=f"/s/{token}"))
    what = Leaving(reading.entries, reading.profile, fhir.plies(reading.entries), view.link.logbook_id, at)
    headers = {"content-disposition": f'attachment; filename="{FORMS[form].file}"', "cache-control": "no-store"}
    return StreamingResponse(FORMS[form].write(what), headers=headers, media_type=FORMS[form].kind)


@router.post("/s/{token}/done")
def done(token: str, request: Request, to: Server) -> Response:
    """Ends the reader's half hour on this computer."""
    session = request.cookies.get(cookie_name(to.settings))
    if session:
        to.store.end_session(session)
    response = html(page.plain("closed", style=style(), language=wanted(request)))
    if TOKEN.match(token):
        response.headers["set-cookie"] = cookie(to.settings, token, "", kept_s=0)
    return response


def preview(to: Parts, logbook_id: str, spec: LinkSpec, at: datetime) -> Response:
    """The page as it would be now, for the wearer alone."""
    entries, _seq = to.store.live(logbook_id)
    reading = behind.reading_of(spec, entries, at, at, expires=at + spec.expires)
    return html(page.render(reading, style=style(), back="/#/link"))


def prepare(to: Parts, token: str) -> None:
    """Make a link's page while its reader types the code; nothing of it shows, and nothing where no link stands."""
    at = now()
    link = to.store.link_of(token, at)
    if link is not None and link.state == "open":
        shown(to, to.store.view_of(link, at), at)


def shown(to: Parts, view: LinkView, at: datetime) -> bytes:
    """The page of an opened link, packed. A snapshot changes by the day; a live one with the log, and says when."""
    link, token = view.link, view.link.token
    days = (at - datetime.fromisoformat(view.as_of)).days
    key = (link.id, to.store.seq(link.logbook_id) if link.spec.live else days)

    def make() -> str:
        files = [(form, f"{token}/{form}") for form in FORMS] if link.spec.files else []
        return page.render(read(to, view, at), style=style(), done=f"{token}/done", sheet=f"{token}/{SHEET}",
                           downloads=files)  # fmt: skip

    return _pages.of(key, at, LIVE_GOOD if link.spec.live else timedelta(days=1), make)


def read(to: Parts, view: LinkView, at: datetime) -> Reading:
    """What an opened link shows."""
    link = view.link
    synced = None
    if link.spec.live:
        seen = [d.seen_at for d in to.store.devices(link.logbook_id) if d.revoked_at is None]
        synced = datetime.fromisoformat(max(seen)) if seen else None
    return behind.reading_of(
        link.spec, view.entries(), datetime.fromisoformat(view.as_of), at,
        expires=datetime.fromisoformat(link.expires), synced=synced,
    )  # fmt: skip


def unpacked(packed: bytes, request: Request) -> Response:
    """A kept page as the reader's browser takes it: packed if it can. Nothing in a page comes from who asks for it, so
    its length tells them nothing."""
    if "gzip" not in request.headers.get("accept-encoding", ""):
        return html(gzip.decompress(packed).decode())
    response = html("")
    response.body = packed
    response.headers.update({"content-encoding": "gzip", "content-length": str(len(packed))})
    return response


def html(text: str, status: int = 200) -> Response:
    """A page of ours: no script may run in it, nothing is fetched but the font, nobody keeps a copy."""
    policy = (
        f"default-src 'none'; style-src '{page.style_hash(style())}'; font-src 'self'; form-action 'self'; "
        "base-uri 'none'; frame-ancestors 'none'"
    )
    headers = {"content-security-policy": policy, "cache-control": "no-store"}
    return Response(text, status, headers, "text/html; charset=utf-8")


def wanted(request: Request) -> Language:
    """The language of the small pages: what the reader's browser asks for, never what the link is in."""
    tags = [tag.split(";")[0].split("-")[0].strip() for tag in request.headers.get("accept-language", "").split(",")]
    return next((known for tag in tags for known in LANGUAGES if tag.lower() == known), "en")


@cache
def style() -> str:
    """The style sheet, with the font where the page was built."""
    font = next((name for name in files.built() if re.search(r"/commissioner-latin-flar-.*\.woff2$", name)), "")
    return page.style(font)


def cookie_name(settings: Settings) -> str:
    """The session's cookie. It cannot be a __Host- one, for those are sent to the whole site."""
    return "__Secure-plytide-view" if settings.secure else "plytide-view"


def cookie(settings: Settings, token: str, session: str, kept_s: int = SESSION_S) -> str:
    """The cookie that keeps a link open, sent to that link's address only."""
    response = Response()
    response.set_cookie(
        cookie_name(settings), session, max_age=kept_s, path=f"/s/{token}", secure=settings.secure, httponly=True,
        samesite="strict",
    )  # fmt: skip
    return response.headers["set-cookie"]


def _view(to: Parts, token: str, request: Request) -> LinkView | None:
    session = request.cookies.get(cookie_name(to.settings))
    if not session:
        return None
    try:
        return to.store.link_view(token, session, now())
    except LinkRefused:
        return None
