"""Exercises as PGN games from a set-up position (PGN standard of 1994, section 9.7).

The right moves are the main line and its first variations, the natural wrong ones follow with
their refutations. NAGs are those of the standard's table: $1 a good move, $2 a mistake. A move
that only loses nothing has no NAG: it need not be good. Comments are in the language asked for;
tags and moves are those of the standard in any.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import chess
import chess.pgn

from fastness.exercises.epd import avoided_moves, proof_lines
from fastness.exercises.exercise import Exercise
from fastness.exercises.marking_grid import likely_wrong
from fastness.exercises.words import (
    FELL,
    FELL_BECAUSE,
    KEEPS,
    PRICE_KNOWN,
    RIGHT_ANSWERS,
    WINS,
    question,
    right_answers,
)
from fastness.language import ENGLISH, Language
from fastness.survey.claim import Falls
from fastness.survey.claims import claims
from fastness.survey.findings import Findings
from fastness.survey.lines import line_in_words
from fastness.survey.reasons import reason_in_words

GOOD, MISTAKE = chess.pgn.NAG_GOOD_MOVE, chess.pgn.NAG_MISTAKE


def pgn(title: str, exercises: Iterable[tuple[str, Exercise]], language: Language = ENGLISH) -> str:
    """A game for each exercise with its name, `title` being the event."""
    return "".join(f"{game_of(title, name, one, language)}\n\n" for name, one in exercises)


def game_of(
    title: str, name: str, exercise: Exercise, language: Language = ENGLISH
) -> chess.pgn.Game:
    """One exercise as a game: the question as its first comment, the answers as moves."""
    game = chess.pgn.Game()
    game.setup(exercise.fen)
    game.headers["Event"], game.headers["Round"] = _plain(title), _plain(name)
    # Also where the position is that before the first move of a game.
    game.headers["SetUp"], game.headers["FEN"] = "1", exercise.fen
    game.comment = _plain(question(exercise, language))
    _TOLD[exercise.kind](game, exercise, language)
    return game


def _units(game: chess.pgn.Game, exercise: Exercise, language: Language) -> None:
    """The answer is no move, and the standard has no way to write a pass: all in the comment."""
    told = [language.say(RIGHT_ANSWERS, answers=right_answers(exercise, language))]
    told += [f"{line_in_words(exercise.fen, line, language)}." for line in proof_lines(exercise)]
    game.comment = _plain(" ".join([game.comment, *told]))


def _moves(game: chess.pgn.Game, exercise: Exercise, language: Language) -> None:
    for uci in exercise.accepted:
        verdict = exercise.proved.verdict(uci)
        good = exercise.kind == "better way" or bool(verdict["advised"])
        told = "" if good else language.say(KEEPS)
        _line(game, verdict["line"] or [uci], told, GOOD if good else None)
    falling = avoided_moves(exercise)
    for uci in likely_wrong(exercise):
        verdict = exercise.proved.verdict(uci)
        if uci in falling:
            _line(game, verdict["line"] or [uci], _why(exercise, uci, language), MISTAKE)
        elif verdict["holds"]:
            _line(game, [uci], language.say(PRICE_KNOWN), None)


def _replies(game: chess.pgn.Game, exercise: Exercise, language: Language) -> None:
    if exercise.asked is None:
        return
    line = exercise.proved.verdict(exercise.asked)["line"] or [exercise.asked]
    asked = _line(game, line[:1], _why(exercise, exercise.asked, language), MISTAKE)
    for reply in exercise.accepted:
        rest = line[1:] if line[1:2] == [reply] else [reply]
        _line(asked, rest, language.say(WINS), GOOD)


def _yes_or_no(game: chess.pgn.Game, exercise: Exercise, language: Language) -> None:
    if exercise.asked is None:
        return
    line = exercise.proved.verdict(exercise.asked)["line"] or [exercise.asked]
    falls = exercise.accepted == ("no",)
    told = _why(exercise, exercise.asked, language) if falls else language.say(KEEPS)
    _line(game, line, told, MISTAKE if falls else None)


_TOLD = {
    "which unit": _units,
    "every move": _moves,
    "better way": _moves,
    "why it fails": _replies,
    "is it safe": _yes_or_no,
}


def _why(exercise: Exercise, uci: str, language: Language) -> str:
    """That a move loses something, and why where a reason is known."""
    found = Findings(claims(exercise.proved.survey), language)
    falls = next((one for one in found.of(Falls) if one.move == uci), None)
    reason = reason_in_words(found, falls) if falls else ""
    told = language.say(FELL_BECAUSE, reason=reason) if reason else language.say(FELL)
    return _plain(told)


def _line(
    node: chess.pgn.GameNode, line: Sequence[str], comment: str, nag: int | None
) -> chess.pgn.GameNode:
    """A line added as the last variation of `node`; its first move carries comment and NAG."""
    first = node.add_variation(chess.Move.from_uci(line[0]), comment=comment)
    if nag is not None:
        first.nags.add(nag)
    last: chess.pgn.GameNode = first
    for uci in line[1:]:
        last = last.add_variation(chess.Move.from_uci(uci))
    return first


def _plain(text: str) -> str:
    """A comment ends at the first brace, and a file of the standard is Latin-1 at most."""
    plain = text.translate(str.maketrans("{}„“”", "()'''"))
    return " ".join(plain.encode("latin-1", "replace").decode("latin-1").split())
