"""pouchdb-server over LevelDB, used by PouchDB: it replicates to the server and from it, and puts single entries."""

from __future__ import annotations

import json
import subprocess
import tempfile
from pathlib import Path
from typing import Any

from peers import install
from peers.kinto import _wait
from peers.work import BATCH, PAGE, Entries, Peer
from serving import free_port

CLIENT = Path(__file__).with_name("pouch.cjs")


class Pouch(Peer):
    name = "pouchdb-server 4.2, LevelDB"
    durable = "a killed process only: its LevelDB does not sync writes, so a power cut loses the last of them"

    def __enter__(self) -> Pouch:
        self.modules = install.pouchdb() / "node_modules"
        self.folder = tempfile.TemporaryDirectory(prefix="plytide-peers-")
        self.port = free_port()
        program = self.modules / "pouchdb-server" / "bin" / "pouchdb-server"
        self.process = subprocess.Popen(
            [install.node(), program, "--port", str(self.port), "--dir", self.folder.name, "--no-stdout-logs"],
            cwd=self.folder.name, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        _wait(f"http://127.0.0.1:{self.port}/")
        return self

    def __exit__(self, *_: object) -> None:
        self.process.terminate()
        self.process.wait(20)
        self.folder.cleanup()

    def push(self, work: list[Entries]) -> float:
        return float(self._run("push", [e for batch in work for e in batch], BATCH)["seconds"])

    def pull(self) -> tuple[float, int]:
        told = self._run("pull", [], PAGE)
        return told["seconds"], told["got"]

    def one_by_one(self, work: list[Entries]) -> list[float]:
        taken: list[float] = self._run("one", work, 1)["taken"]
        return taken

    def _run(self, what: str, work: object, size: int) -> dict[str, Any]:
        asked = {"modules": str(self.modules), "url": f"http://127.0.0.1:{self.port}/log", "size": size, "work": work}
        done = subprocess.run(
            [install.node(), CLIENT, what], input=json.dumps(asked), capture_output=True, text=True, check=True
        )
        told: dict[str, Any] = json.loads(done.stdout)
        return told

    def processes(self) -> list[int]:
        return [self.process.pid]
