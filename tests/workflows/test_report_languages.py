"""Records, plans and reports in every language: nothing of another one stands in them."""

import re
from typing import get_args

import pytest

from fastness.language import ENGLISH, LANGUAGES, Language, language
from fastness.publish import html, text
from fastness.record import Finding, StudentGame, diagnose, finding_sentence
from fastness.record.causes import OWN_CAUSES
from fastness.record.words import SENTENCES
from fastness.workflows.advice import task_for_parents, task_for_student
from fastness.workflows.plan_page import plan_page
from fastness.workflows.record_page import record_page
from fastness.workflows.recording import Remark, StoredGame, StudentRecord
from fastness.workflows.reporting import Reader, group_report, report
from tests.record.made import KNIGHT, occasion, student_game

GERMAN = language("de")
# Words of English that are no words of German, and no names.
ENGLISH_WORDS = re.compile(
    r"\b(?:the|of|and|is|are|were|been|with|without|your|you|it|its|this|that|these|those|move"
    r"|moves|held|holds|hold|would|could|from|to|for|by|at|on|in danger|games?|dangers?|ahead"
    r"|piece|pieces|knight|bishop|rook|queen|king|pawns?|unguarded|cause|fell|page|white|black"
    r"|opening|middlegame|endgame|looking|nothing|everything|teacher|week|answers?)\b",
    re.IGNORECASE,
)
GERMAN_WORDS = re.compile(
    r"\b(?:der|das|und|ist|sind|mit|ohne|dein|deine|du|zug|züge|gehalten|hält|partien?"
    r"|gefahr|springer|läufer|turm|dame|könig|bauern?|weiß|schwarz|lösungen|woche)\b",
    re.IGNORECASE,
)


def games(outcome: str, first: int) -> list[StudentGame]:
    return [
        student_game(
            [
                occasion(40, outcome, clock=30.0),
                occasion(44, "held", units=["c6", "a8"], reach=2),
                occasion(48, "saved most", holding=[], holding_ways=[], mechanisms=["fork"]),
            ],
            key=str(number),
            date=f"2026.{1 + (number - first):02}.07",
            start_clock=3600.0,
        )
        for number in range(first, first + 8)
    ]


def record(name: str = "Sluicegate, Ned", outcome: str = "let fall") -> StudentRecord:
    own, others = games(outcome, 1), [games("held", 21), games("held", 41)]
    remarks = (
        Remark(40, "danger", "strike", None, "xx-1", "20...", KNIGHT, "c6e7"),
        Remark(40, "danger", "overrule", "holds", "xx-2", "20...", KNIGHT, "c6a5"),
        Remark(40, "danger", "overrule", "falls", "xx-3", "20...", KNIGHT, "c6b4"),
        Remark(40, "danger", "comment", None, "xx-4", "20...", KNIGHT, "c6d8"),
        Remark(40, "danger", "overrule", "let fall", "xx-5", "20...", KNIGHT),
        Remark(44, "danger", "strike", None, "xx-6", "22...", KNIGHT),
        Remark(44, "danger", "comment", None, "xx-7", "22...", KNIGHT),
    )
    stored = tuple(StoredGame(game, "Weirwater, Ada", remarks) for game in own)
    return StudentRecord(name, "Montag", stored, diagnose(own, others))


def pages(code: str) -> list[str]:
    words = language(code)
    found = record()
    assert found.diagnosis.told
    readers: tuple[Reader, ...] = get_args(Reader)
    documents = [report(found, reader, language=words) for reader in readers]
    documents.append(group_report([found], "Montag", language=words))
    marks = re.compile(r"<style>.*?</style>|<[^>]*>", re.DOTALL)
    drawn = [marks.sub(" ", html(one)) for one in documents]
    told = [record_page(found, words), plan_page([found], words)]
    return [*map(text, documents), *drawn, *told, *empty_pages(code)]


