"""A folder with a fresh store to copy from: a life begins with it in no time."""

from pathlib import Path

import pytest
from plytide.store import Store


@pytest.fixture(scope="session")
def template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One empty logbook, closed."""
    folder = tmp_path_factory.mktemp("template")
    with Store.open(f"sqlite:///{folder / 'plytide.db'}") as store:
        store.create_logbook()
    return folder
