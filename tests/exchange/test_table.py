"""The CSV and its dictionary, read by Python's csv and by pandas."""

from __future__ import annotations

import csv
import io
import re

import pandas as pd
import pytest
from exchange.logs import SCENARIOS, demo_log, every_kind
from plytide.bodies import BODIES
from plytide.entries import Entry
from plytide.exchange import dictionary, table


def text_of(entries: list[Entry]) -> str:
    return b"".join(table.dump(entries)).decode("utf-8-sig")


def fields() -> dict[tuple[str, str], dict[str, str]]:
    rows = csv.DictReader(io.StringIO(b"".join(dictionary.dump()).decode("utf-8-sig")))
    return {(row["kind"], row["field"]): row for row in rows}


@pytest.mark.parametrize("name", SCENARIOS)
def test_csv_and_pandas_read_the_same_rows(name: str) -> None:
    text = text_of(SCENARIOS[name]())
    rows = list(csv.DictReader(io.StringIO(text)))
    frame = pd.read_csv(io.StringIO(text), dtype=str, keep_default_na=False)
    assert frame.to_dict("records") == rows
    assert tuple(frame.columns) == table.COLUMNS


def test_every_entry_has_a_row_and_every_value_is_there() -> None:
    entries = every_kind()
    rows = list(csv.DictReader(io.StringIO(text_of(entries))))
    assert {row["id"] for row in rows} == {e.id for e in entries}
    found = {(row["kind"], row["field"]): row["value"] for row in rows}
    assert found["girth", "marks.1.girth_cm"] == "31.0"
    assert found["skin", "findings.0.still_red"] == "false"
    assert found["note", "text"] == 'First line\nsecond line, "quoted"; =1+1'
    assert found["adjust", "by"] == "-2"


def test_times_on_the_wearers_clock_are_those_of_pandas() -> None:
    frame = pd.read_csv(io.StringIO(text_of(demo_log())), dtype=str, keep_default_na=False)
    for zone, part in frame.groupby("zone"):
        there = pd.to_datetime(part["at"], utc=True).dt.tz_convert(zone).dt.strftime("%Y-%m-%d %H:%M:%S")
        assert list(there) == list(part["local"])


@pytest.mark.parametrize("name", ["every kind", "demo"])
def test_the_dictionary_has_every_field_that_occurs(name: str) -> None:
    known = fields()
    for row in csv.DictReader(io.StringIO(text_of(SCENARIOS[name]()))):
        parts = [("*" if part.isdigit() or re.fullmatch(r"[0-9a-f-]{36}", part) else part)
                 for part in row["field"].split(".")]  # fmt: skip
        place = ".".join(parts)
        below = any(kind == row["kind"] and field.startswith(f"{place}.*") for kind, field in known)
        assert (row["kind"], place) in known or (not row["value"] and below), row  # an empty list has no value


def test_the_dictionary_has_every_kind_and_column_and_what_they_mean() -> None:
    known = fields()
    assert {kind for kind, _ in known} == {"", *BODIES}
    assert [field for kind, field in known if not kind] == list(table.COLUMNS)
    assert all(len(row["meaning"]) > 10 for row in known.values())
    assert known["sore", "angle"]["unit"] == "degrees: 0 front, 90 outer, 180 back, 270 inner"
    assert known["skin", "findings.*.what"]["values"].split("; ")[0] == "redness"
    assert known["skin", "fever_c"]["values"] == "30 to 45"
