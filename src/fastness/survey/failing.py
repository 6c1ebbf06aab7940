"""The moves that do not keep the material: natural tries with their refutations, and the rest."""

from __future__ import annotations

from collections.abc import Sequence

import chess

from fastness.language import Language, marked
from fastness.survey.claim import Falls, NotFirm, Zugzwang
from fastness.survey.findings import Findings, worth_most
from fastness.survey.least_words import told_as_least
from fastness.survey.lines import move_name, numbered_move, wrapped, wrapped_items
from fastness.survey.reasons import reason_in_words
from fastness.survey.shown_lines import ShownLine, falls_deeper, if_then
from fastness.survey.tries import KINDS
from fastness.survey.words import ahead, lost, worth

_AIMS = {
    "capture": marked("to capture"),
    "move": marked("to move away"),
    "block": marked("to block"),
    "guard": marked("to guard"),
    "counterattack": marked("to hit back"),
    "other": marked("other tries"),
}
TRIES_SHOWN = 4
"""Tries of one kind shown with a refutation; of the rest only the answer is told."""
FORCING_SHOWN = 6
"""Captures, checks and blunders into mate shown with a refutation where nothing is in danger."""


def aim_name(kind: str, language: Language) -> str:
    """What a natural try of a kind sets out to do: ``to guard``."""
    return language.say(_AIMS[kind])


def failing_tries(found: Findings) -> str:
    """The natural tries that fail, each with its refutation; other moves are only counted."""
    tries = natural(found)
    if not tries:
        return ""
    rows = []
    for kind in KINDS:
        moves = [one for one in tries if one.tries == kind]
        shown = _unlike(found, moves)[:TRIES_SHOWN]
        for index, one in enumerate(shown):
            label = aim_name(kind, found.language) if index == 0 else ""
            rows += _refuted(found, label, one)
        more = [_with_answer(found, one) for one in moves if one not in shown]
        if more:
            first = found.language.say("also: {move}", move=more[0])
            rows.append(wrapped_items("", [first, *more[1:]]))
    return "\n".join([*rows, *rest(found)])


def _unlike(found: Findings, tries: Sequence[Falls]) -> list[Falls]:
    """Of tries that fail by the same answer for the same reason, the first."""
    alike: dict[tuple[object, str], Falls] = {}
    for one in tries:
        alike.setdefault((one.line[1:2] or one.move, loss_in_words(found, one)), one)
    return list(alike.values())


def _refuted(found: Findings, label: str, one: Falls) -> list[str]:
    """A try with its refutation, and what stands below it."""
    told = refuted_by(found, one)
    row = wrapped(f"{label:<15}{told}", hang=17) if label else wrapped(told, indent=17, hang=2)
    return [row, *(wrapped(below.told, indent=19, hang=2) for below in below_try(found, one))]


def below_try(found: Findings, one: Falls) -> list[ShownLine]:
    """The answer to what seems to win something back, and what a try loses one move deeper.

    Before that the mate that its line passes by.
    """
    vain = found.in_vain(one.line)
    answer = if_then(found, vain.line, plies=vain.plies) if vain else None
    rows = (_mate_passed_by(found, one), answer, falls_deeper(found, one.move))
    return [shown for shown in rows if shown]


def _mate_passed_by(found: Findings, one: Falls) -> ShownLine | None:
    """``or even 12...Qf2#``."""
    mates = found.mates_instead(one.move)
    if mates is None:
        return None
    told = found.language.say("or even {mate}", mate=found.last_of(mates.line))
    return ShownLine(told, mates.line)


def _with_answer(found: Findings, one: Falls) -> str:
    """``g6 (5.dxe5)``."""
    board = found.board.copy(stack=False)
    board.push_uci(one.move)
    if len(one.line) < 2:
        return found.move(one.move)
    return f"{found.move(one.move)} ({numbered_move(board, one.line[1], found.language)})"


def refuted_by(found: Findings, one: Falls) -> str:
    """``3...Qxg5 4.Nxg5  (loses 6 pawns' worth: the knight on f3 takes the queen on g5)``."""
    told = "; ".join([loss_in_words(found, one), *_keeps_deeper(found, one)])
    return f"{found.numbered(one.line)}  ({told})"


def _keeps_deeper(found: Findings, one: Falls) -> list[str]:
    """That a move which falls here keeps the material one move deeper."""
    turned = found.one(NotFirm)
    if turned is None or one.move not in turned.holds:
        return []
    seen = ahead(turned.reach, found.language)
    return [found.language.say("not firm: keeps the material, {seen}", seen=seen)]


def loss_in_words(found: Findings, one: Falls) -> str:
    """``loses 6 pawns' worth: the knight on f3 takes the queen on g5``."""
    told, reason = lost(one.loses, found.language), reason_in_words(found, one)
    # That it allows mate is told by "is mated" already.
    if reason and not (one.loses == "mate" and one.reason == "allows mate"):
        told = found.language.say("{lost}: {reason}", lost=told, reason=reason)
    return told


