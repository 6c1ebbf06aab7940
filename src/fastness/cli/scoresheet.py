"""`fastness scoresheet`: type a game from a score sheet."""

from __future__ import annotations

import datetime
import sys
from pathlib import Path
from typing import Literal

from fastness.errors import InputError
from fastness.intake.scoresheet import RESULTS, Ambiguous, Entered, Refused, Sheet
from fastness.intake.sheet_file import SheetFile
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
) -> int:
    """Type a game from a score sheet into a PGN file; it is kept after every entry.

    A file that is there is added to. What is not given by an option is asked for.

    Args:
        out: the PGN file.
        white: White's name.
        black: Black's name.
        event: the event.
        date: the day, as 2026-09-07; today if left empty.
        letters: the language of the letters for the pieces.
    """
    if out.is_dir():
        raise InputError(f"{out} is a folder; name a PGN file in it")
    screen = _Screen()
    try:
        tags = {
            "Event": event or screen.ask("Event: ") or "?",
            "Site": "?",
            "Date": _dated(date if date is not None else screen.ask("Date (empty for today): ")),
            "Round": "?",
            "White": white or screen.ask("White: ") or "?",
            "Black": black or screen.ask("Black: ") or "?",
        }
        file, sheet = SheetFile(out, tags), Sheet(letters)
        while screen.go_on:
            _take(screen, file, sheet)
    except KeyboardInterrupt:
        print(f"\nStopped. What was typed is in {out}.", file=sys.stderr)
        return INTERRUPTED
    print(f"{len(sheet.board.move_stack)} plies in {out}.")
    return 0


class _Screen:
    """Asks at a terminal; from a pipe it only reads, so that nothing runs into what is printed."""

    def __init__(self) -> None:
        self.prompts = sys.stdin.isatty()
        self.go_on = True

    def ask(self, prompt: str) -> str:
        if self.prompts:
            sys.stderr.write(prompt)
            sys.stderr.flush()
        line = sys.stdin.readline()
        self.go_on = self.go_on and bool(line)
        return line.strip()


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
            screen.go_on = False
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
