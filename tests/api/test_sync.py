"""POST /api/sync: the contract between phone and server, answer by answer."""

import gzip
import json
from datetime import UTC, datetime, timedelta
from typing import Any

import httpx
import pytest
from api.site import Phone, Site, entry


def stamp(ahead: timedelta = timedelta(), counter: int = 0) -> str:
    ms = int((datetime.now(UTC) + ahead).timestamp() * 1000)
    return f"{ms:012x}-{counter:04x}-0a0b0c0d"


def test_a_pushed_entry_is_acknowledged_and_comes_to_another_phone(site: Site, phone: Phone) -> None:
    sent = entry()
    answer = phone.sync([sent]).json()
    assert answer["results"] == [{"id": sent["id"], "stamp": sent["stamp"], "r": "ok"}]
    assert site.phone(phone.logbook_id).pulled() == {sent["id"]: sent}


def test_the_answer_has_the_parts_of_the_contract_and_no_others(phone: Phone) -> None:
    answer = phone.sync([entry()]).json()
    assert set(answer) == {"epoch", "cursor", "more", "now", "results", "entries", "summary"}
    assert answer["cursor"] == 1
    assert answer["more"] is False
    assert abs(datetime.fromisoformat(answer["now"]) - datetime.now(UTC)) < timedelta(seconds=10)


def test_a_repeated_push_is_a_duplicate(phone: Phone) -> None:
    sent = entry()
    assert [phone.sync([sent]).json()["results"][0]["r"] for _ in range(2)] == ["ok", "dup"]


def test_an_id_twice_in_one_batch_is_a_duplicate_and_no_fault(phone: Phone) -> None:
    sent = entry()
    answer = phone.sync([sent, sent])
    assert answer.status_code == 200
    assert [result["r"] for result in answer.json()["results"]] == ["ok", "dup"]


def test_an_older_version_is_stale_and_carries_the_winner(phone: Phone) -> None:
    old = entry()
    new = {**old, "stamp": stamp(timedelta(seconds=5)), "body": {"score": 3}}
    phone.sync([new])
    result = phone.sync([old]).json()["results"][0]
    assert (result["r"], result["winner"]) == ("stale", new)


def test_a_stamp_from_the_future_is_moved_to_five_minutes_from_now(phone: Phone) -> None:
    sent = entry(stamp=stamp(timedelta(days=400)))
    result = phone.sync([sent]).json()["results"][0]
    assert result["r"] == "restamped"
    moved = datetime.fromtimestamp(int(result["stamp2"][:12], 16) / 1000, UTC)
    # Five minutes: the ceiling that the sync rules fix (clamping to now would let older writes win).
    assert abs(moved - datetime.now(UTC) - timedelta(minutes=5)) < timedelta(seconds=10)
    assert phone.pulled()[sent["id"]]["stamp"] == result["stamp2"]


def test_a_bad_entry_is_refused_alone_with_a_reason_and_its_neighbours_are_kept(phone: Phone) -> None:
    good, bad = entry(), entry(body={"score": 11})
    answer = phone.sync([bad, good, "nonsense", None]).json()
    assert [result["r"] for result in answer["results"]] == ["refused", "ok", "refused", "refused"]
    assert answer["results"][0]["code"] == "bad_body"
    assert "score" in answer["results"][0]["why"]
    assert set(phone.pulled()) == {good["id"]}


def test_unknown_kinds_and_fields_come_back_as_they_were(phone: Phone) -> None:
    strange = entry(kind="tide", body={"any": [1, {"deep": "ja"}]}, colour="kelp")
    assert phone.sync([strange]).json()["results"][0]["r"] == "ok"
    assert phone.pulled() == {strange["id"]: strange}


def test_text_comes_back_in_nfc(phone: Phone) -> None:
    sent = entry(kind="note", limb=None, body={"text": "Cafe\u0301 \U0001f9e6"})
    phone.sync([sent])
    assert phone.pulled()[sent["id"]]["body"]["text"] == "Caf\u00e9 \U0001f9e6"


def test_a_pull_comes_in_pages_of_a_thousand_and_skips_nothing(site: Site, phone: Phone) -> None:
    sent = [entry() for _ in range(1234)]
    for start in range(0, len(sent), 500):
        phone.sync(sent[start : start + 500])
    first = site.phone(phone.logbook_id).sync().json()
    assert (len(first["entries"]), first["more"]) == (1000, True)
    assert set(site.phone(phone.logbook_id).pulled()) == {e["id"] for e in sent}


def test_a_cursor_brings_only_what_came_after_it(site: Site, phone: Phone) -> None:
    first = phone.sync([entry()]).json()
    late = entry()
    site.phone(phone.logbook_id).sync([late])
    answer = phone.sync(epoch=first["epoch"], cursor=first["cursor"]).json()
    assert answer["entries"] == [late]