def fails_in_words(found: Findings, one: Falls) -> str:
    """What follows the name of a move that falls: ``loses 3 pawns' worth: ...``.

    Of one that allows mate, by which move: ``is met by Qg7 mate``.
    """
    if one.loses != "mate" or len(one.line) < 2:
        return loss_in_words(found, one)
    language, board = found.language, found.board.copy(stack=False)
    board.push_uci(one.move)
    reply = move_name(board, one.line[1], language)
    if reply.endswith("#"):
        told = language.say("is met by {reply} mate", reply=reply.rstrip("#"))
    else:
        told = language.say("is met by {reply}, and mate follows", reply=reply)
    reason = reason_in_words(found, one)
    if reason and one.reason != "allows mate":
        told = language.say("{lost}: {reason}", lost=told, reason=reason)
    return told


def rest_without_tries(found: Findings) -> list[str]:
    """The count of the moves that fall, where no natural try fails and nothing else tells it.

    With one of them and its refutation.
    """
    if natural(found):
        return []
    told, shown = rest(found), _shown_of_the_rest(found)
    return [*told, wrapped(refuted_by(found, shown), indent=4, hang=2)] if shown else told


def natural(found: Findings) -> list[Falls]:
    """The natural tries that fail, without those that are told to lose least, or to hold deeper."""
    elsewhere = _told_elsewhere(found)
    return [one for one in found.of(Falls) if one.tries and one.move not in elsewhere]


def _told_elsewhere(found: Findings) -> tuple[str, ...]:
    """The moves that fall and are named as losing least, or as holding one move deeper."""
    turned = found.one(NotFirm)
    return (*told_as_least(found), *(turned.holds if turned else ()))


def _left(found: Findings) -> list[Falls]:
    """The other moves that fall, without those that are told to lose least, or to hold deeper."""
    elsewhere = _told_elsewhere(found)
    return [one for one in found.of(Falls) if not one.tries and one.move not in elsewhere]


def _shown_of_the_rest(found: Findings) -> Falls | None:
    """One of the moves left: one that does nothing, or else that with the shortest line."""
    left = [one for one in _left(found) if len(one.line) > 1]
    idle = "does not address it"
    return min(left, key=lambda one: (one.reason != idle, len(one.line)), default=None)


def rest(found: Findings) -> list[str]:
    """How many other moves fall, and how much the least of them loses."""
    left, language = sorted(_left(found), key=lambda one: worth_most(one.loses)), found.language
    if not left:
        return []
    number, least, most = len(left), left[0].loses, left[-1].loses
    if least == "mate":
        told = language.say_many(
            "The other move allows mate.", "Every other move ({number}) allows mate.", number
        )
        return [wrapped(told)]
    amount = worth(least, language)
    if least == most:
        told = language.say_many(
            "The other move loses {worth}.",
            "Every other move ({number}) loses {worth}.",
            number,
            worth=amount,
        )
    else:
        told = language.say(
            "Every other move ({number}) loses {worth} or more.", number=number, worth=amount
        )
    return [wrapped(told)]


def losing_moves(found: Findings) -> str:
    """With nothing in danger: the moves that would lose something, by how much they lose."""
    falling = sorted(found.of(Falls), key=lambda one: (worth_most(one.loses), found.move(one.move)))
    if not falling:
        told = found.language.say(
            "No legal move loses anything, {seen}.",
            seen=ahead(found.position.reach, found.language),
        )
        return wrapped(told)
    forcing = [one for one in falling if one.loses == "mate" or _forcing(found, one)]
    forcing.sort(key=lambda one: one.loses != "mate")
    shown = forcing[:FORCING_SHOWN]
    rows = [wrapped(told)] if (told := zugzwang(found)) else []
    rows += [wrapped(refuted_by(found, one), hang=2) for one in shown]
    left = [one for one in falling if one not in shown]
    for amount in dict.fromkeys(one.loses for one in left):
        rows += _group_by_loss(found, [one for one in left if one.loses == amount])
    return "\n".join(rows)


def zugzwang(found: Findings) -> str:
    """That every move loses something, though a pass would not; empty where that is not so."""
    if not found.one(Zugzwang):
        return ""
    return found.language.say(
        "Zugzwang: every legal move loses something, though a pass would not. {own} has to move.",
        own=found.own,
    )


def _forcing(found: Findings, one: Falls) -> bool:
    played = chess.Move.from_uci(one.move)
    return found.board.is_capture(played) or found.board.gives_check(played)


def _group_by_loss(found: Findings, group: Sequence[Falls]) -> list[str]:
    label = f"{lost(group[0].loses, found.language)}:"
    return [wrapped_items(label, found.moves(one.move for one in group), column=25)]
