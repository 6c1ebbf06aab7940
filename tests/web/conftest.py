"""A workbench for the tests, with a store of its own."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from fastness.web.application import create_app
from fastness.web.settings import Settings

CHANGE = {"x-fastness": "1"}
"""What a page of the workbench sends with a change."""


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    return Settings(str(tmp_path / "store.sqlite"), tmp_path / "static")


@pytest.fixture
def client(settings: Settings) -> Iterator[TestClient]:
    app = create_app(settings)
    with TestClient(app, base_url="http://127.0.0.1:8620", headers=CHANGE) as client:
        yield client
