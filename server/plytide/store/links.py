"""Clinic links as the wearer has them: made, listed with their openings, stopped. How one opens is in opening.py."""

from __future__ import annotations

import json
import uuid
from dataclasses import asdict, replace
from datetime import UTC, date, datetime, timedelta
from typing import Any, Literal

from sqlalchemy import Connection, Row, delete, select, update

from plytide.entries import LIMB_KINDS
from plytide.store import keys
from plytide.store.audit import note
from plytide.store.reading import Reading
from plytide.store.shapes import Link, LinkSpec, Opening, iso
from plytide.store.tables import entry, link, link_opening, link_session

TRIES = 10
LONGEST = timedelta(days=90)
LONGEST_OPEN = timedelta(hours=24)  # without a code
KEPT = timedelta(days=90)  # how long an ended link stays in the wearer's list
DATED = LIMB_KINDS | {"day", "activity"}  # kinds that tell of a day; the others are true until further notice


class Links(Reading):
    """What the wearer does with links."""

    def make_link(self, logbook_id: str, spec: LinkSpec, now: datetime) -> Link:
        """A new link. ValueError where the spec allows more than a link may (see LinkSpec)."""
        limit = LONGEST if spec.code else LONGEST_OPEN
        if not timedelta(0) < spec.expires <= limit:
            raise ValueError(f"A link of this kind stands for {limit} at most.")
        for day in filter(None, (spec.start, spec.end)):
            date.fromisoformat(day)  # ValueError: day is out of range, or no date at all
        id = str(uuid.uuid4())
        snapshot = None if spec.live else self._snapshot(logbook_id, spec, now)
        row = {"id": id, "logbook_id": logbook_id, "token_hash": keys.hash_token(self.keys.token("link", id)),
               "spec": _written(spec), "made_at": iso(now), "expires": iso(now + spec.expires), "tries": 0,
               "snapshot": snapshot}  # fmt: skip
        with self.db.write() as connection:
            _forget_ended(connection, logbook_id, now)
            connection.execute(link.insert().values(row))
            words = f"A link was made{said_for(spec.label)}, good until {row['expires']}."
            note(connection, logbook_id, "link_made", words, now)
            made = connection.execute(select(*SHOWN).where(link.c.id == id)).one()
        return self._link(made, [], iso(now))

    def links(self, logbook_id: str, now: datetime | None = None) -> list[Link]:
        """Every link that stands or ended in the last 90 days, oldest first, with its openings."""
        openings: dict[str, list[Opening]] = {}
        asked = select(link_opening).where(link_opening.c.logbook_id == logbook_id).order_by(link_opening.c.n)
        with self.db.read() as connection:
            rows = connection.execute(
                select(*SHOWN).where(link.c.logbook_id == logbook_id).order_by(link.c.made_at, link.c.id)
            ).all()
            for row in connection.execute(asked):
                openings.setdefault(row.link_id, []).append(Opening(row.at, row.result))
        at = iso(now or datetime.now(UTC))
        return [self._link(row, openings.get(row.id, []), at) for row in rows]

    def revoke_link(self, logbook_id: str, link_id: str, now: datetime) -> bool:
        """Stop a link at once, for those who have it open too; False where it is not this logbook's or stopped."""
        theirs = (link.c.id == link_id) & (link.c.logbook_id == logbook_id) & link.c.revoked_at.is_(None)
        with self.db.write() as connection:
            stop = update(link).where(theirs).values(revoked_at=iso(now), snapshot=None).returning(link.c.spec)
            row = connection.execute(stop).first()
            if row is not None:
                connection.execute(delete(link_session).where(link_session.c.link_id == link_id))
                words = f"A link{said_for(_read(row.spec).label)} was stopped."
                note(connection, logbook_id, "link_stopped", words, now)
        return row is not None

    def health_link(self, link_id: str) -> tuple[str, bytes]:
        """(the rest of the address, the key) of a link's second face, worked out anew each time: kept nowhere."""
        return self.keys.token("health link", link_id), self.keys.derive("health link key", link_id)

    def _snapshot(self, logbook_id: str, spec: LinkSpec, now: datetime) -> str:
        """What the link may show from now on, whatever is written later."""
        return f"[{','.join(self._reached(logbook_id, spec, now))}]"

    def _reached(self, logbook_id: str, spec: LinkSpec, now: datetime) -> list[str]:
        """The entries that a link may need, as JSON texts: what it certainly does not show is not even read.

        The edges of days hang on the wearer's zone and are the reader's to draw: two days more are kept on each side.
        """
        start = now.date().isoformat() if spec.days is not None else spec.start
        low = _moved(start, -2 - (spec.days or 0)) if start else ""
        high = _moved(spec.end, 3) if spec.end else "9999"
        asked = select(entry.c.doc).where(entry.c.logbook_id == logbook_id, entry.c.erased.is_(False))
        asked = asked.where(entry.c.kind.not_in(DATED) | entry.c.at.between(low, high))
        if spec.kinds is not None:
            asked = asked.where(entry.c.kind.in_({*spec.kinds, "profile"}))
        if not spec.notes and "note" not in (spec.kinds or ()):
            asked = asked.where(entry.c.kind != "note")
        with self.db.read() as connection:
            return list(connection.execute(asked).scalars())

    def _link(self, row: Row[Any], openings: list[Opening], at: str) -> Link:
        spec = _read(row.spec)
        state: Literal["open", "expired", "revoked", "locked"] = "open"
        if row.revoked_at:
            state = "revoked"
        elif row.expires <= at:
            state = "expired"
        elif row.tries >= TRIES:
            state = "locked"
        return Link(
            id=row.id, logbook_id=row.logbook_id, token=self.keys.token("link", row.id),
            code=self.keys.digits(row.id) if spec.code else None, spec=spec, made_at=row.made_at, expires=row.expires,
            revoked_at=row.revoked_at, tries_left=max(0, TRIES - row.tries), state=state, openings=openings,
        )  # fmt: skip


SHOWN = [column for column in link.c if column.name != "snapshot"]


def _moved(day: str, days: int) -> str:
    """A day so many days on, within the calendar."""
    moved = date.fromisoformat(day).toordinal() + days
    return date.fromordinal(min(max(moved, 1), date.max.toordinal())).isoformat()


def _written(spec: LinkSpec) -> str:
    return json.dumps(asdict(replace(spec, expires=timedelta(0))) | {"expires": spec.expires.total_seconds()})


def _read(text: str) -> LinkSpec:
    data = json.loads(text)
    kinds = None if data["kinds"] is None else tuple(data["kinds"])
    return LinkSpec(**(data | {"kinds": kinds, "expires": timedelta(seconds=data["expires"])}))


def said_for(label: str) -> str:
    """How a line of the audit list names a link."""
    return f" for {label}" if label else ""


def _forget_ended(connection: Connection, logbook_id: str, now: datetime) -> None:
    old = select(link.c.id).where(link.c.logbook_id == logbook_id, link.c.expires < iso(now - KEPT))
    for table in (link_session, link_opening):
        connection.execute(delete(table).where(table.c.link_id.in_(old)))
    connection.execute(delete(link).where(link.c.id.in_(old)))
