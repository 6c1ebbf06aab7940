"""The class board's sequence of a lesson: its positions with notes, questions and answers."""

from __future__ import annotations

import json

from fastness.exercises.words import asked_of
from fastness.language import LANGUAGES, Language, language
from fastness.lessons.lesson import (
    AllThatKeep,
    Better,
    Block,
    FallsBy,
    Keeps,
    Loses,
    Safety,
    Threatened,
    Variation,
)
from fastness.lessons.seen import Seen
from fastness.lessons.words import claim_in_words
from fastness.publish.lesson_show import Show

VERSION = 1
KIND = "class board"
"""What the file says it is."""


def board_json(show: Show, lesson: str) -> str:
    """The file that the class board opens, as JSON; with the name of the `lesson` it is of.

    A position has the FEN from which its `moves` (UCI) lead to it, the `note` that only the
    teacher sees, the question `asked` in each language, and the `answers` and `lines` claimed, in
    the language of the lesson.
    """
    told = {
        "version": VERSION,
        "kind": KIND,
        "title": show.title,
        "lesson": lesson,
        "positions": [
            _position(section.block, section.note, show.seen[section.number], show.language)
            for section in show.sections
            if any(show.seen[section.number].board.legal_moves)  # else there is nothing to try
        ],
    }
    return json.dumps(told, ensure_ascii=False, indent=1) + "\n"


def _position(block: Block, note: str, seen: Seen, words: Language) -> dict[str, object]:
    lines = [claim for claim in block.claims if isinstance(claim, Variation)]
    answers = [claim for claim in block.claims if not isinstance(claim, Variation)]
    return {
        "fen": seen.place.fen,
        "start": seen.place.start,
        "moves": list(seen.place.moves),
        "note": note,
        "asked": {code: question_of(block, seen, language(code)) for code in LANGUAGES},
        "answers": [claim_in_words(seen, claim, words) for claim in answers],
        "lines": [claim_in_words(seen, claim, words) for claim in lines],
    }


def question_of(block: Block, seen: Seen, words: Language) -> str:
    """What the class is asked: the first of these that the lesson has an answer to.

    Which units are not safe; which way is better; which moves keep it; why a try falls.
    """
    fen, claims = seen.place.fen, block.claims
    if any(isinstance(one, Safety | FallsBy | Threatened) for one in claims):
        return asked_of("which unit", fen, None, words)
    if any(isinstance(one, Better) for one in claims):
        return asked_of("better way", fen, None, words)
    if any(isinstance(one, Keeps | AllThatKeep) for one in claims):
        return asked_of("every move", fen, None, words)
    falls = next((one for one in claims if isinstance(one, Loses)), None)
    if falls is not None:
        return asked_of("why it fails", fen, falls.move, words)
    return asked_of("which unit", fen, None, words)
