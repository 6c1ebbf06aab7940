"""A student's question with a position or a game becomes a reply that the teacher edits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import chess
from chess import KING

from fastness import core
from fastness.core.shapes import Side, Survey
from fastness.errors import QuestionError
from fastness.language import Language, LanguageName
from fastness.language import language as language_of
from fastness.publish.line_picture import LinePicture, line_picture, png
from fastness.replies.answer import Answer, ShownLine
from fastness.replies.asking import Kind, examples, kind_of
from fastness.replies.asking import language_of as language_of_question
from fastness.replies.forbidden import why_not_legal
from fastness.replies.naming import Named, Sentence, read_sentence
from fastness.replies.telling import Answerer
from fastness.survey.claims import claims
from fastness.survey.findings import Findings
from fastness.survey.lines import PASS, line_in_words, move_name
from fastness.survey.nouns import listed_or, on_square
from fastness.survey.reading import ToldLine, told_line
from fastness.survey.words import THRESHOLD
from fastness.workflows.asked_place import AskedPlace, place_in_game, place_of_position

PictureOfReply = LinePicture
"""A picture of a reply: `svg`, `alt` and `caption`."""
REACH = 3
MOST_MOVES = 3
"""Moves that one question can be about."""


@dataclass(frozen=True, slots=True)
class AskedMove:
    """A move that the question names; `uci` is empty and `holds` None where it is not legal."""

    uci: str
    name: str
    legal: bool
    holds: bool | None
    settled: bool


@dataclass(frozen=True, slots=True)
class Reply:
    """A question and its answer: sentences, the lines that show it, pictures, a text to copy.

    `fen` is the position asked about, `side` the side to move, which is the student's. `square` is
    that of the piece asked about, if one is. `unsettled` says what changes one move further.
    """

    question: str
    kind: Kind
    language: LanguageName
    fen: str
    side: Side
    moves: tuple[AskedMove, ...]
    square: str
    told: tuple[str, ...]
    unsettled: tuple[str, ...]
    lines: tuple[ToldLine, ...]
    pictures: tuple[PictureOfReply, ...]
    text: str


def examples_of_questions(language: Language) -> tuple[str, ...]:
    """What can be asked: a question of each kind."""
    return examples(language)


def png_of(picture: PictureOfReply) -> bytes:
    """A picture of a reply as PNG."""
    return png(picture)


def answer_question(
    question: str,
    *,
    position: str = "",
    moves: str = "",
    game: str = "",
    number: int | None = None,
    colour: Side | None = None,
    language: Language | None = None,
    rank_nodes: int = core.RANK_NODES,
) -> Reply:
    """The reply to a question about a position, or about a place in a game.

    Args:
        question: a sentence in English or German; a move by itself is asked why not.
        position: FEN or EPD.
        moves: in SAN or UCI, played from the position first.
        game: one game as PGN, instead of a position.
        number: of the move in the game that is meant; else where the move named was played.
        colour: whose move that is.
        language: that of the answer; by default that of the question.
        rank_nodes: nodes by which the moves that hold are ranked; 0 leaves the better ways out.

    Raises:
        QuestionError: the question cannot be understood, or names no move where it needs one.
        PositionError, MoveError, GameError: the position or the game cannot be read.
    """
    words = language or language_of(language_of_question(question))
    place = (
        place_in_game(game, question, number, colour)
        if game.strip()
        else place_of_position(position, moves)
    )
    board = chess.Board(place.fen)
    sentence = read_sentence(question, board)
    kind, named, square = _asked(question, sentence, place, board, words)
    survey = core.survey(
        place.start, moves=place.moves, reach=REACH, firm=True, rank_nodes=rank_nodes
    )
    found = Findings(claims(survey, moves_given=True), words)
    unsafe = {unit["square"] for unit in survey["units"] if unit["status"].startswith("unsafe")}
    deeper = set(core.unsafe_units(place.fen, reach=REACH + 1))
    ready = _ready_for_taking(place, named, board, survey)
    answerer = Answerer(survey, found, firm_units=unsafe == deeper, ready=ready)
    asked = [_move(one, board, answerer, words) for one in named]
    answer = _answer(kind, asked, named, square, board, answerer, words)
    lines = tuple(
        told_line(place.fen, one.line, words, line_in_words(place.fen, one.line, words))
        for one in answer.lines
    )
    return Reply(
        question=question,
        kind=kind,
        language=words.code,
        fen=place.fen,
        side="white" if board.turn else "black",
        moves=tuple(asked),
        square=square,
        told=answer.told,
        unsettled=answer.unsettled,
        lines=lines,
        pictures=_pictures(place.fen, answer.lines, square, words),
        text=_text(answer, lines, words),
    )


def _asked(
    question: str, sentence: Sentence, place: AskedPlace, board: chess.Board, words: Language
) -> tuple[Kind, list[Named], str]:
    """The kind of question, the moves and the square that it is about."""
    kind, named = kind_of(question), list(sentence.moves)[:MOST_MOVES]
    if kind is None:
        if not named:
            raise QuestionError(
                words.say("The question cannot be understood. Ask in one of these ways:"),
                examples(words),
            )
        kind = "why not"
    if kind in ("what to play", "what is threatened"):
        return ("was it good", named, "") if named and kind == "what to play" else (kind, [], "")
    if named:
        return kind, named, ""
    if kind == "is it safe" and not sentence.pieces:
        return "what is threatened", [], ""
    if kind == "is it safe" or any(one.square is not None for one in sentence.pieces):
        return "is it safe", [], _square(sentence, board, words)
    if place.played:
        move = chess.Move.from_uci(place.played)
        played = Named(
            board.san(move),
            start=move.from_square,
            to=move.to_square,
            promotes=move.promotion,
        )
        return kind, [played], ""
    if kind == "what is wrong":
        return "what to play", [], ""
    raise QuestionError(
        words.say("The question names no move. Ask in one of these ways:"), examples(words)
    )


def _square(sentence: Sentence, board: chess.Board, words: Language) -> str:
    """The square of the piece that is asked about."""
    piece = sentence.pieces[0]
    if piece.square is not None:
        return chess.square_name(piece.square)
    squares = list(board.pieces(piece.kind or KING, board.turn))
    if len(squares) == 1:
        return chess.square_name(squares[0])
    if not squares:
        raise QuestionError(
            words.say("You have no such piece here. Ask in one of these ways:"), examples(words)
        )
    names = [str(on_square(board, chess.square_name(at), words)) for at in squares]
    raise QuestionError(
        words.say("Several are there. Say which is meant: {units}.", units=listed_or(names, words))
    )


def _move(named: Named, board: chess.Board, answerer: Answerer, words: Language) -> AskedMove:
    legal = named.legal(board)
    if not legal:
        return AskedMove("", named.said, legal=False, holds=None, settled=True)
    if len(legal) > 1:
        names = [move_name(board, uci, words) for uci in legal]
        raise QuestionError(
            words.say(
                '"{said}" can be several moves. Say which is meant: {moves}.',
                said=named.said,
                moves=listed_or(names, words),
            )
        )
    verdict = answerer.verdict(legal[0])
    name = move_name(board, legal[0], words)
    return AskedMove(legal[0], name, True, verdict["holds"], verdict["firm"] is not False)


def _ready_for_taking(
    place: AskedPlace, named: Sequence[Named], board: chess.Board, survey: Survey
) -> dict[str, tuple[str, ...]]:
    """For each move that holds: the most tempting capture after it that firmly fails, and why."""
    holding = {move["uci"] for move in survey["moves"] if move["holds"]}
    asked = {uci for one in named for uci in one.legal(board)} & holding
    lines: dict[str, tuple[str, ...]] = {}
    for uci in asked:
        after = core.survey(place.start, moves=[*place.moves, uci], reach=REACH, firm=True)
        gains = core.exchange_counts(after["fen"])
        tempting = [
            (gains[move["uci"]], tuple(move["line"]))
            for move in after["moves"]
            if gains.get(move["uci"], 0) >= THRESHOLD
            and not move["holds"]
            and move["firm"]
            and len(move["line"] or ()) > 1
            and move["line"] is not None
        ]
        if tempting:
            lines[uci] = (uci, *max(tempting)[1])
    return lines


def _answer(
    kind: Kind,
    asked: Sequence[AskedMove],
    named: Sequence[Named],
    square: str,
    board: chess.Board,
    answerer: Answerer,
    words: Language,
) -> Answer:
    if kind == "what to play":
        return answerer.on_what_to_play()
    if kind == "what is threatened":
        return answerer.on_threats()
    if square:
        return answerer.on_unit(square)
    answer = Answer()
    for move, one in zip(asked, named, strict=True):
        told = (
            answerer.on_move(kind, move.uci)
            if move.legal
            else Answer((why_not_legal(board, one, words),))
        )
        answer = answer.and_then(told)
    return answer.and_then(answerer.instead([move.uci for move in asked]))


def _pictures(
    fen: str, lines: Sequence[ShownLine], square: str, words: Language
) -> tuple[PictureOfReply, ...]:
    flip = fen.split()[1] == "b"
    if not lines:
        ringed = [square] if square else []
        return (line_picture(fen, ringed=ringed, flip=flip, language=words),)
    return tuple(
        line_picture(fen, one.line, ringed=one.ringed, flip=flip, language=words) for one in lines
    )


def _text(answer: Answer, lines: Sequence[ToldLine], words: Language) -> str:
    parts = [" ".join(answer.told)]
    for shown, line in zip(answer.lines, lines, strict=True):
        passes = shown.line[0] == PASS
        parts.append(line.told if passes else words.say("The moves: {line}", line=line.told))
    return "\n\n".join([*parts, *answer.unsettled]) + "\n"
