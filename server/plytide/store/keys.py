"""Secrets: what is drawn at random, what is worked out from the server's own key, and how each is kept.

Tokens of devices are random and kept as SHA-256. Tokens and codes of links are worked out from the server's key and
the link's id: they are kept nowhere, yet the wearer can be shown them again. Pairing codes are kept as HMAC: they are
too short for a bare hash. The key lies beside the SQLite file; a stolen copy of the database alone opens nothing, and
a database without its key has links that nobody can open. So a backup has the key beside it too.
"""

from __future__ import annotations

import base64
import hashlib
import hmac
import os
import secrets
from contextlib import suppress
from pathlib import Path

from sqlalchemy import Connection, delete, select
from sqlalchemy.exc import IntegrityError

from plytide.store.database import Database
from plytide.store.shapes import StoreError
from plytide.store.tables import meta

KEY_BYTES = 32
ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"  # Crockford's base 32: no I, L, O, U
READ_AS = str.maketrans({"I": "1", "L": "1", "O": "0"})
CODE_LENGTH = 8
MEANT = 4  # letters of a pairing code that say which code is meant; the others open it
MEANT_HEX = 16  # as many characters of its hash tell the same


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
        """A pairing code as it is kept: which one is meant, then whether it is right. `code` is in plain form."""
        return self.derive("pair code meant", code[:MEANT]).hex()[:MEANT_HEX] + self.derive("pair code", code).hex()


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
    """What rests on the server's key."""
    return Keys(key_of(database))


def key_of(database: Database) -> bytes:
    """The server's key, made at the first start: a file beside a SQLite file, a row in PostgreSQL."""
    return _from_row(database) if database.file is None else _from_file(database.file)


def put_key(database: Database, connection: Connection, key: bytes) -> None:
    """Give a database another server's key in place of its own, in a transaction of the caller's."""
    if database.file is not None:
        write_key(key_file(database.file), key, replace=True)
        return
    connection.execute(delete(meta).where(meta.c.name == "key"))
    connection.execute(meta.insert().values(name="key", value=key.hex()))


def key_file(database: Path) -> Path:
    """Where the key of a SQLite file, or of a backup of it, lies."""
    return database.with_name(database.name + ".key")


def read_key(file: Path) -> bytes:
    """The key in a file, or `StoreError` where there is none in it."""
    key = file.read_bytes()
    if len(key) != KEY_BYTES:
        raise StoreError(f"{file} is not a key of Plytide. Put back the right file, or move it away to make a new one.")
    return key


def write_key(file: Path, key: bytes, *, replace: bool) -> None:
    """Put a key into a file that its owner alone can read: whole or not at all. `replace`: over one that is there."""
    fresh = file.with_name(f"{file.name}.{os.getpid()}.{secrets.token_hex(4)}")
    descriptor = os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    try:
        with os.fdopen(descriptor, "wb") as out:
            out.write(key)
            out.flush()
            os.fsync(out.fileno())
        if replace:
            fresh.replace(file)
        else:
            file.hardlink_to(fresh)
    finally:
        fresh.unlink(missing_ok=True)


def _from_file(database: Path) -> bytes:
    file = key_file(database)
    if not file.exists():
        with suppress(FileExistsError):  # another process was first: its key stands
            write_key(file, secrets.token_bytes(KEY_BYTES), replace=False)
    return read_key(file)


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
