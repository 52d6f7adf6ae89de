"""The command line. Each command prints prose, or with --json one JSON object; errors are one sentence on stderr.

Exit codes: 0 done, 1 it could not be done, 2 it was asked for in a way that makes no sense.
"""

from __future__ import annotations

import sys

import typer

from plytide.cli import copy, data, demo, pair, serve, summary
from plytide.config import SettingError
from plytide.store import StoreError

app = typer.Typer(
    help="A logbook for people who wear a leg prosthesis: the server and its tools.",
    no_args_is_help=True, add_completion=False, pretty_exceptions_enable=False, rich_markup_mode=None,
)  # fmt: skip
for module in (serve, demo, pair, summary, data, copy):
    module.add_to(app)


def main() -> None:
    """The `plytide` command."""
    try:
        app()
    except SettingError as error:
        _end(str(error), 2)
    except (StoreError, OSError) as error:
        _end(_in_words(error), 1)


def _in_words(error: Exception) -> str:
    if isinstance(error, OSError) and error.strerror:
        return f"{error.strerror}: {error.filename}" if error.filename else f"{error.strerror}."
    return str(error)


def _end(why: str, code: int) -> None:
    print(why, file=sys.stderr)
    sys.exit(code)
