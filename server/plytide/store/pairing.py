"""Pairing codes: a one-time code, typed or scanned, makes a device.

The first half of a code says which one is meant, the second opens it. A wrong second half counts against that one
code; five, and it is locked. Whoever does not know a first half has 2^40 codes to guess among, as many a minute as the
limit of an address lets through, and cannot lock anybody out.
"""

from __future__ import annotations

import uuid
from datetime import datetime, timedelta

from sqlalchemy import ColumnElement, Connection, delete, select, update

from plytide.store import keys
from plytide.store.audit import note
from plytide.store.part import Part
from plytide.store.shapes import NoLogbook, PairCode, PairingRefused, iso
from plytide.store.tables import device, logbook, pair_code

LASTS = timedelta(minutes=10)
TRIES = 5
KEPT = timedelta(days=1)  # so that a code that is tried too late is told from a wrong one


class Pairing(Part):
    """Codes, and the devices that they let in."""

    def new_pair_code(self, logbook_id: str, now: datetime) -> PairCode:
        """A code for one more device, good for ten minutes and once."""
        code, expires = keys.new_code(), iso(now + LASTS)
        row = {"code_hash": self._hash(code), "logbook_id": logbook_id, "expires": expires, "tries": 0}
        with self.db.write() as connection:
            if connection.execute(select(logbook.c.id).where(logbook.c.id == logbook_id)).first() is None:
                raise NoLogbook("There is no such logbook.")
            connection.execute(delete(pair_code).where(pair_code.c.expires < iso(now - KEPT)))
            connection.execute(pair_code.insert().values(row))
        return PairCode(code, expires)

    def use_pair_code(self, code: str, device_name: str, now: datetime) -> tuple[str, str]:
        """The logbook's id and the new device's token, or `PairingRefused`.

        A try is counted before it is compared, in one transaction: many at once are counted one by one, and none is
        answered before its count is kept.
        """
        at, hashed = iso(now), self._hash(code)
        meant = pair_code.c.code_hash.startswith(hashed[: keys.MEANT_HEX])
        with self.db.write() as connection:
            count = update(pair_code).where(meant, _good(at), pair_code.c.tries < TRIES)
            counted = connection.execute(count.values(tries=pair_code.c.tries + 1).returning(pair_code.c.code_hash))
            reserved = set(counted.scalars())
            known = connection.execute(select(pair_code).where(meant)).all()
            found = next((row for row in known if row.code_hash == hashed), None)
            if found is not None and hashed in reserved:
                used = update(pair_code).where(pair_code.c.code_hash == hashed)
                connection.execute(used.values(used_at=at))
                return found.logbook_id, _new_device(connection, found.logbook_id, device_name, now)
        if found is not None:
            raise PairingRefused("used" if found.used_at else "expired" if found.expires <= at else "locked", 0)
        standing = [row.tries for row in known if row.used_at is None and row.expires > at]
        raise PairingRefused("wrong", TRIES - max(standing, default=0))

    def _hash(self, code: str) -> str:
        return self.keys.code_hash(keys.plain_code(code))


def _good(at: str) -> ColumnElement[bool]:
    """Codes that are neither used nor too old."""
    return pair_code.c.used_at.is_(None) & (pair_code.c.expires > at)


def _new_device(connection: Connection, logbook_id: str, name: str, now: datetime) -> str:
    token, at = keys.new_token(), iso(now)
    row = {"id": str(uuid.uuid4()), "logbook_id": logbook_id, "name": name, "made_at": at, "seen_at": at,
           "token_hash": keys.hash_token(token), "rotated_at": at}  # fmt: skip
    connection.execute(device.insert().values(row))
    note(connection, logbook_id, "paired", f"{name or 'A device'} was paired.", now)
    return token
