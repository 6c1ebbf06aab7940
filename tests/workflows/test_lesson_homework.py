"""Homework from a lesson: what each level asks, once, and only where answers are firm."""

from fastness.exercises.exercise import LEVELS
from fastness.lessons.example import EXAMPLES
from fastness.lessons.reading import read_lesson
from fastness.workflows.lesson_homework import homework_exercises, homework_of
from fastness.workflows.week_folder import ASKED

LESSON = read_lesson(EXAMPLES["en"])


def test_every_level_asks_its_own_question_of_a_position() -> None:
    homework = homework_of(LESSON)
    assert homework.left_out == ()
    for one in homework.asked:
        assert one.exercise.kind in ASKED[one.level]
    asked = [(one.level, one.exercise.fen) for one in homework.asked]
    assert len(set(asked)) == len(asked)
    assert [level for level, _ in asked] == sorted((level for level, _ in asked), key=LEVELS.index)


def test_the_exercises_come_position_by_position_each_once() -> None:
    exercises = homework_exercises(LESSON)
    fens = [block.place.fen for block in LESSON.blocks if block.place]
    assert [one.fen for one in exercises] == sorted([one.fen for one in exercises], key=fens.index)
    assert {one.fen for one in exercises} == set(fens)
    questions = [(one.kind, one.fen, one.asked) for one in exercises]
    assert len(set(questions)) == len(questions)


def test_a_position_that_comes_twice_is_asked_about_once() -> None:
    twice = read_lesson(EXAMPLES["en"] + EXAMPLES["en"])
    assert len(homework_exercises(twice)) == len(homework_exercises(LESSON))
