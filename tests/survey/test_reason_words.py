"""Why a move fails, in words, for the teacher and for a student; made up for these tests."""

import chess
import pytest

from fastness.language import ENGLISH
from fastness.survey.claim import Claim, Falls, Owed, Reach, TakingMove, UnitAt, Unsafe
from fastness.survey.findings import Findings
from fastness.survey.reasons import reason_in_words
from tests.survey.samples import PIN, TRADE, uci_line

BARE_KINGS = "4k3/8/8/8/8/8/8/4K3 b - - 0 1"
ENDED = "6k1/p4ppp/8/8/8/8/5PPP/1R4K1 b - - 0 1"
TWO = "4k3/8/8/3n4/8/2B5/8/4K2R b - - 0 1"
OUTNUMBERED = "6k1/5p2/8/8/3p4/8/3R4/3R2K1 b - - 0 1"

ROWS = [
    ("allows mate", ENDED, "a6 Rb8#", "b8 g8", "it allows mate", "it allows mate"),
    (
        "the blocker falls",
        "6k1/6pp/8/8/8/q7/1n3PPP/2R3K1 b - - 0 1",
        "Qf8 Rc8",
        "c8 f8 g8",
        "the queen on f8, put in between, is lost itself",
        "your queen on f8, put in between, is lost itself",
    ),
    (
        "guard pinned",
        "3k4/8/8/2n1p3/8/5N2/8/3R2K1 b - - 0 1",
        "Nd7 Nxe5",
        "d1 d7 d8 e5",
        "the guard, the knight on d7, is pinned to the king on d8 by the rook on d1",
        "the guard, your knight on d7, is pinned to your king on d8 by the rook on d1",
    ),
    (
        "less valuable attacker",
        PIN,
        "Nc6 Bxd8 Nxd8",
        "g5 d8",
        "guarding does not help, since the bishop on g5 is worth less than the queen on d8",
        "guarding does not help, since the bishop on g5 is worth less than your queen on d8",
    ),
    (
        "outnumbered still",
        OUTNUMBERED,
        "f5 Rxd4",
        "d4 d2",
        "the pawn on d4 is still attacked more often than guarded",
        "your pawn on d4 is still attacked more often than guarded",
    ),
    (
        "two units attacked",
        "r3k3/8/8/1N6/8/8/8/4K3 b q - 0 1",
        "Kd8 Nc7 Kxc7",
        "a8 c3",
        "two are attacked at once, and one is lost",
        "two are attacked at once, and one is lost",
    ),
    (
        "two units attacked",
        "r3r1k1/8/8/1N6/8/8/8/6K1 b - - 0 1",
        "Kg7 Nc7 Rab8 Nxe8+",
        "e8 a8",
        "after 2.Nc7 the rook on a8 and the rook on e8 are attacked at the same time",
        "after that your rook on a8 and your rook on e8 are attacked at the same time",
    ),
    (
        "walks into a capture",
        PIN,
        "Qxg5 Nxg5",
        "f3 g5",
        "the knight on f3 takes the queen on g5",
        "the knight on f3 takes your queen on g5",
    ),
    (
        "uncovers another unit",
        "3rk3/3n4/8/8/8/8/8/3R2K1 b - - 0 1",
        "Nc5 Rxd8+",
        "d8 d1",
        "it opens the way for the rook on d1 to the rook on d8",
        "it opens the way for the rook on d1 to your rook on d8",
    ),
    (
        "answered with a bigger threat",
        TWO,
        "Nxc3 Rh8+",
        "h8 e8",
        "2.Rh8+ attacks the king on e8",
        "that attacks your king on e8",
    ),
    (
        "lost further on",
        PIN,
        "a6 Nc3 h6 Bxd8",
        "d8",
        "the queen on d8 is taken in the end, for something worth less",
        "your queen on d8 is taken in the end, for something worth less",
    ),
    (
        "lost further on",
        "3rr1k1/ppb2pp1/5np1/3q4/Q1pP4/4R2P/PB3PP1/3R1NK1 b - - 3 27",
        "Qc6 Rxe8+ Qxe8 Qxa7",
        "a7",
        "28.Rxe8+ draws the queen on c6 away, and the pawn on a7 is taken",
        "Rxe8+ draws your queen on c6 away, and your pawn on a7 is taken",
    ),
    ("threat too small", PIN, "h6 Bxd8", "h6", "what it attacks in turn is not enough", None),
    (
        "does not address it",
        PIN,
        "a6 Bxd8",
        "d8",
        "the queen on d8 is taken",
        "your queen on d8 is taken",
    ),
]


