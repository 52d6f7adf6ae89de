"""The tables. `logbook_id` is in every key, so that logbooks can be spread over several databases one day.

Times are RFC 3339 texts in UTC with milliseconds. Nothing cascades: a mistake in one table must never delete rows of
another. Secrets are kept as hashes only, or not at all (see secrets.py).
Changing a table means a new file in migrations/versions; a test compares the two.
"""

from typing import Any

from sqlalchemy import BigInteger, Index, Table
from sqlmodel import Field, SQLModel


class Logbook(SQLModel, table=True):
    """One wearer's log. `seq` numbers its changes; its row is the lock under which numbers are given."""

    id: str = Field(primary_key=True)
    name: str
    epoch: str
    seq: int = Field(sa_type=BigInteger)
    made_at: str


def _keyed(*more: Any) -> tuple[Any, ...]:
    # Rows of one logbook lie together, in the order of their ids, which is the order of their making.
    return (*more, {"sqlite_with_rowid": False})


class Entry(SQLModel, table=True):
    """The version of an entry that stands. `doc` is the whole entry as it travels, unknown fields included."""

    __table_args__ = _keyed(Index("entry_seq", "logbook_id", "seq", unique=True))

    logbook_id: str = Field(primary_key=True, foreign_key="logbook.id")
    id: str = Field(primary_key=True)
    seq: int = Field(sa_type=BigInteger)
    kind: str
    limb: str | None
    at: str
    stamp: str
    erased: bool
    doc: str


class History(SQLModel, table=True):
    """Versions that were replaced, or came too late to stand: nothing that a person typed is destroyed."""

    __table_args__ = _keyed()

    logbook_id: str = Field(primary_key=True, foreign_key="logbook.id")
    id: str = Field(primary_key=True)
    stamp: str = Field(primary_key=True)
    doc: str


class Restamp(SQLModel, table=True):
    """Stamps that were moved back, as they were sent: a repeat of such a version is known by it."""

    __table_args__ = _keyed()

    logbook_id: str = Field(primary_key=True, foreign_key="logbook.id")
    id: str = Field(primary_key=True)
    sent: str = Field(primary_key=True)
    stamp: str


class Summary(SQLModel, table=True):
    """The latest reading, and the number of the change that it rests on."""

    logbook_id: str = Field(primary_key=True, foreign_key="logbook.id")
    seq: int = Field(sa_type=BigInteger)
    made_at: str
    doc: str


class Device(SQLModel, table=True):
    """A paired device. The token is replaced monthly: `next_hash` waits to be seen, `old_hash` must not come back."""

    id: str = Field(primary_key=True)
    logbook_id: str = Field(foreign_key="logbook.id", index=True)
    name: str
    made_at: str
    seen_at: str
    token_hash: str = Field(unique=True)
    rotated_at: str
    next_hash: str | None = Field(default=None, index=True)
    old_hash: str | None = Field(default=None, index=True)
    old_until: str | None = None
    revoked_at: str | None = None


class PairCode(SQLModel, table=True):
    """A pairing code that was shown to someone."""

    __tablename__ = "pair_code"

    code_hash: str = Field(primary_key=True)
    logbook_id: str = Field(foreign_key="logbook.id", index=True)
    expires: str
    tries: int
    used_at: str | None = None


class Link(SQLModel, table=True):
    """A clinic link. `snapshot` holds what it shows, unless it is live."""

    id: str = Field(primary_key=True)
    logbook_id: str = Field(foreign_key="logbook.id", index=True)
    token_hash: str = Field(unique=True)
    spec: str
    made_at: str
    expires: str
    tries: int
    revoked_at: str | None = None
    snapshot: str | None = None


class LinkOpening(SQLModel, table=True):
    """An attempt at a link, shown to the wearer."""

    __tablename__ = "link_opening"

    n: int | None = Field(default=None, primary_key=True)
    logbook_id: str = Field(foreign_key="logbook.id", index=True)
    link_id: str = Field(foreign_key="link.id", index=True)
    at: str
    result: str


class LinkSession(SQLModel, table=True):
    """A browser that opened a link, for half an hour."""

    __tablename__ = "link_session"

    session_hash: str = Field(primary_key=True)
    logbook_id: str = Field(foreign_key="logbook.id", index=True)
    link_id: str = Field(foreign_key="link.id", index=True)
    expires: str


class Audit(SQLModel, table=True):
    """What was done with the logbook, in words."""

    n: int | None = Field(default=None, primary_key=True)
    logbook_id: str = Field(foreign_key="logbook.id", index=True)
    at: str
    code: str
    words: str


class Calendar(SQLModel, table=True):
    """The secret address of a calendar subscription."""

    id: str = Field(primary_key=True)
    logbook_id: str = Field(foreign_key="logbook.id", index=True)
    token_hash: str = Field(unique=True)
    made_at: str
    revoked_at: str | None = None


class Meta(SQLModel, table=True):
    """Facts about the database itself."""

    name: str = Field(primary_key=True)
    value: str


def _table(name: str) -> Table:
    return SQLModel.metadata.tables[name]


logbook, entry, history, restamp, summary = map(_table, ("logbook", "entry", "history", "restamp", "summary"))
device, pair_code, link, link_opening = map(_table, ("device", "pair_code", "link", "link_opening"))
link_session, audit, calendar, meta = map(_table, ("link_session", "audit", "calendar", "meta"))

# In an order in which rows can be deleted without leaving one that points nowhere.
OF_A_LOGBOOK = (
    link_session, link_opening, link, calendar, pair_code, device, audit, summary, restamp, history, entry,
)  # fmt: skip
