"""Games brought in, listed, gone through and corrected over the API."""

from __future__ import annotations

import gzip
import json
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from fastness.web import uploads
from tests.store.material import ADA, IVY, TOM, pgn, some_games
from tests.web.working import brought, done, ended, imported

OTHER_IVY = "Flourdust, I."


def test_games_are_looked_over_before_they_are_kept(client: TestClient) -> None:
    upload = brought(client, ("monday.pgn", some_games().encode()))
    found = upload["look"]
    assert found["games"] == 6
    assert {one["name"]: one["games"] for one in found["names"]} == {ADA: 4, IVY: 4, TOM: 4}
    assert client.get("/api/games").json()["count"] == 0


def test_games_are_brought_in_once_with_new_students(client: TestClient) -> None:
    first = imported(client, some_games())
    assert (first["new"], first["before"]) == (6, 0)
    assert sorted(first["new_students"]) == sorted([ADA, IVY, TOM])
    again = imported(client, some_games())
    assert (again["new"], again["before"]) == (0, 6)
    students = client.get("/api/students").json()
    assert {one["name"]: (one["games"], one["group_name"]) for one in students} == dict.fromkeys(
        [ADA, IVY, TOM], (4, "Monday")
    )


def test_a_doubtful_name_is_told_and_settled(client: TestClient) -> None:
    imported(client, some_games())
    other = pgn(OTHER_IVY, TOM, "1. e4 e5 2. Nf3 f6 3. Nxe5")
    upload = brought(client, ("more.pgn", other.encode()))
    doubtful = next(one for one in upload["look"]["names"] if one["name"] == OTHER_IVY)
    assert doubtful["student"] is None
    assert IVY in doubtful["alike"]
    how = {"names": [{"name": OTHER_IVY, "means": "student", "student": IVY}], "offers": False}
    result = done(client, client.post(f"/api/uploads/{upload['id']}/import", json=how).json())
    assert (result["new"], result["new_students"]) == (1, [])
    ivy = next(one for one in client.get("/api/students").json() if one["name"] == IVY)
    assert ivy["games"] == 5
    assert OTHER_IVY in ivy["names"]


def test_places_are_grouped_by_what_fell(client: TestClient) -> None:
    imported(client, some_games())
    groups = client.get("/api/places", params={"held": True}).json()
    assert groups
    for group in groups:
        assert group["title"]
        for place in group["places"]:
            assert place["told"].endswith(".")
            assert place["what"] == group["what"]
    queens = next(one for one in groups if one["what"] == "queen")
    assert queens["fell"] > 0
    place = queens["places"][0]
    survey = client.get(
        "/api/survey", params={"fen": place["before"], "moves": " ".join(place["moves"])}
    ).json()
    assert survey["position"]["fen"].split()[:4] == place["fen"].split()[:4]
    german = client.get("/api/places", params={"language": "de"}).json()
    assert "Damen" in {one["title"] for one in german}


def test_a_game_is_told_with_its_positions(client: TestClient) -> None:
    imported(client, some_games())
    rows = client.get("/api/games", params={"most": 2}).json()
    assert rows["count"] == 6
    assert len(rows["games"]) == 2
    told = client.get(f"/api/games/{rows['games'][0]['id']}").json()
    assert told["steps"][0]["name"].startswith("1.")
    assert told["steps"][0]["spoken"].startswith("the pawn on ")
    assert told["row"] == rows["games"][0]
    assert told["row"]["places"] == len(told["places"])
    assert told["row"]["fell"] == sum(place["fell"] for place in told["places"])
    only = client.get("/api/games", params={"text": "weirwater"}).json()
    assert only["count"] == 4


