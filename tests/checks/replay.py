"""Lines replayed by the rules of PyPI chess, with the material counted afresh."""

from collections.abc import Sequence
from dataclasses import dataclass

import chess

from fastness.core.shapes import MoveVerdict, Survey, Unit

THRESHOLD = 50
WORTH = {
    "classical": (100, 300, 300, 500, 900),
    "turing": (100, 300, 350, 500, 1000),
    "kaufman": (100, 325, 325, 500, 975),
    "berliner": (100, 320, 333, 510, 880),
}


def balance(board: chess.Board, side: chess.Color, values: str = "classical") -> int:
    """What `side` has more than the other, in centipawns."""
    total = 0
    for kind, worth in zip(chess.PIECE_TYPES, WORTH[values], strict=False):
        total += worth * (len(board.pieces(kind, side)) - len(board.pieces(kind, not side)))
    return total


def base_of(fen: str, moves: Sequence[str], values: str = "classical") -> int:
    """White's balance that the last position is measured from, in centipawns.

    That before the run of captures at the end, where the side to move has lost in it; else the
    position's own.
    """
    board = chess.Board(fen)
    base = balance(board, chess.WHITE, values)
    for uci in moves:
        step = chess.Move.from_uci(uci)
        quiet = not board.is_capture(step)
        board.push(step)
        if quiet:
            base = balance(board, chess.WHITE, values)
    now = balance(board, chess.WHITE, values)
    return max(base, now) if board.turn == chess.WHITE else min(base, now)


@dataclass(frozen=True, slots=True)
class Replayed:
    """A line played to its end. `steps` are the moves without the passes.

    `beyond` are the moves after the full-width plies that are neither capture nor queening and do
    not answer a check.
    """

    start: chess.Board
    end: chess.Board
    steps: tuple[chess.Move, ...]
    promotes: tuple[tuple[chess.Square, chess.Color], ...]
    beyond: tuple[str, ...]


def replay(fen: str, line: Sequence[str], plies: int) -> Replayed:
    """Plays a line; `plies` of it, passes included, may be anything, the rest only forcing.

    Raises AssertionError for a step that the rules do not allow.
    """
    start = chess.Board(fen)
    board = start.copy(stack=False)
    steps, promotes, beyond = [], [], []
    for index, uci in enumerate(line):
        step = chess.Move.from_uci(uci)
        if not step:
            assert not board.is_check(), f"{fen}: a pass in check in {line}"
        else:
            assert board.is_legal(step), f"{fen}: {uci} is not legal in {line}"
            steps.append(step)
            forcing = board.is_capture(step) or step.promotion or board.is_check()
            if index >= plies and not forcing:
                beyond.append(uci)
            if step.promotion:
                promotes.append((step.to_square, board.turn))
        board.push(step)
    return Replayed(start, board, tuple(steps), tuple(promotes), tuple(beyond))


def gain(played: Replayed, side: chess.Color, values: str) -> int:
    """What `side` has gained from the start of a line to its end, in centipawns."""
    return balance(played.end, side, values) - balance(played.start, side, values)


def mated(board: chess.Board, side: chess.Color) -> bool:
    return board.turn == side and board.is_checkmate()


def unit_faults(survey: Survey, unit: Unit, *, taking: bool) -> list[str]:
    """What is wrong with the line of a unit, an empty list if it shows what is claimed."""
    line, loses = unit["line"], unit["loses"]
    if unit["status"] in ("safe", "in check", "not judged"):
        return [] if (line, loses, unit["reach"]) == (None, None, None) else ["a line for nothing"]
    assert line is not None
    assert unit["reach"] is not None
    mover = survey["side"] == "white"
    attacker = mover if taking else not mover
    shown = unit["status"] in ("unsafe", "unsafe together")
    reach = unit["reach"] if shown else survey["reach"]
    played = replay(survey["fen"], line, 2 * reach - 1 + (not taking))
    faults = [f"{uci} is not forcing" for uci in played.beyond]
    if taking == (line[0] == "0000"):
        faults.append("begins by the wrong side")
    gained = gain(played, attacker, survey["values"])
    if not shown:
        good = mated(played.end, attacker) or played.end.is_stalemate() or gained < THRESHOLD
        return faults if good and loses == 0 else [*faults, f"gains {gained}, said to lose {loses}"]
    if loses == "mate":
        return faults if mated(played.end, not attacker) else [*faults, "no mate at the end"]
    assert isinstance(loses, int)
    if not THRESHOLD <= loses <= gained:
        faults.append(f"gains {gained}, said to lose {loses}")
    if not taking and "0000" not in line[1:]:
        faults.extend(beside_danger(survey, reach, gained))
    return faults


