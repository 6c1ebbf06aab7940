"""By which way a move can keep the material: what must be so on the board for each way."""

from collections.abc import Callable, Iterator, Sequence

import chess

from fastness.survey.move_claim import Aim
from tests.judge.board import (
    THRESHOLD,
    bears,
    exchange,
    lined_up,
    slides,
    taken_on,
    through,
    worth_on,
)
from tests.judge.plain import PASS, mating
from tests.judge.played import Step, played
from tests.judge.worth import Position, best_lines

CHARGED = ("unsafe", "unsafe together", "won back", "safe by tactics", "in check")


class Remedy:
    """A move, the threats it may answer, and the lines in which they are carried out."""

    def __init__(self, position: Position, uci: str) -> None:
        self.position, self.board = position, position.board
        self.move = chess.Move.from_uci(uci)
        self.after = self.board.copy(stack=False)
        self.after.push(self.move)
        survey = position.survey
        self.charged = {
            chess.parse_square(unit["square"])
            for unit in survey["units"]
            if unit["status"] in CHARGED
        } | {chess.parse_square(square) for square in survey["promotions"]}
        self.carriers = set(self.board.checkers())
        self.landings: set[int] = set()
        for unit in survey["units"]:
            if unit["line"]:
                self._carry(unit["line"])
        if not survey["in_check"]:
            for uci in position.threats(survey["reach"]):
                self._carry([PASS, uci])

    def _carry(self, line: list[str]) -> None:
        for index, step in enumerate(played(self.board.fen(), line).steps):
            if step.side != self.board.turn:
                self.landings.add(step.move.to_square)
                if index == 0 or step.taken is not None:
                    self.carriers.add(step.homes[step.move.from_square])

    def best_play(self) -> Iterator[Step]:
        """The opponent's captures in best play after the threats, all best replies tried."""
        survey, own = self.position.survey, self.board.turn
        if survey["in_check"]:
            return
        for uci in self.position.threats(survey["reach"]):
            for line in best_lines(self.position, [PASS, uci], survey["reach"]):
                steps = played(self.board.fen(), line).steps
                yield from (step for step in steps if step.side != own and step.taken is not None)

    def lines(self) -> Iterator[chess.SquareSet]:
        """The squares between each slider of the opponent and every unit on its lines."""
        own = self.board.turn
        for slider in chess.SquareSet(self.board.occupied_co[not own]):
            for unit in chess.SquareSet(self.board.occupied_co[own]):
                if slides(self.board, slider, unit):
                    yield chess.SquareSet.between(slider, unit)

    @property
    def taken(self) -> int | None:
        return taken_on(self.board, self.move)


def captures(one: Remedy) -> bool:
    """Takes a unit that carries out a threat, or takes back what is owed."""
    if one.taken is None:
        return False
    if one.taken in one.carriers or one.position.survey["owed"] > 0:
        return True
    return any(one.taken == step.homes[step.move.from_square] for step in one.best_play())


def moves(one: Remedy) -> bool:
    """A unit in danger leaves its square; castling counts for king and rook."""
    castles = one.board.is_castling(one.move)
    if castles or one.move.from_square in one.charged:
        return True
    return any(one.move.from_square == step.victim for step in one.best_play())


def blocks(one: Remedy, ends: Sequence[str] = ()) -> bool:
    """A unit that takes nothing lands strictly between a slider and what it bears on.

    `ends` are the squares of a slider and of what it bears on, where they are told: the slider
    stands there now, or comes there in a line.
    """
    if one.taken is not None:
        return False
    if not ends:
        return any(one.move.to_square in inside for inside in one.lines())
    start, end = (chess.parse_square(name) for name in ends)
    inside = one.move.to_square in chess.SquareSet.between(start, end)
    kind = one.board.piece_at(start)
    if kind is None or kind.color == one.board.turn:
        return inside and start in one.landings
    return inside and slides(one.board, start, end)


def guards(one: Remedy) -> bool:
    """A unit of its own side, or a square where a threat lands, has a guard it had not."""
    own = one.board.turn
    targets = set(chess.SquareSet(one.after.occupied_co[own])) | one.landings | one.charged
    return any(_new_guards(one, target, own) for target in targets - {one.move.to_square})


def _new_guards(one: Remedy, square: int, own: chess.Color) -> set[int]:
    before = through(one.board, own, square)
    free = {guard for guard in before if not one.board.is_pinned(own, guard)}
    if one.move.from_square in free:
        free.add(one.move.to_square)
    return through(one.after, own, square) - free


def counterattacks(one: Remedy) -> bool:
    """A check, a capture elsewhere, a promotion or the threat of one, a new attack, a pin, or the
    threat of mate."""
    if one.after.is_check() or one.taken is not None or one.move.promotion:
        return True
    return (
        any(True for _ in _attacked_anew(one))
        or _pins_anew(one)
        or _promotes_anew(one)
        or _mates_in_answer(one)
    )


