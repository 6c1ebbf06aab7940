"""What to do about a cause, in sentences for a child and for parents. No numbers."""

from __future__ import annotations

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
    BY_A_PAWN: "Before you move, look at every pawn of the other side. What does it attack?",
    FAR: "Find the answer to your move. Then look one move further.",
    FURTHER: "Find the answer to your move. Then look one move further, and one more.",
    GUARDS: "When a piece is attacked, first ask: can it move away, or can I take what attacks it?"
    " A guard does not always help.",
    GUARDS_LESS: "A guard does not help when what attacks is worth less. Move the piece away, or"
    " take what attacks it.",
    HITS_BACK: "When a piece is attacked, first look for a move that makes it safe. Attack after"
    " that.",
    HURRIED: "Keep some time for the end of the game.",
    "unguarded": "Before you move, look for pieces that nothing guards.",
    "less valuable attacker": "Look at what is worth less and attacks a piece of yours. A guard"
    " does not help then.",
    "outnumbered": "Count: how often is it attacked, and how often is it guarded?",
    "fork": "Before you move, look for a square from which two of your pieces can be attacked.",
    "pin": "Look along the lines: what stands behind your piece?",
    "skewer": "Look along the lines: what stands behind your piece?",
    "pinned guard": "Look at your guards: can they really take back?",
    "overloaded guard": "Look at your guards: has one of them two things to do?",
    "removal of the guard": "Look at your guards: can one be taken or driven off?",
    "discovered attack": "Look behind the other side's pieces: what attacks when one moves?",
    "discovered check": "Look behind the other side's pieces: what checks when one moves?",
    "trapped": "Before a piece goes far, look for its way back.",
    "back rank": "Give your king a square to go to.",
    "mate threat": "Look at every check of the other side before you move.",
    "promotion": "With few pieces left, count how many moves each pawn needs.",
}
_FOR_PARENTS = {
    BY_A_PAWN: "noticing what the other side's pawns attack",
    FAR: "looking one move further than the next",
    FURTHER: "looking a few moves further than the next",
    GUARDS: "choosing between guarding a piece and moving it",
    GUARDS_LESS: "choosing between guarding a piece and moving it",
    HITS_BACK: "making a piece safe before attacking",
    HURRIED: "keeping some time for the end of a game",
}


def task_for_student(cause: str) -> str:
    """One thing to do, in a sentence or two for a ten-year-old."""
    return _FOR_STUDENT.get(cause, "Before you move, look at every piece of yours once.")


def task_for_parents(cause: str) -> str:
    """What is being practised, as the rest of a sentence that begins "We are practising"."""
    return _FOR_PARENTS.get(cause, "looking at every piece once before moving")
