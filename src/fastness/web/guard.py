"""What every request passes before it reaches a route, and every answer on its way back.

In this order: the Host header (against DNS rebinding), where a change comes from (against
cross-site requests), how many requests a client makes, who may reach the path, and how much is
sent. The routes need not think of any of it: a new one is the teacher's alone.
"""

from __future__ import annotations

import ipaddress
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.responses import Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from fastness.web.problems import problem
from fastness.web.settings import MOST_BYTES, MOST_UPLOADED
from fastness.web.workbench import Workbench

CHANGE_HEADER = "x-fastness"
"""Must be there on a request that changes something: no page of another site can send it."""
SAFE = {"GET", "HEAD", "OPTIONS"}
OPEN_PATHS = ("/api/session",)
"""Paths that anybody may reach."""
SHARED_PATHS = "/api/shared/"
"""Below this a student may look, at what the link in the path names."""
UPLOAD_PATHS = ("/api/uploads", "/api/store/")

_HEADERS = {
    "content-security-policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:;"
        " font-src 'self'; connect-src 'self'; manifest-src 'self'; form-action 'self';"
        " base-uri 'none'; frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=()",
}


class Guard:
    """An ASGI application in front of another."""

    def __init__(self, app: ASGIApp, bench: Workbench) -> None:
        """Guard the application of a workbench."""
        self.app, self.bench, self.settings = app, bench, bench.settings

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer for the routes, or let them answer."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        finish = _with_headers(scope["path"], send)
        refusal = self._refusal(scope)
        if refusal is not None:
            await refusal(scope, receive, finish)
            return
        most = MOST_UPLOADED if scope["path"].startswith(UPLOAD_PATHS) else MOST_BYTES
        await _with_limit(_told_of_faults(self.app), most, scope, receive, finish)

    def _refusal(self, scope: Scope) -> Response | None:
        headers = Headers(scope=scope)
        return (
            self._of_host(headers)
            or _of_origin(scope["method"], headers)
            or self._of_pace(scope)
            or self._of_access(scope, headers)
        )

    def _of_host(self, headers: Headers) -> Response | None:
        host = _host(headers.get("host", ""))
        if host in self._names() or (self.settings.shared and _is_number(host)):
            return None
        return problem(421, "host", f'This workbench does not answer to the name "{host}".')

    def _names(self) -> set[str]:
        return {"localhost", "127.0.0.1", "::1", *map(str.lower, self.settings.names)}

    def _of_pace(self, scope: Scope) -> Response | None:
        if not self.settings.shared:
            return None
        wait = self.bench.pace.wait(scope["client"][0] if scope["client"] else "")
        if not wait:
            return None
        told = f"Too many requests from here; try again in {wait} seconds."
        return problem(429, "pace", told, headers={"retry-after": str(wait)})

    def _of_access(self, scope: Scope, headers: Headers) -> Response | None:
        path: str = scope["path"]
        is_open = not path.startswith("/api") or path in OPEN_PATHS
        if not self.settings.shared or is_open or path.startswith(SHARED_PATHS):
            return None
        if self.bench.access.is_teacher(headers.get("cookie", "")):
            return None
        return problem(401, "teacher", "This is the teacher's; log in with the password.")


def _host(header: str) -> str:
    """The name or number of a Host header, without its port."""
    try:
        return (urlsplit(f"//{header}").hostname or "").lower()
    except ValueError:
        return ""


def _is_number(host: str) -> bool:
    """Whether a host is an IP address: no name can be made to point to it."""
    try:
        ipaddress.ip_address(host)
    except ValueError:
        return False
    return True


def _of_origin(method: str, headers: Headers) -> Response | None:
    if method in SAFE:
        return None
    origin, site = headers.get("origin"), headers.get("sec-fetch-site", "same-origin")
    own = origin is None or urlsplit(origin).netloc == headers.get("host")
    if own and site in ("same-origin", "none") and headers.get(CHANGE_HEADER):
        return None
    told = f"A change must come from the workbench's own pages, with the header {CHANGE_HEADER}."
    return problem(403, "origin", told)


def _with_headers(path: str, send: Send) -> Send:
    async def finish(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in _HEADERS.items():
                headers.setdefault(name, value)
            if path.startswith("/api"):
                headers.setdefault("cache-control", "no-store")
        await send(message)

    return finish


def _told_of_faults(app: ASGIApp) -> ASGIApp:
    """The application, whose own faults are answered like everything else, and go on to the log."""

    async def answered(scope: Scope, receive: Receive, send: Send) -> None:
        begun = False

        async def noted(message: Message) -> None:
            nonlocal begun
            begun = True
            await send(message)

        try:
            await app(scope, receive, noted)
        except Exception:
            if not begun:
                told = "Something went wrong inside the program. What was kept before stays."
                await problem(500, "program", told)(scope, receive, send)
            raise

    return answered


async def _with_limit(app: ASGIApp, most: int, scope: Scope, receive: Receive, send: Send) -> None:
    """Let the application answer, unless more than `most` bytes come."""
    told = f"More than {most:,} bytes were sent; send less at a time."
    length = Headers(scope=scope).get("content-length", "0")
    if not length.isdecimal() or int(length) > most:
        await problem(413, "size", told)(scope, receive, send)
        return
    taken = 0

    async def counted() -> Message:
        nonlocal taken
        message = await receive()
        taken += len(message.get("body", b""))
        if taken > most:
            raise HTTPException(413, told)
        return message

    await app(scope, counted, send)
