"""Runs a workload against a real store with every write and sync of its folder written down (see shim.c)."""

import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

from crash.compiled import library

HERE = Path(__file__).parent


@dataclass(frozen=True)
class Event:
    """One thing that happened to a file: w write, t truncate, s sync, u unlink, a acknowledged."""

    what: str
    name: str
    at: int = 0
    data: bytes = b""


def record(folder: Path, batches: int, synchronous: str) -> list[Event]:
    """The events of `batches` acknowledged pushes into a new store, its folder first emptied.

    The workload writes the ids of each acknowledged batch to a file called `acknowledged`, which thereby stands in
    the record at the moment of the acknowledgement.
    """
    shim, watch, out = library(HERE / "shim.c", folder), folder / "data", folder / "record"
    watch.mkdir()
    env = {
        **os.environ,
        "LD_PRELOAD": str(shim),
        "PLYTIDE_WATCH": str(watch),
        "PLYTIDE_RECORD": str(out),
    }
    words = [sys.executable, str(HERE / "workload.py"), str(watch), str(batches), synchronous]
    done = subprocess.run(words, env=env, capture_output=True, text=True, check=False)
    if done.returncode:
        raise RuntimeError(done.stderr)
    return read(out.read_bytes())


def read(raw: bytes) -> list[Event]:
    """The record as events, acknowledgements told apart."""
    events, at = [], 0
    while at < len(raw):
        line_end = raw.index(b"\n", at)
        words = raw[at:line_end].decode().split(" ")
        at = line_end + 1
        if words[0] == "w":
            length = int(words[3])
            what = "a" if words[1] == "acknowledged" else "w"
            events.append(Event(what, words[1], int(words[2]), raw[at : at + length]))
            at += length
        elif words[0] == "t":
            events.append(Event("t", words[1], int(words[2])))
        else:
            events.append(Event(words[0], words[1]))
    return [e for e in events if not e.name.endswith(("-shm", ".lock"))]
