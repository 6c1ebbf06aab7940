"""The ways of a holding move in words, with what each is directed at."""

from __future__ import annotations

import chess
from chess import KING

from fastness.core.shapes import Way
from fastness.language import Language, marked
from fastness.survey.claim import Holds, InCheck, Owed, Unsafe
from fastness.survey.findings import Findings
from fastness.survey.guarding import guarded_by_itself, guards_in_words, opened_guard
from fastness.survey.nouns import Noun, listed, on_square, on_squares
from fastness.survey.readiness import promotion_in_words, ready_in_words, stopped_in_words
from fastness.survey.words import THRESHOLD

OTHER: tuple[Way, ...] = ("other",)

_NAMES = {
    "capture": marked("capture"),
    "move": marked("move"),
    "block": marked("block"),
    "guard": marked("guard"),
    "counterattack": marked("counterattack"),
    "other": marked("other"),
}
_VERBS = {
    "capture": marked("captures"),
    "move": marked("moves away"),
    "block": marked("blocks"),
    "guard": marked("guards"),
    "counterattack": marked("counterattacks"),
    "other": marked("meets the threat in another way"),
}
_AIMED = {
    "capture": marked("takes {units}"),
    "guard": marked("guards {units}"),
    "counterattack": marked("attacks {units}"),
}


def way_name(way: str, language: Language) -> str:
    """The name of a way, or of what a try sets out to do."""
    return language.say(_NAMES[way])


def aim_of(one: Holds, way: Way) -> tuple[str, ...]:
    """The squares that a way is directed at, as far as they are told."""
    return next((aim.squares for aim in one.aims if aim.way == way), ())


def is_check(found: Findings, one: Holds) -> bool:
    """Whether the counterattack of a move is a check."""
    kinds = [
        found.board.piece_type_at(chess.parse_square(at)) for at in aim_of(one, "counterattack")
    ]
    return kinds == [KING]


def ways_in_words(found: Findings, one: Holds) -> str:
    """``takes the pawn on e4, moves away and attacks the knight on f3 ``."""
    first, *more = telling_ways(found, one)
    ways = [first, *(way for way in more if way != "counterattack" or _hits(one))]
    if "guard" in ways and opened_attack(one):
        ways = [way for way in ways if way != "counterattack"]
    aimed = aim_of(one, "guard") if "guard" in ways else ()
    stays = guarded_from_there(one) if "move" in ways else ()
    itself = guarded_by_itself(found, one, aimed) if stays else ()
    told = _also_takes(found, one)
    for way in ways:
        if way == "move" and stays:
            units = on_squares(found.board, [*itself, *stays], found.language)
            told.append(found.language.say(_VERBS["move"]))
            told.append(found.language.say(_AIMED["guard"], units=units))
        elif way != "guard" or not itself:
            told.append(_verb(found, one, way))
    if one.wins_back and "counterattack" in one.ways:
        told.append(found.language.say("wins it back"))
    return listed(list(filter(None, told)), found.language)


def _also_takes(found: Findings, one: Holds) -> list[str]:
    """What a move takes whose way is another."""
    move = chess.Move.from_uci(one.move)
    aimed = any(aim.squares == (one.move[2:4],) for aim in one.aims)
    if "capture" in one.ways or aimed or not found.board.is_capture(move):
        return []
    if found.board.is_en_passant(move):
        return []
    units = on_squares(found.board, [one.move[2:4]], found.language)
    return [found.language.say(_AIMED["capture"], units=units)]


def other_ways(one: Holds, language: Language) -> list[str]:
    """The ways beside the main one: ``guards and counterattacks as well``, ``wins it back``."""
    back = one.wins_back and "counterattack" in one.ways
    verbs = [
        language.say(_VERBS[way]) for way in _told(one)[1:] if not (way == "counterattack" and back)
    ]
    notes = [language.say("{ways} as well", ways=listed(verbs, language))] if verbs else []
    return [*notes, language.say("wins it back")] if back else notes


