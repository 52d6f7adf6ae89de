"""Paired devices: known by a token that is renewed every month, and shut out when it is asked or when one is stolen."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

from sqlalchemy import Connection, Row, select, update

from plytide.store import keys
from plytide.store.audit import note
from plytide.store.part import Part
from plytide.store.rows import device_of
from plytide.store.shapes import Device, iso
from plytide.store.tables import device

ROTATE = timedelta(days=30)
OVERTAKEN = timedelta(minutes=1)  # requests sent just before the new token was first used may still be on the way
SEEN_EVERY = timedelta(hours=1)


class Devices(Part):
    """Who is asking, and who may no longer."""

    def device_by_token(self, token: str, now: datetime) -> Device | None:
        """The device of a token, or None where it is unknown or shut out.

        `new_token` is set when the device is to take another one. The old one stays good until that one is first
        seen, for an answer may be lost; and the new one is worked out, not drawn, so that requests that run side by
        side are all told the same. An old token that comes back later was copied: the device is shut out.
        """
        hashed = keys.hash_token(token)
        with self.db.read() as connection:
            row = device_of(connection, hashed)
        if row is None:
            return None
        if hashed == row.token_hash and not _due(row, now) and row.seen_at > iso(now - SEEN_EVERY):
            return _device(row)
        with self.db.write() as connection:
            row = device_of(connection, hashed, lock=True)
            return None if row is None else self._step(connection, row, hashed, now)

    def _step(self, connection: Connection, row: Row[Any], hashed: str, now: datetime) -> Device | None:
        """What a token that comes in changes: nothing much, a renewal begun, a renewal done, or a device shut out."""
        at, new = iso(now), None
        change: dict[str, Any] = {"seen_at": at}
        if hashed == row.next_hash:
            change |= {"token_hash": hashed, "next_hash": None, "rotated_at": at, "old_hash": row.token_hash,
                       "old_until": iso(now + OVERTAKEN)}  # fmt: skip
        elif hashed == row.old_hash and at > row.old_until:
            change = {"revoked_at": at}
            words = f"{row.name or 'A device'} was shut out: a key it had given up came back, as a copied one would."
            note(connection, row.logbook_id, "key_reused", words, now)
        elif hashed == row.token_hash and _due(row, now):
            new = keys.text_of(self.keys.derive("device token", f"{row.id} {row.token_hash}"))
            change["next_hash"] = keys.hash_token(new)
        connection.execute(update(device).where(device.c.id == row.id).values(change))
        return None if "revoked_at" in change else _device(row, new)

    def devices(self, logbook_id: str) -> list[Device]:
        """Every device that was ever paired, oldest first; `revoked_at` tells which are shut out."""
        asked = select(device).where(device.c.logbook_id == logbook_id).order_by(device.c.made_at, device.c.id)
        with self.db.read() as connection:
            return [_device(row) for row in connection.execute(asked)]

    def revoke_device(self, logbook_id: str, device_id: str, now: datetime | None = None) -> bool:
        """Shut a device out; False where it is not this logbook's or is shut out already."""
        now = now or datetime.now(UTC)
        theirs = (device.c.id == device_id) & (device.c.logbook_id == logbook_id) & device.c.revoked_at.is_(None)
        with self.db.write() as connection:
            shut = update(device).where(theirs).values(revoked_at=iso(now)).returning(device.c.name)
            row = connection.execute(shut).first()
            if row is not None:
                note(connection, logbook_id, "unpaired", f"{row.name or 'A device'} was removed.", now)
        return row is not None


def _due(row: Row[Any], now: datetime) -> bool:
    return bool(row.rotated_at <= iso(now - ROTATE))


def _device(row: Row[Any], new_token: str | None = None) -> Device:
    return Device(row.id, row.logbook_id, row.name, row.made_at, row.seen_at, row.revoked_at, new_token)
