//! The fast search against the plain reference at reach 1, to the centipawn.

use std::cell::RefCell;

use fastness_core::{Search, SearchBoard, Values};
use fastness_reference as reference;
use shakmaty::{Chess, Position, Square};

use crate::choices::Choices;
use crate::placed::{position, told};

const REACH: u32 = 1;
/// Of the moves, so many neighbours are compared: the plain search takes most of the time.
const MOVES: usize = 5;
/// What the side to move may be owed, in centipawns, as in the middle of a trade.
const OWED: [i32; 8] = [0, 0, 0, 100, 300, -100, 500, -900];

thread_local! {
    /// Kept from one position to the next, since what a search remembers must change no answer.
    static SEARCHES: RefCell<Vec<(Search, reference::Values)>> = RefCell::new(vec![
        (Search::new(Values::classical()), reference::Values::classical()),
        (Search::new(Values::kaufman()), reference::Values::kaufman()),
    ]);
}

/// Makes a position of the bytes, by legal moves from the start or put together unit by unit, and
/// asks both searches for its danger, the nets of some of its moves, and which units are unsafe.
///
/// # Panics
///
/// Where the two differ.
pub fn search(bytes: &[u8]) {
    let mut choices = Choices::new(bytes);
    let table = choices.below(2);
    let owed = choices.of(&OWED);
    let first = choices.below(256);
    let Some(position) = position(&mut choices) else {
        return;
    };
    SEARCHES.with_borrow_mut(|searches| {
        let (fast, values) = &mut searches[table];
        agree(&position, owed, first, fast, values);
    });
}

/// Asks both searches about one position; the moves compared begin at `first`.
fn agree(position: &Chess, owed: i32, first: usize, fast: &mut Search, values: &reference::Values) {
    let stands = told(position);
    let base = reference::balance(position.board(), values, position.turn().other()) - owed;
    assert_eq!(
        fast.danger(position, REACH, base),
        reference::danger(position, values, REACH, base),
        "the danger in {stands}, owed {owed}"
    );

    let nets = fast.nets(position, REACH, base);
    assert_eq!(
        nets.len(),
        position.legal_moves().len(),
        "the moves in {stands}"
    );
    for (m, net) in nets.iter().cycle().skip(first).take(MOVES.min(nets.len())) {
        let plain = reference::net(position, *m, values, REACH, base);
        assert_eq!(*net, plain, "the net of {m} in {stands}, owed {owed}");
    }

    let board = SearchBoard::new(position, fast.values());
    let units: Vec<Square> = fast.unsafe_units(&board, REACH).into_iter().collect();
    let plain = reference::unsafe_units(position, values, REACH).unwrap_or_default();
    assert_eq!(units, plain, "the unsafe units in {stands}");
}
