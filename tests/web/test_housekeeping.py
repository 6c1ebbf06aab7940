"""The store over the API: what it holds, backups, exports, erasing, the demo."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from fastness.web import housekeeping
from fastness.workflows import demo
from tests.store.material import ADA, IVY, TOM, some_games
from tests.web.working import done, ended, imported


def held(client: TestClient) -> dict[str, int]:
    holds: dict[str, int] = client.get("/api/store").json()["holds"]
    return holds


def test_a_first_run_holds_nothing(client: TestClient) -> None:
    assert set(held(client).values()) == {0}


def test_a_backup_is_restored_and_the_restoring_undone(client: TestClient) -> None:
    imported(client, some_games(1))
    backup = client.post("/api/store/backup", json={}).content
    imported(client, some_games(6))
    more = held(client)
    restored = client.post("/api/store/restore", files={"backup": ("b.sqlite", backup)})
    assert restored.status_code == 200, restored.text
    assert held(client)["games"] == 1
    back = client.post("/api/store/put-back", json={"kept": restored.json()["kept"]})
    assert back.status_code == 200, back.text
    assert held(client) == more


def test_a_sealed_backup_needs_its_passphrase(client: TestClient) -> None:
    imported(client, some_games(1))
    sealed = client.post("/api/store/backup", json={"passphrase": "mill wheel"}).content
    assert ADA.encode() not in sealed
    files = {"backup": ("b.sealed", sealed)}
    assert client.post("/api/store/restore", files=files).status_code == 409
    right = client.post("/api/store/restore", files=files, data={"passphrase": "mill wheel"})
    assert right.status_code == 200


@pytest.mark.parametrize("kept", ["", "store.sqlite", "../store.sqlite.before-restore-1", "/etc/x"])
def test_only_a_store_that_was_kept_is_put_back(client: TestClient, kept: str) -> None:
    imported(client, some_games(1))
    assert client.post("/api/store/put-back", json={"kept": kept}).status_code == 409
    assert held(client)["games"] == 1


def test_what_is_no_backup_is_refused_and_the_store_stays(client: TestClient) -> None:
    imported(client, some_games(1))
    for data in (b"", b"SQLite format 3\0 and no more", b"PK\x03\x04"):
        answer = client.post("/api/store/restore", files={"backup": ("b.sqlite", data)})
        assert answer.status_code == 409
        answer = client.post("/api/store/bring-back", files={"archive": ("b.zip", data)})
        assert answer.status_code == 409
    assert held(client)["games"] == 1


def test_an_export_is_brought_back(client: TestClient) -> None:
    imported(client, some_games(6))
    whole = client.post("/api/store/export").content
    assert "games.pgn" in zipfile.ZipFile(io.BytesIO(whole)).namelist()
    ivy = next(one for one in client.get("/api/students").json() if one["name"] == IVY)
    part = client.post(f"/api/students/{ivy['id']}/export").content
    assert b"record.json" in part
    again = client.post("/api/store/bring-back", files={"archive": ("e.zip", whole)})
    assert again.json() == {"games": 6}
    assert held(client)["games"] == 6


def test_an_erasing_can_be_stopped_and_then_done(
    client: TestClient, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    imported(client, some_games(6))
    ivy = next(one for one in client.get("/api/students").json() if one["name"] == IVY)
    path = f"/api/students/{ivy['id']}/erase"
    assert client.post(path, json={"name": "Ivy"}).status_code == 422
    job = client.post(path, json={"name": IVY}).json()
    client.delete(f"/api/jobs/{job['id']}")
    assert ended(client, job)["state"] == "stopped"
    assert held(client)["students"] == 3
    monkeypatch.setattr(housekeeping, "GRACE", 0)
    erased = done(client, client.post(path, json={"name": IVY}).json())
    assert erased["name"] == IVY
    assert {one["name"] for one in client.get("/api/students").json()} == {ADA, TOM}
    assert b"Flourdust" not in (tmp_path / "store.sqlite").read_bytes()


def test_the_demo_has_a_store_of_its_own(
    client: TestClient, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    imported(client, some_games(1))
    own = held(client)
    games = tmp_path / "demo.pgn"
    games.write_text(some_games(4), "utf-8")
    monkeypatch.setattr(demo, "GAMES", games)
    monkeypatch.setattr(demo, "MINED", 1)
    told = done(client, client.post("/api/demo").json())
    assert (told["students"], told["games"]) == (3, 4)
    assert client.get("/api/store").json()["demo"] is True
    assert held(client)["games"] == 4
    assert client.delete("/api/demo").json()["demo"] is False
    assert held(client) == own
    assert not (tmp_path / "demo.sqlite").exists()


def test_the_demos_games_are_here() -> None:
    assert demo.GAMES.is_file()


def test_the_store_is_not_replaced_while_something_is_worked_on(client: TestClient) -> None:
    asked = {"fen": "r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12", "seconds": 100}
    job = client.post("/api/twins", json=asked).json()
    answer = client.post("/api/store/restore", files={"backup": ("b.sqlite", b"x")})
    assert (answer.status_code, answer.json()["code"]) == (429, "busy")
    client.delete(f"/api/jobs/{job['id']}")
    ended(client, job)
