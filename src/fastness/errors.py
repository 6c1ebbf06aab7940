"""Every exception of the project. A message says what was wrong, where, and what would be right."""


class FastnessError(Exception):
    """The base of all exceptions of this package."""


class InputError(FastnessError):
    """Something the user gave cannot be used."""


class PositionError(InputError):
    """A position that cannot stand on a board.

    `code` is a short fixed name for programs ("no_king"), the message a sentence for people.
    """

    def __init__(self, code: str, message: str) -> None:
        super().__init__(code, message)
        self.code = code
        self.message = message

    def __str__(self) -> str:
        return self.message


class MoveError(InputError):
    """A move that cannot be read or is not legal where it stands."""


class GameError(InputError):
    """A game that cannot be read any further."""


class FileError(InputError):
    """A file that cannot be opened or read any further."""


class PlayerError(InputError):
    """A player whom no game names. `near` lists the names that are most alike."""

    def __init__(self, message: str, near: tuple[str, ...] = ()) -> None:
        super().__init__(message, near)
        self.near = near

    def __str__(self) -> str:
        return str(self.args[0])


class OptionError(InputError):
    """An option with a value that does not exist, such as a reach of 9."""


class AnswerError(InputError):
    """An answer to an exercise that cannot be read."""


class CodeError(InputError):
    """A code of homework, or a word of a slip, that is mistyped, altered or of nobody here."""


class PrintError(FastnessError):
    """A document that cannot be laid out, as when no type face has the letters of a name."""


class StoreError(FastnessError):
    """A store that cannot be opened, read or written, or does not hold what it should."""


class StudentError(InputError):
    """A student or a group that there is not, or is already. `near` lists names most alike."""

    def __init__(self, message: str, near: tuple[str, ...] = ()) -> None:
        super().__init__(message, near)
        self.near = near

    def __str__(self) -> str:
        return str(self.args[0])


class MissingError(InputError):
    """Something asked for by its number that is not there, or no longer."""


class BusyError(FastnessError):
    """Too much is being worked on already."""


class WorkerError(FastnessError):
    """A process that shared in the work was ended from outside."""


class TwinError(InputError):
    """A position that has no remedy which a change of one detail could turn."""


class SweepError(FastnessError):
    """A sweep of archives that cannot go on; what is done is kept, and a new start goes on."""


class LessonError(InputError):
    """A piece of a lesson that cannot be read; `line` and `column` count from 1."""

    def __init__(self, message: str, line: int, column: int) -> None:
        super().__init__(message, line, column)
        self.message = message
        self.line = line
        self.column = column

    def __str__(self) -> str:
        return f"{self.line}:{self.column}: {self.message}"


class UntrueError(InputError):
    """A lesson that is not true, or not readable, as it stands. `faults` are sentences, one each.

    `readable`: all of it could be read, so that its positions may be used all the same.
    """

    def __init__(self, message: str, faults: tuple[str, ...], *, readable: bool = True) -> None:
        super().__init__(message, faults)
        self.faults = faults
        self.readable = readable

    def __str__(self) -> str:
        return "\n  ".join([str(self.args[0]), *self.faults])


class QuestionError(InputError):
    """A question that cannot be understood. `can_be_asked` lists questions that can."""

    def __init__(self, message: str, can_be_asked: tuple[str, ...] = ()) -> None:
        super().__init__(message, can_be_asked)
        self.can_be_asked = can_be_asked

    def __str__(self) -> str:
        return "\n  ".join([str(self.args[0]), *self.can_be_asked])


class AnalyserError(FastnessError):
    """Another program that was asked for its opinion and did not give one that makes sense.

    `text` is the sentence as it stands in the catalogues, `values` fill its places.
    """

    def __init__(self, text: str, **values: object) -> None:
        super().__init__(text.format(**values))
        self.text = text
        self.values = values
