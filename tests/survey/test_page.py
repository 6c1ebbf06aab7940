import re
from collections.abc import Callable

import chess
import pytest

from fastness.core.shapes import Survey, Way
from fastness.survey import page
from fastness.survey.lines import WIDTH
from tests.survey.samples import PIN, START, TRADE, centre, pinned_down, survey, unit

MATED = "rnb1kbnr/pppp1ppp/8/4p3/6Pq/5P2/PPPPP2P/RNBQKBNR w KQkq - 1 3"
STALEMATE = "7k/5Q2/6K1/8/8/8/8/8 b - - 0 1"
CHECK = "rnbqkbnr/ppp2ppp/3pp3/1B6/3PP3/8/PPP2PPP/RNBQK1NR b KQkq - 1 3"
RUNNER = "6k1/P4ppp/8/8/8/8/5PPP/6K1 b - - 0 1"
SKEWER = "8/8/3k4/N7/8/4br2/8/4K3 b - - 0 1"


def flat(text: str) -> str:
    """The text without its line breaks, so that wrapping does not matter."""
    return re.sub(r"\s+", " ", text)


def part(text: str, title: str) -> str:
    """The part of the page under the heading that begins with `title`."""
    found = [block for block in text.split("\n\n") if block.startswith(title)]
    assert len(found) == 1, f"{title} stands {len(found)} times"
    return flat(found[0])


def bare_trade() -> Survey:
    bishop = unit(TRADE, "c6", "unsafe", "dxc6", loses=300, mechanisms=["unguarded"])
    return survey(TRADE, takings=[bishop], nets={"dxc6": 300, "bxc6": 300})


def trade_in_progress() -> Survey:
    bishop = unit(TRADE, "c6", "unsafe", "dxc6", loses=300, mechanisms=["unguarded"])
    return survey(
        TRADE,
        danger=(300, 300, 300),
        owed=300,
        takings=[bishop],
        holds={"dxc6": ("capture",), "bxc6": ("capture",)},
        falls={"h6": (-300, "Bxd7+ Bxd7")},
    )


def in_check() -> Survey:
    return survey(
        CHECK,
        units=[unit(CHECK, "e8", "in check")],
        holds={"c6": ("block",), "Nd7": ("block",), "Bd7": ("block",), "Ke7": ("move",)},
        falls={"Qd7": (-600, "Bxd7+ Nxd7"), "Nc6": (-200, "d5")},
    )


def runner() -> Survey:
    return survey(
        RUNNER,
        danger=(800, 800, 800),
        promotions={"a8": "pass a8=Q+"},
        holds={"f5": ("other",)},
        falls={"h6": (-800, "a8=Q+ Kh7"), "h5": (-800, "a8=Q+ Kh7")},
    )


def won_back() -> Survey:
    pawn = unit(START, "a2", "won back")
    return survey(START, danger=(100, 100, 0), units=[pawn])


def forked() -> Survey:
    both = ("e3", "f3")
    units = [
        unit(SKEWER, square, "unsafe together", "pass Ke2", loses=300, together=[other])
        for square, other in (both, both[::-1])
    ]
    return survey(SKEWER, danger=(300, 300, 300), units=units, holds={"Kc5": ("other",)})


ALL: dict[str, Callable[[], Survey]] = {
    "pinned down": pinned_down,
    "centre": centre,
    "bare trade": bare_trade,
    "trade in progress": trade_in_progress,
    "in check": in_check,
    "runner": runner,
    "won back": won_back,
    "forked": forked,
    "mated": lambda: survey(MATED, units=[unit(MATED, "e1", "in check")]),
    "stalemate": lambda: survey(STALEMATE, danger=(0, 0, 0)),
    "quiet": lambda: survey(START),
}


@pytest.mark.parametrize("name", ALL)
def test_every_page_is_narrow_plain_and_ends_with_its_reach(name: str) -> None:
    text = page(ALL[name]())
    assert max(map(len, text.splitlines())) <= WIDTH
    assert not re.search(r"[!?\t]|[^\x00-\x7f]", text)
    assert "next 3 moves" in part(text, "How far this goes")
    assert not re.search(r" {3,}\S.* $", text, re.MULTILINE)


