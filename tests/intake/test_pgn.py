"""PGN files to games: what the import format allows, and what is said of the rest."""

from pathlib import Path

import chess
import pytest

from fastness.intake import Game, Problem, read_games

PGN = Path(__file__).parents[1] / "data" / "pgn"

# Of faulty.pgn: game, line of the problem, kind, words of the message, plies kept (None: no
# game), and the reason.
FAULTS = [
    (1, 5, "error", "White's move 3, 'Nd5' is not legal here; legal knight moves: ", 4, "illegal"),
    (2, 10, "error", "move 3, 'Nd2' could mean more than one move: Nbd2 or Nfd2", 4, "ambiguous"),
    (3, 14, "error", "Black's move 1, '--' is a pass", 1, "a null move is no move"),
    (4, 16, "error", "Black has no king", None, "the start cannot be set up"),
    (5, 21, "error", 'the tag [Event "5 spoilt tag] is not of the form', 2, "a tag lost"),
    (5, 23, "notice", "the tag White is there twice", 2, "two tags of one name"),
    (5, 26, "notice", "the Result tag says 1-0, the moves end in 0-1", 2, "two results"),
    (6, 30, "notice", "comments in braces cannot hold others", 4, "nested comments"),
    (6, 30, "notice", "a ')' stands here without its '('", 4, "a stray bracket"),
    (6, 30, "notice", "'+=' means nothing in PGN", 4, "an odd token"),
    (7, 34, "error", "the '(' here is never closed", 2, "an open variation"),
    (8, 38, "notice", "the game ends without a result", 2, "no result, but another game"),
    (9, 42, "error", "the comment opened on line 42 is never closed", 2, "an open comment"),
    (10, 46, "error", "White's move 2, 'Sf3' is not a move", 2, "letters of another language"),
    (11, 48, "notice", 'the Variant tag says "Losing"', 2, "another game than chess"),
    (12, 53, "error", "the SetUp tag promises a FEN tag", None, "the position is missing"),
    (13, 58, "notice", "castling rights without king and rook at home", 1, "a flaw mended"),
    (14, 66, "error", "White's move 2, 'Nf' is not a move", 2, "cut within a move"),
    (14, 66, "error", "the file may be cut off", 2, "cut before the result"),
]


def split(path: Path) -> tuple[list[Game], list[Problem]]:
    items = list(read_games(path))
    games = [item for item in items if isinstance(item, Game)]
    return games, [item for item in items if isinstance(item, Problem)]


def written(tmp_path: Path, text: str | bytes) -> Path:
    path = tmp_path / "games.pgn"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def test_what_the_import_format_allows() -> None:
    games, problems = split(PGN / "tolerated.pgn")
    first = games[0]
    assert first.tags["Event"] == 'Club "evening" one'
    assert first.tags["Site"] == 'Millrace "hall" \\ cellar'
    assert first.tags["Date"] == "2024.01.02"
    assert " ".join(first.moves) == "e2e4 e7e5 g1f3 b8c6 f1b5 a7a6 e1g1 g8f6 f1e1"
    assert first.clocks == (None, 598.5, None, None, None, None, 3723.0, None, 9.0)
    assert first.spent == (None, 1.5) + (None,) * 7
    assert first.result == "1-0"
    assert [(game.number, game.line, len(game.moves), game.result) for game in games] == [
        (1, 2, 9, "1-0"),
        (2, 13, 4, "1/2-1/2"),
        (3, 15, 11, "*"),
        (4, 20, 2, "1/2-1/2"),
        (5, 27, 2, "0-1"),
        (6, 33, 0, "1-0"),
    ]
    assert (games[2].moves[4], games[2].moves[10]) == ("e5d6", "d5e6")
    assert games[3].start_fen == "4k3/8/8/8/8/8/4P3/4K3 b - - 5 31"
    assert games[4].start_fen.split()[0].endswith("R1BQKBNR")
    assert not problems


@pytest.fixture(scope="module")
def faulty() -> tuple[list[Game], list[Problem]]:
    return split(PGN / "faulty.pgn")