def _attacked_anew(one: Remedy) -> Iterator[int]:
    """The opponent's units that a unit bears on anew and could take with gain next."""
    own = one.board.turn
    turned = one.after.copy(stack=False)
    turned.push(chess.Move.null())
    for square in chess.SquareSet(one.after.occupied_co[not own]):
        fresh = bears(one.after, own, square) - bears(one.board, own, square)
        for capture in turned.generate_legal_captures(to_mask=chess.BB_SQUARES[square]):
            if capture.from_square in fresh and exchange(turned, square, capture) >= THRESHOLD:
                yield square


def _pins_anew(one: Remedy) -> bool:
    own = one.board.turn

    def pins(board: chess.Board) -> set[tuple[int, int]]:
        return {
            (pin.slider, pin.front)
            for pin in lined_up(board, own)
            if worth_on(board, pin.back) > worth_on(board, pin.front)
        }

    return bool(pins(one.after) - pins(one.board))


def _promotes_anew(one: Remedy) -> bool:
    """A pawn could next become a queen that nothing attacks or something guards, and could not."""
    own = one.board.turn

    def stands(board: chess.Board) -> set[int]:
        found = set()
        for move in board.legal_moves:
            if move.promotion == chess.QUEEN:
                board.push(move)
                if not bears(board, not own, move.to_square) or bears(board, own, move.to_square):
                    found.add(move.to_square)
                board.pop()
        return found

    turned = one.after.copy(stack=False)
    turned.push(chess.Move.null())
    return bool(stands(turned) - stands(one.board))


def _mates_in_answer(one: Remedy) -> bool:
    """A threat that is carried out after the move is answered by mate."""
    position = one.position
    plies = 2 * position.reach - 2
    return any(
        mating(-position.value([one.move.uci(), uci], plies, not position.own, position.base))
        for uci in position.threats(position.reach)
        if one.after.is_legal(chess.Move.from_uci(uci))
    )


def is_won_back(one: Remedy) -> bool:
    """A threat can still be carried out after the move; that the move holds is judged besides."""
    threats = one.position.threats(one.position.reach)
    return any(one.after.is_legal(chess.Move.from_uci(uci)) for uci in threats)


def aims_at(position: Position, uci: str, aim: Aim) -> list[str]:
    """What is false in saying that a way of a move is directed at these units, by this guard."""
    one, way, squares = Remedy(position, uci), aim.way, aim.squares
    told = {chess.parse_square(name) for name in squares}
    if way == "guard":
        own = one.board.turn
        right = all(one.after.color_at(at) == own and _new_guards(one, at, own) for at in told)
        right = right and (not aim.by or _opened(one, told, chess.parse_square(aim.by)))
    elif way == "move":
        own, to = one.board.turn, one.move.to_square
        right = all(
            bears(one.after, own, at) == {to} and bears(one.after, not own, at) for at in told
        )
    elif way == "counterattack" and one.after.is_check():
        right = told == {one.after.king(one.after.turn)}
    elif one.taken is not None:
        right = told == {one.taken}
    else:
        right = way == "counterattack" and told <= set(_attacked_anew(one))
        right = right and (not aim.by or _opened(one, told, chess.parse_square(aim.by)))
    return [] if right and told else [f"{way} of {uci} is not directed at {', '.join(squares)}"]


def _opened(one: Remedy, told: set[int], guard: int) -> bool:
    """Whether a unit that stands where it stood bears on all these units only after the move."""
    own = one.board.turn
    stood = guard != one.move.to_square and one.board.piece_at(guard) == one.after.piece_at(guard)
    return stood and all(
        guard in one.after.attackers(own, at) and guard not in one.board.attackers(own, at)
        for at in told
    )


def plainly_something_else(one: Remedy) -> str | None:
    """The way by which a move works without any doubt; None where there is doubt."""
    units = one.position.survey["units"]
    lost = {unit["square"] for unit in units if unit["status"] == "unsafe"}
    if one.after.is_check() or one.move.promotion:
        return "counterattack"
    if one.taken is not None and not one.board.is_check():
        return "capture or counterattack"
    return "move" if chess.square_name(one.move.from_square) in lost else None


WAYS: dict[str, Callable[[Remedy], bool]] = {
    "capture": captures,
    "move": moves,
    "block": blocks,
    "guard": guards,
    "counterattack": counterattacks,
}


def works_by(
    position: Position, uci: str, way: str, closed: Sequence[str] = (), *, wins_back: bool = False
) -> list[str]:
    """What is false in saying that a move keeps the material by a way; empty if nothing is.

    `closed` is the line that a block closes, where it is told: a slider and what it bears on.
    """
    one = Remedy(position, uci)
    if way == "other":
        plain = plainly_something_else(one)
        return [f"{uci} works by {plain}"] if plain else []
    if way == "block":
        found = blocks(one, closed)
    elif way == "counterattack" and wins_back:
        found = is_won_back(one) or counterattacks(one)
    else:
        found = WAYS[way](one)
    return [] if found else [f"{uci} does not work by {way}"]
