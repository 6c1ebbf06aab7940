"""Copies of one game: what each knows is kept, whatever their order, and given back whole."""

import itertools
import zipfile
from pathlib import Path

import pytest
import sqlalchemy as sa

from fastness.intake import Game, Problem, read_games
from fastness.sift import SIFT_VERSION
from fastness.store import Store, tables
from fastness.store.games import as_game
from fastness.store.pgn import as_pgn
from fastness.store.safekeeping import check, count
from fastness.store.transfer import bring_back, export
from fastness.workflows.importing import WhoIsWho, bring_in
from fastness.workflows.recording import record_of
from tests.store.material import ADA, IVY, MOVES, QUICK, brought_in, nobody, pgn
from tests.store.places import Places

BARE = "1. d4 d5 2. Nf3 e6 3. Bg5 Nc6 4. Bxd8 Nxd8"
TIMED = (
    "1. d4 {[%clk 0:10:00]} d5 {[%clk 0:10:00]} 2. Nf3 {[%clk 0:09:00]} e6 {[%clk 0:09:00]}"
    " 3. Bg5 {[%clk 0:08:00]} Nc6 {[%clk 0:08:00]} 4. Bxd8 {[%clk 0:07:00]} Nxd8 {[%clk 0:06:00]}"
)


def put(store: Store, folder: Path, *texts: str) -> None:
    for text in texts:
        (folder / "games.pgn").write_text(text, encoding="utf-8")
        brought_in(store, folder / "games.pgn")


def stored(store: Store) -> list[Game]:
    with store.reading() as session:
        games = session.scalars(sa.select(tables.Game).order_by(tables.Game.date)).all()
        return [as_game(game) for game in games]


def told(store: Store) -> list[object]:
    """All that a store holds of games, without their numbers."""
    games = [(g.tags, g.moves, g.clocks, g.result, g.beside, g.spent) for g in stored(store)]
    with store.reading() as session:
        dates = session.scalars(sa.select(tables.Game.date).order_by(tables.Game.date)).all()
        found = [
            {**one.told, "game": {**one.told["game"], "number": 0}}
            for one in session.scalars(sa.select(tables.FoundOccasion))
        ]
    return [games, dates, sorted(map(str, found))]


@pytest.mark.parametrize(
    "copies",
    [
        (pgn(ADA, IVY, BARE, date="????.??.??", event="Club"), pgn(ADA, IVY, BARE)),
        (pgn(ADA, IVY, TIMED, date="2026.09.??"), pgn(ADA, IVY, BARE)),
        (pgn(ADA, IVY, BARE, date="2026.??.??"), pgn("Ada Weirwater", IVY, TIMED)),
        (pgn(ADA, IVY, BARE), pgn(ADA, IVY, TIMED + " {so it went} (4... Kxd8)")),
    ],
)
def test_two_copies_give_the_same_in_either_order(
    places: Places, tmp_path: Path, copies: tuple[str, str]
) -> None:
    results = []
    for number, order in enumerate(itertools.permutations(copies)):
        store = places.open(f"{number}")
        put(store, tmp_path, *order)
        assert check(store) == []
        results.append(told(store))
        store.close()
    assert results[0] == results[1]
    assert results[0][1] == ["2026.09.07"]


def test_an_undated_copy_hides_neither_of_two_days(places: Places, tmp_path: Path) -> None:
    copies = [pgn(ADA, IVY, BARE, date=date) for date in ("????.??.??", "2026.09.07", "2026.09.14")]
    for number, order in enumerate(itertools.permutations(copies)):
        store = places.open(f"{number}")
        put(store, tmp_path, *order)
        assert [game.tags["Date"] for game in stored(store)] == ["2026.09.07", "2026.09.14"]
        store.close()


def test_a_later_copy_completes_what_is_stored(places: Places, tmp_path: Path) -> None:
    store = places.open()
    put(store, tmp_path, pgn(ADA, IVY, BARE, date="????.??.??"))
    rated = pgn(ADA, IVY, TIMED).replace("[Result", '[BlackElo "1247"]\n[Result')
    put(store, tmp_path, rated)
    (game,) = stored(store)
    assert game.clocks[-1] == 360.0
    (seen,) = record_of(store, ADA).games
    assert (seen.game.opponent_rating, seen.game.date) == (1247, "2026.09.07")
    (own,) = record_of(store, IVY).games
    assert own.game.occasions
    assert all(one["clock"] is not None for one in own.game.occasions)
    assert all(one["game"]["date"] == "2026.09.07" for one in own.game.occasions)


