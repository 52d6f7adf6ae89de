"""`plytide check`: whether the database is sound, and what else an operator should know of this server."""

from __future__ import annotations

import os
import ssl
from dataclasses import asdict
from datetime import UTC, datetime

from plytide import __version__, config
from plytide.cli.say import Data, Json, Url, opened, say, settings
from plytide.config import Settings
from plytide.store import Store


def check(data: Data = None, database_url: Url = None, json: Json = False) -> None:
    """Every page of the database, what it holds, its form, and the settings."""
    asked = settings(data=data, database_url=database_url)
    with opened(asked) as store:
        found, form, behind = store.check(), store.form(), len(store.dirty())
        notes = [*config.unknown(os.environ), *in_front(asked), *reached(asked), *keyed(store), *on_disk(store)]
    told = [
        f"The database is sound: {found.entries} entries and {found.versions} earlier versions in "
        f"{found.logbooks} logbooks, in form {form}.",
        f"Phones and clinics use {asked.base_url}.",
        *notes,
    ]
    if behind:
        told.append(f"{behind} summaries are behind; a running server or worker makes them.")
    facts = {"ok": True, **asdict(found), "form": form, "behind": behind, "url": asked.base_url, "notes": notes}
    say(json, facts, "\n".join(told))


def in_front(asked: Settings) -> list[str]:
    """A sentence where phones would come without https, or through a proxy that this server does not know of."""
    if asked.in_the_open:
        return ["Phones reach this server without https: what they send can be read on the way, and their browsers do "
                "not keep the page for when they are offline. Put a proxy with a certificate in front."]  # fmt: skip
    if asked.secure and not asked.proxy:
        return ["PLYTIDE_PROXY is empty, so all phones and clinics count as one address: a stranger who guesses codes "
                "keeps everybody else from typing theirs. Set it to the proxy's address."]  # fmt: skip
    return []


def reached(asked: Settings) -> list[str]:
    """A sentence where the address that phones use does not lead to this server, asked as a phone would ask it."""
    if not asked.public_url:
        return []
    import httpx  # here alone: every other command starts sooner without it

    try:
        # By the certificates that this machine trusts: an operator's own authority is among them.
        found = httpx.get(f"{asked.public_url}/healthz", timeout=5, verify=ssl.create_default_context()).json()
        working, version = found["ok"], found["version"]
    except httpx.HTTPError as error:
        return [f"Nothing answers at {asked.public_url} ({error}), so phones do not reach this server. See that it "
                "runs, and that the proxy leads to it."]  # fmt: skip
    except (ValueError, LookupError, TypeError):
        return [f"What answers at {asked.public_url} is not Plytide. See where the proxy leads."]
    if not working:
        return [f"The server at {asked.public_url} says that it cannot work: its database is {found.get('database')}."]
    if version != __version__:
        return [f"The server at {asked.public_url} runs version {version}, and this is {__version__}. Restart it."]
    return []


def keyed(store: Store) -> list[str]:
    """A sentence where the server's key is not the one that the database was used with."""
    lost = store.addresses_lost(datetime.now(UTC))
    if not lost:
        return []
    return [f"{lost} clinic links or calendars were made with another key and do not open as they are shown. Put back "
            "the .key file that lay beside the database, or stop them on the phone and make new ones."]  # fmt: skip


def on_disk(store: Store) -> list[str]:
    """A sentence where the disk is nearly full, and for each file of the database that other users can read."""
    full = ["The disk is nearly full: entries will be refused soon. Make room."] if store.short_of_room() else []
    return full + [f"Others on this machine can read {file}; chmod 600 closes it." for file in store.read_by_others()]
