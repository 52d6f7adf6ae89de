"""Chances and counts in plain words: near enough to be true, and never a percentage."""

import pytest
from plytide.insight import words


@pytest.mark.parametrize(
    ("p", "said"),
    [(0.0, "fewer than 1 in 20"), (0.049, "fewer than 1 in 20"), (0.2, "1 in 5"), (0.26, "1 in 4"), (0.34, "1 in 3"),
     (0.5, "1 in 2"), (0.66, "2 in 3"), (0.76, "3 in 4"), (0.9, "9 in 10"), (1.0, "more than 19 in 20")],
)  # fmt: skip
def test_a_chance_is_said_as_so_many_in_so_many(p, said):
    assert words.chance(p) == said


def test_the_share_said_is_never_far_from_the_share_meant():
    for n in range(50, 951):
        said = words.share(n / 1000)
        assert said.startswith("about ")
        assert "%" not in said
        hits, of = int(said.split()[1]), int(said.split()[-1])
        assert abs(hits / of - n / 1000) <= 0.085


def test_shares_are_said_of_days():
    assert words.share(0.74) == "about 3 days in 4"
    assert words.share(0.11) == "about 1 day in 10"
    assert (words.share(0.01), words.share(0.99)) == ("fewer than 1 day in 20", "nearly every day")


def test_counts_have_their_singular():
    assert (words.days(1), words.days(0), words.days(7)) == ("1 day", "0 days", "7 days")
