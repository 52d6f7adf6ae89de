"""The arrows between the parts of the server point one way; read off the imports themselves."""

import ast
from pathlib import Path

import pytest

SERVER = Path(__file__).parents[1] / "server" / "plytide"

# part: the parts that it may import. A part is a module of plytide, or a folder with all that is in it.
WORDS = {"ids", "stamps", "bodies", "entries"}  # the language that all of them speak
MAY: dict[str, set[str]] = {
    "__init__": set(), "ids": set(), "stamps": set(), "data": set(), "logs": set(), "config": set(),
    "bodies": {"ids", "stamps"},
    "entries": {"ids", "stamps", "bodies"},
    "limb": {"data"},
    "demo": WORDS,
    "store": WORDS,
    "insight": WORDS | {"data", "limb"},
    "clinic": WORDS | {"data", "limb", "insight"},
    "exchange": WORDS | {"data", "limb", "insight", "store", "__init__"},
    "jobs": WORDS | {"insight", "store", "logs"},
    "api": WORDS | {"data", "insight", "store", "clinic", "exchange", "jobs", "logs", "config", "__init__"},
    "app": {"api", "config", "jobs", "store", "__init__"},
    "__main__": {"cli"},
    "cli": WORDS | {"insight", "store", "exchange", "jobs", "demo", "api", "app", "logs", "config", "__init__"},
}  # fmt: skip
CLOCKS = {"now", "today", "utcnow", "time", "monotonic", "perf_counter"}


def part_of(path: Path) -> str:
    return path.relative_to(SERVER).parts[0].removesuffix(".py")


def modules() -> list[Path]:
    found = [p for p in SERVER.rglob("*.py") if "page" not in p.parts and "seed_data" not in p.parts]
    assert len(found) > 30
    return found


def imports(source: str) -> set[str]:
    """The parts of plytide that a module imports, at its top or inside a function."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "relative imports hide the arrow"
            package = node.module or ""
            names = [f"plytide.{alias.name}" for alias in node.names] if package == "plytide" else [package]
        else:
            continue
        for name in names:
            root, _, rest = name.partition(".")
            if root == "plytide":
                part = rest.partition(".")[0] or "__init__"
                found.add(part if (SERVER / part).is_dir() or (SERVER / f"{part}.py").is_file() else "__init__")
    return found


@pytest.mark.parametrize("path", modules(), ids=lambda path: path.relative_to(SERVER).as_posix())
def test_every_module_imports_only_what_its_part_may(path: Path) -> None:
    part = part_of(path)
    assert part in MAY, f"{part} is a new part: say what it may import"
    assert imports(path.read_text()) - {part} <= MAY[part]


def test_no_part_can_be_reached_from_itself() -> None:
    reached = {part: set(direct) for part, direct in MAY.items()}
    for _ in MAY:
        reached = {part: on | {far for near in on for far in reached[near]} for part, on in reached.items()}
    assert [part for part, on in reached.items() if part in on] == []


def test_the_reader_of_imports_sees_every_form() -> None:
    source = "import plytide.store\nfrom plytide.insight.day import x\nfrom plytide import jobs, __version__"
    assert imports(source) == {"store", "insight", "jobs", "__init__"}
    assert imports("def f():\n    from plytide import store") == {"store"}


@pytest.mark.parametrize("path", sorted((SERVER / "insight").rglob("*.py")), ids=lambda path: path.name)
def test_insight_has_no_clock_and_no_io_of_its_own(path: Path) -> None:
    tree = ast.parse(path.read_text())
    imported = {a.name.split(".")[0] for n in ast.walk(tree) if isinstance(n, ast.Import) for a in n.names}
    imported |= {(n.module or "").split(".")[0] for n in ast.walk(tree) if isinstance(n, ast.ImportFrom)}
    assert imported & {"time", "os", "pathlib", "socket", "sqlite3", "sqlalchemy", "httpx", "numpy", "scipy"} == set()
    asked = {
        n.func.attr for n in ast.walk(tree) if isinstance(n, ast.Call) and isinstance(n.func, ast.Attribute)
        and isinstance(n.func.value, ast.Name) and n.func.value.id in {"datetime", "date", "time"}
    }  # fmt: skip
    assert asked & CLOCKS == set()
    called = {n.func.id for n in ast.walk(tree) if isinstance(n, ast.Call) and isinstance(n.func, ast.Name)}
    assert called & {"open", "input", "print"} == set()


@pytest.mark.parametrize("path", modules(), ids=lambda path: path.relative_to(SERVER).as_posix())
def test_sql_stands_in_the_store_alone(path: Path) -> None:
    if part_of(path) == "store":
        return
    names = {a.name for n in ast.walk(ast.parse(path.read_text())) if isinstance(n, ast.Import) for a in n.names}
    names |= {n.module or "" for n in ast.walk(ast.parse(path.read_text())) if isinstance(n, ast.ImportFrom)}
    assert {name.split(".")[0] for name in names} & {"sqlalchemy", "sqlmodel", "sqlite3", "alembic", "psycopg"} == set()
