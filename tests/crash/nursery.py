"""What warm.py forks its servers from."""

from __future__ import annotations

import json
import os
import signal
import sys
from pathlib import Path
from typing import Any


def serve(argv: list[str], env: dict[str, str], told: str) -> None:
    """What a forked process does: the command, its first line going into `told`."""
    import plytide.cli

    signal.signal(signal.SIGCHLD, signal.SIG_DFL)
    os.environ.clear()
    os.environ.update(env)
    sys.argv = argv
    with Path(told).open("w") as out:
        sys.stdout = Once(out)
        plytide.cli.main()


class Once:
    """A stdout that is closed behind its first line, so that its reader has it at once."""

    def __init__(self, out: Any) -> None:
        self.write, self.flush = out.write, out.close


def parent() -> None:
    """Read the program, then fork a server for every line that comes in."""
    import plytide.app
    import plytide.cli  # noqa: F401

    signal.signal(signal.SIGCHLD, signal.SIG_IGN)  # nobody waits for them: they leave nothing behind
    for line in sys.stdin:
        pid = os.fork()
        if pid == 0:
            try:
                serve(**json.loads(line))
            finally:
                os._exit(0)
        print(pid, flush=True)


if __name__ == "__main__":
    parent()
