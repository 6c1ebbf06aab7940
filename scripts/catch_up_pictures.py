"""Writes the pictures of docs/catch-up.md: the questions and the answers of a sheet.

Usage: python -m scripts.catch_up_pictures

Run it after the look or the words of a sheet were changed.
"""

from __future__ import annotations

import datetime
from pathlib import Path

from fastness.classroom.catch_up import catch_up
from fastness.classroom.preparing import given, read_move
from fastness.classroom.taught import Taught
from fastness.publish.pdf import pictures

PICTURES = Path(__file__).parents[1] / "docs" / "pictures"
SHOWN = (
    ("r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12", ("Re8", "Nc6", "Qe7")),
    ("rnbqkbnr/ppp2ppp/4p3/3p2B1/3P4/5N2/PPP1PPPP/RN1QKB1R b KQkq - 1 3", ("Nc6", "Be7", "Qxg5")),
)
DOTS_AN_INCH = 72


def main() -> None:
    taught = [
        Taught(given(fen), tuple(read_move(fen, move) for move in moves), by_class=True)
        for fen, moves in SHOWN
    ]
    sheet = catch_up("Guard it, or move it?", datetime.date(2026, 9, 7), taught)
    for name, page in zip(("questions", "answers"), pictures(sheet, DOTS_AN_INCH), strict=True):
        (PICTURES / f"catch-up-{name}.png").write_bytes(page)


if __name__ == "__main__":
    main()
