"""The page itself: the shell at `/`, the service worker, the web manifest and the built files.

Everything is read into memory once, compressed once and served with its own caching rule: a hashed name never
changes its content, so it may be kept for ever; the shell and the worker are asked for anew each time.
"""

from __future__ import annotations

import gzip
import hashlib
import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from fastapi import APIRouter, Request
from jinja2 import Environment, StrictUndefined
from starlette.responses import Response

from plytide.api.answers import Refused, not_found

PAGE = Path(__file__).parents[1] / "page"
KINDS = {
    ".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8", ".svg": "image/svg+xml",
    ".png": "image/png", ".ico": "image/x-icon", ".woff2": "font/woff2", ".json": "application/json",
    ".webmanifest": "application/manifest+json", ".txt": "text/plain; charset=utf-8",
    ".html": "text/html; charset=utf-8",
}  # fmt: skip
PACKED = (".png", ".woff2", ".ico")  # compressed already
FOR_EVER = "public, max-age=31536000, immutable"
ASK = "no-cache"

router = APIRouter(include_in_schema=False)


@dataclass(frozen=True, slots=True)
class Kept:
    """One file as it is sent; `packed` is its gzip form where that is shorter."""

    kind: str
    body: bytes
    packed: bytes | None
    tag: str
    caching: str

    def to(self, request: Request) -> Response:
        """The answer: 304 where the browser has it, gzip where it takes that."""
        headers = {"etag": self.tag, "cache-control": self.caching, "vary": "accept-encoding"}
        if self.tag in request.headers.get("if-none-match", ""):
            return Response(status_code=304, headers=headers)
        body = self.body
        if self.packed is not None and "gzip" in request.headers.get("accept-encoding", ""):
            body, headers["content-encoding"] = self.packed, "gzip"
        return Response(body, headers=headers, media_type=self.kind)


def keep(name: str, body: bytes, caching: str) -> Kept:
    """A file made ready to be sent."""
    suffix = Path(name).suffix
    packed = None if suffix in PACKED else gzip.compress(body, 9, mtime=0)
    if packed is not None and len(packed) >= len(body):
        packed = None
    tag = f'"{hashlib.sha256(body).hexdigest()[:20]}"'
    return Kept(KINDS.get(suffix, "application/octet-stream"), body, packed, tag, caching)


@cache
def built(folder: Path = PAGE) -> dict[str, Kept]:
    """The page by path; empty where it was never built."""
    if not (folder / "manifest.json").is_file():
        return {}
    page = json.loads((folder / "manifest.json").read_text(encoding="utf-8"))
    environment = Environment(autoescape=True, undefined=StrictUndefined)
    shell = environment.from_string((folder / "shell.html.jinja").read_text(encoding="utf-8")).render(page=page)
    made = {"/": keep("shell.html", shell.encode(), ASK)}
    for name in ("sw.js", "manifest.webmanifest", "manifest.es.webmanifest"):
        made[f"/{name}"] = keep(name, (folder / name).read_bytes(), ASK)
    for path in sorted((folder / "assets").iterdir()):
        made[f"/assets/{path.name}"] = keep(path.name, path.read_bytes(), FOR_EVER)
    return made


@router.api_route("/", methods=["GET", "HEAD"])
@router.api_route("/sw.js", methods=["GET", "HEAD"])
def fixed(request: Request) -> Response:
    """The shell and the worker. The shell is the same for everyone: it holds nobody's data."""
    return _made(request.url.path).to(request)


@router.api_route("/manifest.webmanifest", methods=["GET", "HEAD"])
def manifest(request: Request) -> Response:
    """The manifest in the first language the browser asks for: the phone takes its words when the page is installed."""
    spanish = request.headers.get("accept-language", "").lower().startswith("es")
    given = _made("/manifest.es.webmanifest" if spanish else "/manifest.webmanifest").to(request)
    given.headers["vary"] = "accept-encoding, accept-language"
    return given


def _made(path: str) -> Kept:
    kept = built().get(path)
    if kept is None:
        raise Refused(503, "no_page", "The page was not built. Run `python web/build.py`, or install the package.")
    return kept


@router.api_route("/assets/{name}", methods=["GET", "HEAD"])
def asset(request: Request, name: str) -> Response:
    """A built file. Names are looked up, never joined to a folder."""
    kept = built().get(f"/assets/{name}")
    if kept is None:
        raise not_found()
    return kept.to(request)


@router.api_route("/robots.txt", methods=["GET", "HEAD"])
def robots(request: Request) -> Response:
    """No search engine has any business here."""
    return keep("robots.txt", b"User-agent: *\nDisallow: /\n", ASK).to(request)
