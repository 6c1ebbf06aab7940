"""A move that falls with its refutation played through, and the names of those who take part."""

from __future__ import annotations

from collections.abc import Iterable

import chess

from fastness.language import marked
from fastness.survey.claim import Falls, Owed
from fastness.survey.findings import Findings
from fastness.survey.lines import move_name, numbered_move
from fastness.survey.nouns import Noun, all_of, on_square
from fastness.survey.scene import Step, play
from fastness.survey.tries import taken_on
from fastness.survey.words import CENTIPAWNS, THRESHOLD

REST = 2
"""Units named beside the one that is lost, where several are attacked at once."""

FOR_LESS = marked("{lost} is taken in the end, for something worth less")

Parts = tuple[str, dict[str, Noun | str]]


class Teller:
    """Tells one fall's reason with the units that take part, on the boards of its line.

    `you`: the side spoken to, whose units are "your".
    """

    def __init__(self, found: Findings, falls: Falls, you: bool | None) -> None:
        self.found = found
        self.falls = falls
        self.you = you
        self.steps: tuple[Step, ...] = play(found.position.fen, falls.line)
        self.squares = [chess.parse_square(name) for name in falls.squares]
        self.own = found.board.turn

    def name(self, board: chess.Board, square: int) -> Noun:
        """What stands on a square."""
        name = chess.square_name(square)
        return on_square(board, name, self.found.language, you=self.you)

    def names(self, board: chess.Board, squares: list[int]) -> Noun:
        """What stands on several squares, as one name."""
        return all_of([self.name(board, square) for square in squares], self.found.language)

    def some(self, board: chess.Board, squares: list[int]) -> Noun:
        """The dearest of the units on `squares`."""
        dearest = sorted(squares, key=lambda at: -(board.piece_type_at(at) or 0))
        return self.names(board, dearest[:REST])

    def after(self) -> chess.Board:
        """The board after the move."""
        return self.steps[0].after

    def seen(self, board: chess.Board, squares: Iterable[int]) -> bool:
        """Whether a player sees what stands on `squares` once the move is made."""
        after = self.after()
        return self.you is None or all(board.piece_at(at) == after.piece_at(at) for at in squares)

    def opened_for(self, square: int) -> int | None:
        """What alone attacks a square after the move, and did not before; None if it is not so."""
        before, after = self.steps[0].before, self.after()
        now = set(after.attackers(not self.own, square))
        news = now - set(before.attackers(not self.own, square))
        return news.pop() if len(now) == 1 and news else None

    def own_on(self, squares: list[int]) -> list[int]:
        """Those of `squares` where a unit of the mover's stands after the move."""
        return [square for square in squares if self.after().color_at(square) == self.own]

    def stands(self, names: Iterable[str]) -> list[int]:
        """Where units of the survey's position stand after the move."""
        start, end = (chess.parse_square(self.falls.move[at : at + 2]) for at in (0, 2))
        squares = map(chess.parse_square, names)
        return self.own_on([end if square == start else square for square in squares])

    def saved(self, squares: list[int]) -> Noun:
        """Units that stand on `squares` after a move that saves them; to a player, as before it."""
        if self.you is None:
            return self.some(self.after(), squares)
        start, end = (chess.parse_square(self.falls.move[at : at + 2]) for at in (0, 2))
        return self.some(self.found.board, [start if at == end else at for at in squares])

    def lost(self) -> list[int]:
        """The mover's units that the line loses, where they stand after the move."""
        return self.stands(self.falls.drops)

    def in_the_end(self, squares: list[int]) -> list[int]:
        """Those of `squares` whose units the line loses on balance; else what it loses instead.

        What is only exchanged is not what is lost.
        """
        lost = self.lost()
        return [square for square in squares if square in lost] or lost[:REST] or squares

    def in_danger_before(self, squares: list[int]) -> bool:
        """Whether all that stands on `squares` after the move was in danger before it."""
        return set(squares) <= set(self.stands(self.found.endangered()))

    def answer_takes(self) -> int | None:
        """Where the unit stands that the opponent's answer takes, if it takes one."""
        answer = self.steps[1]
        return taken_on(answer.before, answer.move) if answer.takes else None

    def numbered(self, step: Step) -> str:
        """A move of the line; with its number where nobody is spoken to."""
        name = numbered_move if self.you is None else move_name
        return name(step.before, step.move.uci(), self.found.language)

    def taken_later(self, squares: list[int]) -> Parts:
        """That units are taken in the end, or as they would have been without the move.

        Of one that is worth more than is lost, that too.
        """
        if told := self.staked(squares) or self._drawn_away(squares):
            return told
        loses, own = self.falls.loses, self.after()
        if len(squares) == 1 and isinstance(loses, int) and not self.found.one(Owed):
            kind = own.piece_type_at(squares[0])
            if kind and CENTIPAWNS.get(kind, 0) >= loses + THRESHOLD:
                return self.fall(FOR_LESS, FOR_LESS, squares)
        if self.in_danger_before(squares):
            return self.fall(
                marked("{lost} is still taken"), marked("{lost} are still taken"), squares
            )
        return self.fall(
            marked("{lost} is taken in the end"), marked("{lost} are taken in the end"), squares
        )

    def staked(self, squares: list[int]) -> Parts | None:
        """What the answer threatens beside what is taken in the end, where that is claimed."""
        stake = self.found.at_stake(self.falls.line)
        lost = {chess.square_name(square) for square in squares}
        more = [chess.parse_square(at) for at in stake.squares if at not in lost] if stake else []
        if not more:
            return None
        return self.fall(
            marked("{move} puts {units} in danger too, and {lost} is taken in the end"),
            marked("{move} puts {units} in danger too, and {lost} are taken in the end"),
            squares,
            move=self.numbered(self.steps[1]),
            units=self.some(self.steps[1].after, more),
        )

    def _drawn_away(self, squares: list[int]) -> Parts | None:
        """That what moved has to leave again for the answer: it takes back, or ends a check."""
        if len(self.steps) < 4:
            return None
        answer, back = self.steps[1:3]
        forced = back.takes and back.move.to_square == answer.move.to_square
        forced = forced or answer.after.is_check()
        moved = chess.parse_square(self.falls.move[2:4])
        if not forced or back.move.from_square != moved or moved in squares:
            return None
        return self.fall(
            marked("{move} draws {unit} away, and {lost} is taken"),
            marked("{move} draws {unit} away, and {lost} are taken"),
            squares,
            move=self.numbered(answer),
            unit=self.name(answer.after, moved),
        )

    def fall(self, one: str, many: str, squares: list[int], **values: Noun | str) -> Parts:
        """A text on units that fall, which stand on `squares` after the move."""
        lost = self.names(self.after(), squares)
        return (one if len(squares) == 1 else many), {**values, "lost": lost}
