from collections.abc import Iterator

import pytest

from tests.judge.plain import Plain, running


@pytest.fixture(scope="session")
def plain() -> Iterator[Plain]:
    with running() as reference:
        yield reference