def telling_ways(found: Findings, one: Holds) -> list[Way]:
    """The ways, the one that tells most first, without those that come to nothing beside another.

    That is the main one, but a quiet check that wins something is told before moving away by it.

    Nothing comes of a block where something else stands between already, and of a guard that does
    not take back in the line shown, or that guards neither a unit nor a square which a threat
    still needs.
    """
    ways = _told(one)
    wins = one.net == "mates" or one.net >= THRESHOLD
    quiet = ways[0] == "move" and not found.board.is_capture(chess.Move.from_uci(one.move))
    if wins and quiet and "counterattack" in ways and is_check(found, one):
        ways.remove("counterattack")
        ways.insert(0, "counterattack")
    if len(ways) > 1 and "block" in ways and _stands_there_already(found, one):
        ways.remove("block")
    guarded = aim_of(one, "guard")
    if len(ways) > 1 and guarded and all(left_to_fall(one, at) for at in guarded):
        ways.remove("guard")
    if "guard" in ways[1:] and not guarded and not (one.answer or guards_in_words(found, one)):
        ways.remove("guard")
    return ways


def guarded_from_there(one: Holds) -> tuple[str, ...]:
    """What a unit that moves away guards from where it goes, and which would be lost without it.

    Beside what gains a guard.
    """
    told = aim_of(one, "guard")
    return tuple(at for at in aim_of(one, "move") if at not in told and not left_to_fall(one, at))


def left_to_fall(one: Holds, square: str) -> bool:
    """Whether a line of a move goes on elsewhere after something is taken on a square."""
    lines = [line for line in (one.answer, one.line) if line and len(line) > 2]
    return any(line[1][2:4] == square != line[2][2:4] for line in lines)


def _stands_there_already(found: Findings, one: Holds) -> bool:
    if len(one.blocks) != 2 or one.move[:2] in one.blocks:
        return False
    slider, unit = map(chess.parse_square, one.blocks)
    return bool(chess.SquareSet.between(slider, unit) & found.board.occupied)


def _told(one: Holds) -> list[Way]:
    """The ways, the main one first, without a block by the unit attacked that steps along it."""
    first, *more = one.ways or OTHER
    return [first, *(way for way in more if not (way == "block" and _steps_off(one)))]


def _verb(found: Findings, one: Holds, way: Way) -> str:
    language, squares = found.language, aim_of(one, way)
    if way == "counterattack" and is_check(found, one):
        return language.say("gives check")
    if squares == (one.move[2:4],):
        way = "capture"
    if way == "move":
        squares = ()
    if way == "guard" and (opens := opened_guard(one)):
        units = on_squares(found.board, squares, language)
        guard = on_square(found.board, opens, language)
        values = {"guard": guard, "unit": units}
        if _opens_both(one):
            hit = on_squares(found.board, aim_of(one, "counterattack"), language)
            return language.say("lets {guard} guard {unit} and attack {hit}", **values, hit=hit)
        return language.say("lets {guard} guard {unit}", **values)
    if way == "counterattack" and (opens := opened_attack(one)):
        units = on_squares(found.board, squares, language)
        slider = on_square(found.board, opens, language)
        return language.say("lets {slider} attack {units}", slider=slider, units=units)
    if squares:
        units = on_squares(found.board, squares, language)
        if way == "capture" and found.board.is_en_passant(chess.Move.from_uci(one.move)):
            return language.say("takes {units} en passant", units=units)
        return language.say(_AIMED[way], units=units)
    if way == "counterattack" and one.wins_back:
        return promotion_in_words(found, one)
    return _by_geometry(found, one, way) or language.say(_VERBS[way])


def opened_attack(one: Holds) -> str:
    """The square of the unit whose line a move opens to attack something; empty if it is none."""
    return next((aim.by for aim in one.aims if aim.way == "counterattack"), "")


def _opens_both(one: Holds) -> bool:
    """Whether the unit whose line a move opens both guards and attacks something."""
    return bool(opened_attack(one)) and opened_attack(one) == opened_guard(one)


