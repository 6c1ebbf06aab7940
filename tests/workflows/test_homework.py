"""Homework from handing out to marking: by code, on paper and answer by answer, kept once."""

import datetime
import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from fastness.errors import CodeError, FileError, InputError, MissingError, StudentError
from fastness.exercises.shelving import as_entry
from fastness.language import language
from fastness.practice.choices import as_one_number, choices_of
from fastness.practice.code import read_word, write_code
from fastness.publish.sheet import Layout
from fastness.publish.text import text
from fastness.store import Store, open_store, shelf, students
from fastness.workflows.homework import list_homework, make, page_html, show
from fastness.workflows.homework_files import paper_version, write_homework, write_results
from fastness.workflows.homework_hand_in import hand_in_answers, hand_in_code, hand_in_paper
from fastness.workflows.homework_results import grid_document, result_document, slips_document
from fastness.workflows.homework_sources import of_lesson, of_week
from fastness.workflows.homework_told import HomeworkTold
from tests.exercises.asked import BISHOP, asked
from tests.store.material import ADA, IVY, TOM

MADE, DUE = datetime.date(2026, 11, 26), datetime.date(2026, 12, 3)
EXERCISES = (
    asked("which unit"),
    asked("every move", BISHOP),
    asked("better way"),
    asked("why it fails", BISHOP),
    asked("is it safe"),
)
RIGHT = tuple(
    one.accepted if one.kind in ("which unit", "every move") else one.accepted[:1]
    for one in EXERCISES
)
ALL_RIGHT = ("right",) * 5


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """A store with three students and the exercises on the shelf, by the numbers 1 to 5."""
    opened = open_store(tmp_path / "store.sqlite")
    with opened.writing() as session:
        group = students.add_group(session, "Evening group", "Millrace Chess Club")
        for name in (IVY, TOM):
            students.add_student(session, name, group)
        students.add_student(session, ADA)
        for one in EXERCISES:
            shelf.put(session, as_entry(one))
    yield opened
    opened.close()


@pytest.fixture
def homework(store: Store) -> HomeworkTold:
    return make(store, "Pins", [1, 2, 3, 4, 5], DUE, group="evening group", made=MADE)


def code_of(told: HomeworkTold, name: str, answers: list[tuple[str, ...] | None]) -> str:
    """The code that the page makes of these answers."""
    number, key = read_word(next(one.word for one in told.students if one.name == name))
    ordered = [
        None if given is None else tuple(sorted(given))
        for given in (*answers, *[None] * (len(EXERCISES) - len(answers)))
    ]
    return write_code(told.row.number, number, key, as_one_number(EXERCISES, ordered))


def kept(store: Store) -> list[tuple[str, int, list[str], str]]:
    """The attempts: who, at what, the answer and the verdict."""
    with store.reading() as session:
        return [
            (one.student.name, one.exercise_id, one.answer, one.verdict)
            for one in shelf.attempts(session)
        ]


def test_it_is_handed_out_to_a_group_with_a_word_for_each(
    store: Store, homework: HomeworkTold
) -> None:
    assert [one.name for one in homework.students] == [IVY, TOM]
    assert len({one.word for one in homework.students}) == 2
    (row,) = list_homework(store)
    assert (row.title, row.group, row.exercises, row.students, row.handed_in) == (
        "Pins",
        "Evening group",
        5,
        2,
        0,
    )
    assert show(store, row.number) == homework


def test_a_code_is_marked_and_kept_once(store: Store, homework: HomeworkTold) -> None:
    code = code_of(homework, IVY, [*RIGHT])
    first = hand_in_code(store, code, made=MADE)
    assert (first.student, first.new, first.counts, first.later) == (IVY, True, True, False)
    assert tuple(one.verdict for one in first.results) == ALL_RIGHT
    attempts = kept(store)
    assert [(who, at, verdict) for who, at, _, verdict in attempts] == [
        (IVY, number, "right") for number in range(1, 6)
    ]
    again = hand_in_code(store, code.lower().replace("-", " "), made=DUE)
    assert (again.new, again.counts, again.made) == (False, True, MADE)
    assert kept(store) == attempts


