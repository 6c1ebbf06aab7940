"""Claims on the position as a whole, judged: what is false in each."""

import chess
from chess import KING

from fastness import core
from fastness.survey.claim import (
    InCheck,
    InDanger,
    Loose,
    Mated,
    NothingUnsafe,
    NoUnit,
    Owed,
    PerhapsATrade,
    Promotes,
    Reach,
    Stalemated,
    ValuesMatter,
    Zugzwang,
)
from tests.judge.board import THRESHOLD, bears
from tests.judge.falls import promotes_on
from tests.judge.plain import PASS
from tests.judge.played import played
from tests.judge.worth import Position, best_lines, in_words, shows

TABLES = {
    "classical": (100, 300, 300, 500, 900),
    "kaufman": (100, 325, 325, 500, 975),
}


def reach(claim: Reach, position: Position) -> list[str]:
    survey = position.survey
    board = chess.Board(claim.fen)
    side = "white" if board.turn else "black"
    same = board.epd() == position.board.epd() and side == claim.side
    told = (claim.reach, claim.values) == (survey["reach"], survey["values"])
    return [] if same and told else ["another position or another search"]


def mated(claim: Mated, position: Position) -> list[str]:
    board = position.board
    king = board.king(board.turn)
    there = king is not None and chess.square_name(king) == claim.king
    return [] if board.is_checkmate() and there else [f"{claim.king} is not mated"]


def stalemated(_: Stalemated, position: Position) -> list[str]:
    return [] if position.board.is_stalemate() else ["no stalemate"]


def in_check(claim: InCheck, position: Position) -> list[str]:
    board = position.board
    king, checkers = board.king(board.turn), {chess.square_name(at) for at in board.checkers()}
    there = king is not None and chess.square_name(king) == claim.king
    told = bool(checkers) and set(claim.checkers) == checkers
    return [] if there and told else [f"checked by {checkers}"]


def owed(claim: Owed, position: Position) -> list[str]:
    lost = position.bare(not position.own) - position.base
    return [] if claim.centipawns == lost > 0 else [f"owed is {lost}"]


def in_danger(claim: InDanger, position: Position) -> list[str]:
    least = position.danger(position.reach)
    faults = _dangers(claim, position) + ([] if least >= THRESHOLD else ["there is no danger"])
    if claim.line is not None:
        net = position.net(claim.line[0], position.reach)
        faults += shows(position, claim.line, net)
        faults += [] if net == -least else [f"{claim.line[0]} does not lose {least}"]
    return faults


def nothing_unsafe(claim: NothingUnsafe, position: Position) -> list[str]:
    most = position.danger(position.reach)
    return _dangers(claim, position) + ([] if most < THRESHOLD else [f"{most} can be won"])


def _dangers(claim: InDanger | NothingUnsafe, position: Position) -> list[str]:
    truly = tuple(
        in_words(position.danger(near), "mate", "mated") for near in range(1, position.reach + 1)
    )
    return [] if claim.by_reach == truly else [f"dangers are {truly}"]


def promotes(claim: Promotes, position: Position) -> list[str]:
    """By some threat, in best play after it; and in the line that is told, after a pass."""
    at, other = chess.parse_square(claim.square), not position.own
    lines = (
        line
        for threat in position.threats(position.reach)
        for near in range(1, position.reach + 1)
        for line in best_lines(position, [PASS, threat], near)
    )
    fen = position.survey["fen"]
    faults = []
    if not any(promotes_on(played(fen, line), at, other) for line in lines):
        faults.append(f"nothing promotes on {claim.square} after a pass")
    if claim.line[0] != PASS or not promotes_on(played(fen, claim.line), at, other):
        faults.append(f"nothing promotes on {claim.square} in the line")
    return faults


def no_unit(claim: NoUnit, position: Position) -> list[str]:
    danger = position.danger(position.reach)
    lost = position.bare(not position.own) - position.base
    if danger < THRESHOLD:
        return ["there is no danger"]
    if not claim.line:
        return [] if danger - lost < THRESHOLD else ["more than what is owed is in danger"]
    net = position.net(claim.line[0], position.reach)
    return [*shows(position, claim.line, net), *([] if net <= -THRESHOLD else ["it holds"])]


def loose(claim: Loose, position: Position) -> list[str]:
    board, own = position.board, position.own
    truly = {
        (chess.piece_name(piece.piece_type), chess.square_name(at))
        for at, piece in board.piece_map().items()
        if piece.color == own and piece.piece_type != KING
        if not bears(board, own, at) | bears(board, not own, at)
    }
    told = {(unit.kind, unit.square) for unit in claim.units}
    return [] if told == truly else [f"loose are {truly}"]


def zugzwang(_: Zugzwang, position: Position) -> list[str]:
    held = [uci for uci in position.legal() if position.holds(uci, position.reach)]
    faults = [f"{uci} holds" for uci in held]
    return faults + (["a pass loses"] if position.danger(position.reach) >= THRESHOLD else [])


def perhaps_a_trade(_: PerhapsATrade, position: Position) -> list[str]:
    own = position.own
    base = position.bare(own)
    wins = (
        position.value([uci], 2 * near - 2, own, base) >= THRESHOLD
        for near in range(1, position.reach + 1)
        for uci in position.legal()
    )
    return [] if any(wins) else ["nothing can be won now"]


def values_matter(claim: ValuesMatter, position: Position) -> list[str]:
    """Some verdict differs between the tables; in a trade the base is by the table too."""
    if position.base != position.bare(not position.own):
        return []
    faults = [
        f"{uci} holds by both or neither" for uci in claim.moves if not _turns(claim, position, uci)
    ]
    if faults:
        return faults
    for uci in position.legal():
        if _turns(claim, position, uci):
            return []
    return _danger_by_table(claim, position)


def _turns(claim: ValuesMatter, position: Position, uci: str) -> bool:
    """Whether a move holds by one table and falls by another."""
    verdicts = set()
    for name in claim.tables:
        base = position.balance_by(TABLES[name], not position.own)
        asked = (position.survey["fen"], [uci], 2 * position.reach - 1, not position.own, base)
        verdicts.add(position.plain.attains(*asked, THRESHOLD, values=name))
    return len(verdicts) > 1


def _danger_by_table(claim: ValuesMatter, position: Position) -> list[str]:
    if position.board.is_check():
        return [] if _statuses_differ(claim, position) else ["no verdict differs"]
    dangers = set()
    for name in claim.tables:
        base = position.balance_by(TABLES[name], not position.own)
        asked = (position.survey["fen"], [PASS], 2 * position.reach - 1, not position.own, base)
        dangers.add(position.plain.attains(*asked, THRESHOLD, values=name))
    return [] if len(dangers) > 1 or _statuses_differ(claim, position) else ["no verdict differs"]


def _statuses_differ(claim: ValuesMatter, position: Position) -> bool:
    """Whether a unit's status differs, as the surveys by each table tell."""
    surveys = [
        core.survey(position.survey["fen"], reach=position.reach, values=name)
        for name in claim.tables
    ]
    told = [
        [(unit["square"], unit["status"]) for unit in [*survey["units"], *survey["takings"]]]
        for survey in surveys
    ]
    return any(one != told[0] for one in told)
