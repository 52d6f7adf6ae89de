"""What a wearer does on the phone, by what is on the screen."""

from __future__ import annotations

import re
import time

from playwright.sync_api import Page, expect


def tap(page: Page, times: int = 1, name: str = "1 ply on") -> None:
    """Tap the large button."""
    for _ in range(times):
        page.get_by_role("button", name=re.compile(f"^{name}")).click()


def separate_taps(page: Page) -> None:
    """Taps within a few seconds of each other are one entry; this makes the next one another."""
    page.wait_for_timeout(4100)


def shows(page: Page, total: int | str) -> None:
    """The very large number is `total`."""
    expect(page.locator(".level .number")).to_have_text(str(total))


def says(page: Page, text: str | re.Pattern[str], timeout: float = 10_000) -> None:
    """The state of saving and sending, at the top right of Today, has these words."""
    expect(page.get_by_role("status").filter(has_text=text).first).to_be_attached(timeout=timeout)


def fresh(page: Page) -> None:
    """The live page, with nothing logged: on a first visit the page says so before its scripts have run, too."""
    expect(page.locator(".sync")).to_be_visible()
    expect(page.get_by_text("Nothing logged yet.")).to_be_visible()


def all_sent(page: Page, timeout: float = 20_000) -> None:
    """Everything on this phone is on its server."""
    says(page, "all sent", timeout)


def waits(page: Page, n: int) -> None:
    """`n` entries are on this phone and not on the server."""
    says(page, re.compile(rf"{n} waiting|offline"))


def pair(page: Page, url: str, code: str) -> None:
    """Type the code of a server on the pairing screen, and come back to Today paired."""
    page.goto(f"{url}/#/pair")
    page.get_by_label("Pairing code").fill(code)
    page.get_by_role("button", name=re.compile("^Pair")).click()
    expect(page.get_by_text("Devices of this logbook").first).to_be_visible(timeout=20_000)
    page.goto(f"{url}/#/today")


def until(page: Page, expression: str, seconds: float = 30) -> None:
    """Wait for a JavaScript expression to be true; asked from outside: the page's policy lets no text become code."""
    deadline = time.monotonic() + seconds
    while not page.evaluate(expression):
        assert time.monotonic() < deadline, f"never true: {expression}"
        page.wait_for_timeout(20)


def kept(page: Page) -> None:
    """The service worker has the page: from now on it opens without a network."""
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    until(page, "navigator.serviceWorker.controller !== null")


def wake(page: Page) -> None:
    """The network is back: the browser says so, and the page tries at once."""
    page.evaluate("dispatchEvent(new Event('online'))")
