"""One line an event on stderr, in name=value words that both a person and a program read.

The message of an error may quote what somebody entered, so a line has its type and the place in the code instead.
"""

from __future__ import annotations

import logging
import sys
import traceback
from datetime import UTC, datetime
from pathlib import Path

log = logging.getLogger("plytide")


def start(level: str) -> None:
    """Write the log from `level` on, and of uvicorn's its warnings only: its access log prints whole addresses."""
    handler = logging.StreamHandler(sys.stderr)
    handler.setFormatter(Line())
    for name, least in (("plytide", level.upper()), ("uvicorn", "WARNING")):
        logger = logging.getLogger(name)
        logger.handlers[:] = [handler]
        logger.setLevel(least)
        logger.propagate = False


class Line(logging.Formatter):
    """time=… level=… and then the words of the event."""

    def format(self, record: logging.LogRecord) -> str:
        """One line, whatever the message holds; of other people's code only that it spoke, and where."""
        now = datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")
        ours = record.name == log.name
        text = record.getMessage() if ours else f"event={record.name} at={Path(record.pathname).name}:{record.lineno}"
        if record.exc_info and record.exc_info[1]:
            text += f" error={place(record.exc_info[1])}"
        return f"time={now} level={record.levelname.lower()} {' '.join(text.split())}"


def place(error: BaseException) -> str:
    """Type and line of an error, without its message."""
    frames = traceback.extract_tb(error.__traceback__)
    own = [frame for frame in frames if f"{Path('/plytide/')}" in frame.filename] or frames
    where = f"{Path(own[-1].filename).name}:{own[-1].lineno}" if own else "-"
    return f"{type(error).__name__}@{where}"
