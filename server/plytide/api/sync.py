"""Push and pull in one call, and the summary that rides along."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Depends
from pydantic import Field, StringConstraints
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from plytide.api.answers import Refused, packed
from plytide.api.body import Form, read, takes
from plytide.api.parts import Parts, now, parts
from plytide.api.who import Paired, paired
from plytide.store import iso

SCHEMA = 1
BATCH = 500
PAGE = 1000
NO_SUMMARY = (-1, "")

router = APIRouter()

Word = Annotated[str, StringConstraints(pattern=r"^[0-9A-Za-z_-]{1,64}$")]


class SyncForm(Form):
    """What a phone sends. `entries` are looked at one by one later, so that a bad one costs only itself.

    `summary_seq` and `summary_made` say which summary the phone has (its `seq` and `now`): then only a newer one
    comes back, and the server takes a moment to make one that has the new entries in it. Without them the
    latest comes back at once, whatever it is.
    """

    version: Annotated[int, Field(alias="schema")]
    epoch: Word | None = None
    cursor: Annotated[int, Field(ge=0, lt=2**53)] = 0
    now: Annotated[str, StringConstraints(max_length=40)] | int | None = None
    entries: Annotated[list[Any], Field(default_factory=list)]
    summary_seq: Annotated[int, Field(ge=0, lt=2**53)] | None = None
    summary_made: Annotated[str, StringConstraints(max_length=40)] = ""


@router.post("/api/sync", openapi_extra=takes(SyncForm))
async def sync(request: Request, to: Annotated[Parts, Depends(parts)]) -> Response:
    """{schema, epoch, cursor, now, entries} -> {epoch, cursor, more, now, results, entries, summary}."""
    form = await read(request, SyncForm)
    return await run_in_threadpool(_sync, request, to, form)


def _sync(request: Request, to: Parts, form: SyncForm) -> Response:
    device = paired(request, to)
    if form.version != SCHEMA:
        raise Refused(426, "other_version", "This page and the server are of different versions. "
                      "Close the page and open it again; what it holds is safe.")  # fmt: skip
    if len(form.entries) > BATCH:
        raise Refused(413, "too_many", f"At most {BATCH} entries go into one request. Send them in smaller parts.")
    at = now()
    done = to.store.sync(
        device.logbook_id, form.epoch, form.cursor, form.entries, round(at.timestamp() * 1000), device.id, PAGE
    )
    if done.changed:
        to.worker.notice(device.logbook_id)
        if form.summary_seq is not None and not done.more:
            to.worker.wait(device.logbook_id, done.cursor, to.settings.summary_wait_ms / 1000)
    has = NO_SUMMARY if form.summary_seq is None else (form.summary_seq, form.summary_made)
    return packed(request, done.as_json(iso(at), to.store.newer_summary(device.logbook_id, *has)))


@router.get("/api/summary")
def summary(request: Request, device: Paired, to: Annotated[Parts, Depends(parts)]) -> Response:
    """The latest summary whole, or null before there is one."""
    return packed(request, to.store.summary_json(device.logbook_id) or "null")
