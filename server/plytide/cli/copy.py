"""`plytide copy`: from one database to another."""

from __future__ import annotations

from dataclasses import asdict
from typing import Annotated

import typer

from plytide import config
from plytide.cli.say import Json, say
from plytide.store import Store

From = Annotated[str, typer.Argument(metavar="FROM_URL", help="The database there is: sqlite:///FILE or postgresql://…")]
To = Annotated[str, typer.Argument(metavar="TO_URL", help="An empty one, which becomes the same.")]


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command(help="Copy a whole database into an empty one, from SQLite to PostgreSQL or back.")(copy)


def copy(source: From, target: To, json: Json = False) -> None:
    """Servers and workers are stopped meanwhile; afterwards they are started with the new address."""
    tables = Store.copy(_address("FROM_URL", source), _address("TO_URL", target))
    told = [f"{each.table:<13}{each.rows:>10} rows   {each.hash[:16]}" for each in tables]
    told.append("The same count and hash on both sides, table by table. Start the servers with the new address; "
                "phones go on as before. The old database is still there.")  # fmt: skip
    say(json, {"tables": [asdict(each) for each in tables]}, "\n".join(told))


def _address(name: str, text: str) -> str:
    try:
        return config.database(text)
    except config.SettingError as error:
        raise config.SettingError(f"{name} {error}.") from None