def test_a_later_better_one_is_another_attempt_and_the_first_counts(
    store: Store, homework: HomeworkTold
) -> None:
    hand_in_code(store, code_of(homework, IVY, [("a8",), None, *RIGHT[2:]]), made=MADE)
    better = hand_in_code(
        store, code_of(homework, IVY, [*RIGHT]), made=DUE + datetime.timedelta(days=1)
    )
    assert (better.new, better.counts, better.later) == (True, False, True)
    # What was answered the same before is no attempt more.
    assert [(at, verdict) for _, at, _, verdict in kept(store)] == [
        (1, "wrong"),
        (3, "right"),
        (4, "right"),
        (5, "right"),
        (1, "right"),
        (2, "right"),
    ]
    ivy, tom = show(store, homework.row.number).students
    assert [one.counts for one in ivy.hand_ins] == [True, False]
    assert ivy.hand_ins[0].verdicts == ("wrong", "open", "right", "right", "right")
    assert tom.hand_ins == ()
    with store.reading() as session:
        first = {exercise: right for _, exercise, right in shelf.first_judged(session)}
    assert first == {1: False, 2: True, 3: True, 4: True, 5: True}


@pytest.mark.parametrize("other", ["homework", "student", "key", "answers"])
def test_a_code_with_a_part_changed_is_refused_and_nothing_kept(
    store: Store, homework: HomeworkTold, other: str
) -> None:
    number, key = read_word(homework.students[0].word)
    answers = as_one_number(EXERCISES, [("f7", "g4"), None, None, None, ("no",)])
    parts = {"homework": homework.row.number, "student": number, "key": key, "answers": answers}
    assert hand_in_code(store, write_code(**parts)).student == IVY  # type: ignore[arg-type]
    before = kept(store)
    changed: dict[str, object] = {
        "homework": (homework.row.number + 1) % 12167,
        "student": (number + 1) % 529,
        "key": "ACD" if key != "ACD" else "ACE",
        "answers": 10**30,
    }
    with pytest.raises(CodeError):
        hand_in_code(store, write_code(**{**parts, other: changed[other]}))  # type: ignore[arg-type]
    assert kept(store) == before


def test_a_sheet_on_paper_is_marked_by_its_letters(store: Store, homework: HomeworkTold) -> None:
    sheet = paper_version(store, homework.row.number, Layout())
    assert [row.label for row in sheet.rows] == ["1", "2", "3", "4", "5"]
    letters = [
        "".join(box.letter for box in row.boxes if box.counts == "right") for row in sheet.rows
    ]
    handed = hand_in_paper(store, homework.row.number, IVY, " ".join([*letters[:3], "-", "o"]))
    assert [one.verdict for one in handed.results] == ["right", "right", "right", "open", "open"]
    with pytest.raises(InputError, match="2 words for 5 exercises"):
        hand_in_paper(store, homework.row.number, IVY, "a b")
    # The same answers by a code are the same hand-in.
    same = hand_in_code(store, code_of(homework, IVY, [*RIGHT[:2], None, None, None]))
    assert same.new
    assert not same.counts


def test_answers_given_one_by_one(store: Store, homework: HomeworkTold) -> None:
    number = homework.row.number
    handed = hand_in_answers(store, number, "Ivy Flourdust", [(), ["b8c6"], None, None, ["yes"]])
    assert [one.verdict for one in handed.results] == ["wrong", "wrong", "open", "open", "wrong"]
    assert [one.given_names for one in handed.results] == ["none", "Nc6", "", "", "yes"]
    assert "Bxd8" in handed.results[1].told[0]
    with pytest.raises(InputError, match="2 answers for 5 exercises"):
        hand_in_answers(store, number, IVY, [None, None])
    with pytest.raises(InputError, match="cannot be answered"):
        hand_in_answers(store, number, IVY, [["e4"], None, None, None, None])
    with pytest.raises(InputError, match="was not given to Weirwater, Ada"):
        hand_in_answers(store, number, ADA, [None] * 5)


def test_what_cannot_be_handed_out_is_told(store: Store) -> None:
    group = "Evening group"
    for title, numbers, to, made, error in (
        ("Pins", [], {"group": group}, MADE, "1 to 30 exercises"),
        (" ", [1], {"group": group}, MADE, "letters, not 0"),
        ("Pins", [1], {"group": group}, DUE + datetime.timedelta(days=1), "before it is"),
        ("Pins", [1], {}, MADE, "no student was named"),
        ("Pins", [1], {"group": group, "students": [IVY]}, MADE, "not both"),
    ):
        with pytest.raises(InputError, match=error):
            make(store, title, numbers, DUE, made=made, **to)
    with pytest.raises(MissingError, match="no exercise 9"):
        make(store, "Pins", [9], DUE, students=[IVY], made=MADE)
    with pytest.raises(StudentError):
        make(store, "Pins", [1], DUE, students=["Nobody"], made=MADE)
    with store.writing() as session:
        shelf.correct(session, shelf.numbered(session, 1), "strike", "too easy")
    with pytest.raises(InputError, match="exercise 1 is struck"):
        make(store, "Pins", [1], DUE, students=[IVY], made=MADE)
    assert list_homework(store) == []


