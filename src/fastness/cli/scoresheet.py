"""`fastness scoresheet`: type a game from a score sheet."""

from __future__ import annotations

import datetime
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

from fastness.errors import InputError
from fastness.intake.scoresheet import RESULTS, Ambiguous, Entered, Refused, Sheet
from fastness.intake.sheet_file import KeptSheet, SheetFile, last_sheet
from fastness.survey.diagram import diagram

INTERRUPTED = 130
HELP = """\
Type moves as they stand on the sheet, one or several on a line: e4, Nf3, nf3, exd5, ed, O-O, 0-0.
  back, back 3    take back a move, or three
  board           show the position
  legal           list the legal moves
  illegible       the sheet cannot be read any further
  result 1-0      or 0-1, 1/2; a wrong one is kept as it stands on the sheet
  done            finish this game"""


def scoresheet(
    out: Path,
    *,
    white: str | None = None,
    black: str | None = None,
    event: str | None = None,
    date: str | None = None,
    letters: Literal["english", "german", "french", "spanish"] = "english",
    go_on: Annotated[bool, Parameter(negative=())] = False,
) -> int:
    """Type a game from a score sheet into a PGN file; it is kept after every entry.

    A file that is there is added to. If its last game was not finished, you are asked whether to
    go on with it. What is not given by an option is asked for.

    Args:
        out: the PGN file.
        white: White's name.
        black: Black's name.
        event: the event.
        date: the day, as 2026-09-07; today if left empty.
        letters: the language of the letters for the pieces.
        go_on: go on with the file's last game, without being asked.
    """
    if out.is_dir():
        raise InputError(f"{out} is a folder; name a PGN file in it")
    screen = _Screen()
    given = {"Event": event, "Date": None if date is None else _dated(date)}
    given |= {"White": white, "Black": black}
    kept = False
    try:
        going_on = _going_on(screen, out, given, go_on=go_on)
        if screen.ended():
            return 0
        tags = dict(going_on.tags) if going_on else _tags(screen, given)
        sheet = going_on.sheet if going_on else Sheet()
        sheet.letters, sheet.finished = letters, False
        file = SheetFile(out, tags, going_on)
        while not screen.ended():
            _take(screen, file, sheet)
            kept = True
    except KeyboardInterrupt:
        told = (
            f"What was typed is in {out}; start again to go on." if kept else "Nothing was typed."
        )
        print(f"\nStopped. {told}", file=sys.stderr)
        return INTERRUPTED
    print(f"{len(sheet.board.move_stack)} plies in {out}.")
    return 0


def _tags(screen: _Screen, given: Mapping[str, str | None]) -> dict[str, str]:
    """The tags of a new game: what no option gives is asked for."""
    return {
        "Event": given["Event"] or screen.ask("Event: ") or "?",
        "Site": "?",
        "Date": given["Date"] or _dated(screen.ask("Date (empty for today): ")),
        "Round": "?",
        "White": given["White"] or screen.ask("White: ") or "?",
        "Black": given["Black"] or screen.ask("Black: ") or "?",
    }


def _going_on(
    screen: _Screen, out: Path, given: Mapping[str, str | None], *, go_on: bool
) -> KeptSheet | None:
    """The game to go on with: the file's last one, if it is asked for or taken up when offered."""
    last = last_sheet(out)
    if last is None:
        if go_on:
            raise InputError(
                f"{out} has no game at its end that was typed here and not changed since;"
                " leave out --go-on to begin a new game"
            )
        return None
    other = [key for key, tag in given.items() if tag and tag != last.tags.get(key)]
    if go_on and other:
        raise InputError(
            f'the last game of {out} has {other[0]} "{last.tags.get(other[0], "?")}", not'
            f' "{given[other[0]]}"; leave out --{other[0].lower()} to go on with it'
        )
    if last.sheet.finished and not go_on:
        return None
    print(_state(out, last))
    if go_on:
        return last
    if other or not screen.prompts:
        print("A new game begins; to go on with that one, start with --go-on.")
        return None
    return (
        last if screen.choose("Go on with it (g), or begin a new game (n)? ", "gn") == "g" else None
    )


