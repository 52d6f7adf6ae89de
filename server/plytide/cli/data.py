"""`plytide export`, `import`, `backup`, `restore`, `erase`: the wearer's data, the operator's duties."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import asdict
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryFile
from typing import Annotated, BinaryIO, Literal

import typer

from plytide.cli.check import check, keyed
from plytide.cli.say import Data, Json, Url, Which, chosen, opened, say, settings, stop
from plytide.exchange import lines, table
from plytide.store import Store

File = Annotated[str, typer.Argument(metavar="FILE", help="A file; - for standard input or output.")]
Format = Annotated[Literal["jsonl", "csv"], typer.Option(help="jsonl is lossless; csv is for spreadsheets.")]
Yes = Annotated[bool, typer.Option("--yes", help="Do not ask.")]


def add_to(app: typer.Typer) -> None:
    """Add the commands."""
    app.command(help="Write a logbook to a file.")(export)
    app.command("import", help="Read entries from a file into a logbook.")(import_)
    app.command(help="Copy the database, whole and checked.")(backup)
    app.command(help="Put a backup in the database's place; phones send again what it lacks.")(restore)
    app.command(help="Erase a logbook for good.")(erase)
    app.command(help="See whether database and settings are sound.")(check)


def export(
    file: File = "-", format: Format = "jsonl", data: Data = None, logbook: Which = None, database_url: Url = None,
    json: Json = False,
) -> None:  # fmt: skip
    """Every version of every entry (jsonl), or what stands (csv)."""
    if json and file == "-":
        stop("With --json the entries need a file to go to.", 2)
    with opened(settings(data=data, database_url=database_url)) as store:
        logbook_id = chosen(store, logbook).id
        rows = table.dump(store.live(logbook_id)[0]) if format == "csv" else lines.dump(store.all_versions(logbook_id))
        if file == "-":
            _write(sys.stdout.buffer, rows)
            return
        part = Path(f"{file}.part")  # a file of the name that was asked for is whole, or not there
        with part.open("wb") as out:
            size = _write(out, rows)
        part.replace(file)
    say(json, {"file": file, "bytes": size}, f"Written to {file}: {size} bytes.")


def _write(out: BinaryIO, rows: Iterable[bytes]) -> int:
    size = sum(out.write(row) for row in rows)
    out.flush()
    return size


def import_(file: File, data: Data = None, logbook: Which = None, database_url: Url = None, json: Json = False) -> None:
    """The whole file or nothing of it; entries that are there already change nothing, so it may be repeated."""
    with opened(settings(data=data, database_url=database_url)) as store, _whole(file) as source:
        taken = lines.load(store, chosen(store, logbook).id, source, datetime.now(UTC), "The operator")
    for refusal in taken.refusals:
        typer.echo(f"Line {refusal['line']} was not taken: {refusal['why']}", err=True)
    told = f"{taken.taken} taken, {taken.known} there already, {taken.refused} not taken."
    say(json, asdict(taken), told)


@contextmanager
def _whole(file: str) -> Iterator[BinaryIO]:
    """The file to read; standard input is gathered first, for it may break off."""
    if file != "-":
        with Path(file).open("rb") as source:
            yield source
    else:
        with TemporaryFile() as gathered:
            shutil.copyfileobj(sys.stdin.buffer, gathered)
            gathered.seek(0)
            yield gathered


def backup(file: File, data: Data = None, database_url: Url = None, json: Json = False) -> None:
    """A copy that has been opened and checked before it gets its name, and the server's key beside it."""
    with opened(settings(data=data, database_url=database_url)) as store:
        made = store.backup(Path(file))
    told = f"Backed up to {file}: {made.entries} entries in {made.logbooks} logbooks. Keep {file}.key with it."
    say(json, asdict(made), told)


def restore(file: File, data: Data = None, database_url: Url = None, yes: Yes = False, json: Json = False) -> None:
    """The present database stays beside the restored one, as its name with .replaced at the end."""
    asked = settings(data=data, database_url=database_url)
    _sure(yes, f"Put {file} in the place of the present database?")
    put = Store.restore(asked.database, Path(file))
    with opened(asked) as store:
        notes = keyed(store)
    told = f"Restored: {put.entries} entries in {put.logbooks} logbooks. Phones send again what it lacks."
    say(json, {**asdict(put), "notes": notes}, "\n".join([told, *notes]))


def erase(
    data: Data = None, logbook: Which = None, database_url: Url = None, yes: Yes = False, json: Json = False
) -> None:
    """Entries, history, devices, links and summaries; what phones hold stays on them."""
    with opened(settings(data=data, database_url=database_url)) as store:
        row = chosen(store, logbook)
        name = row.name or row.id
        _sure(yes, f"Erase {name} with its {store.seq(row.id)} changes for good?")
        gone = store.erase_logbook(row.id)
    told = f"{name} is erased." if gone else f"{name} is erased; the file gives its room back at the next start."
    told += " Backups, and what a restore set aside (.replaced), are yours to delete."
    say(json, {"erased": name, "wiped": gone}, told)


def _sure(yes: bool, question: str) -> None:
    if not yes and not typer.confirm(question, default=False, err=True):
        stop("Nothing was changed.")
