"""One game while it is being read: tags first, then the main line, piece by piece."""

import chess

from fastness.errors import MoveError, PositionError
from fastness.intake.game import Game, Kind, Problem
from fastness.intake.movetext import Kind as Piece
from fastness.intake.movetext import times, without_times
from fastness.intake.san import is_spelled_like_a_move, play
from fastness.intake.start import start

_ORDINARY = ("", "standard", "chess", "normal", "orthodox")
# The 75-move rule ends every game before this; a file that goes on is not one.
_LONGEST = 20_000
_MOST_PROBLEMS = 50
_GLYPHS = {"!": "$1", "?": "$2", "!!": "$3", "??": "$4", "!?": "$5", "?!": "$6"}
_RESULTS = {"1/2": "1/2-1/2", "½-½": "1/2-1/2"}


class Draft:
    """A game being read. Problems gather in `problems`, the game itself is made by `finish`."""

    def __init__(self, file: str, number: int, line: int) -> None:
        """Begin a game at this line of the file, `number` counting from 1."""
        self.file = file
        self.number = number
        self.line = line
        self.tags: dict[str, str] = {}
        self.problems: list[Problem] = []
        self._last_line = line
        self.begun = False
        """Whether movetext has come, so that tags from now on belong to the next game."""
        self.over: str | None = None
        """The result that ended the movetext."""
        self._meant = False
        self._broken = False
        self._playable = True
        self._board = chess.Board()
        self._start_fen = chess.STARTING_FEN
        self._moves: list[str] = []
        self._clocks: list[float | None] = []
        self._spent: list[float | None] = []
        self._beside = [""]
        self._variations: list[int] = []
        self._odd = False

    @property
    def barren(self) -> bool:
        """Whether nothing of a game has been found: no tag and nothing spelled like a move."""
        return not (self._meant or self._moves)

    def problem(self, line: int, sentence: str, kind: Kind = "error") -> None:
        """Note something wrong with this game; the place is put before the sentence."""
        if len(self.problems) >= _MOST_PROBLEMS:
            return
        where = f"{self.file}, game {self.number}, line {line}: "
        self.problems.append(Problem(self.file, self.number, line, where + sentence, kind))

    def tag(self, line: int, name: str, value: str) -> None:
        """Take a tag; of two with one name the first stands."""
        self._meant = True
        self._last_line = line
        if name in self.tags:
            self.problem(line, f"the tag {name} is there twice; the first one counts.", "notice")
        else:
            self.tags[name] = value

    def spoilt_tag(self, line: int, text: str) -> None:
        """Note a tag that cannot be read."""
        self._meant = True
        self._last_line = line
        self.problem(line, f'the tag {text[:60]} is not of the form [Name "value"]; it is lost.')

    def piece(self, line: int, kind: Piece, text: str) -> None:
        """Take the next piece of the movetext."""
        self._last_line = line
        if not self.begun:
            self._begin()
        if kind == "open":
            self._variations.append(line)
            self._put_beside(kind, text)
        elif kind == "close":
            self._close(line)
        elif kind == "odd" or kind == "nested":
            self._strange(line, kind, text)
        elif not self._variations and not self._broken:
            self._main_line(line, kind, text)
        elif kind in ("move", "number", "comment", "nag"):
            self._put_beside(kind, text)
        if kind == "result" and not self._variations:
            self.over = _RESULTS.get(text, text)

    def _main_line(self, line: int, kind: Piece, text: str) -> None:
        if kind == "move":
            self._move(line, text)
        elif kind == "comment":
            self._comment(text)
        elif kind == "nag":
            self._put_beside(kind, _GLYPHS.get(text, text))

    def finish(self, cut: str | None = None, *, last: bool = False) -> Game | None:
        """The game as far as it could be read, or None if its start cannot be set up.

        `cut` tells why it ends early, if that is known; otherwise a missing result is a notice,
        or for the last game of a file an error, since the file may have been cut.
        """
        line = self._last_line
        if not self.begun:
            self._begin()
        if self._variations:
            self.problem(
                self._variations[0], "the '(' here is never closed; what follows is not read."
            )
        if cut is not None:
            self.problem(line, f"{cut}. {self._kept()}")
        elif self.over is None and not self._variations:
            if last:
                self.problem(line, "the game ends without a result; the file may be cut off.")
            else:
                self.problem(line, "the game ends without a result.", "notice")
        if not self._playable:
            return None
        return Game(
            self.file,
            self.number,
            self.line,
            self.tags,
            self._start_fen,
            tuple(self._moves),
            tuple(self._clocks),
            self._result(line),
            tuple(self._spent),
            self._all_beside(),
        )

    def _all_beside(self) -> tuple[str, ...]:
        """What stood beside the moves that were kept; what was left open is closed."""
        kept = self._beside[: len(self._moves) + 1]
        if not self._broken:
            kept[-1] += ")" * len(self._variations)
        return tuple(kept) if any(kept) else ()

    def _put_beside(self, kind: Piece, text: str) -> None:
        """Keep a piece that is no move of the main line, unless the main line is broken off."""
        if self._broken:
            return
        if kind == "comment":
            # Braces do not nest, and what came after a semicolon may hold some.
            text = f"{{{' '.join(text.replace('{', '(').replace('}', ')').split())}}}"
        before = self._beside[-1]
        joined = not before or before.endswith("(") or kind == "close"
        self._beside[-1] = before + text if joined else f"{before} {text}"

    def _begin(self) -> None:
        self.begun = True
        variant = self.tags.get("Variant", "")
        if variant.strip().lower() not in _ORDINARY:
            sentence = f'the Variant tag says "{variant}"; it is read by the ordinary rules.'
            self.problem(self.line, sentence, "notice")
        try:
            self._board, dropped = start(self.tags)
        except PositionError as error:
            self._playable, self._broken = False, True
            self.problem(self.line, f"{error}. The game cannot be read.")
            return
        if dropped is not None:
            self.problem(self.line, f"{dropped}.", "notice")
        if self.tags.get("FEN"):
            self._start_fen = self._board.fen()

    def _close(self, line: int) -> None:
        if self._variations:
            self._variations.pop()
            self._put_beside("close", ")")
        else:
            self.problem(line, "a ')' stands here without its '('; it is passed over.", "notice")

    def _strange(self, line: int, kind: Piece, text: str) -> None:
        if kind == "nested":
            sentence = "comments in braces cannot hold others; the whole is read as one comment."
            self.problem(line, sentence, "notice")
        elif not self._odd and not self._broken and not self._variations:
            # One notice a game is enough for marks of some other program's own.
            self._odd = True
            sentence = f"'{text}' means nothing in PGN; it and its like are passed over."
            self.problem(line, sentence, "notice")

    def _move(self, line: int, san: str) -> None:
        if len(self._moves) >= _LONGEST:
            self._broken = True
            self.problem(line, f"the game is longer than any can be. {self._kept()}")
            return
        number, white = self._board.fullmove_number, self._board.turn
        try:
            move = play(self._board, san)
        except MoveError as error:
            self._broken = True
            self._meant = self._meant or is_spelled_like_a_move(san)
            colour = "White" if white else "Black"
            self.problem(line, f"at {colour}'s move {number}, {error}. {self._kept()}")
            return
        self._moves.append(move.uci())
        self._clocks.append(None)
        self._spent.append(None)
        self._beside.append("")

    def _kept(self) -> str:
        plies = len(self._moves)
        if not plies:
            return "No move of the game is kept."
        kept = "The ply before it is" if plies == 1 else f"The {plies} plies before it are"
        return f"{kept} kept, the rest of the game is not."

    def _comment(self, text: str) -> None:
        left, spent = times(text)
        if self._moves and left is not None:
            self._clocks[-1] = left
        if self._moves and spent is not None:
            self._spent[-1] = spent
        remark = without_times(text) if self._moves else text.strip()
        if remark:
            self._put_beside("comment", remark)

    def _result(self, line: int) -> str:
        tagged = self.tags.get("Result", "*").strip()
        told = tagged if tagged in ("1-0", "0-1", "1/2-1/2") else "*"
        if self.over is None or self.over == "*":
            return told
        if told not in ("*", self.over):
            sentence = f"the Result tag says {told}, the moves end in {self.over}; the end counts."
            self.problem(line, sentence, "notice")
        return self.over
