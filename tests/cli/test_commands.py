"""The operator's commands: each does its work beside a running server or without one, in prose and in JSON."""

import json
import re
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import httpx
import pytest
from api.site import entry
from cli.run import plytide
from plytide.store import LinkSpec, Store, migrate
from serving import Server

ROOT = Path(__file__).parents[2]
SCENARIO = ROOT / "seed_data" / "scenario.jsonl"


@pytest.fixture
def data(tmp_path: Path) -> Path:
    """A folder with one logbook, Ada."""
    with Store.open(f"sqlite:///{tmp_path / 'data' / 'plytide.db'}") as store:
        store.create_logbook("Ada")
    return tmp_path / "data"


def log(tmp_path: Path, n: int = 3) -> Path:
    file = tmp_path / "log.jsonl"
    file.write_text("".join(json.dumps(entry()) + "\n" for _ in range(n)))
    return file


def entries(text: str) -> dict[str, Any]:
    return {made["id"]: made for made in map(json.loads, text.splitlines())}


def test_pair_prints_code_expiry_and_address(data: Path) -> None:
    told = plytide("pair", "--data", data, "--json", public_url="https://leg.example.org").json
    assert set(told) == {"code", "expires", "url"}
    assert told["url"] == f"https://leg.example.org/#/pair/{told['code']}"
    left = datetime.fromisoformat(told["expires"]) - datetime.now(UTC)
    assert 9 < left.total_seconds() / 60 <= 10


def test_pair_draws_a_qr_code_for_people(data: Path) -> None:
    done = plytide("pair", "--data", data)
    assert re.search(r"[0-9A-Z]{4}-[0-9A-Z]{4}", done.out)
    assert done.out.count("\n") > 15


def test_a_code_of_the_command_works_at_the_server_that_runs_beside_it(data: Path) -> None:
    server = Server(data)
    server.start()
    told = plytide("pair", "--data", data, "--json").json
    assert told["url"].startswith(f"http://localhost:{server.port}/")
    answer = httpx.post(f"{server.url}/api/pair", json={"code": told["code"]}, headers={"origin": server.url})
    server.stop()
    assert answer.status_code == 200


def test_pair_makes_a_logbook_when_asked_and_then_wants_to_know_which(data: Path) -> None:
    assert plytide("pair", "--data", data, "--new", "Bo", "--json").code == 0
    unclear = plytide("pair", "--data", data, "--json")
    assert (unclear.code, unclear.out) == (1, "")
    assert "Ada, Bo" in unclear.err
    assert plytide("pair", "--data", data, "--logbook", "Bo", "--json").code == 0


def test_a_slip_in_the_folders_name_makes_no_new_database(tmp_path: Path) -> None:
    for command in (["pair"], ["export"], ["check"], ["backup", tmp_path / "b.db"]):
        done = plytide(*command, "--data", tmp_path / "datta")
        assert done.code == 1
        assert "no Plytide database" in done.err
    assert not (tmp_path / "datta").exists()


def test_import_then_export_gives_the_same_entries_and_again_changes_nothing(data: Path, tmp_path: Path) -> None:
    file = log(tmp_path)
    assert plytide("import", file, "--data", data, "--json").json == {
        "taken": 3, "known": 0, "refused": 0, "refusals": [],
    }  # fmt: skip
    assert plytide("import", file, "--data", data, "--json").json["known"] == 3
    assert plytide("export", tmp_path / "out.jsonl", "--data", data, "--json").json["bytes"] > 0
    out = plytide("export", "--data", data).out
    assert entries(out) == entries(file.read_text())
    assert (tmp_path / "out.jsonl").read_text() == out


def test_import_names_the_lines_that_it_did_not_take(data: Path, tmp_path: Path) -> None:
    file = log(tmp_path, 2)
    file.write_text("{cut\n" + file.read_text())
    done = plytide("import", file, "--data", data)
    assert done.code == 0
    assert done.err == "Line 1 was not taken: This line is not a whole entry in JSON; it may have been cut short.\n"
    assert done.out == "2 taken, 0 there already, 1 not taken.\n"


def test_export_writes_csv_for_spreadsheets(data: Path, tmp_path: Path) -> None:
    plytide("import", log(tmp_path), "--data", data)
    rows = plytide("export", "--format", "csv", "--data", data).out.lstrip("\ufeff").splitlines()
    assert rows[0] == "id,kind,limb,at,zone,local,field,value"
    assert len(rows) == 4


def test_a_backup_taken_beside_a_running_server_can_be_restored(data: Path, tmp_path: Path) -> None:
    plytide("import", log(tmp_path), "--data", data)
    server = Server(data)
    server.start()
    made = plytide("backup", tmp_path / "copy.db", "--data", data, "--json")
    server.stop()
    assert made.code == 0
    assert made.json["entries"] == 3
    plytide("import", log(tmp_path, 5), "--data", data)
    before = plytide("export", "--data", data).out
    restored = plytide("restore", tmp_path / "copy.db", "--data", data, "--yes", "--json")
    assert (restored.code, restored.json["entries"]) == (0, 3)
    assert len(plytide("export", "--data", data).out.splitlines()) == 3 < len(before.splitlines())


