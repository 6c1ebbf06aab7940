"""The survey in a few plain sentences for a student: under 80 words, one idea a sentence."""

from __future__ import annotations

from collections.abc import Sequence

from fastness.core.shapes import Survey, Way
from fastness.language import ENGLISH, Language, marked
from fastness.survey.attackers import no_time
from fastness.survey.claim import (
    AtStake,
    Better,
    Holds,
    InCheck,
    Mated,
    NoUnit,
    Owed,
    Promotes,
    Stalemated,
    TakingMove,
    Unsafe,
)
from fastness.survey.claims import claims
from fastness.survey.findings import Findings
from fastness.survey.lines import wrapped
from fastness.survey.nouns import (
    all_of,
    listed_or,
    on_square,
    on_squares,
    your_unit,
)
from fastness.survey.plain_causes import cause_after_threat, plain_cause
from fastness.survey.scene import play
from fastness.survey.student_gains import to_win
from fastness.survey.student_least import least_lost
from fastness.survey.student_ready import ready_for
from fastness.survey.student_remedies import NAMED, kept_by
from fastness.survey.student_threats import if_taken_back, mate_threatened, threat
from fastness.survey.student_tries import a_try
from fastness.survey.taken_in_turn import in_turn_told, taken_in_turn
from fastness.survey.takings import takes_more
from fastness.survey.words import WAYS, capital, worth

MOST_WORDS = 79
"""Words of the whole text."""


def for_student(
    survey: Survey,
    *,
    moves_given: bool = False,
    language: Language = ENGLISH,
    order: Sequence[Way] = WAYS,
) -> str:
    """`survey` as a short text for the student who is to move, ending in a line break.

    It names what is in danger, why, what keeps it, and one natural try that fails and why.
    Raises ValueError if a line of the survey does not replay.
    """
    found = Findings(claims(survey, moves_given=moves_given, order=order), language)
    return wrapped(student_text(found), indent=0) + "\n"


def student_text(found: Findings) -> str:
    """As `for_student`, in one row."""
    told = _over(found) or _mates(found) or _free(found)
    told = told or [*what_is_in_danger(found), *_also(found), *_answer(found)]
    if _too_long(told):
        told = [*what_is_in_danger(found), *_answer(found)]
    if _too_long(told) and not _over(found):
        told = [*what_is_in_danger(found), *_answer(found, brief=True)]
    while _too_long(told):
        told.pop()
    return " ".join(told)


def _too_long(told: Sequence[str]) -> bool:
    return len(" ".join(told).split()) > MOST_WORDS


def _over(found: Findings) -> list[str]:
    say = found.language.say
    if found.one(Mated):
        return [say("Your king is in check and cannot get out."), say("That is mate.")]
    if found.one(Stalemated):
        return [say("You have no move, but you are not in check."), say("That is stalemate.")]
    return []


def _mates(found: Findings) -> list[str]:
    """Where there is a mate to give, nothing else matters."""
    mates = [one.move for one in found.of(TakingMove) if one.net == "mates"]
    if not mates:
        return []
    better = found.one(Better)
    if better and better.moves and better.moves[0] in mates:
        mates = [move for move in better.moves if move in mates]
    at_once = [move for move in mates if play(found.position.fen, [move])[0].after.is_checkmate()]
    if at_once:
        moves = listed_or(found.moves(at_once[:NAMED]), found.language)
        return [found.language.say("You can mate at once with {move}.", move=moves)]
    moves = listed_or(found.moves(mates[:NAMED]), found.language)
    told = [found.language.say("You can mate: start with {move}.", move=moves)]
    shown = found.if_taken(mates[0]) or found.holding(mates[0])
    return [*told, *ready_for(found, (shown and shown.line) or ())]


def _free(found: Findings) -> list[str]:
    """Where more can be taken than is in danger, that is told first."""
    if not takes_more(found) or not found.needs_remedy():
        return []
    if not found.of(TakingMove):
        return []
    unsafe = found.of(Unsafe)
    if not unsafe or unsafe[0].together or unsafe[0].loses == "mate":
        return [*to_win(found), *a_try(found)]
    told = found.language.say(
        "{unit} is in danger, but this wins more.", unit=your_unit(unsafe[0].unit, found.language)
    )
    return [*to_win(found), capital(told), *a_try(found)]


