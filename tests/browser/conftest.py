"""Debian's Chromium, a workbench with a store of its own, and a page of it."""

from __future__ import annotations

import http.client
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, ViewportSize, expect, sync_playwright

from fastness.web.settings import STATIC
from tests.browser.club import fill
from tests.browser.looking import POINTS, Look
from tests.browser.watch import Watch
from tests.serving import free_port, serving

ROOT = Path(__file__).parents[2]
CHROMIUM = Path("/usr/bin/chromium")
DESK: ViewportSize = {"width": 1280, "height": 900}
PATIENCE = 20_000
"""Milliseconds that a page may take for one thing; the workers share the machine."""
SOURCES = (
    "src",
    "public",
    "index.html",
    "package-lock.json",
    "vite.config.ts",
    "openapi.json",
)


@pytest.fixture(scope="session")
def pages() -> Path:
    """Where the pages lie, built from the sources as they stand."""
    index = STATIC / "index.html"
    assert index.is_file(), "The pages are not built. Build them first: make front"
    front = ROOT / "frontend"
    files = [file for name in SOURCES for file in (front / name, *(front / name).rglob("*"))]
    # What is made from the API's description is written by each check of the types.
    written = [file for file in files if file.is_file() and not file.name.endswith(".d.ts")]
    newest = max(written, key=lambda file: file.stat().st_mtime)
    assert index.stat().st_mtime >= newest.stat().st_mtime, (
        f"{newest.relative_to(ROOT)} is newer than the pages. Build them anew: make front"
    )
    return STATIC


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    assert CHROMIUM.exists(), (
        f"{CHROMIUM} is not there, and the pages are tried in it. Debian: apt-get install chromium"
    )
    expect.set_options(timeout=PATIENCE)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=CHROMIUM,
            # No name is looked up: what is not on this machine is not reached.
            args=["--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"],
        )
        yield browser
        browser.close()


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the store of the tests of one file is: not there yet, unless they put one there."""
    return tmp_path_factory.mktemp("store") / "store.sqlite"


@pytest.fixture(scope="session")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store with games of the invented club, to be copied."""
    return fill(tmp_path_factory.mktemp("filled"))


@pytest.fixture(scope="module")
def workbench(pages: Path, store: Path) -> Iterator[str]:
    """The address of a workbench of one's own, for the tests of one file."""
    assert pages.is_dir()
    port = free_port()
    with serving(port, "--store", str(store)):
        wait_for(port)
        yield f"http://127.0.0.1:{port}"


def wait_for(port: int) -> None:
    """Wait until a workbench answers."""
    for _ in range(600):
        try:
            connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
            connection.request("GET", "/api/session")
            connection.getresponse().read()
        except ConnectionRefusedError:
            time.sleep(0.1)
        else:
            connection.close()
            return
    raise TimeoutError(f"no workbench answers at port {port}")


@contextmanager
def opened(browser: Browser, workbench: str) -> Iterator[Watch]:
    """A fresh browser window at a workbench; whatever goes wrong in it fails the test."""
    context = browser.new_context(
        base_url=workbench, viewport=DESK, device_scale_factor=POINTS, locale="en-GB"
    )
    context.set_default_timeout(PATIENCE)
    watch = Watch(context, workbench)
    yield watch
    context.close()
    if watch.wrong:
        pytest.fail("\n".join(watch.wrong), pytrace=False)


@pytest.fixture
def watch(browser: Browser, workbench: str) -> Iterator[Watch]:
    """The window of the one who tries the pages."""
    with opened(browser, workbench) as watch:
        yield watch


@pytest.fixture
def page(watch: Watch) -> Page:
    return watch.context.new_page()


@pytest.fixture
def look(watch: Watch, page: Page) -> Look:
    """Look at the page as it stands; what breaks a rule fails the test when it is over."""
    return Look(page, watch.wrong)
