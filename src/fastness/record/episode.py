"""Episodes: one danger to one unit, however many own moves it lasts."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, get_args

import chess

from fastness.record.causes import causes_of
from fastness.record.geometry import dearest, first_loss, squares_of
from fastness.record.student_game import StudentGame
from fastness.sift import Occasion
from fastness.sift.outcome import gap

Phase = Literal["opening", "middlegame", "endgame"]
PHASES: tuple[Phase, ...] = get_args(Phase)

MATE_LOSS = 1000
"""What a mate, and any greater loss, counts for: a queen and a pawn, in centipawns."""
FELL = ("exposed", "lessened", "let fall")
"""Outcomes of occasions on which something was lost that a move would have held."""
OPENING_MOVES = 10
"""The opening ends with this move: common practice, no source."""
ENDGAME_PIECES = 6
"""Where no more pieces than this stand, kings and pawns apart, it is the endgame: common practice,
no source."""
HURRIED_SHARE = 0.1
HURRIED_SECONDS = 120.0
"""Hurried: less than this share of the time at the start is left, or less than these seconds where
that time is not known. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Episode:
    """One danger to one unit of the student's.

    `occasion` is its first own occasion; `ply`, `held` and the rest are that occasion's.
    `could_hold`: a move that holds was there. `causes` are names of `fastness.record.causes`.
    `unit` is the most valuable one in danger, "none" where a pawn is to promote. `way` is how it
    was held, None if it was not. `lost` is what the move played lost against the best one, in
    centipawns, at most `MATE_LOSS`. `clock` is in seconds; `hurried` is None without a clock.
    """

    game: str
    date: str
    ply: int
    occasion: Occasion
    held: bool
    could_hold: bool
    causes: tuple[str, ...]
    reach: int
    unit: str
    phase: Phase
    way: str | None
    lost: int
    clock: float | None
    hurried: bool | None


def episodes_of(game: StudentGame) -> list[Episode]:
    """The episodes of the game in its order.

    Takings are no episodes. Recaptures are left out, and so is an episode that begins with
    something offered: neither counts in any rate (design, section 6).
    """
    first: dict[int, Occasion] = {}
    for occasion in sorted(game.occasions, key=lambda one: one["ply"]):
        number = occasion["episode"]
        if occasion["kind"] == "danger" and number is not None and not occasion["recapture"]:
            first.setdefault(number, occasion)
    return [_episode(game, one) for one in first.values() if one["outcome"] != "offered"]


def all_episodes(games: Iterable[StudentGame]) -> list[Episode]:
    """The episodes of all games, by date, game and ply, whatever the order of the games."""
    found = [episode for game in games for episode in episodes_of(game)]
    return sorted(found, key=lambda one: (one.date, one.game, one.ply))


def nothing_to_hold(games: Iterable[StudentGame]) -> tuple[int, int]:
    """How many episodes had no move that holds, and how many of these came after a fall.

    After a fall: on an earlier own move of the same game something fell that could be held.
    """
    number = later = 0
    for game in games:
        fallen = [
            one["ply"]
            for one in game.occasions
            if one["kind"] == "danger" and one["holding"] and one["outcome"] in FELL
        ]
        for episode in episodes_of(game):
            if not episode.could_hold:
                number += 1
                later += any(ply < episode.ply for ply in fallen)
    return number, later


def phase_of(board: chess.Board) -> Phase:
    """The phase of the game: few pieces make an endgame, early moves an opening."""
    if chess.popcount(board.occupied & ~board.pawns & ~board.kings) <= ENDGAME_PIECES:
        return "endgame"
    return "opening" if board.fullmove_number <= OPENING_MOVES else "middlegame"


def is_hurried(clock: float | None, start: float | None) -> bool | None:
    """Whether so little time was left that the move was hurried; None without a clock."""
    if clock is None:
        return None
    return clock < (HURRIED_SECONDS if start is None else HURRIED_SHARE * start)


def material_lost(occasion: Occasion) -> int:
    """What the move played lost against the best one, in centipawns, at most `MATE_LOSS`."""
    best = occasion["best_net"]
    lost = 0.0 if best is None or occasion["outcome"] == "held" else gap(best, occasion["net"])
    return int(min(max(lost, 0.0), MATE_LOSS))


def _episode(game: StudentGame, occasion: Occasion) -> Episode:
    board = chess.Board(occasion["fen"])
    hurried = is_hurried(occasion["clock"], game.start_clock)
    held = occasion["outcome"] == "held"
    return Episode(
        game=game.game,
        date=game.date,
        ply=occasion["ply"],
        occasion=occasion,
        held=held,
        could_hold=bool(occasion["holding"]),
        causes=causes_of(occasion, board, hurried=bool(hurried)),
        reach=occasion["reach"] or 1,
        unit=_unit(occasion, board),
        phase=phase_of(board),
        way=occasion["way"] if held else None,
        lost=material_lost(occasion),
        clock=occasion["clock"],
        hurried=hurried,
    )


def _unit(occasion: Occasion, board: chess.Board) -> str:
    square = dearest(board, squares_of(occasion))
    kind = board.piece_type_at(square) if square is not None else None
    if kind is None and (taken := first_loss(board, occasion["line"] or [])):
        kind = taken[0].piece_type_at(taken[1].to_square)
    return chess.piece_name(kind) if kind else "none"
