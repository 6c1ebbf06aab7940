"""Movetext in pieces, by the import format of the PGN standard of 1994 (sections 7 and 8.2)."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

Kind = Literal[
    "comment", "open", "close", "nag", "result", "number", "move", "reserved", "odd", "nested"
]

# A comment ends at the first closing brace: braces do not nest. `[\w+#=:/-]` holds the symbol
# characters of section 7 and what hand-typed moves bring ("0-0", "e8/Q", "--").
_TOKEN = re.compile(
    r"""
      (?P<move>(?:[A-Za-z][\w+\#=:/-]*|[0Oo]-[0Oo](?:-[0Oo])?[+\#]*|0000|--)(?=[^\w]|$))
    | (?P<number>\d+(?![-\d/½])[ \t]*\.*|\.+|…)
    | (?P<comment>\{[^}]*\}?|;.*)
    | (?P<result>(?:1-0|0-1|1/2(?:-1/2)?|½-½|\*)(?![\w/-]))
    | (?P<nag>\$\d*|[!?]+)
    | (?P<open>\()
    | (?P<close>\))
    | (?P<reserved><[^>]*>?)
    | (?P<odd>[^\s{};()$!?*<]+|\S)
    """,
    re.VERBOSE,
)
_LONGEST_COMMENT = 1 << 16

_CLOCK = re.compile(r"\[%(clk|emt)\s+(\d+):(\d{1,2}):(\d{1,2}(?:\.\d+)?)\s*\]")


@dataclass(slots=True)
class Movetext:
    """The reader of one file's movetext, line by line; a comment may run over several lines."""

    comment: list[str] | None = None
    """The lines so far of a comment that is still open."""

    def tokens(self, line: str) -> Iterator[tuple[Kind, str]]:
        """The pieces of a line in order; a comment is given where it ends, without its braces.

        A comment that holds another one is against the standard, but what it means is clear
        where both end on one line: it is given as one, with the piece "nested" before it.
        """
        at = 0
        if self.comment is not None:
            end = line.find("}")
            if end < 0:
                self._keep(line)
                return
            text = "\n".join([*self.comment, line[:end]])
            self.comment = None
            at = end + 1
            yield "comment", text
        line = line.replace("e.p.", "    ") if "e.p." in line else line
        while found := _TOKEN.search(line, at):
            at = found.end()
            kind, text = found.lastgroup, found.group()
            if kind != "comment":
                yield kind, text  # type: ignore[misc]  # the names of the groups are the kinds
            elif text[0] == ";":
                yield "comment", text[1:]
            elif text[-1] == "}" and len(text) > 1:
                if "{" in text[1:] and (end := _outer_end(line, at)) > at:
                    yield "nested", text
                    text, at = text + line[at:end], end
                yield "comment", text[1:-1]
            else:
                self.comment = [text[1:]]
                return

    def _keep(self, line: str) -> None:
        # What no one closes must not fill the memory.
        if self.comment is not None and sum(map(len, self.comment)) < _LONGEST_COMMENT:
            self.comment.append(line)


def _outer_end(line: str, at: int) -> int:
    """Where the outer of two nested comments ends: past a "}" that no "{" comes before."""
    end = line.find("}", at)
    return end + 1 if end >= 0 and "{" not in line[at:end] else at


def without_times(comment: str) -> str:
    """A comment without the times that `times` tells."""
    return _CLOCK.sub("", comment).strip()


def times(comment: str) -> tuple[float | None, float | None]:
    """The seconds left on the clock (`%clk`) and the seconds spent (`%emt`) that a comment tells.

    Their form h:mm:ss is that of the PGN supplement of 2001; fractions of a second are allowed.
    """
    left = spent = None
    if "[%" in comment:
        for name, hours, minutes, seconds in _CLOCK.findall(comment):
            told = int(hours) * 3600 + int(minutes) * 60 + float(seconds)
            if name == "clk":
                left = told
            else:
                spent = told
    return left, spent
