"""Where a line wins more than the unit it stands under costs, the rest falls on other units."""

from collections import Counter

import chess

from fastness import core
from fastness.core.shapes import Survey, Unit
from tests.checks.positions import historic, sample
from tests.checks.replay import WORTH

TWO_FALL = "k2q1b1r/p3n1pp/Qp1p1p2/8/3N1B2/8/PP3PPP/2R1R1K1 w - - 0 21"
"""Nb5 wins a queen for a rook by a line in which the pawn on d6 falls as well."""
VALUES = dict(zip(chess.PIECE_TYPES, WORTH["classical"], strict=False))


def won_by_square(fen: str, unit: Unit, attacker: chess.Color) -> dict[str, int]:
    """What the attacker nets in the unit's line, by where the first unit it took on each square
    stood at the start; by the square itself where it took none, as for a promotion."""
    board, homes = chess.Board(fen), {square: square for square in chess.SQUARES}
    won: Counter[int] = Counter()
    first: dict[int, int] = {}
    for uci in unit["line"] or []:
        move = chess.Move.from_uci(uci)
        if move:
            at, gain = move.to_square, 0
            if board.is_capture(move):
                behind = chess.square(chess.square_file(at), chess.square_rank(move.from_square))
                taken = behind if board.is_en_passant(move) else at
                gain = VALUES[board.piece_type_at(taken) or chess.PAWN]
                if board.turn == attacker:
                    first.setdefault(at, homes[taken])
            if move.promotion:
                gain += VALUES[move.promotion] - VALUES[chess.PAWN]
            won[at] += gain if board.turn == attacker else -gain
            homes[at] = homes[move.from_square]
        board.push(move)
    return {chess.square_name(first.get(at, at)): net for at, net in won.items() if net > 0}


def rest_not_told(survey: Survey) -> list[str]:
    """Units that fall in another's line, and neither are told to fall nor are promotions."""
    found = []
    for told, taking in ((survey["units"], False), (survey["takings"], True)):
        attacker = (survey["side"] == "white") == taking
        fall = [u for u in told if u["status"] in ("unsafe", "unsafe together")]
        squares = {unit["square"] for unit in fall}
        for unit in fall:
            if unit["loses"] == "mate" or "0000" in (unit["line"] or [])[1:]:
                continue
            won = won_by_square(survey["fen"], unit, attacker)
            assert isinstance(unit["loses"], int)
            if sum(won.values()) > unit["loses"]:
                others = {
                    at for at in won if chess.Board(survey["fen"]).piece_at(chess.parse_square(at))
                }
                found += [f"{unit['square']}: {at}" for at in others - squares]
    return found


def test_a_queen_and_a_pawn_fall_in_one_line() -> None:
    survey = core.survey(TWO_FALL)
    loses = {unit["square"]: unit["loses"] for unit in survey["takings"]}
    queen = next(unit for unit in survey["takings"] if unit["square"] == "d8")
    assert loses == {"d8": 400, "d6": 100}
    assert won_by_square(TWO_FALL, queen, chess.WHITE) == {"d8": 400, "d6": 100}


def test_what_else_a_line_wins_is_told() -> None:
    answers = core.survey_many([(fen, ()) for fen in sample(historic(), 60, seed=62)])
    told = {s["fen"]: rest_not_told(s) for s in answers if isinstance(s, dict)}
    assert len(told) == 60
    assert not {fen: rest for fen, rest in told.items() if rest}
