"""server/SECURITY.md is held to the code: every file and test that it names is there."""

import re
from pathlib import Path

ROOT = Path(__file__).parents[1]
PAGE = (ROOT / "server" / "SECURITY.md").read_text(encoding="utf-8")


def test_every_file_that_the_security_page_names_is_there() -> None:
    named = re.findall(r"`([\w./-]+\.(?:py|json|md|ts))`", PAGE)
    assert len(named) >= 20
    places = (ROOT, ROOT / "server" / "plytide")
    assert [name for name in named if not any((place / name).exists() for place in places)] == []


def test_every_test_that_the_security_page_names_is_there() -> None:
    tests = "".join(path.read_text(encoding="utf-8") for path in (ROOT / "tests").rglob("test_*.py"))
    named = re.findall(r"`(test_\w+)`", PAGE)
    assert len(named) >= 4
    assert [name for name in named if f"def {name}(" not in tests] == []


def test_every_chapter_of_the_standard_is_gone_through() -> None:
    # OWASP ASVS 4.0 has the chapters V1 to V14.
    assert [int(number) for number in re.findall(r"^### V(\d+) ", PAGE, re.MULTILINE)] == list(range(1, 15))


def test_readme_and_developers_lead_to_it() -> None:
    for page in ("README.md", "DEVELOPERS.md"):
        assert "server/SECURITY.md" in (ROOT / page).read_text(encoding="utf-8")