def test_without_a_cookie_it_is_401_and_nothing_is_written(site: Site, phone: Phone) -> None:
    sent = entry()
    answer = site.stranger().post("/api/sync", json={"schema": 1, "entries": [sent]})
    assert (answer.status_code, answer.json()["code"]) == (401, "pair_again")
    assert phone.pulled() == {}


def test_a_revoked_phone_gets_401_and_writes_nothing(site: Site, phone: Phone) -> None:
    other = site.phone(phone.logbook_id)
    assert phone.delete(f"/api/devices/{other.device_id}").status_code == 200
    assert other.sync([entry()]).status_code == 401
    assert phone.pulled() == {}


def test_another_epoch_is_409_with_the_epoch_that_holds_and_nothing_is_written(phone: Phone) -> None:
    epoch = phone.sync().json()["epoch"]
    answer = phone.sync([entry()], epoch="feedfacefeedface", cursor=0)
    assert (answer.status_code, answer.json()["epoch"]) == (409, epoch)
    assert phone.pulled() == {}


def test_more_than_500_entries_are_413_and_nothing_is_written(phone: Phone) -> None:
    assert phone.sync([entry() for _ in range(501)]).status_code == 413
    assert phone.pulled() == {}


@pytest.mark.parametrize("schema", [0, 2, -1, 99])
def test_another_schema_is_426_and_nothing_is_written(phone: Phone, schema: int) -> None:
    answer = phone.sync([entry()], schema=schema)
    assert (answer.status_code, answer.json()["code"]) == (426, "other_version")
    assert phone.pulled() == {}


@pytest.mark.parametrize(
    "body",
    [
        [], None, "x", 7, {}, {"schema": "1"}, {"schema": True}, {"schema": 1, "cursor": -1},
        {"schema": 1, "cursor": 1.5}, {"schema": 1, "cursor": "0"}, {"schema": 1, "cursor": 2**60},
        {"schema": 1, "epoch": "\ud800"}, {"schema": 1, "epoch": "\x00"}, {"schema": 1, "epoch": 7},
        {"schema": 1, "epoch": "x" * 65}, {"schema": 1, "entries": {}}, {"schema": 1, "entries": "[]"},
        {"schema": 1, "summary_seq": "1"}, {"schema": 1, "now": []},
    ],
    ids=str,
)  # fmt: skip
def test_a_request_not_of_the_form_is_422_and_is_not_repeated_back(phone: Phone, body: Any) -> None:
    answer = phone.post("/api/sync", content=json.dumps(body), headers={"content-type": "application/json"})
    assert answer.status_code == 422
    assert set(answer.json()) == {"code", "why"}


def test_a_field_of_a_newer_phone_is_let_pass(phone: Phone) -> None:
    assert phone.sync(battery="low").status_code == 200


def test_a_phone_without_a_summary_gets_the_latest_and_one_that_has_it_gets_none(site: Site, phone: Phone) -> None:
    phone.sync([entry()])
    summary = {"now": "2031-03-02T07:00:00.000Z", "seq": 1, "limbs": {}, "activity": [], "signs": []}
    site.store.put_summary(phone.logbook_id, 1, summary, datetime.fromisoformat(summary["now"]))
    assert phone.sync().json()["summary"] == summary
    assert phone.sync(summary_seq=0, summary_made="").json()["summary"] == summary
    assert phone.sync(summary_seq=1, summary_made="2031-03-02T06:00:00.000Z").json()["summary"] == summary
    assert phone.sync(summary_seq=1, summary_made=summary["now"]).json()["summary"] is None
    assert phone.sync(summary_seq=2, summary_made="").json()["summary"] is None


def test_a_long_answer_is_packed_for_those_who_take_it(phone: Phone) -> None:
    phone.sync([entry() for _ in range(100)])
    with phone.stream("POST", "/api/sync", json={"schema": 1}) as packed:
        raw = b"".join(packed.iter_raw())
    assert packed.headers["content-encoding"] == "gzip"
    assert len(json.loads(gzip.decompress(raw))["entries"]) == 100
    plain = phone.post("/api/sync", json={"schema": 1}, headers={"accept-encoding": "identity"})
    assert "content-encoding" not in plain.headers
    assert len(plain.json()["entries"]) == 100


def test_a_long_log_is_read_to_its_end_while_others_write(site: Site, phone: Phone) -> None:
    """A reader that pages while a writer writes in between sees every entry (a timestamp cursor would not)."""
    writer = site.phone(phone.logbook_id)
    sent: set[str] = set()
    found: set[str] = set()
    state: dict[str, Any] = {}
    for _ in range(12):
        batch = [entry() for _ in range(300)]
        writer.sync(batch)
        sent |= {e["id"] for e in batch}
        answer: httpx.Response = phone.sync(**state)
        found |= {e["id"] for e in answer.json()["entries"]}
        state = {"epoch": answer.json()["epoch"], "cursor": answer.json()["cursor"]}
    while answer.json()["more"]:
        answer = phone.sync(**state)
        found |= {e["id"] for e in answer.json()["entries"]}
        state["cursor"] = answer.json()["cursor"]
    assert found == sent