def beside_danger(survey: Survey, reach: int, gained: int) -> list[str]:
    """Design section 4, step 1: a threat wins no more than the danger at its reach, and from
    reach 2 on less than a pawn less."""
    if survey["danger"] is None or survey["owed"]:
        return []
    danger = survey["danger"][reach - 1]
    if not isinstance(danger, int):
        return [] if reach == 1 else [f"gains {gained} where there is {danger}"]
    most, least = danger, (danger - 99 if reach > 1 else THRESHOLD)
    return [] if least <= gained <= most else [f"gains {gained}, danger {danger}"]


def deeper_faults(survey: Survey, verdict: MoveVerdict, base: int) -> list[str]:
    """What is wrong with the line by which a move falls one reach deeper."""
    deeper = verdict["deeper"]
    if deeper is None:
        return ["not firm, and no line"] if verdict["holds"] and verdict["firm"] is False else []
    mover = survey["side"] == "white"
    played = replay(survey["fen"], deeper["line"], 2 * survey["reach"] + 2)
    faults = [f"{uci} is not forcing" for uci in played.beyond]
    holds = any(move["holds"] for move in survey["moves"])
    if holds and (not verdict["holds"] or verdict["firm"]):
        faults.append("falls already, or is firm")
    if deeper["line"][0] != verdict["uci"] or "0000" in deeper["line"]:
        faults.append("does not begin with the move, or passes")
    gained = balance(played.end, mover, survey["values"]) - base
    if deeper["net"] == "mated":
        shown = mated(played.end, mover)
    else:
        shown = gained <= -THRESHOLD and gained == deeper["net"]
    return faults if shown else [*faults, f"nets {gained}, said to net {deeper['net']} deeper"]


def move_faults(survey: Survey, verdict: MoveVerdict, base: int) -> list[str]:
    """What is wrong with the line of a move. `base` is the mover's, in centipawns."""
    line, net = verdict["line"], verdict["net"]
    if line is None:
        return [] if verdict["holds"] and not verdict["ways"] else ["no line"]
    mover = survey["side"] == "white"
    played = replay(survey["fen"], line, 2 * survey["reach"])
    faults = [f"{uci} is not forcing" for uci in played.beyond]
    if line[0] != verdict["uci"] or "0000" in line:
        faults.append("does not begin with the move, or passes")
    if net == "mated":
        shown = mated(played.end, mover)
    elif net == "mates":
        shown = mated(played.end, not mover)
    else:
        stale = played.end.is_stalemate() and net == 0
        shown = stale or balance(played.end, mover, survey["values"]) - base == net
    faults += answer_faults(survey, verdict, base)
    return faults if shown else [*faults, f"does not end at {net}"]


def answer_faults(survey: Survey, verdict: MoveVerdict, base: int) -> list[str]:
    """What is wrong with what a remedy has ready: less than half a pawn may be gone at its end."""
    line = verdict["answer"]
    if line is None:
        return []
    mover = survey["side"] == "white"
    played = replay(survey["fen"], line, 2 * survey["reach"])
    faults = [f"answer: {uci} is not forcing" for uci in played.beyond]
    if line[0] != verdict["uci"] or "0000" in line or len(line) < 3 or not verdict["holds"]:
        faults.append("the answer does not begin with a remedy and a threat")
    gained = balance(played.end, mover, survey["values"]) - base
    kept = mated(played.end, not mover) or played.end.is_stalemate() or gained > -THRESHOLD
    return faults if kept else [*faults, f"the answer ends at {gained}"]


def promotion_faults(survey: Survey) -> list[str]:
    """Each line of a promotion begins with the pass and promotes on its square."""
    faults = []
    for square, line in zip(survey["promotions"], survey["promotion_lines"], strict=True):
        played = replay(survey["fen"], line, 2 * survey["reach"])
        attacker = survey["side"] == "black"
        promoted = (chess.parse_square(square), attacker) in played.promotes
        if line[0] != "0000" or not promoted or played.beyond:
            faults.append(f"{square}: {line} promotes nothing there")
    return faults
