"""Why a move that a student asks about is not legal, in a sentence to the student."""

from __future__ import annotations

import chess
from chess import KING

from fastness.language import ENGLISH, Language
from fastness.replies.naming import Named
from fastness.survey.lines import move_name
from fastness.survey.nouns import on_square, on_squares
from fastness.survey.words import side_name


def why_not_legal(board: chess.Board, named: Named, language: Language = ENGLISH) -> str:
    """Why none of the legal moves is the one that is named."""
    say = language.say
    if named.castles:
        return _castling(board, named, language)
    pseudo = [move for move in board.pseudo_legal_moves if named.fits(board, move)]
    if pseudo:
        return _leaves_the_king(board, pseudo[0], language)
    if not board.is_check():
        other = board.copy(stack=False)
        other.push(chess.Move.null())
        if moves := named.legal(other):
            return say(
                "{move} would be a move of {other}'s, and {own} is to move.",
                move=move_name(other, moves[0], language),
                other=side_name("white" if other.turn else "black", language),
                own=side_name("white" if board.turn else "black", language),
            )
    return _cannot_go(board, named, language)


def _leaves_the_king(board: chess.Board, move: chess.Move, language: Language) -> str:
    say, own = language.say, board.turn
    after = board.copy(stack=False)
    after.push(move)
    king = after.king(own)
    attackers = after.attackers(not own, king) if king is not None else chess.SquareSet()
    by = on_squares(after, [chess.square_name(one) for one in attackers], language)
    square = chess.square_name(move.to_square)
    if board.piece_type_at(move.from_square) == KING:
        return say(
            "Your king may not go to {square}: it would be in check there from {by}.",
            square=square,
            by=by,
        )
    if board.is_check():
        checkers = on_squares(board, [chess.square_name(at) for at in board.checkers()], language)
        return say(
            "Your king is in check from {by}, and that move would leave it in check.", by=checkers
        )
    unit = on_square(board, chess.square_name(move.from_square), language, you=own)
    return say(
        "{unit} is pinned: without it your king would be in check from {by}.",
        unit=_capital(unit),
        by=by,
    )


def _cannot_go(board: chess.Board, named: Named, language: Language) -> str:
    say, own = language.say, board.turn
    if named.to is None:
        return say("No legal move here is the one you name.")
    square = chess.square_name(named.to)
    if named.takes and board.color_at(named.to) is None:
        return say("Nothing stands on {square} that could be taken.", square=square)
    if board.color_at(named.to) == own:
        standing = on_square(board, square, language, you=own)
        return say("{unit} stands there already.", unit=_capital(standing))
    kind = named.piece
    starts = [at for at in (board.pieces(kind, own) if kind else []) if _may_start(named, at)]
    if kind and not starts:
        return say("You have no such piece that could go there.")
    for at in starts:
        between = chess.SquareSet.between(at, named.to) & board.occupied
        slides = at in _slider(kind, named.to) if kind else False
        if slides and between:
            way = chess.square_name(next(iter(between)))
            return say(
                "{mover} cannot go to {square}: {unit} stands in between.",
                mover=_capital(on_square(board, chess.square_name(at), language, you=own)),
                square=square,
                unit=on_square(board, way, language, you=own),
            )
    if len(starts) == 1:
        return say(
            "{mover} cannot go to {square} in one move.",
            mover=_capital(on_square(board, chess.square_name(starts[0]), language, you=own)),
            square=square,
        )
    return say("No move of yours goes to {square} like that.", square=square)


def _capital(noun: object) -> str:
    return str(noun)[:1].upper() + str(noun)[1:]


def _may_start(named: Named, at: chess.Square) -> bool:
    return (
        named.start in (None, at)
        and named.file in (None, chess.square_file(at))
        and named.rank in (None, chess.square_rank(at))
    )


def _slider(kind: chess.PieceType, to: chess.Square) -> chess.SquareSet:
    """The squares from which a bishop, rook or queen reaches `to` on an empty board."""
    if kind not in (chess.BISHOP, chess.ROOK, chess.QUEEN):
        return chess.SquareSet()
    empty = chess.Board(None)
    empty.set_piece_at(to, chess.Piece(kind, chess.WHITE))
    return empty.attacks(to)


def _castling(board: chess.Board, named: Named, language: Language) -> str:
    say, own = language.say, board.turn
    rank = 0 if own else 7
    short = named.castles != "long"
    king, rook = chess.square(4, rank), chess.square(7 if short else 0, rank)
    rights = board.has_kingside_castling_rights if short else board.has_queenside_castling_rights
    if not rights(own):
        return say("You may not castle there: the king or that rook has moved before.")
    if board.is_check():
        return say("You may not castle out of check.")
    between = chess.SquareSet.between(king, rook) & board.occupied
    if between:
        unit = on_square(board, chess.square_name(next(iter(between))), language)
        return say("You may not castle yet: {unit} stands in between.", unit=unit)
    path = [chess.square(file, rank) for file in ((5, 6) if short else (3, 2))]
    attacked = next(at for at in path if board.is_attacked_by(not own, at))
    by = on_squares(
        board,
        [chess.square_name(at) for at in board.attackers(not own, attacked)],
        language,
    )
    return say(
        "You may not castle now: the king would cross {square}, which {by} attacks.",
        square=chess.square_name(attacked),
        by=by,
    )
