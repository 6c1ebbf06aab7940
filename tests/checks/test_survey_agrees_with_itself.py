"""What the parts of a survey say agrees with each other and with the board."""

from functools import lru_cache

import chess
import pytest
from chess import KING

from fastness import core
from fastness.core.shapes import MoveVerdict, Survey, Unit
from tests.checks.positions import historic, passed, random_play, sample
from tests.checks.questions import played, table
from tests.checks.replay import THRESHOLD


@lru_cache(maxsize=1)
def surveys() -> list[Survey]:
    """Of historic games, random play and every position of the tables, at reach 2."""
    rows: list[tuple[str, list[str]]]
    rows = [(fen, []) for fen in historic()[::2] + random_play(20, seed=11)]
    names = ("facts.csv", "trades.csv", "status-cases.csv", "handbook.csv", "rules.csv")
    positions = dict.fromkeys(row["position"] for name in names for row in table(name))
    rows += [played(position) for position in positions]
    answers = core.survey_many(rows, reach=2)
    assert len(answers) > 600
    return [answer for answer in answers if isinstance(answer, dict)]


def all_units() -> list[tuple[Survey, Unit]]:
    return [(s, u) for s in surveys() for u in [*s["units"], *s["takings"]]]


def all_moves() -> list[tuple[Survey, MoveVerdict]]:
    return [(survey, move) for survey in surveys() for move in survey["moves"]]


def falls(net: int | str) -> bool:
    return net == "mated" or (isinstance(net, int) and net <= -THRESHOLD)


def in_danger(survey: Survey) -> bool:
    full = survey["danger"][-1] if survey["danger"] else 0
    return full == "mate" or (isinstance(full, int) and full >= THRESHOLD)


def test_attackers_guards_and_loose_are_those_on_the_board() -> None:
    for survey, unit in all_units():
        board = chess.Board(survey["fen"])
        square = chess.parse_square(unit["square"])
        piece = board.piece_at(square)
        assert piece is not None
        assert chess.piece_name(piece.piece_type) == unit["unit"]
        attackers = board.attackers(not piece.color, square)
        guards = board.attackers(piece.color, square)
        assert {chess.parse_square(s) for s in unit["attackers"]} == set(attackers), survey["fen"]
        assert {chess.parse_square(s) for s in unit["guards"]} == set(guards), survey["fen"]
        loose = not attackers and not guards and piece.piece_type != KING
        assert unit["loose"] == loose, survey["fen"]


def test_units_are_all_those_of_the_side_to_move() -> None:
    for survey in surveys():
        board = chess.Board(survey["fen"])
        own = {chess.square_name(s) for s in chess.SquareSet(board.occupied_co[board.turn])}
        assert [len(survey["units"]), {u["square"] for u in survey["units"]}] == [len(own), own]
        taken = {chess.parse_square(u["square"]) for u in survey["takings"]}
        assert taken <= set(chess.SquareSet(board.occupied_co[not board.turn])), survey["fen"]
        assert {u["status"] for u in survey["takings"]} <= {"unsafe", "unsafe together"}


def test_in_check_nothing_is_judged_but_the_moves() -> None:
    checks = [survey for survey in surveys() if survey["in_check"]]
    assert len(checks) > 20
    for survey in checks:
        assert chess.Board(survey["fen"]).is_check()
        assert survey["danger"] is None
        assert survey["takings"] == []
        for unit in survey["units"]:
            expected = "in check" if unit["unit"] == "king" else "not judged"
            assert unit["status"] == expected, survey["fen"]
        for move in survey["moves"]:
            # FIDE Laws 3.9: the checker is taken, something is put between, or the king goes.
            assert set(move["ways"]) <= {"capture", "block", "move"}, (survey["fen"], move)


def test_verdicts_follow_from_the_nets() -> None:
    for survey, move in all_moves():
        told = (survey["fen"], move)
        assert move["holds"] == (not falls(move["net"])), told
        assert (move["falls_at"] is None) == move["holds"], told
        explained = move["holds"] and (survey["in_check"] or in_danger(survey))
        assert bool(move["ways"]) == explained, told
        assert move["firm"] is None, told


def test_saved_units_were_unsafe_and_dropped_ones_are_the_movers() -> None:
    for survey, move in all_moves():
        told = (survey["fen"], move)
        statuses = {unit["square"]: unit["status"] for unit in survey["units"]}
        assert {statuses[square] for square in move["saves"]} <= {"unsafe", "unsafe together"}, told
        promoted = {uci[2:4] for uci in (move["line"] or [])[1::2] if len(uci) == 5}
        assert set(move["drops"]) <= set(statuses) | promoted, told
        assert not (move["holds"] and move["drops"]), told


