"""`fastness serve`: the workbench in the browser."""

from __future__ import annotations

import threading
import webbrowser
from typing import Annotated

import uvicorn
from cyclopts import Parameter
from cyclopts.validators import Number

from fastness.cli.places import StorePlace
from fastness.web.application import create_app
from fastness.web.settings import PORT, Settings

HOST = "127.0.0.1"


def serve(
    *,
    port: Annotated[int, Parameter(validator=Number(gte=1, lte=65535))] = PORT,
    open_: Annotated[bool, Parameter(name="--open", negative="--no-open")] = True,
    store: StorePlace = None,
) -> None:
    """Open the workbench in the browser; only this machine can reach it.

    Args:
        port: where it listens.
        open_: open the browser.
        store: the store's file or PostgreSQL URL; by default one of your own.
    """
    address = f"http://{HOST}:{port}/"
    print(f"The workbench is at {address} (stop it with Ctrl-C)", flush=True)
    if open_:
        threading.Timer(0.5, webbrowser.open, [address]).start()
    uvicorn.run(create_app(Settings(store)), host=HOST, port=port, log_level="warning")
