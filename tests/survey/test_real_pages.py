import csv
import re
from pathlib import Path

import chess
import pytest

from fastness.survey import page
from fastness.workflows.surveying import survey_position

TABLE = Path(__file__).parents[1] / "data" / "survey-pages.csv"
with TABLE.open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["reason"])
def test_the_page_says(row: dict[str, str]) -> None:
    fen = chess.STARTING_FEN if row["fen"] == "start" else row["fen"]
    survey = survey_position(fen, row["moves"])
    text = re.sub(r"\s+", " ", page(survey, moves_given=bool(row["moves"])))
    for words in filter(None, row["says"].split("|")):
        assert words in text
    for words in filter(None, row["never"].split("|")):
        # A way stands at the head of its group; as a note to another way it may appear.
        assert not re.search(rf"(?<![\w(]){re.escape(words)}", text), words
