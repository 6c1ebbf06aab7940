"""Several workbenches, each a program of its own: on one database, and on one file."""

from __future__ import annotations

import http.client
import json
import signal
import subprocess
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import pytest

from fastness.exercises.shelving import as_entry
from fastness.store import shelf
from fastness.store import students as people
from fastness.store.safekeeping import check, count
from fastness.workflows.homework import make
from tests.serving import START, free_port, serving
from tests.store.material import IVY, TOM, some_games
from tests.store.places import Places
from tests.workflows.test_homework import DUE, EXERCISES, MADE, RIGHT, code_of, kept

STARTING, WORKING = 120, 120
"""Seconds."""
QUIET = "8/8/8/3Kp3/4Pk2/8/8/8 w - - 0 1"
"""A position for the class board."""


def ask(port: int, method: str, path: str, body: object = None) -> Any:
    """What a workbench answers, once it runs."""
    until = time.monotonic() + STARTING
    while True:
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=WORKING)
        try:
            headers = {"x-fastness": "1", "content-type": "application/json"}
            connection.request(method, path, json.dumps(body), headers)
            answer = connection.getresponse()
            told = json.loads(answer.read())
        except ConnectionRefusedError:
            assert time.monotonic() < until, "the workbench did not start"
            time.sleep(0.1)
        else:
            assert answer.status < 300, told
            return told
        finally:
            connection.close()


def over(port: int, job: dict[str, Any]) -> dict[str, Any]:
    """A job's result when it is done."""
    until = time.monotonic() + WORKING
    while job["state"] in ("waiting", "running"):
        assert time.monotonic() < until, job
        time.sleep(0.05)
        job = ask(port, "GET", f"/api/jobs/{job['id']}")
    assert job["state"] == "done", job
    result: dict[str, Any] = job["result"]
    return result


def bring_games(port: int) -> int:
    """Bring the same games in; how many were new."""
    text = {"name": "games", "text": some_games(4)}
    upload = ask(port, "POST", "/api/uploads/text", text)
    found = over(port, upload["job"])["found"]
    names = [{"name": one["name"], "means": "new"} for one in found["names"] if not one["student"]]
    how = {"names": names, "group": "Evening group", "offers": False}
    path = f"/api/uploads/{upload['id']}/import"
    return int(over(port, ask(port, "POST", path, how))["new"])


def test_two_workbenches_work_on_one_database(
    on_server: Places, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    store = on_server.open()
    with store.writing() as session:
        group = people.add_group(session, "Evening group", "Millrace Chess Club")
        for name in (IVY, TOM):
            people.add_student(session, name, group)
        for one in EXERCISES:
            shelf.put(session, as_entry(one))
    told = make(store, "Pins", [1, 2, 3, 4, 5], DUE, group="evening group", made=MADE)
    codes = {"text": "\n".join(code_of(told, name, [*RIGHT]) for name in (IVY, TOM))}
    ports = [free_port(), free_port()]
    with ExitStack() as running, ThreadPoolExecutor(4) as pool:
        for port in ports:
            running.enter_context(serving(port, "--store", on_server.at()))
        for port in ports:
            ask(port, "GET", "/api/session")
        new = pool.map(bring_games, ports)
        taken = pool.map(lambda port: ask(port, "POST", "/api/homework/codes", codes), ports)
        assert sum(new) == 4
        news = [one["handed"]["new"] for answers in taken for one in answers]
        assert sorted(news) == [False, False, True, True]
        for port in ports:
            ask(port, "POST", "/api/classes", {"fen": QUIET, "title": f"{port}"})
        listed = [[one["title"] for one in ask(port, "GET", "/api/classes")] for port in ports]
    assert listed == [[f"{port}"] for port in ports]
    held = count(store)
    assert (held["game"], held["seat"], held["student"]) == (4, 8, 3)
    assert (held["hand_in"], len(kept(store))) == (2, 10)
    assert check(store) == []


def test_a_second_workbench_on_one_file_is_refused(tmp_path: Path) -> None:
    store = str(tmp_path / "store.sqlite")
    port = free_port()
    with serving(port, "--store", store) as first:
        ask(port, "GET", "/api/session")
        words = [*START, "--port", str(free_port()), "--store", store]
        second = subprocess.run(words, capture_output=True, text=True, check=False)
        assert second.returncode == 2
        assert f"at http://127.0.0.1:{port}/. Use that one, or stop it first" in second.stderr
        assert "Traceback" not in second.stderr
        first.send_signal(signal.SIGKILL)
        first.wait(30)
    with serving(port, "--store", store):
        assert ask(port, "GET", "/api/session")["teacher"] is True
