"""The pages draw the board as print does."""

from scripts.board_shapes import PLACE, shapes_text


def test_the_shapes_of_the_pages_are_those_of_print() -> None:
    assert PLACE.read_text(encoding="utf-8") == shapes_text()
