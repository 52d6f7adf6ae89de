"""Bringing a file in: the whole of it or nothing, whoever ends it; what cannot be taken is told by its line."""

from __future__ import annotations

import io
import json
import os
import signal
import socket
import subprocess
import time
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
import serving
from api.site import running
from conftest import MakeEntry
from plytide.exchange import lines
from plytide.store import Store


def text_of(entries: list[Any]) -> bytes:
    return b"".join(json.dumps(entry).encode() + b"\n" for entry in entries)


def notes(make_entry: MakeEntry, n: int) -> list[Any]:
    return [make_entry("note", {"text": f"note {i} " * 10}, limb=None) for i in range(n)]


def held(store: Store, logbook: str) -> tuple[int, int]:
    """(entries, the number of the latest change)."""
    return len(store.live(logbook)[0]), store.seq(logbook)


class Broken(io.BytesIO):
    """A file whose disk fails at its end."""

    def readline(self, size: int | None = -1) -> bytes:
        line = super().readline(size)
        if not line:
            raise OSError("input/output error")
        return line


def test_a_file_that_cannot_be_read_to_its_end_leaves_nothing(
    either_store: Store, make_entry: MakeEntry, now: datetime
) -> None:
    store, text = either_store, text_of(notes(make_entry, 3 * lines.BATCH))
    logbook = store.create_logbook()
    with pytest.raises(OSError, match="input/output"):
        lines.load(store, logbook, Broken(text), now, "Ada")
    assert held(store, logbook) == (0, 0)
    assert lines.load(store, logbook, io.BytesIO(text), now, "Ada").taken == 3 * lines.BATCH
    assert held(store, logbook) == (3 * lines.BATCH, 3 * lines.BATCH)
    assert [line.words for line in store.audit(logbook)] == ["Ada brought in a file.", "The logbook was made."]


def test_killed_in_the_middle_it_has_taken_nothing_and_is_done_by_the_next_run(
    tmp_path: Path, make_entry: MakeEntry, now: datetime
) -> None:
    text = text_of(notes(make_entry, 4 * lines.BATCH))
    with Store.open(f"sqlite:///{tmp_path / 'plytide.db'}") as store:
        logbook = store.create_logbook()
        fed = tmp_path / "fed"
        os.mkfifo(fed)
        command = [*serving.COMMAND, "import", str(fed), "--data", str(tmp_path)]
        with subprocess.Popen(command, env=serving.clean_env()) as run, fed.open("wb") as pipe:
            # A pipe holds 64 KiB on Linux: once this is written all but the last 64 KiB of it has been read.
            pipe.write(text[: len(text) * 3 // 4])
            pipe.flush()
            run.send_signal(signal.SIGKILL)
            assert run.wait(20) == -signal.SIGKILL
        assert len(text) // 2 > 2 * 64 * 1024, "two batches at least had been read"
        assert held(store, logbook) == (0, 0)
        assert lines.load(store, logbook, io.BytesIO(text), now, "Ada").taken == 4 * lines.BATCH


def test_an_upload_that_breaks_off_brings_in_nothing(tmp_path: Path, make_entry: MakeEntry) -> None:
    text = text_of(notes(make_entry, 2 * lines.BATCH))
    with running(tmp_path) as site, site.phone() as phone:
        head = (
            f"POST /api/import HTTP/1.1\r\nhost: 127.0.0.1\r\ncookie: plytide={phone.cookies['plytide']}\r\n"
            f"content-type: application/jsonl\r\ncontent-length: {len(text)}\r\n\r\n"
        )
        with socket.create_connection(("127.0.0.1", site.settings.port)) as cut:
            cut.sendall(head.encode() + text[:-200])
            time.sleep(0.2)  # so that what came is read before the end of it is
        assert phone.post("/api/import", content=text[:-200], headers={"content-type": "application/jsonl"}).json() == {
            "taken": 2 * lines.BATCH - 1, "known": 0, "refused": 1, "refusals": [{
                "line": 2 * lines.BATCH, "code": "not_json",
                "why": "This line is not a whole entry in JSON; it may have been cut short.",
            }],
        }, "a file that was cut before it was sent is another thing: all but its last line is whole"  # fmt: skip


FOREIGN = {
    "a table": b"id,kind,at\r\n1,ply,2031-03-02\r\n",
    "a picture": b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR" + bytes(range(256)),
    "UTF-16": '{"id": "x"}\n'.encode("utf-16"),
    "a bundle": b'{"resourceType": "Bundle", "entry": []}',
    "an array": b"[[[[{}]]]]",
    "nonsense numbers": b'{"id": NaN, "at": 1e400, "stamp": Infinity}',
    "half a surrogate": b'{"id": "\\ud800", "kind": "\\u0000"}',
    "no end of line": b"x" * (3 * lines.LINE_BYTES),
    "a bottomless pit": b"[" * 100_000,
}


@pytest.mark.parametrize("name", FOREIGN)
def test_of_a_foreign_or_hostile_file_nothing_is_taken_but_what_is_an_entry(
    store: Store, logbook: str, make_entry: MakeEntry, now: datetime, name: str
) -> None:
    told = lines.load(store, logbook, io.BytesIO(FOREIGN[name]), now, "Ada")
    assert told.taken == 0
    assert told.refused == len(told.refusals) >= 1
    assert all(refusal["line"] >= 1 and refusal["why"].endswith(".") for refusal in told.refusals)
    assert held(store, logbook) == (0, 0)
    good = text_of([make_entry()])
    beside = lines.load(store, logbook, io.BytesIO(good + FOREIGN[name] + b"\n" + text_of([make_entry()])), now, "Ada")
    assert beside.taken == 2
    assert held(store, logbook) == (2, 2)


def test_the_longest_line_that_is_taken_and_one_byte_more(store: Store, logbook: str, now: datetime) -> None:
    fits = b'"' + b"x" * (lines.LINE_BYTES - 2) + b'"'
    told = lines.load(store, logbook, io.BytesIO(fits + b"\n" + b" " + fits + b"\n" + fits), now, "Ada")
    assert [r["code"] for r in told.refusals] == ["not_an_object", "not_json", "not_an_object"]


def test_the_same_entry_twice_and_the_same_file_twice_is_one_entry(
    store: Store, logbook: str, make_entry: MakeEntry, now: datetime
) -> None:
    one = make_entry()
    assert lines.load(store, logbook, io.BytesIO(b"\xef\xbb\xbf" + text_of([one, one])), now, "Ada").known == 1
    assert lines.load(store, logbook, io.BytesIO(text_of([one])), now, "Ada").taken == 0
    assert held(store, logbook) == (1, 1)
