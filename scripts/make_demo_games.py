"""Play the games of the invented Millrace Chess Club and write them as PGN.

Usage: python -m scripts.make_demo_games [OUT.pgn] [--seed N] [--games N]

demo/millrace.pgn comes from the defaults. The same seed gives the same file.
"""

from __future__ import annotations

import argparse
import datetime
import random
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import chess
import chess.pgn

from scripts.demo_students import STUDENTS, WORTH, Student, best_net, choose, look_ahead, number

SEED = 1851
FIRST_EVENING = datetime.date(2026, 9, 7)
MINUTES, INCREMENT = 25, 5
SHORTEST, LONGEST = 20, 45
"""The length of a game, in full moves."""
HOPELESS = -800
LEVEL = 200
PEACEFUL = 30
"""From this move on a draw may be agreed."""

# Common practice, no source.
OPENINGS = (
    "e4 e5 Nf3 Nc6 Bc4 Bc5",
    "e4 e5 Nf3 Nc6 Bc4 Nf6 d3",
    "e4 e5 Nf3 Nc6 Nc3 Nf6",
    "e4 e5 Nf3 Nc6 d4 exd4 Nxd4",
    "e4 e5 Nf3 Nc6 Bb5 a6",
    "e4 e5 Nf3 d6 d4",
    "e4 e6 d4 d5 Nc3 Nf6",
    "e4 c6 d4 d5 exd5 cxd5",
    "e4 d5 exd5 Qxd5 Nc3 Qa5",
    "e4 c5 Nf3 d6 d4 cxd4 Nxd4 Nf6",
    "d4 d5 c4 e6 Nc3 Nf6",
    "d4 d5 Nf3 Nf6 Bf4 e6",
    "d4 Nf6 c4 e6 Nc3 d5",
)


@dataclass(frozen=True, slots=True)
class Pairing:
    """Who plays whom in which round; `number` counts the games from 1."""

    number: int
    round: int
    white: Student
    black: Student


@dataclass(frozen=True, slots=True)
class Played:
    """A finished game: its moves, its result, and how it ended, in a few words."""

    moves: tuple[chess.Move, ...]
    result: str
    ending: str


