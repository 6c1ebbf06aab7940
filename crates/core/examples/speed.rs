use fastness_core::*;
use shakmaty::{CastlingMode, Chess, Position, fen::Fen};
use std::time::Instant;
fn main() {
    let text = std::fs::read_to_string(std::env::args().nth(1).unwrap()).unwrap();
    let reach: u32 = std::env::args().nth(2).unwrap().parse().unwrap();
    let mut search = Search::new(Values::classical());
    let (mut times, mut nodes) = (vec![], vec![]);
    let mut sum = 0i64;
    for line in text.lines().filter(|l| !l.starts_with('#')).take(300) {
        let fen: Fen = line.parse().unwrap();
        let pos: Chess = fen.into_position(CastlingMode::Standard).unwrap();
        let before = search.nodes();
        let start = Instant::now();
        let base = SearchBoard::new(&pos, search.values()).balance(!pos.turn());
        let b = SearchBoard::new(&pos, search.values());
        search.begin(search::base_for_white(base, !pos.turn()));
        let exact = std::env::args().nth(3).is_some();
        for m in b.legal_moves() {
            let child = b.after(m, search.values());
            let mut guess = 0;
            for r in 1..=reach {
                if exact {
                    if r == reach {
                        guess = search.value(&child, 2 * r - 1, guess);
                    } else {
                        search.reaches(&child, 2 * r - 1, 50);
                    }
                    if r == reach {
                        sum += guess as i64;
                    }
                } else {
                    let f = search.reaches(&child, 2 * r - 1, 50);
                    if r == reach {
                        sum += f as i64;
                    }
                }
            }
        }
        times.push(start.elapsed().as_secs_f64() * 1e3);
        nodes.push((search.nodes() - before) as f64);
    }
    times.sort_by(f64::total_cmp);
    let n = times.len();
    let tot: f64 = times.iter().sum();
    let nn: f64 = nodes.iter().sum();
    println!(
        "n {n} median {:.2} ms mean {:.2} p95 {:.2} nodes mean {:.0} rate {:.2} M/s sum {sum}",
        times[n / 2],
        tot / n as f64,
        times[n * 95 / 100],
        nn / n as f64,
        nn / tot / 1e3
    );
}
