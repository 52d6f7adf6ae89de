"""Running a server: its socket, its worker, and an end that leaves nothing half done."""

from __future__ import annotations

import gc
import os
import signal
import socket
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace

from plytide import logs
from plytide.cli.say import stop
from plytide.config import Settings, unknown
from plytide.jobs import Worker
from plytide.store import Store

# A log read into memory is many small objects and no cycles. Looking for cycles in them after every 700 new ones, as
# Python does unasked, took a third of the time that ten years take to read (tests/bench/bench_clinic.py).
SEARCH_FOR_CYCLES = 100_000, 50, 100

# A thread that reckons lets another go on after so long (Python's own is fifty times that). A push crosses over a dozen
# times, at every step that touches the disk: while a summary is in the making it would wait for each.
GIVE_WAY_S = 0.0001


def begin(asked: Settings) -> None:
    """Start the log, and say which variables are not read."""
    logs.start(asked.log_level)
    for line in unknown(os.environ):
        logs.log.warning("event=setting_unknown %s", line)


@contextmanager
def listen(asked: Settings) -> Iterator[tuple[socket.socket, Settings]]:
    """The socket, taken before anything is written or printed, and the settings with the port it got."""
    family = socket.AF_INET6 if ":" in asked.host else socket.AF_INET
    # With its protocol named: only then does asyncio switch off the delay that costs every answer 40 ms (Nagle).
    with socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP) as listening:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listening.bind((asked.host, asked.port))
            listening.listen(512)
        except OSError as error:
            stop(f"{asked.host} port {asked.port} cannot be listened at: {error.strerror}. Choose another with --port.")
        yield listening, replace(asked, port=listening.getsockname()[1])


def run(asked: Settings, store: Store, listening: socket.socket, announce: Callable[[], None]) -> None:
    """Serve until a signal comes; `announce` is called when one may come, and requests with it."""
    import uvicorn  # here, so that commands that serve nothing do not wait for a web framework

    from plytide.app import create_app, serving

    gc.freeze()
    gc.set_threshold(*SEARCH_FOR_CYCLES)
    sys.setswitchinterval(GIVE_WAY_S)
    loop = Worker(store, asked.summary_minutes)
    server = uvicorn.Server(serving(create_app(asked, store, loop), asked))

    def end() -> None:
        server.should_exit = True

    # uvicorn has its own handlers while it runs, and raises the signal again afterwards; these catch it then, and
    # before. What follows is to be done in any case.
    on_signal(end)
    if asked.worker:
        loop.start()
    announce()
    server.run(sockets=[listening])
    loop.stop()


def on_signal(do: Callable[[], None]) -> None:
    """Call `do` when the process is asked to end."""
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, lambda *_: do())
