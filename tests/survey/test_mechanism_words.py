"""Each mechanism in words, for the teacher and for a student; made up for these tests."""

from dataclasses import dataclass

import chess
import pytest
from chess import KING

from fastness.language import ENGLISH
from fastness.survey.causes import causes
from fastness.survey.claim import Cause, Claim, Reach, UnitAt, Unsafe
from fastness.survey.findings import Findings
from fastness.survey.plain_causes import plain_cause
from tests.survey.samples import uci_line


@dataclass(frozen=True)
class Row:
    """The mechanism, the position, the unit's square, its line, and what is to be said."""

    name: str
    fen: str
    square: str
    line: str
    squares: str
    teacher: str
    student: str


ROWS = [
    Row(
        "fork",
        "r3r1k1/2N5/8/8/8/8/8/6K1 b - - 0 1",
        "a8",
        "pass Nxa8 Rxa8",
        "c7 a8 e8",
        "The knight on c7 forks the rook on a8 and the rook on e8.",
        "The knight on c7 attacks your rook on a8 and your rook on e8 at the same time.",
    ),
    Row(
        "fork",
        "r3r1k1/8/8/1N6/8/8/8/6K1 b - - 0 1",
        "a8",
        "pass Nc7 Kf8 Nxa8 Rxa8",
        "c7 a8 e8",
        "2.Nc7 forks the rook on a8 and the rook on e8.",
        "White can attack your rook on a8 and your rook on e8 at the same time.",
    ),
    Row(
        "pin",
        "4k3/8/8/4n3/3P4/8/8/4R1K1 b - - 0 1",
        "e5",
        "pass dxe5",
        "e1 e5 e8",
        "The rook on e1 pins the knight on e5 to the king on e8.",
        "It is pinned, since your king on e8 stands behind.",
    ),
    Row(
        "skewer",
        "q7/8/8/3k4/8/8/8/5BK1 b - - 0 1",
        "a8",
        "pass Bg2+ Kd4 Bxa8",
        "g2 d5 a8",
        "Later in the line, the bishop on g2 attacks the king on d5, and the queen on a8 stands"
        " behind on the same line: a skewer.",
        "",
    ),
    Row(
        "pinned guard",
        "3k4/3n4/8/4p3/8/5N2/8/3R2K1 b - - 0 1",
        "e5",
        "pass Nxe5",
        "d1 d7 d8 e5",
        "Its guard, the knight on d7, is pinned to the king on d8 by the rook on d1.",
        "Your knight on d7 cannot help, since it is pinned.",
    ),
    Row(
        "overloaded guard",
        "3r3n/6k1/8/3b4/8/8/6B1/3R2KR b - - 0 1",
        "d5",
        "pass Bxd5 Rxd5 Rxh8",
        "d8 d5 h8",
        "The rook on d8 guards it and also h8, and cannot do both.",
        "Your rook on d8 has two things to guard and cannot do both.",
    ),
    Row(
        "removal of the guard",
        "6k1/8/3p4/4n3/8/8/8/3RR1K1 b - - 0 1",
        "e5",
        "pass Rxd6 Kf7 Rxe5",
        "d6 e5",
        "Its guard, the pawn on d6, is taken first.",
        "White first takes your pawn on d6, which guards it.",
    ),
    Row(
        "removal of the guard",
        "6k1/8/5n2/8/4p1P1/8/8/4R1K1 b - - 0 1",
        "e4",
        "pass g5 Nh5 Rxe4",
        "f6 e4",
        "Its guard, the knight on f6, is driven or drawn off first.",
        "White first gets rid of your knight on f6, which guards it.",
    ),
    Row(
        "discovered attack",
        "3q2k1/8/8/8/3N4/8/8/3R2K1 b - - 0 1",
        "d8",
        "pass Nf5 Kh8 Rxd8+",
        "d4 d1 d8",
        "2.Nf5 uncovers the line of the rook on d1: a discovered attack.",
        "Nf5 opens the line of the rook on d1.",
    ),
    Row(
        "discovered check",
        "4k3/8/8/1q6/4N3/8/8/4R1K1 b - - 0 1",
        "b5",
        "pass Nc3+ Kd8 Nxb5",
        "e4 e1 e8",
        "2.Nc3+ uncovers a check by the rook on e1.",
        "Nc3+ opens the line of the rook on e1, and that is check.",
    ),
    Row(
        "double check",
        "4k3/8/8/1q6/4N3/8/8/4R1K1 b - - 0 1",
        "b5",
        "pass Nd6+ Kd7 Nxb5",
        "d6 e1 e8",
        "2.Nd6+ is check from two sides at once, so the king has to move.",
        "White gives check with two pieces at once.",
    ),
    Row(
        "trapped",
        "n5k1/8/1P6/8/8/8/8/R5K1 b - - 0 1",
        "a8",
        "pass Rxa8+",
        "a8 b6 c7",
        "It is trapped: it has no move to safety.",
        "It has no safe square to go to.",
    ),
    Row(
        "trapped",
        "qr4k1/bp6/8/8/8/8/8/R5K1 b - - 0 1",
        "a7",
        "pass Rxa7",
        "a7",
        "It is trapped: it has no move at all.",
        "It has no square to go to.",
    ),
    Row(
        "back rank",
        "3r2k1/5ppp/8/3n4/8/8/5PPP/3RR1K1 b - - 0 1",
        "d5",
        "pass Rxd5",
        "e8 g8",
        "Taking back would allow a back-rank mate of the king on g8.",
        "If you take back, you are mated on the back rank.",
    ),
    Row(
        "back rank",
        "6k1/5ppp/8/8/8/8/5PPP/4R1K1 b - - 0 1",
        "g8",
        "pass Re8#",
        "e8 g8",
        "It is a back-rank mate.",
        "Your king is shut in on the back rank.",
    ),
    Row(
        "mate threat",
        "5rk1/5ppp/8/6N1/n7/8/4Q3/6K1 b - - 0 1",
        "a4",
        "pass Qe4 g6 Qxa4",
        "e4 g8",
        "2.Qe4 threatens mate, which has to be met.",
        "White can play Qe4, threaten mate and then win it.",
    ),
    Row(
        "mate threat",
        "3r2k1/5ppp/8/3n4/8/8/5PPP/3RR1K1 b - - 0 1",
        "d5",
        "pass Rxd5",
        "e1 g8",
        "Taking back would allow mate.",
        "If you take back, you are mated.",
    ),
    Row(
        "promotion",
        "3r2k1/P7/8/8/8/8/8/R5K1 b - - 0 1",
        "d8",
        "pass a8=Q Rxa8 Rxa8+",
        "a7 a8",
        "In the line a pawn promotes on a8.",
        "White gets a pawn to the last rank.",
    ),
    Row(
        "promotion",
        "r5k1/8/P7/8/8/8/8/R5K1 b - - 0 1",
        "a8",
        "pass a7 Rxa7 Rxa7",
        "a7 a8",
        "Later in the line, it has to be given for the pawn on a7, which would promote.",
        "",
    ),
    Row(
        "interference",
        "3r2k1/8/8/8/3nN3/8/3R2K1/8 b - - 0 1",
        "d4",
        "pass Nd6 Kh8 Rxd4",
        "d6 d8 d4",
        "2.Nd6 cuts it off from its guard, the rook on d8.",
        "White puts something between it and its guard.",
    ),
    Row(
        "in-between move",
        "6k1/8/8/q7/8/2b5/1P6/R3RRK1 b - - 0 1",
        "a5",
        "pass bxc3 Qxa1 Re8+ Kg7 Rxa1",
        "a1 e8",
        "3.Re8+ comes in between, before anything is taken back on a1.",
        "White plays Re8+ before taking back.",
    ),
    Row(
        "desperado",
        "r5k1/pp6/2N5/8/8/8/8/6K1 b - - 0 1",
        "a7",
        "pass Nxa7 Rxa7",
        "c6 a7",
        "The knight on c6 would be lost anyway and takes what it can: a desperado.",
        "A piece that is lost anyway takes it first.",
    ),
]