def test_restore_begins_a_new_epoch_so_that_phones_send_everything_again(data: Path, tmp_path: Path) -> None:
    plytide("import", log(tmp_path), "--data", data)
    plytide("backup", tmp_path / "copy.db", "--data", data)
    with Store.open(f"sqlite:///{data / 'plytide.db'}") as store:
        before = store.logbooks()[0].epoch
    plytide("restore", tmp_path / "copy.db", "--data", data, "--yes")
    with Store.open(f"sqlite:///{data / 'plytide.db'}") as store:
        assert store.logbooks()[0].epoch != before


@pytest.mark.parametrize("file", ["nowhere.db", "log.jsonl"])
def test_restore_refuses_what_is_no_backup_and_leaves_the_database_alone(data: Path, tmp_path: Path, file: str) -> None:
    plytide("import", log(tmp_path), "--data", data)
    done = plytide("restore", tmp_path / file, "--data", data, "--yes")
    assert done.code == 1
    assert done.err.count("\n") == 1
    assert len(plytide("export", "--data", data).out.splitlines()) == 3


def test_restore_and_erase_ask_first(data: Path, tmp_path: Path) -> None:
    plytide("backup", tmp_path / "copy.db", "--data", data)
    for words in (["restore", tmp_path / "copy.db"], ["erase"]):
        done = plytide(*words, "--data", data, put="n\n")
        assert done.code == 1
    assert plytide("export", "--data", data).code == 0


def test_erase_leaves_no_logbook(data: Path) -> None:
    assert plytide("erase", "--data", data, "--yes", "--json").json["erased"] == "Ada"
    assert plytide("export", "--data", data).code == 1


def test_check_says_what_is_sound(data: Path, tmp_path: Path) -> None:
    plytide("import", log(tmp_path), "--data", data)
    done = plytide("check", "--data", data, "--json")
    assert done.code == 0
    assert done.json["ok"] is True
    assert done.json["entries"] == 3
    assert done.json["form"] == migrate.HEAD


def test_check_points_out_a_key_that_is_not_the_databases_and_files_that_strangers_can_read(data: Path) -> None:
    with Store.open(f"sqlite:///{data / 'plytide.db'}") as store:
        store.make_link(store.logbooks()[0].id, LinkSpec(days=7), datetime.now(UTC))
    assert plytide("check", "--data", data, "--json").json["notes"] == []
    (data / "plytide.db.key").unlink()
    (data / "plytide.db").chmod(0o644)
    no_https, lost, open_file = plytide("check", "--data", data, "--json", host="0.0.0.0").json["notes"]
    assert "without https" in no_https
    proxy, *_ = plytide("check", "--data", data, "--json", public_url="https://127.0.0.1:9").json["notes"]
    assert proxy.startswith("PLYTIDE_PROXY is empty")
    assert lost.startswith("1 clinic links or calendars were made with another key")
    assert str(data / "plytide.db") in open_file


def test_check_finds_a_damaged_database(data: Path, tmp_path: Path) -> None:
    plytide("import", log(tmp_path, 400), "--data", data)
    file = data / "plytide.db"
    raw = bytearray(file.read_bytes())
    for page in range(len(raw) // 8192, len(raw) // 4096):  # the second half of the file
        raw[page * 4096 + 100 : page * 4096 + 160] = b"\xa5" * 60
    file.write_bytes(raw)
    done = plytide("check", "--data", data)
    assert done.code == 1
    assert "Traceback" not in done.err


def test_summary_reads_a_file_without_server_or_database(tmp_path: Path) -> None:
    now = "2025-09-12T15:00:00-05:00"
    made = plytide("summary", SCENARIO, "--now", now, "--json").json
    assert made["limbs"]["right"]["on"]["total"] >= 5
    page = plytide("summary", SCENARIO, "--now", now)
    assert page.code == 0
    assert "ply" in page.out
    assert max(map(len, page.out.splitlines())) <= 120


def test_summary_does_not_depend_on_the_order_of_the_lines(tmp_path: Path) -> None:
    lines = SCENARIO.read_text().splitlines()
    turned = "\n".join(reversed(lines))
    words = ["summary", "-", "--now", "2025-09-12T20:00:00Z", "--json"]
    assert plytide(*words, put=turned).json["limbs"] == plytide(*words, put="\n".join(lines)).json["limbs"]


@pytest.mark.parametrize(
    ("words", "put", "code"),
    [
        (["nowhere.jsonl"], "", 1), (["-", "--now", "noon"], "", 2), (["-", "--now", "2031-03-02T07:00:00"], "", 2),
        (["-"], "nonsense\n", 1),
    ],
)  # fmt: skip
def test_summary_refuses_in_a_sentence(words: list[str], put: str, code: int) -> None:
    done = plytide("summary", *words, put=put)
    assert (done.code, done.out) == (code, "")
    assert "Traceback" not in done.err
    assert done.err.strip()


def test_an_unknown_command_is_told_with_exit_code_2() -> None:
    done = plytide("pear")
    assert done.code == 2
    assert "pear" in done.err
