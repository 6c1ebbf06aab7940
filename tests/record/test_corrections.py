"""The teacher's corrections come before everything that is computed."""

from hypothesis import given, settings
from hypothesis import strategies as st

from fastness.record import (
    Correction,
    MoveCorrection,
    MoveVerdict,
    Said,
    apply_corrections,
    corrected_games,
    diagnose,
    episodes_of,
)
from fastness.record.corrections import Kind
from tests.record.made import occasion, student_game


def struck(ply: int, game: str = "1") -> Correction:
    return Correction(game, ply, "danger", None, "a misprint on the sheet")


def test_a_struck_occasion_is_gone_and_the_other_kind_at_its_ply_stays() -> None:
    taking = occasion(40, "let off", kind="taking", episode=None)
    assert apply_corrections([occasion(40), taking, occasion(42)], [struck(40)]) == (
        taking,
        occasion(42),
    )


def test_an_overruled_outcome_counts_and_the_sifts_own_is_untouched() -> None:
    found = occasion(40, "let fall")
    said = Correction("1", 40, "danger", "held", "there was a perpetual check")
    game = student_game([found])
    (corrected,) = corrected_games([game], [said])
    (episode,) = episodes_of(corrected)
    assert (episode.held, episode.lost) == (True, 0)
    assert game.occasions[0]["outcome"] == "let fall"


def test_the_last_word_counts() -> None:
    again = Correction("1", 40, "danger", "let fall", "it stands after all")
    (one,) = apply_corrections([occasion(40)], [struck(40), again])
    assert one["outcome"] == "let fall"


def test_a_correction_of_another_game_changes_nothing() -> None:
    game = student_game([occasion(40)])
    assert corrected_games([game], [struck(40, game="2")]) == [game]


outcomes = st.sampled_from(["held", "let fall", "lessened", "exposed", "saved most"])
games = st.lists(st.lists(outcomes, max_size=4), min_size=1, max_size=6)


@settings(deadline=None, max_examples=40)
@given(games, st.data())
def test_a_struck_occasion_is_as_if_absent(
    outcomes_of: list[list[str]], data: st.DataObject
) -> None:
    whole, without, corrections = [], [], []
    for number, outcome_list in enumerate(outcomes_of):
        made = [occasion(40 + 2 * i, one) for i, one in enumerate(outcome_list)]
        left = [one for one in made if data.draw(st.booleans())]
        whole.append(student_game(made, key=str(number)))
        without.append(student_game(left, key=str(number)))
        kept = {one["ply"] for one in left}
        corrections += [struck(one["ply"], str(number)) for one in made if one["ply"] not in kept]
    assert diagnose(whole, (), corrections) == diagnose(without)


def of_move(move: str, verdict: MoveVerdict | None, kind: Kind = "danger") -> MoveCorrection:
    return MoveCorrection("1", 40, kind, move, verdict, "seen in class")


def test_a_move_that_does_not_count_is_no_longer_named() -> None:
    for verdict in ("falls", None):
        (one,) = apply_corrections([occasion(40, "let fall")], [of_move("c6e7", verdict)])
        assert (one["holding"], one["holding_ways"]) == (["Nb4"], ["move"])
        assert one["outcome"] == "let fall"


def test_a_move_that_holds_after_all_is_named_last_and_once() -> None:
    for move, holding in (("c6a5", ["Nb4", "Ne7", "Na5"]), ("c6b4", ["Nb4", "Ne7"])):
        (one,) = apply_corrections([occasion(40, "let fall")], [of_move(move, "holds")])
        assert one["holding"] == holding
        assert len(one["holding_ways"]) == len(holding)
        assert one["outcome"] == "let fall"


def test_what_is_said_of_the_move_played_makes_the_outcome() -> None:
    rows: tuple[tuple[str, str, MoveVerdict, str], ...] = (
        ("let fall", "g8h8", "holds", "held"),
        ("exposed", "g8h8", "holds", "held"),
        ("exposed", "g8h8", "falls", "exposed"),
        ("held", "c6b4", "falls", "let fall"),
        ("held", "c6b4", "holds", "held"),
    )
    for outcome, move, verdict, meant in rows:
        (one,) = apply_corrections([occasion(40, outcome)], [of_move(move, verdict)])
        assert one["outcome"] == meant
        game = student_game([one])
        assert episodes_of(game)[0].held == (meant == "held")
    taking = occasion(40, "let off", kind="taking", episode=None)
    (one,) = apply_corrections([taking], [of_move("g8h8", "holds", "taking")])
    assert one["outcome"] == "seized"
    assert apply_corrections([taking], [of_move("g8h8", "holds")]) == (taking,)


def test_where_the_move_played_is_struck_nothing_counts() -> None:
    assert apply_corrections([occasion(40)], [of_move("c6b4", None)]) == ()


def test_what_is_said_of_the_occasion_goes_before_what_is_said_of_the_move() -> None:
    whole = Correction("1", 40, "danger", "saved most", "as agreed")
    said: list[Said] = [whole, of_move("c6b4", None)]
    (one,) = apply_corrections([occasion(40)], said)
    assert (one["outcome"], one["holding"]) == ("saved most", ["Ne7"])


def test_where_the_last_holding_move_is_struck_nothing_could_be_held() -> None:
    said = [of_move("c6b4", None), of_move("c6e7", "falls")]
    (one,) = apply_corrections([occasion(40, "let fall")], said)
    assert not episodes_of(student_game([one]))[0].could_hold
