"""The access log. A request is named by its route's template: tokens stand in paths, health data in bodies."""

from __future__ import annotations

import logging
import time

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from plytide.logs import log


class AccessLog:
    """One line a request: method, route template, status, milliseconds, bytes sent."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """ASGI."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        began = time.perf_counter()
        status, size = 0, 0

        async def counted(message: Message) -> None:
            nonlocal status, size
            if message["type"] == "http.response.start":
                status = message["status"]
            size += len(message.get("body", b""))
            await send(message)

        try:
            await self.app(scope, receive, counted)
        finally:
            spent = (time.perf_counter() - began) * 1000
            level = logging.WARNING if status >= 500 or not status else logging.INFO
            log.log(level, "event=request method=%s route=%s status=%d ms=%.1f bytes=%d",
                    method(scope), template(scope), status, spent, size)  # fmt: skip


def method(scope: Scope) -> str:
    """The method, unless somebody made one up."""
    known = ("GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS")
    return scope["method"] if scope["method"] in known else "other"


def template(scope: Scope) -> str:
    """The path of the route that answered, such as /s/{token}; "-" where none did."""
    return getattr(scope.get("route"), "path", "-")
