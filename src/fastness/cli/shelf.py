"""`fastness shelf`: the stored exercises."""

from __future__ import annotations

import json
from typing import Annotated

import cyclopts
from cyclopts import Parameter

from fastness.cli.languages import TextLanguage, chosen
from fastness.cli.places import StorePlace, opened
from fastness.cli.shelf_filter import ShelfFilter
from fastness.store.shelf import Verdict
from fastness.workflows import shelving
from fastness.workflows.shelf_in_words import as_table, shown

shelf = cyclopts.App(name="shelf", help="Look at the stored exercises and correct them.")


@shelf.command(name="list")
def list_exercises(
    *,
    fits: ShelfFilter | None = None,
    struck: Annotated[bool, Parameter(negative=())] = False,
    json_: Annotated[bool, Parameter(name="--json", negative=())] = False,
    language: TextLanguage = None,
    store: StorePlace = None,
) -> None:
    """List the exercises that fit. An option given several times asks for any of its values.

    Args:
        fits: which exercises.
        struck: those that you struck, too.
        json_: print JSON.
        language: the language of the text; that of LANG if there are texts in it, else English.
        store: the store's file or URL.
    """
    wanted = (fits or ShelfFilter()).wanted(struck=struck)
    words = chosen(language)
    with opened(store) as place:
        rows = shelving.listed(place, wanted)
    if json_:
        print(json.dumps(rows, ensure_ascii=False, indent=1))
    elif rows:
        print(as_table(rows, words))
    else:
        print(words.say("No exercise on the shelf fits."))


@shelf.command(name="show")
def show(number: int, *, language: TextLanguage = None, store: StorePlace = None) -> None:
    """Show an exercise with its answer.

    Args:
        number: the exercise's number in the list.
        language: the language of the text; that of LANG if there are texts in it, else English.
        store: the store's file or URL.
    """
    words = chosen(language)
    with opened(store) as place:
        print(shown(place, number, words))


@shelf.command(name="strike")
def strike(number: int, reason: str, *, store: StorePlace = None) -> None:
    """Strike an exercise: it is given to nobody.

    Args:
        number: the exercise's number in the list.
        reason: why, in your words.
        store: the store's file or URL.
    """
    with opened(store) as place:
        shelving.correct(place, number, "strike", reason)
    print(f"Struck: exercise {number}.")


@shelf.command(name="comment")
def comment(number: int, remark: str, *, store: StorePlace = None) -> None:
    """Comment on an exercise.

    Args:
        number: the exercise's number in the list.
        remark: what you want to say.
        store: the store's file or URL.
    """
    with opened(store) as place:
        shelving.correct(place, number, "comment", remark)
    print(f"Kept: a comment on exercise {number}.")


@shelf.command(name="overrule")
def overrule(
    number: int, answer: str, verdict: Verdict, reason: str, *, store: StorePlace = None
) -> None:
    """Give an answer another verdict.

    Args:
        number: the exercise's number in the list.
        answer: the move as you write it, the square, or yes or no.
        verdict: right, wrong or "not judged".
        reason: why, in your words.
        store: the store's file or URL.
    """
    with opened(store) as place:
        shelving.correct(place, number, "overrule", reason, answer=answer, verdict=verdict)
    print(f"Kept: in exercise {number}, {answer} is {verdict}.")


@shelf.command(name="take-back")
def take_back(number: int, correction: int, *, store: StorePlace = None) -> None:
    """Take back a correction of an exercise.

    Args:
        number: the exercise's number in the list.
        correction: the correction's number, as `show` tells it.
        store: the store's file or URL.
    """
    with opened(store) as place:
        shelving.take_back(place, number, correction)
    print(f"Taken back: correction {correction} of exercise {number}.")


@shelf.command(name="fit")
def fit(*, store: StorePlace = None) -> None:
    """Fit how hard the exercises are to the students' attempts.

    Args:
        store: the store's file or URL.
    """
    with opened(store) as place:
        exercises, answers = shelving.fit_difficulties(place)
    print(f"Fitted {exercises} exercises from {answers} first answers.")
