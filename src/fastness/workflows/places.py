"""The places to look in stored games, told one by one and grouped by what fell."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

import chess

from fastness.core.shapes import Side
from fastness.language import ENGLISH, Language, marked, marked_as
from fastness.record import StudentGame
from fastness.record.episode import Episode, episodes_of, material_lost
from fastness.sift import Occasion, Outcome
from fastness.store import Store
from fastness.store.browsing import Asked, seats_of
from fastness.store.tables import Game, Seat
from fastness.survey.lines import move_name, notation, numbered_move
from fastness.survey.nouns import on_squares, something
from fastness.survey.words import capital, worth
from fastness.workflows.recording import Remark, remarks_of, student_game
from fastness.workflows.remarks import OUTCOMES, remark_in_words

NAMED = 4
"""Moves that hold named in a sentence."""
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
    `causes` are names of mechanisms in the language, `lost` is in centipawns. `remarks` are the
    teacher's corrections.
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
    """One side of a game, as the places in it need it: who played, the moves (UCI), the remarks."""

    student: str
    student_id: int | None
    white: str
    black: str
    start_fen: str
    moves: Sequence[str]
    found: StudentGame
    remarks: Sequence[Remark] = ()


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
    """The first occasion of each episode, and the takings that were let off."""
    for episode in episodes_of(game):
        yield episode.occasion, _what(episode), episode.lost
    for occasion in game.occasions:
        if occasion["kind"] == "taking" and occasion["outcome"] == "let off":
            yield occasion, "taking", material_lost(occasion)


def _fell(occasion: Occasion) -> bool:
    return occasion["outcome"] not in ("held", "seized", "saved most")


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
        outcome=occasion["outcome"],
        outcome_told=language.say_as(*OUTCOMES[occasion["outcome"]]),
        fell=_fell(occasion),
        told=what_happened(occasion, language),
        units=tuple(occasion["units"]),
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


_HAPPENED: dict[Outcome, tuple[str, str]] = {
    "held": marked_as("an occasion", "{move} kept {units}."),
    "seized": marked_as("an occasion", "{move} won {units}."),
    "offered": marked_as("an occasion", "{move} offered {units}, for play that is worth it."),
    "exposed": marked_as("an occasion", "{move} put {units} in danger."),
    "lessened": marked_as("an occasion", "{move} let {units} fall in part."),
    "let fall": marked_as("an occasion", "{units} could be won after {move}."),
    "saved most": marked_as(
        "an occasion", "{move} saved as much as could be saved; {units} could not be kept whole."
    ),
    "let off": marked_as("an occasion", "{units} could have been won; {move} let it off."),
}


_COST = ("exposed", "lessened", "let fall", "let off")
"""Outcomes where another move was better."""


def what_happened(occasion: Occasion, language: Language = ENGLISH) -> str:
    """What was in danger, what was played, and what would have kept it, in sentences."""
    say, board = language.say, chess.Board(occasion["fen"])
    move = numbered_move(board, occasion["played"]["uci"], language)
    standing = [at for at in occasion["units"] if board.piece_at(chess.parse_square(at))]
    units = on_squares(board, standing, language) if standing else something(language)
    if occasion["best_net"] == "mates" and occasion["outcome"] == "let off":
        told = [say("Another move mates; {move} let it off.", move=move)]
    else:
        text = language.say_as(*_HAPPENED[occasion["outcome"]], move=move, units=units)
        told = [capital(text)]
    if occasion["net"] == "mated":
        told.append(say("It allows mate."))
    elif occasion["outcome"] in _COST and occasion["best_net"] != "mates":
        told.append(say("That cost {worth}.", worth=worth(material_lost(occasion), language)))
    others = [san for san in occasion["holding"] if san != occasion["played"]["san"]]
    if others and occasion["outcome"] in _COST:
        names = [notation(san, language) for san in others[:NAMED]]
        told.append(say("Better: {moves}.", moves=", ".join(names)))
    return " ".join(told)