def test_the_attacked_queen() -> None:
    text = page(pinned_down())
    assert text.startswith("Black to move (move 3)\n")
    assert "(q)" in text
    danger = part(text, "What is not safe")
    assert "The queen on d8 is not safe: it costs 6 pawns' worth, looking 1 move ahead." in danger
    assert "so the guard (the king on e8) is not enough" in danger
    assert "If Black passes: 4.Bxd8 Kxd8." in danger
    assert part(text, "Moves that make it safe") == (
        "Moves that make it safe (7 of 30) move Qd6, Qd7 block Be7 (guards as well), Ne7, Nf6, f6"
        " counterattack Bb4+"
    )
    tries = part(text, "Natural tries that fail")
    assert "capture 3...Qxg5 4.Nxg5 (loses 6 pawns' worth)" in tries
    assert "guard 3...Nc6 4.Bxd8 Nxd8 (loses 6 pawns' worth)" in tries
    assert "Every other move (19) loses a pawn's worth" in tries
    assert "What can be taken" not in text


def test_ways_stand_in_the_teachers_order() -> None:
    remedies = part(page(centre()), "Moves that make it safe (9 of 31)")
    places = [remedies.index(word) for word in (" capture ", " move ", " guard ", " counter")]
    assert places == sorted(places)
    assert "block" not in remedies


def test_the_best_net_stands_first_and_is_told() -> None:
    given = pinned_down()
    for move in given["moves"]:
        if move["san"] == "f6":
            move["net"] = 300
        if move["san"] == "Be7":
            move["net"] = -25
    remedies = part(page(given), "Moves that make it safe")
    blocks = "f6 (wins 3 pawns' worth), Ne7, Nf6, Be7 (guards as well; gives up 0.25 of a pawn's"
    assert blocks in remedies


def test_a_bare_position_says_that_it_may_be_the_middle_of_a_trade() -> None:
    taken = part(page(bare_trade()), "What can be taken")
    assert "The bishop on c6 can be taken: Black wins 3 pawns' worth" in taken
    assert "4...dxc6." in taken
    assert "may be the middle of a trade" in taken
    assert "moves since" in taken
    assert taken.endswith("wins 3 pawns' worth: bxc6, dxc6")
    assert "middle of a trade" not in page(bare_trade(), moves_given=True)


def test_a_trade_in_progress_is_told() -> None:
    text = page(trade_in_progress(), moves_given=True)
    danger = part(text, "What is not safe")
    assert "Black is owed 3 pawns' worth" in danger
    assert "Beside the trade, no unit of Black's is in danger." in danger
    assert "capture bxc6, dxc6" in part(text, "Moves that keep the material (2 of")


def test_check() -> None:
    text = page(in_check())
    assert text.startswith("Black to move, in check (move 3)\n")
    assert "The king on e8 is in check from the bishop on b5." in part(text, "What is not safe")
    remedies = part(text, "Moves that get out of check and keep the material (4 of 6)")
    assert remedies.endswith("move Ke7 block Bd7, Nd7, c6")
    assert "block 3...Nc6 4.d5 (loses 2 pawns' worth)" in part(text, "Natural tries that fail")


def test_a_pawn_that_promotes_on_an_empty_square_is_told() -> None:
    danger = part(page(runner()), "What is not safe")
    assert "If Black passes, White wins 8 pawns' worth by force" in danger
    assert "A pawn of White's promotes on a8 by force if Black passes." in danger
    assert "If Black passes: 2.a8=Q#." in danger


def test_what_is_won_back_is_no_danger() -> None:
    danger = part(page(won_back()), "What is not safe")
    assert "Nothing of White's can be won, looking 3 moves ahead, even if White passes." in danger
    assert "Looking only 1 or 2 moves ahead, something seems to be won;" in danger
    assert "The pawn on a2 is won back" in danger


def test_units_unsafe_together_are_told_once() -> None:
    danger = part(page(forked()), "What is not safe")
    assert danger.count("unsafe together") == 1
    assert "the rook on f3" in danger.lower()
    assert "If Black passes: 2.Ke2." in danger


def test_the_game_is_over() -> None:
    assert "White is mated" in part(page(ALL["mated"]()), "What is not safe")
    assert "stalemate" in part(page(ALL["stalemate"]()), "What is not safe")
    for name in ("mated", "stalemate"):
        assert "Moves that" not in page(ALL[name]())