def _state(out: Path, last: KeptSheet) -> str:
    """Where a game stopped: who plays, the board and the last moves."""
    sheet, tags = last.sheet, last.tags
    title = f"{tags.get('White', '?')} - {tags.get('Black', '?')}, {tags.get('Date', '?')}"
    finished = "" if sheet.finished else " is not finished"
    moves = sheet.last_moves()
    ends = f"It stops after {moves}" if moves else "No move of it has been typed"
    result = "" if sheet.result == "*" else f" Result {sheet.result}."
    read = " Illegible from there." if sheet.illegible else ""
    board = diagram(sheet.board.fen(), {})
    return f"The last game of {out}{finished}: {title}.\n{board}\n{ends}.{result}{read}"


class _Screen:
    """Asks at a terminal; from a pipe it only reads, so that nothing runs into what is printed."""

    def __init__(self) -> None:
        self.prompts = sys.stdin.isatty()
        self._go_on = True

    def ask(self, prompt: str) -> str:
        if self.prompts:
            sys.stderr.write(prompt)
            sys.stderr.flush()
        line = sys.stdin.readline()
        self._go_on = self._go_on and bool(line)
        return line.strip()

    def ended(self) -> bool:
        """Whether the input is at its end, or the game is done."""
        return not self._go_on

    def end(self) -> None:
        """Ask nothing more."""
        self._go_on = False

    def choose(self, prompt: str, letters: str) -> str:
        """One of the letters, asked for until one is typed; empty if the input ends."""
        while self._go_on:
            answer = self.ask(prompt).lower()[:1]
            if answer and answer in letters:
                return answer
        return ""


def _dated(text: str) -> str:
    if not text:
        return datetime.date.today().strftime("%Y.%m.%d")
    try:
        return datetime.date.fromisoformat(text.replace(".", "-")).strftime("%Y.%m.%d")
    except ValueError as error:
        raise InputError(f'"{text}" is no date; write it as 2026-09-07') from error


def _take(screen: _Screen, file: SheetFile, sheet: Sheet) -> None:
    side = "White" if sheet.board.turn else "Black"
    text = screen.ask(f"{sheet.board.fullmove_number}. {side}: ")
    command, _, rest = text.partition(" ")
    match command.lower():
        case "":
            return
        case "done":
            screen.end()
            sheet.finished = True
            file.keep(sheet)
            return
        case "help":
            print(HELP)
        case "board":
            print(diagram(sheet.board.fen(), {}))
        case "legal":
            print(", ".join(sorted(sheet.board.san(move) for move in sheet.board.legal_moves)))
        case "back":
            count = sheet.back(int(rest) if rest.strip().isdigit() else 1)
            print(f"{count} taken back.")
        case "illegible":
            sheet.illegible = True
            print("Noted: illegible from here.")
        case "result":
            _entered(sheet, rest if rest in RESULTS else "")
        case _:
            _entered(sheet, text)
    file.keep(sheet)


def _entered(sheet: Sheet, text: str) -> None:
    if not text:
        print(f"A result is one of {', '.join(RESULTS)}.")
        return
    match sheet.enter(text):
        case Entered(sans, notice):
            print(" ".join(sans) or f"Result {sheet.result}.")
            if notice:
                print(f"Kept as it stands on the sheet, but {notice}.")
        case Ambiguous(word, choices, before, rest):
            more = f" Then type again: {rest}" if rest else ""
            taken = f"{' '.join(before)}. " if before else ""
            print(f'{taken}"{word}" may be {" or ".join(choices)}. Which?{more}')
        case Refused(word, near, before, reason):
            taken = f"{' '.join(before)}. " if before else ""
            like = f" Legal and like it: {', '.join(near)}." if near else ""
            print(f'{taken}"{word}" cannot be played: {reason}.{like}')
