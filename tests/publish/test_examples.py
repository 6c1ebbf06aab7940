"""docs/examples.md and its pictures are what the script makes now."""

from pathlib import Path

import pytest

from scripts.doc_pictures import DOCS, EXAMPLES, documents

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def made() -> dict[Path, str]:
    return documents()


def test_the_documents_are_what_the_script_makes(made: dict[Path, str]) -> None:
    for path, text in made.items():
        assert path.read_text(encoding="utf-8") == text, f"{path}: run scripts/doc_pictures.py"


def test_no_other_picture_stands_there(made: dict[Path, str]) -> None:
    assert set((DOCS / "pictures").glob("*.svg")) == {
        path for path in made if path.suffix == ".svg"
    }


def test_the_positions_are_of_historic_games() -> None:
    table = ROOT / "tests" / "data" / "historic-positions.fen"
    assert {one.fen for one in EXAMPLES} <= set(table.read_text(encoding="ascii").splitlines())