def _pin_or_mate(found: Findings, one: Holds) -> str:
    """A counterattack that pins what was to take, or threatens mate or to promote next."""
    pinned = pins(found, one)
    if pinned is not None:
        return found.language.say("pins {unit} to its king", unit=pinned)
    if threatens_mate(found, one):
        return found.language.say("threatens mate")
    return promotion_in_words(found, one)


def pins(found: Findings, one: Holds) -> Noun | None:
    """What carries out a threat now, and after the move is pinned to its king and cannot."""
    after = found.board.copy(stack=False)
    after.push_uci(one.move)
    for fall in found.of(Unsafe):
        threat = chess.Move.from_uci(fall.line[1]) if len(fall.line) > 1 else chess.Move.null()
        bound = threat and after.is_pinned(after.turn, threat.from_square)
        if bound and after.is_pseudo_legal(threat) and not after.is_legal(threat):
            return on_square(after, chess.square_name(threat.from_square), found.language)
    return None


def threatens_mate(found: Findings, one: Holds) -> bool:
    """Whether what a move has ready for the threat would mate at once, were it ignored."""
    after = found.board.copy(stack=False)
    after.push_uci(one.move)
    ready = (one.answer or ())[2:]
    if len(ready) != 1 or after.is_check():
        return False
    after.push(chess.Move.null())
    mate = chess.Move.from_uci(ready[0])
    if not after.is_legal(mate):
        return False
    after.push(mate)
    return after.is_checkmate()


def _by_geometry(found: Findings, one: Holds, way: Way) -> str:
    """What a way does that is directed at no unit; empty where its name says enough."""
    language = found.language
    if way == "block" and stands_between(found, one):
        slider, unit = (on_square(found.board, at, language) for at in one.blocks)
        return language.say("stands between {slider} and {unit}", slider=slider, unit=unit)
    if way == "counterattack":
        return _pin_or_mate(found, one)
    if way == "guard":
        guards = guards_in_words(found, one)
        if guards:
            return guards
        if len(one.answer or ()) > 2:
            return ready_in_words(found, one)
        return language.say("guards a square that the threat needs")
    guard = _guarded_there(found, one) if way == "move" else None
    if guard:
        return language.say("moves away to where {guards} guards it", guards=guard)
    if way == "other" and only_owes(found):
        return language.say("gets back what was lost")
    if way == "other" and len(one.answer or ()) > 2:
        return ready_in_words(found, one)
    # Where nothing is won, a row below tells that.
    if way == "other" and (one.net == "mates" or one.net >= THRESHOLD):
        return stopped_in_words(found, one)
    return ""


def only_owes(found: Findings) -> bool:
    """Whether all that is in danger is what was lost in a trade: what holds gets it back."""
    return bool(found.one(Owed)) and not found.of(Unsafe) and not found.one(InCheck)


def _guarded_there(found: Findings, one: Holds) -> Noun | None:
    """What alone guards a unit where it moves to, as it stands then."""
    if not one.guarded_by:
        return None
    board = found.board.copy(stack=False)
    board.push_uci(one.move)
    return on_square(board, one.guarded_by[0], found.language)


def stands_between(found: Findings, one: Holds) -> bool:
    """Whether both ends of the line that a block closes stand there now, and stay.

    And nothing else stands between them.
    """
    if len(one.blocks) != 2 or one.move[:2] in one.blocks or _stands_there_already(found, one):
        return False
    return None not in (found.board.color_at(chess.parse_square(at)) for at in one.blocks)


def _hits(one: Holds) -> bool:
    """Whether a counterattack beside another way has something of its own to tell."""
    squares = aim_of(one, "counterattack")
    return bool(squares) and squares != aim_of(one, "capture")


def _steps_off(one: Holds) -> bool:
    """Whether the unit under attack is itself what moves, as a king along a line of attack."""
    return bool(one.blocks) and one.move[:2] == one.blocks[-1]
