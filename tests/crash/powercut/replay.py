"""Plays power cuts from a record of writes and syncs.

At the cut, everything before a file's last sync is on its disk. What was written after that may be there or not,
in any order, whole or torn at a 512-byte sector: the disk promised nothing.
"""

from pathlib import Path
from random import Random

from record import Event

SECTOR = 512


def acknowledged(events: list[Event], cut: int) -> set[str]:
    """The ids acknowledged before the cut."""
    text = b"".join(e.data for e in events[:cut] if e.what == "a")
    return set(text.decode().split())


def files_after(events: list[Event], cut: int, rng: Random) -> dict[str, bytearray]:
    """What lies on the disk after power is lost just before `events[cut]`."""
    last_sync: dict[str, int] = {}
    for i, event in enumerate(events[:cut]):
        if event.what == "s":
            last_sync[event.name] = i
    files: dict[str, bytearray] = {}
    loose: dict[str, list[Event]] = {}
    for i, event in enumerate(events[:cut]):
        if event.what in "as":
            continue
        if event.what == "u":
            files.pop(event.name, None)
            loose.pop(event.name, None)
        elif i < last_sync.get(event.name, -1):
            _apply(files.setdefault(event.name, bytearray()), event)
        else:
            loose.setdefault(event.name, []).append(event)
    for name, pending in loose.items():
        kept = [e for e in pending if rng.random() < 0.5]
        if rng.random() < 0.5:
            rng.shuffle(kept)
        for event in kept:
            _apply(files.setdefault(name, bytearray()), _torn(event, rng) if rng.random() < 0.2 else event)
    return files


def _torn(event: Event, rng: Random) -> Event:
    if event.what != "w" or len(event.data) <= SECTOR:
        return event
    sectors = rng.randrange(1, -(-len(event.data) // SECTOR))
    return Event("w", event.name, event.at, event.data[: sectors * SECTOR])


def _apply(content: bytearray, event: Event) -> None:
    if event.what == "t":
        if len(content) > event.at:
            del content[event.at :]
        else:
            content.extend(bytes(event.at - len(content)))
        return
    end = event.at + len(event.data)
    if len(content) < end:
        content.extend(bytes(end - len(content)))
    content[event.at : end] = event.data


def lay_out(files: dict[str, bytearray], folder: Path) -> None:
    """Writes the files into an empty folder."""
    folder.mkdir()
    for name, content in files.items():
        (folder / name).write_bytes(content)
