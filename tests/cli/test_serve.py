"""`fastness serve`: the workbench as a program."""

from __future__ import annotations

import http.client
import json
import signal
import subprocess
import time
from pathlib import Path

from tests.serving import START, free_port, serving


def ask(port: int, path: str) -> tuple[int, dict[str, object]]:
    for _ in range(300):
        try:
            connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
            connection.request("GET", path)
            answer = connection.getresponse()
            told = answer.status, json.loads(answer.read())
        except ConnectionRefusedError:
            time.sleep(0.1)
        else:
            connection.close()
            return told
    raise TimeoutError(path)


def test_the_workbench_starts_answers_and_stops(tmp_path: Path) -> None:
    port = free_port()
    with serving(port, "--store", str(tmp_path / "store.sqlite")) as program:
        status, told = ask(port, "/api/session")
        assert (status, told["shared"], told["teacher"]) == (200, False, True)
        again = subprocess.run([*START, "--port", str(port)], capture_output=True, text=True)
        assert again.returncode == 2
        assert f"Port {port}" in again.stderr
        program.send_signal(signal.SIGINT)
        out, err = program.communicate(timeout=30)
    assert f"http://127.0.0.1:{port}/" in out
    assert "Traceback" not in err


def test_a_shared_workbench_asks_for_the_password_chosen(tmp_path: Path) -> None:
    port, store = free_port(), str(tmp_path / "store.sqlite")
    with serving(port, "--share", "--store", store, password="mill wheel turns"):
        assert ask(port, "/api/session")[1]["teacher"] is False
        assert ask(port, "/api/students")[0] == 401
    assert (tmp_path / "access.json").exists()


def test_a_short_password_is_refused(tmp_path: Path) -> None:
    store = str(tmp_path / "store.sqlite")
    with serving(free_port(), "--share", "--store", store, password="mill") as program:
        _, err = program.communicate(timeout=60)
    assert program.returncode == 2
    assert "8 to 200 letters" in err
    assert not (tmp_path / "access.json").exists()
