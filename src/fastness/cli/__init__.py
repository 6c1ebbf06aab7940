"""The command line: `fastness COMMAND`.

Each command has a module of its own here, imported only when the command is run, so that `--help`
answers at once. A command returns its exit status: None or 0 done, 1 findings of a check, 2 bad
input; it prints to standard output and raises `FastnessError` for what it cannot do.
"""

import os
import sys
from collections.abc import Sequence

import cyclopts

from fastness import __version__
from fastness.errors import FastnessError

BAD_INPUT = 2
INTERRUPTED = 130  # 128 + SIGINT, what a shell reports
READER_GONE = 141  # 128 + SIGPIPE, likewise

app = cyclopts.App(
    name="fastness",
    help="Find what can be won in club players' games, and prove it.",
    version=__version__,
    help_formatter="plain",
    print_error=False,
    exit_on_error=False,
    suppress_keyboard_interrupt=False,
    result_action="return_value",
)
# A command is registered by name, with its one line of help, so that listing it imports nothing:
app.command(
    "fastness.cli.survey:survey",
    name="survey",
    help="Say what can be won in a position, why, and what keeps it.",
)
app.command(
    "fastness.cli.twin:twin",
    name="twin",
    help="Change one detail of a position so that another move is best.",
)
app.command(
    "fastness.cli.sift:sift",
    name="sift",
    help="Go through games and say where something could be won and what was played.",
)
app.command(
    "fastness.cli.scoresheet:scoresheet",
    name="scoresheet",
    help="Type a game from a score sheet into a PGN file.",
)
app.command(
    "fastness.cli.importing:import_",
    name="import",
    help="Bring games into the store and go through them for the students.",
)
app.command(
    "fastness.cli.recording:record",
    name="record",
    help="Say what a student's games show, and what to teach next.",
)
app.command(
    "fastness.cli.recording:report",
    name="report",
    help="Write a report to be printed: for a student, parents, a group or yourself.",
)
app.command(
    "fastness.cli.recording:plan",
    name="plan",
    help="Say what to teach in the coming weeks.",
)
app.command(
    "fastness.cli.week:week",
    name="week",
    help="Bring in a club evening's games and make the week's sheets from them.",
)
app.command(
    "fastness.cli.practice:practice",
    name="practice",
    help="Make a student's exercises for this week: what was missed comes back.",
)
app.command(
    "fastness.cli.sheet:sheet",
    name="sheet",
    help="Make sheets of exercises from the shelf, with their answers.",
)
app.command(
    "fastness.cli.homework:homework",
    name="homework",
    help="Hand out homework for a phone or on paper, and mark what comes back.",
)
app.command(
    "fastness.cli.lesson:lesson",
    name="lesson",
    help="Write lessons, check what they claim, and build them.",
)
app.command(
    "fastness.cli.reply:reply",
    name="reply",
    help="Answer a student's question about a position or a game.",
)
app.command(
    "fastness.cli.mining:mine",
    name="mine",
    help="Look through games for exercises, prove them, and put them on the shelf.",
)
app.command(
    "fastness.cli.composing:compose",
    name="compose",
    help="Make positions as you ask for them, with firm answers.",
)
app.command(
    "fastness.cli.correcting:correct",
    name="correct",
    help="Strike, overrule or comment on a place in a game.",
)
app.command(
    "fastness.cli.students:student",
    name="student",
    help="Keep the students and the names they go by.",
)
app.command(
    "fastness.cli.students:group",
    name="group",
    help="Keep the groups and their lessons.",
)
app.command(
    "fastness.cli.stores:store",
    name="store",
    help="Look after the store: check, back up, restore, export.",
)
app.command(
    "fastness.cli.shelf:shelf",
    name="shelf",
    help="Look at the stored exercises and correct them.",
)
app.command(
    "fastness.cli.sweep:sweep",
    name="sweep",
    help="Go through archives of millions of games and keep what is found as tables.",
)
app.command(
    "fastness.cli.serve:serve",
    name="serve",
    help="Open the workbench in the browser.",
)
app.command(
    "fastness.cli.second_opinion:second_opinion",
    name="second-opinion",
    help="Compare the survey with what another program would play.",
)
app.command(
    "fastness.cli.uci:uci",
    name="uci",
    help="Think about moves for a chess program that speaks UCI.",
)


def main(arguments: Sequence[str] | None = None) -> None:
    """Run one command and exit with its status.

    Args:
        arguments: the words after the program's name; those it was started with if None.
    """
    sys.exit(_status(sys.argv[1:] if arguments is None else arguments))


def _status(arguments: Sequence[str]) -> int:
    try:
        status: int | None = app(arguments)
        sys.stdout.flush()
    except cyclopts.CycloptsError as error:
        return _complain(f"{error}\nSee: fastness --help")
    except BrokenPipeError:
        _discard_output()
        return READER_GONE
    except (FastnessError, OSError) as error:
        return _complain(str(error))
    except KeyboardInterrupt:
        return INTERRUPTED
    return status or 0


def _complain(message: str) -> int:
    print(f"fastness: {message}", file=sys.stderr)
    return BAD_INPUT


def _discard_output() -> None:
    # Python flushes once more at exit, and would complain about the closed pipe then.
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
