"""`fastness group attended` and `fastness group lessons`."""

from pathlib import Path

import pytest

from fastness.cli import main

Captured = pytest.CaptureFixture[str]


def said(capsys: Captured, store: Path, *words: str, status: int = 0) -> str:
    with pytest.raises(SystemExit) as stop:
        main([*words, "--store", str(store)])
    told = capsys.readouterr()
    assert stop.value.code == status, told
    return told.err if status else told.out


@pytest.fixture
def store(tmp_path: Path, capsys: Captured) -> Path:
    """A group of three, and a student of another one."""
    place = tmp_path / "store.sqlite"
    said(capsys, place, "group", "add", "Monday")
    for name in ("Flourdust, Ivy", "Millpondle, Tom", "Weirwater, Ada"):
        said(capsys, place, "student", "add", name, "--group", "Monday")
    said(capsys, place, "student", "add", "Sluice, Ben")
    return place


def test_who_was_there_is_noted_and_listed(store: Path, capsys: Captured) -> None:
    assert "No lessons yet" in said(capsys, store, "group", "lessons", "Monday")
    for day, theme in (("2026-09-07", "Pins"), ("2026-09-14", "Forks")):
        said(capsys, store, "group", "lesson", "Monday", theme, "--date", day)
    noted = said(capsys, store, "group", "attended", "monday", "Ivy Flourdust", "Sluice, Ben")
    forks = (
        "Monday, 2026-09-14, Forks: 1 of the group was there;"
        " absent: Millpondle, Tom; Weirwater, Ada; guests: Sluice, Ben\n"
    )
    assert noted == forks
    assert said(capsys, store, "group", "lessons", "Monday") == (
        forks + "Monday, 2026-09-07, Pins: who was there is not noted\n"
    )
    words = ("--absent", "Weirwater, Ada", "--date", "2026-09-07")
    pins = "Monday, 2026-09-07, Pins: 2 of the group were there; absent: Weirwater, Ada\n"
    assert said(capsys, store, "group", "attended", "Monday", *words) == pins
    every = said(capsys, store, "group", "attended", "Monday", "--everybody", "--theme", "forks")
    assert every == "Monday, 2026-09-14, Forks: 3 of the group were there; nobody was away\n"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ((), "Name who was there, or --absent who was not, or say --everybody."),
        (("Flourdust, Ivy", "--everybody"), "Name who was there, or --absent"),
        (("Flourdust, Yvi",), 'no student "Flourdust, Yvi"; there is Flourdust, Ivy'),
        (("--absent", "Sluice, Ben"), "Sluice, Ben is not in Monday"),
        (("--everybody", "--date", "2026-09-08"), "no lesson on 2026-09-08; noted is 2026-09-07"),
        (("--everybody", "--date", "yesterday"), "date"),
    ],
)
def test_what_cannot_be_noted_is_told_and_changes_nothing(
    store: Path, capsys: Captured, words: tuple[str, ...], told: str
) -> None:
    said(capsys, store, "group", "lesson", "Monday", "Pins", "--date", "2026-09-07")
    said(capsys, store, "group", "attended", "Monday", "Weirwater, Ada")
    before = said(capsys, store, "group", "lessons", "Monday")
    assert told in said(capsys, store, "group", "attended", "Monday", *words, status=2)
    assert said(capsys, store, "group", "lessons", "Monday") == before


def test_the_last_one_cannot_be_noted_as_away(store: Path, capsys: Captured) -> None:
    said(capsys, store, "group", "add", "Empty")
    said(capsys, store, "group", "lesson", "Empty", "Pins")
    told = said(capsys, store, "group", "attended", "Empty", "--everybody", status=2)
    assert "nobody is named" in told
