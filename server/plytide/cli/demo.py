"""`plytide demo`: an invented wearer's log in a temporary folder, to look round in."""

from __future__ import annotations

import tempfile
from datetime import UTC, datetime, timedelta

import typer

from plytide.cli.running import begin, listen, run
from plytide.cli.say import Json, say, settings
from plytide.cli.serve import Port
from plytide.config import Settings
from plytide.demo import scenario, zone_here
from plytide.exchange.lines import keep
from plytide.jobs import recompute
from plytide.store import LinkSpec, Store

WEARER, CLINIC = "Maren Oddly", "Tern Street Limb Clinic"
LINK_DAYS = 90
PROSE = """\
{wearer} is invented, and so is everything in the log.

  The wearer's page  {page}
                     pairs this browser, once, within ten minutes
  The clinic's link  {link}
  and its code       {code}

Ctrl-C ends the demo and removes its data.
"""


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command(help="Run a server with an invented wearer's log, to look round.")(demo)


def demo(port: Port = None, json: Json = False) -> None:
    """Serve the demo until stopped; nothing of it stays."""
    with tempfile.TemporaryDirectory(prefix="plytide-demo-") as folder:
        asked = settings(
            port=port or "0", data=folder, host="127.0.0.1", database_url="", public_url="", log_level="warning"
        )  # fmt: skip
        begin(asked)
        with listen(asked) as (listening, asked), Store.open(asked.database, serving=True) as store:
            told = fill(store, asked, datetime.now(UTC))
            prose = PROSE.format(wearer=WEARER, page=told["wearer"], link=told["clinic"], code=told["clinic_code"])
            run(asked, store, listening, lambda: say(json, told, prose))


def fill(store: Store, asked: Settings, now: datetime) -> dict[str, str]:
    """Put the log into a new logbook, read it, and make a code for the wearer's phone and a link for the clinic."""
    logbook_id = store.create_logbook(WEARER)
    keep(store, logbook_id, scenario(now, zone_here()), now)
    recompute(store, logbook_id, now)
    spec = LinkSpec(days=LINK_DAYS, label=CLINIC, live=True, expires=timedelta(days=7))
    link = store.make_link(logbook_id, spec, now)
    code = store.new_pair_code(logbook_id, now).code
    return {
        "wearer": asked.pair_url(code), "code": code,
        "clinic": f"{asked.base_url}/s/{link.token}", "clinic_code": link.code or "",
    }  # fmt: skip
