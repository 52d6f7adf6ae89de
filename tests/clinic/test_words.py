"""The catalogue: no text is missing, none is left over, and numbers and dates read as people write them."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime
from pathlib import Path
from typing import get_args

import pytest
from plytide import bodies
from plytide.clinic import words
from plytide.clinic.reading import ALL_KINDS, TICKS
from plytide.insight.shape import Level

CLINIC = Path(words.__file__).parent
# Keys made of a group and a value, and the values that there are.
GROUPS: dict[str, set[str]] = {
    "finding": set(get_args(bodies.FindingKind)),
    "sign": set(get_args(Level)),
    "kinds": set(TICKS),
}


def literal_values(model: type[bodies.Body], field: str) -> set[str]:
    """The words that a field of an entry's body may hold."""
    found = re.findall(r"'([a-z_]+)'", repr(model.model_fields[field].annotation))
    assert found
    return set(found)


GROUPS |= {
    "feel": literal_values(bodies.Sore, "feel"),
    "mishap": literal_values(bodies.Mishap, "what"),
    "change": literal_values(bodies.Change, "what"),
    "tag": literal_values(bodies.Day, "tags"),
    "option": literal_values(bodies.Option, "kind"),
    "level": literal_values(bodies.LimbProfile, "level"),
    "suspension": literal_values(bodies.LimbProfile, "suspension"),
    "what": literal_values(bodies.Adjust, "what"),
}


@pytest.mark.parametrize("group", sorted(GROUPS))
def test_every_value_that_can_be_logged_has_a_word(group: str) -> None:
    assert [v for v in sorted(GROUPS[group]) if not words.known(f"{group}.{v}")] == []


def test_a_value_newer_than_the_catalogue_is_shown_as_it_is() -> None:
    assert words.word("feel", "new_sort") == "new sort"


def test_every_text_that_the_code_asks_for_is_there_and_none_is_left_over() -> None:
    sources = "".join(p.read_text() for p in [*CLINIC.glob("*.py"), *CLINIC.glob("templates/*.jinja")])
    catalogue = set(words.catalogue("en"))
    asked = {key for key in catalogue if f'"{key}"' in sources}
    # t(f"figure.{name}"), t("read." ~ key), word("feel", f), count(n, "day")
    built = re.findall(r"""t\(f?["']([a-z_.]+\.)["{]""", sources)
    built += [f"{group}." for group in re.findall(r"""word\(["'](\w+)["']""", sources)]
    assert set(re.findall(r"""\bt\(\s*["']([a-z_.]+[a-z_])["'][,)]""", sources)) - catalogue == set()
    assert {k for k in catalogue - asked if not k.startswith((*built, "unit."))} == set()


BLANK = re.compile(r"\{\w+\}")


def test_every_language_has_the_same_texts_with_the_same_blanks() -> None:
    english, spanish = words.catalogue("en"), words.catalogue("es")
    assert list(spanish) == list(english)
    for key, text in english.items():
        assert set(BLANK.findall(spanish[key])) == set(BLANK.findall(text)), key
        assert spanish[key].count("|") == text.count("|"), key
        assert re.findall(r"</?b>", spanish[key]) == re.findall(r"</?b>", text), key


def test_nothing_is_left_in_english() -> None:
    same = {k for k, text in words.catalogue("es").items() if text == words.catalogue("en")[k]}
    alike = {
        "what.dial", "fitted_by.dial", "option.liner", "change.liner", "meets.no", "title.page", "date.short",
        "date.moment", "days.off", "skin.once", "skin.min", "payer.change", "signs.none",
    }  # fmt: skip
    assert {k for k in same if re.search(r"[a-z]{2}", BLANK.sub("", words.catalogue("es")[k]))} <= alike


def test_spanish_dates_and_numbers() -> None:
    # Unicode CLDR 44, es: "12 de junio de 2031", "jue", decimal comma.
    with words.speaking("es"):
        assert words.day("2031-06-12", year=True) == "12 de junio de 2031"
        assert words.week_day("2031-06-12") == "jue 12 de junio"
        assert (words.short_day("2031-06-12"), words.month("2031-06-12")) == ("12 jun", "junio de 2031")
        assert (words.number(-1.25), words.signed(0.5), words.count(1, "day")) == ("−1,2", "+0,5", "1 día")
    assert words.day("2031-06-12") == "12 June"


def test_ticks_stand_for_every_kind_but_the_ones_that_are_not_shared() -> None:
    assert set(bodies.BODIES) - ALL_KINDS == {"profile", "trip"}


@pytest.mark.parametrize(
    ("value", "said"), [(9.0, "9"), (9.46, "9.5"), (-0.04, "0"), (-1.25, "−1.2"), (None, "–"), (100, "100")]
)
def test_numbers_are_short_and_minus_is_a_minus(value: float | None, said: str) -> None:
    assert words.number(value) == said


def test_dates_and_times_are_the_wearers_own() -> None:
    # 28 March 2032, 00:30 UTC: Berlin is an hour ahead and changes its clocks half an hour later (zoneinfo).
    at = datetime(2032, 3, 28, 0, 30, tzinfo=UTC)
    assert words.moment(at, "Europe/Berlin") == "28 March, 01:30"
    assert words.moment(at.replace(hour=1), "Europe/Berlin") == "28 March, 03:30"
    assert words.week_day(date(2031, 6, 12)) == "Thu 12 June"
    assert words.week_day("2031-06-12") == date(2031, 6, 12).strftime("%a %-d %B")


SPANS = [(1, "1 day"), (13, "13 days"), (28, "4 weeks"), (29, "29 days"), (100, "14 weeks")]


@pytest.mark.parametrize(("days", "said"), SPANS)
def test_spans_are_weeks_where_that_says_it(days: int, said: str) -> None:
    assert words.span(days) == said


def test_one_and_many_have_their_own_form() -> None:
    assert [words.count(n, "day") for n in (0, 1, 2)] == ["0 days", "1 day", "2 days"]
