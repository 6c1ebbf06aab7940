"""The sentences of exercises and sheets, all in one place."""

from __future__ import annotations

from collections.abc import Iterable

import chess

from fastness.exercises.exercise import Exercise, Kind, Level
from fastness.language import ENGLISH, Language, marked, marked_as
from fastness.survey.lines import move_name, numbered_move
from fastness.survey.words import side_name

NONE = "none"
"""The answer that nothing is unsafe."""

_QUESTIONS: dict[Kind, str] = {
    "which unit": marked(
        "Which of {own}'s pieces and pawns are not safe? Write their squares, or “none”."
    ),
    "every move": marked("Find every move after which {own} loses nothing."),
    "better way": marked("Which move is the best way to lose nothing?"),
    "why it fails": marked("What does {other} play after {move} to win something?"),
    "is it safe": marked("Does {own} lose nothing after {move}? Circle one: yes\u00a0/\u00a0no"),
}
_WORDS = {
    "none": marked_as("an answer", "none"),
    "yes": marked_as("an answer", "yes"),
    "no": marked_as("an answer", "no"),
}
"""The answers that are words, as they are written."""
CHANGED = marked("One thing is different from {label}.")
_LEVELS: dict[Level, tuple[str, str]] = {
    "plain": marked_as("a level", "plain"),
    "club": marked_as("a level", "club"),
    "stretch": marked_as("a level", "stretch"),
}
_KINDS: dict[Kind, tuple[str, str]] = {
    "which unit": marked_as("a question", "which unit"),
    "every move": marked_as("a question", "every move"),
    "better way": marked_as("a question", "better way"),
    "why it fails": marked_as("a question", "why it fails"),
    "is it safe": marked_as("a question", "is it safe"),
}

NAME, DATE = marked("Name"), marked("Date")
FOR_THE_TEACHER = marked("For the teacher: letters of the marking grid")
DRAW = marked("Draw a position of your own, and write whose move it is")
ANSWERS = marked("Answers: {title}")
SHEET_OF_LEVEL = marked("{title} ({level})")
RIGHT_ANSWERS = marked("Right: {answers}.")
NO_SUCH_UNIT = marked("Right: none. Nothing of {own}'s can be won.")
LOSES_NOTHING = marked("Right: yes. {own} loses nothing after {move}.")
LOSES_SOMETHING = marked("Right: no. {own} loses something after {move}.")
NOT_COUNTED = marked("Does not count either way: {answers}.")
UNSAFE = marked("{unit} is not safe. The threat: {line}. {cause}")
TOGETHER = marked("{unit} cannot be kept together with {others}. The threat: {line}. {cause}")
SAFE_AFTER_ALL = marked("{unit} is safe after all. The try: {line}.")
ATTACKED_AND_SAFE = marked("Attacked, and nothing is lost there: {units}.")
UNIT_WITH_COUNT = marked("{unit} (attacked {attacked}, guarded {guarded})")
MOVE_WITH_WAY = marked("{move} ({way})")
BEST_TRY = marked("{other}'s best try: {line}.")
AT_A_PRICE = marked("Loses nothing either, but there is a better way: {moves}.")
WHY_WRONG = marked("Not {move}: {reason}. {line}.")
NOT_THIS = marked("Not {move}: {line}.")
FAILS_BY = marked("Why it fails: {reason}.")
OVERRULED = {
    "right": marked("{by} counts {answer} as right: {reason}"),
    "wrong": marked("{by} struck {answer}: {reason}"),
    "not judged": marked("{by} does not count {answer}: {reason}"),
}
REMARK = "{by}: {reason}"
TEACHER = marked("Your teacher")
"""Who says what is overruled, on a sheet of answers."""
FROM = marked("From {game}, move {move}.")
MADE_FROM = marked("One thing was changed in a position of {game}.")
CHECKED = marked(
    "What is right and what is not was searched {reach} moves ahead, and the verdicts that count "
    "stayed the same {deeper} moves ahead."
)
GRID = marked("Marking grid")
HOW_TO_MARK = marked(
    "For each exercise take the letters of what is written; “-” stands for nothing written, “o” "
    "for something else. A whole sheet reads, for instance: {example}"
)
GRID_HEADER = (
    marked("Exercise"),
    marked("Right"),
    marked("Not right"),
    marked("Does not count"),
)

