import pytest

from fastness.survey.lines import WIDTH, line_in_words, numbered, wrapped, wrapped_items
from tests.survey.samples import CENTRE, PIN, START

CASTLES = "r3k2r/8/8/8/8/8/8/R3K2R w KQkq - 0 9"
PROMOTES = "8/P6k/8/8/8/8/8/K7 w - - 0 40"
PASSANT = "4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 7"


@pytest.mark.parametrize(
    ("fen", "line", "told"),
    [
        (PIN, ["d8g5", "f3g5"], "3...Qxg5 4.Nxg5"),
        (PIN, ["0000", "g5d8", "e8d8"], "If Black passes: 4.Bxd8 Kxd8"),
        (CENTRE, ["0000", "d5e4"], "If White passes: 2...dxe4"),
        (CENTRE, ["f1b5", "c7c6"], "2.Bb5+ c6"),
        (START, ["e2e4", "0000", "e4e5"], "1.e4 (passes) 2.e5"),
        (CASTLES, ["e1g1", "e8c8"], "9.O-O O-O-O"),
        (PROMOTES, ["a7a8q"], "40.a8=Q"),
        (PASSANT, ["e5d6"], "7.exd6"),
        (PIN, [], ""),
    ],
)
def test_a_line_is_told_in_san(fen: str, line: list[str], told: str) -> None:
    assert line_in_words(fen, line) == told


def test_a_line_that_does_not_replay_is_refused() -> None:
    with pytest.raises(ValueError, match="d8d5 is not legal"):
        numbered(PIN, ["d8d5"])


def test_mate_is_told() -> None:
    assert numbered(START, ["f2f3", "e7e5", "g2g4", "d8h4"]) == "1.f3 e5 2.g4 Qh4#"


def test_lists_break_between_items_only() -> None:
    items = [f"Qxe{rank} (wins {rank} pawns' worth)" for rank in range(2, 9)]
    text = wrapped_items("capture", items)
    assert max(map(len, text.splitlines())) <= WIDTH
    for item in items:
        assert item in text


def test_an_item_longer_than_a_row_is_broken_between_words() -> None:
    long = "Qxf4+ (moves away, guards and counterattacks as well; wins a pawn's worth; not firm)"
    rows = wrapped_items("capture", [long, "Kf1"]).splitlines()
    assert max(map(len, rows)) <= WIDTH
    assert " ".join(" ".join(rows).split()) == f"capture {long}, Kf1"
    assert rows[1].startswith(" " * 19)


def test_later_rows_hang() -> None:
    assert wrapped("word " * 30, indent=2, hang=3).splitlines()[1].startswith("     word")
