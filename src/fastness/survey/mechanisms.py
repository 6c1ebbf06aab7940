"""Who does what in each mechanism: the units and moves that a sentence on it names.

A claim gives the squares that take part; here they are found again on the boards of the line, so
that no sentence names a unit that does not stand there. What cannot be found is not told.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import chess
from chess import KING

from fastness.language import Language
from fastness.survey.claim import Cause
from fastness.survey.lines import move_name, numbered_move
from fastness.survey.nouns import Noun, all_of, on_square
from fastness.survey.scene import Scene, Step, pinned_among

Parts = tuple[str, dict[str, object]]
"""Which sentence to say, and its values."""


class _Finder:
    """Looks for the parts of one mechanism in a scene, for one reader.

    `you`: the side spoken to, whose units are "your"; None on a page that speaks to nobody.
    """

    def __init__(
        self, scene: Scene, squares: Sequence[str], language: Language, you: bool | None
    ) -> None:
        self.scene = scene
        self.squares = [chess.parse_square(name) for name in squares]
        self.language = language
        self.you = you
        self.later = False

    def name(self, board: chess.Board, square: int) -> Noun:
        self.later |= board.piece_at(square) != self.scene.board.piece_at(square)
        return on_square(board, chess.square_name(square), self.language, you=self.you)

    def names(self, board: chess.Board, squares: Sequence[int]) -> Noun:
        return all_of([self.name(board, square) for square in squares], self.language)

    def move(self, step: Step) -> str:
        name = numbered_move if self.you is None else move_name
        return name(step.before, step.move.uci(), self.language)

    def forked(self, board: chess.Board) -> tuple[int, list[int]] | None:
        """The unit that attacks all the other squares' units, and those."""
        owner = self.scene.owner
        for forker in self.squares:
            forked = [square for square in self.squares if square != forker]
            all_own = all(board.color_at(square) == owner for square in forked)
            attacks = set(forked) <= set(board.attacks(forker))
            if board.color_at(forker) == (not owner) and all_own and attacks:
                return forker, forked
        return None

    def of_king(self) -> bool:
        """Whether it is the king that falls."""
        return self.scene.board.piece_type_at(self.scene.unit) == KING

    def others(self) -> list[int]:
        return [square for square in self.squares if square != self.scene.unit]


def _fork(find: _Finder) -> Parts | None:
    board = find.scene.board
    now = find.forked(board)
    if now:
        return "fork", {"forker": find.name(board, now[0]), "forked": find.names(board, now[1])}
    for step in find.scene.attacks():
        found = find.forked(step.after)
        if found and step.move.to_square == found[0]:
            return "fork by a move", {
                "move": find.move(step),
                "forked": find.names(step.after, found[1]),
            }
    return None


def _pinned(find: _Finder, key: str) -> Parts | None:
    """The pin or skewer among the squares, as late in the line as it stands."""
    for board, stands in reversed(list(find.scene.stands())):
        here = [stands if square == find.scene.unit else square for square in find.squares]
        squares = [square for square in here if square is not None]
        found = pinned_among(board, squares, find.scene.owner)
        if found:
            # Something may stand on the line as yet, though each of the three stands where it does.
            find.later |= not pinned_among(find.scene.board, find.squares, find.scene.owner)
            slider, front, back = (find.name(board, square) for square in found)
            return key, {"slider": slider, "front": front, "back": back}
    return None


def _pin(find: _Finder) -> Parts | None:
    return _pinned(find, "pin")


def _skewer(find: _Finder) -> Parts | None:
    return _pinned(find, "skewer")


def _pinned_guard(find: _Finder) -> Parts | None:
    return _pinned(find, "pinned guard")


def _overloaded(find: _Finder) -> Parts | None:
    """A guard that bears on the unit, now or later in the line, and on a second square."""
    owner = find.scene.owner
    for place, (board, stands) in enumerate(find.scene.stands()):
        for guard in find.others():
            seconds = [square for square in find.others() if square != guard]
            if board.color_at(guard) != owner or len(seconds) != 1:
                continue
            bears = find.of_king() or (
                stands is not None and guard in board.attackers(owner, stands)
            )
            if bears and seconds[0] in board.attacks(guard):
                find.later |= place > 0
                second = chess.square_name(seconds[0])
                key = "mate, overloaded guard" if find.of_king() else "overloaded guard"
                return key, {"guard": find.name(board, guard), "second": second}
    return None


def _removal(find: _Finder) -> Parts | None:
    for guard in find.others():
        if find.scene.board.color_at(guard) != find.scene.owner:
            continue
        taken = any(step.takes and step.move.to_square == guard for step in find.scene.attacks())
        key = "guard taken" if taken else "guard driven off"
        key = f"mate, {key}" if find.of_king() else key
        return key, {"guard": find.name(find.scene.board, guard)}
    return None


