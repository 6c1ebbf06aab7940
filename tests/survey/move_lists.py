"""Holds the lists of moves on a page against the board and the rules."""

import re

import chess

from fastness.core.shapes import Survey
from fastness.survey.words import WAYS
from tests.survey.claims import (
    AMOUNT,
    SAN,
    Line,
    amount,
    change,
    flat,
    read_line,
)
from tests.survey.reader import KEPT, Reader
from tests.survey.reason_rules import reason_holds

SEEN = r"looking \d moves? ahead"
SIDES = r"(?:White|Black)"
SOME = r"the \w+ on \w\d(?:(?:, | and )the \w+ on \w\d)*"
AIMS = r"(?:to (?:capture|move away|block|guard|hit back)|other tries)\b"


class MovesReader(Reader):
    """Reads the lists of moves that keep the material, fail, lose or win."""

    def __init__(self, survey: Survey) -> None:
        super().__init__(survey)
        self.told_as_least: set[str] = set()

    def listed(self, title: str, rows: list[str], *, holding: bool) -> set[str]:
        """Reads a list of moves; gives those named, and sees that what is counted adds up."""
        text = flat(rows)
        if deeper := re.search(r"Checked one move deeper: (.*)", text):
            self.checked_deeper(deeper[1])
            text = text[: deeper.start()]
        text = re.sub(r"Zugzwang: .* has to move\.", "", text)
        told: set[str] = set()
        for note in re.findall(r"(\S+) \([^)]*wins it back", text):
            assert self.verdicts[note]["wins_back"]
        for san, answer in re.findall(r"(\S+) \(\d+\.+(\S+?)\)", text):
            self.answered(san, answer)
        note = rf"(?<!move) \((?!(?:loses {AMOUNT}|is mated)[:;)])[^)]*\)"
        words = re.sub(note, "", text).split()
        while words:
            if re.match(r"\d+\.", words[0]):
                line = read_line(self.board, words)
                self.result(line, words, holding=holding)
                told.add(line.sans[0])
                self.row_below(line, words)
            elif aim := re.match(AIMS, " ".join(words)):
                del words[: len(aim[0].split())]
            elif words[0] in WAYS or words[0] == "also:":
                words.pop(0)
            elif SAN.fullmatch(words[0].rstrip(",")):
                told.add(words.pop(0).rstrip(","))
            else:
                self.phrase(words, told, title)
        assert told <= set(self.verdicts), title
        return told

    def checked_deeper(self, told: str) -> None:
        """Which moves have another verdict one move deeper, by name up to a dozen."""
        turned = {san for san, one in self.verdicts.items() if one["firm"] is False}
        holding = {san for san in turned if self.verdicts[san]["holds"]}
        if re.fullmatch(rf"every move keeps its verdict, {SEEN}\.", told):
            assert not turned
            return
        if too := re.fullmatch(rf"{SEEN} (.*) keeps? the material too\.", told):
            assert not holding
            self.named_of(too[1], turned)
            return
        found = re.fullmatch(rf"not firm, since {SEEN} (.*)\.", told)
        assert found, f"nobody examines: {told}"
        lost = re.search(r"(?:^|; )([^;]*) no longer keeps? the material", found[1])
        kept = re.search(r"(?:^|; )([^;]*) keeps? it too", found[1])
        for names, really in ((lost, holding), (kept, turned - holding)):
            self.named_of(names[1] if names else "", really)

    def named_of(self, names: str, really: set[str]) -> None:
        """Moves named in a list are among these, and no others are left out but by their count."""
        named = set(re.split(r", | and ", names)) if names else set()
        more = {one for one in named if re.fullmatch(r"\d+ more", one)}
        assert named - more <= really
        assert len(named - more) + sum(int(one.split()[0]) for one in more) == len(really)

    def row_below(self, tried: Line, words: list[str]) -> None:
        """What may stand below a try."""
        if words[:2] == ["or", "even"]:
            del words[:2]
            self.mates_instead(tried, words.pop(0))
        if words[:1] == ["if"]:
            self.in_vain(tried, words)
        if words[:1] == ["looking"]:
            self.loses_deeper(tried, words)

    def mates_instead(self, tried: Line, told: str) -> None:
        """The mate that a line passes by, where its number says."""
        found = re.fullmatch(r"(\d+)\.(?:\.\.)?(\S+)", told)
        assert found, told
        boards = [one for one in tried.boards if one.turn != self.own]
        board = next(one for one in boards if one.fullmove_number == int(found[1])).copy()
        board.push_san(found[2])
        assert board.is_checkmate()

    def in_vain(self, tried: Line, words: list[str]) -> None:
        """What seems to win something back after a try, and the answer after which it does not."""
        assert words.pop(0) == "if"
        words[0] = words[0].removesuffix(",")
        # Taking back at once, or where the line ends.
        at_once = len(tried.boards) > 2 and words[0].startswith(
            f"{tried.boards[2].fullmove_number}."
        )
        start = tried.boards[2] if at_once else tried.end
        capture = read_line(start, [words.pop(0)])
        assert start.is_capture(capture.moves[0])
        assert words.pop(0) == "then"
        answer = self.line_of_row(capture.end, words)
        mated = answer.end.is_checkmate() and answer.end.turn == self.own
        assert mated or change(capture, self.own) + change(answer, self.own) < KEPT

    def loses_deeper(self, tried: Line, words: list[str]) -> None:
        """What a move that falls loses one move deeper, by a line of its own."""
        text = rf"{SEEN} it (?:loses ({AMOUNT})|(is mated)):"
        found = re.match(text, " ".join(words))
        assert found, words
        del words[: len(found[0].split())]
        line, deeper = self.line_of_row(self.board, words), self.verdicts[tried.sans[0]]["deeper"]
        assert line.sans[0] == tried.sans[0]
        assert deeper
        lost = -change(line, self.own) + self.survey["owed"]
        told = amount(found[1]) if found[1] else None
        assert deeper["net"] == ("mated" if told is None else -told)
        assert line.end.is_checkmate() if told is None else lost == told

    def line_of_row(self, board: chess.Board, words: list[str]) -> Line:
        """A line, read up to where the next try begins, at the position's own move."""
        number = f"{self.board.fullmove_number}{'.' if self.board.turn else '...'}"
        ends = (at for at, word in enumerate(words) if at and word.startswith(number))
        shown = words[: next(ends, len(words))]
        left = len(words) - len(shown)
        line = read_line(board, shown)
        del words[: len(words) - left - len(shown)]
        return line

    def answered(self, san: str, answer: str) -> None:
        """A move that falls, told by its answer alone."""
        verdict, after = self.verdicts[san], self.board.copy(stack=False)
        after.push_san(san)
        assert not verdict["holds"]
        assert verdict["line"]
        assert verdict["line"][1] == after.parse_san(answer).uci()

    def result(self, line: Line, words: list[str], *, holding: bool) -> None:
        firm = rf"(?:; (not firm: keeps the material, {SEEN}))?"
        told = rf"\((?:loses ({AMOUNT})|(is mated))(?:: ([^)]*?))?{firm}\)"
        found = re.match(told, " ".join(words))
        gained = change(line, self.own) - self.survey["owed"]
        if not found:
            assert holding, line.sans
            mates = line.end.is_checkmate() and line.end.turn != self.own
            assert mates or gained >= -KEPT, line.sans
            assert self.verdicts[line.sans[0]]["holds"]
            return
        del words[: len(found[0].split())]
        if found[3]:
            reason_holds(line, found[3])
        verdict = self.verdicts[line.sans[0]]
        assert bool(found[4]) == (verdict["firm"] is False and not verdict["holds"]), line.sans
        if found[1]:
            assert gained == -amount(found[1]), (line.sans, gained)
        else:
            assert line.end.is_checkmate()
            assert line.end.turn == self.own

    def phrase(self, words: list[str], told: set[str], title: str) -> None:
        """The count of what is left, or what the moves named next lose."""
        text = " ".join(words)
        rest = re.match(
            rf"(?:The other move|Every other move \((\d+)\)) (?:loses ({AMOUNT})( or more)?|allows"
            r" mate)\.",
            text,
        )
        group = re.match(rf"(?:loses ({AMOUNT})|(is mated)): ((?:\S+, )*\S+)", text)
        none = re.match(rf"No legal move loses anything, {SEEN}\.", text)
        assert rest or group or none, f"{title}: nobody examines {text}"
        if rest:
            left = [
                verdict
                for san, verdict in self.verdicts.items()
                if not verdict["holds"]
                and san not in told | self.told_as_least
                # What holds one move deeper is named there.
                and verdict["firm"] is not False
            ]
            assert len(left) == int(rest[1] or 1)
            losses = [v["net"] for v in left]
            if rest[2]:
                nets = [-net if isinstance(net, int) else 10**6 for net in losses]
                assert min(nets) == amount(rest[2])
                assert bool(rest[3]) == (max(nets) > min(nets))
            else:
                assert set(losses) == {"mated"}
            told.update(verdict["san"] for verdict in left)
        if group:
            for san in group[3].split(", "):
                net = self.verdicts[san]["net"]
                assert net == ("mated" if group[2] else -amount(group[1]))
        found = rest or none
        del words[: len(found[0].split()) if found else len(group[0].split(": ")[0].split())]  # type: ignore[index]

    def winning(self, rows: list[str]) -> None:
        """The moves that win something, by what they win."""
        for what, sans in re.findall(
            rf"(mates|wins {AMOUNT}): (.*?)(?= (?:mates|wins {AMOUNT}):|$)", flat(rows)
        ):
            for san in re.sub(r",? and \d+ more", "", sans).split(", "):
                net = self.verdicts[san]["net"]
                assert net == ("mates" if what == "mates" else amount(what.removeprefix("wins ")))
