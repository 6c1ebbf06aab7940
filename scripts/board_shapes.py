"""Writes the board, the silhouettes and the marks as print has them, for the pages to draw alike.

python -m scripts.board_shapes
"""

import json
from dataclasses import asdict
from pathlib import Path
from typing import Any

from fastness.publish import diagram, marks, silhouettes

PLACE = Path(__file__).parents[1] / "frontend" / "src" / "board" / "shapes.json"


def shapes() -> dict[str, Any]:
    """Sizes, colours and paths; a square is 60 wide."""
    board = ("SQUARE", "LEFT", "TOP", "WIDTH", "HEIGHT", "STROKES")
    marked = (
        "RING", "RING_DASH", "ATTACK_DASH", "LINE", "ATTACK_RIM", "GUARD_RIM", "GUARD_OUTER",
        "GUARD_INNER", "CORNER", "EDGE",
    )  # fmt: skip
    return {
        "board": {name: getattr(diagram, name) for name in board},
        "colours": {name: getattr(silhouettes, name) for name in ("INK", "PAPER", "BRICK")},
        "marks": {name: getattr(marks, name) for name in marked},
        "units": {name: asdict(shape) for name, shape in silhouettes.SILHOUETTES.items()},
    }


def shapes_text() -> str:
    """The same as text."""
    return json.dumps(shapes(), indent=2) + "\n"


if __name__ == "__main__":
    PLACE.write_text(shapes_text(), encoding="utf-8")
