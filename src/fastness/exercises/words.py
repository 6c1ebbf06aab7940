"""The sentences of exercises and sheets, all in one place: in English, as the reports are."""

from __future__ import annotations

import chess

from fastness.exercises.exercise import Exercise, Kind, Level
from fastness.survey.lines import notation
from fastness.survey.words import side_name

NONE = "none"
"""The answer that nothing is unsafe."""

_QUESTIONS: dict[Kind, str] = {
    "which unit": "Which of {own}'s pieces and pawns are not safe? Write their squares, or “none”.",
    "every move": "Find every move after which {own} loses nothing.",
    "better way": "Which move is the best way to lose nothing?",
    "why it fails": "What does {other} play after {move} to win something?",
    "is it safe": "Does {own} lose nothing after {move}? Circle one: yes\u00a0/\u00a0no",
}
CHANGED = "One thing is different from {label}."
LEVEL_NAMES: dict[Level, str] = {"plain": "Plain", "club": "Club", "stretch": "Stretch"}

NAME, DATE = "Name", "Date"
FOR_THE_TEACHER = "For the teacher: letters of the marking grid"
DRAW = "Draw a position of your own, and write whose move it is"
ANSWERS = "Answers: {title}"
SHEET_OF_LEVEL = "{title} ({level})"
RIGHT_ANSWERS = "Right: {answers}."
NO_SUCH_UNIT = "Right: none. Nothing of {own}'s can be won."
LOSES_NOTHING = "Right: yes. {own} loses nothing after {move}."
LOSES_SOMETHING = "Right: no. {own} loses something after {move}."
NOT_COUNTED = "Does not count either way: {answers}."
UNSAFE = "{unit} is not safe. {line}. {cause}"
TOGETHER = "{unit} cannot be kept together with {others}. {line}. {cause}"
SAFE_AFTER_ALL = "{unit} is safe after all. {line}."
ATTACKED_AND_SAFE = "Attacked, and nothing is lost there: {units}."
UNIT_WITH_COUNT = "{unit} (attacked {attacked}, guarded {guarded})"
MOVE_WITH_WAY = "{move} ({way})"
BEST_TRY = "{other}'s best try: {line}."
AT_A_PRICE = "Loses nothing either, but there is a better way: {moves}."
WHY_WRONG = "Not {move}: {reason}. {line}."
NOT_THIS = "Not {move}: {line}."
FAILS_BY = "Why it fails: {reason}."
LINE = "{line}."
OVERRULED = {
    "right": "{by} counts {answer} as right: {reason}",
    "wrong": "{by} struck {answer}: {reason}",
    "not judged": "{by} does not count {answer}: {reason}",
}
REMARK = "{by}: {reason}"
FROM = "From {game}, move {move}."
MADE_FROM = "One thing was changed in a position of {game}."
CHECKED = (
    "What is right and what is not was searched {reach} moves ahead, and the verdicts that count "
    "stayed the same {deeper} moves ahead."
)
GRID = "Marking grid"
HOW_TO_MARK = (
    "For each exercise take the letters of what is written; “-” stands for nothing written, “o” "
    "for something else. A whole sheet reads, for instance: {example}"
)
GRID_HEADER = ("Exercise", "Right", "Not right", "Does not count")

KEEPS = "Loses nothing."
PRICE_KNOWN = "Loses nothing, but there is a better way."
FELL, FELL_BECAUSE = "Loses something.", "Loses something: {reason}."
WINS = "Wins something."


def side_to_move(exercise: Exercise) -> str:
    """``White`` or ``Black``."""
    return side_name("white" if chess.Board(exercise.fen).turn else "black")


def opponent(exercise: Exercise) -> str:
    """The name of the side that is not to move."""
    return side_name("black" if chess.Board(exercise.fen).turn else "white")


def move_asked(exercise: Exercise) -> str:
    """The move that the question is about, in SAN with its number; empty where there is none."""
    if exercise.asked is None:
        return ""
    board = chess.Board(exercise.fen)
    points = "." if board.turn else "..."
    san = notation(board.san(chess.Move.from_uci(exercise.asked)))
    return f"{board.fullmove_number}{points}{san}"


def question(exercise: Exercise) -> str:
    """Whose move it is and what is asked, in plain words."""
    own = side_to_move(exercise)
    check = ", in check" if chess.Board(exercise.fen).is_check() else ""
    asked = _QUESTIONS[exercise.kind].format(
        own=own, other=opponent(exercise), move=move_asked(exercise)
    )
    return f"{own} to move{check}. {asked}"


def answer_name(exercise: Exercise, answer: str) -> str:
    """An answer as it is written on paper: a square, a move in SAN, yes or no.

    Raises ValueError where it is a move that cannot be played.
    """
    if exercise.kind in ("which unit", "is it safe"):
        return answer
    board = chess.Board(exercise.fen)
    if exercise.kind == "why it fails" and exercise.asked:
        board.push_uci(exercise.asked)
    return notation(board.san(board.parse_uci(answer)))


def answer_names(exercise: Exercise, answers: tuple[str, ...]) -> str:
    """Several answers with commas between."""
    return ", ".join(answer_name(exercise, one) for one in answers)