def empty_pages(code: str) -> list[str]:
    words = language(code)
    nobody = StudentRecord("Sluicegate, Ned", None, (), diagnose([]))
    readers: tuple[Reader, ...] = get_args(Reader)
    documents = [report(nobody, reader, language=words) for reader in readers]
    documents.append(group_report([nobody], "Montag", language=words))
    return [*map(text, documents), record_page(nobody, words), plan_page([nobody], words)]


def test_a_german_page_holds_no_english() -> None:
    for page in pages("de"):
        assert not ENGLISH_WORDS.findall(page), page


def test_an_english_page_holds_no_german() -> None:
    for page in pages("en"):
        assert not GERMAN_WORDS.findall(page.replace("Montag", "")), page


def test_the_reader_of_words_knows_both_languages() -> None:
    assert all(ENGLISH_WORDS.search(page) for page in pages("en"))
    assert all(GERMAN_WORDS.search(page) for page in pages("de"))


def finding(name: str, number: int) -> Finding:
    return Finding(name, "danger", None, 10, None, 1, 1, 1, 5, number, True, True, None, ())


def all_of(cause: str, words: Language) -> tuple[str, ...]:
    return (
        finding_sentence(finding(cause, 1), words),
        finding_sentence(finding(cause, 3), words),
        task_for_student(cause, words),
        task_for_parents(cause, words),
    )


@pytest.mark.parametrize("cause", sorted(SENTENCES))
def test_every_cause_is_told_in_every_language(cause: str) -> None:
    of_all = {code: all_of(cause, language(code)) for code in LANGUAGES}
    for told in zip(*of_all.values(), strict=True):
        assert len(set(told)) == len(LANGUAGES)
    for sentence in of_all["de"]:
        assert not ENGLISH_WORDS.findall(sentence)


def test_every_cause_has_its_sentence() -> None:
    assert set(OWN_CAUSES) <= set(SENTENCES)
    assert (
        finding_sentence(finding("fork", 1), ENGLISH)
        == "In one game, something was lost by a fork."
    )
    assert finding_sentence(finding("fork", 12), GERMAN) == (
        "In 12 Partien ging etwas durch eine Gabel verloren."
    )


def test_a_child_is_spoken_to_as_a_child_and_a_teacher_is_not() -> None:
    student, parents, teacher = (
        text(report(record(), reader, language=GERMAN)) for reader in get_args(Reader)
    )
    assert re.search(r"\b[Dd](?:u|ein|eine|einen|einer|ir)\b", student)
    assert not re.search(r"\b[Dd](?:u|ein|eine|einen|einer|ir)\b", parents + teacher)
    assert "Sie " in parents


def test_what_the_teacher_said_of_moves_is_on_every_page_with_its_reason() -> None:
    student, parents, teacher = (text(report(record(), reader)) for reader in get_args(Reader))
    for page in (student, parents):
        assert "Na5 holds: xx\\-2" in page or "Na5 holds: xx-2" in page
        assert "Nb4 does not hold: xx-3" in page
        assert "xx-5" not in page
    for number in range(1, 8):
        assert f"xx-{number}" in teacher
        assert f"xx-{number}" in record_page(record())
    assert "Na5 holds: xx-2" in plan_page([record()])
    group = text(group_report([record()], "Montag"))
    assert "Na5 holds: xx-2" in group


def test_a_page_without_names_has_none_in_a_reason() -> None:
    named = record()
    said = Remark(40, "danger", "overrule", "holds", "Ned's own idea", "20...", KNIGHT, "c6a5")
    games = tuple(StoredGame(one.game, one.opponent, (said,)) for one in named.games)
    found = StudentRecord(named.name, named.group, games, named.diagnosis)
    assert "own idea" in text(report(found, "student"))
    assert "own idea" not in text(group_report([found], "Montag"))


def test_where_the_move_made_the_danger_nothing_is_said_to_be_in_danger_before() -> None:
    page = text(report(record(outcome="exposed"), "parents"))
    after = page.partition("For instance here.")[2]
    assert "Kh8 puts something in danger." in after.replace("\\", "")
    assert "In danger" not in after
    assert "In a broken ring" not in after