def test_no_blocked_line_belongs_to_a_knight_a_pawn_or_a_king() -> None:
    blocks = [(survey, move) for survey, move in all_moves() if move["blocks"]]
    assert len(blocks) > 100
    for survey, move in blocks:
        assert move["blocks"] is not None
        slider, target = (chess.parse_square(square) for square in move["blocks"])
        board = chess.Board(survey["fen"])
        step = chess.Move.from_uci(move["uci"])
        told = (survey["fen"], move)
        assert step.to_square in chess.SquareSet(chess.between(slider, target)), told
        assert not board.is_capture(step), told
        assert may_slide(board, slider, target), told
        assert "block" in move["ways"], told
    assert not any("block" in m["ways"] and not m["blocks"] for _, m in all_moves())


def may_slide(board: chess.Board, slider: int, target: int) -> bool:
    """A slider of the opponent stands there that moves along such a line, or one arrives there."""
    straight = chess.square_file(slider) == chess.square_file(target) or (
        chess.square_rank(slider) == chess.square_rank(target)
    )
    kinds = (chess.ROOK, chess.QUEEN) if straight else (chess.BISHOP, chess.QUEEN)
    piece = board.piece_at(slider)
    if piece is None or piece.color == board.turn:
        # A square that a slider reaches in the threat's own line.
        return any(board.pieces(kind, not board.turn) for kind in kinds)
    return piece.piece_type in kinds


def judged() -> list[Survey]:
    return [survey for survey in surveys() if not survey["in_check"]]


def after_pass() -> list[Survey]:
    """The surveys of the same positions after a pass."""
    rows = [(passed(survey["fen"]).fen(), ()) for survey in judged()]
    return [answer for answer in core.survey_many(rows, reach=2) if isinstance(answer, dict)]


def test_takings_are_what_is_unsafe_for_the_opponent_if_he_passes() -> None:
    """Design section 4: the same rules with the colours exchanged and no pass."""
    tried = 0
    for survey, turned in zip(judged(), after_pass(), strict=True):
        if chess.Board(survey["fen"]).has_legal_en_passant():
            continue
        tried += 1
        unsafe = [u for u in turned["units"] if u["status"] in ("unsafe", "unsafe together")]
        assert all(unit["line"] and unit["line"][0] == "0000" for unit in unsafe), survey["fen"]
        without_pass = [{**unit, "line": (unit["line"] or [])[1:]} for unit in unsafe]
        assert survey["takings"] == without_pass, survey["fen"]
    assert tried > 500


def test_what_only_the_exchange_count_wins_is_safe_by_tactics() -> None:
    """Design section 4, step 5, where no threat charges anything."""
    found = 0
    for survey in judged():
        statuses = {unit["square"]: unit["status"] for unit in survey["units"]}
        if in_danger(survey) or "won back" in statuses.values():
            continue
        counts = core.exchange_counts(passed(survey["fen"]).fen())
        winnable = {uci[2:4] for uci, gained in counts.items() if gained >= THRESHOLD}
        found += len(winnable)
        assert {statuses[square] for square in winnable} <= {"safe by tactics"}, survey["fen"]
    assert found > 20


@pytest.mark.slow
def test_firm_is_the_same_verdict_one_reach_deeper() -> None:
    fens = sample(historic(), 60, seed=12)
    asked = core.survey_many([(fen, ()) for fen in fens], reach=1, firm=True)
    deeper = core.survey_many([(fen, ()) for fen in fens], reach=2)
    for fen, shallow, deep in zip(fens, asked, deeper, strict=True):
        assert isinstance(shallow, dict)
        assert isinstance(deep, dict)
        for one, two in zip(shallow["moves"], deep["moves"], strict=True):
            assert one["firm"] == (one["holds"] == two["holds"]), (fen, one)


@pytest.mark.slow
def test_danger_and_falls_at_by_reach_are_those_of_smaller_reaches() -> None:
    fens = sample(historic(), 60, seed=13)
    by_reach = [core.survey_many([(fen, ()) for fen in fens], reach=reach) for reach in (1, 2, 3)]
    for surveys_of_one in zip(*by_reach, strict=True):
        one, two, three = surveys_of_one
        assert isinstance(one, dict)
        assert isinstance(two, dict)
        assert isinstance(three, dict)
        if three["danger"] is not None:
            assert two["danger"] == three["danger"][:2], three["fen"]
            assert one["danger"] == three["danger"][:1], three["fen"]
        for verdicts in zip(one["moves"], two["moves"], three["moves"], strict=True):
            held = [index for index, verdict in enumerate(verdicts, 1) if verdict["holds"]]
            last_held = max(held, default=0)
            expected = last_held + 1 if last_held < 3 else None
            assert verdicts[2]["falls_at"] == expected, (three["fen"], verdicts[2])
