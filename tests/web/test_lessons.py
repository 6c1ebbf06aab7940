"""Lessons over the API: files, their parts, and the proof of what they claim."""

from __future__ import annotations

from pathlib import Path

import pytest
from fastapi.testclient import TestClient

PIN = "4k3/p4ppp/4b3/8/3P1P2/8/5P1P/4R1K1 b - - 0 1"
TEXT = f"# A pin\r\n\r\nProse, ä.\r\n\r\n```position\r\n{PIN}\r\nunsafe: e6\r\n```\r\n"


def added(client: TestClient, name: str = "A pin", text: str = TEXT) -> dict[str, object]:
    answer = client.post("/api/lessons", json={"name": name, "text": text})
    assert answer.status_code == 201, answer.text
    told: dict[str, object] = answer.json()
    return told


def test_a_lesson_from_new_to_removed(client: TestClient, tmp_path: Path) -> None:
    first = client.post("/api/lessons", json={"name": "Begin", "language": "de"}).json()
    assert first["title"].startswith("Schachklub")
    here = added(client)
    path = tmp_path / "lessons" / "A pin.md"
    assert path.read_bytes() == TEXT.encode()
    assert client.get("/api/lessons/A pin/file").content == TEXT.encode()
    parts = here["parts"]
    assert isinstance(parts, list)
    assert "".join(part["text"] for part in parts) == TEXT
    saved = {"text": TEXT.replace("e6", "a7"), "version": here["version"]}
    changed = client.put("/api/lessons/A pin", json=saved)
    assert changed.status_code == 200
    assert client.put("/api/lessons/A pin", json=saved).status_code == 409
    assert path.read_bytes() == saved["text"].encode()  # type: ignore[attr-defined]
    renamed = client.put("/api/lessons/A pin/name", json={"name": "Pins"}).json()
    assert (renamed["name"], renamed["version"]) == ("Pins", changed.json()["version"])
    listed = client.get("/api/lessons").json()
    assert {one["name"]: one["claims"] for one in listed} == {"Pins": 1, "Begin": 9}
    gone = client.delete("/api/lessons/Pins").json()
    assert client.get("/api/lessons/Pins").status_code == 404
    assert client.post("/api/lessons", json=gone).json()["parts"] == renamed["parts"]


@pytest.mark.parametrize("name", ["%2e%2e%2fstore", "..%5cstore", "%00", ".x", "store.sqlite"])
def test_no_name_reaches_another_file(client: TestClient, name: str) -> None:
    added(client)
    for path in (f"/api/lessons/{name}", f"/api/lessons/{name}/file"):
        answer = client.get(path)
        assert "SQLite" not in answer.text
        assert answer.status_code in (404, 422)


def test_a_claim_is_proved_and_a_falsehood_told(client: TestClient) -> None:
    block = f"```position\n{PIN}\nunsafe: e6\nfalls: f6 because Re2\n```\n"
    found = client.post("/api/lessons/checks", json={"text": block}).json()
    assert [one["verdict"] for one in found] == ["true", "false"]
    assert found[1]["told"]
    assert found[1]["steps"][0]["uci"] == "f7f6"
    german = client.post("/api/lessons/checks", json={"text": block, "language": "de"}).json()
    assert german[1]["told"] != found[1]["told"]
    assert client.post("/api/lessons/checks", json={"text": block, "better": True}).json() == []
    assert client.post("/api/lessons/checks", json={"text": "prose"}).status_code == 422


def test_what_is_true_is_offered(client: TestClient) -> None:
    block = f"```position\n{PIN}\n```\n"
    assert "unsafe: e6" in client.post("/api/lessons/true", json={"text": block}).json()


def test_the_parts_of_a_text_that_is_not_kept(client: TestClient) -> None:
    told = client.post("/api/lessons/parts", json={"text": TEXT}).json()
    assert [part["kind"] for part in told][:2] == ["prose", "position"]
    assert told[1]["rows"] == [{"line": 3, "text": "unsafe: e6", "fault": "", "column": 0}]
    assert client.get("/api/lessons").json() == []
