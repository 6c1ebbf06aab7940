"""Archives for the tests of sweeps."""

from __future__ import annotations

from pathlib import Path

from fastness.intake import Game, Problem, read_games, read_stretch
from fastness.sweep.batches import Batch, batches

ROOT = Path(__file__).parents[2]
HISTORIC = ROOT / "tests" / "data" / "historic.pgn"
MOVES = (
    "1. e4 e5 2. Nf3 Nc6 3. Bc4 Nd4 4. Nxe5 Qg5 5. Nxf7 Qxg2 6. Rf1 Qxe4+ 7. Be2 Nf3# 0-1",
    "1. d4 d5 2. Nf3 e6 3. Bg5 h6 4. Bxd8 Kxd8 1-0",
    "1. e4 e5 2. Qh5 Ke7 3. Qxe5# 1-0",
)


def game(number: int, moves: str = "") -> str:
    """One short game."""
    ratings = f'[WhiteElo "{1200 + number * 37 % 1400}"]\n[BlackElo "{1300 + number * 91 % 900}"]\n'
    result = "0-1" if number % 3 == 0 else "1-0"
    return (
        f'[Event "Millrace evening"]\n[Round "{number}"]\n[White "Cogsworthy, Bea"]\n'
        f'[Black "Brook, Tom"]\n{ratings}[Result "{result}"]\n\n{moves or MOVES[number % 3]}\n\n'
    )


def archive(place: Path, games: int = 30) -> Path:
    """An archive of so many short games, one of them broken."""
    texts = [game(number) for number in range(games)]
    texts[games // 2] = game(games // 2, "1. e4 e5 2. Ke3 Nf6 1-0")
    place.write_text("".join(texts), encoding="utf-8")
    return place


def read_whole(path: Path) -> list[Game | Problem]:
    """The games and the problems of a file that is read in one piece."""
    return list(read_games(path))


def read_in_batches(path: Path, games: int) -> list[Game | Problem]:
    """The same by way of batches."""
    return [item for one in cut(path, games) for item in read_stretch(one.stretch)]


def cut(path: Path, games: int) -> list[Batch]:
    """The batches of a file."""
    return list(batches(path, games=games))
