"""The routes for one position."""

import pytest
from fastapi.testclient import TestClient

CHECK = "4k3/8/8/8/8/8/4q3/4K3 w - - 0 1"
MATE = "R5k1/5ppp/8/8/8/8/8/6K1 b - - 0 1"
KNIGHT = "r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12"


def test_a_survey_tells_what_is_not_safe_and_what_keeps_it(client: TestClient) -> None:
    told = client.get("/api/survey", params={"fen": KNIGHT}).json()
    assert told["reading"]["ringed"] == ["e5"]
    assert told["reading"]["dangers"][0]["told"].startswith("The knight on e5 is not safe")
    assert {one["name"] for one in told["moves"] if one["holds"]} == {
        one["name"] for one in told["reading"]["keeping"]
    }
    last = told["reading"]["failing"][0]["line"]["steps"][-1]
    assert last["fen"].split()[0] != KNIGHT.split()[0]


def test_a_survey_speaks_german(client: TestClient) -> None:
    told = client.get("/api/survey", params={"fen": KNIGHT, "language": "de"}).json()
    assert told["reading"]["danger_title"] == "Was nicht sicher ist"


def test_every_broken_rule_is_told(client: TestClient) -> None:
    fen = "P7/8/8/8/8/8/8/4K3 w KQ - 0 1"
    told = client.get("/api/position", params={"fen": fen}).json()
    assert told["position"] is None
    codes = {one["code"] for one in told["faults"]}
    assert codes == {"no_king", "pawn_on_last_rank", "castling_rights"}


@pytest.mark.parametrize(
    ("path", "params", "code"),
    [
        ("/api/survey", {"fen": "8/8/8/8/8/8/8/8 w - - 0 1"}, "position"),
        ("/api/survey", {"fen": KNIGHT, "moves": "Ke2"}, "move"),
        ("/api/survey", {"fen": KNIGHT, "ways": "run"}, "option"),
        ("/api/survey", {"fen": KNIGHT, "reach": "9"}, "request"),
        ("/api/survey", {}, "request"),
    ],
)
def test_bad_input_is_a_problem(
    client: TestClient, path: str, params: dict[str, str], code: str
) -> None:
    answer = client.get(path, params=params)
    assert answer.status_code == 422
    assert answer.headers["content-type"] == "application/problem+json"
    assert answer.json()["code"] == code
    assert answer.json()["detail"]


def test_a_position_that_cannot_stand_is_refused_with_every_rule(client: TestClient) -> None:
    fen = "P7/8/8/8/8/8/8/4K3 w KQ - 0 1"
    told = client.get("/api/survey", params={"fen": fen, "language": "de"}).json()
    assert [one["code"] for one in told["faults"]] == [
        "no_king", "pawn_on_last_rank", "castling_rights",
    ]  # fmt: skip
    assert told["faults"][0]["told"].startswith("Schwarz hat keinen König")


def test_the_other_sides_view_is_that_after_a_pass(client: TestClient) -> None:
    told = client.get("/api/survey", params={"fen": KNIGHT, "other": True}).json()
    assert told["position"]["side"] == "white"
    assert told["position"]["fen"].split()[0] == KNIGHT.split()[0]
    check = client.get("/api/survey", params={"fen": CHECK, "other": True}).json()
    assert check["faults"][0]["code"] == "in_check"


def test_a_line_is_played_on(client: TestClient) -> None:
    asked = {"fen": KNIGHT, "moves": "12...Qxd1 13.Raxd1 a6"}
    told = client.get("/api/reply", params=asked).json()
    assert told["step"]["uci"] == "f4e5"
    assert told["step"]["spoken"] == "the pawn on f4 takes the knight on e5"
    assert told["position"]["side"] == "black"
    over = client.get("/api/reply", params={"fen": MATE}).json()
    assert over["step"] is None
    assert over["position"]["over"] == "mate"


def test_the_same_question_is_answered_once(client: TestClient) -> None:
    first = client.get("/api/survey", params={"fen": KNIGHT})
    kept = client.get("/api/survey", params={"fen": KNIGHT})
    assert first.content == kept.content
    answers = client.app.state.workbench.surveyor.answers  # type: ignore[attr-defined]
    assert answers.made == 1


def test_what_is_not_there_is_a_problem(client: TestClient) -> None:
    answer = client.get("/api/nothing")
    assert answer.status_code == 404
    assert answer.json()["code"] == "not_found"
