"""The moves and the pieces that a sentence names: in SAN, or in plain words.

``Nf6``, ``Sf6``, ``g8-f6``, ``the knight to f6``, ``take the pawn on e5 with my queen``, ``mit dem
Springer auf e5 schlagen``, ``castle short``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import chess
from chess import KING

_PIECES = {
    KING: "king könig koenig königs",
    chess.QUEEN: "queen dame",
    chess.ROOK: "rook turm turms",
    chess.BISHOP: "bishop läufer laeufer läufers",
    chess.KNIGHT: "knight horse springer pferd springers",
    chess.PAWN: "pawn bauer bauern bauernzug",
}
_KINDS = {word: kind for kind, words in _PIECES.items() for word in words.split()}
_LETTERS = {
    "K": KING,
    "Q": chess.QUEEN,
    "D": chess.QUEEN,
    "R": chess.ROOK,
    "T": chess.ROOK,
    "B": chess.BISHOP,
    "L": chess.BISHOP,
    "N": chess.KNIGHT,
    "S": chess.KNIGHT,
}
"""The letters of the pieces, English and German."""
_SIGNS = {
    "T": "to onto towards nach",
    "X": "take takes taking took taken capture captures capturing x schlagen schlägt schlage schlug"
    " nehmen nimmt nehme nahm genommen geschlagen",
    "O": "on at auf in",
    "F": "from von",
    "W": "with by mit",
    "C": "castle castles castled castling rochade rochieren rochiere rochiert",
    "H": "short kingside kurz kurze",
    "L": "long queenside lang lange",
}
_SIGN_OF = {word: sign for sign, words in _SIGNS.items() for word in words.split()}
_ENDS = "|"
_WRITTEN = re.compile(
    r"(?<!\w)(?:\d+\s*\.+\s*)?(?:"
    r"(?P<castles>[O0]-[O0](?:-[O0])?)"
    r"|(?P<long>[KQRBNSDTL]?[a-h][1-8]\s?[-x:]?\s?[a-h][1-8])(?:=?(?P<lp>[QRBNSDTLqrbn]))?"
    r"|(?P<letter>[KQRBNSDTLkqrnstlb])?(?P<file>[a-h])?(?P<rank>[1-8])?[x:]?(?P<to>[a-h][1-8])"
    r"(?:=?(?P<promotes>[QRBNSDTL]))?"
    r")[+#]*(?!\w)"
)


@dataclass(frozen=True, slots=True)
class Named:
    """A move as a sentence names it: what is not said is None.

    `start` is where the piece stands, `file` and `rank` (from 0) what alone is said of it; `taken`
    the kind of piece that is taken, `takes` that something is. `castles` is "short", "long" or
    "either".
    """

    said: str
    piece: chess.PieceType | None = None
    start: chess.Square | None = None
    file: int | None = None
    rank: int | None = None
    to: chess.Square | None = None
    taken: chess.PieceType | None = None
    takes: bool = False
    promotes: chess.PieceType | None = None
    castles: str = ""

    def fits(self, board: chess.Board, move: chess.Move) -> bool:
        """Whether `move` is one that is meant."""
        if self.castles:
            short = board.is_kingside_castling(move)
            return {"short": short, "long": board.is_queenside_castling(move)}.get(
                self.castles, board.is_castling(move)
            )
        if self.promotes != move.promotion and not (
            self.promotes is None and move.promotion == chess.QUEEN
        ):
            return False
        takes = board.is_capture(move)
        victim = chess.PAWN if board.is_en_passant(move) else board.piece_type_at(move.to_square)
        return (
            self.piece in (None, board.piece_type_at(move.from_square))
            and self.start in (None, move.from_square)
            and self.file in (None, chess.square_file(move.from_square))
            and self.rank in (None, chess.square_rank(move.from_square))
            and self.to in (None, move.to_square)
            and (takes or not self.takes)
            and (self.taken is None or (takes and victim == self.taken))
        )

    def legal(self, board: chess.Board) -> list[str]:
        """The legal moves (UCI) that are meant."""
        return sorted(move.uci() for move in board.legal_moves if self.fits(board, move))


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece that a sentence names: its kind, its square, or one of them."""

    kind: chess.PieceType | None
    square: chess.Square | None


@dataclass(frozen=True, slots=True)
class _Token:
    """A word that matters: its sign, and the piece or square that it names."""

    sign: str
    said: str
    kind: chess.PieceType | None = None
    square: chess.Square | None = None
    file: int | None = None


@dataclass(frozen=True, slots=True)
class Sentence:
    """The moves named, in their order, and the pieces that are named beside them."""

    moves: tuple[Named, ...]
    pieces: tuple[Piece, ...]


def read_sentence(text: str, board: chess.Board) -> Sentence:
    """The moves and pieces that `text` names; which of two readings is meant `board` tells."""
    moves: list[tuple[int, Named]] = []
    rest = text
    for found in _WRITTEN.finditer(text):
        named = _written(found, board)
        if named is not None:
            moves.append((found.start(), named))
            rest = rest[: found.start()] + "," * len(found[0]) + rest[found.end() :]
    tokens = list(_tokens(rest))
    pieces: list[Piece] = []
    for at, one in _described(tokens, board):
        if isinstance(one, Named):
            moves.append((at, one))
        else:
            pieces.append(one)
    in_order = [named for _, named in sorted(moves, key=lambda one: one[0])]
    return Sentence(tuple(dict.fromkeys(in_order)), tuple(dict.fromkeys(pieces)))


