"""A second opinion in words: what the two disagree on, with the line of each, and the count."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypedDict

import chess

from fastness.language import ENGLISH, Language
from fastness.survey.lines import move_name, numbered, wrapped
from fastness.survey.words import ahead, side_name, worth
from fastness.workflows.analyser import Analyser, Opinion
from fastness.workflows.second_opinion import Compared, Disagreement, verdict_of


class Told(TypedDict):
    """One position as data: the FEN, where it is from, what both say, and what they disagree on."""

    fen: str
    game: str | None
    better: str | None
    analyser: dict[str, object] | None
    of_better: dict[str, object] | None
    disagreements: list[dict[str, str]]
    trouble: str | None


def as_data(compared: Compared) -> Told:
    """One position for a program to read."""
    return Told(
        fen=compared.place.fen,
        game=compared.place.source.game or None,
        better=compared.better,
        analyser=_opinion_data(compared.opinion),
        of_better=_opinion_data(compared.of_better),
        disagreements=[one._asdict() for one in compared.disagreements],
        trouble=str(compared.trouble) if compared.trouble else None,
    )


def _opinion_data(opinion: Opinion | None) -> dict[str, object] | None:
    if opinion is None:
        return None
    return {
        "move": opinion.move,
        "centipawns": opinion.centipawns,
        "mate": opinion.mate,
        "line": list(opinion.line),
    }


def told(number: int, compared: Compared, language: Language = ENGLISH) -> str:
    """One position with its disagreements, ending in a line break; empty where there is nothing."""
    sentences = [_sentence(compared, one, language) for one in compared.disagreements]
    if compared.trouble:
        what = language.say(compared.trouble.text, **compared.trouble.values)
        sentences.append(language.say("Not compared in full; of the analyser: {what}.", what=what))
    if not sentences:
        return ""
    head = language.say("Position {number}: {fen}", number=number, fen=compared.place.fen)
    source = compared.place.source
    rows = [head, *([f"  {source.game}"] if source.game else [])]
    return "\n".join([*rows, *(wrapped(text) for text in sentences)]) + "\n"


def _sentence(compared: Compared, one: Disagreement, language: Language) -> str:
    if one.kind == "falls":
        return _falls(compared, language)
    return (
        _worth_less(compared, language) if one.kind == "worth less" else _mate(compared, language)
    )


def _falls(compared: Compared, language: Language) -> str:
    opinion, fen = compared.opinion, compared.place.fen
    assert opinion is not None
    verdict = verdict_of(compared.survey, opinion.move)
    net = verdict["net"]
    names = {
        "move": _named(fen, opinion.move, language),
        "score": score_in_words(opinion, language),
        "line": numbered(fen, verdict["line"] or [opinion.move], language),
        "expected": numbered(fen, opinion.line, language),
    }
    if isinstance(net, int):
        return language.say(
            "The analyser plays {move} ({score}) and expects {expected}. By the survey it loses"
            " {worth}: {line}.",
            worth=worth(net, language),
            **names,
        )
    return language.say(
        "The analyser plays {move} ({score}) and expects {expected}. By the survey it allows mate:"
        " {line}.",
        **names,
    )


def _worth_less(compared: Compared, language: Language) -> str:
    opinion, kept, fen = compared.opinion, compared.of_better, compared.place.fen
    assert opinion is not None
    assert kept is not None
    return language.say(
        "The survey's better way is {better}, which keeps the material, {seen}. The analyser says"
        " {kept} of it and expects {expected}; of {move}, its own, it says {score}: {line}.",
        better=_named(fen, kept.move, language),
        seen=ahead(compared.survey["reach"], language),
        kept=score_in_words(kept, language),
        expected=numbered(fen, kept.line, language),
        move=_named(fen, opinion.move, language),
        score=score_in_words(opinion, language),
        line=numbered(fen, opinion.line, language),
    )


def _mate(compared: Compared, language: Language) -> str:
    opinion, fen = compared.opinion, compared.place.fen
    assert opinion is not None
    assert opinion.mate is not None
    seen = ahead(compared.survey["reach"], language)
    line = numbered(fen, opinion.line, language)
    if opinion.mate > 0:
        return language.say(
            "The analyser announces mate in {number} by {line}. The survey finds none, {seen}, and"
            " so far it leaves out no move.",
            number=opinion.mate,
            line=line,
            seen=seen,
        )
    saving = next(move for move in compared.survey["moves"] if move["net"] != "mated")
    return language.say(
        "The analyser announces that {side} is mated in {number}, whatever is played: {line}. By"
        " the survey {move} is not mated, {seen}.",
        side=side_name(compared.survey["side"], language),
        number=-opinion.mate,
        line=line,
        move=_named(fen, saving["uci"], language),
        seen=seen,
    )


def _named(fen: str, uci: str, language: Language) -> str:
    return move_name(chess.Board(fen), uci, language)


def score_in_words(opinion: Opinion, language: Language = ENGLISH) -> str:
    """``+1.35`` in pawns from the mover's view, ``mate in 2`` or ``mated in 2``."""
    if opinion.mate is None:
        pawns = f"{(opinion.centipawns or 0) / 100:+.2f}"
        return pawns.replace(".", language.say_as("decimal point", "."))
    if opinion.mate > 0:
        return language.say("mate in {number}", number=opinion.mate)
    return language.say("mated in {number}", number=-opinion.mate)


def summary(
    compared: int, disagreeing: int, troubled: int, analyser: Analyser, language: Language = ENGLISH
) -> str:
    """What came of all positions, and how the analyser behaved."""
    return "\n".join(_summary(compared, disagreeing, troubled, analyser, language)) + "\n"


def _summary(
    compared: int, disagreeing: int, troubled: int, analyser: Analyser, language: Language
) -> Iterator[str]:
    yield language.say_many(
        "{number} position compared with {name}.",
        "{number} positions compared with {name}.",
        compared,
        name=analyser.name or language.say("the analyser"),
    )
    yield language.say("Positions with a disagreement: {number}.", number=disagreeing)
    if troubled:
        yield language.say("Positions not compared in full: {number}.", number=troubled)
    if analyser.given_up:
        yield language.say_many(
            "The analyser failed {number} time and was given up; the rest was not compared.",
            "The analyser failed {number} times and was given up; the rest was not compared.",
            analyser.failures,
        )
    if analyser.left_by_force:
        yield language.say("The analyser did not end when it was told to, and was ended.")
