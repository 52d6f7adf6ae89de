"""Secrets: what is drawn at random, what is worked out from the server's own key, and how each is kept.

Tokens of devices are random and kept as SHA-256. Tokens and codes of links are worked out from the server's key and
the link's id: they are kept nowhere, yet the wearer can be shown them again. Pairing codes are kept as HMAC: they are
too short for a bare hash. The key lies beside the SQLite file; a stolen copy of the database alone opens nothing.
"""

from __future__ import annotations

import base64
import hashlib
import hmac
import os
import secrets
from pathlib import Path

from sqlalchemy import select
from sqlalchemy.exc import IntegrityError

from plytide.store.database import Database
from plytide.store.shapes import StoreError
from plytide.store.tables import meta

KEY_BYTES = 32
ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"  # Crockford's base 32: no I, L, O, U
READ_AS = str.maketrans({"I": "1", "L": "1", "O": "0"})
CODE_LENGTH = 8


class Keys:
    """Everything that rests on the server's key."""

    def __init__(self, key: bytes) -> None:
        self._key = key

    def derive(self, purpose: str, of: str, size: int = 32) -> bytes:
        """Bytes that only this server can work out, for one purpose and one thing."""
        return hmac.new(self._key, f"plytide {purpose} {of}".encode(), hashlib.sha256).digest()[:size]

    def token(self, purpose: str, of: str) -> str:
        """A secret for an address: 128 bits as 22 characters."""
        return text_of(self.derive(purpose, of, 16))

    def digits(self, of: str) -> str:
        """The six-digit code of a link."""
        return f"{int.from_bytes(self.derive('link code', of)) % 1_000_000:06d}"

    def code_hash(self, code: str) -> str:
        """A pairing code as it is kept. `code` is in its plain form (see `plain_code`)."""
        return self.derive("pair code", code).hex()


def text_of(secret: bytes) -> str:
    """Bytes as letters, digits, - and _."""
    return base64.urlsafe_b64encode(secret).decode().rstrip("=")


def new_token() -> str:
    """256 random bits for a cookie."""
    return secrets.token_urlsafe(32)


def hash_token(token: str) -> str:
    """A long random token as it is kept."""
    return hashlib.sha256(token.encode("utf-8", "replace")).hexdigest()


def same(one: str, other: str) -> bool:
    """Whether two secrets are equal, in a time that does not tell where they differ."""
    return hmac.compare_digest(one.encode("utf-8", "replace"), other.encode("utf-8", "replace"))


def new_code() -> str:
    """A pairing code as it is shown, such as K7QM-4XTD: 40 random bits."""
    code = "".join(secrets.choice(ALPHABET) for _ in range(CODE_LENGTH))
    return f"{code[:4]}-{code[4:]}"


def plain_code(typed: str) -> str:
    """What someone typed, in plain form: capitals, I and L read as 1, O as 0, spaces and dashes left out."""
    letters = [c for c in typed.upper() if c.isalnum()][: CODE_LENGTH + 1]
    return "".join(letters).translate(READ_AS)


def load_keys(database: Database) -> Keys:
    """The server's key, made at the first start: a file beside a SQLite file, a row in PostgreSQL."""
    return Keys(_from_row(database) if database.file is None else _from_file(database.file))


def _from_file(database: Path) -> bytes:
    file = database.with_name(database.name + ".key")
    if not file.exists():
        fresh = file.with_name(f"{file.name}.{os.getpid()}.{secrets.token_hex(4)}")
        descriptor = os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(descriptor, "wb") as out:
            out.write(secrets.token_bytes(KEY_BYTES))
            out.flush()
            os.fsync(out.fileno())
        try:
            file.hardlink_to(fresh)  # whole or not at all, and the first one stands
        except FileExistsError:
            pass
        finally:
            fresh.unlink()
    key = file.read_bytes()
    if len(key) != KEY_BYTES:
        raise StoreError(f"{file} is not a key of Plytide. Put back the right file, or move it away to make a new one.")
    return key


def _from_row(database: Database) -> bytes:
    asked = select(meta.c.value).where(meta.c.name == "key")
    with database.read() as connection:
        found = connection.execute(asked).scalar()
    if found is None:
        try:
            with database.write() as connection:
                connection.execute(meta.insert().values(name="key", value=secrets.token_hex(KEY_BYTES)))
        except IntegrityError:
            pass  # another process was first
        with database.read() as connection:
            found = connection.execute(asked).scalar_one()
    return bytes.fromhex(found)
