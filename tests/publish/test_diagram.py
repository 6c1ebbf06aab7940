"""The SVG diagram: every unit once where it stands, the marks of the survey, and the words."""

import re
from xml.etree import ElementTree

import chess
import pytest

from fastness.core.shapes import Survey
from fastness.language import language
from fastness.publish import diagram, svg_diagram
from fastness.publish.silhouettes import BRICK, INK, PAPER, SILHOUETTES, unit_drawn
from fastness.workflows.surveying import survey_position

NAMESPACE = "{http://www.w3.org/2000/svg}"
START = chess.STARTING_FEN
PIN = "rnbqkbnr/ppp2ppp/4p3/3p2B1/3P4/5N2/PPP1PPPP/RN1QKB1R b KQkq - 1 3"
CHECK = "rnb1kbnr/pppp1ppp/8/4p3/4PP1q/8/PPPP2PP/RNBQKBNR w KQkq - 1 3"
TAKE = "6k1/5ppp/8/3n4/8/8/5PPP/3R2K1 w - - 0 1"
MATED = "rnb1kbnr/pppp1ppp/8/4p3/6Pq/5P2/PPPPP2P/RNBQKBNR w KQkq - 1 3"
ALL = [START, PIN, CHECK, TAKE, MATED]
OUTLINES = {shape.outline: kind for kind, shape in SILHOUETTES.items()}


def survey(fen: str) -> Survey:
    return survey_position(fen, reach=1)


