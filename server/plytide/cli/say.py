"""What the commands share: their common options, the store they work on, and how they speak."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated, Any, NoReturn

import typer

from plytide import config
from plytide.config import Settings
from plytide.store import LogbookRow, Store

Data = Annotated[str | None, typer.Option("--data", metavar="DIR", help="Folder of the database and its backups.")]
Url = Annotated[str | None, typer.Option("--database-url", metavar="URL", help="PostgreSQL, or another SQLite file.")]
Json = Annotated[bool, typer.Option("--json", help="Print one JSON object.")]
Which = Annotated[str | None, typer.Option("--logbook", metavar="NAME", help="Which logbook, by name or id.")]


def settings(**options: str | None) -> Settings:
    """The settings that hold for this command."""
    return config.read(os.environ, **options)


@contextmanager
def opened(settings: Settings) -> Iterator[Store]:
    """The store beside a server that may be running. It has to be there: a slip in --data must not make a new one."""
    url = settings.database
    if url.startswith("sqlite:///") and not Path(url.removeprefix("sqlite:///")).exists():
        stop(f"There is no Plytide database at {url.removeprefix('sqlite:///')}. Name its folder with --data.")
    store = Store.open(url)
    try:
        yield store
    finally:
        store.close()


def chosen(store: Store, which: str | None) -> LogbookRow:
    """The logbook that is meant: the only one, or the one named."""
    rows = store.logbooks()
    found = [row for row in rows if which is None or which in (row.id, row.name)]
    if len(found) == 1:
        return found[0]
    if not rows:
        stop("There is no logbook yet. Make one with `plytide pair --new NAME`.")
    names = ", ".join(row.name or row.id for row in rows)
    stop(f"Say which logbook with --logbook, by name or id: {names}.")


def say(as_json: bool, data: dict[str, Any], prose: str) -> None:
    """The result of a command, one way or the other."""
    text = json.dumps(data, ensure_ascii=False) if as_json else prose
    sys.stdout.write(text.rstrip("\n") + "\n")
    sys.stdout.flush()


def stop(why: str, code: int = 1) -> NoReturn:
    """End with a sentence on stderr."""
    typer.echo(why, err=True)
    raise typer.Exit(code)
