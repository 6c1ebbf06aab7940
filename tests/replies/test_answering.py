"""Every answer of the table of questions is held against the board and the core."""

import csv
import re
from pathlib import Path

import chess
import pytest

from fastness import core
from fastness.errors import GameError, QuestionError
from fastness.language import language
from fastness.workflows.answering import Reply, answer_question, png_of
from tests.survey.claims import AMOUNT, amount

TABLE = Path(__file__).parents[1] / "data" / "replies" / "questions.csv"
ROWS = list(csv.DictReader(TABLE.read_text("utf-8").splitlines()))
SAN = r"((?:O-O(?:-O)?|[KQRBN]?[a-h]?[1-8]?x?[a-h][1-8](?:=[QRBN])?)[+#]?)"


@pytest.mark.parametrize("row", ROWS, ids=[row["question"] for row in ROWS])
def test_a_question_is_understood_and_its_answer_is_so(row: dict[str, str]) -> None:
    found = answer_question(row["question"], position=row["fen"], rank_nodes=0)
    assert found.language == row["language"]
    assert (found.kind, found.square) == (row["kind"], row["square"])
    assert " ".join(move.uci or "-" for move in found.moves) == row["moves"]
    english = answer_question(
        row["question"], position=row["fen"], rank_nodes=0, language=language("en")
    )
    _is_true(english)
    assert len(english.told) == len(found.told)


def _is_true(found: Reply) -> None:
    """Holds what is told against the survey and the board."""
    told = " ".join(found.told)
    _lines_replay(found)
    _moves_are_so(found, told)
    _pieces_are_so(found.fen, told)


def _lines_replay(found: Reply) -> None:
    for line in found.lines:
        played = chess.Board(found.fen)
        for step in line.steps:
            move = chess.Move.from_uci(step.uci)
            assert not move or move in played.legal_moves
            played.push(move)
            assert played.fen() == step.fen


def _moves_are_so(found: Reply, told: str) -> None:
    board = chess.Board(found.fen)
    moves = core.survey(found.fen, firm=True)["moves"]
    by_san, by_uci = ({move[key]: move for move in moves} for key in ("san", "uci"))
    asked = [by_uci[move.uci] for move in found.moves if move.legal]
    for move, verdict in zip([one for one in found.moves if one.legal], asked, strict=True):
        assert (move.holds, move.settled) == (verdict["holds"], verdict["firm"])
    for names in re.findall(rf"((?:{SAN}(?:, | and )?)+) loses? nothing", told):
        assert all(by_san[name]["holds"] for name in re.findall(SAN, names[0]))
    for san in re.findall(rf"You can play {SAN}, but|{SAN} does not work", told):
        assert not by_san[san[0] or san[1]]["holds"]
    for san, reply in re.findall(rf"fter {SAN}, (?:White|Black) answers {SAN}", told):
        after = board.copy()
        after.push_san(san)
        assert after.is_legal(after.parse_san(reply))
        assert not by_san[san]["holds"]
    costs = re.search(rf"costs you ({AMOUNT})", told)
    if costs and len(asked) == 1 and not asked[0]["holds"]:
        assert asked[0]["net"] == -amount(costs[1])
    if "That is mate." in found.told:
        assert [one["net"] for one in asked] == ["mated"]


def _pieces_are_so(fen: str, told: str) -> None:
    board, unsafe = chess.Board(fen), core.unsafe_units(fen)
    for unit, square in re.findall(r"Your (\w+) on ([a-h][1-8]) is in danger", told):
        at = chess.parse_square(square)
        assert board.piece_at(at) == chess.Piece(chess.PIECE_NAMES.index(unit), board.turn)
        assert square in unsafe
    for unit, square in re.findall(r"cannot win your (\w+) on ([a-h][1-8])", told):
        assert board.piece_type_at(chess.parse_square(square)) == chess.PIECE_NAMES.index(unit)
        assert square not in unsafe


def test_a_move_that_turns_one_move_further_is_not_settled() -> None:
    fen = "r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12"
    turned = [move["san"] for move in core.survey(fen, firm=True)["moves"] if not move["firm"]]
    assert turned
    found = answer_question(f"Why not {turned[0]}?", position=fen, rank_nodes=0)
    assert not found.moves[0].settled
    assert found.unsettled == (
        f"Not settled: {turned[0]}. Looking one move further, the answer changes.",
    )
    assert found.unsettled[0] in found.text


def test_a_tempting_capture_is_answered() -> None:
    fen = "rn1qkbnr/ppp2p1p/3p2p1/4p3/2B1P1b1/2N2N2/PPPP1PPP/R1BQK2R w KQkq - 0 5"
    found = answer_question("Why can't I play Nxe5?", position=fen)
    assert "If Bxd1, you have Bxf7+." in found.told
    assert found.lines[0].told == "5.Nxe5 Bxd1 6.Bxf7+ Ke7 7.Nd5#"
    assert found.pictures[0].caption == found.lines[0].told
    assert "3 Bxf7+" in found.pictures[0].alt
    assert png_of(found.pictures[0]).startswith(b"\x89PNG")


GAME = '[White "?"]\n\n1. e4 e5 2. Nf3 f6 3. Nxe5 fxe5 4. Qh5+ Ke7 5. Qxe5+ Kf7 6. Bc4+ d5 *\n'


@pytest.mark.parametrize(
    ("question", "number", "colour", "move"),
    [
        ("Why was f6 bad?", None, None, "f7f6"),
        ("What did I do wrong?", 4, "black", "e8e7"),
        ("Was ist falsch an meinem Zug 3?", 3, "black", "f6e5"),
        ("Was move 3 good, Nxe5?", None, None, "f3e5"),
        ("Why not Nc6?", 2, "black", "b8c6"),
    ],
)
def test_a_place_in_a_game_is_found(
    question: str, number: int | None, colour: None, move: str
) -> None:
    found = answer_question(question, game=GAME, number=number, colour=colour, rank_nodes=0)
    assert [one.uci for one in found.moves] == [move]


def test_a_place_that_is_not_there_is_told() -> None:
    with pytest.raises(GameError, match="no move 40"):
        answer_question("Was it good?", game=GAME, number=40)
    with pytest.raises(GameError, match="Whose move 3"):
        answer_question("Was it good?", game=GAME, number=3)
    with pytest.raises(GameError, match="not played there"):
        answer_question("Why not Rh6?", game=GAME)


@pytest.mark.parametrize("question", ["Hello", "", "Why?", "Is my bishop safe?", "Why not Nd2?"])
def test_what_cannot_be_understood_says_what_can_be_asked(question: str) -> None:
    fen = "4k3/8/8/8/8/5N2/8/RN2K1BB w - - 0 1"
    with pytest.raises(QuestionError) as raised:
        answer_question(question, position=fen)
    assert raised.value.can_be_asked or "meant" in str(raised.value)
