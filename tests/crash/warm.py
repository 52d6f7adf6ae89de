"""Servers that start in a tenth of the time: each is forked from a process that has read the whole program already.

What is forked has run none of it yet. From `main` on it is a process like any other, and is killed like any other.
"""

from __future__ import annotations

import atexit
import json
import os
import signal
import subprocess
import sys
import threading
import time
from functools import cache
from pathlib import Path

from serving import START_S, Server, clean_env

_ASKING = threading.Lock()


@cache
def nursery() -> subprocess.Popen[str]:
    """The process that servers are forked from: one for all tests of this process."""
    words = [sys.executable, str(Path(__file__).with_name("nursery.py"))]
    process = subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    atexit.register(process.__exit__, None, None, None)
    atexit.register(process.kill)
    return process


class WarmServer(Server):
    """As `Server`, in a process that is the nursery's child."""

    def start(self) -> None:
        """Start, and wait until it listens."""
        told = self.folder / f"told-{self.port}-{time.monotonic_ns()}"
        os.mkfifo(told)
        asked = {
            "argv": ["plytide", "serve", "--data", str(self.folder), "--port", str(self.port), "--json"],
            "env": clean_env(log_level="error", **self.settings), "told": str(told),
        }  # fmt: skip
        with _ASKING:
            process = nursery()
            assert process.stdin
            assert process.stdout
            print(json.dumps(asked), file=process.stdin, flush=True)
            self.pid = int(process.stdout.readline())
        line = told.read_text()
        told.unlink()
        assert line, "the server ended before it listened"
        self.code = json.loads(line)["code"] or self.code

    def _end(self, how: signal.Signals) -> int:
        os.kill(self.pid, how)
        end = time.monotonic() + START_S
        while Path(f"/proc/{self.pid}").exists():
            assert time.monotonic() < end
            time.sleep(0.005)
        return 0
