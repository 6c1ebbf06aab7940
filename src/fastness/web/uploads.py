"""Routes for files of games: brought to the workbench, looked over, gone through, kept."""

from __future__ import annotations

import io
import re
import secrets
import shutil
from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path
from typing import Annotated, BinaryIO, Literal

from fastapi import APIRouter, Depends, File, UploadFile
from pydantic import BaseModel, Field

from fastness import core
from fastness.errors import FileError, InputError
from fastness.intake.unpacking import unpack
from fastness.language import LanguageName
from fastness.language import language as language_of
from fastness.web.jobs import Job, JobTold
from fastness.web.results import ImportResult, LookResult, SiftResult
from fastness.web.settings import MOST_GAMES, MOST_UNPACKED
from fastness.web.workbench import Workbench, workbench_of
from fastness.workflows.import_summary import ImportSummary, bring_in_all
from fastness.workflows.looking_over import Meant, look_over, settle_names
from fastness.workflows.sifting import SiftSettings
from fastness.workflows.unkept import SoFar, Unkept, places_in_files

router = APIRouter(prefix="/api/uploads", tags=["games"])

MOST_FILES = 30
KEPT = 20
"""Uploads whose files are kept; of more the oldest go."""
MOST_SIFTED = 60
"""Games that are gone through without being kept."""
ENDINGS = (".pgn", ".gz", ".zst", ".txt")

Bench = Annotated[Workbench, Depends(workbench_of)]


class Text(BaseModel):
    """Games as text, as they are pasted."""

    text: str = Field(min_length=1, max_length=2_000_000, examples=["1. e4 e5 2. Nf3 *"])
    name: str = Field("pasted", max_length=100)


class Upload(BaseModel):
    """Files that were brought, and the job that looks them over."""

    id: str
    files: list[str]
    job: JobTold


class Named(BaseModel):
    """What a name in the games means: a student (by name), a new one, or nobody."""

    name: str = Field(max_length=200)
    means: Literal["student", "new", "nobody"]
    student: str | None = Field(None, max_length=200)

    def meant(self) -> Meant:
        """As the workflow takes it."""
        if self.means != "student":
            return self.means
        if not self.student:
            raise InputError(f'say which student "{self.name}" is')
        return "student", self.student


class Import(BaseModel):
    """How the games are brought in. Names that are not told of, and not known, are nobody's.

    `group` is that of the new students; it is made if it is not there. `offers`: tell sacrifices
    and gambits from faults, which takes longer.
    """

    names: list[Named] = Field([], max_length=2000)
    group: str | None = Field(None, max_length=200, examples=["Evening group"])
    offers: bool = True


class Sift(BaseModel):
    """How games are gone through without being kept: for one player by name, or for both sides.

    `offers`: when every move was looked at, tell sacrifices and gambits from faults, and the better
    ways from the others.
    """

    player: str | None = Field(None, max_length=200)
    offers: bool = True
    held: bool = Field(False, description="Tell also what was held.")
    language: LanguageName = "en"


def folder_of(bench: Workbench, number: str) -> Path:
    """Where the files of an upload are. Raises InputError where there is no such upload."""
    folder = bench.folder / number
    if not re.fullmatch(r"[\w-]{4,40}", number) or not folder.is_dir():
        raise InputError("These files are no longer there; bring them again.")
    return folder


def files_of(bench: Workbench, number: str) -> list[Path]:
    """The files of an upload in their order, as `folder_of`; each by its own name in a folder."""
    return sorted(folder_of(bench, number).glob("*/*"))


@router.post("", status_code=201, summary="Bring files of games")
def upload(files: Annotated[list[UploadFile], File()], bench: Bench) -> Upload:
    """PGN files, plain or packed with gzip or Zstandard; a job begins to look them over."""
    if len(files) > MOST_FILES:
        raise InputError(f"{len(files)} files at once; bring {MOST_FILES} at most")
    return _kept(bench, [(one.filename or "games.pgn", one.file) for one in files])


@router.post("/text", status_code=201, summary="Bring games as text")
def upload_text(given: Text, bench: Bench) -> Upload:
    """Games that were pasted; a job begins to look them over."""
    name = given.name if given.name.endswith(ENDINGS) else f"{given.name}.pgn"
    return _kept(bench, [(name, io.BytesIO(given.text.encode("utf-8", "replace")))])


