"""Every route tried with what its description allows and forbids: no error of the server.

The requests are made by schemathesis, the same on every run.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, settings

from fastness import core
from fastness.classroom.preparing import begin, given
from fastness.exercises.admission import exercises_of
from fastness.exercises.proving import prove
from fastness.store import open_store
from fastness.web import housekeeping
from fastness.web.application import create_app
from fastness.web.positions import EXAMPLE
from fastness.web.settings import Settings
from fastness.workflows.shelving import shelve
from scripts.openapi import description
from tests.store.material import brought_in, some_games
from tests.web.conftest import CHANGE

EXAMPLES = 5
"""Requests for each route."""
LEFT_OUT = {
    "/api/demo",
    "/api/store/restore",
    "/api/store/put-back",
    "/api/classes/{number}/events",
}
"""Tried in tests of their own: they would take away what the others are tried on, or never end."""
FEW = "8/8/8/3Kp3/4Pk2/8/8/8 w - - 0 1"
NUMBERS = ("number", "position", "correction", "lesson", "tried")

schema = schemathesis.openapi.from_dict(description())


@schemathesis.hook
def map_path_parameters(
    _context: schemathesis.HookContext, values: dict[str, object] | None
) -> dict[str, object] | None:
    """Small numbers, so that many of them name something that is there."""
    if values is None:
        return None
    return {
        name: value % 3 + 1 if name in NUMBERS and type(value) is int else value
        for name, value in values.items()
    }


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A workbench with some games, students and exercises."""
    folder: Path = tmp_path_factory.mktemp("schema")
    place = folder / "store.sqlite"
    store = open_store(place)
    games = folder / "games.pgn"
    games.write_text(some_games(), "utf-8")
    brought_in(store, games)
    shelve(store, list(exercises_of(prove("6k1/1p3ppp/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1"))))
    store.close()
    app = create_app(Settings(str(place), folder))
    with (
        pytest.MonkeyPatch.context() as patch,
        TestClient(app, base_url="http://127.0.0.1:8620", headers=CHANGE) as client,
    ):
        # Nobody is erased: the job would wait for a day, and is stopped before.
        patch.setattr(housekeeping, "GRACE", 86_400)
        patch.setattr(core, "RANK_NODES", 100)
        for number in (1, 2, 3):
            app.state.workbench.classes.add(begin(number, "Monday", [given(FEW)] * 3))
        yield client


@schema.exclude(path=list(LEFT_OUT)).parametrize()
@settings(
    max_examples=EXAMPLES,
    deadline=None,
    derandomize=True,
    database=None,
    suppress_health_check=list(HealthCheck),
)
def test_no_request_is_an_error_of_the_server(
    filled: TestClient, case: schemathesis.Case[Any]
) -> None:
    told = case.as_transport_kwargs(base_url="http://127.0.0.1:8620")
    told.pop("cookies", None)
    if isinstance(told.get("data"), bytes):
        told["content"] = told.pop("data")
    if isinstance(told.get("params"), dict) and told["params"].get("fen") == EXAMPLE:
        # What is tried here is the route and not the search.
        told["params"]["fen"] = FEW
    answer = filled.request(**told)
    assert answer.status_code < 500, answer.text
    if answer.status_code >= 400:
        assert answer.headers["content-type"] == "application/problem+json"
        assert answer.json()["detail"]
    # Long work is begun and not waited for.
    if answer.status_code == 202:
        filled.delete(f"/api/jobs/{answer.json()['id']}")
    elif told["url"].endswith(("/api/uploads", "/api/uploads/text")) and answer.is_success:
        filled.delete(f"/api/jobs/{answer.json()['job']['id']}")
