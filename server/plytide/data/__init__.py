"""Tables that server and phone both read, as JSON files beside this module."""

from __future__ import annotations

import json
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def table(name: str) -> Any:
    """The table `name`.json, read once; shared, so nobody may change it. FileNotFoundError for a name there is not."""
    return json.loads((files(__name__) / f"{name}.json").read_text(encoding="utf-8"))
