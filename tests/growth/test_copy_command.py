"""`plytide copy`: from a file to PostgreSQL, after which phones and links go on where they were."""

from pathlib import Path

import httpx
from cli.run import plytide
from crash.kill import entry
from serving import Server


def test_phones_and_links_go_on_where_they_were_on_the_new_database(pg_database: str, tmp_path: Path) -> None:
    old = Server(tmp_path)
    old.start()
    with httpx.Client(base_url=old.url, headers={"origin": old.url}, timeout=30) as http:
        http.post("/api/pair", json={"code": old.code, "name": "phone"})
        sent = [entry(1, n) for n in range(3)]
        before = http.post("/api/sync", json={"schema": 1, "entries": sent}).json()
        http.post("/api/links", json={"days": 7})
        links = http.get("/api/links").json()
        old.stop()
        file = f"sqlite:///{tmp_path / 'plytide.db'}"
        copied = plytide("copy", file, pg_database.replace("+psycopg", ""), "--json")
        assert copied.code == 0, copied.err
        rows = {table["table"]: table["rows"] for table in copied.json["tables"]}
        assert (rows["entry"], rows["device"], rows["link"]) == (3, 1, 1)
        again = plytide("copy", file, pg_database)
        assert (again.code, again.err.count("\n")) == (1, 1)
        assert "not empty" in again.err
        new = Server(tmp_path, settings={"database_url": pg_database}, port=old.port)
        new.start()
        try:
            standing = {"epoch": before["epoch"], "cursor": before["cursor"]}
            answer = http.post("/api/sync", json={"schema": 1, "entries": [entry(1, 9)], **standing}).json()
            assert [result["r"] for result in answer["results"]] == ["ok"]
            assert (answer["epoch"], answer["cursor"]) == (before["epoch"], before["cursor"] + 1)
            assert http.get("/api/links").json() == links
            whole = http.post("/api/sync", json={"schema": 1}).json()
            assert [one["id"] for one in whole["entries"][:3]] == [one["id"] for one in sent]
        finally:
            new.stop()


def test_an_address_that_does_not_read_is_named() -> None:
    for words, name in ((["here", "postgresql://h/d"], "FROM_URL"), (["sqlite:///a.db", "there"], "TO_URL")):
        done = plytide("copy", *words)
        assert (done.code, done.err.partition(" ")[0]) == (2, name)
