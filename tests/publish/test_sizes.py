"""What stands small on the page or the screen can still be read."""

import re

from fastness.publish.diagram import WIDTH
from fastness.publish.document import Diagram, Diagrams, Document
from fastness.publish.pdf import as_data
from fastness.publish.plots import held_by_period
from tests.publish.test_document import FEN

POINT = 25.4 / 72
"""In millimetres."""
ACROSS = {1: 72.0, 2: (166 - 8) / 2, 3: (166 - 16) / 3}
"""The width of a board on A4 in millimetres, by how many stand side by side."""
TELEPHONE = 360 - 32
"""Pixels between the margins of a narrow telephone."""


def test_coordinates_are_seven_points_or_more() -> None:
    for across, width in ACROSS.items():
        boards = tuple(Diagram(FEN, "") for _ in range(across))
        data = as_data(Document("A title", (Diagrams(boards, across),)))
        for drawn in data["blocks"][0]["diagrams"]:
            size = re.search(r'font-size="([\d.]+)"', drawn["svg"])
            assert size
            assert float(size[1]) * width / WIDTH / POINT >= 6.95, across


def test_labels_of_a_plot_are_eleven_pixels_or_more_on_a_telephone() -> None:
    periods = [(f"2026-0{number}-01", number, 9) for number in range(1, 5)]
    svg = held_by_period(periods).svg
    width = re.search(r'viewBox="0 0 ([\d.]+) ', svg)
    assert width
    sizes = [float(size) for size in re.findall(r'font-size="([\d.]+)px"', svg)]
    assert len(sizes) > 8
    assert min(sizes) * TELEPHONE / float(width[1]) >= 11
    for name, *_ in periods:
        assert f">{name}<" in svg
