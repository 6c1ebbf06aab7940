"""What a request passes before it reaches a route."""

from __future__ import annotations

import datetime
import io
from collections.abc import Iterator
from pathlib import Path

import pypdf
import pytest
from fastapi.testclient import TestClient

from fastness.web.access import DAYS, Access
from fastness.web.application import create_app
from fastness.web.guard import SHARED_PATHS
from fastness.web.pace import Pace
from fastness.web.settings import MOST_BYTES, Settings
from fastness.web.workbench import ACCESS, Workbench
from scripts.openapi import description

PASSWORD = "the mill wheel turns"


@pytest.mark.parametrize("host", ["127.0.0.1:8620", "localhost:8620", "[::1]:8620", "localhost"])
def test_this_machine_is_answered(client: TestClient, host: str) -> None:
    assert client.get("/api/session", headers={"host": host}).status_code == 200


@pytest.mark.parametrize("host", ["mill.example", "127.0.0.1.mill.example", "192.168.1.5", "", "["])
def test_another_name_is_not(client: TestClient, host: str) -> None:
    answer = client.get("/api/session", headers={"host": host})
    assert (answer.status_code, answer.json()["code"]) == (421, "host")


@pytest.mark.parametrize(
    "headers",
    [
        {"x-fastness": ""},
        {"origin": "http://mill.example"},
        {"origin": "null"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
    ],
)
def test_a_change_from_elsewhere_is_refused(client: TestClient, headers: dict[str, str]) -> None:
    answer = client.delete("/api/session", headers=headers)
    assert (answer.status_code, answer.json()["code"]) == (403, "origin")


def test_a_change_from_the_own_pages_is_made(client: TestClient) -> None:
    own = {"origin": "http://127.0.0.1:8620", "sec-fetch-site": "same-origin"}
    assert client.delete("/api/session", headers=own).status_code == 204


@pytest.mark.parametrize("path", ["/", "/api/session", "/api/nothing", "/api/survey"])
def test_every_answer_has_the_headers(client: TestClient, path: str) -> None:
    headers = client.get(path).headers
    policy = headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "http" not in policy
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "no-referrer"
    assert path == "/" or headers["cache-control"] == "no-store"


def test_too_much_is_refused(client: TestClient) -> None:
    much = b" " * (MOST_BYTES + 1)
    answer = client.post("/api/session", content=much)
    assert (answer.status_code, answer.json()["code"]) == (413, "size")


def test_too_much_is_refused_where_its_length_is_not_told(client: TestClient) -> None:
    pieces = iter([b" " * MOST_BYTES, b" "])
    headers = {"content-type": "application/json"}
    answer = client.post("/api/session", content=pieces, headers=headers)
    assert answer.status_code == 413


def test_a_pace_is_kept() -> None:
    now = 0.0
    pace = Pace(a_second=2, at_once=3, clients=2, now=lambda: now)
    assert [pace.wait("a") for _ in range(4)] == [0, 0, 0, 1]
    assert pace.wait("b") == 0
    now = 0.5
    assert [pace.wait("a"), pace.wait("a")] == [0, 1]


def bench_of(client: TestClient) -> Workbench:
    bench: Workbench = client.app.state.workbench  # type: ignore[attr-defined]
    return bench


@pytest.fixture
def shared(tmp_path: Path) -> Iterator[TestClient]:
    settings = Settings(
        str(tmp_path / "store.sqlite"),
        tmp_path,
        shared=True,
        names=("mill",),
        addresses=("http://192.168.1.5:8620",),
    )
    app = create_app(settings)
    app.state.workbench.access.set_password(PASSWORD)
    with TestClient(app, base_url="http://192.168.1.5:8620", headers={"x-fastness": "1"}) as client:
        yield client


def test_the_password_lets_the_teacher_in_and_out(shared: TestClient) -> None:
    assert shared.get("/api/jobs").status_code == 401
    assert shared.post("/api/session", json={"password": "a guess or two"}).status_code == 403
    assert shared.post("/api/session", json={"password": PASSWORD}).status_code == 204
    assert shared.get("/api/session").json()["teacher"] is True
    assert shared.get("/api/jobs").status_code == 200
    assert shared.delete("/api/session").status_code == 204
    assert shared.get("/api/jobs").status_code == 401


def test_the_cookie_is_kept_from_scripts_and_other_sites(shared: TestClient) -> None:
    answer = shared.post("/api/session", json={"password": PASSWORD})
    told = answer.headers["set-cookie"].lower()
    assert "httponly" in told
    assert "samesite=strict" in told


@pytest.mark.parametrize("cookie", ["teacher", "teacher.x.y", "", "\x00", "a" * 5000])
def test_a_made_up_cookie_is_none(shared: TestClient, cookie: str) -> None:
    answer = shared.get("/api/jobs", headers={"cookie": f"fastness={cookie}"})
    assert answer.status_code == 401


def test_guessing_is_slowed(shared: TestClient) -> None:
    codes = [shared.post("/api/session", json={"password": "x" * 9}).status_code for _ in range(9)]
    assert codes == [403] * 8 + [429]


def test_another_password_ends_every_session(shared: TestClient) -> None:
    shared.post("/api/session", json={"password": PASSWORD})
    bench_of(shared).access.set_password("another one now")
    assert shared.get("/api/jobs").status_code == 401


@pytest.mark.usefixtures("shared")
def test_the_password_is_not_in_its_file(tmp_path: Path) -> None:
    place = tmp_path / ACCESS
    assert PASSWORD not in place.read_text("utf-8")
    assert "$argon2id$" in place.read_text("utf-8")
    assert place.stat().st_mode & 0o077 == 0


def test_a_shared_workbench_answers_to_its_numbers_and_names(shared: TestClient) -> None:
    for host in ("192.168.1.5", "[fe80::1]:8620", "mill:8620", "localhost"):
        assert shared.get("/api/session", headers={"host": host}).status_code == 200
    assert shared.get("/api/session", headers={"host": "mill.example"}).status_code == 421


def test_too_many_requests_are_put_off(shared: TestClient) -> None:
    bench_of(shared).pace = Pace(a_second=0.01, at_once=3)
    codes = [shared.get("/api/session").status_code for _ in range(4)]
    assert codes == [200, 200, 200, 429]


def test_a_fault_of_the_program_is_told_in_the_same_shape(settings: Settings) -> None:
    app = create_app(settings)

    @app.get("/api/fault")
    def fault() -> None:
        raise ZeroDivisionError

    # Before the route that takes every other path.
    app.router.routes.insert(0, app.router.routes.pop())
    with TestClient(app, base_url="http://127.0.0.1:8620", raise_server_exceptions=False) as client:
        answer = client.get("/api/fault")
    assert (answer.status_code, answer.json()["code"]) == (500, "program")
    assert "ZeroDivision" not in answer.text
    assert "default-src" in answer.headers["content-security-policy"]


def test_a_stranger_reaches_only_what_is_open_or_shared(shared: TestClient) -> None:
    tried = [
        (method, path)
        for path, methods in description()["paths"].items()
        for method in methods
        if path != "/api/session" and not path.startswith(SHARED_PATHS)
    ]
    assert len(tried) > 5
    for method, path in tried:
        answer = shared.request(method, path.replace("{", "").replace("}", ""))
        assert answer.status_code == 401, f"{method} {path}"
        assert answer.json()["code"] == "teacher"


def student_link(shared: TestClient, name: str) -> str:
    """Log in, add a student, share a report, log out; the word of the link."""
    shared.post("/api/session", json={"password": PASSWORD})
    student = shared.post("/api/students", json={"name": name}).json()["id"]
    made = shared.post("/api/shares", json={"student": student})
    assert made.status_code == 201, made.text
    shared.delete("/api/session")
    word: str = made.json()["word"]
    assert made.json()["addresses"] == [f"http://192.168.1.5:8620/s/{word}"]
    return word


def test_a_student_sees_what_was_shared_and_nothing_else(shared: TestClient) -> None:
    ivy, tom = student_link(shared, "Flourdust, Ivy"), student_link(shared, "Millpondle, Tom")
    page = shared.get(f"/api/shared/reports/{ivy}")
    assert page.json()["document"]["title"].startswith("Ivy")
    assert "Tom" not in page.text
    assert shared.get(f"/api/shared/reports/{ivy}/file").content.startswith(b"%PDF")
    assert ivy != tom
    headers = {"authorization": f"Bearer {ivy}", "cookie": f"fastness={ivy}"}
    for path, methods in description()["paths"].items():
        for method in methods:
            if path == "/api/session":
                continue
            where = path.replace("{word}", "x").replace("{", "").replace("}", "")
            answer = shared.request(method, where, headers=headers)
            expected = 404 if path.startswith(SHARED_PATHS) else 401
            assert answer.status_code == expected, f"{method} {path}"


@pytest.mark.parametrize("spoil", [0, 3, 8, -1])
def test_a_changed_link_is_none(shared: TestClient, spoil: int) -> None:
    word = student_link(shared, "Flourdust, Ivy")
    letters = list(word.replace("-", ""))
    letters[spoil] = "a" if letters[spoil] != "a" else "b"
    assert shared.get(f"/api/shared/reports/{''.join(letters)}").status_code == 404
    assert shared.get(f"/api/shared/reports/{word.upper()}").status_code == 200


def test_links_are_withdrawn(shared: TestClient) -> None:
    word = student_link(shared, "Flourdust, Ivy")
    shared.post("/api/session", json={"password": PASSWORD})
    assert shared.delete("/api/shares").status_code == 204
    assert shared.get(f"/api/shared/reports/{word}").status_code == 404


def test_a_link_grows_old(tmp_path: Path) -> None:
    access, made = Access(tmp_path / "access.json"), datetime.date(2026, 9, 7)
    word = access.word("s", 70_000, made)
    assert len(word) < 30
    assert access.named(word, made + datetime.timedelta(DAYS)) == ("s", 70_000)
    assert access.named(word, made + datetime.timedelta(DAYS + 1)) is None
    assert access.named(word, made - datetime.timedelta(1)) is None
    assert Access(tmp_path / "access.json").named(word, made) is None


@pytest.mark.parametrize("word", ["", "-", "=", "ä", "a" * 79, "aaaaaaaa", "0189"])
def test_a_word_that_is_none_is_refused(shared: TestClient, word: str) -> None:
    assert bench_of(shared).access.named(word) is None


def test_slips_are_printed_for_a_group(shared: TestClient) -> None:
    shared.post("/api/session", json={"password": PASSWORD})
    group = shared.post("/api/groups", json={"name": "Monday"}).json()["id"]
    shared.post("/api/students", json={"name": "Flourdust, Ivy", "group": group})
    made = shared.post(f"/api/groups/{group}/slips", json={})
    text = pypdf.PdfReader(io.BytesIO(made.content)).pages[0].extract_text()
    assert "Flourdust, Ivy" in text
    assert "http://192.168.1.5:8620/s/" in text


def test_nothing_is_shared_where_only_this_machine_is_answered(client: TestClient) -> None:
    student = client.post("/api/students", json={"name": "Flourdust, Ivy"}).json()["id"]
    assert client.post("/api/shares", json={"student": student}).status_code == 422
