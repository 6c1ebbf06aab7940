"""Surveys made by hand, with lines typed in SAN: what the page says must follow from these."""

from collections.abc import Mapping, Sequence
from typing import Any

import chess

from fastness.core.shapes import Danger, MoveVerdict, Net, Survey, Unit, Way
from fastness.survey.tries import natural_tries

START = chess.STARTING_FEN
PIN = "rnbqkbnr/ppp2ppp/4p3/3p2B1/3P4/5N2/PPP1PPPP/RN1QKB1R b KQkq - 1 3"  # 1.d4 d5 2.Nf3 e6 3.Bg5
CENTRE = "rnbqkbnr/ppp1pppp/8/3p4/4P3/8/PPPP1PPP/RNBQKBNR w KQkq - 0 2"  # 1.e4 d5
TRADE = "r1bqkbnr/1ppp1ppp/p1B5/4p3/4P3/5N2/PPPP1PPP/RNBQK2R b KQkq - 0 4"  # ...3.Bb5 a6 4.Bxc6


def uci_line(fen: str, sans: str) -> list[str]:
    """UCI of moves in SAN, ``pass`` for a pass; an illegal one raises ValueError."""
    board = chess.Board(fen)
    line = []
    for san in sans.split():
        move = chess.Move.null() if san == "pass" else board.parse_san(san)
        line.append(move.uci())
        board.push(move)
    return line


def unit(fen: str, square: str, status: str, line: str = "", **more: Any) -> Unit:
    """A unit on `square`, its attackers and guards read off the board."""
    board = chess.Board(fen)
    at = chess.parse_square(square)
    piece = board.piece_at(at)
    assert piece is not None
    proved = status not in ("safe", "in check", "not judged")
    made: Any = {
        "square": square,
        "unit": chess.piece_name(piece.piece_type),
        "status": status,
        "loose": False,
        "reach": 1 if proved else None,
        "loses": 100 if proved else None,
        "line": uci_line(fen, line) if line else None,
        "together": [],
        "attackers": [chess.square_name(by) for by in board.attackers(not piece.color, at)],
        "guards": [chess.square_name(by) for by in board.attackers(piece.color, at)],
        "mechanisms": [],
        "causes": [],
        **more,
    }
    one: Unit = made
    return one


def survey(
    fen: str,
    *,
    danger: Sequence[Danger] | None = (0, 0, 0),
    units: Sequence[Unit] = (),
    takings: Sequence[Unit] = (),
    holds: Mapping[str, Sequence[Way]] | None = None,
    falls: Mapping[str, tuple[Net, str]] | None = None,
    nets: Mapping[str, Net] | None = None,
    owed: int = 0,
    firm: Mapping[str, bool] | None = None,
    promotions: Mapping[str, str] | None = None,
) -> Survey:
    """A survey at reach 3 of `fen`.

    `promotions` gives a line for each square where the opponent promotes. `holds` gives the ways
    of the moves that hold, in SAN; every other legal move falls, by `falls` (its net and
    refutation) or else by a pawn. Without `holds` all moves hold.
    """
    board = chess.Board(fen)
    told = {one["square"] for one in units}
    default = "not judged" if board.is_check() else "safe"
    rest = [
        unit(fen, chess.square_name(at), default)
        for at, piece in board.piece_map().items()
        if piece.color == board.turn and chess.square_name(at) not in told
    ]
    moves: list[MoveVerdict] = []
    for move in board.legal_moves:
        san = board.san(move)
        held = holds is None or san in holds
        net, reply = (falls or {}).get(san, (0 if held else -100, ""))
        moves.append(
            {
                "uci": move.uci(),
                "san": san,
                "net": (nets or {}).get(san, net),
                "holds": held,
                "falls_at": None if held else 1,
                "firm": None if firm is None else firm.get(san, True),
                "deeper": (
                    {"net": -100, "line": [move.uci()]}
                    if held and not (firm or {}).get(san, True)
                    else None
                ),
                "ways": list((holds or {}).get(san, ())),
                "wins_back": False,
                "blocks": None,
                "saves": [],
                "drops": [],
                "line": uci_line(fen, f"{san} {reply}"),
                "answer": None,
                "reason": None,
                "reasons": [],
                "natural": False,
                "evaluation": None,
                "rank": None,
                "advised": None,
                "price": None,
                "likely": None,
            }
        )
    missing = (set(holds or {}) | set(falls or {})) - {move["san"] for move in moves}
    assert not missing, f"not legal: {missing}"
    made: Survey = {
        "version": 1,
        "fen": fen,
        "side": "white" if board.turn else "black",
        "in_check": board.is_check(),
        "values": "classical",
        "reach": 3,
        "owed": owed,
        "danger": None if board.is_check() else list(danger or ()),
        "units": [*units, *rest],
        "takings": list(takings),
        "promotions": list(promotions or ()),
        "promotion_lines": [uci_line(fen, line) for line in (promotions or {}).values()],
        "ranked": False,
        "best": None,
        "values_matter": None,
        "moves": moves,
    }
    for verdict in natural(made):
        verdict["natural"] = True
    return made


def natural(given: Survey) -> list[MoveVerdict]:
    """The moves that the geometry finds natural where the survey does not say."""
    unsaid: Any = {**given, "moves": [{**move} for move in given["moves"]]}
    for move in unsaid["moves"]:
        del move["natural"]
    tries = {one.move["uci"] for one in natural_tries(unsaid)[0]}
    return [move for move in given["moves"] if move["uci"] in tries]


def pinned_down() -> Survey:
    """Black's queen attacked by a bishop, after 1.d4 d5 2.Nf3 e6 3.Bg5."""
    queen = unit(
        PIN, "d8", "unsafe", "pass Bxd8 Kxd8", loses=600, mechanisms=["less valuable attacker"]
    )
    moved: tuple[Way, ...] = ("move",)
    blocked: tuple[Way, ...] = ("block",)
    return survey(
        PIN,
        danger=(600, 600, 600),
        units=[queen],
        holds={
            "Qd7": moved,
            "Qd6": moved,
            "Be7": ("block", "guard"),
            "Nf6": blocked,
            "Ne7": blocked,
            "f6": blocked,
            "Bb4+": ("counterattack",),
        },
        falls={
            "Qxg5": (-600, "Nxg5"),
            "Qe7": (-600, "Bxe7 Bxe7"),
            "Qf6": (-600, "Bxf6 Nxf6"),
            "Nc6": (-600, "Bxd8 Nxd8"),
        },
    )


def centre() -> Survey:
    """White's e-pawn attacked, after 1.e4 d5."""
    pawn = unit(CENTRE, "e4", "unsafe", "pass dxe4", mechanisms=["unguarded"])
    guarded: tuple[Way, ...] = ("guard",)
    return survey(
        CENTRE,
        danger=(100, 100, 100),
        units=[pawn],
        holds={
            "exd5": ("capture", "move"),
            "e5": ("move",),
            **dict.fromkeys(("d3", "f3", "Nc3", "Qe2", "Qf3", "Bd3"), guarded),
            "Bb5+": ("counterattack",),
        },
        falls={"Qg4": (-900, "Bxg4")},
    )
