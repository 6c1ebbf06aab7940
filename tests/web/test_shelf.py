"""Exercises and sheets over the API."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pypdf
import pytest
from fastapi.testclient import TestClient

from fastness.exercises.admission import exercises_of
from fastness.exercises.proving import prove
from fastness.store import open_store
from fastness.web.application import create_app
from fastness.web.settings import Settings
from fastness.workflows.shelving import shelve
from tests.web.conftest import CHANGE

POSITIONS = (
    "r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12",
    "6k1/1p3ppp/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1",
)


@pytest.fixture(scope="module")
def shelf(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    folder: Path = tmp_path_factory.mktemp("shelf")
    place = str(folder / "store.sqlite")
    store = open_store(place)
    for fen in POSITIONS:
        shelve(store, list(exercises_of(prove(fen))))
    store.close()
    with TestClient(
        create_app(Settings(place, folder)), base_url="http://localhost", headers=CHANGE
    ) as client:
        yield client


def test_exercises_are_found_by_what_they_are(shelf: TestClient) -> None:
    every = shelf.get("/api/shelf").json()
    assert every["count"] == len(every["exercises"]) > 3
    kinds = shelf.get("/api/shelf", params={"kind": ["every move", "which unit"]}).json()
    assert 0 < kinds["count"] < every["count"]
    assert {one["kind"] for one in kinds["exercises"]} <= {"every move", "which unit"}
    page = shelf.get("/api/shelf", params={"after": 1, "most": 2}).json()
    assert page["exercises"] == every["exercises"][1:3]
    assert shelf.get("/api/shelf", params={"kind": "guess"}).status_code == 422


def test_an_exercise_is_shown_with_its_proof(shelf: TestClient) -> None:
    rows = shelf.get("/api/shelf", params={"kind": "which unit"}).json()["exercises"]
    told = shelf.get(f"/api/shelf/{rows[0]['number']}").json()
    assert told["right"] == "e5"
    assert told["ringed"] == ["e5"]
    assert told["lines"][0]["steps"]
    assert told["terms"]


def test_an_answer_is_overruled_and_the_undoing_undone(shelf: TestClient) -> None:
    row = shelf.get("/api/shelf", params={"kind": "why it fails"}).json()["exercises"][0]
    path = f"/api/shelf/{row['number']}"
    before = shelf.get(path).json()
    move = before["right"].split(", ")[0]
    said = {"action": "overrule", "answer": move, "verdict": "wrong", "reason": "too hard to see"}
    made = shelf.post(f"{path}/corrections", json=said).json()
    assert made["replaced"] == []
    assert move not in shelf.get(path).json()["right"].split(", ")
    gone = shelf.delete(f"{path}/corrections/{made['made']['id']}").json()
    assert (gone["answer_name"], gone["verdict"]) == (move, "wrong")
    assert shelf.get(path).json() == before
    bad = shelf.post(f"{path}/corrections", json={**said, "answer": "Ke5"})
    assert bad.status_code == 422


def test_a_struck_exercise_is_left_out(shelf: TestClient) -> None:
    before = shelf.get("/api/shelf").json()
    path = f"/api/shelf/{before['exercises'][0]['number']}/corrections"
    made = shelf.post(path, json={"action": "strike", "reason": "known"}).json()["made"]
    assert shelf.get("/api/shelf").json()["count"] == before["count"] - 1
    struck = shelf.get("/api/shelf", params={"struck": True}).json()
    assert struck["exercises"][0]["struck"] is True
    shelf.delete(f"{path}/{made['id']}")
    assert shelf.get("/api/shelf").json() == before


def test_a_sheet_is_chosen_shown_and_printed(shelf: TestClient) -> None:
    chosen = shelf.post("/api/sheets/choice", json={"count": 2}).json()
    assert len({one["fen"] for one in chosen}) == 2
    order = {"theme": "Not safe", "exercises": [one["number"] for one in chosen]}
    sheets = shelf.post("/api/sheets", json=order).json()
    assert sheets[0]["questions"]["title"].startswith("Not safe")
    assert sheets[0]["rows"][0]["boxes"]
    whole = shelf.post("/api/sheets/file", json={**order, "large": True, "paper": "us-letter"})
    names = zipfile.ZipFile(io.BytesIO(whole.content)).namelist()
    assert len(names) == 2 * len(sheets)
    one = shelf.post("/api/sheets/file", json={**order, "sheet": 0, "part": "answers"})
    page = pypdf.PdfReader(io.BytesIO(one.content)).pages[0].extract_text()
    assert "Answers" in page


def test_the_shelf_and_its_sheets_in_german(shelf: TestClient) -> None:
    german = {"language": "de"}
    rows = shelf.get("/api/shelf", params={"kind": "which unit", **german}).json()["exercises"]
    assert "Schreib ihre Felder auf" in rows[0]["question"]
    told = shelf.get(f"/api/shelf/{rows[0]['number']}", params=german).json()
    assert told["told"][0].startswith("Richtig: ")
    assert told["row"]["kind"] == "which unit"
    chosen = shelf.post("/api/sheets/choice", json={"count": 1, **german}).json()
    assert " am Zug. " in chosen[0]["question"]
    order = {"theme": "Sicher", "exercises": [rows[0]["number"]], **german}
    (sheet,) = shelf.post("/api/sheets", json=order).json()
    assert sheet["questions"]["language"] == "de"
    assert sheet["answers"]["title"].startswith("Lösungen: Sicher")


@pytest.mark.parametrize(
    "order",
    [
        {"exercises": []},
        {"exercises": [9999]},
        {"exercises": [1], "across": 4},
        {"exercises": [1], "theme": ""},
        {"exercises": list(range(1, 100))},
    ],
)
def test_a_sheet_that_cannot_be_is_refused(shelf: TestClient, order: dict[str, object]) -> None:
    answer = shelf.post("/api/sheets", json={"theme": "A theme", **order})
    assert answer.status_code in (404, 422)
