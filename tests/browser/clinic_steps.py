"""What a clinic's browser does with a link: no pairing, no script, nothing kept."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from datetime import UTC, datetime, timedelta
from typing import Any

from browser.plytide_server import Server
from playwright.sync_api import Browser, Page, expect
from plytide import demo
from plytide.exchange.lines import keep
from plytide.store import Link, LinkSpec

ZONE = "Europe/Lisbon"


def filled(server: Server) -> str:
    """A logbook with the demo's four months."""
    now = datetime.now(UTC)
    with closing(server.store) as store:
        logbook = store.create_logbook("Maren Oddly")
        keep(store, logbook, demo.scenario(now, ZONE), now)
    return logbook


def link_to(server: Server, logbook: str, days: int = 28, **spec: Any) -> Link:
    """A link of so many days."""
    with closing(server.store) as store:
        return store.make_link(logbook, LinkSpec(days=days, **spec), datetime.now(UTC) - timedelta(minutes=1))


Reader = Callable[..., Page]


@contextmanager
def reading(browser: Browser, server: Server, link: Link, **options: Any) -> Iterator[Page]:
    """A browser in which scripts are off, with the link opened by its code."""
    settings = {"viewport": {"width": 1100, "height": 800}, "java_script_enabled": False, "locale": "en-GB"}
    context = browser.new_context(**{**settings, **options})
    try:
        page = context.new_page()
        page.goto(f"{server.url}/s/{link.token}")
        page.get_by_label("Code, 6 digits").fill(str(link.code))
        page.get_by_role("button", name="Open").click()
        expect(page.locator(".warning").first).to_be_visible()
        yield page
    finally:
        context.close()


def sheets(pdf: bytes) -> int:
    """How many pages a PDF of Chromium has: each is an object of type Page."""
    return pdf.count(b"/Type /Page\n")