def _kept(bench: Workbench, files: list[tuple[str, BinaryIO]]) -> Upload:
    number = secrets.token_urlsafe(9)
    folder = bench.folder / number
    folder.mkdir(mode=0o700)
    try:
        wrong = _unpacked(folder, files)
    except FileError:
        shutil.rmtree(folder)
        raise
    _forget(bench, number)
    names = [name for name, _ in files]
    title = ", ".join(names)[:200]
    job = bench.jobs.begin("look over", title, _look(bench, number, wrong), number)
    return Upload(id=number, files=names, job=job.told())


def _unpacked(folder: Path, files: list[tuple[str, BinaryIO]]) -> list[str]:
    """Put the files into a folder as plain text; what is wrong with them, a sentence each."""
    wrong, left = [], MOST_UNPACKED
    for place, (name, content) in enumerate(files, 1):
        raw, plain = folder / f".{place}", folder / f"{place:02}" / _tidy(name)
        plain.parent.mkdir()
        raw.write_bytes(content.read())
        fault = unpack(raw, plain, left)
        raw.unlink()
        wrong += [f"{name}: {fault}"] if fault else []
        left -= plain.stat().st_size
    return wrong


def _forget(bench: Workbench, last: str) -> None:
    """Remove the files of the oldest uploads, but not those that a job works on."""
    worked_on = {job.about for job in bench.jobs.all() if not job.is_over} | {last}
    folders = [one for one in bench.folder.iterdir() if not one.name.startswith("week-")]
    folders.sort(key=lambda one: one.stat().st_mtime)
    for old in folders[:-KEPT]:
        if old.name not in worked_on:
            shutil.rmtree(old, ignore_errors=True)


def _tidy(name: str) -> str:
    """A name that is safe for a file and still known to whoever gave it."""
    bare = name.replace("\\", "/").rpartition("/")[2]
    return re.sub(r"[^\w. -]", "_", bare).strip(". ")[-80:] or "games"


def _look(bench: Workbench, number: str, wrong: list[str]) -> Callable[[Job], LookResult]:
    def work(job: Job) -> LookResult:
        paths = files_of(bench, number)
        size = sum(path.stat().st_size for path in paths)

        def told(read: int, games: int) -> None:
            job.tell(read, size, games)

        found = look_over(bench.store, paths, most=MOST_GAMES, on_progress=told)
        problems = (*wrong, *without_folder(found.problems, paths))
        return LookResult(upload=number, found=replace(found, problems=problems))

    return work


def without_folder(told: Iterable[str], paths: list[Path]) -> list[str]:
    """Sentences that name the files as they were given, not where they lie."""
    found = list(told)
    for path in paths:
        found = [one.replace(f"{path.parent}/", "") for one in found]
    return found


@router.post("/{number}/import", status_code=202, summary="Bring the games into the store")
def import_games(number: str, how: Import, bench: Bench) -> JobTold:
    """A job keeps each game as soon as it was gone through; what was kept stays if it is stopped.

    Games in which no student played are passed over.
    """
    paths = files_of(bench, number)
    meant = {one.name: one.meant() for one in how.names}
    settings = SiftSettings(offer_nodes=core.OFFER_NODES if how.offers else 0)

    def work(job: Job) -> ImportResult:
        store = bench.store
        new = settle_names(store, meant, how.group)

        def told(so_far: ImportSummary) -> None:
            job.tell(so_far.games, count=so_far.new)

        done = bring_in_all(store, paths, settings, told)
        return ImportResult(
            new_students=new,
            new=done.new,
            before=done.before,
            again=done.again,
            completed=done.completed,
            nobodys=done.nobodys,
            places=done.places,
            problems=without_folder(done.problems, paths),
            more_problems=done.more_problems,
        )

    return bench.jobs.begin("import", how.group or "", work, number).told()


@router.post("/{number}/sift", status_code=202, summary="Go through the games without keeping them")
def sift(number: str, how: Sift, bench: Bench) -> JobTold:
    """A job finds the places to look, for one player or for both sides of every game."""
    paths = files_of(bench, number)

    def result(found: Unkept) -> SiftResult:
        return SiftResult(
            games=found.games,
            players=list(found.players),
            groups=list(found.groups),
            problems=without_folder(found.problems, paths),
        )

    def work(job: Job) -> SiftResult:
        def told(so_far: SoFar, found: Callable[[], Unkept]) -> None:
            job.tell(so_far.done, so_far.of, so_far.places, so_far.stage)
            job.show(lambda: result(found()))

        return result(
            places_in_files(
                paths,
                how.player,
                language_of(how.language),
                most=MOST_SIFTED,
                offers=how.offers,
                held=how.held,
                on_progress=told,
            )
        )

    return bench.jobs.begin("sift", how.player or "", work, number).told()