def test_a_copy_that_completes_is_told_once(places: Places, tmp_path: Path) -> None:
    store = places.open()
    put(store, tmp_path, pgn(ADA, IVY, BARE))
    (tmp_path / "games.pgn").write_text(pgn(ADA, IVY, TIMED), encoding="utf-8")
    first, again = (brought_in(store, tmp_path / "games.pgn")[0] for _ in range(2))
    assert (first.completed, first.done_before) == (True, False)
    assert (again.completed, again.done_before) == (False, True)


def test_another_way_to_sift_is_gone_through_again(
    places: Places, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = places.open()
    file = tmp_path / "games.pgn"
    file.write_text(pgn(ADA, IVY, BARE), encoding="utf-8")
    brought_in(store, file)
    assert brought_in(store, file)[0].done_before
    later = SIFT_VERSION + 1
    monkeypatch.setattr("fastness.workflows.importing.SIFT_VERSION", later)
    (again,) = brought_in(store, file)
    assert (again.new, again.done_before) == (False, False)
    assert again.occasions > 0


def test_overlong_names_are_told_and_the_rest_goes_on(places: Places, tmp_path: Path) -> None:
    store = places.open()
    file = tmp_path / "games.pgn"
    games = [
        pgn("W" * 201, "B" * 300, MOVES[0]),
        pgn(ADA, "ß" * 120, MOVES[1]),
        pgn("W" * 200, IVY, MOVES[3]),
        pgn(ADA, IVY, MOVES[2], event="E" * 5000),
    ]
    file.write_text("".join(games), encoding="utf-8")
    who = WhoIsWho(store, nobody, None, add=True, dry_run=False)
    events = list(bring_in(store, [file], who, QUICK, threads=1))
    problems = [event.message for event in events if isinstance(event, Problem)]
    assert len(problems) == 3
    assert "game 1, line 1: the name of White has 201 letters" in problems[0]
    assert "game 1, line 1: the name of Black has 300 letters" in problems[1]
    assert "game 2" in problems[2]
    assert count(store)["game"] == 2
    assert check(store) == []


WHOLE = (
    '{An opening, "seen before"} 1. d4 {[%clk 0:09:58.5] [%emt 0:00:05] solid} d5 $1 '
    "(1... Nf6 2. c4 {or Nf3} (2. Bg5 Ne4 $5) 2... e6) (1... f5) 2. Nf3 e6?! ; to the end (}\n"
    "3. Bg5 Nc6?? {[%emt 0:01:00]} 4. Bxd8 {100% so} Nxd8 {[%csl Gd4] and on}"
)


def test_what_stands_beside_the_moves_is_given_back(places: Places, tmp_path: Path) -> None:
    store = places.open()
    put(store, tmp_path, pgn(ADA, IVY, WHOLE))
    (came,) = read_games(tmp_path / "games.pgn")
    export(store, tmp_path / "all.zip")
    with zipfile.ZipFile(tmp_path / "all.zip") as archive:
        text = archive.read("games.pgn").decode()
    plain = " ".join(text.split())
    assert '{An opening, "seen before"} 1. d4 {[%clk 0:09:58.5] [%emt 0:00:05]} {solid}' in plain
    assert "1... d5 $1 (1... Nf6 2. c4 {or Nf3} (2. Bg5 Ne4 $5) 2... e6) (1... f5) 2. Nf3" in plain
    assert "e6 $6 {to the end ()} 3. Bg5 Nc6 $4 {[%emt 0:01:00]} 4. Bxd8 {100% so}" in plain
    assert max(map(len, text.splitlines())) <= 100
    (tmp_path / "again.pgn").write_text(text, encoding="utf-8")
    (back,) = read_games(tmp_path / "again.pgn")
    assert isinstance(came, Game)
    assert isinstance(back, Game)
    for name in ("tags", "moves", "clocks", "spent", "result", "beside"):
        assert getattr(back, name) == getattr(came, name), name
    other = places.open("other")
    bring_back(other, tmp_path / "all.zip")
    assert told(other) == told(store)


def test_games_of_the_history_are_written_and_read_back(tmp_path: Path) -> None:
    table = Path(__file__).parents[1] / "data" / "historic.pgn"
    games = [game for game in read_games(table) if isinstance(game, Game)]
    (tmp_path / "again.pgn").write_text("".join(map(as_pgn, games)), encoding="utf-8")
    again = list(read_games(tmp_path / "again.pgn"))
    assert len(again) == len(games) == 211
    for game, back in zip(games, again, strict=True):
        assert isinstance(back, Game)
        assert (back.moves, back.beside, back.clocks) == (game.moves, game.beside, game.clocks)
        assert back.tags == {**game.tags, "Result": game.result}
