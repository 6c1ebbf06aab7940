"""The class board over the API: the teacher's side, and what the class sees."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient

from fastness import core
from fastness.exercises.admission import exercises_of
from fastness.exercises.proving import prove
from fastness.store import open_store
from fastness.web.application import create_app
from fastness.web.settings import Settings
from fastness.workflows.shelving import shelve
from tests.classroom.boards import FEW, QUIET
from tests.web.conftest import CHANGE
from tests.web.test_guard import PASSWORD

ASKED = "6k1/1p3ppp/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1"
TWINNED = {
    "positions": [
        {"fen": FEW, "student": "Flourdust, Ivy", "twin": {"fen": QUIET, "text": "..."}},
    ]
}


@pytest.fixture(autouse=True)
def few_nodes(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is tried here are the routes and not the ranks."""
    monkeypatch.setattr(core, "RANK_NODES", 100)


class Board:
    """A class board as the pages use it."""

    def __init__(self, client: TestClient, **what: Any) -> None:
        self.client = client
        answer = client.post("/api/classes", json=what or {"fen": FEW})
        assert answer.status_code == 201, answer.text
        self.told: dict[str, Any] = answer.json()["told"]
        self.link: dict[str, Any] = answer.json()["link"]
        self.path = f"/api/classes/{self.told['number']}"

    def do(self, method: str, path: str, **body: Any) -> dict[str, Any]:
        answer = self.client.request(method, f"{self.path}{path}", json=body)
        assert answer.status_code == 200, answer.text
        self.told = answer.json()
        return self.told

    def sees(self) -> dict[str, Any]:
        answer = self.client.get(f"/api/shared/boards/{self.link['word']}")
        assert answer.status_code == 200, answer.text
        seen: dict[str, Any] = answer.json()
        return seen


def test_a_lesson_at_the_board(client: TestClient) -> None:
    board = Board(client)
    assert board.sees()["fen"] == FEW
    tried = board.do("POST", "/tries", move="Rf8")["now"]["tries"][0]
    assert (tried["name"], tried["holds"], tried["hands"]) == ("Rf8", False, 0)
    assert board.sees() == board.told["sees"]
    assert board.sees()["fen"] == FEW
    number = tried["number"]
    for change in (1, 1, 1, -1):
        board.do("POST", f"/tries/{number}/hands", change=change)
    assert board.told["now"]["tries"][0]["hands"] == 2
    board.do("PUT", "/shown", what="try", number=number, said=False)
    assert (board.sees()["moves"], board.sees()["told"]) == (["f3f8"], "")
    board.do("PUT", "/said", said=True)
    assert board.sees()["told"].startswith("Rf8 loses 3 pawns' worth")
    board.do("PUT", "/step", step=2)
    assert board.sees()["moves"] == ["f3f8", "a5c4"]
    board.do("POST", "/play", number=number)
    board.do("POST", "/play/moves", move="Kc5")
    line = [step["uci"] for step in board.told["now"]["play"]["line"]["steps"]]
    assert line[:3] == ["f3f8", "a5c4", "d6c5"]
    assert len(line) == 4
    board.do("DELETE", "/play/moves")
    assert len(board.told["now"]["play"]["line"]["steps"]) == 2
    board.do("PUT", "/shown", what="answer")
    assert "keeps the material" in board.sees()["told"]
    board.do("PUT", "/shown", what="marks")
    assert set(board.sees()["marks"]["ringed"]) == {"e3", "f3"}
    board.do("PUT", "/shown", what="side")
    assert board.sees()["told"] == "Black to move."
    board.do("PUT", "/shown", what="position")
    assert board.sees()["fen"] == FEW
    board.do("DELETE", f"/tries/{number}")
    assert board.told["now"]["tries"] == []


