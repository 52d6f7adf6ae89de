"""Runs `plytide` the way an operator does, by its words, up to its exit code; in this process, to save its start."""

from __future__ import annotations

import io
import json
import os
from concurrent.futures import ThreadPoolExecutor
from contextlib import redirect_stderr
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from unittest import mock

from plytide.cli import main
from serving import clean_env


@dataclass(frozen=True)
class Done:
    code: int
    out: str
    err: str

    @property
    def json(self) -> dict[str, Any]:
        """The one JSON object that was printed."""
        made: dict[str, Any] = json.loads(self.out)
        return made


def _ended() -> int:
    try:
        main()
    except SystemExit as ended:
        return ended.code if isinstance(ended.code, int) else 1
    return 0


def plytide(*words: str | Path, put: str = "", **settings: str) -> Done:
    """Run a command to its end."""
    out, err = io.TextIOWrapper(io.BytesIO(), encoding="utf-8", newline=""), io.StringIO()
    source = io.TextIOWrapper(io.BytesIO(put.encode()), encoding="utf-8")
    with (
        mock.patch("sys.argv", ["plytide", *map(str, words)]), mock.patch("sys.stdin", source),
        mock.patch.dict(os.environ, clean_env(**settings), clear=True), mock.patch("sys.stdout", out),
        redirect_stderr(err),
        # In a thread of its own: browser tests leave an event loop running in this one, and commands begin their own.
        ThreadPoolExecutor(1) as thread,
    ):  # fmt: skip
        code = thread.submit(_ended).result()
    out.flush()
    return Done(code, out.buffer.getvalue().decode(), err.getvalue())
