"""A clinic link from the outside: the typed code, the half hour after it, and what stands behind."""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from functools import partial
from typing import Any

from pydantic_core import from_json
from sqlalchemy import Connection, Row, delete, func, select, update

from plytide.entries import Entry
from plytide.store import keys
from plytide.store.audit import note
from plytide.store.links import SHOWN, TRIES, Links, said_for
from plytide.store.reading import in_order
from plytide.store.shapes import Link, LinkKind, LinkRefused, LinkSession, LinkView, iso
from plytide.store.tables import link, link_opening, link_session

SESSION = timedelta(minutes=30)
REFUSALS_LISTED = 100  # a stranger who knocks on and on does not fill the disk


class Openings(Links):
    """What a reader of a link does."""

    def open_link(self, token: str, code: str | None, now: datetime) -> LinkSession:
        """A session of half an hour, or `LinkRefused`; either is listed for the wearer, but for a form sent empty.

        Ten wrong codes in all lock a link. A try is taken off before the code is compared, in one statement, and
        given back when it was right: tries that run side by side cannot share one.
        """
        at, hashed = iso(now), keys.hash_token(token)
        stands = (link.c.token_hash == hashed) & link.c.revoked_at.is_(None) & (link.c.expires > at)
        if not code and self._asks_for_code(hashed):
            raise LinkRefused("wrong_code")  # an empty form, such as a mail scanner sends: it guessed nothing
        with self.db.write() as connection:
            take = update(link).where(stands, link.c.tries < TRIES).values(tries=link.c.tries + 1)
            taken = connection.execute(take).rowcount == 1
            row = connection.execute(select(link).where(link.c.token_hash == hashed)).first()
            kind = _refusal(row, taken, at) or self._wrong(row, code)
            if row is not None:
                _list(connection, row, kind or "opened", now)
            if row is not None and kind is None:
                connection.execute(update(link).where(link.c.id == row.id).values(tries=link.c.tries - 1))
                return _session(connection, row, now)
        raise LinkRefused(kind or "unknown")

    def link_of(self, token: str, now: datetime) -> Link | None:
        """The link of this address, whatever its state; without its openings."""
        asked = select(*SHOWN).where(link.c.token_hash == keys.hash_token(token))
        with self.db.read() as connection:
            row = connection.execute(asked).first()
        return None if row is None else self._link(row, [], iso(now))

    def link_view(self, token: str, session: str, now: datetime) -> LinkView | None:
        """What an opened link shows, or None where the half hour is over, or the link has ended since."""
        at = iso(now)
        mine = (link_session.c.session_hash == keys.hash_token(session)) & (link_session.c.expires > at)
        stands = (link.c.token_hash == keys.hash_token(token)) & link.c.revoked_at.is_(None) & (link.c.expires > at)
        asked = select(*SHOWN).join(link_session, link_session.c.link_id == link.c.id).where(mine, stands)
        with self.db.read() as connection:
            row = connection.execute(asked).first()
        return None if row is None else self.view_of(self._link(row, [], at), now)

    def view_of(self, shown: Link, now: datetime) -> LinkView:
        """What a link shows, for whoever has the link itself in hand."""
        if shown.spec.live:
            reached = partial(self._reached, shown.logbook_id, shown.spec, now)
            return LinkView(shown, iso(now), lambda: in_order(map(Entry.from_json, reached())))
        return LinkView(shown, shown.made_at, lambda: self._kept(shown.id))

    def _kept(self, link_id: str) -> list[Entry]:
        with self.db.read() as connection:
            text = connection.execute(select(link.c.snapshot).where(link.c.id == link_id)).scalar()
        return in_order(map(Entry.from_dict, from_json(text or "[]")))

    def end_session(self, session: str) -> None:
        """The reader is done: the session is worth nothing from now on."""
        with self.db.write() as connection:
            connection.execute(delete(link_session).where(link_session.c.session_hash == keys.hash_token(session)))

    def _asks_for_code(self, hashed: str) -> bool:
        with self.db.read() as connection:
            spec = connection.execute(select(link.c.spec).where(link.c.token_hash == hashed)).scalar()
        return spec is not None and bool(json.loads(spec)["code"])

    def _wrong(self, row: Row[Any] | None, code: str | None) -> LinkKind | None:
        if row is None or not json.loads(row.spec)["code"] or keys.same(code or "", self.keys.digits(row.id)):
            return None
        return "wrong_code"


def _refusal(row: Row[Any] | None, taken: bool, at: str) -> LinkKind | None:
    if row is None:
        return "unknown"
    if row.revoked_at:
        return "revoked"
    if row.expires <= at:
        return "expired"
    return None if taken else "locked"


def _list(connection: Connection, row: Row[Any], result: str, now: datetime) -> None:
    mine = link_opening.c.link_id == row.id
    if result == "opened":
        words = f"A link{said_for(json.loads(row.spec)['label'])} was opened."
        note(connection, row.logbook_id, "link_opened", words, now)
    else:
        refusals = select(func.count()).where(mine, link_opening.c.result != "opened")
        if connection.execute(refusals).scalar_one() >= REFUSALS_LISTED:
            return
    connection.execute(
        link_opening.insert().values(logbook_id=row.logbook_id, link_id=row.id, at=iso(now), result=result)
    )


def _session(connection: Connection, row: Row[Any], now: datetime) -> LinkSession:
    session, expires = keys.new_token(), min(iso(now + SESSION), row.expires)
    connection.execute(delete(link_session).where(link_session.c.expires < iso(now)))
    mine = {"logbook_id": row.logbook_id, "link_id": row.id, "expires": expires}
    connection.execute(link_session.insert().values(session_hash=keys.hash_token(session), **mine))
    return LinkSession(session, row.id, row.logbook_id, expires)
