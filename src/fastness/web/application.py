"""The application: its routes, what it keeps while it runs, and how it is described."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from fastapi import FastAPI

from fastness import __version__
from fastness.web import (
    catching_up,
    class_boards,
    class_tries,
    classes,
    games,
    homework,
    housekeeping,
    lessons,
    making,
    people,
    positions,
    problems,
    replies,
    reports,
    session,
    shared,
    shared_homework,
    shelf,
    teaching,
    uploads,
    weeks,
    work,
)
from fastness.web.front import serve_front
from fastness.web.guard import Guard
from fastness.web.settings import Settings
from fastness.web.workbench import Workbench

ROUTERS = (
    session.router,
    positions.router,
    uploads.router,
    games.router,
    people.router,
    catching_up.router,
    reports.router,
    shelf.router,
    making.router,
    weeks.router,
    teaching.router,
    lessons.router,
    homework.router,
    classes.router,
    class_tries.router,
    class_boards.router,
    housekeeping.router,
    shared.router,
    shared_homework.router,
    replies.router,
    work.router,
)


def create_app(settings: Settings | None = None) -> FastAPI:
    """The workbench as an ASGI application."""
    settings = settings or Settings()
    app = FastAPI(
        title="fastness",
        version=__version__,
        summary="What can be won in club players' games, and the proof.",
        openapi_url="/api/openapi.json",
        # Their pages would fetch scripts from elsewhere.
        docs_url=None,
        redoc_url=None,
        lifespan=_while_serving,
    )
    bench = app.state.workbench = Workbench(settings)
    problems.handle(app)
    problems.describe(app)
    for router in ROUTERS:
        app.include_router(router)
    serve_front(app, settings.static, settings.manual)
    app.add_middleware(Guard, bench=bench)
    return app


@asynccontextmanager
async def _while_serving(app: FastAPI) -> AsyncIterator[None]:
    yield
    app.state.workbench.close()
