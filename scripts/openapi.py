"""Writes the description of the API that the front end's client is made from.

python -m scripts.openapi
"""

import json
from pathlib import Path
from typing import Any

from fastness.web.application import create_app

PLACE = Path(__file__).parents[1] / "frontend" / "openapi.json"


def description() -> dict[str, Any]:
    """The API as OpenAPI."""
    return create_app().openapi()


def described() -> str:
    """The same as text, laid out so that a change is read line by line."""
    return json.dumps(description(), indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    PLACE.parent.mkdir(exist_ok=True)
    PLACE.write_text(described(), encoding="utf-8")
    print(PLACE.relative_to(Path.cwd()) if PLACE.is_relative_to(Path.cwd()) else PLACE)
