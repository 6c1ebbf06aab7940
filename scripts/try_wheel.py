"""Tries a wheel as whoever installs it: in a new environment, without Rust, Node and checkout.

Usage: python -m scripts.try_wheel WHEEL

The files of the wheel are held against the checkout's. It is installed by pip into an environment
of its own, and all commands of the manual are run there with an empty home, in their order; then
it is installed by pipx, upgraded in place and removed. PyPI is asked for what the package needs.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
import venv
from pathlib import Path

from scripts.manual_story import Ran, tell
from scripts.wheel_files import faults

PIPX = "pipx==1.18.4"
NOT_THERE = ("cargo", "rustc", "node", "npm", "git", "make")
"""Programs that must not be at hand."""
MADE = ("week", "sheets", "guard", "homework", "practice", "catch-up", "ivy.pdf")
"""What the manual's commands write, each with a PDF in it or a PDF itself."""
LANGUAGE = "C.UTF-8"


class WheelError(Exception):
    """Something that does not work as installed."""


def made(folder: Path) -> Path:
    """A new environment; its folder of programs."""
    venv.create(folder, with_pip=True)
    return folder / "bin"


def run(words: list[str], environment: dict[str, str], folder: Path) -> str:
    """Run a program; what it says. Raises WheelError where it fails."""
    done = subprocess.run(
        words, env=environment, cwd=folder, capture_output=True, text=True, check=False
    )
    if done.returncode:
        raise WheelError(f"{' '.join(words)}: {done.returncode}\n{done.stdout}{done.stderr}")
    return done.stdout


def installing() -> dict[str, str]:
    """This environment's variables, so that pip asks where it always does, without ways to here."""
    left_out = ("PYTHONPATH", "VIRTUAL_ENV", "PATH")
    return {name: value for name, value in os.environ.items() if name not in left_out}


def told(ran: Ran) -> None:
    """Print what a command did. Raises WheelError where it did not."""
    print(f"  {ran.chapter}: {ran.command}", flush=True)
    if ran.status:
        raise WheelError(f"{ran.command}: {ran.status}\n{ran.told}")


def by_pip(wheel: Path, folder: Path, home: Path) -> None:
    """The manual's commands, with an installation by pip."""
    programs = made(folder / "by-pip")
    own = {**installing(), "PATH": str(programs)}
    at_hand = [name for name in NOT_THERE if shutil.which(name, path=own["PATH"])]
    if at_hand:
        raise WheelError(f"{', '.join(at_hand)} should not be at hand")
    run([str(programs / "python"), "-m", "pip", "install", "--quiet", str(wheel)], own, folder)
    clean = {"HOME": str(home), "LANG": LANGUAGE}
    for ran in tell(home, programs, clean, also=("/manual.pdf",)):
        told(ran)
    for name in MADE:
        found = [home / name] if name.endswith(".pdf") else sorted((home / name).glob("*.pdf"))
        if not found or not all(path.read_bytes().startswith(b"%PDF") for path in found):
            raise WheelError(f"{name} has no PDF")
    demo = "from fastness.workflows.demo import GAMES; print(GAMES.read_text().count('[Event '))"
    games = run([str(programs / "python"), "-c", demo], {**clean, "PATH": ""}, home)
    print(f"  the invented club is there, with {games.strip()} games")


def by_pipx(wheel: Path, folder: Path, home: Path) -> None:
    """Installed, upgraded in place and removed by pipx; the store stays."""
    programs = made(folder / "pipx")
    own = {
        **installing(),
        "PATH": str(programs),
        "PIPX_HOME": str(folder / "pipx-home"),
        "PIPX_BIN_DIR": str(folder / "pipx-programs"),
        "PIPX_MAN_DIR": str(folder / "pipx-manuals"),
        "USE_EMOJI": "0",
    }
    run([str(programs / "python"), "-m", "pip", "install", "--quiet", PIPX], own, folder)
    pipx = str(programs / "pipx")
    fastness = str(folder / "pipx-programs" / "fastness")
    clean = {"HOME": str(home), "LANG": LANGUAGE, "PATH": ""}
    for words in (["install"], ["install", "--force"]):
        run([pipx, *words, str(wheel)], own, folder)
        print(f"  pipx {' '.join(words)}: {run([fastness, '--version'], clean, home).strip()}")
        print(f"    {run([fastness, 'store', 'check'], clean, home).strip()}")
    run([pipx, "uninstall", "fastness"], own, folder)
    if Path(fastness).exists() or not list(home.rglob("store.sqlite")):
        raise WheelError("uninstalling left the program, or took the store away")
    print("  pipx uninstall: the program is gone, the store is there")


def main() -> None:
    """Tries it."""
    wheel = Path(sys.argv[1]).resolve()
    found = faults(wheel)
    if found:
        sys.exit("\n".join(found))
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        home = folder / "home"
        home.mkdir()
        try:
            by_pip(wheel, folder, home)
            by_pipx(wheel, folder, home)
        except WheelError as error:
            sys.exit(str(error))
    print(f"{wheel.name} works as installed.")


if __name__ == "__main__":
    main()
