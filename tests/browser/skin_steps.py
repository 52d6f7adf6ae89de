"""For tests of the skin check: findings ticked, what the screen says to do, what was kept."""

from __future__ import annotations

import re

from browser.limb_steps import stored
from playwright.sync_api import Locator, Page, expect

PHONES = {"clinic_phone": "+351 21 000 0000", "emergency_phone": "112"}


def tick(page: Page, finding: str) -> None:
    """Tick a finding."""
    page.get_by_role("checkbox", name=re.compile(f"^{finding}")).check(force=True)


def acting(page: Page) -> Locator:
    """The panel that says what to do."""
    return page.locator(".act-now")


def check(page: Page) -> dict[str, object]:
    """The body of the latest skin entry that stands."""
    body = [e["body"] for e in stored(page, "skin") if not e["erased"]][-1]
    assert isinstance(body, dict)
    return body


def settled(page: Page) -> None:
    """What was ticked is on the phone's disk."""
    expect(page.get_by_role("status").filter(has_text="Saved on this phone")).to_be_visible()
    page.wait_for_timeout(100)
