"""Makes sure that what the tests need beside Python packages is there: a Chromium, and a C compiler.

The browser tests look, in this order, for PLYTIDE_CHROMIUM, a Chromium or Chrome on the PATH, and Playwright's own.
Where none is found Debian's package is installed (as root, or through sudo without a password), else Playwright's
download. The power-cut test compiles a small library: where there is no `cc` the ziglang package brings a compiler.
"""

import os
import shutil
import subprocess
import sys
from pathlib import Path

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")


def find() -> str | None:
    """The path of a Chromium that the tests can start, or None."""
    named = os.environ.get("PLYTIDE_CHROMIUM")
    if named:
        return named if Path(named).exists() else None
    for name in NAMES:
        path = shutil.which(name)
        if path:
            return path
    return _playwrights_own()


def _playwrights_own() -> str | None:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        path = playwright.chromium.executable_path
    return path if Path(path).exists() else None


def _debian() -> bool:
    if not shutil.which("apt-get"):
        return False
    prefix = [] if os.geteuid() == 0 else ["sudo", "-n"]
    if prefix and not shutil.which("sudo"):
        return False
    env = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    update, install = ["apt-get", "update", "-q"], ["apt-get", "install", "-yq", "--no-install-recommends", "chromium"]
    for words in (update, install):
        if subprocess.run(prefix + words, env=env, stdout=subprocess.DEVNULL, check=False).returncode:
            return False
    return True


def main() -> int:
    """Finds or installs; exit code 1 with a sentence when there is no way."""
    path = find()
    if path is None and _debian():
        path = find()
    if path is None:
        subprocess.run([sys.executable, "-m", "playwright", "install", "chromium"], check=False)
        path = find()
    if path is None:
        print("No Chromium could be found or installed. Install one and set PLYTIDE_CHROMIUM to it.", file=sys.stderr)
        return 1
    print(f"Browser tests use {path}")
    if shutil.which("cc") is None:
        subprocess.run([sys.executable, "-m", "pip", "install", "-q", "ziglang"], check=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
