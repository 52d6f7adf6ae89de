"""`plytide serve` as a process of its own, for tests that kill it, stop it, or look at it from outside."""

from __future__ import annotations

import json
import os
import signal
import socket
import subprocess
import sys
from dataclasses import dataclass, field
from pathlib import Path

START_S = 60
COMMAND = (sys.executable, "-m", "plytide")


def free_port() -> int:
    """A port that was free just now."""
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port: int = taken.getsockname()[1]
        return port


def clean_env(**more: str) -> dict[str, str]:
    """The environment without settings of whoever runs the tests, and with `more` of them (PLYTIDE_ left off)."""
    env = {name: value for name, value in os.environ.items() if not name.startswith("PLYTIDE_")}
    return env | {f"PLYTIDE_{name.upper()}": value for name, value in more.items()}


@dataclass
class Server:
    """A server over `folder`; it keeps its port when it is started again. `command`: what runs it."""

    folder: Path
    command: tuple[str, ...] = COMMAND
    settings: dict[str, str] = field(default_factory=dict)
    port: int = field(default_factory=free_port)
    code: str | None = None  # for the first phone

    @property
    def url(self) -> str:
        """Where it is."""
        return f"http://127.0.0.1:{self.port}"

    def start(self) -> None:
        """Start, and wait until it listens."""
        env = clean_env(log_level="error", **self.settings)
        words = [*self.command, "serve", "--data", str(self.folder), "--port", str(self.port), "--json"]
        self.process = subprocess.Popen(words, env=env, stdout=subprocess.PIPE, text=True)
        assert self.process.stdout is not None
        line = self.process.stdout.readline()
        assert line, f"the server ended with {self.process.wait(START_S)} before it listened"
        self.code = json.loads(line)["code"] or self.code

    def kill(self) -> None:
        """As the kernel does it when memory runs out: no warning, no clean-up."""
        self._end(signal.SIGKILL)

    def stop(self) -> int:
        """As an operator does it; answers the exit code."""
        return self._end(signal.SIGTERM)

    def _end(self, how: signal.Signals) -> int:
        self.process.send_signal(how)
        code = self.process.wait(START_S)
        assert self.process.stdout is not None
        self.process.stdout.close()
        return code
