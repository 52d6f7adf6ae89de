"""`plytide serve` and `plytide worker`: the programs that keep running."""

from __future__ import annotations

from typing import Annotated

import typer

from plytide.cli.pair import first_code, invitation, leave_address
from plytide.cli.running import begin, listen, on_signal, run
from plytide.cli.say import Data, Json, Url, say, settings
from plytide.jobs import APART_S, Worker
from plytide.logs import log
from plytide.store import Store

Host = Annotated[str | None, typer.Option(metavar="H", help="Address to listen at.")]
Port = Annotated[str | None, typer.Option(metavar="N", help="Port to listen at; 0 picks a free one.")]
Public = Annotated[str | None, typer.Option(metavar="URL", help="Address that phones and clinics use.")]


def add_to(app: typer.Typer) -> None:
    """Add the commands."""
    app.command(help="Run the server.")(serve)
    app.command(help="Keep summaries fresh, beside servers with PLYTIDE_WORKER=no.")(worker)


def serve(
    host: Host = None, port: Port = None, data: Data = None, database_url: Url = None, public_url: Public = None,
    json: Json = False,
) -> None:  # fmt: skip
    """Serve until stopped. The first start makes a logbook and prints the code for its first phone."""
    asked = settings(host=host, port=port, data=data, database_url=database_url, public_url=public_url)
    begin(asked)
    with listen(asked) as (listening, asked), Store.open(asked.database, serving=True) as store:
        leave_address(asked)
        first = first_code(store, asked)
        told = {"url": asked.base_url, "code": first[0].code if first else None}
        prose = f"Plytide is at {asked.base_url}\n" + (f"\n{invitation(*first)}" if first else "")
        run(asked, store, listening, lambda: say(json, told, prose))


def worker(data: Data = None, database_url: Url = None) -> None:
    """Make summaries as entries come, until stopped."""
    asked = settings(data=data, database_url=database_url)
    begin(asked)
    with Store.open(asked.database) as store:
        loop = Worker(store, asked.summary_minutes, APART_S)
        on_signal(loop.end)
        log.info("event=worker_started")
        loop.run()
