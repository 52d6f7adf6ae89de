"""Takes the README's pictures from the demo, as a wearer and a clinic would see it: `python web/pictures.py`.

Needs what the tests need (a Chromium). Writes web/pictures/*.png.
"""

import importlib.util
import json
import os
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright

ROOT = Path(__file__).parents[1]
OUT = ROOT / "web/pictures"
SCREENS = {"today": "today", "sore": "sore/right", "skin": "skin/right", "pattern": "pattern"}


def afternoon() -> str:
    """A zone in which it is between 15:00 and 16:00 now: the demo's day is then under way."""
    ahead = (15 - datetime.now(UTC).hour + 11) % 24 - 11
    return f"Etc/GMT{-ahead:+d}" if ahead else "Etc/GMT"  # the sign of these names is the other way round


def phone(browser: Browser, pairing: str, zone: str) -> None:
    """The phone's screens, paired by the demo's own address."""
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True, timezone_id=zone, locale="en-GB"
    )
    page = context.new_page()
    page.goto(pairing)
    page.get_by_role("button", name="Pair").first.click()
    page.get_by_text("Devices of this logbook").first.wait_for()
    base = pairing.split("#")[0]
    for name, address in SCREENS.items():
        page.goto(f"{base}#/{address}")
        page.get_by_role("heading", level=1).wait_for()
        page.wait_for_timeout(3000)  # the summary comes with the next sync
        page.screenshot(path=OUT / f"{name}.png")
    context.close()


def clinic(browser: Browser, link: str, code: str) -> None:
    """The first half of the clinic's page, as it opens on a desk."""
    page = browser.new_context(viewport={"width": 1100, "height": 900}, java_script_enabled=False).new_page()
    page.goto(link)
    page.get_by_role("textbox").first.fill(code)
    page.get_by_role("button").first.click()
    page.get_by_role("heading", level=1).wait_for()
    page.screenshot(path=OUT / "clinic.png")


def chromium() -> str:
    """The Chromium that the tests use."""
    spec = importlib.util.spec_from_file_location("prepare", ROOT / "tests/prepare.py")
    assert spec is not None
    assert spec.loader is not None
    prepare = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(prepare)
    path = prepare.find()
    if path is None:
        sys.exit("No Chromium: run python tests/prepare.py first.")
    return str(path)


def main() -> None:
    """One demo, one browser, five pictures."""
    OUT.mkdir(exist_ok=True)
    zone = afternoon()
    words = [sys.executable, "-m", "plytide", "demo", "--port", "0", "--json"]
    with subprocess.Popen(words, env={**os.environ, "TZ": zone}, stdout=subprocess.PIPE, text=True) as demo:
        assert demo.stdout is not None
        told = json.loads(demo.stdout.readline())
        try:
            with sync_playwright() as playwright:
                browser = playwright.chromium.launch(executable_path=chromium(), args=["--no-sandbox"])
                phone(browser, told["wearer"], zone)
                clinic(browser, told["clinic"], told["clinic_code"])
                browser.close()
        finally:
            demo.terminate()


if __name__ == "__main__":
    main()
