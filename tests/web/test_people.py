"""Students, groups, reports and plans over the API."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pypdf
import pytest
from fastapi.testclient import TestClient

from fastness.web.application import create_app
from fastness.web.settings import Settings
from tests.store.material import ADA, IVY, TOM, some_games
from tests.web.conftest import CHANGE
from tests.web.working import imported


@pytest.fixture(scope="module")
def club(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A workbench with a few games, for tests that only look."""
    folder: Path = tmp_path_factory.mktemp("club")
    app = create_app(Settings(str(folder / "store.sqlite"), folder))
    with TestClient(app, base_url="http://localhost", headers=CHANGE) as client:
        imported(client, some_games())
        yield client


def number_of(client: TestClient, name: str) -> int:
    found = [one["id"] for one in client.get("/api/students").json() if one["name"] == name]
    return int(found[0])


def test_groups_and_students_are_kept(client: TestClient) -> None:
    group = client.post("/api/groups", json={"name": "Monday", "club": "Millrace"}).json()
    ivy = client.post("/api/students", json={"name": IVY, "group": group["id"]}).json()
    assert (ivy["group_name"], ivy["games"]) == ("Monday", 0)
    same = client.post("/api/students", json={"name": "Ivy Flourdust"})
    assert (same.status_code, same.json()["code"]) == (422, "student")
    path = f"/api/students/{ivy['id']}"
    assert client.post(f"{path}/names", json={"name": "I. Flourdust"}).status_code == 201
    renamed = client.put(f"{path}/name", json={"name": "Ivy F."}).json()
    assert (renamed["name"], sorted(renamed["names"])) == ("Ivy F.", [IVY, "I. Flourdust"])
    left = client.delete(f"{path}/names", params={"name": IVY}).json()
    assert left["names"] == ["I. Flourdust"]
    assert client.delete(f"{path}/names", params={"name": "Ivy F."}).status_code == 422


def test_a_group_is_removed_and_made_again(client: TestClient) -> None:
    group = client.post("/api/groups", json={"name": "Monday"}).json()["id"]
    ivy = client.post("/api/students", json={"name": IVY, "group": group}).json()["id"]
    removed = client.delete(f"/api/groups/{group}").json()
    assert removed == {"name": "Monday", "club": "", "students": [ivy]}
    assert client.get(f"/api/students/{ivy}").json()["group"] is None
    again = client.post("/api/groups", json={"name": "Monday"}).json()["id"]
    moved = {"students": removed["students"], "group": again}
    assert client.put("/api/students/groups", json=moved).status_code == 204
    assert client.get(f"/api/groups/{again}").json()["students"] == 1


def test_lessons_are_noted_and_removed(client: TestClient) -> None:
    group = client.post("/api/groups", json={"name": "Monday"}).json()["id"]
    path = f"/api/groups/{group}/lessons"
    for day in ("2026-09-07", "2026-09-14"):
        assert client.post(path, json={"theme": "Pins", "held": day}).status_code == 201
    lessons = client.get(f"/api/groups/{group}").json()["lessons"]
    assert [one["held"] for one in lessons] == ["2026-09-14", "2026-09-07"]
    assert client.delete(f"{path}/{lessons[0]['id']}").json()["theme"] == "Pins"
    assert len(client.get(f"/api/groups/{group}").json()["lessons"]) == 1


def test_a_removed_lesson_can_be_noted_again_with_who_was_there(client: TestClient) -> None:
    group = client.post("/api/groups", json={"name": "Monday"}).json()["id"]
    ivy = client.post("/api/students", json={"name": "Flourdust, Ivy", "group": group}).json()["id"]
    path = f"/api/groups/{group}/lessons"
    new = {"theme": "Pins", "held": "2026-09-07", "present": [ivy]}
    noted = client.post(path, json=new).json()
    gone = client.delete(f"{path}/{noted['id']}").json()
    assert gone == noted == {**new, "id": noted["id"]}
    assert client.post(path, json=gone).json()["present"] == [ivy]
    assert client.post(path, json={**new, "present": [ivy + 7]}).status_code == 404
    assert len(client.get(f"/api/groups/{group}").json()["lessons"]) == 1


