"""Sheets of exercises: what stands on them, on which paper, and who reads it how."""

import re
from dataclasses import replace

import pytest

from fastness.errors import OptionError
from fastness.exercises.exercise import KINDS, LEVELS, Exercise, Kind, Source
from fastness.exercises.overruling import Overruling
from fastness.exercises.words import question
from fastness.publish import html, pdf, pictures, position_in_words, text
from fastness.publish.answers import answer_in_words
from fastness.publish.diagram import SMALL_LETTERS, WIDTH
from fastness.publish.document import (
    Beside,
    Diagram,
    Diagrams,
    Document,
    Grid,
    NewPage,
    ToFill,
)
from fastness.publish.pdf import as_data
from fastness.publish.sheet import EMPTY_BOARD, Layout, Sheet, SheetExercise, sheets
from fastness.publish.silhouettes import BRICK, INK
from tests.exercises.asked import BISHOP, KNIGHT, QUIET, TACTICS, asked, safe_move
from tests.publish.test_document import inside, shown, without_marks

ALL = tuple(
    SheetExercise(asked(kind, fen), level)
    for level, fen in zip(LEVELS, (BISHOP, KNIGHT, KNIGHT), strict=True)
    for kind in KINDS
)[:-1]


def diagrams(document: Document) -> list[Diagram | None]:
    return [
        one for block in document.blocks if isinstance(block, Diagrams) for one in block.diagrams
    ]


def one_sheet(*exercises: Exercise, layout: Layout | None = None) -> Sheet:
    (made,) = sheets("Pins", [SheetExercise(one, "club") for one in exercises], layout or Layout())
    return made


def test_a_sheet_for_each_level() -> None:
    made = sheets("Pins", ALL, Layout())
    assert [one.questions.title for one in made] == [
        "Pins (plain)",
        "Pins (club)",
        "Pins (stretch)",
    ]
    assert [len(one.rows) for one in made] == [5, 5, 4]
    assert [one.label for one in diagrams(made[2].questions) if one] == ["1.", "2.", "3.", "4."]
    assert any(block == ToFill(("Name", "Date")) for block in made[0].questions.blocks)


def test_the_marking_grid_follows_the_answers() -> None:
    """No page of its own for a few lines."""
    blocks = sheets("Pins", ALL, Layout())[0].answers.blocks
    assert any(isinstance(block, Grid) for block in blocks)
    assert not any(isinstance(block, NewPage) for block in blocks)


def test_three_levels_side_by_side_leave_a_place_empty() -> None:
    (made,) = sheets("Pins", ALL, Layout(side_by_side=True))
    placed = diagrams(made.questions)
    assert [one and one.label for one in placed[:4]] == [
        "Plain 1.",
        "Club 1.",
        "Stretch 1.",
        "Plain 2.",
    ]
    assert placed[-1] is None
    assert [row.label for row in made.rows][:6] == [
        *(f"Plain {at}" for at in range(1, 6)),
        "Club 1",
    ]


def test_large_print_has_a_sheet_for_each_level() -> None:
    assert len(sheets("Pins", ALL, Layout(side_by_side=True, large=True))) == 3


def test_every_question_says_whose_move_it_is() -> None:
    for made in sheets("Pins", ALL, Layout()):
        for one in diagrams(made.questions):
            assert one is not None
            assert one.caption.startswith("Black to move")


def test_questions_give_no_answer_away() -> None:
    (made,) = sheets("Pins", ALL, Layout(side_by_side=True))
    told = shown(html(made.questions))
    assert "Right" not in told
    assert not any(one and one.ringed for one in diagrams(made.questions))


@pytest.mark.parametrize("kind", KINDS)
def test_an_answer_has_the_right_ones_and_a_line(kind: Kind) -> None:
    told = answer_in_words(asked(kind))
    assert told[0].startswith("Right: ")
    assert re.search(r"\b1[01]\.", " ".join(told)), "a move of a line"


def test_natural_wrong_moves_are_refuted_in_words() -> None:
    told = answer_in_words(asked("every move"))
    wrong = [one for one in told if one.startswith("Not ")]
    assert 1 <= len(wrong) <= 4
    assert "Not h5: guarding does not help, since the pawn on h3 is worth less than the knight" in (
        " ".join(wrong)
    )


def test_answers_where_nothing_is_unsafe() -> None:
    assert answer_in_words(asked("which unit", QUIET))[0] == (
        "Right: none. Nothing of Black's can be won."
    )
    told = " ".join(answer_in_words(asked("which unit", TACTICS)))
    assert "Your bishop on a3 is safe after all. The try: 2.Rxa3 Rd1#." in told
    assert answer_in_words(safe_move())[0].startswith("Right: yes. Black loses nothing after 10...")


def test_who_struck_what_is_printed() -> None:
    exercise = asked("every move")
    struck = Overruling("The teacher", "too clever", exercise.accepted[0])
    made = sheets("Pins", [SheetExercise(exercise, "club", (struck,))], Layout())[0]
    (answer,) = [block for block in made.answers.blocks if isinstance(block, Beside)]
    assert answer.texts[-1].startswith("The teacher struck ")
    assert answer.texts[-1].endswith(": too clever")
    boxes = {box.answer: box.counts for box in made.rows[0].boxes}
    assert boxes[exercise.accepted[0]] == "wrong"
    assert answer.texts[1] != answer_in_words(exercise)[0]


