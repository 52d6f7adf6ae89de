"""A server that answers what it was given: FOLDER/NAME at /NAME, listening at PORT. Started by limits.py."""

from __future__ import annotations

import socket
import sys
from pathlib import Path

import uvicorn
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

ANSWERS = {file.name: file.read_bytes() for file in Path(sys.argv[1]).iterdir()}


async def answer(request: Request) -> Response:
    await request.json()
    return Response(ANSWERS[request.path_params["name"]], media_type="application/json")


if __name__ == "__main__":
    app = Starlette(routes=[Route("/{name}", answer, methods=["POST"])])
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP) as listening:
        listening.bind(("127.0.0.1", int(sys.argv[2])))
        listening.listen(512)
        print("up", flush=True)
        uvicorn.Server(uvicorn.Config(app, lifespan="off", log_level="error")).run(sockets=[listening])
