"""Small C libraries that stand between a process and the kernel, compiled where the tests run."""

import shutil
import subprocess
import sys
from pathlib import Path


def library(source: Path, folder: Path) -> Path:
    """A shared library from one C file, by the machine's compiler or the one that the ziglang package carries."""
    compiler = ["cc"] if shutil.which("cc") else [sys.executable, "-m", "ziglang", "cc"]
    out = folder / f"{source.stem}.so"
    flags = ["-shared", "-fPIC", "-O1", "-U_FORTIFY_SOURCE", str(source), "-o", str(out), "-ldl", "-lpthread"]
    subprocess.run([*compiler, *flags], check=True, capture_output=True)
    return out
