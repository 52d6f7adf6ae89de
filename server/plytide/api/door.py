"""What every request meets first: its size, its kind, where it came from, how many there were.

An ASGI layer rather than a dependency, so that no route can forget it and a body too large is never read.
"""

from __future__ import annotations

import re

from starlette.datastructures import Headers
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from plytide.api.answers import Refused
from plytide.api.rates import Rates, address_of
from plytide.config import Settings

READING = frozenset({"GET", "HEAD", "OPTIONS"})
JSON_KINDS = frozenset({"application/json", "application/jsonl", "application/x-ndjson"})
IMPORT = "/api/import"
# Programs and pages of other sites ask here, with a passcode and without any cookie of ours.
HEALTH_LINK = re.compile(r"/s/[^/]+/shl/[^/]+\Z")


class Door:
    """Lets a request in, or refuses it before anything of it is read."""

    def __init__(self, app: ASGIApp, settings: Settings, rates: Rates) -> None:
        self.app = app
        self.settings = settings
        self.rates = rates

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """ASGI."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        path: str = scope["path"]
        self.rates.address.check(address_of(scope))
        if scope["method"] not in READING and not HEALTH_LINK.match(path):
            # The clinic page's form is posted by a browser without script: it alone is not JSON.
            if not path.startswith("/s/"):
                _is_json(headers)
            _is_of_this_site(headers, self.settings)
        limit = self.settings.import_bytes if path == IMPORT else self.settings.body_bytes
        await self.app(scope, _counted(headers, receive, limit), send)


def _is_of_this_site(headers: Headers, settings: Settings) -> None:
    """403 for a changing request that does not say that it came from this server's own page.

    Browsers say so in Sec-Fetch-Site (https and localhost only) or Origin. One that says neither may be a browser
    whose headers something on the way took off; a program that means it names this server in Origin.
    """
    fetched, came_from = headers.get("sec-fetch-site"), headers.get("origin")
    if fetched is None and came_from is None:
        raise Refused(403, "no_origin", "This request does not say where it came from and was not carried out. "
                      "A program sends the header Origin with this server's address.")  # fmt: skip
    host = headers.get("host", "")
    own = fetched == "same-origin" if fetched is not None else came_from in (
        settings.base_url, f"http://{host}", f"https://{host}"
    )  # fmt: skip
    if not own:
        raise Refused(403, "other_site", "This request came from another site and was not carried out.")


def _is_json(headers: Headers) -> None:
    """415 for another kind of body: forms and plain text are what a foreign page can send without asking."""
    kind = headers.get("content-type", "").split(";")[0].strip().lower()
    empty = headers.get("content-length", "0") == "0" and "transfer-encoding" not in headers
    if kind not in JSON_KINDS and not (empty and not kind):
        raise Refused(415, "not_json", "Only JSON is taken here.")


def _counted(headers: Headers, receive: Receive, limit: int) -> Receive:
    """`receive` that refuses with 413 once more than `limit` bytes are announced or have come."""
    said = headers.get("content-length", "0")
    if not re.fullmatch(r"[0-9]{1,18}", said) or int(said) > limit:
        raise too_large()
    come = 0

    async def counted() -> Message:
        nonlocal come
        message = await receive()
        come += len(message.get("body", b""))
        if come > limit:
            raise too_large()
        return message

    return counted


def too_large() -> Refused:
    """The phone halves its batch on this."""
    return Refused(413, "too_large", "That is more than fits into one request. Send it in smaller parts.")
