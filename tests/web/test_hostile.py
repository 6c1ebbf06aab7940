"""Input that means harm is refused or does none."""

from __future__ import annotations

import gzip
import zipfile
from pathlib import Path

import pytest
import zstandard
from fastapi.testclient import TestClient

from fastness.web import uploads
from tests.store.material import ADA, IVY, pgn
from tests.web.working import brought, ended, imported

NAME = "<img src=x onerror=alert(1)>"


def test_variations_thirty_thousand_deep_are_read(client: TestClient) -> None:
    deep = pgn(ADA, IVY, "1. e4 " + "(1. d4 " * 30_000 + ")" * 30_000 + " e5")
    assert brought(client, ("deep.pgn", deep.encode()))["look"]["games"] == 1


def test_comments_that_never_close_are_read(client: TestClient) -> None:
    open_ = pgn(ADA, IVY, "1. e4 e5 " + "{" * 500_000)
    found = brought(client, ("open.pgn", open_.encode()))
    assert found["look"]["problems"]


@pytest.mark.parametrize("pack", [gzip.compress, zstandard.compress])
def test_a_file_that_unpacks_without_end_is_refused(
    client: TestClient, monkeypatch: pytest.MonkeyPatch, pack: object, tmp_path: Path
) -> None:
    monkeypatch.setattr(uploads, "MOST_UNPACKED", 1 << 20)
    line = b"% " + b"x" * 997 + b"\n"
    bomb = pack(line * 5000)  # type: ignore[operator]
    assert len(bomb) < 100_000
    answer = client.post("/api/uploads", files=[("files", ("bomb.pgn", bomb))])
    assert (answer.status_code, answer.json()["code"]) == (422, "file")
    assert list(tmp_path.rglob("*bomb*")) == []


def test_too_many_games_are_refused(client: TestClient, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(uploads, "MOST_GAMES", 3)
    games = pgn(ADA, IVY, "1. e4 e5") * 4
    answer = client.post("/api/uploads", files=[("files", ("many.pgn", games.encode()))])
    told = ended(client, answer.json()["job"])
    assert told["state"] == "failed"
    assert "more than 3 games" in told["problem"]


def test_too_many_files_are_refused(client: TestClient) -> None:
    files = [("files", (f"{number}.pgn", b"1. e4 *")) for number in range(31)]
    assert client.post("/api/uploads", files=files).status_code == 422


@pytest.mark.parametrize(
    "content",
    [b"", b"\0" * 1000, b"PK\x03\x04", b"%PDF-1.7", b"\x1f\x8b\x08", b'[Event "', b"1. e4\xff\xfe"],
)
def test_what_is_no_pgn_is_told(client: TestClient, content: bytes) -> None:
    found = brought(client, ("odd.pgn", content))["look"]
    assert found["problems"] or found["games"] <= 1


@pytest.mark.parametrize(
    "name",
    ["../../escape.pgn", "/etc/escape.pgn", "..\\escape.pgn", "a\0escape.pgn", "", "." * 300],
)
def test_a_files_name_leads_nowhere(client: TestClient, name: str, tmp_path: Path) -> None:
    answer = client.post("/api/uploads", files=[("files", (name, b"1. e4 e5 *"))])
    assert answer.status_code in (201, 422)
    assert list(tmp_path.rglob("*escape*")) == []
    assert not Path("/etc/escape.pgn").exists()


@pytest.mark.parametrize("number", ["..", "%2e%2e", "../../etc", "a" * 50, "week-x", ".1"])
def test_an_uploads_number_leads_nowhere(client: TestClient, number: str) -> None:
    assert client.post(f"/api/uploads/{number}/sift", json={}).status_code in (404, 405, 422)


def test_markup_in_names_stays_text(client: TestClient) -> None:
    imported(client, pgn(NAME, IVY, "1. e4 e5 2. Nf3 f6 3. Nxe5 fxe5 4. Qh5+ g6 5. Qxh8"), NAME)
    students = client.get("/api/students").json()
    number = next(one["id"] for one in students if one["name"] == NAME)
    assert client.get("/api/games").headers["content-type"] == "application/json"
    for reader in ("student", "teacher"):
        how = {"form": "html"}
        page = client.post(f"/api/students/{number}/reports/{reader}/file", json=how)
        assert page.status_code == 200
        assert "<img src=x" not in page.text
    text = client.post(f"/api/students/{number}/reports/teacher/file", json={"form": "md"})
    assert "<img" not in text.text.replace("\\<img", "")


@pytest.mark.parametrize(
    "path",
    [
        "/../pyproject.toml",
        "/%2e%2e/%2e%2e/pyproject.toml",
        "/..%2f..%2fpyproject.toml",
        "/assets/../../settings.py",
        "//etc/passwd",
        "/%00",
        "/" + "a" * 5000,
    ],
)
def test_no_path_leads_out_of_the_front_end(client: TestClient, path: str, tmp_path: Path) -> None:
    static = tmp_path / "static"
    static.mkdir()
    (static / "index.html").write_text("the page")
    (tmp_path / "settings.py").write_text("secret")
    answer = client.get(path)
    assert answer.status_code in (200, 404)
    assert "secret" not in answer.text
    assert "[project]" not in answer.text
    assert "root:" not in answer.text


def test_the_front_end_is_served_as_it_was_built(client: TestClient, tmp_path: Path) -> None:
    assert "no pages here yet" in client.get("/").text
    assets = tmp_path / "static" / "assets"
    assets.mkdir(parents=True)
    (assets.parent / "index.html").write_text("the page")
    (assets / "app-1a2b.js").write_text("1")
    assert client.get("/students/3").text == "the page"
    assert client.get("/").headers["cache-control"] == "no-cache"
    script = client.get("/assets/app-1a2b.js")
    assert "immutable" in script.headers["cache-control"]
    assert script.headers["content-type"].startswith("text/javascript")


def test_a_brought_back_zip_writes_nothing_outside(client: TestClient, tmp_path: Path) -> None:
    bad = tmp_path / "bad.zip"
    with zipfile.ZipFile(bad, "w") as archive:
        archive.writestr("../../escape.txt", "x")
        archive.writestr("record.json", "[" * 100_000)
    files = {"archive": ("bad.zip", bad.read_bytes())}
    assert client.post("/api/store/bring-back", files=files).status_code in (409, 422)
    assert not (tmp_path.parent / "escape.txt").exists()


def test_a_report_takes_no_markup_for_the_printer(client: TestClient) -> None:
    student = client.post("/api/students", json={"name": '#read("/etc/passwd")'}).json()["id"]
    path = f"/api/students/{student}/reports/student/file"
    how = {"texts": {"title": '#read("/etc/passwd") $x$ @a <b> `c`'}}
    assert client.post(path, json=how).content.startswith(b"%PDF")


def test_a_twins_job_of_a_position_without_remedy_fails_in_words(client: TestClient) -> None:
    asked = {"fen": "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1", "seconds": 1}
    told = ended(client, client.post("/api/twins", json=asked).json())
    assert told["state"] == "failed"
    assert told["problem"]


def test_an_upload_that_is_gone_is_told(client: TestClient) -> None:
    answer = client.post("/api/uploads/abcdefgh/import", json={})
    assert answer.status_code == 422
