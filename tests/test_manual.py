"""The teacher's manual: its commands work one after another, its words are those of the pages."""

import io
import json
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pypdf
import pytest

from scripts.manual import FOLDER, ROOT, as_data, build, chapters
from scripts.manual_story import commands, tell
from scripts.page_words import collected
from scripts.wheel_files import COMPILED, SOURCE, built, committed

BOLD = re.compile(r"\*\*(.+?)\*\*")
PLACE = re.compile(r"\\{\w+\\}")
CATALOGUE = ROOT / "src" / "fastness" / "locale" / "de" / "LC_MESSAGES" / "fastness.po"


@pytest.fixture
def as_installed(tmp_path: Path) -> Path:
    """A folder with the files that a wheel holds, and no other."""
    folder = tmp_path / "installed"
    for name in {*committed(), *built(), COMPILED}:
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(SOURCE / name, folder / name)
    return folder


@pytest.mark.slow
def test_the_commands_work_from_first_to_last_in_an_empty_home(
    tmp_path: Path, as_installed: Path
) -> None:
    home = tmp_path / "home"
    home.mkdir()
    environment = {"HOME": str(home), "LANG": "C.UTF-8", "PYTHONPATH": str(as_installed)}
    where = "import fastness; print(fastness.__file__)"
    told = subprocess.check_output([sys.executable, "-c", where], env=environment, text=True)
    assert Path(told.strip()).is_relative_to(as_installed)
    done = list(tell(home, Path(sys.executable).parent, environment))
    assert {ran.chapter for ran in done} >= {"01-set-up", "11-your-data"}
    for ran in done:
        assert ran.status == 0, f"{ran.chapter}: {ran.command}\n{ran.told}"
    assert (home / ".local" / "share" / "fastness" / "store.sqlite").exists()


def test_a_command_that_fails_or_is_none_is_told(tmp_path: Path) -> None:
    assert not [command for _, command in commands() if re.search(r"[|;&<>`]", command)]
    none = tell(tmp_path, tmp_path, {"HOME": str(tmp_path)})
    assert next(none).status == 127


def test_what_is_bold_stands_on_the_pages() -> None:
    said = {form for forms in collected().values() for form in forms}
    catalogue = CATALOGUE.read_text(encoding="utf-8")
    said |= {
        json.loads(f'"{text}"') for text in re.findall(r'^msgid "(.+)"$', catalogue, re.MULTILINE)
    }
    for path in chapters():
        labels = BOLD.findall(path.read_text(encoding="utf-8"))
        assert set(labels) <= said, f"{path.name}: {set(labels) - said}"


def test_the_contents_are_the_chapters() -> None:
    contents = (FOLDER / "README.md").read_text(encoding="utf-8")
    titles = [
        path.read_text(encoding="utf-8").splitlines()[0].removeprefix("# ") for path in chapters()
    ]
    listed = re.findall(r"^\d+\. \[(.+)\]\((.+)\)$", contents, re.MULTILINE)
    assert listed == list(zip(titles, [path.name for path in chapters()], strict=True))


def test_the_documents_that_it_names_are_there() -> None:
    for path in chapters():
        for name in re.findall(r"`(docs/[^`]+)`", path.read_text(encoding="utf-8")):
            assert (ROOT / name).is_file(), f"{path.name}: {name}"


def test_the_pdf_has_every_chapter_and_can_be_read_aloud() -> None:
    data = build()
    assert data == build()
    reader = pypdf.PdfReader(io.BytesIO(data))
    assert b"/Marked true" in data
    assert b"pdfuaid:part" in data
    told = " ".join(" ".join(page.extract_text().split()) for page in reader.pages)
    headings = [block for block in as_data()["blocks"] if block["kind"] == "heading"]
    assert len(headings) > len(chapters())
    for block in headings:
        assert "".join(run["text"] for run in block["runs"]) in told


def test_pictures_have_words_for_who_cannot_see_them() -> None:
    found = [
        picture
        for block in as_data()["blocks"]
        if block["kind"] == "pictures"
        for picture in block["pictures"]
    ]
    assert found
    assert all(len(picture["alt"]) > 20 for picture in found)
