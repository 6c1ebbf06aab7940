"""Homework over the API: handed out, a student's own link, codes, paper, and results."""

from __future__ import annotations

import datetime
import io
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pypdf
import pytest
from fastapi.testclient import TestClient

from fastness.practice.choices import as_one_number
from fastness.practice.code import read_word, write_code
from fastness.store import Store, open_store
from fastness.store import homework as kept
from fastness.web.application import create_app
from fastness.web.settings import Settings
from fastness.workflows.homework_told import asked_in

PASSWORD = "the mill wheel turns"
DUE = (datetime.date.today() + datetime.timedelta(7)).isoformat()
LESSON = "```position\n6k1/1p3ppp/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1\nunsafe: e5\n```\n"
IVY, TOM = "Flourdust, Ivy", "Millpondle, Tom"


@pytest.fixture
def shared(tmp_path: Path) -> Iterator[TestClient]:
    settings = Settings(
        str(tmp_path / "store.sqlite"), tmp_path, shared=True, addresses=("http://10.0.0.5:8620",)
    )
    app = create_app(settings)
    app.state.workbench.access.set_password(PASSWORD)
    with TestClient(app, base_url="http://10.0.0.5:8620", headers={"x-fastness": "1"}) as client:
        client.post("/api/session", json={"password": PASSWORD})
        yield client


def handed_out(client: TestClient) -> dict[str, Any]:
    """Homework of a lesson for two students, as the teacher sees it."""
    group = client.post("/api/groups", json={"name": "Monday"}).json()["id"]
    for name in (IVY, TOM):
        client.post("/api/students", json={"name": name, "group": group})
    client.post("/api/lessons", json={"name": "guard", "text": LESSON})
    new = {"title": "Guard it?", "due": DUE, "group": "Monday", "lesson": "guard"}
    made = client.post("/api/homework", json=new)
    assert made.status_code == 201, made.text
    number = made.json()["row"]["number"]
    told: dict[str, Any] = client.get(f"/api/homework/{number}").json()
    return told


def code_of(tmp_path: Path, told: dict[str, Any], name: str) -> str:
    """The code that the page gives a student who answers that e5 is not safe."""
    word = next(one["word"] for one in told["told"]["students"] if one["name"] == name)
    store: Store = open_store(tmp_path / "store.sqlite")
    try:
        with store.reading() as session:
            homework = kept.numbered(session, told["told"]["row"]["number"])
            exercises = [one.exercise for one in asked_in(homework)]
    finally:
        store.close()
    student, key = read_word(word)
    answers = as_one_number(exercises, [("e5",)])
    return write_code(told["told"]["row"]["number"], student, key, answers)


def link_of(told: dict[str, Any], name: str) -> str:
    path: str = next(one["path"] for one in told["links"] if one["student"] == name)
    return path.removeprefix("/h/")


def test_a_student_hands_in_by_their_own_link_and_sees_their_own_alone(
    shared: TestClient, tmp_path: Path
) -> None:
    told = handed_out(shared)
    shared.delete("/api/session")
    ivy, tom = link_of(told, IVY), link_of(told, TOM)
    own = shared.get(f"/api/shared/homework/{ivy}")
    assert own.json() == {
        "title": "Guard it?",
        "due": DUE,
        "exercises": 1,
        "language": "en",
        "handed": None,
    }
    page = shared.get(f"/api/shared/homework/{ivy}/page")
    policy = page.headers["content-security-policy"]
    assert "script-src 'sha256-" in policy
    assert policy in page.text.replace("&#x27;", "'")
    assert "Tom" not in page.text
    code = code_of(tmp_path, told, IVY)
    path = f"/api/shared/homework/{tom}/code"
    assert shared.post(path, json={"code": code}).status_code == 422
    wrong = ("A" if code[0] != "A" else "C") + code[1:]
    path = f"/api/shared/homework/{ivy}/code"
    assert shared.post(path, json={"code": wrong}).status_code == 422
    assert shared.get(f"/api/shared/homework/{tom}").json()["handed"] is None
    handed = shared.post(path, json={"code": code.lower()}).json()
    assert (handed["student"], handed["new"]) == (IVY, True)
    assert [one["verdict"] for one in handed["results"]] == ["right"]
    assert "Tom" not in shared.get(f"/api/shared/homework/{ivy}").text
    assert shared.get(f"/api/homework/{told['told']['row']['number']}").status_code == 401


@pytest.mark.parametrize("spoil", [0, 3, -1])
def test_a_changed_link_is_none(shared: TestClient, spoil: int) -> None:
    letters = list(link_of(handed_out(shared), IVY).replace("-", ""))
    letters[spoil] = "a" if letters[spoil] != "a" else "b"
    for path in ("", "/page"):
        answer = shared.get(f"/api/shared/homework/{''.join(letters)}{path}")
        assert answer.status_code == 404


def test_codes_are_taken_in_and_the_mistyped_told(client: TestClient, tmp_path: Path) -> None:
    told = handed_out(client)
    assert told["links"] == []
    code = code_of(tmp_path, told, IVY)
    wrong = code[:-1] + ("A" if code[-1] != "A" else "C")
    found = client.post("/api/homework/codes", json={"text": f"{code}\n\n{wrong}\n{code}"}).json()
    assert [bool(one["problem"]) for one in found] == [False, True, False]
    assert [one["handed"]["new"] for one in found if one["handed"]] == [True, False]
    number = told["told"]["row"]["number"]
    whose = {"student": IVY}
    result = client.post(f"/api/homework/{number}/result", json=whose).json()
    assert result["results"][0]["given"] == ["e5"]
    assert client.post(f"/api/homework/{number}/result/file", json=whose).content[:4] == b"%PDF"
    other = {"student": TOM}
    assert client.post(f"/api/homework/{number}/result", json=other).json() is None
    assert client.post(f"/api/homework/{number}/result/file", json=other).status_code == 422


def test_paper_is_printed_and_taken_in(client: TestClient) -> None:
    number = handed_out(client)["told"]["row"]["number"]
    path = f"/api/homework/{number}"
    slips = client.post(f"{path}/slips", json={})
    text = pypdf.PdfReader(io.BytesIO(slips.content)).pages[0].extract_text()
    assert IVY in text
    assert client.post(f"{path}/sheets", json={}).content[:2] == b"PK"
    assert client.get(f"{path}/page").text.startswith("<!doctype html>")
    given = {"student": TOM, "letters": "a"}
    assert client.post(f"{path}/paper", json=given).json()["student"] == TOM
    assert client.post(f"{path}/grid", json={}).content[:4] == b"%PDF"
    assert client.get("/api/homework").json()[0]["handed_in"] == 1


def test_slips_have_the_links_where_it_is_shared(shared: TestClient) -> None:
    told = handed_out(shared)
    made = shared.post(f"/api/homework/{told['told']['row']['number']}/slips", json={})
    text = pypdf.PdfReader(io.BytesIO(made.content)).pages[0].extract_text()
    assert f"http://10.0.0.5:8620/h/{link_of(told, IVY)[:8]}" in text.replace("\n", "")