def findings(row: Row) -> tuple[Findings, Unsafe]:
    board = chess.Board(row.fen)
    kind = board.piece_type_at(chess.parse_square(row.square))
    assert kind is not None
    unit = UnitAt(chess.piece_name(kind), row.square)  # type: ignore[arg-type]
    loses = "mate" if kind == KING else 100
    unsafe = Unsafe(unit, 2, loses, tuple(uci_line(row.fen, row.line)), (), after=False)  # type: ignore[arg-type]
    found: list[Claim] = [
        Reach(row.fen, "black", 3, "classical"),
        unsafe,
        Cause(unit, row.name, tuple(row.squares.split())),
    ]
    return Findings(found, ENGLISH), unsafe


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row.name}, {row.fen}")
def test_a_mechanism_is_told_with_those_who_take_part(row: Row) -> None:
    found, unsafe = findings(row)
    assert causes(found, unsafe) == [row.teacher]
    assert plain_cause(found, unsafe) == row.student


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row.name}, {row.fen}")
def test_without_its_squares_a_mechanism_is_named(row: Row) -> None:
    found, unsafe = findings(row)
    bare: list[Claim] = [found.position, unsafe]
    bare += [Cause(one.unit, one.mechanism, ()) for one in found.of(Cause)]
    told = causes(Findings(bare, ENGLISH), unsafe)
    king = row.name == "mate threat" and unsafe.unit.kind == "king"
    assert told == ([] if king else [f"Cause: {row.name}."])


def test_there_is_a_row_for_each_mechanism_with_units_of_its_own() -> None:
    assert len({row.name for row in ROWS}) == 16
