"""Debian's Chromium, a workbench with a store of its own, and a page of it."""

from __future__ import annotations

import http.client
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, ViewportSize, sync_playwright

from fastness.web.settings import STATIC
from tests.browser.watch import Watch
from tests.serving import free_port, serving

ROOT = Path(__file__).parents[2]
CHROMIUM = Path("/usr/bin/chromium")
DESK: ViewportSize = {"width": 1280, "height": 900}
PATIENCE = 30_000
"""Milliseconds that a page may take for one thing; two workers share the machine."""
SOURCES = ("src", "public", "index.html", "package-lock.json", "vite.config.ts")


@pytest.fixture(scope="session")
def pages() -> Path:
    """Where the pages lie, built from the sources as they stand."""
    index = STATIC / "index.html"
    assert index.is_file(), "The pages are not built. Build them first: make front"
    front = ROOT / "frontend"
    files = [file for name in SOURCES for file in (front / name, *(front / name).rglob("*"))]
    newest = max((file for file in files if file.is_file()), key=lambda file: file.stat().st_mtime)
    assert index.stat().st_mtime >= newest.stat().st_mtime, (
        f"{newest.relative_to(ROOT)} is newer than the pages. Build them anew: make front"
    )
    return STATIC


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    assert CHROMIUM.exists(), (
        f"{CHROMIUM} is not there, and the pages are tried in it. Debian: apt-get install chromium"
    )
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=CHROMIUM,
            # No name is looked up: what is not on this machine is not reached.
            args=["--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"],
        )
        yield browser
        browser.close()


@pytest.fixture(scope="module")
def workbench(pages: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a workbench with an empty store, for the tests of one file."""
    assert pages.is_dir()
    port = free_port()
    store = tmp_path_factory.mktemp("store") / "store.sqlite"
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


@pytest.fixture
def watch(browser: Browser, workbench: str) -> Iterator[Watch]:
    """A fresh browser window at the workbench; whatever goes wrong in it fails the test."""
    context = browser.new_context(base_url=workbench, viewport=DESK, locale="en-GB")
    context.set_default_timeout(PATIENCE)
    watch = Watch(context, workbench)
    yield watch
    context.close()
    assert watch.wrong == []


@pytest.fixture
def page(watch: Watch) -> Page:
    return watch.context.new_page()
