"""Every sentence the page may say of what is not safe or can be taken, and what examines it."""

import re
from collections.abc import Callable

import chess

from tests.survey.claims import AMOUNT, amount, change, read_line
from tests.survey.mechanism_rules import MECHANISM_RULES, MOVE, by_move
from tests.survey.reader import KEPT, Reader

SIDE = r"(White|Black)"
SIDES = r"(?:White|Black)"
SEEN = r"looking \d moves? ahead"


def in_line(reader: Reader, name: str, square: str) -> None:
    reader.taken_in_line(name, square)


def danger_is(reader: Reader, told: str | None = None) -> None:
    danger = (reader.survey["danger"] or [0])[-1]
    if told is None:
        assert danger == "mate"
    else:
        assert danger == amount(told) > KEPT


def too_little(reader: Reader, told: str) -> None:
    assert (reader.survey["danger"] or [0])[-1] == amount(told) <= KEPT


def shorter(reader: Reader, told: str) -> None:
    """What is seen looking less far ahead, clause by clause."""
    told = told[0].lower() + told[1:]
    for clause in told.split("; "):
        reaches, what = re.fullmatch(
            r"looking only ([\d or,]+) moves? ahead: (.+)", clause
        ).groups()  # type: ignore[union-attr]
        what, back, _ = what.partition(", but part of it is won back")
        last = (reader.survey["danger"] or [])[-1]
        for reach in map(int, re.findall(r"\d", reaches)):
            seen = (reader.survey["danger"] or [])[reach - 1]
            more = isinstance(last, int) and (
                seen == "mate" or (isinstance(seen, int) and seen > last)
            )
            assert bool(back) == more
            if what == "nothing":
                assert isinstance(seen, int)
                assert seen <= KEPT
            else:
                assert seen == ("mate" if what == "mate" else amount(what))


def nothing_won(reader: Reader, pawns: str | None) -> None:
    danger = (reader.survey["danger"] or [0])[-1]
    assert danger == "mated" or (isinstance(danger, int) and danger <= KEPT)
    if pawns:
        assert danger == -amount(pawns)


def guard_words(
    reader: Reader, attackers: str, guards: str | None, move: str | None = None
) -> None:
    reader.bear(attackers, guards or "")
    if move:
        comes_to_attack(reader, move)


def outnumbered(reader: Reader, often: str, attackers: str, guarded: str, rest: str) -> None:
    reader.outnumbered(often, attackers, guarded, rest)
    if later := re.search(rf"; in the line ({MOVE}) attacks it as well", rest):
        comes_to_attack(reader, later[1])


def unattacked_yet(reader: Reader, move: str | None) -> None:
    reader.unattacked()
    if move:
        comes_to_attack(reader, move)


def comes_to_attack(reader: Reader, move: str) -> None:
    """What makes a quiet move of the line attacks the unit that did not attack it before."""
    at = reader.unit
    assert at is not None

    def attacks(before: chess.Board, played: chess.Move, after: chess.Board) -> bool:
        fresh = at not in before.attacks(played.from_square)
        return fresh and not before.is_capture(played) and at in after.attacks(played.to_square)

    by_move(reader, move, attacks)


def fails_further_on(reader: Reader, san: str, loses: str | None) -> None:
    """A move that takes something falls at the full reach."""
    verdict = reader.verdicts[san]
    assert not verdict["holds"]
    assert verdict["net"] == (-amount(loses) if loses else "mated")


def taken_back_in_vain(reader: Reader, capture: str, answer: str) -> None:
    """Where the line before ends, taking back there wins nothing, as the answer shows."""
    first = read_line(reader.shown.end, [capture])
    assert first.moves[0].to_square == reader.shown.moves[-1].to_square
    rest = read_line(first.end, answer.split())
    mated = rest.end.is_checkmate() and rest.end.turn == reader.own
    assert mated or change(first, reader.own) + change(rest, reader.own) <= KEPT


def nothing(reader: Reader) -> None:
    """A sentence that asserts nothing of the position."""


