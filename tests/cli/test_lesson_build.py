"""`fastness lesson build`: what is made of a true lesson, and that nothing is made of another."""

import json
import os
import struct
from dataclasses import asdict
from pathlib import Path

import pytest
from pypdf import PdfReader

from fastness.classroom.preparing import begin, of_text
from fastness.classroom.telling import tell_board
from fastness.lessons.example import EXAMPLES
from tests.cli.test_lesson import BROKEN, LESSON, UNSETTLED, ended, written
from tests.publish.webvtt import read

PAPERS = ("handout", "handout-answers", "cues", "homework", "homework-answers")
OTHERS = ("board.json", "script.md", "chapters.txt", "captions.vtt", "homework.epd")
OWN = """\
# Millrace Chess Club: one knight

```position
r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12
unsafe: e5
marks: ring e5, attack f4-e5, text The pawn is worth less
holds: Nc6
```
"""


@pytest.fixture(scope="module", name="built")
def once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The lesson to begin with, built."""
    folder = tmp_path_factory.mktemp("built")
    path = written(folder, EXAMPLES["en"])
    assert ended("build", path, "--to", str(folder / "out"), "--language", "en") == 0
    return folder / "out"


def contents(folder: Path) -> dict[str, bytes]:
    files = [one for one in folder.rglob("*") if one.is_file()]
    return {one.relative_to(folder).as_posix(): one.read_bytes() for one in files}


def words(folder: Path, name: str) -> str:
    reader = PdfReader(folder / f"{name}.pdf")
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


def test_all_of_it_is_there(built: Path) -> None:
    pictures = [f"pictures/{at:03}.{kind}" for at in range(1, 11) for kind in ("png", "svg")]
    assert sorted(contents(built)) == sorted(
        [*OTHERS, *(f"{name}.pdf" for name in PAPERS), *pictures]
    )


def test_pictures_have_the_size_of_a_film(built: Path) -> None:
    for png in (built / "pictures").glob("*.png"):
        # PNG (ISO/IEC 15948), 11.2.2: width and height follow the signature and the chunk's name.
        assert struct.unpack(">II", png.read_bytes()[16:24]) == (1920, 1080), png.name
    for svg in (built / "pictures").glob("*.svg"):
        head = svg.read_text(encoding="utf-8")[:300]
        assert 'viewBox="0 0 1920 1080" width="1920" height="1080"' in head, svg.name


@pytest.mark.parametrize("name", PAPERS)
def test_papers_are_tagged(built: Path, name: str) -> None:
    reader = PdfReader(built / f"{name}.pdf")
    root = reader.root_object
    assert root["/MarkInfo"]["/Marked"]  # type: ignore[index]
    assert "/StructTreeRoot" in root
    assert str(root["/Lang"]).startswith("en")
    assert b"pdfuaid" in reader.xmp_metadata.stream.get_data()  # type: ignore[union-attr]


def test_the_handout_gives_away_what_the_prose_does_and_no_more(built: Path) -> None:
    told = words(built, "handout")
    assert "12...Re8 does not help" in told
    assert "In a broken ring" not in told  # that is for those who hear it, not for print
    for answer in ("Nc6", "Nc4", "fxe5", "1...f6"):
        assert answer not in told
    answers = words(built, "handout-answers")
    assert "Moves that keep the material: Nc6, Ng4 and Nc4." in answers
    assert "This try falls: 12...Re8 13.fxe5." in answers


def test_captions_say_the_prose_in_its_order(built: Path) -> None:
    cues = read((built / "captions.vtt").read_bytes())
    told = " ".join(" ".join(cue.text.split()) for cue in cues)
    assert told.startswith("A piece that is attacked by a pawn is seldom saved by a guard.")
    assert told.endswith("Say what is in danger before you look for a move.")
    chapters = (built / "chapters.txt").read_text(encoding="utf-8").splitlines()
    assert chapters[0] == "00:00:00 Millrace Chess Club: guard it, or move it?"
    assert chapters[1].endswith(" Position 2")


def test_a_sentence_goes_with_the_picture_of_its_move(built: Path) -> None:
    script = (built / "script.md").read_text(encoding="utf-8")
    before, _, after = script.partition("Guarding with 12...Re8 does not help: the pawn takes")
    assert before.rstrip().endswith("12...Re8 falls. 12...Re8")
    assert after.startswith(" all the same. The knight has to go.")


def test_the_class_board_opens_it_with_notes_and_questions(built: Path) -> None:
    text = (built / "board.json").read_text(encoding="utf-8")
    first, second = of_text(text)
    assert first.fen.startswith("r1bq1rk1/ppp2ppp/8/4n3")
    assert second.fen.startswith("4k3/p4ppp/4b3")
    assert "seldom saved by a guard" in first.note
    assert "Moves that keep the material: Nc6, Ng4 and Nc4." in first.note
    assert "not safe" in first.asked["en"]
    assert "nicht sicher" in first.asked["de"]
    seen_by_the_class = json.dumps(asdict(tell_board(begin(1, "", [first, second]))))
    assert first.fen.split()[0] in seen_by_the_class
    for hidden in ("seldom saved", "Moves that keep", "Which of Black's"):
        assert hidden not in seen_by_the_class


def test_the_same_lesson_gives_the_same_bytes(built: Path, tmp_path: Path) -> None:
    path = written(tmp_path, EXAMPLES["en"])
    assert ended("build", path, "--to", str(tmp_path / "again"), "--language", "en") == 0
    assert contents(tmp_path / "again") == contents(built)


def test_own_marks_stand_in_place_of_the_programs(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path, OWN)
    out = tmp_path / "out"
    words = ("--paper", "us-letter", "--large", "--words-a-minute", "100", "--language", "de")
    assert ended("build", path, "--to", str(out), *words) == 0
    told = capsys.readouterr().out
    assert "3 Bilder, 0:09 bei 100 Wörtern in der Minute" in told
    script = (out / "script.md").read_text(encoding="utf-8")
    assert "**002** (0:03) The pawn is worth less" in script
    box = PdfReader(out / "handout.pdf").pages[0].mediabox
    assert (round(box.width), round(box.height)) == (612, 792)


@pytest.mark.parametrize(("text", "status"), [(LESSON, 1), (UNSETTLED, 1), (BROKEN, 2)])
def test_what_is_not_true_is_not_built(
    text: str, status: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path, text)
    assert ended("check", path, "--language", "en") == status
    checked = capsys.readouterr()
    assert ended("build", path, "--to", str(tmp_path / "out"), "--language", "en") == status
    assert capsys.readouterr() == checked
    assert not (tmp_path / "out").exists()


def test_a_folder_with_something_else_in_it_is_left_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path, OWN)
    for name in ("mine.txt", "pictures/mine.png", "board.json/mine"):
        folder = tmp_path / name.replace("/", "-")
        (folder / name).parent.mkdir(parents=True)
        (folder / name).write_text("mine", encoding="utf-8")
        assert ended("build", path, "--to", str(folder)) == 2
        assert "which no lesson wrote" in capsys.readouterr().err
        assert contents(folder) == {name: b"mine"}


def test_a_lesson_built_before_is_replaced(tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert ended("build", written(tmp_path, EXAMPLES["en"]), "--to", str(out)) == 0
    assert len(list((out / "pictures").iterdir())) == 20
    assert ended("build", written(tmp_path, OWN), "--to", str(out)) == 0
    assert len(list((out / "pictures").iterdir())) == 6


def test_a_folder_that_cannot_be_written_is_told_at_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    path = written(tmp_path, OWN)
    assert ended("build", path, "--to", path) == 2
    assert "is a file, and a folder is wanted" in capsys.readouterr().err
    monkeypatch.setattr(os, "access", lambda *_: False)  # the owner of everything may write all
    assert ended("build", path, "--to", str(tmp_path / "out")) == 2
    assert "you have no right to" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("rate", ["0", "59", "241", "-5"])
def test_nobody_speaks_so_fast_or_so_slowly(
    rate: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path, OWN)
    assert ended("build", path, "--to", str(tmp_path / "out"), "--words-a-minute", rate) == 2
    assert "words a minute cannot be spoken" in capsys.readouterr().err


def test_letters_that_no_face_has_are_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path, OWN.replace("worth less", "worth \U00013000"))
    assert ended("build", path, "--to", str(tmp_path / "out")) == 2
    assert "no type face on this machine has the letters" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


def test_a_twin_is_shown_with_what_is_different_in_it(tmp_path: Path) -> None:
    twin = "r1bqk2r/pppp1ppp/2n2n2/2b5/2BPP3/P4N2/1P3PPP/RNBQK2R b KQkq - 0 6"
    fen = "r1bqk2r/pppp1ppp/2n2n2/2b5/2BPP3/5N2/PP3PPP/RNBQK2R b KQkq - 0 6"
    text = f"```position\n{fen}\ntwin: {twin} better Bb6\n```\n"
    path, out = written(tmp_path, text, "two.md"), tmp_path / "out"
    assert ended("build", path, "--to", str(out), "--language", "en") == 0
    script = (out / "script.md").read_text(encoding="utf-8")
    assert script.startswith("# two\n")
    assert "One thing is different. Black to move." in script
    assert "With one thing changed, a better way is 6...Bb6." in script


def test_a_trade_and_a_position_with_nothing_to_ask_give_no_homework(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    trade = "moves: 1.e4 e5 2.Nf3 Nc6 3.Bb5 a6 4.Bxc6\nholds: dxc6"
    mate = "rnb1kbnr/pppp1ppp/8/4p3/6Pq/5P2/PPPPP2P/RNBQKBNR w KQkq - 1 3\nmarks: ring e1"
    text = f"```position\n{trade}\n```\n```position\n{mate}\n```\n"
    path, out = written(tmp_path, text), tmp_path / "out"
    assert ended("build", path, "--to", str(out), "--language", "en") == 0
    told = capsys.readouterr().out
    assert "Position 1 is left out of the homework: it may be the middle of a trade." in told
    assert "Position 2 is left out of the homework: no question about it has firm answers." in told
    assert not list(out.glob("homework*"))
    (only,) = of_text((out / "board.json").read_text(encoding="utf-8"))
    assert only.moves[-1] == "b5c6"


def test_what_is_no_lesson_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert ended("build", str(tmp_path / "none.md"), "--to", str(tmp_path / "out")) == 2
    assert "cannot be opened" in capsys.readouterr().err


def test_a_board_file_that_was_changed_is_refused_with_its_place(built: Path) -> None:
    told = json.loads((built / "board.json").read_text(encoding="utf-8"))
    told["positions"][1]["moves"] = 3
    with pytest.raises(Exception, match=r"positions\.1\.moves"):
        of_text(json.dumps(told))


def test_the_lesson_of_the_demo_is_true_and_its_picture_stands_in_the_documents(
    tmp_path: Path,
) -> None:
    root = Path(__file__).parents[2]
    lesson = str(root / "demo" / "lesson.md")
    assert ended("build", lesson, "--to", str(tmp_path / "out"), "--language", "en") == 0
    picture = (root / "docs" / "pictures" / "lesson-step.png").read_bytes()
    assert picture == (tmp_path / "out" / "pictures" / "007.png").read_bytes()
