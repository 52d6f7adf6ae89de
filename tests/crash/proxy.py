"""A network that goes wrong, by seed: a proxy between phones and the server that spoils requests in known ways.

Faults, as a mobile network has them: refuse (no connection), cut_request (half of it arrives), cut_answer (the
server has done it, the phone never hears), stall (nothing for a while, then cut), drip (byte by byte), twice (the
request arrives twice), delay. `counts` says how often each happened, so that a test can see that they did.
"""

import asyncio
import threading
from collections import Counter
from random import Random

FAULTS = ("none", "refuse", "cut_request", "cut_answer", "stall", "drip", "twice", "delay")


class FaultyProxy:
    """Listens on a free port of 127.0.0.1 and forwards one HTTP request a connection to `target_port`."""

    def __init__(self, target_port: int, seed: int, share: float = 0.5) -> None:
        self.target_port = target_port
        self.port = 0
        self.counts: Counter[str] = Counter()
        self._rng = Random(seed)
        self._share = share
        self._loop = asyncio.new_event_loop()
        self._ready = threading.Event()
        self._thread = threading.Thread(target=self._run, daemon=True)

    def __enter__(self) -> "FaultyProxy":
        self._thread.start()
        self._ready.wait(10)
        return self

    def __exit__(self, *_: object) -> None:
        self._loop.call_soon_threadsafe(self._loop.stop)
        self._thread.join(10)

    def _run(self) -> None:
        asyncio.set_event_loop(self._loop)
        server = self._loop.run_until_complete(asyncio.start_server(self._serve, "127.0.0.1", 0))
        self.port = server.sockets[0].getsockname()[1]
        self._ready.set()
        self._loop.run_forever()
        server.close()
        for task in asyncio.all_tasks(self._loop):
            task.cancel()
        self._loop.run_until_complete(asyncio.sleep(0))
        self._loop.close()

    def _draw(self) -> str:
        fault = self._rng.choice(FAULTS[1:]) if self._rng.random() < self._share else "none"
        self.counts[fault] += 1
        return fault

    async def _serve(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        try:
            await self._one(reader, writer, self._draw())
        except (ConnectionError, asyncio.IncompleteReadError, TimeoutError, OSError):
            pass
        finally:
            writer.transport.abort()

    async def _one(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter, fault: str) -> None:
        if fault == "refuse":
            return
        request = await _whole_request(reader)
        if fault == "stall":
            await asyncio.sleep(0.3)
            return
        if fault == "delay":
            await asyncio.sleep(self._rng.random() * 0.2)
        if fault == "cut_request":
            await self._send(request[: len(request) // 2], wait=False)
            return
        answer = await self._send(request)
        if fault == "twice":
            answer = await self._send(request)
        if fault == "cut_answer":
            writer.write(answer[: self._rng.randrange(len(answer))])
        elif fault == "drip":
            for i in range(0, len(answer), 40):
                writer.write(answer[i : i + 40])
                await writer.drain()
                await asyncio.sleep(0.001)
        else:
            writer.write(answer)
        await writer.drain()
        writer.close()
        await writer.wait_closed()

    async def _send(self, request: bytes, wait: bool = True) -> bytes:
        reader, writer = await asyncio.open_connection("127.0.0.1", self.target_port)
        writer.write(request)
        await writer.drain()
        answer = await reader.read() if wait else b""
        writer.close()
        return answer


async def _whole_request(reader: asyncio.StreamReader) -> bytes:
    """One request, made to close its connection, so that the answer ends where the stream does."""
    head = await reader.readuntil(b"\r\n\r\n")
    lines = [line for line in head.split(b"\r\n") if not line.lower().startswith(b"connection:")]
    lengths = [int(line.split(b":")[1]) for line in lines if line.lower().startswith(b"content-length:")]
    body = await reader.readexactly(lengths[0]) if lengths else b""
    lines.insert(1, b"Connection: close")
    return b"\r\n".join(lines) + body