def _discovered_attack(find: _Finder) -> Parts | None:
    for step in find.scene.attacks():
        for slider in find.others():
            opens = step.move.from_square in find.squares and slider != step.move.from_square
            if opens and step.after.color_at(slider) == (not find.scene.owner):
                name = find.name(step.after, slider)
                return "discovered attack", {"move": find.move(step), "slider": name}
    return None


def _discovered_check(find: _Finder) -> Parts | None:
    for step in find.scene.attacks():
        checkers = set(step.after.checkers()) & set(find.squares) - {step.move.to_square}
        if step.move.from_square in find.squares and checkers:
            name = find.name(step.after, min(checkers))
            return "discovered check", {"move": find.move(step), "checker": name}
    return None


def _double_check(find: _Finder) -> Parts | None:
    for step in find.scene.steps:
        if step.move and step.after.turn == find.scene.owner and len(step.after.checkers()) == 2:
            return "double check", {"move": find.move(step)}
    return None


def _trapped(find: _Finder) -> Parts:
    name = "trapped" if len(find.squares) > 1 else "trapped, no move"
    scene = find.scene
    attacked = scene.board.is_attacked_by(not scene.owner, scene.unit)
    return (f"attacked, {name}" if attacked else name), {}


def _back_rank(find: _Finder) -> Parts | None:
    taking = find.scene.taking()
    board = taking.after if taking else find.scene.steps[-1].after
    king = board.king(find.scene.owner)
    if king is None or king not in find.squares:
        return None
    if not taking:
        return "mated on the back rank", {}
    return "back rank", {"king": find.name(board, king)}


def _mate_threat(find: _Finder) -> Parts | None:
    taking = find.scene.taking()
    if not taking:
        return None
    for step in find.scene.steps:
        quiet = step.move and step is not taking and not step.after.is_check()
        if quiet and step.after.turn == find.scene.owner and _threatens_mate(step.after):
            return "mate threat", {"move": find.move(step)}
    if any(move.to_square == taking.move.to_square for move in taking.after.legal_moves):
        return "mate if retaken", {}
    return None


def _threatens_mate(board: chess.Board) -> bool:
    passed = board.copy(stack=False)
    passed.push(chess.Move.null())
    for move in passed.legal_moves:
        passed.push(move)
        mate = passed.is_checkmate()
        passed.pop()
        if mate:
            return True
    return False


def _promotion(find: _Finder) -> Parts | None:
    for step in find.scene.steps:
        if step.move.promotion and step.before.turn != find.scene.owner:
            return "promotion", {"square": chess.square_name(step.move.to_square)}
    for board in find.scene.boards():
        for pawn in find.squares:
            piece = board.piece_at(pawn)
            if piece == chess.Piece(chess.PAWN, not find.scene.owner):
                return "given for a pawn", {"pawn": find.name(board, pawn)}
    return None


def _interference(find: _Finder) -> Parts | None:
    for step in find.scene.attacks():
        if step.move.to_square in find.squares and not step.takes:
            for guard in find.others():
                if step.before.color_at(guard) == find.scene.owner:
                    name = find.name(step.before, guard)
                    return "interference", {"move": find.move(step), "guard": name}
    return None


def _in_between(find: _Finder) -> Parts | None:
    """The move that is made while a capture of the owner's could be retaken at once."""
    left, between = find.squares[0], find.squares[-1]
    taken = False
    for step in find.scene.steps:
        if step.before.turn == find.scene.owner:
            taken |= step.takes and step.move.to_square == left
        elif taken and step.move and step.move.to_square == between:
            square = chess.square_name(left)
            return "in-between move", {"move": find.move(step), "square": square}
    return None


def _desperado(find: _Finder) -> Parts | None:
    taking = find.scene.taking()
    if not taking:
        return None
    return "desperado", {"taker": find.name(taking.before, taking.move.from_square)}


_FINDERS: dict[str, Callable[[_Finder], Parts | None]] = {
    "fork": _fork,
    "pin": _pin,
    "skewer": _skewer,
    "pinned guard": _pinned_guard,
    "overloaded guard": _overloaded,
    "removal of the guard": _removal,
    "discovered attack": _discovered_attack,
    "discovered check": _discovered_check,
    "double check": _double_check,
    "trapped": _trapped,
    "back rank": _back_rank,
    "mate threat": _mate_threat,
    "promotion": _promotion,
    "interference": _interference,
    "in-between move": _in_between,
    "desperado": _desperado,
}


def parts(
    cause: Cause, scene: Scene, language: Language, you: bool | None = None
) -> tuple[str, dict[str, object], bool] | None:
    """Which sentence tells this cause, its values, and whether it tells of a later position.

    That is, names units where they do not stand yet. None if the parts cannot be found. `you`: the
    side spoken to. The causes that follow from the count alone are told elsewhere.
    """
    if cause.mechanism not in _FINDERS or not cause.squares:
        return None
    finder = _Finder(scene, cause.squares, language, you)
    found = _FINDERS[cause.mechanism](finder)
    return (*found, finder.later) if found else None
