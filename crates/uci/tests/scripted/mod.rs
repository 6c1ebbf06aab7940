//! A thinker that follows a script, and a client that talks to it through pipes.

use std::io::{BufRead, BufReader, PipeWriter, Write, pipe};
use std::sync::atomic::Ordering;
use std::sync::{Arc, Mutex, mpsc};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};

use fastness_core::rules;
use fastness_uci::{Limits, Score, Thinks, Thought, converse};
use shakmaty::{Chess, Position};

/// How long a test waits for a line that must come.
const PATIENCE: Duration = Duration::from_secs(20);

/// Visits a hundred nodes a depth, and takes at each depth the next legal move and score.
pub struct Scripted {
    scores: Vec<Score>,
    heard: Arc<Mutex<Vec<String>>>,
}

impl Scripted {
    fn hear(&self, what: String) {
        self.heard.lock().unwrap().push(what);
    }
}

impl Thinks for Scripted {
    fn resize(&mut self, hash_bytes: usize) {
        self.hear(format!("resize {hash_bytes}"));
    }

    fn forget(&mut self) {
        self.hear("forget".to_owned());
    }

    fn think(
        &mut self,
        position: &Chess,
        before: &[Chess],
        limits: &Limits<'_>,
        told: &mut dyn FnMut(&Thought),
    ) -> Thought {
        self.hear(format!("think {} {}", before.len(), rules::fen(position)));
        let moves = position.legal_moves();
        let begun = Instant::now();
        let mut thought = Thought {
            best: moves.first().copied(),
            line: moves.first().copied().into_iter().collect(),
            score: self.scores[0],
            depth: 0,
            nodes: 0,
        };
        if moves.is_empty() {
            return thought;
        }
        for depth in 1..=limits.depth.unwrap_or(u32::MAX) {
            let stopped = limits.stop.is_some_and(|stop| stop.load(Ordering::Relaxed));
            let late = limits.time.is_some_and(|time| begun.elapsed() >= time);
            if stopped || late || limits.nodes.is_some_and(|most| thought.nodes + 100 > most) {
                break;
            }
            let at = depth as usize - 1;
            let m = moves[at % moves.len()];
            thought = Thought {
                best: Some(m),
                line: vec![m],
                score: self.scores[at.min(self.scores.len() - 1)],
                depth,
                nodes: thought.nodes + 100,
            };
            told(&thought);
            thread::sleep(Duration::from_millis(1));
        }
        thought
    }
}

/// A client in a conversation on another thread.
pub struct Client {
    to: Option<PipeWriter>,
    from: mpsc::Receiver<String>,
    heard: Arc<Mutex<Vec<String>>>,
    conversation: JoinHandle<()>,
}

impl Client {
    pub fn new() -> Client {
        Client::with_scores(&[Score::Centipawns(20)])
    }

    pub fn with_scores(scores: &[Score]) -> Client {
        let (commands, to) = pipe().unwrap();
        let (answers, sent) = pipe().unwrap();
        let heard = Arc::new(Mutex::new(Vec::new()));
        let thinker = Scripted {
            scores: scores.to_vec(),
            heard: Arc::clone(&heard),
        };
        let conversation =
            thread::spawn(move || converse(BufReader::new(commands), sent, thinker).unwrap());
        let (pass_on, from) = mpsc::channel();
        thread::spawn(move || {
            for line in BufReader::new(answers).lines() {
                let _ = pass_on.send(line.unwrap());
            }
        });
        Client {
            to: Some(to),
            from,
            heard,
            conversation,
        }
    }

    pub fn send(&mut self, text: &str) {
        self.send_bytes(format!("{text}\n").as_bytes());
    }

    pub fn send_bytes(&mut self, bytes: &[u8]) {
        self.to.as_mut().unwrap().write_all(bytes).unwrap();
    }

    /// The lines up to the first that begins so.
    pub fn until(&self, beginning: &str) -> Vec<String> {
        let mut lines = Vec::new();
        loop {
            let line = self
                .from
                .recv_timeout(PATIENCE)
                .unwrap_or_else(|_| panic!("no {beginning} after {lines:?}"));
            let last = line.starts_with(beginning);
            lines.push(line);
            if last {
                return lines;
            }
        }
    }

    /// The lines that come before the answer to `isready`.
    pub fn before_ready(&mut self) -> Vec<String> {
        self.send("isready");
        let mut lines = self.until("readyok");
        lines.pop();
        lines
    }

    /// What the thinker was asked so far.
    pub fn heard(&self) -> Vec<String> {
        self.heard.lock().unwrap().clone()
    }

    /// The lines that still come after the input has ended.
    pub fn end(mut self) -> Vec<String> {
        drop(self.to.take());
        self.conversation.join().unwrap();
        self.from.iter().collect()
    }
}
