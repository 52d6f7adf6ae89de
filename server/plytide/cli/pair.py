"""`plytide pair`: a code that lets one more phone in."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import UTC, datetime
from typing import Annotated

import segno
import typer

from plytide.cli.say import Data, Json, Url, Which, chosen, opened, say, settings
from plytide.config import Settings
from plytide.store import PairCode, Store

ADDRESS = "address"  # in the data folder: where phones reach the server that was last started there


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command(help="Print a pairing code and its QR.")(pair)


def pair(
    data: Data = None,
    new: Annotated[str | None, typer.Option("--new", metavar="NAME", help="Make a new logbook of that name.")] = None,
    logbook: Which = None,
    database_url: Url = None,
    public_url: Annotated[str | None, typer.Option(metavar="URL", help="Address that phones use.")] = None,
    json: Json = False,
) -> None:
    """One code, good for ten minutes and one device."""
    asked = settings(data=data, database_url=database_url, public_url=public_url)
    with opened(asked) as store:
        logbook_id = store.create_logbook(new) if new is not None else chosen(store, logbook).id
        code = store.new_pair_code(logbook_id, datetime.now(UTC))
    url = with_address(asked).pair_url(code.code)
    say(json, {"code": code.code, "expires": code.expires, "url": url}, invitation(code, url))


def first_code(store: Store, asked: Settings) -> tuple[PairCode, str] | None:
    """At a server's first start: a logbook, and the code for its first phone with its address; later None."""
    logbook_id = store.first_logbook()
    if logbook_id is None:
        return None
    code = store.new_pair_code(logbook_id, datetime.now(UTC))
    return code, asked.pair_url(code.code)


def invitation(code: PairCode, url: str) -> str:
    """The code for people: to type, and to scan."""
    picture = io.StringIO()
    segno.make(url, error="m").terminal(picture, border=2, compact=True)
    until = datetime.fromisoformat(code.expires).astimezone().strftime("%H:%M")
    return f"Pairing code  {code.code}   good once, until {until}\n{url}\n\n{picture.getvalue()}"


def leave_address(asked: Settings) -> None:
    """Note where phones reach this server, for `plytide pair` beside it."""
    if not asked.database_url:
        (asked.data / ADDRESS).write_text(asked.base_url + "\n", encoding="utf-8")


def with_address(asked: Settings) -> Settings:
    """Settings with the address of the running server, unless one was given."""
    noted = asked.data / ADDRESS
    if asked.public_url or asked.database_url or not noted.is_file():
        return asked
    return replace(asked, public_url=noted.read_text(encoding="utf-8").strip())