def what_is_in_danger(found: Findings) -> list[str]:
    """What is in danger, and why."""
    check = found.one(InCheck)
    if check:
        told = found.language.say(
            "Your king is in check from {checkers}.",
            checkers=on_squares(found.board, check.checkers, found.language),
        )
        return [told]
    unsafe = found.of(Unsafe)
    if unsafe:
        return unsafe_told(found, unsafe)
    return _without_unit(found)


def unsafe_told(found: Findings, unsafe: Sequence[Unsafe]) -> list[str]:
    """That the first of these is in danger, and why."""
    say, first = found.language.say, unsafe[0]
    if first.loses == "mate":
        told = [mate_threatened(found, first)]
    elif first.together and (turn := taken_in_turn(found, unsafe)):
        told = in_turn_told(found, turn)
    elif first.together:
        squares = [first.unit.square, *first.together]
        names = [on_square(found.board, at, found.language, you=found.board.turn) for at in squares]
        if len(squares) == 2:
            together = say(_BOTH, one=names[0], other=names[1])
        else:
            together = say(_ALL, units=all_of(names, found.language))
        told = [capital(together), *threat(found, first.line)]
    else:
        name = your_unit(first.unit, found.language)
        told = [capital(say("{unit} is in danger.", unit=name))]
    cause = plain_cause(found, first)
    if cause:
        told.append(cause)
    # What nothing attacks yet, or has no cause, is believed only when the threat is named.
    stake = found.at_stake(first.line)
    if stake and not first.together:
        told += [*threat(found, first.line), _at_stake(found, stake)]
    elif first.loses != "mate" and not first.together and not (cause and _at_once(found, first)):
        then = "" if cause else cause_after_threat(found, first)
        told += threat(found, first.line, "" if then else first.unit.square, told=cause)
        told += [then] if then else []
    elif found.retaken(first.unit):
        told += [*threat(found, first.line), *if_taken_back(found, first)]
    return told


def _at_stake(found: Findings, stake: AtStake) -> str:
    """What else the threat puts in danger."""
    names = [
        on_square(found.board, at, found.language, you=found.board.turn) for at in stake.squares
    ]
    return found.language.say_many(
        "Then {units} is in danger as well.",
        "Then {units} are in danger as well.",
        len(names),
        units=all_of(names, found.language),
    )


def _at_once(found: Findings, unsafe: Unsafe) -> bool:
    """Whether what attacks a unit takes it at once."""
    count = found.count(unsafe.unit)
    attacked = unsafe.unit.kind == "king" or count is None or bool(count.attackers)
    return attacked and unsafe.line[1:2] != () and unsafe.line[1][2:4] == unsafe.unit.square


_BOTH = marked("If you wait, you can save only one of two: {one} or {other}.")
_ALL = marked("If you wait, you cannot save all of these: {units}.")


def _also(found: Findings) -> list[str]:
    """A pawn that wants to promote, or else a second unit in danger by itself."""
    unsafe = found.of(Unsafe)
    if found.one(Promotes) and unsafe[:1] and unsafe[0].loses != "mate":
        return _promotes(found)
    others = [
        one for one in unsafe[1:] if not one.together and not one.after and not no_time(found, one)
    ]
    if not others or unsafe[0].together or unsafe[0].loses == "mate":
        return []
    name = your_unit(others[0].unit, found.language)
    return [capital(found.language.say("{unit} is in danger too.", unit=name))]


def _promotes(found: Findings) -> list[str]:
    promotes = found.one(Promotes)
    if promotes is None:
        return []
    told = found.language.say(
        "{other} has a pawn that wants to promote on {square}.",
        other=found.other,
        square=promotes.square,
    )
    return [told]


def _without_unit(found: Findings) -> list[str]:
    say = found.language.say
    if found.one(Promotes):
        return _promotes(found)
    owed = found.one(Owed)
    if owed and found.needs_remedy():
        won = worth(owed.centipawns, found.language)
        return [
            say("You are in the middle of a trade."),
            say("{other} has won {worth}, and now you win it back.", other=found.other, worth=won),
        ]
    if found.one(NoUnit):
        return [say("Be careful: if you wait, you lose something.")]
    return [say("Nothing of yours is in danger right now.")]


def _answer(found: Findings, *, brief: bool = False) -> list[str]:
    """What keeps it, and a try that fails; where nothing is in danger, what can be won.

    `brief`: without what a move that wins something has ready.
    """
    if not found.needs_remedy():
        return to_win(found)
    if not found.of(Holds):
        return least_lost(found)
    return [*kept_by(found, brief=brief), *a_try(found)]