def test_it_is_prepared_from_the_shelf_a_folder_and_a_position(tmp_path: Path) -> None:
    place = tmp_path / "store.sqlite"
    store = open_store(place)
    shelve(store, list(exercises_of(prove(ASKED))))
    store.close()
    app = create_app(Settings(str(place), tmp_path / "static"))
    with TestClient(app, base_url="http://127.0.0.1:8620", headers=CHANGE) as client:
        text = json.dumps(TWINNED)
        board = Board(client, title="Monday", fen=QUIET, exercises=[1], text=text)
        origins = [(one["origin"], one["of"], one["fen"]) for one in board.told["positions"]]
        assert origins == [
            ("own", 0, QUIET),
            ("exercise", 1, ASKED),
            ("week", 1, FEW),
            ("twin", 1, QUIET),
        ]
        numbers = [one["number"] for one in board.told["positions"]]
        board.do("PUT", "/current", position=numbers[1])
        assert board.told["now"]["asked"].startswith("Black to move.")
        board.do("PUT", f"/positions/{numbers[1]}/note", note="Which guard is pinned?")
        assert board.told["now"]["note"] == "Which guard is pinned?"
        assert "pinned" not in json.dumps(board.sees())
        read = client.get(f"{board.path}/survey").json()
        assert (read["position"]["fen"], read["firm"], read["ranked"]) == (ASKED, True, True)
        board.do("POST", "/positions", fen=FEW)
        assert len(board.told["positions"]) == 5
        board.do("DELETE", f"/positions/{numbers[1]}")
        assert board.told["now"]["number"] == numbers[2]
        assert "Ivy" not in (tmp_path / "classes.json").read_text("utf-8")


def test_a_session_is_there_again_when_the_workbench_is(settings: Settings) -> None:
    def bench() -> TestClient:
        return TestClient(create_app(settings), base_url="http://127.0.0.1:8620", headers=CHANGE)

    with bench() as client:
        board = Board(client, title="Monday", fen=FEW)
        before = board.do("POST", "/tries", move="Rf8")
    with bench() as client:
        assert client.get(board.path).json()["told"] == before
        assert client.get(f"/api/shared/boards/{board.link['word']}").json() == before["sees"]
        assert [one["title"] for one in client.get("/api/classes").json()] == ["Monday"]
        assert client.delete(board.path).status_code == 204
    with bench() as client:
        assert client.get("/api/classes").json() == []


def test_the_screen_has_its_own_language_and_look(client: TestClient) -> None:
    board = Board(client, fen=FEW, language="de")
    board.do("PUT", "/shown", what="side")
    assert board.sees()["told"] == "Schwarz am Zug."
    assert board.told["shown"]["told"] == "Black to move."
    board.do("PUT", "/screen", turned=True, theme="dark", language="en")
    seen = board.sees()
    assert (seen["side"], seen["theme"], seen["told"]) == ("white", "dark", "Black to move.")


def events_until_over(client: TestClient, path: str) -> list[dict[str, Any]]:
    """The events of a stream that has an end."""
    answer = client.get(path)
    assert answer.headers["content-type"].startswith("text/event-stream")
    rows = answer.text.splitlines()
    return [json.loads(row.removeprefix("data: ")) for row in rows if row.startswith("data: ")]


def test_a_board_that_is_ended_is_over_for_those_who_follow(client: TestClient) -> None:
    board = Board(client)
    word, number = board.link["word"], board.told["number"]
    bench = client.app.state.workbench  # type: ignore[attr-defined]
    desk = bench.classes.get(number)
    desk.over = True
    (last,) = events_until_over(client, f"/api/shared/boards/{word}/events")
    assert (last["over"], last["fen"]) == (True, "")
    assert len(events_until_over(client, f"{board.path}/events?language=de")) == 1
    assert client.delete(board.path).status_code == 204
    for path in (f"/api/shared/boards/{word}", f"/api/shared/boards/{word}/events", board.path):
        assert client.get(path).status_code == 404


@pytest.mark.parametrize(
    ("method", "path", "body", "status", "told"),
    [
        ("POST", "/tries", {"move": "Rf9"}, 422, "Rf9"),
        ("POST", "/tries", {"move": "Rf8 Nc4"}, 422, "is not one move"),
        ("PUT", "/shown", {"what": "try", "number": 5}, 404, "no try 5"),
        ("PUT", "/step", {"step": 1}, 422, "No line"),
        ("PUT", "/said", {"said": True}, 422, "no sentence"),
        ("POST", "/play/moves", {"move": "Kc5"}, 422, "Nobody plays on"),
        ("DELETE", "/play/moves", {}, 422, "Nobody plays on"),
        ("PUT", "/current", {"position": 9}, 404, "no position 9"),
        ("DELETE", "/positions/1", {}, 422, "only position"),
        ("POST", "/positions", {"fen": "8/8/8/8/8/8/8/8 w - - 0 1"}, 422, "empty"),
    ],
)
def test_what_cannot_be_done_is_told_and_changes_nothing(
    client: TestClient, method: str, path: str, body: dict[str, Any], status: int, told: str
) -> None:
    board = Board(client)
    answer = client.request(method, f"{board.path}{path}", json=body)
    assert (answer.status_code, answer.headers["content-type"]) == (
        status,
        "application/problem+json",
    )
    assert told in answer.json()["detail"]
    assert client.get(board.path).json()["told"] == board.told


