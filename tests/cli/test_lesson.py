"""`fastness lesson`: a lesson to begin with, and what is said of lessons that are not true."""

from pathlib import Path

import pytest

from fastness.cli import main

LESSON = """\
# A lesson

```position
3r2k1/5ppp/8/8/8/b7/5PPP/R5K1 b - - 0 1
safe: a3
unsafe: a3
```
"""
BROKEN = "```position\n8/8/4k3/8/8/4K3/8/8 w - - 0 1\nholds: Ke5\nholds: Kd3\n```\n"
UNSETTLED = "```position\n6k1/1p3ppp/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1\nholds: Bd6\n```\n"


def ended(*words: str) -> int:
    with pytest.raises(SystemExit) as stop:
        main(["lesson", *words])
    assert isinstance(stop.value.code, int)
    return stop.value.code


def written(folder: Path, text: str, name: str = "lesson.md") -> str:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return str(path)


@pytest.mark.parametrize("code", ["en", "de"])
def test_a_new_lesson_is_true(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], code: str
) -> None:
    path = str(tmp_path / "new.md")
    assert ended("new", path, "--language", code) == 0
    assert "Millrace" in Path(path).read_text(encoding="utf-8")
    assert ended("check", path, "--language", code) == 0
    told = {"en": "9 claims, and all are true.", "de": "9 Behauptungen, und alle stimmen."}
    assert capsys.readouterr().out.endswith(told[code] + "\n")


def test_nothing_is_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = written(tmp_path, LESSON)
    assert ended("new", path) == 2
    assert "is there already" in capsys.readouterr().err
    assert Path(path).read_text(encoding="utf-8") == LESSON
    assert ended("new", str(tmp_path / "none" / "new.md")) == 2
    assert "cannot be written" in capsys.readouterr().err


def test_what_is_false_is_told_with_its_line_and_what_is_true(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path, LESSON)
    assert ended("check", path, "--language", "en") == 1
    assert capsys.readouterr().out == (
        f"{path}:6: claimed unsafe: a3; true is: the bishop on a3 is safe by tactics: trying to"
        " win it wins nothing; line: If Black passes: 2.Rxa3 Rd1#\n"
        "Claims: 2. True: 1, false: 1, not settled: 0.\n"
    )


def test_the_same_in_german(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert ended("check", written(tmp_path, LESSON), "--language", "de") == 1
    shown = capsys.readouterr().out
    assert "behauptet unsafe: a3; richtig ist: der Läufer auf a3 ist taktisch gedeckt" in shown
    assert "Wenn Schwarz aussetzt: 2.Txa3 Td1#" in shown


def test_what_is_not_settled_is_a_finding(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ended("check", written(tmp_path, UNSETTLED), "--language", "en") == 1
    assert "claimed holds: Bd6; not settled: it is so looking 3" in capsys.readouterr().out


def test_what_is_broken_hides_neither_a_claim_nor_another_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    files = [
        written(tmp_path, BROKEN, "broken.md"),
        str(tmp_path / "none.md"),
        written(tmp_path, LESSON),
    ]
    (tmp_path / "latin.md").write_bytes(b"\n\xe4\n")
    assert ended("check", *files, str(tmp_path / "latin.md"), "--language", "en") == 2
    shown = capsys.readouterr()
    assert f"{files[0]}:3:8: 'Ke5' is not legal here; legal king moves: Kd2" in shown.err
    assert f"{files[1]} cannot be opened" in shown.err
    assert f"{tmp_path / 'latin.md'}:2: a byte here is not UTF-8" in shown.err
    assert "lesson.md:6: claimed unsafe: a3" in shown.out
    assert "Claims: 3. True: 2, false: 1" in shown.out


@pytest.mark.parametrize("words", [("check",), ("check", "--many"), ("new",), ("build", "x.md")])
def test_bad_usage(words: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    assert ended(*words) == 2
    assert "Traceback" not in capsys.readouterr().err
