"""What the server says back: JSON either way, and every refusal as {code, why}.

`code` is for programs, `why` a sentence for the person in front of the screen. Nothing that was sent in is repeated:
an answer ends up in logs, bug reports and screenshots.
"""

from __future__ import annotations

import gzip
import json
from collections.abc import Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import Response

PACK_BYTES = 1400  # what fits into one packet anyway is sent as it is
LATER_S = 10  # what Retry-After says when nothing better is known


class Refused(Exception):
    """A request that is not carried out. `more` is added to the answer's JSON; `after_s` becomes Retry-After."""

    def __init__(
        self, status: int, code: str, why: str, *, after_s: int | None = None, more: Mapping[str, Any] | None = None
    ) -> None:
        super().__init__(code)
        self.status = status
        self.code = code
        self.why = why
        self.after_s = after_s
        self.more = dict(more or {})

    def response(self) -> Response:
        """The refusal as it travels."""
        headers = {} if self.after_s is None else {"retry-after": str(self.after_s)}
        return answer({"code": self.code, "why": self.why, **self.more}, self.status, headers)


def answer(data: object, status: int = 200, headers: Mapping[str, str] | None = None) -> Response:
    """JSON as compact UTF-8. NaN cannot get in: the phone's parser would choke on it."""
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    return Response(text.encode(), status, headers, "application/json")


def busy() -> Refused:
    """The database is not to be had at the moment; nothing was written."""
    return Refused(503, "busy", "The server cannot reach its database just now. Nothing was lost; it is tried again.",
                   after_s=LATER_S)  # fmt: skip


def full() -> Refused:
    """The disk is full; nothing was written."""
    return Refused(507, "full", "The server's disk is full. Your entries stay safe on this phone until there is room.",
                   after_s=60)  # fmt: skip


def pair_again() -> Refused:
    """No device of this server, or one no longer; the phone keeps what it has and asks to be paired."""
    return Refused(401, "pair_again", "This phone is not paired with this server, or no longer. "
                   "What it holds is safe; pair it again to send it.")  # fmt: skip


def not_found() -> Refused:
    """Not there, or not this logbook's: the two are not told apart."""
    return Refused(404, "not_found", "There is nothing here, or it is no longer kept.")


def packed(request: Request, text: str) -> Response:
    """JSON text as an answer, in gzip where that is worth it and taken.

    Nothing of another person's choosing stands beside a secret in these answers, so their length tells nothing.
    """
    body, headers = text.encode(), {"vary": "accept-encoding"}
    if len(body) > PACK_BYTES and "gzip" in request.headers.get("accept-encoding", ""):
        body, headers["content-encoding"] = gzip.compress(body, 1, mtime=0), "gzip"
    return Response(body, 200, headers, "application/json")