def drawn(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def square_at(x: float, y: float, *, flip: bool = False) -> str:
    """The square under a point of the picture, by measure and not by the code that drew it."""
    column, row = int((x - 34) // 60), int((y - 10) // 60)
    assert 0 <= column < 8
    assert 0 <= row < 8
    return f"{'hgfedcba'[column]}{row + 1}" if flip else f"{'abcdefgh'[column]}{8 - row}"


def units_in(svg: str, *, flip: bool = False) -> list[tuple[str, str, bool]]:
    found = []
    for group in drawn(svg).iter(f"{NAMESPACE}g"):
        place = re.fullmatch(r"translate\((\S+) (\S+)\)", group.get("transform", ""))
        if place:
            body = group.findall(f"{NAMESPACE}path")[1]
            square = square_at(float(place[1]), float(place[2]), flip=flip)
            assert body.get("stroke") == INK
            assert body.get("fill") in (PAPER, INK)
            found.append((square, OUTLINES[body.get("d", "")], body.get("fill") == PAPER))
    return sorted(found)


def units_of(fen: str) -> list[tuple[str, str, bool]]:
    return sorted(
        (chess.square_name(square), chess.piece_name(piece.piece_type), piece.color)
        for square, piece in chess.Board(fen).piece_map().items()
    )


@pytest.mark.parametrize("flip", [False, True])
@pytest.mark.parametrize("fen", ALL)
def test_every_unit_is_drawn_once_on_its_square(fen: str, flip: bool) -> None:
    assert units_in(svg_diagram(survey(fen), flip=flip), flip=flip) == units_of(fen)


@pytest.mark.parametrize("fen", ALL)
def test_title_and_description_tell_every_unit(fen: str) -> None:
    root = drawn(svg_diagram(survey(fen)))
    title, told = root.find(f"{NAMESPACE}title"), root.find(f"{NAMESPACE}desc")
    assert title is not None
    assert told is not None
    side = "White" if chess.Board(fen).turn else "Black"
    assert (title.text or "").startswith(f"{side} to move")
    for square, kind, _ in units_of(fen):
        assert f"{kind} {square}" in (told.text or "")


def test_the_description_says_what_is_not_safe() -> None:
    svg = svg_diagram(survey(PIN))
    assert "The queen on d8 is not safe" in svg
    assert "Die Dame auf d8" in svg_diagram(survey(PIN), language=language("de"))


def rings(svg: str, *, flip: bool = False) -> list[str]:
    return sorted(
        square_at(float(one.get("cx", "")), float(one.get("cy", "")), flip=flip)
        for one in drawn(svg).iter(f"{NAMESPACE}circle")
    )


def lines(svg: str, colour: str, width: str) -> list[tuple[str, str]]:
    """From and to of the lines in a colour and a width; they end on the rim of a ring."""
    found = []
    for one in drawn(svg).iter(f"{NAMESPACE}path"):
        ends = re.fullmatch(r"M(\S+) (\S+)L(\S+) (\S+)", one.get("d", ""))
        if ends and (one.get("stroke"), one.get("stroke-width")) == (colour, width):
            x, y, to_x, to_y = map(float, ends.groups())
            found.append((square_at(x, y), square_at(to_x, to_y)))
    return sorted(found)


@pytest.mark.parametrize(
    ("fen", "ringed", "attacks", "guards"),
    [
        (START, [], [], []),
        # The pawn on d5 and the knight on g8 are guarded and not in danger: no line leads there.
        (PIN, ["d8"], [("g5", "d8")], [("e8", "d8")]),
        (CHECK, ["e1"], [("h4", "e1")], []),
        (MATED, ["e1"], [("h4", "e1")], []),
    ],
)
def test_rings_and_lines(
    fen: str, ringed: list[str], attacks: list[tuple[str, str]], guards: list[tuple[str, str]]
) -> None:
    svg = svg_diagram(survey(fen))
    assert rings(svg) == ringed
    assert lines(svg, BRICK, "3.2") == attacks
    assert lines(svg, INK, "7") == guards
    assert rings(svg_diagram(survey(fen), flip=True), flip=True) == ringed


def corner_marks(svg: str) -> list[str]:
    paths = [one.get("d", "") for one in drawn(svg).iter(f"{NAMESPACE}path")]
    return [d for d in paths if re.fullmatch(r"(M\S+ \S+H\S+V[^M]+){4}", d)]


def test_corners_stand_around_what_can_be_taken() -> None:
    assert corner_marks(svg_diagram(survey(START))) == []
    (d,) = corner_marks(svg_diagram(survey(TAKE)))
    points = re.findall(r"M(\S+) (\S+?)H(\S+?)V([^M]+)", d)
    # Each corner of the four has its elbow inside the square of the knight.
    assert {square_at(float(x), float(y)) for _, y, x, _ in points} == {"d5"}
    assert len({(x, y) for _, y, x, _ in points}) == 4


def test_white_and_black_differ() -> None:
    assert len(OUTLINES) == 6
    for kind in SILHOUETTES:
        white, black = unit_drawn(kind, "white", 0, 0), unit_drawn(kind, "black", 0, 0)
        # The body, then the lines in it: paper with ink, or ink with paper.
        assert re.findall(r'fill="(#\w+)"', white)[1:] == [PAPER]
        assert re.findall(r'fill="(#\w+)"', black)[1:] == [INK]
        assert re.findall(r'stroke="(#\w+)"', white)[1:] == [INK, INK]
        assert re.findall(r'stroke="(#\w+)"', black)[1:] == [INK, PAPER]


def test_a_flip_turns_the_coordinates() -> None:
    def coordinates(svg: str) -> list[str]:
        texts = sorted(
            (float(one.get("x", "")), -float(one.get("y", "")), one.text or "")
            for one in drawn(svg).iter(f"{NAMESPACE}text")
        )
        return [text for _, _, text in texts]

    assert coordinates(svg_diagram(survey(START))) == list("12345678abcdefgh")
    assert coordinates(svg_diagram(survey(START), flip=True)) == list("87654321hgfedcba")


def test_the_same_survey_gives_the_same_picture() -> None:
    assert svg_diagram(survey(PIN)) == svg_diagram(survey(PIN))


def test_words_are_escaped(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(diagram, "side_name", lambda *_: "<b>&")
    root = drawn(svg_diagram(survey(START)))
    told = root.find(f"{NAMESPACE}desc")
    assert told is not None
    assert (told.text or "").startswith("<b>&: king e1")
