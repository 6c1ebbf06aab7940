"""`fastness serve`: the workbench in the browser."""

from __future__ import annotations

import getpass
import socket
import sys
import threading
import time
import webbrowser
from pathlib import Path
from typing import Annotated

import uvicorn
from cyclopts import Parameter
from cyclopts.validators import Number

from fastness.cli.places import StorePlace
from fastness.errors import InputError
from fastness.web.access import SHORTEST, Access
from fastness.web.application import create_app
from fastness.web.memory import share_memory
from fastness.web.network import own_addresses, own_names
from fastness.web.own_folder import alone_in, own_folder
from fastness.web.settings import PORT, Settings
from fastness.web.workbench import ACCESS

HERE, EVERYWHERE = "127.0.0.1", "0.0.0.0"  # only with --share
CLOSING = 2
"""Seconds that open pages have to finish when the workbench is stopped."""


def serve(
    *,
    port: Annotated[int, Parameter(validator=Number(gte=1, lte=65535))] = PORT,
    open_: Annotated[bool, Parameter(name="--open", negative="--no-open")] = True,
    share: Annotated[bool, Parameter(negative=())] = False,
    new_password: Annotated[bool, Parameter(negative=())] = False,
    store: StorePlace = None,
) -> None:
    """Open the workbench in the browser; only this machine can reach it unless it is shared.

    Args:
        port: where it listens.
        open_: open the browser.
        share: let others on the network reach what you share with them; everything else asks for
            your password, which is chosen the first time.
        new_password: choose another password.
        store: the store's file or PostgreSQL URL; by default one of your own.
    """
    if new_password and not share:
        raise InputError("A password is for a workbench that is shared; say --share as well.")
    host = EVERYWHERE if share else HERE
    _check_free(host, port)
    here, own = f"http://{HERE}:{port}/", own_folder(store, port)
    share_memory()
    with alone_in(own, here):
        settings = _settings(store, own, port, share=share, new_password=new_password)
        print(f"The workbench is at {here} (stop it with Ctrl-C)", flush=True)
        if open_:
            threading.Thread(target=_open_when_there, args=(here, port), daemon=True).start()
        uvicorn.run(
            create_app(settings),
            host=host,
            port=port,
            log_level="warning",
            server_header=False,
            timeout_graceful_shutdown=CLOSING,
        )


def _settings(
    store: str | None, own: Path, port: int, *, share: bool, new_password: bool
) -> Settings:
    """How it is served; where it is shared the password is chosen first."""
    if share:
        access = Access(own / ACCESS)
        if new_password or not access.has_password:
            access.set_password(_chosen_password())
        names, addresses = own_names(), own_addresses(port)
        print(f"Others on the network reach it at {' or '.join(addresses)}.")
        return Settings(store, shared=True, names=names, addresses=addresses, port=port)
    return Settings(store, port=port)


def _check_free(host: str, port: int) -> None:
    """Raise InputError where another program listens at a port."""
    with socket.socket() as tried:
        tried.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            tried.bind((host, port))
        except OSError as error:
            raise InputError(
                f"Port {port} cannot be used ({error.strerror}); the workbench may run already, or"
                " name another port with --port."
            ) from error


def _open_when_there(address: str, port: int) -> None:
    """Open the browser once the workbench listens."""
    for _ in range(100):
        try:
            socket.create_connection((HERE, port), 1).close()
        except OSError:
            time.sleep(0.1)
        else:
            webbrowser.open(address)
            return


def _chosen_password() -> str:
    """Asked for twice at a terminal, else the first line of standard input."""
    if not sys.stdin.isatty():
        return sys.stdin.readline().rstrip("\n")
    first = getpass.getpass(f"Choose the teacher's password ({SHORTEST} letters or more): ")
    if getpass.getpass("Once more: ") != first:
        raise InputError("The two are not the same; nothing was changed.")
    return first