def test_a_board_of_nothing_is_refused(client: TestClient) -> None:
    answer = client.post("/api/classes", json={})
    assert (answer.status_code, "needs a position" in answer.json()["detail"]) == (422, True)
    assert client.post("/api/classes", json={"week": "none"}).status_code == 404
    assert client.post("/api/classes", json={"exercises": [3]}).status_code == 404


@pytest.fixture
def shared(tmp_path: Path) -> Iterator[TestClient]:
    address = "http://192.168.1.5:8620"
    settings = Settings(str(tmp_path / "store.sqlite"), tmp_path, shared=True, addresses=(address,))
    app = create_app(settings)
    app.state.workbench.access.set_password(PASSWORD)
    with TestClient(app, base_url=address, headers=CHANGE) as client:
        client.post("/api/session", json={"password": PASSWORD})
        yield client


def test_whoever_has_the_link_sees_the_board_and_cannot_change_it(shared: TestClient) -> None:
    board = Board(shared, fen=FEW, title="Monday", text=QUIET)
    board.do("POST", "/tries", move="Rf8")
    assert board.link["addresses"] == [f"http://192.168.1.5:8620/b/{board.link['word']}"]
    shared.delete("/api/session")
    word = board.link["word"]
    assert board.sees()["fen"] == FEW
    assert set(board.sees()) == {
        "over",
        "fen",
        "side",
        "language",
        "theme",
        "marks",
        "moves",
        "spoken",
        "told",
    }
    headers = {"authorization": f"Bearer {word}", "cookie": f"fastness={word}"}
    for method, path in (
        ("GET", ""),
        ("GET", "/events"),
        ("GET", "/survey"),
        ("POST", "/tries"),
        ("PUT", "/shown"),
        ("DELETE", ""),
    ):
        answer = shared.request(method, f"{board.path}{path}", headers=headers, json={})
        assert answer.status_code == 401, path
    for method in ("POST", "PUT", "DELETE"):
        assert shared.request(method, f"/api/shared/boards/{word}").status_code == 405
    assert shared.get(f"/api/shared/reports/{word}").status_code == 404


def test_a_link_to_a_report_shows_no_board(shared: TestClient) -> None:
    board = Board(shared)
    student = shared.post("/api/students", json={"name": "Flourdust, Ivy"}).json()["id"]
    word = shared.post("/api/shares", json={"student": student}).json()["word"]
    assert shared.get(f"/api/shared/boards/{word}").status_code == 404
    assert shared.get(f"/api/shared/boards/{board.link['word']}").status_code == 200


def test_a_link_that_is_withdrawn_shows_nothing_any_more(shared: TestClient) -> None:
    board = Board(shared)
    desk = shared.app.state.workbench.classes.get(board.told["number"])  # type: ignore[attr-defined]
    before = desk.topic.version
    assert shared.delete("/api/shares").status_code == 204
    assert desk.topic.version == before + 1
    assert shared.get(f"/api/shared/boards/{board.link['word']}").status_code == 404
    fresh = shared.get(board.path).json()["link"]["word"]
    assert shared.get(f"/api/shared/boards/{fresh}").status_code == 200


def test_a_board_of_the_demo_goes_with_it(client: TestClient, tmp_path: Path) -> None:
    bench = client.app.state.workbench  # type: ignore[attr-defined]
    own = Board(client, title="own", fen=FEW)
    bench.enter_demo()
    invented = Board(client, title="invented", fen=FEW)
    assert [one["title"] for one in client.get("/api/classes").json()] == ["invented"]
    assert own.sees()["fen"] == FEW
    assert "invented" not in (tmp_path / "classes.json").read_text("utf-8")
    bench.leave_demo()
    assert [one["title"] for one in client.get("/api/classes").json()] == ["own"]
    assert client.get(f"/api/shared/boards/{invented.link['word']}").status_code == 404
