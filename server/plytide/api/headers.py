"""The headers that every answer carries, so that a page can do what it must and nothing else."""

from __future__ import annotations

from starlette.datastructures import MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

# The page: own files only, nothing inline. Trusted Types: text can become script through the page's one policy
# ("plytide") alone, which the service worker's address needs.
PAGE = "; ".join([
    "default-src 'none'", "script-src 'self'", "style-src 'self'", "img-src 'self' data: blob:", "font-src 'self'",
    "connect-src 'self'", "manifest-src 'self'", "worker-src 'self'", "form-action 'self'", "base-uri 'none'",
    "frame-ancestors 'none'", "require-trusted-types-for 'script'", "trusted-types plytide",
])  # fmt: skip
# The clinic's page has no script at all.
CLINIC = "; ".join([
    "default-src 'none'", "style-src 'self'", "img-src 'self' data:", "font-src 'self'", "form-action 'self'",
    "base-uri 'none'", "frame-ancestors 'none'",
])  # fmt: skip

ALWAYS = {
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=()",
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "x-robots-tag": "noindex, nofollow",
}
HSTS = "max-age=31536000"
SAVED = 'attachment; filename="api.json"'  # opened by hand, an answer is saved and not taken for a page


class SafeHeaders:
    """Adds what a route has not said itself."""

    def __init__(self, app: ASGIApp, secure: bool) -> None:
        self.app = app
        self.always = {**ALWAYS, **({"strict-transport-security": HSTS} if secure else {})}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """ASGI."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        path: str = scope["path"]
        clinic = path.startswith("/s/")

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in self.always.items():
                    headers.setdefault(name, value)
                headers.setdefault("content-security-policy", CLINIC if clinic else PAGE)
                # With no-referrer a form says Origin: null, and browsers without Sec-Fetch-Site could not open a link.
                headers.setdefault("referrer-policy", "same-origin" if clinic else "no-referrer")
                if path.startswith("/api/") and headers.get("content-type") == "application/json":
                    headers.setdefault("content-disposition", SAVED)
                if clinic or path.startswith("/api/") or message["status"] >= 400:
                    headers.setdefault("cache-control", "no-store")
                if "plytide.cookie" in scope:  # a renewed token, put there by who.py
                    headers.append("set-cookie", scope["plytide.cookie"])
            await send(message)

        await self.app(scope, receive, with_headers)
