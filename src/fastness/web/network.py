"""By which names and addresses others on the network can reach this machine."""

from __future__ import annotations

import socket

_ANYWHERE = ("192.0.2.1", 9)
"""An address that is nobody's (RFC 5737); it is only asked which way would lead there."""


def own_names() -> tuple[str, ...]:
    """The names of this machine, also as the network may know it."""
    name = socket.gethostname().lower()
    return (name, f"{name.partition('.')[0]}.local")


def own_addresses(port: int) -> tuple[str, ...]:
    """The addresses that others on the network can type; nothing is sent to find them."""
    found = []
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as way:
        try:
            way.connect(_ANYWHERE)
            found.append(way.getsockname()[0])
        except OSError:
            found.append(own_names()[1])
    return tuple(f"http://{one}:{port}" for one in found)
