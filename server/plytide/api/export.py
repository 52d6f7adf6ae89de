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
from plytide.exchange import lines, table

router = APIRouter()
Server = Annotated[Parts, Depends(parts)]


@router.get("/api/export")
def export(device: Paired, to: Server, format: str = "jsonl") -> Response:
    """format=jsonl: every version of every entry, lossless. format=csv: what stands, one value a row."""
    logbook_id = device.logbook_id
    name = f"plytide-{now():%Y-%m-%d}.{format}"
    if format == "jsonl":
        stream, kind = lines.dump(to.store.all_versions(logbook_id)), "application/jsonl"
    elif format == "csv":
        stream, kind = table.dump(to.store.live(logbook_id)[0]), "text/csv; charset=utf-8"
    else:
        raise Refused(422, "bad_format", "The format has to be jsonl or csv.")
    return StreamingResponse(stream, media_type=kind, headers={"content-disposition": f'attachment; filename="{name}"'})


@router.post("/api/import")
async def import_(request: Request, device: Paired, to: Server) -> Response:
    """JSON Lines as `export` writes them -> {taken, known, refused, refusals: [{line, code, why}]}."""

    async def put(batch: list[Any]) -> list[dict[str, Any]]:
        return await run_in_threadpool(lines.keep, to.store, device.logbook_id, batch, now(), device.id)

    taken = await lines.load(request.stream(), put)
    to.worker.notice()
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
