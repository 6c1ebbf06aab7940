"""Pages of ranked moves: the better ways, and the others that keep the material."""

import re
from pathlib import Path

import chess
import pytest

from fastness import core
from fastness.core.shapes import Survey
from fastness.language import language
from fastness.survey import for_student, in_one_line, page
from fastness.survey.lines import WIDTH
from tests.survey.claims import SAN, flat, sections
from tests.survey.ranked import explained, item, ranked
from tests.survey.samples import PIN, uci_line
from tests.survey.test_page import part

TABLE = Path(__file__).parents[1] / "data" / "historic-positions.fen"
POSITIONS = [fen for fen in TABLE.read_text("ascii").split("\n") if fen]
NODES = 300
"""A few nodes a move: the order does not matter here, only that it is told as it is."""


def test_the_better_ways_stand_apart_from_the_others() -> None:
    text = page(ranked())
    assert part(text, "The better ways (3 of 30)") == (
        "The better ways (3 of 30) Nf6 blocks; develops Be7 blocks and guards the queen on d8;"
        " develops Ne7 blocks; but shuts in the bishop on f8 and goes back to its own back rank"
    )
    priced = part(text, "Other moves that keep the material (4 of 30)")
    assert "f6 blocks; about 0.8 of a pawn's worth weaker; but" in priced
    assert "Bb4+ gives check; about 3 pawns' worth weaker" in priced
    assert "Moves that make it safe" not in text
    assert "How much a piece is worth matters here" in priced


def test_one_better_way() -> None:
    given = ranked()
    for move in given["moves"]:
        move["advised"] = move["san"] == "Be7" if move["holds"] else None
    text = page(given)
    assert part(text, "The better way (1 of 30)").startswith("The better way (1 of 30) Be7 blocks")
    assert "Other moves that keep the material (6 of 30)" in text


def test_all_holding_moves_advised() -> None:
    given = ranked()
    for move in given["moves"]:
        move["advised"] = True if move["holds"] else None
    text = page(given)
    assert "The better ways (7 of 30)" in text
    assert "Other moves" not in text
    assert "How much a piece is worth matters here" in part(text, "The better ways")


def test_a_move_that_wins_less_says_so() -> None:
    given = ranked()
    for move in given["moves"]:
        if move["san"] in ("Be7", "Nf6", "Ne7"):
            move["net"] = 100
    priced = part(page(given), "Other moves that keep the material")
    assert "Qd6 moves away; a pawn's worth less than Nf6" in priced


@pytest.mark.parametrize(
    ("kind", "name", "squares", "told"),
    [
        ("costs", "weakens the king's shelter", "f6 e8", "but weakens the king's shelter"),
        ("costs", "pins its own blocker", "g5 f6 d8", "but is pinned to the queen on d8"),
        ("costs", "pins its own blocker", "", "but is pinned where it blocks"),
        ("costs", "shuts in a bishop", "f6 c8", "but shuts in the bishop on c8"),
        ("costs", "shuts in a bishop", "", "but shuts in a bishop"),
        ("costs", "loses time", "f7", "but loses time"),
        ("costs", "passive guard", "f6", "but ties a piece down to guarding"),
        ("costs", "weakens the pawns", "f6", "but weakens the pawns"),
        ("costs", "a new name", "f6", "but a new name"),
        ("gains", "gains time on a piece", "f6 g5", "gains time on the bishop on g5"),
        ("gains", "gains time on a piece", "", "gains time on a piece"),
        ("gains", "develops", "f6", "develops"),
        ("gains", "makes room", "f7", "gives the pieces more room"),
        ("gains", "makes room", "e8 f7", "gives the king room"),
        ("gains", "trades when ahead", "f6", "trades when ahead"),
    ],
)
def test_a_price_is_told(kind: str, name: str, squares: str, told: str) -> None:
    given = ranked()
    for move in given["moves"]:
        if move["san"] == "f6":
            told_of = [item(name, squares)]
            move["price"] = {
                "costs": told_of if kind == "costs" else [],
                "gains": told_of if kind == "gains" else [],
            }
    assert re.search(
        rf"f6 blocks;(?: [\w ,.']+;)? {re.escape(told)}",
        part(page(given), "Other moves that keep the material"),
    )


@pytest.mark.parametrize(
    ("kind", "name", "told"),
    [
        ("costs", "gives up the bishop pair", "but gives up the bishop pair"),
        ("gains", "gains the bishop pair", "breaks up the opponent's bishop pair"),
    ],
)
def test_what_an_exchange_of_bishops_brings_is_told_only_where_one_is_shown(
    kind: str, name: str, told: str
) -> None:
    given, shown = ranked(), {"Be7": "Be7 Bxe7 Qxe7", "f6": ""}
    for move in given["moves"]:
        if move["san"] in shown:
            told_of = [item(name, "f6")]
            move["price"] = {
                "costs": told_of if kind == "costs" else [],
                "gains": told_of if kind == "gains" else [],
            }
            move["likely"] = uci_line(PIN, shown[move["san"]])
    words = page(given)
    assert told in part(words, "The better ways")
    assert told not in part(words, "Other moves that keep the material")


