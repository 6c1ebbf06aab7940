"""What the occasions come to, and the pages for a teacher."""

import re

from fastness.sift import (
    Occasion,
    Summaries,
    Tally,
    occasions,
    occasions_page,
    summaries_page,
    summary_page,
)
from tests.sift.looks import game, look, verdict
from tests.sift.test_occasion import CHECK, KNIGHT, LEGAL, MOVES

LATER = "rnbqkbnr/ppp2ppp/3pp3/8/3PP3/8/PPP2PPP/RNBQK1NR b KQkq - 1 5"
CLOCKS = (None, None, None, 3661.5)
UNSAFE = {
    "unsafe": {"e5": 100},
    "mechanisms": {"e5": ["unguarded"]},
    "danger": 100,
    "reach": 1,
    "moves": LEGAL,
    "best_net": 10,
}
GIFT = [verdict("b8c6", "Nc6", 300), verdict("d8f6", "Qf6", 300)]


def one(uci: str, **more: object) -> Occasion:
    (told,) = occasions(game(MOVES, clocks=CLOCKS), [look(KNIGHT, uci, ply=4, **more)])  # type: ignore[arg-type]
    return told


def let_fall(net: int | str = -100) -> Occasion:
    return one("a7a6", net=net, holds=False, reply_wins=True, **UNSAFE)


def held() -> Occasion:
    return one("b8c6", way="guard", **UNSAFE)


def let_off() -> Occasion:
    return one("d7d6", best_net=300, takings={"f3": 300}, moves=GIFT)


def recapture() -> Occasion:
    return one("d7d6", danger=300, owed=300, retakes=True, moves=LEGAL)


def cornered() -> Occasion:
    return one("a7a6", net=-150, holds=False, holding=0, best_net=-120, danger=300, reach=2)


def checked() -> Occasion:
    moves = [verdict("c7c6", "c6", 0)]
    seen = look(CHECK, "c7c6", holding=1, legal=5, way="block", ply=4, moves=moves)
    return occasions(game(["c7c6"] * 4, CHECK), [seen])[0]


def add_each(*found: Occasion) -> Summaries:
    """Each occasion as if in a game of its own."""
    summaries = Summaries()
    for at, occasion in enumerate(found, 1):
        of_game = occasion.copy()
        of_game["game"] = {**occasion["game"], "number": at}
        summaries.add([occasion["player"]], [of_game])
    return summaries


def test_counts() -> None:
    found = add_each(let_fall(), held(), let_off(), recapture(), cornered(), checked())
    (summary,) = found.players()
    assert summary.player == "Lopez, Ben"
    assert summary.games == 6
    assert summary.outcomes == {"let fall": 1, "held": 2, "saved most": 1}
    assert summary.takings == {"let off": 1}
    # Where nothing held, holding was not possible, and a recapture never counts.
    assert summary.held == Tally(faced=3, held=2)
    assert summary.mechanisms == {"unguarded": Tally(faced=2, held=1)}
    assert summary.reaches == {1: Tally(faced=2, held=1)}
    assert summary.ways == {"guard": 1, "block": 1}
    assert [told["outcome"] for told in summary.costliest] == ["let off", "let fall", "saved most"]
    assert [told["played"]["san"] for told in summary.kept] == ["Nc6", "c6"]


def test_an_episode_counts_once_by_its_first_occasion() -> None:
    first, second = let_fall(), held()
    summaries = Summaries()
    summaries.add(["Lopez, Ben"], [first, second])
    (summary,) = summaries.players()
    assert first["episode"] == second["episode"] == 1
    assert summary.outcomes == {"let fall": 1}
    summaries.add(["Lopez, Ben"], [second])
    assert summaries.players()[0].outcomes == {"let fall": 1, "held": 1}


def test_an_episode_that_begins_with_a_recapture_counts_by_what_follows() -> None:
    summaries = Summaries()
    summaries.add(["Lopez, Ben"], [recapture(), let_fall()])
    assert summaries.players()[0].outcomes == {"let fall": 1}


def test_only_the_costliest_are_kept_and_mate_comes_first() -> None:
    falls = [let_fall(-100 - at) for at in range(9)]
    (summary,) = add_each(*falls, let_fall("mated")).players()
    assert [told["net"] for told in summary.costliest] == ["mated", -108, -107, -106, -105]


def test_players_without_occasions_are_there_and_spaces_do_not_part_them() -> None:
    summaries = Summaries()
    summaries.add(["Weber, Anna ", "Lopez, Ben"], [])
    summaries.add(["Weber,  Anna"], [])
    assert [(told.player, told.games) for told in summaries.players()] == [
        ("Lopez, Ben", 1),
        ("Weber, Anna", 2),
    ]
    assert "Nothing was in danger" in summary_page(summaries.players()[0])


def test_one_player_with_several_spellings_has_one_summary() -> None:
    summaries = Summaries(one_player=True)
    summaries.add(["Ben Lopez"], [])
    summaries.add(["Lopez, Ben"], [let_fall()])
    (summary,) = summaries.players()
    assert (summary.player, summary.games, summaries.games) == ("Ben Lopez", 2, 2)
    assert summary.outcomes == {"let fall": 1}


