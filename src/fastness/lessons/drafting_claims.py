"""What a drafted lesson claims of a position: proposed from its survey, kept where it is proved."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import chess

from fastness.core.shapes import MoveVerdict, Survey
from fastness.language import ENGLISH
from fastness.lessons.checking import check_block
from fastness.lessons.lesson import (
    AllThatKeep,
    Better,
    Block,
    Claim,
    FallsBy,
    Keeps,
    Loses,
    Safety,
    Threatened,
    Twin,
)
from fastness.lessons.reading import read_lesson
from fastness.survey.danger import has_danger
from fastness.survey.tries import in_danger

MOST_KEEPING = 4
"""Moves that keep everything, where a student is asked for all of them."""
TRIES = 3
"""Natural tries that fail which are claimed."""
ANSWERS = 2
"""Half-moves of a refutation that are claimed: the first answer is what wins."""


@dataclass(frozen=True, slots=True)
class Marked:
    """A position with claims that were all found to be true, in the order proposed."""

    fen: str
    claims: tuple[Claim, ...]

    @property
    def block(self) -> str:
        """The position block as it stands in a lesson file."""
        return written(self.fen, [claim.text for claim in self.claims])

    def without_tries(self, but: Sequence[str] = ()) -> Marked:
        """The position without its tries that fail, `but` for these moves (UCI)."""
        kept = [one for one in self.claims if not isinstance(one, Loses) or one.move in but]
        return Marked(self.fen, tuple(kept))

    @property
    def unsafe(self) -> tuple[str, ...]:
        """The squares of what is not safe."""
        return tuple(
            square
            for claim in self.claims
            if isinstance(claim, Safety) and claim.unsafe
            for square in claim.squares
        )

    @property
    def falling(self) -> tuple[Loses, ...]:
        """The tries that fail."""
        return tuple(claim for claim in self.claims if isinstance(claim, Loses))

    @property
    def keeping(self) -> tuple[str, ...]:
        """Moves (UCI) that keep everything."""
        return tuple(
            dict.fromkeys(
                move
                for claim in self.claims
                if isinstance(claim, Keeps | AllThatKeep)
                for move in claim.moves
            )
        )

    @property
    def all_keeping(self) -> tuple[str, ...]:
        """All the moves that keep everything; empty where that is not claimed."""
        return next((one.moves for one in self.claims if isinstance(one, AllThatKeep)), ())

    @property
    def danger(self) -> Threatened | None:
        """What is in danger, by its worth."""
        return next((one for one in self.claims if isinstance(one, Threatened)), None)

    @property
    def mechanisms(self) -> tuple[tuple[str, str], ...]:
        """Square and mechanism of each cause."""
        return tuple((one.square, one.mechanism) for one in self.claims if isinstance(one, FallsBy))

    def has(self, kind: type[Better | Twin]) -> bool:
        """Whether a claim of this kind is among them."""
        return any(isinstance(one, kind) for one in self.claims)


def written(fen: str, claims: Sequence[str]) -> str:
    """A position block of a lesson file."""
    return "\n".join(["```position", fen, *claims, "```"])


def proved_block(fen: str, claims: Sequence[str]) -> Marked:
    """The position with those of the claims that are true, both times they are looked at."""
    lesson = read_lesson(written(fen, claims) + "\n")
    block = next(part for part in lesson.parts if isinstance(part, Block))
    answers = check_block(block, ENGLISH)
    return Marked(fen, tuple(one.claim for one in answers if one.verdict == "true"))


def claims_of(
    survey: Survey, *, keeping: Sequence[str] = (), tries: Sequence[str] = ()
) -> list[str]:
    """What may be claimed of a firm survey's position with something in danger, one a line.

    `keeping` and `tries` are moves (UCI) that are to be among those claimed to keep everything and
    to fail.
    """
    board = chess.Board(survey["fen"])
    unsafe = in_danger(survey)
    found = [f"unsafe: {unit['square']}" for unit in unsafe if unit["unit"] != "king"]
    found += [
        f"mechanism: {unit['square']} {name}" for unit in unsafe for name in unit["mechanisms"]
    ]
    found += _danger(survey)
    holding = [move for move in survey["moves"] if move["holds"]]
    # What fails is spoken of first, and a picture that was passed over is not gone back to.
    found += list(_tries(board, survey, tries))
    found += _keeping(board, holding, keeping)
    return list(dict.fromkeys(found))


def _danger(survey: Survey) -> list[str]:
    if not has_danger(survey) or not survey["danger"]:
        return []
    last = survey["danger"][-1]
    return [f"danger: {last / 100:g}"] if isinstance(last, int) else [f"danger: {last}"]


def _keeping(board: chess.Board, holding: Sequence[MoveVerdict], named: Sequence[str]) -> list[str]:
    sans = [move["san"].rstrip("+#") for move in holding]
    if len(sans) == 1:
        return [f"only: {sans[0]}"]
    if 1 < len(sans) <= MOST_KEEPING:
        return [f"these are all: {', '.join(sans)}"]
    firm = [move["uci"] for move in holding if move["firm"]]
    chosen = list(dict.fromkeys([*named, *firm]))[: max(MOST_KEEPING, len(named))]
    if not chosen:
        return []
    return [f"holds: {', '.join(board.san(chess.Move.from_uci(one)) for one in chosen)}"]


def _tries(board: chess.Board, survey: Survey, named: Sequence[str]) -> Iterator[str]:
    falling = {move["uci"]: move for move in survey["moves"] if not move["holds"]}
    natural = [
        uci for uci, move in falling.items() if move["natural"] and move["firm"] and move["line"]
    ]
    natural.sort(key=lambda uci: len(falling[uci]["line"] or ()))
    for uci in dict.fromkeys([*named, *natural[:TRIES]]):
        line = (falling[uci]["line"] or [])[:ANSWERS]
        if len(line) < ANSWERS:
            continue
        after = board.copy(stack=False)
        san = after.san(chess.Move.from_uci(uci))
        after.push_uci(uci)
        yield f"falls: {san} because {after.san(chess.Move.from_uci(line[1]))}"
