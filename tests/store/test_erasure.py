"""Erasing a student: nothing of the name stays, and nothing of anybody else's goes."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
import sqlalchemy as sa

from fastness.errors import StoreError, StudentError
from fastness.store import Store, clearing, erasure, opening
from fastness.store.corrections import correct
from fastness.store.erasure import NOBODY, erase_student
from fastness.store.naming import Naming
from fastness.store.opening import _at, bring_up_to_date
from fastness.store.safekeeping import check, count
from fastness.store.students import add_alias, add_student, student_named
from fastness.store.tables import Correction, Game
from fastness.store.transfer import bring_back, export
from fastness.workflows.recording import record_of
from tests.store.material import ADA, IVY, MOVES, TOM, brought_in, pgn, some_games
from tests.store.places import IN_A_FILE, Places

ELISE = "Groß-Mühlrad, Élise"


def put(store: Store, folder: Path, *texts: str, add: bool = True) -> None:
    file = folder / "games.pgn"
    for text in texts:
        file.write_text(text, encoding="utf-8")
        brought_in(store, file, add=add)


def first_game(store: Store) -> Game:
    with store.reading() as session:
        return session.scalars(sa.select(Game).order_by(Game.id)).one()


@pytest.mark.parametrize("name", [IVY, ELISE])
def test_no_tag_and_no_reason_keeps_the_name(places: Places, tmp_path: Path, name: str) -> None:
    store = places.open()
    family, given = name.split(", ")
    more = {
        "BlackFideId": "9900123",
        "BlackElo": "1247",
        "BlackTeam": "Weir School 7b",
        "BlackTitle": "Zz",
        "Annotator": f"{given} {family.upper()}",
        "Site": f"at {given}{family}'s house",
        "WhiteElo": "1302",
    }
    tags = "".join(f'[{key} "{value}"]\n' for key, value in more.items())
    game = pgn(ADA, name, MOVES[1], event=f"{family.casefold()}, {given} Cup")
    said = f"1. d4 {{{given}'s own (she knows it)}} d5 ({{as {family} says}} 1... e6) 2. Nf3"
    game = game.replace("1. d4 d5 2. Nf3", said)
    put(store, tmp_path, game.replace("[Result", f"{tags}[Result"))
    with store.writing() as session:
        stored = session.scalars(sa.select(Game)).one()
        correct(session, stored, 3, "comment", f"{given} pinned it, said Ada")
        correct(session, stored, 4, "comment", "the opponent's own place")
    erase_student(store, f"{given} {family}")
    store.close()
    assert places.left(family, given, "9900123", "1247", "Weir School", "own place") == []
    store = places.open()
    assert check(store) == []
    tags_left = first_game(store).tags
    beside = first_game(store).beside
    assert beside[1].endswith("'s own (she knows it)}")
    assert beside[2].endswith(" says} 1... e6)")
    assert (tags_left["White"], tags_left["WhiteElo"]) == (ADA, "1302")
    assert tags_left["Black"].startswith(NOBODY)
    assert not [key for key in tags_left if key.startswith("Black") and key != "Black"]
    with store.reading() as session:
        (correction,) = session.scalars(sa.select(Correction))
        assert correction.reason.endswith("pinned it, said Ada")


def test_the_name_goes_from_games_of_others_too(places: Places, tmp_path: Path) -> None:
    store = places.open()
    annotated = pgn(ADA, TOM, MOVES[1]).replace("[Result", f'[Annotator "{IVY}"]\n[Result')
    put(store, tmp_path, some_games(3), annotated)
    erase_student(store, IVY)
    store.close()
    assert places.left("Flourdust") == []


def test_a_short_alias_takes_nothing_from_others(places: Places, tmp_path: Path) -> None:
    store = places.open()
    put(store, tmp_path, pgn(ADA, IVY, MOVES[1], event="Edgemill medal, after Ed's evening"))
    said = "Millpondle needed no more time; see the lesson"
    with store.writing() as session:
        stored = session.scalars(sa.select(Game)).one()
        correct(session, stored, 3, "strike", said)
        add_alias(session, student_named(session, IVY), "Ed")
    erase_student(store, IVY)
    with store.reading() as session:
        assert [one.reason for one in session.scalars(sa.select(Correction))] == [said]
    event = first_game(store).tags["Event"]
    assert event.startswith("Edgemill medal, after A former student ")


@pytest.mark.parametrize(
    ("text", "parts", "changed"),
    [
        ("Ivy Flourdust, Flourdust Ivy, ivyflourdust", False, "X, X, X"),
        ("FLOURDUST, IVY; Ivy_Flourdust", False, "X; X"),
        ("Flourdust alone, Ivy alone", False, "Flourdust alone, Ivy alone"),
        ("Flourdust alone, Ivy alone", True, "X alone, Ivy alone"),
        ("Flourdusty ivy, Flourdustish", True, "Flourdusty ivy, Flourdustish"),
        ("Ivy Millpondle and Ed Ivy", True, "Ivy Millpondle and X Ivy"),
        ("edited, Ed.", False, "edited, X."),
    ],
)
def test_a_name_is_found_as_whole_words(text: str, parts: bool, changed: str) -> None:
    naming = Naming([IVY, "Ed"], ["Millpondle, Ivy"])
    assert naming.without(text, "X", parts=parts) == changed


@IN_A_FILE
def test_a_reader_in_between_is_told_and_the_same_command_finishes(
    places: Places, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(opening, "WAIT", 0.2)
    store = places.open()
    put(store, tmp_path, some_games(6))
    with closing(sqlite3.connect(tmp_path / "store.sqlite")) as reader:
        reader.execute("BEGIN")
        reader.execute("SELECT count(*) FROM game").fetchone()
        with pytest.raises(StoreError, match=r"-wal.*Close the other program.*same command again"):
            erase_student(store, IVY)
        assert places.left("Flourdust")
    erase_student(store, IVY)
    assert places.left("Flourdust") == []
    assert check(store) == []


@IN_A_FILE
def test_a_writer_in_between_is_told_and_the_same_command_finishes(
    places: Places, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(opening, "WAIT", 0.2)
    store = places.open()
    put(store, tmp_path, some_games(6))
    cleared = clearing.clear

    def held(cleared_store: Store) -> tuple[str, ...]:
        with closing(sqlite3.connect(tmp_path / "store.sqlite", isolation_level=None)) as writer:
            writer.execute("BEGIN IMMEDIATE")
            return cleared(cleared_store)

    monkeypatch.setattr(erasure, "clear", held)
    with pytest.raises(StoreError, match="same command again"):
        erase_student(store, IVY)
    monkeypatch.setattr(erasure, "clear", cleared)
    erase_student(store, "ivy flourdust")
    assert places.left("Flourdust") == []
    with pytest.raises(StudentError, match="there is no student"):
        erase_student(store, "Stranger, Joe")


@IN_A_FILE
def test_copies_beside_the_store_are_removed_and_named(places: Places, tmp_path: Path) -> None:
    old = _at(places.at())
    bring_up_to_date(old, "0001")
    with old.engine.execution_options(writes=True).begin() as connection:
        connection.exec_driver_sql("INSERT INTO student (id, name) VALUES (1, 'Flourdust, Ivy')")
        connection.exec_driver_sql(
            "INSERT INTO alias (student_id, name, form)"
            " VALUES (1, 'Flourdust, Ivy', 'ivy flourdust')"
        )
    old.close()
    store = places.open()
    assert (tmp_path / "store.sqlite.before-0001").exists()
    told = erase_student(store, IVY).told
    assert any("store.sqlite.before-0001" in sentence for sentence in told)
    store.close()
    assert places.left("Flourdust") == []


@pytest.mark.parametrize("add", [True, False])
def test_an_erased_game_that_comes_again_brings_nothing_back(
    places: Places, tmp_path: Path, add: bool
) -> None:
    store = places.open()
    put(store, tmp_path, some_games(6))
    with store.writing() as session:
        add_alias(session, student_named(session, IVY), "I. F.")
    before = len(record_of(store, ADA).games)
    export(store, tmp_path / "all.zip")
    erase_student(store, IVY)
    put(store, tmp_path, some_games(6), add=add)
    bring_back(store, tmp_path / "all.zip")
    other = pgn(ADA, "I. F.", MOVES[2], event="Flourdust, Ivy and others")
    put(store, tmp_path, other.replace("[Result", f'[Annotator "{IVY}"]\n[Result'), add=add)
    assert check(store) == []
    assert count(store)["student"] == 2
    assert len(record_of(store, ADA).games) == before + 1
    store.close()
    assert places.left("I. F.") == []
    with store.reading() as session:
        events = [game.tags for game in session.scalars(sa.select(Game))]
    assert all(IVY not in (tags["White"], tags["Black"], tags.get("Annotator")) for tags in events)


def test_a_student_who_is_back_has_the_shared_games_once(places: Places, tmp_path: Path) -> None:
    store = places.open()
    put(store, tmp_path, some_games(6))
    before = count(store)
    erase_student(store, IVY)
    with store.writing() as session:
        add_student(session, IVY)
    put(store, tmp_path, some_games(6))
    after = count(store)
    assert (after["game"], after["seat"]) == (before["game"], before["seat"])
    assert len(record_of(store, IVY).games) == 4


def test_two_spellings_of_one_game_become_one(places: Places, tmp_path: Path) -> None:
    store = places.open()
    put(store, tmp_path, pgn(ADA, IVY, MOVES[1]))
    with store.writing() as session:
        add_alias(session, student_named(session, IVY), "Flourdust, I.")
    put(store, tmp_path, pgn(ADA, "Flourdust, I.", MOVES[1]))
    assert count(store)["game"] == 2
    erase_student(store, IVY)
    assert check(store) == []
    assert (count(store)["game"], len(record_of(store, ADA).games)) == (1, 1)


def test_two_erased_keep_their_games_with_a_third_apart(places: Places, tmp_path: Path) -> None:
    store = places.open()
    put(store, tmp_path, pgn(ADA, IVY, MOVES[1]), pgn(ADA, TOM, MOVES[1]))
    erase_student(store, TOM)
    erase_student(store, IVY)
    assert check(store) == []
    assert len({game.opponent for game in record_of(store, ADA).games}) == 2
