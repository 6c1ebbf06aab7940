"""Files spoilt at random: never an exception, and every game given replays."""

import random
from pathlib import Path
from tempfile import TemporaryDirectory

import chess
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fastness.intake import Game, read_games
from tests.fuzzing import TRIES

PGN = Path(__file__).parents[1] / "data" / "pgn"
BASE = (PGN / "tolerated.pgn").read_bytes() + b"\n" + (PGN / "faulty.pgn").read_bytes()
PIECES = (b"{", b"}", b"(", b")", b"[", b"]", b'"', b";", b"%", b"\r", b"\n", b"\xff", b"\xc3\xa9")
WORDS = (b"O-O", b"--", b"1-0", b"*", b"$", b"<", b'[Event "x"]\n', b'[FEN "8"]\n', b"\xef\xbb\xbf")


def spoilt(dice: random.Random) -> bytes:
    content = bytearray(BASE)
    for _ in range(dice.randrange(1, 12)):
        at = dice.randrange(len(content))
        content[at : at + dice.choice([0, 0, 1, 5, 40])] = dice.choice(PIECES + WORDS)
    return bytes(content)


@pytest.mark.parametrize("seed", range(40))
def test_spoilt_files(seed: int, tmp_path: Path) -> None:
    dice = random.Random(seed)
    for _ in range(5):
        assert games_that_replay(spoilt(dice), tmp_path)


PARTS = st.one_of(
    st.sampled_from([piece.decode("latin-1") for piece in PIECES + WORDS]),
    st.sampled_from(
        ["1.", "2...", "e4", "e5", "Nf3", "exd4", "O-O", "e8=Q", "0000", "$9999", "%clk", "(", ")"]
    ),
    st.sampled_from(['[White "A"]', '[FEN "4k3/8/8/8/8/8/8/4K3 w - - 0 1"]', '[Result "1-0"]']),
    st.text(max_size=8),
)


@TRIES
@given(st.lists(PARTS, max_size=40), st.sampled_from(["utf-8", "latin-1"]))
def test_files_put_together_of_parts(parts: list[str], encoding: str) -> None:
    with TemporaryDirectory() as folder:
        content = " ".join(parts).encode(encoding, "replace")
        games_that_replay(content, Path(folder))


def games_that_replay(content: bytes, folder: Path) -> list[int]:
    """The numbers of the games that are read, each of which has been played through."""
    path = folder / "spoilt.pgn"
    path.write_bytes(content)
    numbers = []
    for item in read_games(path):
        if not isinstance(item, Game):
            assert item.message.startswith(str(path))
            continue
        numbers.append(item.number)
        board = chess.Board(item.start_fen)
        assert board.is_valid()
        for move in item.moves:
            board.push(board.parse_uci(move))
        assert len(item.clocks) == len(item.spent) == len(item.moves)
    assert numbers == sorted(set(numbers))
    return numbers