def test_not_judged_moves_are_told_and_have_a_column() -> None:
    exercise = replace(asked("every move"), not_judged=("a7a6",))
    made = one_sheet(exercise)
    (grid,) = [block for block in made.answers.blocks if isinstance(block, Grid)]
    assert grid.header[-1] == "Does not count"
    assert grid.rows[0][-1].endswith("a6")
    assert any("Does not count either way: a6." in one for one in answer_in_words(exercise))


def test_a_twin_is_told_beside_its_position() -> None:
    first = asked("every move", KNIGHT)
    second = asked("every move", BISHOP)
    twin = replace(second, proved=replace(second.proved, source=Source("twin", of=KNIGHT)))
    drawn = diagrams(one_sheet(first, twin).questions)
    assert drawn[1] is not None
    assert drawn[1].label == "2."
    assert drawn[1].caption == f"{question(twin)} One thing is different from 1."


def test_games_are_named_only_where_asked_for() -> None:
    exercise = asked("every move")
    assert "Millrace" not in text(one_sheet(exercise).answers)
    assert "From Millrace Chess Club, game 4, move 10." in without_marks(
        text(one_sheet(exercise, layout=Layout(sources=True)).answers)
    )


def test_blank_boards_to_fill() -> None:
    made = one_sheet(asked("every move"), layout=Layout(blanks=2))
    assert [one and one.fen for one in diagrams(made.questions)] == [
        KNIGHT,
        EMPTY_BOARD,
        EMPTY_BOARD,
    ]
    assert text(made.questions).count("An empty board.") == 2
    assert pdf(made.questions).startswith(b"%PDF-")


def test_the_side_to_move_below() -> None:
    assert diagrams(one_sheet(asked("every move")).questions)[0].flip is False  # type: ignore[union-attr]
    made = one_sheet(asked("every move"), layout=Layout(own_side_below=True))
    assert diagrams(made.questions)[0].flip is True  # type: ignore[union-attr]


def test_nothing_to_print_and_too_many_across_are_told() -> None:
    with pytest.raises(OptionError, match='no exercise for the sheet "Pins"'):
        sheets("Pins", [], Layout())
    with pytest.raises(OptionError, match="4 boards do not fit across"):
        sheets("Pins", ALL, Layout(across=4))


def test_the_pdf_reads_every_position_out() -> None:
    (made,) = sheets("Pins", ALL, Layout(side_by_side=True, blanks=1))
    for document in (made.questions, made.answers):
        laid_out = inside(pdf(document))
        assert b"pdfuaid:part" in laid_out
        told = re.findall(rb"/S/Figure/P \d+ 0 R/Alt\((.*?)\)", laid_out, re.DOTALL)
        for fen in (BISHOP, KNIGHT):
            assert any(one.startswith(position_in_words(fen).encode()) for one in told)


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
@pytest.mark.parametrize("large", [False, True])
@pytest.mark.parametrize("side_by_side", [False, True])
def test_every_paper_can_be_printed(paper: str, large: bool, side_by_side: bool) -> None:
    layout = Layout(side_by_side, across=3, paper=paper, large=large)  # type: ignore[arg-type]
    made = sheets("Pins", ALL[:7], layout)
    for one in made:
        for document in (one.questions, one.answers):
            assert all(page.startswith(b"\x89PNG") for page in pictures(document, 30))
            page = shown(html(document))
            assert document.title in page
            assert document.title in without_marks(text(document))


def test_sheets_are_black_on_white() -> None:
    (made,) = sheets("Pins", ALL, Layout(side_by_side=True))
    for document in (made.questions, made.answers):
        laid_out = str(as_data(document))
        assert INK not in laid_out
        assert BRICK not in laid_out
        assert '<body class="black">' in html(document)
        assert f'[stroke="{BRICK}"]' in html(document)


def test_coordinates_are_seven_points_or_more() -> None:
    # The narrowest board: three across on A4, 210 mm less margins of 22 mm and gaps of 8 mm.
    board = (210 - 2 * 22 - 2 * 8) / 3 / 25.4 * 72
    assert SMALL_LETTERS / WIDTH * board >= 7
    (made,) = sheets("Pins", ALL, Layout(side_by_side=True))
    drawn = as_data(made.questions)["blocks"][1]["diagrams"][0]["svg"]
    assert f'font-size="{SMALL_LETTERS:g}"' in drawn
    # Two across, and the boards of the answers, which are 52 mm wide.
    two = (210 - 2 * 22 - 8) / 2 / 25.4 * 72
    assert 18 / WIDTH * two >= 7
    assert SMALL_LETTERS / WIDTH * 52 / 25.4 * 72 >= 7


def test_a_twin_is_compared_with_its_own_level_only() -> None:
    twin = asked("every move", BISHOP)
    twin = replace(twin, proved=replace(twin.proved, source=Source("twin", of=KNIGHT)))
    ones = [SheetExercise(asked("every move"), "club"), SheetExercise(twin, "plain")]
    for made in sheets("Pins", ones, Layout(side_by_side=True)):
        assert "One thing is different" not in text(made.questions)
