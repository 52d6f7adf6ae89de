"""What the store takes and gives: plain values, and the refusals it raises. Nothing here knows a database.

Times given to the store are aware datetimes; times it gives back are RFC 3339 texts in UTC with milliseconds.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any, Literal

from plytide.entries import Entry


def iso(moment: datetime) -> str:
    """RFC 3339 in UTC with milliseconds, so that texts sort as times do."""
    moment = moment.astimezone(UTC)
    return moment.strftime("%Y-%m-%dT%H:%M:%S.") + f"{moment.microsecond // 1000:03d}Z"


class StoreError(Exception):
    """Something about the store that the caller has to tell somebody; the text says what to do."""


class StoreFull(StoreError):
    """No room left: nothing of the request was kept (507)."""


class StoreBusy(StoreError):
    """The database cannot answer just now: nothing of the request was kept (503)."""


class NoLogbook(StoreError):
    """There is no such logbook."""


class DeviceGone(StoreError):
    """The device was removed while its request was on the way (401)."""

    def __init__(self) -> None:
        super().__init__("This device is no longer paired. What it holds is safe; pair it again to send it.")


class EpochChanged(StoreError):
    """The caller's view belongs to another life of this logbook (409): cursor to 0, everything back in the outbox."""

    def __init__(self, epoch: str) -> None:
        super().__init__("The logbook was restored from a backup; send everything again from the start.")
        self.epoch = epoch


class PairingRefused(StoreError):
    """A pairing code that does not open. `tries_left` of the one that was meant counts down to 0, when it is locked."""

    def __init__(self, reason: Literal["wrong", "used", "expired", "locked"], tries_left: int) -> None:
        super().__init__(
            {
                "wrong": "That code is not right.",
                "used": "That code has been used already; ask for a new one.",
                "expired": "That code is over ten minutes old; ask for a new one.",
                "locked": "Too many wrong tries; ask for a new code.",
            }[reason]
        )
        self.reason = reason
        self.tries_left = tries_left


LinkKind = Literal["unknown", "expired", "revoked", "locked", "wrong_code"]


class LinkRefused(StoreError):
    """A clinic link that does not open. `kind` is for the wearer's list only: outsiders get one page for all kinds."""

    def __init__(self, kind: LinkKind) -> None:
        super().__init__("This link does not open.")
        self.kind = kind


@dataclass(frozen=True, slots=True)
class LogbookRow:
    """One logbook. `seq` is the number of its latest change."""

    id: str
    name: str
    epoch: str
    seq: int
    made_at: str


@dataclass(frozen=True, slots=True)
class SyncAnswer:
    """The answer to one sync: one result an entry in the order they came, and one page of what is new.

    A result is {id, stamp, r} with r ok, dup, stale (+ winner: the whole entry), restamped (+ stamp2) or refused
    (+ code, why); id and stamp are None where what came had none that is well formed. `docs` are the entries of the
    page as JSON texts, ready to be sent without being read again; `more` says that another page follows.
    """

    epoch: str
    cursor: int
    more: bool
    results: list[dict[str, Any]]
    docs: list[str]
    changed: bool  # whether any entry of the request was taken: the summary is stale then

    @property
    def entries(self) -> list[dict[str, Any]]:
        """The page as plain data."""
        return [json.loads(doc) for doc in self.docs]

    def as_json(self, now: str, summary: str | None) -> str:
        """The body of the HTTP answer. `summary` is a JSON text already."""
        head = {"epoch": self.epoch, "cursor": self.cursor, "more": self.more, "now": now, "results": self.results}
        text = json.dumps(head, ensure_ascii=False, separators=(",", ":"))
        return f'{text[:-1]},"entries":[{",".join(self.docs)}],"summary":{summary or "null"}}}'


@dataclass(frozen=True, slots=True)
class PairCode:
    """A pairing code as it is shown (K7QM-4XTD), good until `expires`."""

    code: str
    expires: str


@dataclass(frozen=True, slots=True)
class Device:
    """A paired device. `new_token` is set when the device is to replace its token with this one."""

    id: str
    logbook_id: str
    name: str
    made_at: str
    seen_at: str
    revoked_at: str | None = None
    new_token: str | None = None


@dataclass(frozen=True, slots=True)
class LinkSpec:
    """What a clinic link shows and how long it stands.

    The window is the last `days` local days, or `start` to `end` (local dates, both included), or everything.
    `kinds` None means all kinds. Without a code a link may stand for 24 hours at most, with one for 90 days.
    """

    days: int | None = None
    start: str | None = None
    end: str | None = None
    kinds: tuple[str, ...] | None = None
    notes: bool = True
    live: bool = False
    code: bool = True
    expires: timedelta = timedelta(days=7)
    label: str = ""
    waiting: int = 0  # entries that had not left the phone when the link was made
    files: bool = True  # whether the entries can be taken along as files
    language: Literal["en", "es"] = "en"  # of the page


@dataclass(frozen=True, slots=True)
class Opening:
    """One attempt at a link. `result` is opened, or the kind of the refusal."""

    at: str
    result: str


@dataclass(frozen=True, slots=True)
class Link:
    """A clinic link. `token` goes into the address, `code` is told apart (None: none is asked for)."""

    id: str
    logbook_id: str
    token: str
    code: str | None
    spec: LinkSpec
    made_at: str
    expires: str
    revoked_at: str | None
    tries_left: int
    state: Literal["open", "expired", "revoked", "locked"]
    openings: list[Opening] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class LinkSession:
    """An opened link: `session` is the cookie's secret, good until `expires`."""

    session: str
    link_id: str
    logbook_id: str
    expires: str


@dataclass(frozen=True, slots=True)
class LinkView:
    """What stands behind an opened link: the entries that it may show, as of `as_of`, read when they are wanted.

    They may be a few more than the spec ticks (days at the edges), never fewer. There is no summary: the wearer's own
    rests on the whole logbook, so what a link shows is read from these entries alone.
    """

    link: Link
    as_of: str
    entries: Callable[[], list[Entry]]


@dataclass(frozen=True, slots=True)
class AuditLine:
    """One line of the logbook's audit list, in plain words."""

    at: str
    code: str
    words: str
