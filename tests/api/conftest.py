"""One server for the tests of a file; tests keep apart by having a logbook each."""

from collections.abc import Iterator

import pytest
from api.site import Phone, Site, running


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    with running(tmp_path_factory.mktemp("site")) as site:
        yield site


@pytest.fixture
def phone(site: Site) -> Iterator[Phone]:
    with site.phone() as phone:
        yield phone
