"""Export, import and erasing: the log leaves whole, comes back the same, and goes without a trace."""

import csv
import io
import json
from typing import Any

import httpx
import pytest
from api.site import Phone, Site, entry

LINES = {"content-type": "application/jsonl"}


def exported(phone: Phone, format: str = "jsonl") -> list[dict[str, Any]]:
    return [json.loads(line) for line in phone.get("/api/export", params={"format": format}).text.splitlines()]


def put(phone: Phone, lines: list[Any]) -> httpx.Response:
    text = "".join((line if isinstance(line, str) else json.dumps(line)) + "\n" for line in lines)
    return phone.post("/api/import", content=text.encode(), headers=LINES)


def a_log() -> list[dict[str, Any]]:
    """Entries of several kinds, one put right, one erased, one of a kind that this version does not know."""
    first = entry()
    better = {**first, "stamp": first["stamp"][:13] + "0001" + first["stamp"][17:], "body": {"score": 2}}
    gone = entry(erased=True, body={"score": 4})
    note = entry(kind="note", limb=None, body={"text": "=1+1, \"quoted\"\nand a second line \U0001f9e6"})
    return [first, better, gone, note, entry(kind="tide", body={"high": [1, {"at": None}]}, colour="kelp")]


def by_version(entries: list[dict[str, Any]]) -> dict[tuple[str, str], dict[str, Any]]:
    return {(e["id"], e["stamp"]): e for e in entries}


def test_an_export_has_every_version_and_goes_back_in_the_same(site: Site, phone: Phone) -> None:
    log = a_log()
    phone.sync(log)
    lines = exported(phone)
    assert by_version(lines) == by_version(log)
    other = site.phone()
    assert put(other, lines).json()["refused"] == 0
    assert by_version(exported(other)) == by_version(log)
    assert other.pulled() == phone.pulled()


def test_importing_again_changes_nothing(phone: Phone) -> None:
    phone.sync(a_log())
    before = exported(phone)
    again = put(phone, before).json()
    assert (again["taken"], again["refused"]) == (0, 0)
    assert exported(phone) == before


def test_an_export_is_a_file_with_a_name(phone: Phone) -> None:
    answer = phone.get("/api/export")
    assert answer.headers["content-type"] == "application/jsonl"
    assert answer.headers["content-disposition"].startswith('attachment; filename="plytide-20')


def test_bad_lines_are_named_with_their_reason_and_the_good_ones_are_taken(phone: Phone) -> None:
    good = [entry(), entry()]
    answer = put(phone, [good[0], "{cut", entry(body={"score": 11}), "", "null", "[" * 90_000, good[1]]).json()
    assert (answer["taken"], answer["refused"]) == (2, 4)
    assert {(r["line"], r["code"]) for r in answer["refusals"]} == {
        (2, "not_json"), (3, "bad_body"), (5, "not_an_object"), (6, "not_json"),
    }  # fmt: skip
    assert set(phone.pulled()) == {e["id"] for e in good}


def test_a_file_cut_short_loses_its_last_line_only(phone: Phone) -> None:
    lines = [json.dumps(entry()) for _ in range(700)]
    text = "\n".join(lines)[:-20]
    answer = phone.post("/api/import", content=text.encode(), headers=LINES).json()
    assert (answer["taken"], answer["refused"]) == (699, 1)
    assert answer["refusals"][0]["line"] == 700


def test_a_file_without_an_end_of_line_is_refused_and_not_held_in_memory(phone: Phone) -> None:
    def endless() -> Any:
        for _ in range(64):
            yield b"x" * 65536

    answer = phone.post("/api/import", content=endless(), headers=LINES).json()
    assert (answer["taken"], answer["refused"]) == (0, 1)


def test_a_thousand_bad_lines_are_counted_and_a_hundred_told(phone: Phone) -> None:
    answer = put(phone, ["nonsense"] * 1000).json()
    assert (answer["refused"], len(answer["refusals"])) == (1000, 100)


def test_csv_is_read_by_pythons_own_reader_one_value_a_row(phone: Phone) -> None:
    log = a_log()
    phone.sync(log)
    answer = phone.get("/api/export", params={"format": "csv"})
    assert answer.headers["content-type"] == "text/csv; charset=utf-8"
    rows = list(csv.DictReader(io.StringIO(answer.content.decode("utf-8-sig"))))
    assert {row["id"] for row in rows} == {log[0]["id"], log[3]["id"], log[4]["id"]}, "what stands, and nothing erased"
    values = {(row["id"], row["field"]): row["value"] for row in rows}
    assert values[log[0]["id"], "score"] == "2"
    assert values[log[4]["id"], "high.1.at"] == ""
    # OWASP, CSV injection: a cell that begins with = + - @ is run as a formula by spreadsheets.
    assert values[log[3]["id"], "text"] == "'" + log[3]["body"]["text"]


@pytest.mark.parametrize("format", ["xml", "", "jsonl/../x"])
def test_an_unknown_format_is_422(phone: Phone, format: str) -> None:
    assert phone.get("/api/export", params={"format": format}).status_code == 422


def test_erasing_leaves_no_word_of_it_in_the_files(site: Site, phone: Phone) -> None:
    word = "kittiwake"
    phone.sync([entry(kind="note", limb=None, body={"text": f"{word} {n}"}) for n in range(200)])
    files = [p for p in site.settings.data.iterdir() if p.name.startswith("plytide.db")]
    assert any(word.encode() in p.read_bytes() for p in files), "the test must be able to find it"
    answer = phone.delete("/api/logbook")
    assert answer.json() == {"erased": True}
    assert 'plytide=""' in answer.headers["set-cookie"]
    assert phone.get("/api/summary").status_code == 401
    assert not [p.name for p in files if p.exists() and word.encode() in p.read_bytes()]


def test_the_wearer_can_read_what_was_done_with_the_log(phone: Phone) -> None:
    phone.post("/api/links", json={"days": 7})
    phone.get("/api/export", params={"format": "csv"})
    put(phone, a_log())
    lines = phone.get("/api/audit").json()["lines"]
    assert [line["code"] for line in lines] == ["imported", "exported", "link_made", "paired", "made"]
    assert lines[1]["words"] == "phone took the log out (csv)."
    assert all(set(line) == {"at", "code", "words"} for line in lines)
