"""A progress bar on standard error, and the notes that may be said beside it."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Self

from fastness.intake import measure

if TYPE_CHECKING:
    from rich.progress import Progress


class _Shown:
    """A bar while a long work goes on; hidden, nothing."""

    def __init__(self, doing: str, total: int | None, *, shown: bool) -> None:
        self._progress = _progress() if shown else None
        self._doing, self._total = doing, total

    def __enter__(self) -> Self:
        if self._progress is not None:
            self._progress.start()
            self._task = self._progress.add_task(self._doing, total=self._total)
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Take the bar away, before anything else is printed."""
        if self._progress is not None:
            self._progress.stop()
            self._progress = None


class Bar(_Shown):
    """Shows how far a long work has come; hidden, it only passes on notes.

    It counts the bytes read of some files, or up to a `total` of something else.
    """

    def __init__(
        self,
        paths: Sequence[str | Path],
        *,
        shown: bool,
        total: int | None = None,
        doing: str = "Going through the games",
    ) -> None:
        sizes = [measure(path) for path in paths]
        known = [size for size in sizes if size is not None]
        # Without the size of every file there is no end to show.
        whole = total or (sum(known) if len(known) == len(sizes) else None)
        super().__init__(doing, whole, shown=shown)

    def advance(self, so_far: int) -> None:
        """Show that so many bytes have been read, or so much of the total done."""
        if self._progress is not None:
            self._progress.update(self._task, completed=so_far)

    def say(self, message: str) -> None:
        """Say something about the input."""
        text = f"fastness: {message}"
        if self._progress is None:
            print(text, file=sys.stderr)
        else:
            self._progress.console.print(text, markup=False, highlight=False, soft_wrap=True)


class Counting(_Shown):
    """Shows how many of so many things are done; hidden, it does nothing."""

    def advance(self) -> None:
        """Show that one more is done."""
        if self._progress is not None:
            self._progress.advance(self._task)


def _progress() -> Progress:
    # Rich takes a good part of a second to import, and is wanted on a terminal only.
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    return Progress(
        TextColumn("{task.description}"),
        BarColumn(),
        TextColumn("{task.percentage:>3.0f} %"),
        TimeElapsedColumn(),
        console=Console(stderr=True),
        transient=True,
        redirect_stdout=False,
        redirect_stderr=False,
    )