def test_an_answer_that_the_teacher_overruled_counts_so(
    store: Store, homework: HomeworkTold
) -> None:
    with store.writing() as session:
        row = shelf.numbered(session, 3)
        wrong = next(one for one in choices_of(EXERCISES[2]) if one not in RIGHT[2])
        shelf.correct(session, row, "overrule", "I count it.", answer=wrong, verdict="right")
    handed = hand_in_code(store, code_of(homework, IVY, [None, None, (wrong,)]))
    assert handed.results[2].verdict == "right"
    assert "I count it." in " ".join(handed.results[2].told)


def test_the_documents_begin_with_what_was_seen_and_rank_nobody(
    store: Store, homework: HomeworkTold
) -> None:
    handed = hand_in_code(store, code_of(homework, IVY, [("a8",), None, *RIGHT[2:]]))
    told = text(result_document(handed))
    assert told.index("You saw this") < told.index("Look at this once more")
    assert told.index("Look at this once more") < told.index("You left this open")
    assert "%" not in told
    told = text(grid_document(show(store, homework.row.number), language("de"), large=True))
    assert "| Flourdust, Ivy | noch nicht | offen | richtig | richtig | richtig |" in told
    assert "Noch nichts kam von: Millpondle, Tom." in told
    slips = text(slips_document(homework, file="homework.html", address="http://desk.invalid/h"))
    for one in homework.students:
        assert one.name in slips
        assert one.word in slips.replace("\\", "")


def test_the_folder_has_the_page_the_slips_and_the_sheet(
    store: Store, homework: HomeworkTold, tmp_path: Path
) -> None:
    written = write_homework(store, homework.row.number, tmp_path / "out", Layout())
    assert [one.name for one in written] == [
        "homework.html",
        "slips.pdf",
        "sheet.pdf",
        "answers.pdf",
    ]
    assert (tmp_path / "out" / "homework.html").read_text("utf-8") == page_html(
        store, homework.row.number
    )
    handed = hand_in_code(store, code_of(homework, IVY, [*RIGHT]))
    results = write_results(store, [handed], tmp_path / "out", Layout(), "html")
    assert [one.name for one in results] == [
        f"result-{homework.row.number}-Flourdust-Ivy.html",
        f"grid-{homework.row.number}.html",
    ]
    (tmp_path / "file").write_text("")
    with pytest.raises(FileError):
        write_homework(store, homework.row.number, tmp_path / "file", Layout())


def test_a_weeks_sheet_of_a_level_is_asked_with_its_twins(store: Store, tmp_path: Path) -> None:
    first, twin = asked("every move", BISHOP).fen, asked("which unit").fen
    positions = [{"fen": first, "twin": {"fen": twin, "text": ""}}, {"fen": twin, "twin": None}]
    (tmp_path / "week.json").write_text(json.dumps({"positions": positions}), "utf-8")
    # Numbers on the shelf: the bishop is asked about by 2 and 4, the other position by 1, 3, 5.
    assert of_week(store, tmp_path, "plain") == [1]
    assert of_week(store, tmp_path, "club") == [2, 3]
    assert of_week(store, tmp_path, "stretch") == [4, 3]
    with store.writing() as session:
        shelf.put(session, as_entry(asked("every move")))
    assert of_week(store, tmp_path, "club") == [2, 6]
    (tmp_path / "week.json").write_text("{}", "utf-8")
    with pytest.raises(FileError, match="is no file of a week"):
        of_week(store, tmp_path, "club")
    (tmp_path / "week.json").write_text('{"positions": []}', "utf-8")
    with pytest.raises(InputError, match="is on the shelf"):
        of_week(store, tmp_path, "club")


def test_a_lesson_asks_about_its_positions(store: Store, tmp_path: Path) -> None:
    lesson = tmp_path / "lesson.md"
    lesson.write_text(f"# Pins\n\n```position\n{BISHOP}\nunsafe: d8\n```\n", encoding="utf-8")
    found = of_lesson(store, lesson)
    assert found.without == ()
    with store.reading() as session:
        row = shelf.numbered(session, found.numbers[0])
        assert (row.fen, row.kind, row.accepted) == (BISHOP, "which unit", ["d8"])
    with pytest.raises(FileError, match="a folder that a week wrote"):
        of_week(store, tmp_path, "club")