@pytest.mark.parametrize("row", FAULTS, ids=lambda row: f"{row[0]}: {row[5]}")
def test_faults(
    row: tuple[int, int, str, str, int | None, str], faulty: tuple[list[Game], list[Problem]]
) -> None:
    number, line, kind, words, plies, _ = row
    games, problems = faulty
    found = [problem for problem in problems if problem.game == number and words in problem.message]
    assert [(problem.line, problem.kind) for problem in found] == [(line, kind)]
    place = f"{PGN / 'faulty.pgn'}, game {number}, line {line}: "
    assert found[0].message.startswith(place)
    assert found[0].message.endswith(".")
    assert [len(game.moves) for game in games if game.number == number] == (
        [] if plies is None else [plies]
    )


def test_every_fault_is_in_the_table(faulty: tuple[list[Game], list[Problem]]) -> None:
    assert len(faulty[1]) == len(FAULTS)


def test_a_problem_comes_before_its_game() -> None:
    items = list(read_games(PGN / "faulty.pgn"))
    assert isinstance(items[0], Problem)
    assert isinstance(items[1], Game)
    assert items[0].game == items[1].number == 1


def test_text_that_is_no_pgn_is_told_once(tmp_path: Path) -> None:
    text = "Dear Anna,\nhere are 12 games, and *one* of them ends in 1-0.\n" * 3
    games, problems = split(written(tmp_path, text + '[Event "x"]\n\n1. e4 *\n'))
    assert [game.moves for game in games] == [("e2e4",)]
    assert [(problem.line, problem.kind) for problem in problems] == [(1, "error")]
    assert "'Dear' is neither a tag nor a move" in problems[0].message


def test_an_illegal_first_move_without_tags_is_a_game_with_a_problem(tmp_path: Path) -> None:
    games, problems = split(written(tmp_path, "1. e5 e6 *\n"))
    assert [(game.number, game.moves) for game in games] == [(1, ())]
    assert "'e5' is not legal here; legal pawn moves" in problems[0].message


def test_a_bad_game_does_not_spoil_the_next(tmp_path: Path) -> None:
    games, _ = split(written(tmp_path, '[Event "a"]\n1. e4 Ke3 ( 1... { [Event "b"]\n1. e4 *'))
    assert [len(game.moves) for game in games] == [1]
    text = '[Event "a"]\n1. e4 Ke3 2. {open\n[Event "b"]\n\n1. e4 e5 *\n'
    games, _ = split(written(tmp_path, text))
    assert [len(game.moves) for game in games] == [1, 2]


def test_a_game_of_300_moves(tmp_path: Path) -> None:
    cycle = ["Nf3", "Nf6", "Ng1", "Ng8"]
    words = [f"{ply // 2 + 1}. {cycle[ply % 4]}" for ply in range(0, 600, 2)]
    pairs = [f"{white} {cycle[(2 * at + 1) % 4]}" for at, white in enumerate(words)]
    games, problems = split(written(tmp_path, '[Event "long"]\n\n' + " ".join(pairs) + " 1/2-1/2"))
    assert len(games[0].moves) == 600
    assert not problems


def test_the_historic_games_are_read_whole() -> None:
    games, problems = split(PGN.parent / "historic.pgn")
    assert len(games) == 211
    assert not problems
    assert [game.number for game in games] == list(range(1, 212))
    for game in games:
        board = chess.Board(game.start_fen)
        for move in game.moves:
            board.push(board.parse_uci(move))
        assert len(game.clocks) == len(game.spent) == len(game.moves)


@pytest.mark.parametrize("cut", range(0, 900, 7))
def test_a_file_cut_anywhere_keeps_the_games_before(tmp_path: Path, cut: int) -> None:
    whole = (PGN / "tolerated.pgn").read_bytes()
    full = split(PGN / "tolerated.pgn")[0]
    games, problems = split(written(tmp_path, whole[:cut]))
    for game in games[:-1]:
        assert game.moves == full[game.number - 1].moves
    for game in games[-1:]:
        # The last word before the cut may be half a move that looks like another one.
        kept = game.moves[:-1]
        assert kept == full[game.number - 1].moves[: len(kept)]
        if len(kept) + 1 < len(full[game.number - 1].moves):
            assert any(problem.kind == "error" for problem in problems)
