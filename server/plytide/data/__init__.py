"""The tables that server and page both read: the limb, the signs. One loader, each file read once."""

from __future__ import annotations

import json
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def table(name: str) -> Any:
    """The table `name` (such as "limb") as plain data. Shared by all callers: read it, never change it.

    Raises FileNotFoundError, naming the file, when there is no such table.
    """
    return json.loads((files("plytide.data") / f"{name}.json").read_text(encoding="utf-8"))
