"""What loses least where nothing holds, judged, and what becomes of the rest."""

from fastness.survey.claim import KeepsTheRest, LeastLost, MoreIsLost
from tests.judge.board import THRESHOLD
from tests.judge.plain import PASS
from tests.judge.played import Played, played
from tests.judge.worth import Position, begins, lost, shows

FURTHER = 2
"""The reach by which it is judged what becomes of the rest after a move that loses least."""


def least_lost(claim: LeastLost, position: Position) -> list[str]:
    nets = {uci: position.net(uci, claim.reach) for uci in position.legal()}
    best = max(nets.values())
    faults = [] if claim.reach - position.reach in (0, 1) else ["another reach"]
    faults += [] if best <= -THRESHOLD else ["some move holds"]
    if claim.loses != lost(best):
        faults.append(f"the least is {lost(best)}")
    truly = {uci for uci, net in nets.items() if lost(net) == lost(best)}
    if set(claim.moves) != truly:
        faults.append(f"{truly} lose least")
    for uci, line in zip(claim.moves, (claim.line, *claim.others), strict=False):
        faults += begins(uci, line) + shows(position, line, nets[uci])
    return faults


def keeps_the_rest(claim: KeepsTheRest, position: Position) -> list[str]:
    """Where the line of the move ends the rest is in danger, and the next move keeps it."""
    tried, faults = _least_line(claim.move, claim.line[: claim.plies], position)
    played(position.survey["fen"], claim.line)
    opponent = not position.own
    base = position.bare(opponent) + tried.gain(opponent)
    plies = 2 * FURTHER - 1
    waits = position.value([*claim.line[: claim.plies], PASS], plies, opponent, base)
    if tried.end.turn is not position.own or waits < THRESHOLD:
        faults.append(f"only {waits} is in danger after {claim.line[: claim.plies]}")
    won = position.value(claim.line[: claim.plies + 1], plies, opponent, base)
    return faults if won < THRESHOLD else [*faults, f"{won} is lost after {claim.line}"]


def more_is_lost(claim: MoreIsLost, position: Position) -> list[str]:
    """Where the line of the move ends, every move loses something more."""
    tried, faults = _least_line(claim.move, claim.line, position)
    base = position.bare(not position.own) + tried.gain(not position.own)
    for move in tried.end.legal_moves:
        played_on = [*claim.line, move.uci()]
        if position.value(played_on, 2 * FURTHER - 1, not position.own, base) < THRESHOLD:
            faults.append(f"{move.uci()} keeps what is left after {claim.line}")
    return faults if tried.end.turn is position.own else [*faults, "it is not its turn"]


def _least_line(move: str, line: tuple[str, ...], position: Position) -> tuple[Played, list[str]]:
    """The line by which a move loses least, here or one move deeper."""
    nets = [position.net(move, position.reach + more) for more in (0, 1)]
    faults = begins(move, line)
    if all(shows(position, line, net) for net in nets):
        faults.append(f"{line} does not show what {move} loses")
    return played(position.survey["fen"], line), faults