def pairings() -> Iterator[Pairing]:
    """Everyone meets everyone once; the one left over in a round helps with the clocks."""
    seats: list[Student | None] = [*STUDENTS]
    if len(seats) % 2:
        seats.append(None)
    number = 0
    for round_number in range(1, len(seats)):
        for table in range(len(seats) // 2):
            white, black = seats[table], seats[-1 - table]
            if white is None or black is None:
                continue
            if (round_number + table) % 2 == 0:
                white, black = black, white
            number += 1
            yield Pairing(number, round_number, white, black)
        seats = [seats[0], seats[-1], *seats[1:-1]]


def play(pairing: Pairing, seed: int) -> Played:
    """The first game of this pairing, over numbered attempts, that has a fitting length."""
    attempt = 0
    while True:
        dice = random.Random(f"{seed} {pairing.number} {attempt}")
        if (played := _play_once(pairing, dice)) and len(played.moves) >= 2 * SHORTEST:
            return played
        attempt += 1


def _play_once(pairing: Pairing, dice: random.Random) -> Played | None:
    """A game to its end; None if one side is ahead and it drags on."""
    board = chess.Board()
    for san in OPENINGS[dice.randrange(len(OPENINGS))].split():
        board.push_san(san)
    while (outcome := board.outcome(claim_draw=True)) is None:
        if verdict := agreed(board, dice):
            return Played(tuple(board.move_stack), *verdict)
        if board.fullmove_number > LONGEST:
            return None
        student = pairing.white if board.turn == chess.WHITE else pairing.black
        board.push(choose(student, board, dice))
    ending = "Mate." if board.is_checkmate() else "Drawn by the rules."
    return Played(tuple(board.move_stack), outcome.result(), ending)


def agreed(board: chess.Board, dice: random.Random) -> tuple[str, str] | None:
    """Whether the side to move resigns, or a draw is agreed: result and words."""
    if board.fullmove_number <= SHORTEST:
        return None
    balance = _balance(board)
    tired = board.fullmove_number > LONGEST or dice.randrange(100) < 8
    if tired and balance <= HOPELESS and best_net(look_ahead(board, 1)) < -HOPELESS // 2:
        white = board.turn == chess.WHITE
        return ("0-1", "White resigned.") if white else ("1-0", "Black resigned.")
    if tired and board.fullmove_number > PEACEFUL and abs(balance) < LEVEL:
        return "1/2-1/2", "Draw agreed."
    return None


def _balance(board: chess.Board) -> int:
    """Material of the side to move less that of the other, in centipawns."""
    return sum(
        WORTH[unit.piece_type] * (1 if unit.color == board.turn else -1)
        for unit in board.piece_map().values()
    )


def as_pgn(pairing: Pairing, played: Played, seed: int) -> str:
    """The game in PGN export format, with clocks in every other round and a few comments."""
    game = chess.pgn.Game()
    evening = FIRST_EVENING + datetime.timedelta(weeks=pairing.round - 1)
    game.headers["Event"] = "Millrace Chess Club Autumn Ladder"
    game.headers["Site"] = "Millrace"
    game.headers["Date"] = evening.strftime("%Y.%m.%d")
    game.headers["Round"] = str(pairing.round)
    game.headers["White"] = pairing.white.name
    game.headers["Black"] = pairing.black.name
    game.headers["Result"] = played.result
    if clocked := pairing.round % 2 == 1:
        game.headers["TimeControl"] = f"{MINUTES * 60}+{INCREMENT}"
    node: chess.pgn.GameNode = game
    for move in played.moves:
        node = node.add_main_variation(move)
    if clocked:
        _set_clocks(game, random.Random(f"{seed} clock {pairing.number}"))
    if pairing.number % 5 == 1:
        _annotate(game)
    node.comment = f"{node.comment} {played.ending}".strip()
    exporter = chess.pgn.StringExporter(columns=80, headers=True, comments=True, variations=True)
    return f"{game.accept(exporter)}\n\n"


def _set_clocks(game: chess.pgn.Game, dice: random.Random) -> None:
    """Write the seconds left after each move, quick in the opening, slow in the middle."""
    left = {chess.WHITE: MINUTES * 60, chess.BLACK: MINUTES * 60}
    for ply, node in enumerate(game.mainline()):
        colour = not node.turn()
        spent = dice.randint(2, 12) if ply < 12 else dice.randint(4, 90)
        left[colour] = max(left[colour] - spent, dice.randint(3, 20)) + INCREMENT
        node.set_clock(left[colour])


def _annotate(game: chess.pgn.Game) -> None:
    """Show beside the first fault of the game, as a variation, the move that nets most."""
    for node in game.mainline():
        moves = look_ahead(node.parent.board(), 2)["moves"]
        holding = {move["uci"]: number(move["net"]) for move in moves if move["holds"]}
        if node.move.uci() in holding or not holding:
            continue
        node.comment = f"{node.comment} What else was there?".strip()
        best = max(sorted(holding), key=lambda uci: holding[uci])
        node.parent.add_variation(chess.Move.from_uci(best), comment="This keeps the material.")
        return


def club_games(seed: int = SEED, count: int | None = None) -> Iterator[str]:
    """The games as PGN text, in order; the first `count` of them if given."""
    for pairing in list(pairings())[:count]:
        yield as_pgn(pairing, play(pairing, seed), seed)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("out", type=Path, nargs="?", default=Path("demo/millrace.pgn"))
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--games", type=int, default=None, help="the first N games only")
    args = parser.parse_args()
    args.out.write_text("".join(club_games(args.seed, args.games)), encoding="ascii")


if __name__ == "__main__":
    main()
