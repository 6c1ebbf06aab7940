//! The conversation with a client, from its first line to the last.

use std::io::{self, BufRead, Write};

use fastness_core::rules;

use crate::command::Command;
use crate::game::Game;
use crate::go::Go;
use crate::options::{self, HASH_BYTES, Setting};
use crate::output::Output;
use crate::running::Running;
use crate::thinks::Thinks;

/// Answers UCI commands until `quit` or the end of the input. Thinking that is still going on
/// then is stopped, and its best move sent.
///
/// # Errors
///
/// Where the input cannot be read or the client no longer listens.
pub fn converse(
    mut input: impl BufRead,
    output: impl Write + Send + 'static,
    thinker: impl Thinks,
) -> io::Result<()> {
    let mut conversation = Conversation::new(Output::new(output), thinker);
    let mut line = Vec::new();
    let mut done = Ok(true);
    while let Ok(true) = done {
        line.clear();
        done = match input.read_until(b'\n', &mut line) {
            Ok(0) => Ok(false),
            Ok(_) => conversation.answer(&String::from_utf8_lossy(&line)),
            Err(error) => Err(error),
        };
    }
    conversation.rest(|_| {});
    done.map(|_| ())
}

/// Where the thinker is.
enum Work<T> {
    Idle(T),
    Running(Running<T>),
}

struct Conversation<T> {
    output: Output,
    /// `None` only while the thinker changes hands.
    work: Option<Work<T>>,
    game: Game,
    debug: bool,
}

impl<T: Thinks> Conversation<T> {
    fn new(output: Output, mut thinker: T) -> Conversation<T> {
        thinker.resize(HASH_BYTES);
        Conversation {
            output,
            work: Some(Work::Idle(thinker)),
            game: Game::default(),
            debug: false,
        }
    }

    /// Answers one line; false when the client is done.
    fn answer(&mut self, line: &str) -> io::Result<bool> {
        match Command::read(line) {
            Some(Command::Uci) => self.introduce()?,
            Some(Command::Debug(on)) => self.debug = on,
            Some(Command::IsReady) => self.output.line("readyok")?,
            Some(Command::SetOption { name, value }) => self.set(&name, value.as_deref())?,
            Some(Command::NewGame) => self.rest(T::forget),
            Some(Command::Position { fen, moves }) => self.set_up(fen.as_deref(), &moves)?,
            Some(Command::Go(go)) => self.go(go),
            Some(Command::Stop) => self.running().map_or((), Running::stop),
            Some(Command::PonderHit) => self.running().map_or((), Running::ponder_hit),
            Some(Command::Quit) => return Ok(false),
            None => self.pass_over(line)?,
        }
        Ok(true)
    }

    fn introduce(&self) -> io::Result<()> {
        let name = concat!("id name fastness ", env!("CARGO_PKG_VERSION"));
        self.output.line(name)?;
        self.output.line("id author the fastness project")?;
        for option in options::lines() {
            self.output.line(&option)?;
        }
        self.output.line("uciok")
    }

    fn set(&mut self, name: &str, value: Option<&str>) -> io::Result<()> {
        match options::setting(name, value) {
            Ok(Some(Setting::HashBytes(bytes))) => self.rest(|thinker| thinker.resize(bytes)),
            Ok(Some(Setting::ClearHash)) => self.rest(T::forget),
            Ok(None) => {}
            Err(message) => self.output.remark(&message)?,
        }
        Ok(())
    }

    fn set_up(&mut self, fen: Option<&str>, moves: &[String]) -> io::Result<()> {
        match Game::play(fen, moves) {
            Ok(game) => self.game = game,
            Err(error) => {
                let kept = rules::fen(&self.game.position);
                self.output
                    .remark(&format!("{error} The position stays {kept}"))?;
            }
        }
        Ok(())
    }

    fn go(&mut self, go: Go) {
        let thinker = self.take();
        let running = Running::start(thinker, self.game.clone(), go, self.output.clone());
        self.work = Some(Work::Running(running));
    }

    fn running(&self) -> Option<&Running<T>> {
        match &self.work {
            Some(Work::Running(running)) => Some(running),
            _ => None,
        }
    }

    /// Ends what thinking there is, and lets the thinker do something else.
    fn rest(&mut self, with: impl FnOnce(&mut T)) {
        let mut thinker = self.take();
        with(&mut thinker);
        self.work = Some(Work::Idle(thinker));
    }

    /// The thinker, after the best move of what it was thinking about has been sent.
    fn take(&mut self) -> T {
        match self.work.take() {
            Some(Work::Idle(thinker)) => thinker,
            Some(Work::Running(running)) => running.end(),
            None => unreachable!("whoever takes the thinker puts it back"),
        }
    }

    fn pass_over(&self, line: &str) -> io::Result<()> {
        let line = line.trim();
        if self.debug && !line.is_empty() {
            self.output
                .remark(&format!("nothing to do in \"{line}\""))?;
        }
        Ok(())
    }
}