def test_a_correction_is_kept_and_undone(client: TestClient) -> None:
    imported(client, some_games())
    before = client.get("/api/places").json()
    place = before[0]["places"][0]
    path = f"/api/games/{place['game']}/corrections"
    said = {"ply": place["ply"], "kind": place["kind"], "action": "strike", "reason": "a slip"}
    made = client.post(path, json=said)
    assert made.status_code == 201
    assert made.json()["replaced"] == []
    assert place not in client.get("/api/places").json()[0]["places"]
    second = client.post(path, json={**said, "reason": "a slip of the pen"}).json()
    assert second["replaced"][0]["reason"] == "a slip"
    number = second["made"]["id"]
    assert client.delete(f"{path}/{number}").json()["reason"] == "a slip of the pen"
    assert client.get("/api/places").json() == before
    assert client.delete(f"{path}/{number}").status_code == 404


@pytest.mark.parametrize(
    ("said", "status"),
    [
        ({"ply": 999}, 422),
        ({"reason": " "}, 422),
        ({"action": "overrule"}, 422),
        ({"action": "overrule", "outcome": "splendid"}, 422),
        ({"move": "Ke5"}, 422),
        ({"move": "?"}, 422),
    ],
)
def test_a_correction_that_cannot_be_is_refused(
    client: TestClient, said: dict[str, object], status: int
) -> None:
    imported(client, some_games(1))
    game = client.get("/api/games").json()["games"][0]["id"]
    whole = {"ply": 3, "action": "strike", "reason": "a reason", **said}
    answer = client.post(f"/api/games/{game}/corrections", json=whole)
    assert answer.status_code == status
    assert answer.json()["detail"]


def test_a_pasted_game_is_gone_through_without_being_kept(client: TestClient) -> None:
    text = "1. e4 e5 2. Nf3 Nc6 3. Bc4 Nd4 4. Nxe5 Qg5 5. Nxf7 Qxg2 6. Rf1 Qxe4+ *"
    upload = client.post("/api/uploads/text", json={"text": text}).json()
    result = done(client, client.post(f"/api/uploads/{upload['id']}/sift", json={}).json())
    assert result["games"] == 1
    assert any(group["places"] for group in result["groups"])
    assert client.get("/api/games").json()["count"] == 0


def test_a_stopped_import_keeps_what_was_brought_in(client: TestClient) -> None:
    upload = brought(client, ("many.pgn", some_games(300).encode()))
    names = [{"name": name, "means": "new"} for name in (ADA, IVY, TOM)]
    how = {"names": names, "offers": False}
    job = client.post(f"/api/uploads/{upload['id']}/import", json=how).json()
    while client.get(f"/api/jobs/{job['id']}").json()["progress"]["done"] < 3:
        pass
    client.delete(f"/api/jobs/{job['id']}")
    assert ended(client, job)["state"] == "stopped"
    assert client.get("/api/games").json()["count"] > 0


def test_a_job_is_followed_to_its_end(client: TestClient) -> None:
    answer = client.post("/api/uploads/text", json={"text": some_games(3)})
    job = answer.json()["job"]
    with client.stream("GET", f"/api/jobs/{job['id']}/events") as events:
        assert events.headers["content-type"].startswith("text/event-stream")
        told = [json.loads(line[6:]) for line in events.iter_lines() if line.startswith("data: ")]
    assert told[-1]["state"] == "done"
    assert told[-1]["result"]["found"]["games"] == 3


def test_packed_files_are_read(client: TestClient) -> None:
    packed = gzip.compress(some_games(2).encode())
    assert brought(client, ("games.pgn.gz", packed))["look"]["games"] == 2


def test_problems_name_the_file_and_not_where_it_lies(client: TestClient, tmp_path: Path) -> None:
    bad = pgn(ADA, IVY, "1. e4 e5 2. Kf5")
    found = brought(client, ("club evening.pgn", bad.encode()))["look"]
    assert "club evening.pgn" in found["problems"][0]
    assert str(tmp_path) not in found["problems"][0]
    assert "/tmp" not in found["problems"][0]


def test_only_the_last_uploads_are_kept(
    client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(uploads, "KEPT", 2)
    made = [brought(client, ("one.pgn", some_games(1).encode()))["id"] for _ in range(4)]
    codes = [client.post(f"/api/uploads/{number}/sift", json={}).status_code for number in made]
    assert codes == [422, 422, 202, 202]