def test_a_quiet_position_lists_what_would_lose_something() -> None:
    given = survey(PIN.replace(" b ", " w "), holds={"Bxd8": ()}, falls={"Bh6": (-300, "Nxh6")})
    losing = part(page(given), "Moves that would lose something")
    assert "loses 3 pawns' worth: Bh6" in losing
    everything = part(page(survey(START)), "Moves that would lose something")
    assert "No legal move loses anything, looking 3 moves ahead." in everything


def test_nothing_holds() -> None:
    given = pinned_down()
    for move in given["moves"]:
        move["holds"], move["ways"] = False, []
        move["net"] = -500 if move["san"] == "Qxg5" else -900
    remedies = part(page(given), "Moves that lose least")
    told = "None of the 30 legal moves keeps the material. The least is lost by Qxg5, looking"
    assert told in remedies
    assert "3...Qxg5 4.Nxg5" in remedies


def test_firm_verdicts_and_those_that_are_not() -> None:
    given = pinned_down()
    for move in given["moves"]:
        move["firm"] = True
    assert "Checked one move deeper: every move keeps its verdict" in flat(page(given))
    for move in given["moves"]:
        move["firm"] = move["san"] not in ("Qd6", "Nc6", "Qe7")
        if move["san"] == "Qd6":
            move["deeper"] = {"net": -900, "line": [move["uci"], "g5f4"]}
    text = flat(page(given))
    assert "Qd6 (not firm)" in text
    assert "looking 4 moves ahead Qd6 no longer keeps the material; Qe7 and Nc6 keep it" in text


def test_every_remedy_is_named_in_a_long_group_too() -> None:
    board = chess.Board(START)
    other: tuple[Way, ...] = ("other",)
    ways = {board.san(move): other for move in board.legal_moves}
    rook = unit(START, "a1", "unsafe")
    text = page(survey(START, danger=(500,) * 3, units=[rook], holds=ways))
    told = part(text, "Moves that make it safe (20 of 20)").partition(" other ")[2]
    assert sorted(told.split(", ")) == sorted(ways)


def test_mate_in_the_line_is_said() -> None:
    fen = "3r2k1/5ppp/8/8/8/b7/5PPP/R5K1 w - - 0 1"
    king = unit(fen, "g1", "unsafe", "pass Rd1+ Rxd1", loses="mate", attackers=[], guards=[])
    text = page(survey(fen, danger=("mate",) * 3, units=[king], holds={"Rd1": ("block",)}))
    assert "The king on g1 is not safe: White can be mated" in part(text, "What is not safe")


def test_a_line_that_does_not_replay_is_refused() -> None:
    given = pinned_down()
    given["units"][0]["line"] = ["0000", "g5d7"]
    with pytest.raises(ValueError, match="g5d7 is not legal"):
        page(given)


def test_a_danger_that_grows_with_the_reach_is_told() -> None:
    given = pinned_down()
    given["danger"] = [600, 600, 900]
    danger = part(page(given), "What is not safe")
    assert "White wins 9 pawns' worth by force, looking 3 moves ahead." in danger
    assert "(Looking only 1 or 2 moves ahead: 6 pawns' worth.)" in danger
    given["danger"] = [0, 600, "mate"]
    assert "White mates by force, looking 3 moves ahead." in part(page(given), "What is not safe")


def test_zugzwang_is_said() -> None:
    fen = "8/8/8/3Kp3/4Pk2/8/8/8 w - - 0 1"
    given = survey(fen, danger=(-100, -100, -100), holds={}, falls={"Kd6": (-100, "Kxe4")})
    text = page(given)
    assert "Black would then be the one who loses a pawn's worth" in flat(text)
    assert "Zugzwang: every legal move loses" in part(text, "Moves that would lose something")
    held = survey(fen, danger=(0, 0, 0), holds={"Kd6": ()})
    assert "Zugzwang" not in page(held)


def test_a_gain_below_the_threshold_is_not_called_nothing() -> None:
    danger = part(page(survey(START, danger=(0, 0, 25))), "What is not safe")
    assert "Black wins only 0.25 of a pawn's worth, looking 3 moves ahead: too little" in danger
