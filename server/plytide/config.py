"""Settings: one table of name, default, meaning and the way its text is read.

Each comes from its default, then from PLYTIDE_<NAME>, then from an option of the command line; the last one wins.
A value that does not read is refused with a sentence: a server that guesses is worse than one that does not start.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, fields
from pathlib import Path
from typing import Any, TypeVar
from urllib.parse import urlsplit

T = TypeVar("T")
PREFIX = "PLYTIDE_"


class SettingError(ValueError):
    """A setting that cannot be read; the message names it and says what it takes."""


def whole(low: int, high: int) -> Callable[[str], int]:
    """A whole number from `low` to `high`."""

    def parse(text: str) -> int:
        if not re.fullmatch(r"[0-9]{1,12}", text.strip()) or not low <= int(text) <= high:
            raise SettingError(f"takes a whole number from {low} to {high}")
        return int(text)

    return parse


def yes_no(text: str) -> bool:
    """yes or no."""
    try:
        return {"yes": True, "true": True, "1": True, "no": False, "false": False, "0": False}[text.strip().lower()]
    except KeyError:
        raise SettingError("takes yes or no") from None


def folder(text: str) -> Path:
    """A folder; ~ is the home folder."""
    if not text.strip():
        raise SettingError("takes the name of a folder")
    return Path(text).expanduser()


def one_of(*words: str) -> Callable[[str], str]:
    """One of the given words."""

    def parse(text: str) -> str:
        if text.strip().lower() not in words:
            raise SettingError(f"takes one of: {', '.join(words)}")
        return text.strip().lower()

    return parse


def address(text: str) -> str:
    """A name or address to listen at, or the address of a proxy."""
    if not re.fullmatch(r"[A-Za-z0-9.:_-]{1,255}", text.strip()):
        raise SettingError("takes a name or an address, such as 127.0.0.1")
    return text.strip()


def origin(text: str) -> str:
    """http(s)://name[:port], without a path; links and the check of where a request came from rest on it."""
    text = text.strip().rstrip("/")
    try:
        parts = urlsplit(text)
        good = parts.scheme in ("http", "https") and parts.hostname and (parts.port or 1) > 0
    except ValueError:
        good = False
    if not good or text.lower() != f"{parts.scheme}://{parts.netloc}".lower() or "@" in text:
        raise SettingError("takes an address such as https://leg.example.org, without a path")
    return text.lower()


def database(text: str) -> str:
    """A SQLite file or a PostgreSQL database. The text is never repeated in an error: it may hold a password."""
    text = re.sub(r"^postgres(ql)?://", "postgresql+psycopg://", text.strip())
    if not text.startswith(("sqlite:///", "postgresql+psycopg://")):
        raise SettingError("takes sqlite:///FILE or postgresql://USER@HOST/NAME")
    return text


LEVELS = one_of("debug", "info", "warning", "error")


def setting(default: T, parse: Callable[[str], T], help: str) -> T:
    """One row of the table."""
    made: T = field(default=default, metadata={"parse": parse, "help": help})
    return made


@dataclass(frozen=True, slots=True)
class Settings:
    """The table. `rows()` lists it."""

    # ruff: noqa: RUF009 - `setting` is dataclasses.field with the table's other columns

    data: Path = setting(Path("plytide-data"), folder, "folder of the database and its backups")
    database_url: str = setting("", database, "the database; empty: SQLite in the data folder")
    host: str = setting("127.0.0.1", address, "address to listen at; 0.0.0.0 for all of this machine's")
    port: int = setting(8000, whole(0, 65535), "port to listen at; 0 picks a free one")
    public_url: str = setting("", origin, "address that phones and clinics use; empty: http://localhost and the port")
    proxy: str = setting("", address, "address of the one proxy whose forwarded headers are believed; empty: none")
    worker: bool = setting(True, yes_no, "recompute summaries inside the server; no: a `plytide worker` does it")
    summary_wait_ms: int = setting(150, whole(0, 5000), "how long a sync that asks for it waits for a new summary")
    summary_minutes: int = setting(10, whole(0, 1440), "age at which a summary is made anew, as time moves; 0: never")
    body_bytes: int = setting(1024 * 1024, whole(1024, 64 * 1024 * 1024), "largest body of a request, in bytes")
    import_bytes: int = setting(256 * 1024 * 1024, whole(1024, 4 * 1024**3), "largest file to import, in bytes")
    device_rate: int = setting(1200, whole(0, 10**6), "requests a minute from one device; 0: no limit")
    address_rate: int = setting(6000, whole(0, 10**6), "requests a minute from one IPv4 or IPv6 /64; 0: no limit")
    guess_rate: int = setting(20, whole(0, 10**6), "codes a minute typed from one IPv4 or IPv6 /64; 0: no limit")
    log_level: str = setting("info", LEVELS, "least urgent log lines that are written")

    @property
    def database(self) -> str:
        """The database's URL, with the default filled in."""
        return self.database_url or f"sqlite:///{self.data.expanduser() / 'plytide.db'}"

    @property
    def base_url(self) -> str:
        """What every absolute link starts with; never taken from a request."""
        return self.public_url or f"http://localhost:{self.port}"

    @property
    def secure(self) -> bool:
        """Whether phones reach this server over https."""
        return self.base_url.startswith("https://")

    @property
    def in_the_open(self) -> bool:
        """Whether phones would reach this server from other machines without https."""
        own = ("localhost", "127.0.0.1", "::1")
        return not self.secure and (urlsplit(self.base_url).hostname not in own or self.host not in own)

    def pair_url(self, code: str) -> str:
        """The page at its pairing screen. The code stands after the #, so that it reaches no server's log."""
        return f"{self.base_url}/#/pair/{code}"


@dataclass(frozen=True, slots=True)
class Row:
    """One setting as it is documented and read."""

    name: str
    variable: str
    default: Any
    help: str
    parse: Callable[[str], Any]


def rows() -> list[Row]:
    """The table of settings, in order."""
    return [
        Row(f.name, PREFIX + f.name.upper(), f.default, f.metadata["help"], f.metadata["parse"])
        for f in fields(Settings)
    ]


def read(environ: Mapping[str, str], **options: str | None) -> Settings:
    """Settings from the environment and the command line's options (None: not given), or a `SettingError`."""
    values: dict[str, Any] = {}
    for row in rows():
        option = options.get(row.name)
        text = option if option is not None else environ.get(row.variable)
        if text is None or (text == "" and row.default == ""):
            continue
        try:
            values[row.name] = row.parse(text)
        except SettingError as error:
            asked = f"--{row.name.replace('_', '-')}" if option is not None else row.variable
            raise SettingError(f"{asked} {error}.") from None
    return Settings(**values)


def unknown(environ: Mapping[str, str]) -> list[str]:
    """A sentence for each PLYTIDE_ variable that no row reads: most often a slip of the keyboard."""
    known = [row.variable for row in rows()]
    said = []
    for name in sorted(environ):
        if name.startswith(PREFIX) and name not in known:
            near = difflib.get_close_matches(name, known, n=1)
            said.append(f"{name} is not a setting and is not read" + (f"; {near[0]} is." if near else "."))
    return said