UNIT = r"[Tt]he \w+ on \w\d"
UNITS = rf"{UNIT}(?:(?:, | and ){UNIT})*"
HOW = rf"(?:the line shows how it is won|in the line ({MOVE}) attacks it(?: as well)?)"
RULES: list[tuple[str, Callable[..., None]]] = [
    (rf"({UNIT}) is not safe: it costs ({AMOUNT}), {SEEN}", Reader.falls),
    (rf"({UNIT}) is not safe: {SIDES} can be mated, {SEEN}", Reader.falls),
    (rf"({UNITS}) are unsafe together: once .* can be saved", Reader.together),
    (
        rf"({UNITS}) are unsafe together: {SIDES} takes ({UNIT}), and after \d+\.(?:\.\.)?(\S+)"
        rf" ({UNIT})",
        Reader.in_turn,
    ),
    (rf"That costs ({AMOUNT}), {SEEN}", Reader.cost),
    (rf"{SIDES} can be mated, {SEEN}", Reader.cost),
    (rf"({UNIT}) can be taken: {SIDES} (?:wins|takes back) ({AMOUNT}), {SEEN}", Reader.falls),
    (rf"{SIDES} mates by force, {SEEN}", Reader.mates),
    (rf"({UNITS}) cannot all be saved: {SIDES} wins ({AMOUNT}), {SEEN}", Reader.falls),
    (rf"({UNITS}) cannot all be saved: {SIDES} can mate, {SEEN}", Reader.falls),
    (
        rf"Later ({UNIT}) is taken as well: that costs ({AMOUNT}) more, {SEEN}",
        Reader.falls,
    ),
    (rf"In another line ({UNIT}) is taken: that costs ({AMOUNT}), {SEEN}", Reader.falls),
    (
        rf"After that ({UNIT}) is taken as well: that (?:costs|wins) ({AMOUNT}) more, {SEEN}",
        Reader.falls,
    ),
    (rf"({UNIT}) is won back: .*", Reader.kept),
    (rf"({UNIT}) is safe by tactics: .*", Reader.kept),
    (rf"({UNIT}) can be taken, but {SIDES} wins it back", Reader.kept),
    (rf"({UNITS}) attacks? it and (?:is|are) worth less, and nothing guards it", Reader.lesser),
    (
        rf"({UNITS}) attacks? it and (?:is|are) worth less, so the guards? \(({UNITS})\) (?:is|are)"
        " not enough",
        Reader.lesser,
    ),
    (
        rf"It is attacked ([\w ]+) \(({UNITS})\) and guarded ((?:by )?\w+(?: times)?)(.*)",
        outnumbered,
    ),
    (rf"({UNITS}) attacks? it, and nothing guards it", Reader.bear_unguarded),
    (
        rf"({UNITS}) attacks? it; (?:({UNITS}) guards? it; )?{HOW}",
        guard_words,
    ),
    (
        rf"({UNITS}) attacks? it; ({UNITS}) guards? it, but there is no time to take back, since"
        " more is in danger",
        guard_words,
    ),
    (rf"Nothing attacks it yet; {HOW}", unattacked_yet),
    (rf"Nothing attacks it yet; in the line it is given up for ({UNIT})", Reader.given_up),
    (r"Nothing attacks it yet, and nothing guards it", Reader.alone),
    (rf"But {SEEN}, \d+\.+(\S+) (?:loses ({AMOUNT})|is mated)", fails_further_on),
    (
        r"In the line (?:the|a) (\w+) (?:that has come to|on) (\w\d) takes it and is worth less",
        in_line,
    ),
    (r"It comes to be attacked more often than guarded, as the line shows", Reader.unattacked),
    (r"The line shows how it is won", nothing),
    (
        rf"A pawn of {SIDES}'s promotes on (\w\d) by force if {SIDES} passes",
        Reader.promoted,
    ),
    (r"No single unit is in danger where it stands", nothing),
    (r"What can be won shows after (.*)", Reader.example),
    (r"The same is won after a move that does nothing about it: (.*)", Reader.won_in_the_end),
    (r"Loose, that is unguarded but not attacked: (.*)", Reader.loose),
    (rf"(The king on \w\d) is in check from ({UNITS})", Reader.checked),
    (rf"In check {SIDES} cannot pass, so the other units are not judged: .*", nothing),
    (
        rf"If {SIDES} passes, {SIDES} wins ({AMOUNT}) by force, {SEEN}(?:, counting the trade)?",
        danger_is,
    ),
    (rf"If {SIDES} passes, {SIDES} mates by force, {SEEN}", danger_is),
    (
        rf"Nothing of {SIDES}'s can be won, {SEEN}, even if {SIDES} passes",
        lambda r: nothing_won(r, None),
    ),
    (rf"If {SIDES} passes, {SIDES} wins only ({AMOUNT}), {SEEN}: too little to count", too_little),
    (rf"{SIDES} would then be the one who loses ({AMOUNT})", nothing_won),
    (rf"{SIDES} would then have no move that avoids being mated", lambda r: nothing_won(r, None)),
    (r"(Looking only [\d or,]+ moves? ahead: .*)", shorter),
    (
        r"Looking only [\d or,]+ moves? ahead, something seems to be won; looking further, it is"
        " not",
        nothing,
    ),
    (
        rf"({UNITS}) attacks? it; ({UNITS}) guards? it, but taking back does not help",
        guard_words,
    ),
    (rf"If {SIDE} takes back: (.*)", Reader.takes_back),
    (r"If (\d+\.+\S+), then (.*)", taken_back_in_vain),
    (rf"That costs ({AMOUNT})", Reader.back_costs),
    (r"That is mate", Reader.back_mates),
    (rf"After (\d+\.+\S+) ({UNITS}) (?:is|are) in danger as well", Reader.at_stake),
    (rf"A trade is in progress: {SIDES} is owed ({AMOUNT})", Reader.owed),
    (r"What follows is counted from before the trade, .*", nothing),
    (rf"Beside the trade, no unit of {SIDES}'s is in danger", nothing),
    (r"This position may be the middle of a trade, .*", nothing),
    (r"To have it judged from the start of the trade, .*", nothing),
]


def examine(reader: Reader, told: str) -> None:
    """Holds one sentence against the board; a sentence that no rule knows fails."""
    for pattern, check in [*RULES, *MECHANISM_RULES]:
        found = re.fullmatch(pattern, told)
        if found:
            check(reader, *found.groups())
            return
    several = re.fullmatch(rf"(.*): ({UNIT}) is taken", told)
    if several:
        reader.proof_of(*several.groups())
        return
    proof = told.startswith("If ") or re.match(r"\d+\.", told)
    assert proof, f"nobody examines: {told}"
    reader.proof(told)
