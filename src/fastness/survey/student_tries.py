"""One natural try that fails, told to a student with why it does."""

from __future__ import annotations

from fastness.survey.claim import Falls, Holds, NotFirm
from fastness.survey.findings import Findings
from fastness.survey.lines import move_name
from fastness.survey.reasons import is_of_the_answer, reason_in_words
from fastness.survey.scene import Step, play
from fastness.survey.teller import Teller
from fastness.survey.words import capital

SHORT = 4
"""Plies of a try with a refutation that is easily followed."""
_TRIES = ("guard", "block", "move", "capture", "counterattack", "other")
"""What is tried first by most players comes first: a guard."""


def a_try(found: Findings) -> list[str]:
    """One natural try that fails, why, and the answer to it."""
    shown = try_shown(found)
    if shown is None:
        return []
    language = found.language
    after = play(found.position.fen, shown.line[:1])[0].after
    reply = move_name(after, shown.line[1], language)
    values = {"move": found.move(shown.move), "other": found.other, "reply": reply}
    reason = reason_in_words(found, shown, you=found.board.turn)
    if reason and not is_of_the_answer(found, shown, you=found.board.turn):
        return [
            language.say("{move} looks natural, but it fails.", **values),
            capital(f"{reason}."),
            _answered(found, shown, values),
        ]
    told = [language.say("{move} looks natural, but {other} answers {reply}.", **values)]
    return [*told, capital(f"{reason}.")] if reason else told


def try_shown(found: Findings) -> Falls | None:
    """The try that `a_try` tells of; None where no natural one fails."""
    turned = found.one(NotFirm)
    saved = turned.holds if turned else ()
    tries = [
        one for one in found.of(Falls) if one.tries and len(one.line) > 1 and one.move not in saved
    ]
    return min(tries, key=lambda one: _plainness(found, one), default=None)


def _answered(found: Findings, shown: Falls, values: dict[str, str]) -> str:
    """The opponent's answer, and what is taken later: elsewhere, or there after taking back."""
    language, then = found.language, _taken_later(found, shown)
    if then is None and (again := _taken_again(found, shown)):
        back, last = (move_name(one.before, one.move.uci(), language) for one in again)
        return language.say(
            "{other} answers {reply}, and after {back} {then}.", **values, back=back, then=last
        )
    if then is None:
        return language.say("{other} answers {reply}.", **values)
    move = move_name(then.before, then.move.uci(), language)
    return language.say("{other} answers {reply} and then plays {then}.", **values, then=move)


def _taken_again(found: Findings, shown: Falls) -> tuple[Step, Step] | None:
    """Taking back what the answer takes with, and what takes there again; None where not all do."""
    steps = play(found.position.fen, shown.line[:4])[1:]
    squares = {step.move.to_square for step in steps if step.takes}
    if len(steps) < 3 or len(squares) > 1 or not all(step.takes for step in steps):
        return None
    return steps[1], steps[2]


def _taken_later(found: Findings, shown: Falls) -> Step | None:
    """The opponent's later move that takes what the try loses, or else takes first.

    None where the answer takes it at once.
    """
    steps = play(found.position.fen, shown.line)
    lost = set(Teller(found, shown, you=None).lost())
    if steps[1].takes and (steps[1].move.to_square in lost or not lost):
        return None
    later = [step for step in steps[3::2] if step.takes]
    of_lost = [step for step in later if step.move.to_square in lost]
    return next(iter([*of_lost, *(later if not steps[1].takes else [])]), None)


def _plainness(found: Findings, one: Falls) -> tuple[bool, bool, bool, bool, bool, int, int]:
    """A reason first that is not told with the danger, then a short refutation.

    Then what most players try first. Where one move alone keeps it, a try that works in the same
    way asks most for a word. Few try a retreat to the first rank.
    """
    home, holding = "1" if found.board.turn else "8", found.of(Holds)
    retreats = one.move[3] == home and one.tries != "move"
    kind = _TRIES.index(one.tries or "other")
    unlike = len(holding) == 1 and one.tries not in holding[0].ways[:1]
    untold = one.reason in (None, "lost further on")
    # That a guard does not help is told with what attacks.
    told = one.tries == "guard" and one.reason == "less valuable attacker"
    return untold, told, len(one.line) > SHORT, unlike, retreats, kind, len(one.line)
