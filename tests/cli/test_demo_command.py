"""`plytide demo`: one command from nothing to a wearer's page and a clinic's, and nothing of it left behind."""

import json
import subprocess
import tempfile
from pathlib import Path

import httpx
from serving import COMMAND, clean_env


def test_the_demo_brings_a_wearer_with_months_of_entries_and_a_clinic_link_that_opens(tmp_path: Path) -> None:
    env = clean_env() | {"TMPDIR": str(tmp_path)}
    words = [*COMMAND, "demo", "--port", "0", "--json"]
    with subprocess.Popen(words, env=env, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        told = json.loads(process.stdout.readline())
        url = told["wearer"].partition("/#")[0]
        assert url.startswith("http://localhost:")
        with httpx.Client(base_url=url, headers={"origin": url}, timeout=30) as http:
            assert http.get("/").status_code == 200
            assert http.post("/api/pair", json={"code": told["code"]}).status_code == 200
            answer = http.post("/api/sync", json={"schema": 1}).json()
            token = told["clinic"].rpartition("/s/")[2]
            page = http.post(f"/s/{token}", data={"code": told["clinic_code"]}, follow_redirects=True)
        process.terminate()
        assert process.wait(30) == 0
    assert len(answer["entries"]) > 900
    assert answer["summary"]["limbs"]["right"]["days"]
    assert page.status_code == 200
    assert "Maren Oddly" in page.text
    assert list(tmp_path.iterdir()) == [], "the temporary folder is gone"
    assert tempfile.gettempdir()