KEEPS = marked("Loses nothing.")
PRICE_KNOWN = marked("Loses nothing, but there is a better way.")
FELL, FELL_BECAUSE = marked("Loses something."), marked("Loses something: {reason}.")
WINS = marked("Wins something.")


def level_name(level: Level, language: Language = ENGLISH) -> str:
    """``plain``, ``club`` or ``stretch`` in the language's words."""
    return language.say_as(*_LEVELS[level])


def kind_name(kind: Kind, language: Language = ENGLISH) -> str:
    """What is asked in two or three words, ``every move``, as in a list."""
    return language.say_as(*_KINDS[kind])


def side_to_move(exercise: Exercise, language: Language = ENGLISH) -> str:
    """``White`` or ``Black``."""
    return side_name("white" if chess.Board(exercise.fen).turn else "black", language)


def opponent(exercise: Exercise, language: Language = ENGLISH) -> str:
    """The name of the side that is not to move."""
    return side_name("black" if chess.Board(exercise.fen).turn else "white", language)


def move_asked(exercise: Exercise, language: Language = ENGLISH) -> str:
    """The move that the question is about, in SAN with its number; empty where there is none."""
    if exercise.asked is None:
        return ""
    return numbered_move(chess.Board(exercise.fen), exercise.asked, language)


def question(exercise: Exercise, language: Language = ENGLISH) -> str:
    """Whose move it is and what is asked, in plain words."""
    return asked_of(exercise.kind, exercise.fen, exercise.asked, language)


def asked_of(kind: Kind, fen: str, asked: str | None, language: Language = ENGLISH) -> str:
    """The question of a kind about a position, and about the move `asked` (UCI) in it, if any."""
    say, board = language.say, chess.Board(fen)
    own = side_name("white" if board.turn else "black", language)
    told = say(
        _QUESTIONS[kind],
        own=own,
        other=side_name("black" if board.turn else "white", language),
        move=numbered_move(board, asked, language) if asked else "",
    )
    turn = say("{own} to move, in check.", own=own) if board.is_check() else None
    return f"{turn or say('{own} to move.', own=own)} {told}"


def answer_name(exercise: Exercise, answer: str, language: Language = ENGLISH) -> str:
    """An answer as it is written on paper: a square, a move in SAN, yes or no.

    Raises ValueError where it is a move that cannot be played.
    """
    if exercise.kind in ("which unit", "is it safe"):
        return answer_word(answer, language) if answer in _WORDS else answer
    return move_name(board_of_answers(exercise), answer, language)


def answer_word(answer: str, language: Language = ENGLISH) -> str:
    """``none``, ``yes`` or ``no`` in the language's words."""
    return language.say_as(*_WORDS[answer])


def board_of_answers(exercise: Exercise) -> chess.Board:
    """The board on which the answers are played: after the move asked about, if replies are."""
    board = chess.Board(exercise.fen)
    if exercise.kind == "why it fails" and exercise.asked:
        board.push_uci(exercise.asked)
    return board


def answer_names(exercise: Exercise, answers: Iterable[str], language: Language = ENGLISH) -> str:
    """Several answers with commas between."""
    return ", ".join(answer_name(exercise, one, language) for one in answers)


def right_answers(exercise: Exercise, language: Language = ENGLISH) -> str:
    """The right answers with commas between; ``none`` where there are none."""
    return answer_names(exercise, exercise.accepted, language) or answer_word(NONE, language)
