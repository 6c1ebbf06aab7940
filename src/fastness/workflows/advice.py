"""What to do about a cause, in sentences for a child and for parents. No numbers."""

from __future__ import annotations

from fastness.language import ENGLISH, Language, marked
from fastness.record.causes import (
    BY_A_PAWN,
    FAR,
    FURTHER,
    GUARDS,
    GUARDS_LESS,
    HITS_BACK,
    HURRIED,
)

_FOR_STUDENT = {
    BY_A_PAWN: marked(
        "Before you move, look at every pawn of the other side. What does it attack?"
    ),
    FAR: marked("Find the answer to your move. Then look one move further."),
    FURTHER: marked("Find the answer to your move. Then look one move further, and one more."),
    GUARDS: marked(
        "When a piece is attacked, first ask: can it move away, or can I take what attacks it?"
        " A guard does not always help."
    ),
    GUARDS_LESS: marked(
        "A guard does not help when what attacks is worth less. Move the piece away, or"
        " take what attacks it."
    ),
    HITS_BACK: marked(
        "When a piece is attacked, first look for a move that makes it safe. Attack after that."
    ),
    HURRIED: marked("Keep some time for the end of the game."),
    "unguarded": marked("Before you move, look for pieces that nothing guards."),
    "less valuable attacker": marked(
        "Look at what is worth less and attacks a piece of yours. A guard does not help then."
    ),
    "outnumbered": marked("Count: how often is it attacked, and how often is it guarded?"),
    "fork": marked(
        "Before you move, look for a square from which two of your pieces can be attacked."
    ),
    "pin": marked("Look along the lines: what stands behind your piece?"),
    "skewer": marked("Look along the lines: what stands behind your piece?"),
    "pinned guard": marked("Look at your guards: can they really take back?"),
    "overloaded guard": marked("Look at your guards: has one of them two things to do?"),
    "removal of the guard": marked("Look at your guards: can one be taken or driven off?"),
    "discovered attack": marked(
        "Look behind the other side's pieces: what attacks when one moves?"
    ),
    "discovered check": marked("Look behind the other side's pieces: what checks when one moves?"),
    "trapped": marked("Before a piece goes far, look for its way back."),
    "back rank": marked("Give your king a square to go to."),
    "mate threat": marked("Look at every check of the other side before you move."),
    "promotion": marked("With few pieces left, count how many moves each pawn needs."),
}
_FOR_PARENTS = {
    BY_A_PAWN: marked("noticing what the other side's pawns attack"),
    FAR: marked("looking one move further than the next"),
    FURTHER: marked("looking a few moves further than the next"),
    GUARDS: marked("choosing between guarding a piece and moving it"),
    GUARDS_LESS: marked("choosing between guarding a piece and moving it"),
    HITS_BACK: marked("making a piece safe before attacking"),
    HURRIED: marked("keeping some time for the end of a game"),
}


def task_for_student(cause: str, language: Language = ENGLISH) -> str:
    """One thing to do, in a sentence or two for a ten-year-old."""
    told = _FOR_STUDENT.get(cause, marked("Before you move, look at every piece of yours once."))
    return language.say(told)


def task_for_parents(cause: str, language: Language = ENGLISH) -> str:
    """What is being practised, as the rest of a sentence that begins "We are practising"."""
    told = _FOR_PARENTS.get(cause, marked("looking at every piece once before moving"))
    return language.say(told)
