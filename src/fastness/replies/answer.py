"""The answer to a question: sentences, what is not settled, and the lines that show it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ShownLine:
    """A line (UCI, perhaps from a pass) that shows what is told; `ringed` are squares."""

    line: tuple[str, ...]
    ringed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Answer:
    """Sentences to the student, those that say what is not settled, and the lines shown."""

    told: tuple[str, ...] = ()
    unsettled: tuple[str, ...] = ()
    lines: tuple[ShownLine, ...] = ()

    def and_then(self, other: Answer) -> Answer:
        """This answer with another behind it; what both say is said once."""
        return Answer(
            (*self.told, *(one for one in other.told if one not in self.told)),
            tuple(dict.fromkeys([*self.unsettled, *other.unsettled])),
            (*self.lines, *(one for one in other.lines if one not in self.lines)),
        )
