"""The places to look in stored games, told one by one and grouped by what fell."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

import chess

from fastness.core.shapes import Side
from fastness.language import ENGLISH, Language, marked
from fastness.record import StudentGame
from fastness.record.episode import Episode, episodes_of, material_lost
from fastness.sift import Occasion, Outcome
from fastness.store import Store
from fastness.store.browsing import Asked, seats_of
from fastness.store.tables import Game, Seat
from fastness.survey.lines import move_name, numbered_move
from fastness.workflows.happened import made_danger, put_in_danger, what_happened
from fastness.workflows.recording import Remark, remarks_of, student_game
from fastness.workflows.remarks import OUTCOMES, remark_in_words

SHOWN = 40
"""Places of one group that are shown."""

What = Literal["king", "queen", "rook", "bishop", "knight", "pawn", "none", "taking"]
WHATS: tuple[What, ...] = (
    "king", "queen", "rook", "bishop", "knight", "pawn", "none", "taking",
)  # fmt: skip
_TITLES: dict[str, str] = {
    "king": marked("The king: mate"),
    "queen": marked("Queens"),
    "rook": marked("Rooks"),
    "bishop": marked("Bishops"),
    "knight": marked("Knights"),
    "pawn": marked("Pawns"),
    "none": marked("A pawn that promotes"),
    "taking": marked("What could have been taken"),
}


@dataclass(frozen=True, slots=True)
class Place:
    """A place to look in a game.

    `kind` and `ply` (from 1) name it within the game. `fen` is the position; where a trade leads to
    it, `before` is the one before the trade and `moves` (UCI) what was played since, so that a
    survey knows what is owed. `told` says what happened in a sentence, `outcome` in a word.
    `numbered` is the move with its number. `made_danger`: what fell was safe before the move, and
    can be won after it. `causes` are names of mechanisms in the language, `lost` is in centipawns.
    `remarks` are the teacher's corrections.
    """

    game: int
    ply: int
    kind: Literal["danger", "taking"]
    at: str
    student: str
    student_id: int | None
    colour: Side
    white: str
    black: str
    date: str
    fen: str
    before: str
    moves: tuple[str, ...]
    uci: str
    played: str
    numbered: str
    made_danger: bool
    outcome: Outcome
    outcome_told: str
    fell: bool
    told: str
    units: tuple[str, ...]
    what: What
    causes: tuple[str, ...]
    reach: int | None
    lost: int
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlaceGroup:
    """The places where one kind of unit fell, what cost most first.

    `fell` and `held` count all of them; of the places only the first `SHOWN` are told.
    """

    what: What
    title: str
    fell: int
    held: int
    places: tuple[Place, ...]


def places(
    store: Store, asked: Asked, language: Language = ENGLISH, *, held: bool = False
) -> list[PlaceGroup]:
    """The places in the games asked for, grouped by what fell; with `held` also those held.

    An episode is one place. Recaptures are left out, and what the teacher struck.
    """
    with store.reading() as session:
        found = [
            place for seat in seats_of(session, asked) for place in places_of_seat(seat, language)
        ]
    return grouped(found, language, held=held)


def grouped(
    found: Sequence[Place], language: Language = ENGLISH, *, held: bool = False
) -> list[PlaceGroup]:
    """Places grouped by what fell, as `places` gives them."""
    return list(_groups(found, language, held=held))


def _groups(found: Sequence[Place], language: Language, *, held: bool) -> Iterator[PlaceGroup]:
    for what in WHATS:
        of = [one for one in found if one.what == what]
        fell = sum(one.fell for one in of)
        shown = [one for one in of if one.fell or held]
        shown.sort(key=lambda one: (not one.fell, -one.lost, one.date, one.game, one.ply))
        if shown:
            title = language.say(_TITLES[what])
            yield PlaceGroup(what, title, fell, len(of) - fell, tuple(shown[:SHOWN]))


@dataclass(frozen=True, slots=True)
class PlayedSide:
    """One side of a game, as the places in it need it: who played, the moves (UCI), the remarks.

    `better` are the better ways (SAN) at the plies where they are known.
    """

    student: str
    student_id: int | None
    white: str
    black: str
    start_fen: str
    moves: Sequence[str]
    found: StudentGame
    remarks: Sequence[Remark] = ()
    better: Mapping[int, Sequence[str]] = field(default_factory=dict)


def places_of_seat(seat: Seat, language: Language) -> list[Place]:
    """The places of one side of a stored game, by ply."""
    game = seat.game
    side = PlayedSide(
        student=seat.student.name,
        student_id=seat.student_id,
        white=game.white,
        black=game.black,
        start_fen=game.start_fen,
        moves=game.moves.split(),
        found=student_game(seat),
        remarks=remarks_of(seat),
    )
    return places_of_side(side, language)


def places_counted(game: Game) -> tuple[int, int]:
    """How many places a stored game has, and on how many of them something fell."""
    looked_at = [one for seat in game.seats for one, *_ in _looked_at(student_game(seat))]
    return len(looked_at), sum(_fell(one) for one in looked_at)


def places_of_side(side: PlayedSide, language: Language) -> list[Place]:
    """The places of one side of a game, by ply."""
    begun = _after_trades(side)
    looked_at = sorted(_looked_at(side.found), key=lambda one: one[0]["ply"])
    return [
        _place(side, occasion, what, lost, begun, language) for occasion, what, lost in looked_at
    ]


def _looked_at(game: StudentGame) -> Iterator[tuple[Occasion, What, int]]:
    """The first occasion of each episode, those where more fell, and the takings let off.

    A danger that lasts is one place. Where a move then loses more than was in danger, such as a
    queen while a pawn hangs, that is another place to look, though rates count the episode once.
    """
    first = {episode.ply: episode for episode in episodes_of(game)}
    for occasion in game.occasions:
        if occasion["kind"] == "taking":
            if occasion["outcome"] == "let off":
                yield occasion, "taking", material_lost(occasion)
        elif square := put_in_danger(occasion):
            yield occasion, _standing(occasion, square), material_lost(occasion)
        elif episode := first.get(occasion["ply"]):
            yield occasion, _what(episode), episode.lost


def _fell(occasion: Occasion) -> bool:
    return occasion["outcome"] not in ("held", "seized", "saved most")


def _standing(occasion: Occasion, square: str) -> What:
    kind = chess.Board(occasion["fen"]).piece_type_at(chess.parse_square(square))
    name = chess.piece_name(kind) if kind else "none"
    return next((what for what in WHATS if what == name), "none")


def _what(episode: Episode) -> What:
    return next((what for what in WHATS if what == episode.unit), "none")


def _place(
    side: PlayedSide,
    occasion: Occasion,
    what: What,
    lost: int,
    begun: Sequence[tuple[str, int]],
    language: Language,
) -> Place:
    board, ply = chess.Board(occasion["fen"]), occasion["ply"]
    before, played = begun[ply - 1]
    return Place(
        game=int(side.found.game),
        ply=ply,
        kind=occasion["kind"],
        at=f"{occasion['move_number']}{'.' if board.turn else '...'}",
        student=side.student,
        student_id=side.student_id,
        colour=occasion["colour"],
        white=side.white,
        black=side.black,
        date=side.found.date,
        fen=occasion["fen"],
        before=before,
        moves=tuple(side.moves[played : ply - 1]),
        uci=occasion["played"]["uci"],
        played=move_name(board, occasion["played"]["uci"], language),
        numbered=numbered_move(board, occasion["played"]["uci"], language),
        made_danger=made_danger(occasion),
        outcome=occasion["outcome"],
        outcome_told=language.say_as(*OUTCOMES[occasion["outcome"]]),
        fell=_fell(occasion),
        told=what_happened(occasion, language, side.better.get(ply)),
        units=(square,) if (square := put_in_danger(occasion)) else tuple(occasion["units"]),
        what=what,
        causes=tuple(language.say(name) for name in occasion["mechanisms"]),
        reach=occasion["reach"],
        lost=lost,
        remarks=tuple(
            remark_in_words(one, language)
            for one in side.remarks
            if (one.ply, one.kind) == (ply, occasion["kind"])
        ),
    )


def _after_trades(side: PlayedSide) -> list[tuple[str, int]]:
    """For each ply, from 1: the position before its run of captures, and the moves before that."""
    board, found = chess.Board(side.start_fen), []
    begun = board.fen(), 0
    for ply, uci in enumerate(side.moves):
        found.append(begun)
        move = chess.Move.from_uci(uci)
        quiet = not board.is_capture(move)
        board.push(move)
        if quiet:
            begun = board.fen(), ply + 1
    return found
