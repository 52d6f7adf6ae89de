"""The wearer's data is the wearer's: out whole, in again, erased for good, and a list of what was done with it."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import asdict
from tempfile import TemporaryFile
from typing import Annotated

from fastapi import APIRouter, Depends
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

from plytide.api.answers import Refused, answer, full
from plytide.api.parts import Parts, now, parts
from plytide.api.who import Paired, cookie
from plytide.exchange import fhir, lines
from plytide.exchange.forms import FORMS, Leaving
from plytide.store import StoreBusy, StoreFull

router = APIRouter()
Server = Annotated[Parts, Depends(parts)]


@router.get("/api/export")
def export(device: Paired, to: Server, format: str = "jsonl") -> Response:
    """The log as a file: jsonl every version of every entry, lossless; csv what stands, one value a row; dictionary
    what the fields of the csv mean; fhir a bundle of FHIR R4, erased entries as entered in error."""
    if format not in FORMS:
        raise Refused(422, "bad_format", f"The format has to be one of: {', '.join(FORMS)}.")
    store, logbook_id, form = to.store, device.logbook_id, FORMS[format]
    entries = store.all_versions(logbook_id) if format == "jsonl" else store.standing(logbook_id)
    if format == "csv":
        entries = (entry for entry in entries if not entry.erased)
    told = list(store.standing(logbook_id, ("profile", "sock")))
    latest = max((e for e in told if e.kind == "profile" and not e.erased), key=lambda e: e.stamp, default=None)
    what = Leaving(entries, latest.body if latest else {}, fhir.plies(told), logbook_id, now())
    with suppress(StoreFull, StoreBusy):  # a disk that is full must not keep the wearer's data in
        store.add_audit(logbook_id, "exported", f"{device.name or 'A device'} took the log out ({format}).", what.at)
    headers = {"content-disposition": f'attachment; filename="plytide-{what.at:%Y-%m-%d}-{form.file}"'}
    return StreamingResponse(form.write(what), media_type=form.kind, headers=headers)


@router.post("/api/import")
async def import_(request: Request, device: Paired, to: Server) -> Response:
    """JSON Lines as `export` writes them -> {taken, known, refused, refusals: [{line, code, why}]}.

    The file is here whole before any of it is taken, so a connection that breaks brings in nothing.
    """
    with TemporaryFile() as file:
        try:
            async for piece in request.stream():
                await run_in_threadpool(file.write, piece)
            file.seek(0)
        except OSError:
            raise full() from None
        by = device.name or "A device"
        taken = await run_in_threadpool(lines.load, to.store, device.logbook_id, file, now(), by, device.id)
    to.worker.notice(device.logbook_id)
    return answer(asdict(taken))


@router.delete("/api/logbook")
def erase(device: Paired, to: Server, request: Request) -> Response:
    """Erase the logbook with everything that belongs to it: entries, history, devices, links, summaries."""
    to.store.erase_logbook(device.logbook_id)
    request.scope.pop("plytide.cookie", None)
    return answer({"erased": True}, headers={"set-cookie": cookie(to.settings, "", kept_s=0)})


@router.get("/api/audit")
def audit(device: Paired, to: Server) -> Response:
    """What was done with this logbook, in words, latest first -> {lines: [{at, code, words}]}."""
    return answer({"lines": [asdict(line) for line in to.store.audit(device.logbook_id)]})
