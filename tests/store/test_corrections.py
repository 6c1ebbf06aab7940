"""Corrections in the store: of a place and of a move, replaced, withdrawn, exported."""

from pathlib import Path

import pytest
from sqlalchemy import select

from fastness.errors import MoveError
from fastness.store import Store, tables
from fastness.store.corrections import correct, of_game, withdraw
from fastness.store.transfer import bring_back, export
from tests.store.material import brought_in, some_games
from tests.store.places import Places


def with_games(places: Places, path: Path) -> Store:
    store = places.open()
    (path / "games.pgn").write_text(some_games(1), encoding="utf-8")
    brought_in(store, path / "games.pgn")
    return store


def told(store: Store) -> list[tuple[str, str | None, str | None, str]]:
    with store.reading() as session:
        game = session.scalars(select(tables.Game)).one()
        return [(one.action, one.outcome, one.move, one.reason) for one in of_game(session, game)]


def test_what_is_said_last_of_a_move_stands_and_comments_stay(
    places: Places, tmp_path: Path
) -> None:
    store = with_games(places, tmp_path)
    with store.writing() as session:
        game = session.scalars(select(tables.Game)).one()
        correct(session, game, 5, "comment", "looked at", move="Bc4")
        correct(session, game, 5, "strike", "too hard", move="Bc4")
        correct(session, game, 5, "overrule", "it does", outcome="holds", move="Bc4")
        correct(session, game, 5, "strike", "of the whole place")
        with pytest.raises(MoveError, match="Qd8"):
            correct(session, game, 5, "strike", "no such move", move="Qd8")
    kept = [
        ("comment", None, "f1c4", "looked at"),
        ("overrule", "holds", "f1c4", "it does"),
        ("strike", None, None, "of the whole place"),
    ]
    assert told(store) == kept
    export(store, tmp_path / "all.zip")
    other = places.open("other")
    for _ in range(2):
        bring_back(other, tmp_path / "all.zip")
        assert told(other) == kept
    with store.writing() as session:
        game = session.scalars(select(tables.Game)).one()
        assert withdraw(session, game, 5, move="Bc4") == 2
        assert withdraw(session, game, 5, move="Bc4") == 0
    assert told(store) == kept[2:]
