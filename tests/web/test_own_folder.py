"""What is a workbench's own: where it is, and that no other uses it meanwhile."""

from __future__ import annotations

from pathlib import Path

import pytest

from fastness.errors import InputError, StoreError
from fastness.web.own_folder import alone_in, own_folder
from fastness.web.settings import PORT, Settings
from fastness.web.workbench import Workbench

CLUB = "postgresql://club@example.org/club"


def test_it_is_beside_a_file_and_by_the_port_on_a_server(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert own_folder(str(tmp_path / "x" / "store.sqlite"), 1234) == tmp_path / "x"
    first, second = own_folder(CLUB), own_folder(CLUB, PORT + 1)
    assert first != second
    assert own_folder(CLUB, PORT + 1) == second
    benches = [Workbench(Settings(CLUB, port=port)) for port in (PORT, PORT + 1)]
    places = [(bench.access.place, bench.demo_place) for bench in benches]
    assert not set(places[0]) & set(places[1])
    assert benches[0].lessons.place == benches[1].lessons.place
    for bench in benches:
        bench.close()


def test_a_second_workbench_is_refused_until_the_first_is_stopped(tmp_path: Path) -> None:
    with alone_in(tmp_path, "http://127.0.0.1:8620/"):
        for _ in range(2):
            with (
                pytest.raises(InputError, match=r"at http://127\.0\.0\.1:8620/\. Use that one"),
                alone_in(tmp_path, "http://127.0.0.1:8621/"),
            ):
                pass
        with alone_in(tmp_path / "elsewhere", "http://127.0.0.1:8621/"):
            pass
    with alone_in(tmp_path, "http://127.0.0.1:8622/"):
        pass


def test_a_folder_that_cannot_be_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    with (
        pytest.raises(StoreError, match="look at the folder's rights"),
        alone_in(tmp_path / "file" / "x", "http://127.0.0.1:8621/"),
    ):
        pass
