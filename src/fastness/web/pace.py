"""How many requests a client may make: a bucket of tokens for each that fills up steadily."""

from __future__ import annotations

import math
import time
from collections import OrderedDict
from collections.abc import Callable


class Pace:
    """Counts the requests of each client; the clients seen last are remembered."""

    def __init__(
        self,
        a_second: float = 20,
        at_once: float = 200,
        *,
        clients: int = 2000,
        now: Callable[[], float] = time.monotonic,
    ) -> None:
        """So many requests a second in the long run, and so many at once."""
        self.a_second, self.at_once, self.clients, self.now = a_second, at_once, clients, now
        self._left: OrderedDict[str, tuple[float, float]] = OrderedDict()

    def wait(self, client: str) -> int:
        """Seconds until this client may ask again; 0 if it may now, and then it is counted."""
        left, seen = self._left.get(client, (self.at_once, self.now()))
        left = min(self.at_once, left + (self.now() - seen) * self.a_second)
        allowed = left >= 1
        self._left[client] = (left - allowed, self.now())
        self._left.move_to_end(client)
        while len(self._left) > self.clients:
            self._left.popitem(last=False)
        return 0 if allowed else math.ceil((1 - left) / self.a_second)
