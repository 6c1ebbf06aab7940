"""The names against positions labelled from the definitions by people who did not write the namer.

For each name: precision, the share of units so named that are so labelled; recall, the share of
units so labelled that are so named.
"""

from collections.abc import Callable

import pytest

from tests.checks.mechanisms import FOLDER, NAMES, Row, rows, squares_named

LABELS = ("labels-a.csv", "labels-b.csv")
LEAST = 0.9


def labelled(name: str) -> list[Row]:
    missing = [file for file in LABELS if not (FOLDER / file).exists()]
    assert not missing, f"labels are missing in {FOLDER}: {', '.join(missing)}"
    return [row for file in LABELS for row in rows(file) if row["mechanism"] == name]


@pytest.mark.parametrize("name", NAMES)
def test_precision_and_recall(name: str, record_property: Callable[[str, object], None]) -> None:
    found = [(row["applies"] == "yes", squares_named(row), row) for row in labelled(name)]
    right = [(squares, row) for applies, squares, row in found if applies and squares is not None]
    wrong = [row for applies, squares, row in found if not applies and squares is not None]
    missed = [row for applies, squares, row in found if applies and squares is None]
    assert right, f"no unit is rightly named {name}"
    precision = len(right) / (len(right) + len(wrong))
    recall = len(right) / (len(right) + len(missed))
    same = sum(squares == sorted(row["squares"].split()) for squares, row in right)
    record_property(
        "report",
        f"{name}: precision {precision:.2f}, recall {recall:.2f} on {len(found)} labels,"
        f" squares alike in {same} of {len(right)}",
    )
    told = [f"{row['fen']} {row['unit']}: {row['why']}" for row in wrong + missed]
    assert precision >= LEAST, told
    assert recall >= LEAST, told
