"""The document of sweeps names every column."""

import re

import pytest

from fastness.sweep.columns import COLUMNS
from tests.sweep.material import ROOT


@pytest.mark.parametrize("table", COLUMNS)
def test_the_document_names_every_column(table: str) -> None:
    text = (ROOT / "docs" / "sweep.md").read_text("utf-8")
    row = next(line for line in text.splitlines() if line.startswith(f"| `{table}` |"))
    named = set(re.findall(r"`(\w+)`", row)) - {table, "white_", "black_"}
    columns = {re.sub(r"^(white|black)_", "", name) for name in COLUMNS[table]}
    assert named == columns
