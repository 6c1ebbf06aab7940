"""Files spoilt at random: never an exception, and every game given replays."""

import random
from pathlib import Path

import chess
import pytest

from fastness.intake import Game, read_games

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
    path = tmp_path / "spoilt.pgn"
    for _ in range(5):
        path.write_bytes(spoilt(dice))
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
        assert numbers
