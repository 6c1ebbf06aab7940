"""The front end as it was built, or a plain page that says how to build it."""

from __future__ import annotations

from pathlib import Path

from fastapi import FastAPI
from fastapi.responses import FileResponse, HTMLResponse, Response
from starlette.exceptions import HTTPException

ASSETS = "assets/"
"""The folder of files whose names change with what is in them."""
MANUAL_PATH = "/manual.pdf"
_NO_MANUAL = """<!doctype html>
<html lang="en">
<meta charset="utf-8">
<title>fastness</title>
<h1>The manual is not here</h1>
<p>It is part of a fastness that was installed. In a checkout, <code>make manual</code> builds it
from <code>docs/manual</code>.</p>
</html>
"""
_NOT_BUILT = """<!doctype html>
<html lang="en">
<meta charset="utf-8">
<title>fastness</title>
<h1>There are no pages here yet</h1>
<p>The server runs, and its API answers below <code>/api</code>; it is described at
<a href="/api/openapi.json">/api/openapi.json</a>. The pages are built by <code>make serve</code>,
which wants Node; or use the commands (<code>fastness --help</code>).</p>
</html>
"""


def serve_front(app: FastAPI, folder: Path, manual: Path) -> None:
    """Serve the front end as it was built, and the manual.

    A path that is no file of the front end is one of its pages.
    """

    @app.get(MANUAL_PATH, include_in_schema=False)
    def the_manual() -> Response:
        if not manual.is_file():
            return HTMLResponse(_NO_MANUAL, 404)
        return FileResponse(manual, media_type="application/pdf", headers=_kept(forever=False))

    @app.get("/{path:path}", include_in_schema=False)
    def front(path: str) -> Response:
        if path.startswith("api/"):
            raise HTTPException(404, f"There is nothing at /{path}.")
        index = folder / "index.html"
        if not index.is_file():
            return HTMLResponse(_NOT_BUILT)
        # Only what is there by this very name is a file: no path can lead elsewhere.
        if path in _files(folder):
            return FileResponse(folder / path, headers=_kept(forever=path.startswith(ASSETS)))
        return FileResponse(index, headers=_kept(forever=False))


def _files(folder: Path) -> set[str]:
    return {file.relative_to(folder).as_posix() for file in folder.rglob("*") if file.is_file()}


def _kept(*, forever: bool) -> dict[str, str]:
    return {"cache-control": "public, max-age=31536000, immutable" if forever else "no-cache"}
