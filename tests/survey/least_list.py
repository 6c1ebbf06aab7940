"""Holds what a page tells of the moves that lose least against the board and the rules."""

import re

import chess

from tests.survey.claims import AMOUNT, Line, amount, change, falls_in, flat, read_line, units_named
from tests.survey.move_lists import SEEN, SIDES, SOME, MovesReader
from tests.survey.reader import KEPT


class ListReader(MovesReader):
    """Reads the lists of moves, and what loses least where none keeps the material."""

    def hopeless(self, rows: list[str]) -> bool:
        """Whether the part says that no move keeps the material, which must be so."""
        text = flat(rows)
        found = re.match(
            r"(?:None of the (\d+) legal moves keeps|The only legal move does not keep) the"
            rf" material(?:: {SIDES} is mated in every case|\. The least is lost by (.*?)(?: and"
            rf" others)?, {SEEN}: ({AMOUNT})\. (.*))",
            text,
        )
        if not found:
            return False
        assert self.board.legal_moves.count() == int(found[1] or 1)
        assert not any(verdict["holds"] for verdict in self.verdicts.values())
        nets = {san: (one["deeper"] or one)["net"] for san, one in self.verdicts.items()}
        if not found[3]:
            assert set(nets.values()) == {"mated"}
            return True
        least = min(-net for net in nets.values() if isinstance(net, int))
        assert least == amount(found[3])
        for san in re.split(r", | and ", found[2]):
            assert nets[san] == -least
            # Told here alone, and not among the tries.
            self.told_as_least.add(san)
        words = found[4].split()
        line = read_line(self.board, words)
        assert change(line, self.own) - self.survey["owed"] == -least
        self.after_the_least(line, words)
        return True

    def after_the_least(self, line: Line, words: list[str]) -> None:
        """What keeps the rest, after which moves more is lost, and whether verdicts are firm."""
        costs = re.match(
            rf"This (?:saves ({SOME}), and )?costs ({SOME})(?: for ({SOME}))?\. ?", " ".join(words)
        )
        if costs:
            self.costs(line, *costs.groups())
            del words[: len(costs[0].split())]
        kept = ["After", "that", "no", "more", "is", "lost:"]
        if words[: len(kept)] == kept:
            del words[: len(kept)]
            rest = read_line(line.end, words)
            assert -change(rest, self.own) <= KEPT
        told = " ".join(words)
        if worse := re.match(r"Looking further on, more is lost after (.*?)\.(?: |$)", told):
            named = re.split(r", | and ", worse[1])
            assert all(not self.verdicts[san]["holds"] for san in named)
            told = told[worse.end() :]
        told = self.without_the_rest(self.without_others(told, -change(line, self.own)))
        if told:
            deeper = re.fullmatch(r"Checked one move deeper: (.*)", told)
            assert deeper, f"nobody examines {told}"
            self.checked_deeper(deeper[1])

    def without_others(self, told: str, loses: int) -> str:
        """What is left of a text without the lines of other moves that lose as little."""
        words = told.split()
        while words[:1] == ["or"]:
            words.pop(0)
            line = read_line(self.board, words)
            assert line.sans[0] in self.told_as_least
            assert -change(line, self.own) == loses
        return " ".join(words)

    def costs(self, line: Line, saved: str | None, lost: str, won: str | None) -> None:
        """What is taken in the line that loses least, and what is in danger and stays."""
        for told, colour in ((lost, self.own), (won or "", not self.own)):
            there = chess.SquareSet(self.board.occupied_co[colour])
            assert set(units_named(self.board, told)) == {at for at in there if falls_in(line, at)}
        unsafe = {one["square"] for one in self.survey["units"] if "unsafe" in one["status"]}
        for at in units_named(self.board, saved or ""):
            assert chess.square_name(at) in unsafe
            assert not falls_in(line, at)

    def without_the_rest(self, told: str) -> str:
        """What is left of a text without the count of the other moves and a line of one of them."""
        rest = re.match(
            r"(?:The other move|Every other move \(\d+\)) (?:loses|allows).*?\. ?", told
        )
        if not rest:
            return told
        words = told.split()
        self.phrase(words, set(self.told_as_least), "what loses least")
        if words and re.match(r"\d+\.", words[0]):
            tried = read_line(self.board, words)
            assert tried.sans[0] not in self.told_as_least
            self.result(tried, words, holding=False)
        return " ".join(words)
