"""The house style that a machine can see: ruff, mypy in strict mode, the length of files, words left behind."""

import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
SOURCES = ("*.py", "*.ts", "*.tsx", "*.css", "*.jinja", "*.mjs")
GENERATED = {"web/src/log/kinds.ts", "web/src/log/summary.ts"}
LINES_MAX = 400


def run(*words: str) -> str:
    done = subprocess.run([sys.executable, "-m", *words], cwd=ROOT, capture_output=True, text=True, check=False)
    return "" if done.returncode == 0 else done.stdout + done.stderr


def sources() -> list[Path]:
    folders = ("server", "web", "tests", "seed_data")
    found = [p for f in folders for kind in SOURCES for p in (ROOT / f).rglob(kind)]
    skip = {"node_modules", "page", "out", "__pycache__"}
    return [p for p in found if not skip & set(p.relative_to(ROOT).parts)]


def test_ruff_finds_nothing() -> None:
    assert run("ruff", "check", ".") == ""


def test_mypy_in_strict_mode_finds_nothing() -> None:
    assert run("mypy") == ""


def test_no_source_file_is_longer_than_a_person_reads_at_once() -> None:
    lengths = {p.relative_to(ROOT).as_posix(): p.read_text().count("\n") for p in sources()}
    assert len(lengths) > 50
    assert {name: n for name, n in lengths.items() if n > LINES_MAX and name not in GENERATED} == {}


def test_no_work_is_left_for_later_in_a_comment() -> None:
    later = re.compile("|".join(["TO" + "DO", "FIX" + "ME", "XX" + "X"]))
    assert [p.relative_to(ROOT).as_posix() for p in sources() if later.search(p.read_text())] == []
