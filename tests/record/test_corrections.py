"""The teacher's corrections come before everything that is computed."""

from hypothesis import given, settings
from hypothesis import strategies as st

from fastness.record import (
    Correction,
    apply_corrections,
    corrected_games,
    diagnose,
    episodes_of,
)
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
