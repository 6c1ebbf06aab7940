"""The description of the API that the front end is built from."""

from scripts.openapi import PLACE, described


def test_the_description_is_that_of_the_routes() -> None:
    assert PLACE.read_text("utf-8") == described(), "say: python -m scripts.openapi"
