"""The teacher's corrections, which come before everything that is computed."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import chess

from fastness.record.student_game import StudentGame
from fastness.sift import Occasion, Outcome

Kind = Literal["danger", "taking"]
MoveVerdict = Literal["holds", "falls"]
"""What the teacher says of a move; for a taking, that it wins the thing or does not."""


@dataclass(frozen=True, slots=True)
class Correction:
    """What the teacher says of one occasion: it is struck, or had another outcome.

    `game` is the key of the game. `outcome` None strikes the occasion. `reason` is the teacher's
    and is printed with it.
    """

    game: str
    ply: int
    kind: Kind
    outcome: Outcome | None
    reason: str


@dataclass(frozen=True, slots=True)
class MoveCorrection:
    """What the teacher says of one move (UCI) on an occasion, whether it was played or not.

    `verdict` None strikes the move: it is not judged.
    """

    game: str
    ply: int
    kind: Kind
    move: str
    verdict: MoveVerdict | None
    reason: str


Said = Correction | MoveCorrection


def apply_corrections(
    occasions: Iterable[Occasion], corrections: Iterable[Said]
) -> tuple[Occasion, ...]:
    """The occasions of one game as the teacher has corrected them; the last word on each counts.

    `corrections` are those of this game. A struck occasion is as if it had never been found, and so
    is one on which the move played is struck. A move that holds after all is named last among those
    that hold. What is said of the whole occasion goes before what is said of the move played.
    """
    said = list(corrections)
    whole = {(one.ply, one.kind): one.outcome for one in said if isinstance(one, Correction)}
    corrected: list[Occasion] = []
    for occasion in occasions:
        place = occasion["ply"], occasion["kind"]
        moves = {
            one.move: one.verdict
            for one in said
            if isinstance(one, MoveCorrection) and (one.ply, one.kind) == place
        }
        judged = _with_moves(occasion, moves)
        if place not in whole:
            if occasion["played"]["uci"] not in moves or moves[occasion["played"]["uci"]]:
                corrected.append(judged)
        elif (outcome := whole[place]) is not None:
            corrected.append(_overruled(judged, outcome))
    return tuple(corrected)


def corrected_games(games: Iterable[StudentGame], corrections: Sequence[Said]) -> list[StudentGame]:
    """The games with the corrections that name them applied."""
    of_game: dict[str, list[Said]] = {}
    for one in corrections:
        of_game.setdefault(one.game, []).append(one)
    return [
        replace(game, occasions=apply_corrections(game.occasions, of_game[game.game]))
        if game.game in of_game
        else game
        for game in games
    ]


def _overruled(occasion: Occasion, outcome: Outcome) -> Occasion:
    overruled = occasion.copy()
    overruled["outcome"] = outcome
    return overruled


def _with_moves(occasion: Occasion, said: dict[str, MoveVerdict | None]) -> Occasion:
    """The occasion with its list of holding moves, and its outcome, as the teacher sees them."""
    if not said:
        return occasion
    board, judged = chess.Board(occasion["fen"]), occasion.copy()
    ways = dict(zip(occasion["holding"], occasion["holding_ways"], strict=False))
    moves = {san: board.parse_san(san).uci() for san in occasion["holding"]}
    kept = [san for san in occasion["holding"] if said.get(moves[san], "holds") == "holds"]
    judged["holding"] = kept + [
        board.san(chess.Move.from_uci(uci))
        for uci, verdict in said.items()
        if verdict == "holds" and uci not in moves.values()
    ]
    judged["holding_ways"] = [ways.get(san) for san in judged["holding"]]
    verdict = said.get(occasion["played"]["uci"])
    if verdict is None:
        return judged
    taking, was_kept = occasion["kind"] == "taking", occasion["outcome"] in ("held", "seized")
    if verdict == "holds":
        judged["outcome"] = "seized" if taking else "held"
    elif was_kept:
        judged["outcome"] = "let off" if taking else "let fall"
    return judged
