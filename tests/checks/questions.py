"""Tables of questions about positions, and the survey's answers to them as text.

Each row has `position` (a FEN, moves from the start position such as ``1.e4 d5``, or a FEN and
moves with ``|`` between), `question`, `expected`, `reason`, `source`, and where the table has the
columns, `reach` and `values`. Lists are in alphabetical order, ``none`` stands for an empty one.
An expected line that ends in ``...`` may go on.
"""

import csv
import re
from collections.abc import Iterable, Sequence
from functools import lru_cache
from pathlib import Path

import chess

from fastness import core
from fastness.core.shapes import MoveVerdict, Survey, Unit

DATA = Path(__file__).parents[1] / "data"
Row = dict[str, str]

_STATUSES = ("unsafe together", "unsafe", "won back", "safe by tactics")


def table(name: str) -> list[Row]:
    with (DATA / "checks" / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def label(row: Row) -> str:
    return " ".join(row[key] for key in ("position", "question", "reach", "values") if row.get(key))


def played(position: str) -> tuple[str, list[str]]:
    """The FEN that a row starts from and the moves played, in UCI."""
    start, _, sans = position.rpartition("|") if "|" in position else ("", "", position)
    if "/" in sans:
        return sans, []
    board = chess.Board(start.strip() or chess.STARTING_FEN)
    fen = board.fen()
    moves = [board.push_san(san).uci() for san in re.sub(r"\d+\.+", " ", sans).split()]
    return fen, moves


@lru_cache(maxsize=64)
def survey_of(position: str, reach: int, values: str) -> Survey:
    fen, moves = played(position)
    return core.survey(fen, moves=moves, reach=reach, values=values)


def answer(row: Row) -> str:
    """What the survey says to a row's question."""
    reach, values = int(row.get("reach") or 3), row.get("values") or "classical"
    return answered(survey_of(row["position"], reach, values), row["question"])


def answered(survey: Survey, question: str) -> str:
    """The answer to one question, as text."""
    if question in _STATUSES:
        return listed(u["square"] for u in survey["units"] if u["status"] == question)
    word, _, rest = question.partition(" of ")
    if rest:
        at = next((u for u in survey["units"] if u["square"] == rest), None)
        return about_unit(survey, at, word) if at else about_move(survey, move(survey, rest), word)
    if question.startswith("moves that "):
        return moves_that(survey, question.removeprefix("moves that "))
    return about_position(survey, question)


def about_position(survey: Survey, question: str) -> str:
    match question:
        case "danger":
            return " ".join(map(str, survey["danger"] or ())) or "none"
        case "owed":
            return str(survey["owed"])
        case "takings":
            return listed(unit["square"] for unit in survey["takings"])
        case "moves":
            return listed(m["uci"] for m in survey["moves"])
    word, _, name = question.partition(" ")
    if word == "legal":
        return yes(any(name in (m["uci"], m["san"]) for m in survey["moves"]))
    if word == "holds":
        return yes(move(survey, name)["holds"])
    raise ValueError(f"no such question: {question}")


def about_unit(survey: Survey, unit: Unit, word: str) -> str:
    match word:
        case "status":
            return unit["status"]
        case "loses":
            return str(unit["loses"])
        case "reach":
            return str(unit["reach"])
        case "mechanisms":
            return listed(unit["mechanisms"])
        case "attackers":
            return listed(unit["attackers"])
        case "guards":
            return listed(unit["guards"])
        case "together":
            return listed(unit["together"])
        case "line":
            return " ".join(sans(survey["fen"], unit["line"] or []))
    raise ValueError(f"no such question about a unit: {word}")


def about_move(survey: Survey, verdict: MoveVerdict, word: str) -> str:
    match word:
        case "net":
            return str(verdict["net"])
        case "way":
            return verdict["ways"][0] if verdict["ways"] else "none"
        case "ways":
            return listed(verdict["ways"])
        case "falls at":
            return str(verdict["falls_at"])
        case "drops":
            return listed(verdict["drops"])
        case "refutation":
            return " ".join(sans(survey["fen"], verdict["line"] or [])[1:2]) or "none"
        case "line":
            return " ".join(sans(survey["fen"], verdict["line"] or []))
    raise ValueError(f"no such question about a move: {word}")


def moves_that(survey: Survey, what: str) -> str:
    """SAN of the moves that hold, or whose ways include one."""
    chosen = [m for m in survey["moves"] if (m["holds"] if what == "hold" else what in m["ways"])]
    return listed(m["san"] for m in chosen)


def move(survey: Survey, name: str) -> MoveVerdict:
    """The verdict on a legal move, named in SAN or UCI."""
    return next(m for m in survey["moves"] if name in (m["san"], m["uci"]))


def sans(fen: str, line: Sequence[str]) -> list[str]:
    """A line in SAN, a pass as ``pass``."""
    board = chess.Board(fen)
    told = []
    for uci in line:
        step = chess.Move.from_uci(uci)
        told.append(board.san(step) if step else "pass")
        board.push(step)
    return told


def listed(words: Iterable[str]) -> str:
    return " ".join(sorted(words)) or "none"


def yes(true: bool) -> str:
    return "yes" if true else "no"