def _written(found: re.Match[str], board: chess.Board) -> Named | None:
    """A move in notation; None for a square alone, whose meaning the words around it tell."""
    said = found[0].strip().rstrip("+#")
    if found["castles"]:
        return Named(said, castles="long" if found["castles"].count("-") == 2 else "short")
    if found["long"]:
        squares = [chess.parse_square(name) for name in re.findall(r"[a-h][1-8]", found["long"])]
        letter = found["long"][0]
        kind = _LETTERS.get(letter)
        return Named(said, kind, squares[0], to=squares[1], promotes=_promoted(found["lp"]))
    letter, file, rank = found["letter"], found["file"], found["rank"]
    alone = not (letter or file or rank or found["promotes"]) and "x" not in said.lower()
    if alone and said[:1] not in "0123456789":
        return None
    named = Named(
        said,
        _LETTERS[letter.upper()] if letter else chess.PAWN,
        file=chess.FILE_NAMES.index(file) if file else None,
        rank=int(rank) - 1 if rank else None,
        to=chess.parse_square(found["to"]),
        takes="x" in said or ":" in said,
        promotes=_promoted(found["promotes"]),
    )
    if letter == "b":
        # A small b is the pawn's file where a pawn can go there, else a bishop.
        pawn = replace(named, piece=chess.PAWN, file=1)
        return pawn if pawn.legal(board) or not named.legal(board) else named
    return named


def _promoted(letter: str | None) -> chess.PieceType | None:
    return _LETTERS[letter.upper()] if letter else None


def _tokens(text: str) -> Iterator[_Token]:
    for word in re.finditer(r"[^\W_]+(?:-[^\W_]+)*|[,.;?!]", text):
        said = word[0].lower()
        file, _, rest = said.partition("-")
        if said in _KINDS:
            yield _Token("P", said, kind=_KINDS[said])
        elif rest in _KINDS and file in chess.FILE_NAMES:
            yield _Token("P", said, kind=_KINDS[rest], file=chess.FILE_NAMES.index(file))
        elif said in chess.SQUARE_NAMES:
            yield _Token("S", said, square=chess.parse_square(said))
        elif said in _SIGN_OF:
            yield _Token(_SIGN_OF[said], said)
        elif not said[0].isalnum():
            yield _Token(_ENDS, said)


# Of the signs above: P a piece, S a square, T to, X takes, O on, F from, W with. A group's name
# says what it is of the move: m the piece that moves, f from where, v what is taken, t to where.
_PATTERNS = tuple(
    re.compile(pattern)
    for pattern in (
        r"(?P<m>P)[OF]?(?P<f>S)?T(?P<t>S)",
        r"(?P<m>P)[OF]?(?P<f>S)?X(?P<x>)O?(?P<v>P)?O?(?P<t>S)",
        r"(?P<m>P)[OF]?(?P<f>S)?X(?P<x>)(?P<v>P)",
        r"X(?P<x>)O?(?P<v>P)?O?(?P<t>S)?W(?P<m>P)(?:[OF](?P<f>S))?",
        r"W(?P<m>P)(?:F(?P<f>S))?(?P<v>P)?O?(?P<t>S)?X(?P<x>)",
        r"F?(?P<f>S)T(?P<t>S)",
        r"X(?P<x>)O?(?P<v>P)?O?(?P<t>S)",
        r"X(?P<x>)(?P<v>P)",
        r"(?P<v>P)?O?(?P<t>S)X(?P<x>)",
        r"C(?P<castles>[HL])?|(?P<before>[HL])C",
        r"(?P<m>P)T?O?(?P<t>S)",
        r"(?P<t>S)",
        r"(?P<unit>P)",
    )
)


def _described(tokens: Sequence[_Token], board: chess.Board) -> Iterator[tuple[int, Named | Piece]]:
    """What is named in words, from left to right, the fullest reading first."""
    signs, at = "".join(token.sign for token in tokens), 0
    while at < len(signs):
        for pattern in _PATTERNS:
            found = pattern.match(signs, at)
            if found:
                yield 1000 + at, _meant(found, tokens, board)
                at = found.end()
                break
        else:
            at += 1


def _meant(found: re.Match[str], tokens: Sequence[_Token], board: chess.Board) -> Named | Piece:
    groups = found.groupdict()
    said = " ".join(token.said for token in tokens[found.start() : found.end()])

    def token(name: str) -> _Token | None:
        return tokens[found.start(name)] if groups.get(name) else None

    if found[0] and "C" in found[0]:
        length = groups.get("castles") or groups.get("before") or ""
        return Named(said, castles={"H": "short", "L": "long"}.get(length, "either"))
    mover, start, taken, to = (token(name) for name in "mfvt")
    unit = token("unit")
    if unit:
        return Piece(unit.kind, None)
    named = Named(
        said,
        piece=mover.kind if mover else None,
        start=start.square if start else None,
        file=mover.file if mover else None,
        to=to.square if to else None,
        taken=taken.kind if taken else None,
        takes="x" in groups and groups["x"] is not None,
    )
    return _settled(named, found, tokens, board)


def _settled(
    named: Named, found: re.Match[str], tokens: Sequence[_Token], board: chess.Board
) -> Named | Piece:
    """The reading that the board bears out, where the words leave two."""
    if not named.takes and named.to is not None and named.start is None and "T" not in found[0]:
        standing = board.piece_type_at(named.to)
        on = found.start() > 0 and tokens[found.start() - 1].sign == "O"
        pawn = replace(named, piece=chess.PAWN) if named.piece is None else named
        if standing and named.piece in (None, standing) and (on or not pawn.legal(board)):
            return Piece(standing, named.to)
        if standing and named.piece == standing:
            return Piece(standing, named.to)
        return pawn
    # "Springer auf e5 schlagen": what stands on e5 is taken, or the knight takes there.
    either = named.takes and found[0].endswith("X") and named.taken and named.to is not None
    if either and named.to is not None and board.piece_type_at(named.to) != named.taken:
        return replace(named, piece=named.taken, taken=None)
    return named
