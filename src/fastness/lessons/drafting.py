"""A drafted lesson: checked positions and the prose around them, for the teacher to edit."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal, get_args

import chess
from chess import KING

from fastness.core.shapes import Survey
from fastness.exercises.exercise import Level
from fastness.language import Language
from fastness.lessons.drafting_claims import Marked, written
from fastness.lessons.drafting_prose import Voice, theme_text
from fastness.lessons.lesson import AllThatKeep, Claim, FallsBy, Keeps, Loses, Safety, Threatened
from fastness.survey.claims import claims
from fastness.survey.findings import Findings
from fastness.survey.lines import move_name, numbered, numbered_move
from fastness.survey.nouns import listed_or
from fastness.survey.student import what_is_in_danger
from fastness.survey.student_remedies import kept_by, kept_moves
from fastness.survey.student_tries import a_try, try_shown
from fastness.survey.words import side_name

AskedKind = Literal["which", "safe", "one", "every", "why"]
"""What a question asks: what is not safe, whether a move is, one move that keeps everything, all
of them, or why a move fails."""
ASKED_KINDS: tuple[AskedKind, ...] = get_args(AskedKind)
TOLD = 2
"""Half-moves of a try and its refutation that the sentences about it tell."""
ORDER: dict[Level, tuple[AskedKind, ...]] = {
    "plain": ("which", "safe", "one"),
    "club": ("why", "which", "every", "one"),
    "stretch": ("every", "why", "one", "which"),
}
"""The questions of a level, in turn."""


@dataclass(frozen=True, slots=True)
class Example:
    """The worked example: its firm and ranked survey, and what was proved of it."""

    survey: Survey
    marked: Marked


@dataclass(frozen=True, slots=True)
class Changed:
    """A twin of the example: what is different and what that does, and what was proved of it.

    `lead` (UCI) was a better way before the change.
    """

    told: str
    marked: Marked
    lead: str


@dataclass(frozen=True, slots=True)
class Asked:
    """A question about a position; `move` (UCI) is the one that it is about, if it is about one."""

    kind: AskedKind
    marked: Marked
    move: str = ""


@dataclass(frozen=True, slots=True)
class Material:
    """All that a draft is made of. `own`: the positions are from games of the group."""

    theme: str
    level: Level
    shown: Marked
    example: Example
    changed: Changed | None
    questions: tuple[Asked, ...]
    homework: tuple[Asked, ...]
    own: bool


def lesson_text(material: Material, language: Language) -> str:
    """The lesson file: Markdown with position blocks, all of whose claims were proved.

    The same material gives the same text; other material begins with other wordings.
    """
    voice = Voice(language, f"{material.theme} {material.level} {material.example.marked.fen}")
    return "\n\n".join(_parts(material, voice, language)) + "\n"


def _parts(material: Material, voice: Voice, language: Language) -> Iterator[str]:
    text = theme_text(material.theme, language)
    level = material.level
    yield f"# {text.title}"
    yield voice.phrase(f"hook_{level}")
    yield f"## {voice.phrase('first_heading')}"
    yield text.what
    yield voice.phrase("look_first", side=_side(material.shown.fen, language))
    yield material.shown.block
    yield text.see
    yield from _shown_fails(material.shown, voice, language)
    yield text.why
    yield from _shown_keeps(material.shown, voice, language)
    yield from _worked(material, voice, language)
    if material.changed:
        yield f"## {voice.phrase('twin_heading')}"
        yield voice.phrase("twin_intro")
        yield material.changed.marked.block
        yield voice.phrase("twin_told", told=material.changed.told)
        before = numbered_move(
            chess.Board(material.example.marked.fen), material.changed.lead, language
        )
        yield voice.phrase("twin_before", move=before)
    yield f"## {voice.phrase('questions_heading')}"
    yield voice.phrase("questions_intro")
    yield from _asked(material.questions, material.theme, voice, language)
    if level == "stretch":
        yield text.far
    if material.homework:
        yield f"## {voice.phrase('homework_heading')}"
        yield voice.phrase("homework_intro")
        yield from _asked(material.homework, material.theme, voice, language)
    yield voice.phrase("closing", ask=text.ask)


def _side(fen: str, language: Language) -> str:
    return side_name("white" if fen.split()[1] == "w" else "black", language)


def _shown_fails(shown: Marked, voice: Voice, language: Language) -> Iterator[str]:
    """The tries that fail in the small position, each with the answer to it."""
    board = chess.Board(shown.fen)
    for one in shown.falling:
        after = board.copy(stack=False)
        after.push_uci(one.move)
        yield voice.phrase(
            "shown_fails",
            move=numbered_move(board, one.move, language),
            other=side_name("white" if after.turn else "black", language),
            reply=numbered_move(after, one.because[0], language),
        )


def _shown_keeps(shown: Marked, voice: Voice, language: Language) -> Iterator[str]:
    board = chess.Board(shown.fen)
    names = [numbered_move(board, move, language) for move in shown.keeping]
    if names:
        yield voice.phrase("shown_keeps", moves=listed_or(names, language))


def _worked(material: Material, voice: Voice, language: Language) -> Iterator[str]:
    """The example: the danger, the try that fails and why, and what keeps everything."""
    example, level = material.example, material.level
    found = Findings(claims(example.survey, moves_given=True), language)
    kind = "game" if material.own else "shelf"
    yield f"## {voice.phrase(f'{kind}_heading')}"
    yield voice.phrase(f"{kind}_intro", side=_side(example.marked.fen, language))
    shown = try_shown(found) if level != "plain" else None
    # A try of which nothing is said would be a picture of which nothing is said.
    yield example.marked.without_tries([shown.move] if shown else []).block
    yield " ".join(what_is_in_danger(found))
    if shown:
        yield _pawns_numbered(" ".join(a_try(found)), found, [shown.move])
        # Of two moves both have just been told.
        if len(shown.line) > TOLD:
            line = numbered(example.marked.fen, shown.line, language)
            yield voice.phrase("through", line=line)
    yield _pawns_numbered(" ".join(kept_by(found)), found, kept_moves(found))


def _pawns_numbered(told: str, found: Findings, moves: Sequence[str]) -> str:
    """A text with the number before a pawn's move where it is first named.

    Without it a picture could not tell the move from the square.
    """
    for move in moves:
        name = move_name(found.board, move, found.language)
        if name[0] in chess.FILE_NAMES and "x" not in name:
            number = numbered_move(found.board, move, found.language)
            told = re.sub(rf"(?<![\w.]){re.escape(name)}(?!\w)", number, told, count=1)
    return told


def is_told_in_full(survey: Survey, marked: Marked, language: Language) -> bool:
    """Whether all that the worked example says of a position was proved: `marked` has it all."""
    found = Findings(claims(survey, moves_given=True), language)
    tried = try_shown(found)
    danger = {unit for unit in found.endangered() if _is_no_king(found.board, unit)}
    causes = {
        (unit["square"], cause)
        for unit in survey["units"]
        if unit["status"].startswith("unsafe")
        for cause in unit["mechanisms"]
    }
    return (
        marked.danger is not None
        and danger <= set(marked.unsafe)
        and causes <= set(marked.mechanisms)
        and set(kept_moves(found)) <= set(marked.keeping)
        and (tried is None or any(one.move == tried.move for one in marked.falling))
    )


def _is_no_king(board: chess.Board, square: str) -> bool:
    return board.piece_type_at(chess.parse_square(square)) != KING


def moves_told(survey: Survey, language: Language) -> tuple[list[str], list[str]]:
    """The moves (UCI) that the worked example says keep everything, and those that fail."""
    found = Findings(claims(survey, moves_given=True), language)
    tried = try_shown(found)
    return kept_moves(found), [tried.move] if tried else []


def asked_about(marked: Marked, kind: AskedKind, number: int) -> Asked | None:
    """A question of a kind that the claims proved of a position answer; None if they do not.

    Of two moves that could be asked about, the `number` of the question tells which.
    """
    if kind == "which":
        return Asked(kind, marked) if marked.unsafe and marked.mechanisms else None
    if kind == "why":
        return Asked(kind, marked, marked.falling[0].move) if marked.falling else None
    if kind == "safe":
        falls, holds = [one.move for one in marked.falling[:1]], list(marked.keeping[:1])
        moves = (falls or holds) if number % 2 == 0 else (holds or falls)
        return Asked(kind, marked, moves[0]) if moves else None
    if kind == "every":
        return Asked(kind, marked) if marked.all_keeping else None
    return Asked(kind, marked) if marked.keeping else None


def _asked(
    questions: Sequence[Asked], theme: str, voice: Voice, language: Language
) -> Iterator[str]:
    for number, one in enumerate(questions, 1):
        board = chess.Board(one.marked.fen)
        move = move_name(board, one.move, language) if one.move else ""
        told = voice.phrase(f"ask_{one.kind}", side=_side(one.marked.fen, language), move=move)
        yield f"**{number}.** {told}"
        yield written(one.marked.fen, [claim.text for claim in _of_answer(one, theme)])


def _of_answer(one: Asked, theme: str) -> Iterator[Claim]:
    """The claims that answer a question, and what is in danger."""
    causes = [claim for claim in one.marked.claims if isinstance(claim, FallsBy)]
    of_theme = [claim for claim in causes if claim.mechanism == theme] or causes[:1]
    for claim in one.marked.claims:
        if (
            isinstance(claim, Safety)
            or (isinstance(claim, FallsBy) and claim in of_theme)
            or (isinstance(claim, Threatened) and one.kind == "which")
            or (isinstance(claim, Loses) and one.move == claim.move)
            or (isinstance(claim, Keeps | AllThatKeep) and _answers(one, claim))
        ):
            yield claim


def _answers(one: Asked, claim: Keeps | AllThatKeep) -> bool:
    return one.kind in ("one", "every") or one.move in claim.moves
