"""From a lesson on: the class board, drafts, replies to questions, practice."""

from __future__ import annotations

import pytest
from fastapi.testclient import TestClient

from fastness.exercises.admission import exercises_of
from fastness.exercises.proving import prove
from fastness.lessons.example import EXAMPLES
from fastness.web.workbench import Workbench
from fastness.workflows.shelving import shelve
from tests.web.working import ended

POSITION = "6k1/1p3ppp/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1"


def test_a_lesson_is_taught_in_its_order_with_its_prose_as_notes(client: TestClient) -> None:
    client.post("/api/lessons", json={"name": "guard"})
    begun = client.post("/api/lessons/guard/class", json={"language": "de"})
    assert begun.status_code == 201, begun.text
    told = begun.json()["told"]
    assert told["title"] == "guard"
    assert len(told["positions"]) == EXAMPLES["en"].count("```position")
    assert "seldom saved by a guard" in told["now"]["note"]
    screen = client.get(f"/api/shared/boards/{begun.json()['link']['word']}")
    assert "seldom" not in screen.text


def test_what_the_class_tried_stays_with_the_lesson(client: TestClient) -> None:
    client.post("/api/lessons", json={"name": "guard"})
    told = client.post("/api/lessons/guard/class", json={}).json()["told"]
    board = f"/api/classes/{told['number']}"
    assert client.get("/api/lessons/guard/taught").json() == []
    now = client.post(f"{board}/tries", json={"move": "Re8"}).json()["now"]
    client.post(f"{board}/tries", json={"move": "Nc6"})
    client.post(f"{board}/tries/{now['tries'][0]['number']}/hands", json={"change": 4})
    client.put(f"{board}/positions/{now['number']}/note", json={"note": "Ivy was first."})
    client.put("/api/lessons/guard/name", json={"name": "go"})
    assert client.delete(board).status_code == 204
    answer = client.get("/api/lessons/go/taught", params={"language": "de"})
    (taught,) = answer.json()
    assert taught["number"] == told["number"]
    (position,) = taught["positions"]
    assert position["number"] == 1
    rows = [(one["name"], one["hands"], one["told"]) for one in position["tries"]]
    assert rows == [("Te8", 4, "verliert etwas"), ("Sc6", 0, "hält das Material")]
    assert "Ivy" not in answer.text
    gone = client.delete(f"/api/lessons/go/taught/{told['number']}")
    assert client.get("/api/lessons/go/taught").json() == []
    assert client.delete(f"/api/lessons/go/taught/{told['number']}").status_code == 404
    assert client.post("/api/lessons/go/taught", json=gone.json()).status_code == 204
    back = client.get("/api/lessons/go/taught", params={"language": "de"})
    assert back.json() == answer.json()


def test_a_try_taken_out_is_not_kept_and_a_position_elsewhere_is_told(client: TestClient) -> None:
    client.post("/api/lessons", json={"name": "guard"})
    begun = client.post("/api/lessons/guard/class", json={}).json()["told"]
    board = f"/api/classes/{begun['number']}"
    client.post(f"{board}/positions", json={"fen": POSITION})
    told = client.get(board).json()["told"]
    client.put(f"{board}/current", json={"position": told["positions"][-1]["number"]})
    client.post(f"{board}/tries", json={"move": "Bf6"})
    tried = client.get(board).json()["told"]["now"]["tries"]
    (kept,) = client.get("/api/lessons/guard/taught").json()
    assert [one["number"] for one in kept["positions"]] == [0]
    client.delete(f"{board}/tries/{tried[0]['number']}")
    assert client.get("/api/lessons/guard/taught").json() == []


def test_a_lesson_without_a_position_is_not_taught(client: TestClient) -> None:
    client.post("/api/lessons", json={"name": "prose", "text": "Only prose.\n"})
    answer = client.post("/api/lessons/prose/class", json={})
    assert answer.status_code == 422
    assert client.get("/api/classes").json() == []


def test_a_draft_that_cannot_be_made_adds_no_lesson(client: TestClient) -> None:
    client.post("/api/lessons", json={"name": "taken"})
    what = {"name": "taken", "theme": "pin"}
    assert client.post("/api/lessons/drafts", json=what).status_code == 422
    job = client.post("/api/lessons/drafts", json={"name": "new", "theme": "pin"})
    told = ended(client, job.json())
    assert (told["state"], bool(told["problem"])) == ("failed", True)
    assert [one["name"] for one in client.get("/api/lessons").json()] == ["taken"]


@pytest.mark.slow
def test_a_question_is_answered(client: TestClient) -> None:
    asked = {"question": "Is my bishop on e5 safe?", "fen": POSITION}
    reply = client.post("/api/replies", json=asked).json()
    assert "e5" in reply["text"]
    assert reply["pictures"][0]["svg"].startswith("<svg")
    nonsense = client.post("/api/replies", json={"question": "Good evening!", "fen": POSITION})
    assert nonsense.status_code == 422
    for example in client.get("/api/replies/examples").json():
        assert isinstance(example, str)


def test_practice_is_chosen_shown_and_printed(client: TestClient) -> None:
    bench: Workbench = client.app.state.workbench  # type: ignore[attr-defined]
    student = client.post("/api/students", json={"name": "Flourdust, Ivy"}).json()["id"]
    path = f"/api/students/{student}/practice"
    assert client.post(path, json={}).status_code == 422
    shelve(bench.store, list(exercises_of(prove(POSITION))))
    made = client.post(path, json={"minutes": 10})
    assert made.status_code == 200, made.text
    assert made.json()["exercises"]
    assert "Flourdust" in made.json()["document"]["title"]
    assert client.post(f"{path}/files", json={"minutes": 10}).content[:2] == b"PK"


def test_a_sheet_to_catch_up_is_made_of_a_board_or_a_true_lesson(client: TestClient) -> None:
    group = client.post("/api/groups", json={"name": "Monday"}).json()["id"]
    ivy = client.post("/api/students", json={"name": "Flourdust, Ivy", "group": group}).json()["id"]
    held = {"theme": "After Ivy's game", "held": "2026-09-07", "present": [ivy]}
    lesson = client.post(f"/api/groups/{group}/lessons", json=held).json()["id"]
    path = f"/api/groups/{group}/lessons/{lesson}/catch-up"
    client.post("/api/lessons", json={"name": "guard"})
    told = client.post("/api/lessons/guard/class", json={}).json()["told"]
    client.post(f"/api/classes/{told['number']}/tries", json={"move": "Re8"})
    sheet = client.post(path, json={"board": told["number"], "form": "html"})
    assert sheet.status_code == 200, sheet.text
    assert "12...Re8" in sheet.text
    assert "Ivy" not in sheet.text
    assert client.post(path, json={"lesson": "guard"}).content[:5] == b"%PDF-"
    false = f"```position\n{POSITION}\nsafe: e5\n```\n"
    client.post("/api/lessons", json={"name": "false", "text": false})
    refused = client.post(path, json={"lesson": "false"})
    assert (refused.status_code, refused.json()["code"]) == (422, "untrue")
    assert "Position 1" in refused.json()["faults"][0]["told"]
    assert client.post(path, json={}).status_code == 422
    other = f"/api/groups/{group + 1}/lessons/{lesson}/catch-up"
    assert client.post(other, json={"lesson": "guard"}).status_code == 404