@pytest.mark.parametrize(
    "path",
    [
        "/api/students/99",
        "/api/groups/99",
        "/api/games/99",
        "/api/shelf/99",
        "/api/students/99/plan",
        "/api/students/99/reports/teacher",
        "/api/groups/99/report",
        "/api/weeks/none",
        "/api/jobs/none",
    ],
)
def test_what_is_not_there_is_told(club: TestClient, path: str) -> None:
    answer = club.get(path)
    assert answer.status_code == 404
    assert answer.json()["detail"]


@pytest.mark.parametrize("reader", ["student", "parents", "teacher"])
def test_a_report_is_read_and_printed(club: TestClient, reader: str) -> None:
    path = f"/api/students/{number_of(club, IVY)}/reports/{reader}"
    told = club.get(path).json()
    assert told["title"]
    assert {block["kind"] for block in told["blocks"]} <= {
        "heading", "paragraph", "points", "diagrams", "beside", "grid", "plot", "to fill",
        "new page",
    }  # fmt: skip
    printed = club.post(f"{path}/file", json={})
    assert printed.headers["content-type"] == "application/pdf"
    assert "attachment" in printed.headers["content-disposition"]
    assert (
        told["title"].split()[0]
        in pypdf.PdfReader(io.BytesIO(printed.content)).pages[0].extract_text()
    )


def text_place(told: dict[str, Any]) -> str:
    number = next(at for at, one in enumerate(told["blocks"]) if one["kind"] == "paragraph")
    return f"blocks.{number}.text"


def test_a_report_is_printed_with_the_teachers_own_words(club: TestClient) -> None:
    path = f"/api/students/{number_of(club, IVY)}/reports/student"
    place = text_place(club.get(path).json())
    own = "You looked twice here <script>alert(1)</script>."
    how = {"form": "html", "texts": {place: own, "title": "For Ivy"}}
    page = club.post(f"{path}/file", json=how)
    assert "<title>For Ivy</title>" in page.text
    assert "You looked twice here &lt;script&gt;" in page.text
    assert "<script" not in page.text
    assert page.headers["content-security-policy"] == "sandbox"


@pytest.mark.parametrize(
    "place", ["blocks", "blocks.0", "blocks.99.text", "language", "blocks.0.level", "__class__", ""]
)
def test_words_go_only_where_there_are_some(club: TestClient, place: str) -> None:
    path = f"/api/students/{number_of(club, IVY)}/reports/student/file"
    answer = club.post(path, json={"form": "md", "texts": {place: "x"}})
    assert answer.status_code == 422


def test_the_file_is_named_after_its_title_in_any_letters(club: TestClient) -> None:
    path = f"/api/students/{number_of(club, IVY)}/reports/student/file"
    how = {"form": "md", "texts": {"title": 'Ýrr "x"\r\nset-cookie: a=b/../'}}
    told = club.post(path, json=how).headers
    assert "set-cookie" not in told
    assert "%0D%0A" in told["content-disposition"]


def test_a_group_has_a_report_and_a_plan(club: TestClient) -> None:
    group = club.get("/api/groups").json()[0]["id"]
    report = club.get(f"/api/groups/{group}/report", params={"language": "de"}).json()
    assert report["language"] == "de"
    for name in (ADA, IVY, TOM):
        assert name not in str(report)
    plan = club.get(f"/api/groups/{group}/plan").json()
    assert plan["themes"] or plan["told"]
    ivy = club.get(f"/api/students/{number_of(club, IVY)}/plan").json()
    assert ivy["themes"] or ivy["told"]
    page = club.post(f"/api/groups/{group}/report/file", json={"form": "md"})
    assert page.text.startswith("# ")