def test_tries_tell_why_they_fail() -> None:
    tries = part(page(explained()), "Natural tries that fail")
    assert (
        "to capture 3...Qxg5 4.Nxg5 (loses 6 pawns' worth: the knight on f3 takes the queen on g5)"
        in tries
    )
    assert "3...Bd7 (loses a pawn's worth: the queen on d8 is still taken)" in tries


@pytest.mark.parametrize("start", range(3))
def test_ranked_pages_of_real_positions_name_each_holding_move_once(start: int) -> None:
    rows = [(fen, ()) for fen in POSITIONS[start::150]]
    parted = 0
    for answer in core.survey_many(rows, reach=2, rank_nodes=NODES):
        assert isinstance(answer, dict), answer
        parted += holds_apart(answer)
    assert parted > 0


def holds_apart(survey: Survey) -> bool:
    """Holds the two lists against the survey; whether there are two."""
    named: list[str] = []
    for title, rows in sections(page(survey)).items():
        if not title.startswith(("The better way", "Other moves")):
            continue
        found = [row.split()[0] for row in rows if re.match(r"  \S", row)]
        moves = [word for word in found if SAN.fullmatch(word)]
        assert f"({len(moves)} of {len(survey['moves'])})" in title
        advised = {move["san"] for move in survey["moves"] if move["advised"]}
        assert set(moves) <= advised if title.startswith("The better") else not advised & set(moves)
        named += moves
        guards_what_lands(survey, rows)
    if named:
        assert sorted(named) == sorted(move["san"] for move in survey["moves"] if move["holds"])
    return bool(named)


def guards_what_lands(survey: Survey, rows: list[str]) -> int:
    """How many rows name a square guarded against a threat; holds each against the board.

    The threat can be played after a pass and lands there; the unit that moved, or one whose line it
    opens, guards the square then and did not before.
    """
    seen, board = 0, chess.Board(survey["fen"])
    passed = played(survey["fen"], ["0000"])
    for row in re.split(r"\n  (?=\S)", "\n".join(rows)):
        told = rf"(opens a line that )?guards (\w\d) against \d+\.+({SAN.pattern})"
        found = re.search(told, flat([row]))
        if not found:
            continue
        seen += 1
        opened, square, threat = found[1], chess.parse_square(found[2]), found[3]
        assert passed.parse_san(threat).to_square == square, (survey["fen"], row)
        move = board.parse_san(row.split()[0])
        after = played(survey["fen"], [move.uci()])
        before, now = (one.attackers(board.turn, square) for one in (board, after))
        assert bool(opened) == (move.to_square not in now), (survey["fen"], row)
        assert move.from_square not in before or opened, (survey["fen"], row)
        assert set(now) - set(before), (survey["fen"], row)
    return seen


@pytest.mark.parametrize(
    ("fen", "number"),
    [
        ("r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12", 1),
        ("7r/p6r/1pb1kp1B/2p1n1P1/4P3/4K3/PPPRB3/3R4 b - - 2 37", 1),
        ("4rk2/ppp3pp/5n2/2N5/3p4/1B3P2/PPPp3P/1K1R1q2 w - - 0 24", 2),
        # Castling leaves the corner; taking back on c6 is no threat, nor is taking what passes a6.
        ("4k3/pb3ppp/8/8/8/8/PPP2P1P/R3K2R w KQ - 0 1", 0),
        ("r2r2k1/p1Rpnpp1/1pb1p2p/4P1q1/3P1N2/5P2/PP1QB1PP/5RK1 w - - 9 20", 1),
        ("4rrk1/p1q3pp/1p1RPp2/1Pp5/P1p5/6Q1/2P3PP/3R3K b - - 2 28", 0),
    ],
)
def test_squares_guarded_against_a_threat(fen: str, number: int) -> None:
    survey = core.survey(fen, reach=2, rank_nodes=core.RANK_NODES)
    parts = sections(page(survey))
    titles = [title for title in parts if title.startswith(("The better way", "Other moves"))]
    assert titles
    assert sum(guards_what_lands(survey, parts[title]) for title in titles) == number


def played(fen: str, line: list[str]) -> chess.Board:
    board = chess.Board(fen)
    for uci in line:
        board.push(chess.Move.from_uci(uci))
    return board


@pytest.mark.parametrize("code", ["en", "de"])
def test_every_text_of_real_positions_in_every_language(code: str) -> None:
    words = language(code)
    rows = [(fen, ()) for fen in POSITIONS[7::60]]
    for answer in core.survey_many(rows, reach=2, firm=True, rank_nodes=NODES):
        assert isinstance(answer, dict), answer
        text = page(answer, language=words)
        assert max(map(len, text.splitlines())) <= WIDTH
        assert "{" not in text + for_student(answer, language=words)
        assert "\n" not in in_one_line(answer, language=words)
        if code == "de":
            found = re.search(r"\b(?:the|and|is|loses|wins)\b", flat(text.splitlines()))
            assert not found, text


def test_german_writes_its_own_letters() -> None:
    text = page(explained(), language=language("de"))
    told = flat(text.splitlines())
    assert "Die Dame auf d8 ist nicht sicher: Das kostet 6 Bauerneinheiten" in told
    assert "Der Läufer auf g5 greift sie an und ist weniger wert" in told
    assert "3...Dxg5 4.Sxg5 (verliert 6 Bauerneinheiten; der Springer auf f3 schlägt die" in told
    assert "/(d)/" in text
    assert chess.Board(explained()["fen"]).fen() in text
