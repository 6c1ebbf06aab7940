//! Which units are unsafe: the fast search against the plain reference, the same squares.

mod positions;

use fastness_core::{Search, SearchBoard, Values};
use fastness_reference as reference;
use positions::{Sample, from_historic_games, from_perft_lists, from_random_play};
use shakmaty::Square;

/// One position in so many is compared at reach 3 as well.
const REACH_THREE_EVERY: usize = 30;

fn differences(samples: &[Sample], reach: u32) -> (usize, Vec<String>) {
    let mut search = Search::new(Values::classical());
    let (mut unsafe_squares, mut differences) = (0, Vec::new());
    for sample in samples {
        let board = SearchBoard::new(&sample.pos, search.values());
        let fast: Vec<Square> = search.unsafe_units(&board, reach).into_iter().collect();
        let plain = reference::unsafe_units(&sample.pos, &reference::Values::classical(), reach);
        let plain = plain.unwrap_or_default();
        unsafe_squares += plain.len();
        if fast != plain {
            let fen = sample.fen();
            differences.push(format!(
                "{fen} ({}), reach {reach}: fast {fast:?}, plain {plain:?}",
                sample.origin
            ));
        }
    }
    (unsafe_squares, differences)
}

#[test]
fn fast_search_and_reference_name_the_same_units() {
    let mut samples = from_historic_games();
    samples.extend(from_random_play(300, 7));
    samples.extend(from_perft_lists(300, 8));
    assert!(samples.len() >= 1800);
    let some: Vec<Sample> = samples.iter().step_by(REACH_THREE_EVERY).cloned().collect();
    for (samples, reach) in [(&samples, 1), (&samples, 2), (&some, 3)] {
        let (unsafe_squares, differences) = differences(samples, reach);
        assert!(
            unsafe_squares > samples.len() / 4,
            "hardly a unit is unsafe"
        );
        assert!(differences.is_empty(), "{}", differences.join("\n"));
    }
}
