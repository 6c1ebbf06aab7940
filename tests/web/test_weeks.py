"""The week step by step, twins and mining, over the API."""

from __future__ import annotations

import io
import zipfile

import pytest
from fastapi.testclient import TestClient

from tests.store.material import ADA, IVY, TOM, pgn
from tests.web.working import brought, done, ended, imported

GAMES = "".join(
    [
        pgn(ADA, IVY, "1. e4 e5 2. Nf3 Nc6 3. Bc4 Nf6 4. Ng5 Bc5 5. Nxf7 Bxf2+ 6. Kxf2 Nxe4+"),
        pgn(IVY, TOM, "1. e4 e5 2. Nf3 d6 3. d4 Bg4 4. dxe5 Bxf3 5. Qxf3 dxe5 6. Bc4 Nf6 7. Qb3"),
        pgn(TOM, ADA, "1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. Bg5 Nbd7 5. cxd5 exd5 6. Nxd5 Nxd5 7. Bxd8"),
    ]
)
QUIET = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"
OWN = "4k3/8/8/3n4/4P3/8/8/4K3 b - - 0 1"
POSITION = "r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12"


@pytest.mark.slow
def test_a_week_from_files_to_sheets(client: TestClient) -> None:
    upload = brought(client, ("monday.pgn", GAMES.encode()))
    names = [{"name": name, "means": "new"} for name in (ADA, IVY, TOM)]
    new = {"group": "Monday", "upload": upload["id"], "names": names, "offers": False}
    number = done(client, client.post("/api/weeks", json=new).json())["week"]
    path = f"/api/weeks/{number}"
    week = client.get(path, params={"language": "de"}).json()
    assert (week["group"], week["games"]) == ("Monday", 3)
    assert 1 <= len(week["positions"]) <= 6
    first = week["positions"][0]
    assert first["taken"] is True
    assert first["line"]
    assert client.get(f"{path}/folder").status_code == 422

    refused = client.put(f"{path}/positions/{first['number']}", json={"taken": False}).json()
    assert refused["positions"][0]["taken"] is False
    client.put(f"{path}/positions/{first['number']}", json={"taken": True})

    done(client, client.post(f"{path}/positions/{first['number']}/other", json={}).json())
    after = client.get(path).json()
    replaced = [one["number"] for one in after["positions"]]
    if after["more"]:
        assert first["number"] not in replaced
        assert len(replaced) == len(week["positions"])
    else:
        assert first["number"] in replaced

    other = f"{path}/positions/{after['positions'][0]['number']}/other"
    quiet = ended(client, client.post(other, json={"fen": QUIET}).json())
    assert "Nothing is in danger" in quiet["problem"]
    done(client, client.post(other, json={"fen": OWN}).json())
    own = client.get(path).json()["positions"][0]
    assert (own["own"], own["fen"], own["student"]) == (True, OWN, "")

    done(client, client.post(f"{path}/files", json={"large": True}).json())
    written = client.get(path).json()["files"]
    assert "exercises.pgn" in written
    whole = zipfile.ZipFile(io.BytesIO(client.get(f"{path}/folder").content))
    assert sorted(whole.namelist()) == sorted(written)
    one = client.get(f"{path}/files/{written[0]}")
    assert one.content.startswith(b"%PDF")
    assert client.get(f"{path}/files/..%2F..%2Fstore.sqlite").status_code == 404
    assert client.get("/api/shelf").json()["count"] > 0
    assert [one["id"] for one in client.get("/api/weeks").json()] == [number]


def test_a_week_of_stored_games_needs_some(client: TestClient) -> None:
    client.post("/api/groups", json={"name": "Monday"})
    told = ended(client, client.post("/api/weeks", json={"group": "Monday"}).json())
    assert told["state"] == "failed"
    assert "no game" in told["problem"]
    none = ended(client, client.post("/api/weeks", json={"group": "Tuesday"}).json())
    assert "Tuesday" in none["problem"]


def test_twins_are_looked_for_in_a_job(client: TestClient) -> None:
    asked = {"fen": POSITION, "count": 1, "seconds": 60, "language": "de"}
    found = done(client, client.post("/api/twins", json=asked).json())
    assert found["best"].startswith("Das Beste hier")
    assert len(found["twins"]) == 1
    assert found["twins"][0]["fen"] != POSITION
    bad = client.post("/api/twins", json={**asked, "fen": "8/8/8/8/8/8/8/8 w - - 0 1"})
    assert bad.status_code == 422


def test_a_search_for_twins_is_stopped(client: TestClient) -> None:
    asked = {"fen": POSITION, "count": 5, "seconds": 120}
    job = client.post("/api/twins", json=asked).json()
    client.delete(f"/api/jobs/{job['id']}")
    assert ended(client, job)["state"] == "stopped"


def test_positions_are_made_on_request(client: TestClient) -> None:
    asked = {"unit": "knight", "count": 1, "keep": True, "language": "de"}
    made = done(client, client.post("/api/composing", json=asked).json())
    assert len(made["positions"]) == 1
    assert client.get("/api/shelf").json()["count"] == made["exercises"] > 0
    never = client.post("/api/composing", json={"unit": "pawn", "mechanism": "trapped"})
    assert (never.status_code, never.json()["code"]) == (422, "option")


def test_games_are_mined_for_the_shelf(client: TestClient) -> None:
    upload = brought(client, ("monday.pgn", GAMES.encode()))
    asked = {"upload": upload["id"], "limit": 1, "quiet": False}
    found = done(client, client.post("/api/mining", json=asked).json())
    assert found["positions"] == 1
    assert client.get("/api/shelf").json()["count"] == found["exercises"] > 0
    assert imported(client, GAMES)["new"] == 3


def test_exercises_are_made_of_the_positions_chosen(client: TestClient) -> None:
    """Those alone, told with their questions, and told again where they are on the shelf."""
    upload = brought(client, ("monday.pgn", GAMES.encode()))
    groups = done(client, client.post(f"/api/uploads/{upload['id']}/sift", json={}).json())[
        "groups"
    ]
    chosen = [place["fen"] for group in groups for place in group["places"]][:2]
    asked = {"upload": upload["id"], "positions": chosen}
    found = done(client, client.post("/api/mining", json=asked).json())
    there = {" ".join(fen.split()[:4]) for fen in chosen}
    assert found["exercises"] == len(found["rows"]) > 0
    assert {" ".join(row["fen"].split()[:4]) for row in found["rows"]} <= there
    again = done(client, client.post("/api/mining", json=asked).json())
    assert (again["exercises"], again["rows"]) == (0, found["rows"])
    of = [row["number"] for row in found["rows"][:1]]
    choice = client.post("/api/sheets/choice", json={"of": of, "count": 6}).json()
    assert [row["number"] for row in choice] == of
