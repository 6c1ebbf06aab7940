from pathlib import Path

import pytest

from fastness.cli import main

FEN = "r1bqkbnr/pppp1ppp/2n5/4p3/2B1P3/5Q2/PPPP1PPP/RNB1K1NR b KQkq - 3 3"


def ran(*words: str) -> int:
    with pytest.raises(SystemExit) as ended:
        main(["reply", *words])
    return int(str(ended.value.code))


def test_a_reply_is_printed_and_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    to = tmp_path / "reply"
    assert ran("Why can't I play Nd4?", "--position", FEN, "--to", str(to)) == 0
    told = capsys.readouterr().out
    assert told.startswith("You can play Nd4, but White answers Qxf7#. That is mate.")
    assert to.with_suffix(".txt").read_text("utf-8") in told
    assert {path.name for path in tmp_path.iterdir()} == {
        "reply.txt",
        "reply.svg",
        "reply.png",
        "reply-2.svg",
        "reply-2.png",
    }


def test_a_game_is_read(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    game = tmp_path / "game.pgn"
    game.write_text("1. e4 e5 2. Nf3 f6 3. Nxe5 *\n", "utf-8")
    words = ["--game", str(game), "--move", "2", "--colour", "black"]
    assert ran("What did I do wrong?", *words) == 0
    assert "weakens the king's shelter" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["Hm?", "--position", FEN], "Why can't I play Nf6?"),
        (["Why not Nd4?"], "Give a position or a game"),
        (["Why not Nd4?", "--position", "8/8"], "fields of a FEN"),
        (["Why not Nd4?", "--game", "no.pgn"], "cannot be opened"),
        (["Why not Nd4?", "--position", FEN, "--to", "/nowhere/x"], "cannot be written"),
    ],
)
def test_bad_input_is_told(words: list[str], told: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert ran(*words) == 2
    assert told in capsys.readouterr().err
