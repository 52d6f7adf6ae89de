"""`plytide serve`: the first start brings a code, the address works, a second server keeps away."""

import json
import re
import subprocess
import time
from pathlib import Path

import httpx
import pytest
from api.site import entry
from cli.run import plytide
from serving import COMMAND, Server, clean_env, free_port


def test_the_first_start_prints_an_address_and_a_code_that_pairs(tmp_path: Path) -> None:
    port = free_port()
    words = [*COMMAND, "serve", "--data", str(tmp_path), "--port", str(port)]
    with subprocess.Popen(words, env=clean_env(log_level="warning"), stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        text = ""
        while "/#/pair/" not in text:
            text += process.stdout.readline()
        code = re.search(r"Pairing code {2}([0-9A-Z]{4}-[0-9A-Z]{4}) ", text)
        assert code
        assert f"Plytide is at http://localhost:{port}\n" in text
        url = f"http://localhost:{port}"
        paired = httpx.post(f"{url}/api/pair", json={"code": code[1]}, headers={"origin": url})
        process.terminate()
        rest = process.stdout.read()
        assert process.wait(30) == 0
    assert paired.status_code == 200
    assert "\u2588" in rest or "\u2580" in rest, "the QR code drawn in the terminal"


def test_with_json_it_prints_one_object_and_later_starts_bring_no_code(tmp_path: Path) -> None:
    server = Server(tmp_path)
    server.start()
    assert re.fullmatch(r"[0-9A-Z]{4}-[0-9A-Z]{4}", server.code or "")
    assert server.stop() == 0
    server.code = None
    server.start()
    assert server.code is None
    assert httpx.get(f"{server.url}/healthz").json()["ok"] is True
    assert server.stop() == 0


def test_port_0_takes_a_free_port_and_says_which(tmp_path: Path) -> None:
    server = Server(tmp_path, port=0)
    server.start()
    told = plytide("pair", "--data", tmp_path, "--json").json
    assert re.match(r"http://localhost:[1-9]\d+/#/pair/", told["url"])
    assert httpx.get(told["url"].partition("/#")[0] + "/healthz").status_code == 200
    server.stop()


def test_two_servers_on_one_database_are_refused_in_a_sentence(tmp_path: Path) -> None:
    server = Server(tmp_path)
    server.start()
    second = plytide("serve", "--data", tmp_path, "--port", "0")
    server.stop()
    assert second.code == 1
    assert "Another Plytide process" in second.err
    assert "Traceback" not in second.err


def test_a_port_that_is_taken_is_said_and_nothing_is_made(tmp_path: Path) -> None:
    server = Server(tmp_path / "one")
    server.start()
    second = plytide("serve", "--data", tmp_path / "two", "--port", str(server.port))
    server.stop()
    assert second.code == 1
    assert str(server.port) in second.err
    assert second.err.count("\n") == 1
    assert not (tmp_path / "two").exists()


@pytest.mark.parametrize("words", [["--port", "x"], ["--public-url", "leg.example"], ["--database-url", "mysql://x"]])
def test_an_option_that_does_not_read_is_one_sentence_and_exit_code_2(tmp_path: Path, words: list[str]) -> None:
    done = plytide("serve", "--data", tmp_path, *words)
    assert (done.code, done.out) == (2, "")
    assert done.err.startswith(f"{words[0]} takes ")
    assert done.err.count("\n") == 1


def test_a_misspelt_variable_is_pointed_out_at_the_start(tmp_path: Path) -> None:
    done = plytide("serve", "--data", tmp_path, "--port", "1", "--host", "256.1.1.1", publik_url="https://x.example")
    assert "PLYTIDE_PUBLIK_URL is not a setting" in done.err


def test_only_a_named_proxy_is_believed_about_who_is_asking(tmp_path: Path) -> None:
    def statuses(proxy: dict[str, str]) -> list[int]:
        server = Server(tmp_path, settings={"address_rate": "3", **proxy})
        server.start()
        asked = [
            httpx.get(f"{server.url}/robots.txt", headers={"x-forwarded-for": f"198.51.100.{n}"}).status_code
            for n in range(5)
        ]
        server.stop()
        return asked

    assert statuses({}) == [200] * 3 + [429] * 2
    assert statuses({"proxy": "127.0.0.1"}) == [200] * 5
    assert statuses({"proxy": "192.0.2.1"}) == [200] * 3 + [429] * 2


def test_a_header_of_a_named_proxy_that_was_forged_further_out_is_not_believed(tmp_path: Path) -> None:
    """A client may write X-Forwarded-For itself; the proxy adds what it saw at the end, and that is what counts."""
    server = Server(tmp_path, settings={"address_rate": "3", "proxy": "127.0.0.1"})
    server.start()
    forged = [{"x-forwarded-for": f"203.0.113.{n}, 198.51.100.7"} for n in range(5)]
    asked = [httpx.get(f"{server.url}/robots.txt", headers=headers).status_code for headers in forged]
    server.stop()
    assert asked == [200] * 3 + [429] * 2


def test_a_worker_of_its_own_makes_the_summaries_of_a_server_that_makes_none(tmp_path: Path) -> None:
    server = Server(tmp_path, settings={"worker": "no"})
    server.start()
    words = [*COMMAND, "worker", "--data", str(tmp_path)]
    with (
        subprocess.Popen(words, env=clean_env(log_level="error")) as worker,
        httpx.Client(base_url=server.url, headers={"origin": server.url}) as http,
    ):
        http.post("/api/pair", json={"code": server.code})
        assert http.post("/api/sync", json={"schema": 1, "entries": [entry()]}).status_code == 200
        end = time.monotonic() + 30
        while http.get("/api/summary").json() is None and time.monotonic() < end:
            time.sleep(0.2)
        summary = http.get("/api/summary").json()
        worker.terminate()
        assert worker.wait(30) == 0
    server.stop()
    assert summary["seq"] == 1


def test_the_log_of_the_running_server_has_no_token_in_it(tmp_path: Path) -> None:
    port = free_port()
    words = [*COMMAND, "serve", "--data", str(tmp_path), "--port", str(port), "--json"]
    env = clean_env(log_level="debug")
    with subprocess.Popen(words, env=env, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        code = json.loads(process.stdout.readline())["code"]
        url = f"http://127.0.0.1:{port}"
        with httpx.Client(base_url=url, headers={"origin": url}) as http:
            http.post("/api/pair", json={"code": code})
            link = http.post("/api/links", json={"days": 7}).json()
            token = link["url"].rsplit("/", 1)[1]
            http.get(f"/s/{token}")
            secrets = [code, token, link["code"], http.cookies["plytide"]]
        process.terminate()
        log = process.stderr.read()
        process.wait(30)
    assert "route=/s/{token}" in log
    assert [secret for secret in secrets if secret in log] == []