@pytest.mark.parametrize(("reason", "fen", "line", "squares", "teacher", "student"), ROWS)
def test_a_reason_is_told_with_those_who_take_part(
    reason: str, fen: str, line: str, squares: str, teacher: str, student: str | None
) -> None:
    ucis = uci_line(fen, line)
    falls = Falls(ucis[0], 300, tuple(ucis), "guard", reason, tuple(squares.split()), ())
    found = Findings([Reach(fen, "black", 3, "classical")], ENGLISH)
    assert reason_in_words(found, falls) == teacher
    assert reason_in_words(found, falls, you=chess.BLACK) == (student or teacher)


@pytest.mark.parametrize(
    ("in_danger", "told"),
    [
        ("a5", "it saves the rook on b5, but the knight on h5 is taken"),
        ("h5", "the knight on h5 is still taken"),
    ],
)
def test_only_what_was_in_danger_is_said_to_be_saved(in_danger: str, told: str) -> None:
    fen = "4k3/8/8/r6n/8/B7/5B2/6K1 b - - 0 1"
    ucis = uci_line(fen, "Rb5 Kg2")
    unit = UnitAt("rook" if in_danger == "a5" else "knight", in_danger)
    unsafe = Unsafe(unit, 1, 300, (), (), after=False)
    falls = Falls(ucis[0], 300, tuple(ucis), "move", "two units attacked", ("h5", "b5"), ("h5",))
    found = Findings([Reach(fen, "black", 3, "classical"), unsafe], ENGLISH)
    assert reason_in_words(found, falls) == told


@pytest.mark.parametrize(
    ("fen", "line", "square", "told"),
    [
        (TRADE, "a5 Nc3", "c6", "it does not take back on c6"),
        (TRADE, "a5 Nc3 dxc6", "c6", "it takes back on c6 too late"),
        (BARE_KINGS, "Kd8 Kd1", "a1", "it does not win back what was taken on a1"),
    ],
)
def test_what_is_left_undone_in_a_trade(fen: str, line: str, square: str, told: str) -> None:
    ucis = uci_line(fen, line)
    falls = Falls(ucis[0], 300, tuple(ucis), None, "does not address it", (square,), ())
    claims: list[Claim] = [Reach(fen, "black", 3, "classical"), Owed(300)]
    assert reason_in_words(Findings(claims, ENGLISH), falls) == told


def test_a_mate_instead_of_taking_back_is_told() -> None:
    fen = "r3kb1r/p1pp1ppp/Q4n2/7q/1p1NPp2/1B6/PPP3PP/RNB2K1R b kq - 0 11"
    falls = Falls("f8c5", 300, ("f8c5",), None, "does not address it", ("a6",), ())
    claims: list[Claim] = [
        Reach(fen, "black", 3, "classical"),
        Owed(300),
        TakingMove("h5d1", "mates"),
    ]
    assert reason_in_words(Findings(claims, ENGLISH), falls) == "it misses the mate"


@pytest.mark.parametrize("reason", sorted({row[0] for row in ROWS}))
def test_a_reason_without_squares_is_told_in_general(reason: str) -> None:
    ucis = uci_line(PIN, "a6 Bxd8")
    falls = Falls(ucis[0], 600, tuple(ucis), None, reason, (), ())
    told = reason_in_words(Findings([Reach(PIN, "black", 3, "classical")], ENGLISH), falls)
    assert told
    assert told != reason


def test_no_reason_is_no_sentence() -> None:
    falls = Falls("a7a6", 600, (), None, None, (), ())
    found = Findings([Reach(PIN, "black", 3, "classical")], ENGLISH)
    assert reason_in_words(found, falls) == ""
