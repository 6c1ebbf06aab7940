"""What a page asserts, read back from its text alone: lines, amounts, units and lists of moves."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

import chess
from chess import KING

from fastness.survey.lines import WIDTH

# Shannon 1950, the `classical` table; the king is not counted.
CENTIPAWNS = {
    chess.PAWN: 100,
    chess.KNIGHT: 300,
    chess.BISHOP: 300,
    chess.ROOK: 500,
    chess.QUEEN: 900,
    KING: 0,
}
RANK = {"pawn": 1, "knight": 2, "bishop": 2, "rook": 3, "queen": 4, "king": 5}
TIMES = {"by nothing": 0, "once": 1, "twice": 2, "three times": 3, "four times": 4, "five times": 5}
SAN = re.compile(r"(?:O-O(?:-O)?|[KQRBN]?[a-h]?[1-8]?x?[a-h][1-8](?:=[QRBN])?)[+#]?|\(passes\)")
UNIT = re.compile(r"\b(pawn|knight|bishop|rook|queen|king) on ([a-h][1-8])")
AMOUNT = r"(?:a pawn's|half a pawn's|[\d.]+ of a pawn's|[\d.]+ pawns') worth"


@dataclass(frozen=True, slots=True)
class Line:
    """A line of the page played out: its moves in SAN, and the boards before and after each."""

    sans: tuple[str, ...]
    moves: tuple[chess.Move, ...]
    boards: tuple[chess.Board, ...]

    @property
    def end(self) -> chess.Board:
        return self.boards[-1]


def sections(text: str) -> dict[str, list[str]]:
    """The rows of each part of the page, by its heading."""
    blocks = [block.split("\n") for block in text.rstrip("\n").split("\n\n")]
    assert all(len(row) <= WIDTH for block in blocks for row in block)
    titles = [block[0] for block in blocks]
    assert len(set(titles)) == len(titles)
    return {block[0]: block[1:] for block in blocks}


def flat(rows: list[str]) -> str:
    """Rows as running text."""
    return " ".join(" ".join(rows).split())


def sentences(rows: list[str]) -> Iterator[str]:
    """Sentences without their full stop; a move number's point ends none."""
    for sentence in re.split(r"(?<=\.)\)? ", flat(rows)):
        yield sentence.strip("()").rstrip(".)") if sentence.startswith("(") else sentence[:-1]


def amount(told: str) -> int:
    """Centipawns of an `AMOUNT`."""
    if told == "a pawn's worth":
        return 100
    if told == "half a pawn's worth":
        return 50
    return round(float(told.split()[0]) * 100)


def units_named(board: chess.Board, told: str) -> list[int]:
    """The squares of the units that `told` names, each of the kind that stands there."""
    found = []
    for name, square in UNIT.findall(told):
        at = chess.parse_square(square)
        kind = board.piece_type_at(at)
        assert kind is not None, f"{told}: nothing on {square}"
        assert chess.piece_name(kind) == name, f"{told}: no {name} on {square}"
        found.append(at)
    return found


def read_line(board: chess.Board, words: list[str]) -> Line:
    """Plays the line that `words` begins with and takes its words off the list.

    Every number, move, check and mate sign must be what the board says.
    """
    at = board.copy(stack=False)
    sans: list[str] = []
    moves: list[chess.Move] = []
    boards = [at.copy(stack=False)]
    while words:
        number, points, san = _split(words[0].rstrip("."))
        if not SAN.fullmatch(san) or (sans and points == "..."):
            break
        if points or not sans:
            assert points == ("." if at.turn else "..."), words[0]
            assert int(number) == at.fullmove_number, words[0]
        else:
            assert not at.turn, f"{words[0]} has no number"
        move = chess.Move.null() if san == "(passes)" else at.parse_san(san)
        assert san == "(passes)" or at.san(move) == san, f"{san} is {at.san(move)}"
        assert move or not at.is_check()
        sans.append(san)
        moves.append(move)
        at.push(move)
        boards.append(at.copy(stack=False))
        last = words.pop(0)
        if last.endswith("."):
            break
    assert sans, f"no line at {words[:4]}"
    return Line(tuple(sans), tuple(moves), tuple(boards))


def _split(word: str) -> tuple[str, str, str]:
    found = re.fullmatch(r"(\d+)(\.\.\.|\.)(.+)", word)
    return (found[1], found[2], found[3]) if found else ("", "", word)


def passed(board: chess.Board) -> chess.Board:
    """The position after a pass."""
    after = board.copy(stack=False)
    after.push(chess.Move.null())
    return after


def balance(board: chess.Board, colour: chess.Color) -> int:
    """Material of `colour` less the other side's, in centipawns."""
    return sum(
        CENTIPAWNS[piece.piece_type] * (1 if piece.color == colour else -1)
        for piece in board.piece_map().values()
    )


def change(line: Line, colour: chess.Color) -> int:
    """What `line` changes in the balance of `colour`."""
    return balance(line.end, colour) - balance(line.boards[0], colour)


def taken_on(board: chess.Board, move: chess.Move) -> int:
    """The square of what a capture takes, en passant included."""
    if board.is_en_passant(move):
        return move.to_square + (-8 if board.turn else 8)
    return move.to_square


def falls_in(line: Line, square: int) -> bool:
    """Whether the unit that stands on `square` is taken in `line`, wherever it has gone."""
    at = square
    for board, move in zip(line.boards, line.moves, strict=False):
        if not move:
            continue
        taken = taken_on(board, move)
        if board.is_castling(move) and board.piece_type_at(at) == chess.ROOK:
            side = chess.square_file(move.to_square) > chess.square_file(move.from_square)
            home = chess.square(7 if side else 0, chess.square_rank(at))
            at = chess.square(5 if side else 3, chess.square_rank(at)) if at == home else at
        elif move.from_square == at:
            at = move.to_square
        elif taken == at:
            return True
    return False


def behind(board: chess.Board, colour: chess.Color, square: int) -> set[int]:
    """Units of `colour` that bear on `square` only through units of `colour` that bear on it."""
    front = set(board.attackers(colour, square))
    found: set[int] = set()
    for one in front:
        occupied = chess.SquareSet(board.occupied) - {one}
        for slider in chess.SquareSet(board.occupied_co[colour]) - {one} - front:
            between = chess.SquareSet.between(slider, square)
            straight = chess.square_file(slider) == chess.square_file(square) or (
                chess.square_rank(slider) == chess.square_rank(square)
            )
            kinds = (chess.ROOK, chess.QUEEN) if straight else (chess.BISHOP, chess.QUEEN)
            lined = bool(chess.SquareSet.ray(slider, square))
            fits = board.piece_type_at(slider) in kinds and lined
            if fits and one in between and not between & occupied:
                found.add(slider)
    return found


def fall(line: Line, units: str) -> bool:
    later = Line(line.sans[1:], line.moves[1:], line.boards[1:])
    return as_before(line, units) and all(
        falls_in(later, at) for at in units_named(line.boards[1], units)
    )


def as_before(line: Line, units: str) -> bool:
    after = line.boards[1]
    return all(after.color_at(at) == line.boards[0].turn for at in units_named(after, units))
