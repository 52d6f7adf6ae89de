"""The wearer's data is the wearer's: out whole, in again, erased for good, and a list of what was done with it."""

from __future__ import annotations

from dataclasses import asdict
from typing import Annotated, Any

from fastapi import APIRouter, Depends
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

from plytide.api.answers import Refused, answer
from plytide.api.parts import Parts, now, parts
from plytide.api.who import Paired, cookie
from plytide.exchange import fhir, lines
from plytide.exchange.forms import FORMS, Leaving

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
    store.add_audit(logbook_id, "exported", f"{device.name or 'A device'} took the log out ({format}).", what.at)
    headers = {"content-disposition": f'attachment; filename="plytide-{what.at:%Y-%m-%d}-{form.file}"'}
    return StreamingResponse(form.write(what), media_type=form.kind, headers=headers)


@router.post("/api/import")
async def import_(request: Request, device: Paired, to: Server) -> Response:
    """JSON Lines as `export` writes them -> {taken, known, refused, refusals: [{line, code, why}]}."""

    async def put(batch: list[Any]) -> list[dict[str, Any]]:
        return await run_in_threadpool(lines.keep, to.store, device.logbook_id, batch, now(), device.id)

    taken = await lines.load(request.stream(), put)
    words = f"{device.name or 'A device'} brought in a file."
    await run_in_threadpool(to.store.add_audit, device.logbook_id, "imported", words, now())
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
