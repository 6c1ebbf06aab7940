"""Sheets, answers and the marking grid in German; what is data is the same in every language."""

import io
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import chess.pgn
import pytest

from fastness.exercises.epd import epd
from fastness.exercises.exercise import KINDS, LEVELS, Exercise, Source
from fastness.exercises.overruling import Overruling
from fastness.exercises.pgn import pgn
from fastness.exercises.words import TEACHER, answer_name, question
from fastness.language import ENGLISH, Language, language
from fastness.publish import html, pdf, text
from fastness.publish.answers import answer_in_words
from fastness.publish.sheet import Layout, Sheet, SheetExercise, sheets
from tests.exercises.asked import BISHOP, KNIGHT, QUIET, TACTICS, asked, safe_move
from tests.publish.test_document import without_marks
from tests.workflows.test_report_languages import ENGLISH_WORDS, GERMAN_WORDS

GERMAN = language("de")
CHECKED = "6k1/5ppp/8/8/8/8/5PPP/1r4K1 w - - 0 1"


@cache
def exercises() -> list[Exercise]:
    """Every kind of question, and every sentence that an answer can have."""
    found = [asked(kind, fen) for fen in (BISHOP, KNIGHT) for kind in KINDS]
    found += [safe_move(), asked("which unit", QUIET), asked("which unit", TACTICS)]
    twin = asked("every move", BISHOP)
    source = Source("twin", "Millrace Chess Club", 20, KNIGHT)
    found.append(replace(twin, proved=replace(twin.proved, source=source)))
    return [*found, replace(asked("better way"), not_judged=("a7a6",))]


def said(exercise: Exercise) -> tuple[Overruling, ...]:
    """Each thing that can be said of an exercise; its words are the teacher's own."""
    by, answer = GERMAN.say(TEACHER), (exercise.accepted or ("a1",))[0]
    return (
        Overruling(by, "zu schwer", answer, "wrong"),
        Overruling(by, "doch gut", answer, "right"),
        Overruling(by, "Ansichtssache", answer, "not judged"),
        Overruling(by, "sehr schön"),
    )


@cache
def made(words: Language) -> list[Sheet]:
    found = exercises()
    ones = [SheetExercise(one, "club") for one in found]
    ones.append(SheetExercise(found[1], "stretch", said(found[1])))
    return sheets("Hinsehen", ones, Layout(language=words, sources=True, blanks=1))


def documents() -> Iterator[str]:
    for one in made(GERMAN):
        for document in (one.questions, one.answers):
            yield without_marks(text(document)).replace("Millrace Chess Club, game 4", "")


def test_no_english_stands_on_a_german_sheet() -> None:
    for page in documents():
        found = ENGLISH_WORDS.findall(page.replace("Millrace Chess Club", ""))
        assert not found, (found, page)
        assert GERMAN_WORDS.search(page)


def test_the_sentences_are_german_chess() -> None:
    told = " ".join(documents())
    for sentence in (
        "Hinsehen (Verein)",
        "Lösungen: Hinsehen (knifflig)",
        "Schwarz am Zug. Finde alle Züge, nach denen Schwarz nichts verliert.",
        "Richtig: keine. Von Schwarz ist nichts zu gewinnen.",
        "Dein Läufer auf a3 ist doch sicher. Der Versuch: 2.Txa3 Td1#.",
        "(wegziehen)",
        "Deine Lehrkraft hat ",
        "Eine Einzelheit ist anders als bei ",
        "Korrekturraster",
        "Name",
        "Datum",
    ):
        assert sentence in told, sentence
    assert "Sf6" in told
    assert "Nf6" not in told


def test_side_by_side_the_levels_are_german() -> None:
    ones = [SheetExercise(asked("every move"), level) for level in LEVELS]
    (one,) = sheets("Hinsehen", ones, Layout(side_by_side=True, language=GERMAN))
    assert [row.label for row in one.rows] == ["Einfach 1", "Verein 1", "Knifflig 1"]


def test_whose_move_it_is_and_in_check() -> None:
    assert question(asked("every move", CHECKED), GERMAN).startswith("Weiß am Zug, im Schach. ")
    assert question(asked("every move", CHECKED)).startswith("White to move, in check. ")


@pytest.mark.parametrize(("answer", "name"), [("yes", "ja"), ("no", "nein")])
def test_yes_and_no(answer: str, name: str) -> None:
    assert answer_name(safe_move(), answer, GERMAN) == name


def test_the_document_says_its_language() -> None:
    one = made(GERMAN)[-1]
    assert '<html lang="de">' in html(one.answers)
    assert b"/Lang(de" in pdf(one.questions).replace(b" ", b"")
    assert "Weiß: König" in text(one.questions)


def test_the_grid_has_the_same_boxes() -> None:
    for one, other in zip(made(ENGLISH), made(GERMAN), strict=True):
        assert [row.boxes for row in one.rows] == [row.boxes for row in other.rows]


def test_epd_tags_and_moves_are_the_same() -> None:
    named = [(kind, asked(kind)) for kind in KINDS]
    assert epd(named).isascii()
    english, german = (list(games(pgn("Hinsehen", named, words))) for words in (ENGLISH, GERMAN))
    for one, other in zip(english, german, strict=True):
        assert one.headers == other.headers
        assert moves(one) == moves(other)
        assert not ENGLISH_WORDS.findall(other.comment)
    assert german[0].comment.startswith("Schwarz am Zug. ")
    assert pgn("Hinsehen", named, GERMAN).encode("latin-1")


def games(told: str) -> Iterator[chess.pgn.Game]:
    stream = io.StringIO(told)
    while game := chess.pgn.read_game(stream):
        assert not game.errors
        yield game


def moves(game: chess.pgn.Game) -> str:
    return game.accept(chess.pgn.StringExporter(headers=False, comments=False))


def test_english_is_as_it_was() -> None:
    assert answer_in_words(asked("which unit", QUIET))[0] == (
        "Right: none. Nothing of Black's can be won."
    )