def test_what_is_let_off_move_after_move_is_shown_once() -> None:
    first, second, later = let_off(), let_off(), let_off()
    second["ply"], later["ply"] = 6, 10
    second["fen"], later["fen"] = CHECK, LATER
    summaries = Summaries()
    summaries.add(["Lopez, Ben"], [first, second, later])
    (summary,) = summaries.players()
    assert summary.takings == {"let off": 3}
    assert [told["ply"] for told in summary.costliest] == [4, 10]


def test_a_move_that_misses_twice_is_shown_once() -> None:
    summaries = Summaries()
    summaries.add(["Lopez, Ben"], [let_fall(-100), let_off()])
    (summary,) = summaries.players()
    assert [told["kind"] for told in summary.costliest] == ["taking"]


def test_summary_page_begins_with_what_went_well() -> None:
    found = add_each(let_fall(), held(), let_off(), cornered())
    text = " ".join(summary_page(found.players()[0]).split())
    assert text.startswith(
        "Lopez, Ben, 4 games Done well Game 2 (Weber, Anna - Lopez, Ben, 2024.01.02), 2...Nc6. "
        "Not safe: the pawn on e5 (unguarded), looking 1 move ahead. It was kept by guarding."
    )
    assert text.index("Done well") < text.index("To look at first")
    assert "Something was not safe 3 times" in text
    assert "Where a move could keep everything: held 1 of 2" in text
    assert "Something could be won once; taken never." in text
    assert "%" not in text


def told(occasion: Occasion) -> list[str]:
    return occasions_page([occasion]).splitlines()[2:-1]


def test_occasion_pages() -> None:
    assert told(let_fall()) == [
        "  2...a6  Lopez, Ben (Black), 1:01:01 left",
        "    Not safe: the pawn on e5 (unguarded), looking 1 move ahead.",
        "    It could be won after this move; the best move was 1.1 pawns' worth better.",
        "    Would have kept it: Nf6, Nc6 and d6.",
        "    The opponent's next move began to win it.",
    ]
    assert told(held())[1:] == [
        "    Not safe: the pawn on e5 (unguarded), looking 1 move ahead.",
        "    It was kept by guarding.",
        "    Would also keep it: Nf6 and d6.",
    ]
    assert told(let_off())[1:] == [
        "    Could be won: the knight on f3, looking 2 moves ahead.",
        "    It was let off; the best move was 3 pawns' worth better.",
        "    Would have won it: Nc6 and Qf6.",
    ]
    assert "    In a trade: 3 pawns' worth was to be taken back." in told(recapture())
    assert "    d6 took it back." in told(recapture())
    assert "Nothing kept everything" in told(cornered())[2]
    assert "it allows mate" in told(let_fall("mated"))[2]
    assert told(checked()) == [
        "  3...c6  Lopez, Ben (Black)",
        "    In check: some of the moves out of it lose something.",
        "    It was kept by blocking.",
        "    No other move keeps it.",
    ]


def test_lines_are_told() -> None:
    lost, kept = let_fall(), held()
    lost["line"] = ["a7a6", "f3e5"]
    kept["line"] = ["0000", "f3e5"]
    assert "It could be won after this move: 2...a6 3.Nxe5; the best" in " ".join(told(lost))
    assert "If Black passes: 3.Nxe5." in " ".join(" ".join(told(kept)).split())


def test_what_was_owed_and_stays_lost_is_not_told_as_a_new_loss() -> None:
    gone = cornered()
    gone["owed"], gone["line"] = 100, ["a7a6"]
    text = "\n".join(told(gone))
    assert "What was owed could not all be won back; nothing more was lost." in text
    assert "began to win" not in text


def test_a_unit_that_moves_into_danger_is_named_where_it_goes() -> None:
    moved = one("b8c6", net=-300, holds=False, drops=["b8"], moves=LEGAL)
    assert "Put in danger by this move: the knight on c6" in told(moved)[1]


def test_both_kinds_at_one_move_stand_under_one_heading() -> None:
    text = occasions_page([let_fall(), let_off()])
    assert text.count("2...a6") == 1
    assert "Not safe" in text
    assert "Could be won" in text


def test_a_game_has_one_heading_and_the_page_fits_the_width() -> None:
    found = [let_fall(), held(), let_off(), cornered()]
    text = occasions_page(found)
    heading = "Game 7: Weber, Anna - Lopez, Ben, Club evening, 2024.01.02, 1-0"
    assert text.count(heading) == 1
    assert max(map(len, text.splitlines())) <= 88
    assert not re.search(r"[!?]", text)
    assert occasions_page([]) == ""
    alone = occasions_page(found, one_player=True)
    assert alone.startswith(f"{heading}, playing Black\n")
    assert "(Black)" not in alone
    assert summaries_page(Summaries()) == "No game to look at.\n"


def test_what_is_not_known_of_a_game_is_left_out() -> None:
    unknown = let_fall()
    unknown["game"] = {
        **unknown["game"],
        "event": "?",
        "date": "1848.??.??",
        "white": "?",
        "result": "*",
    }
    assert occasions_page([unknown]).startswith("Game 7: no name - Lopez, Ben, 1848\n")
    unknown["game"]["date"] = "????.??.??"
    assert occasions_page([unknown]).startswith("Game 7: no name - Lopez, Ben\n")
    text = " ".join(summary_page(add_each(unknown).players()[0]).split())
    assert "Game 1 (no name - Lopez, Ben), 2...a6." in text
