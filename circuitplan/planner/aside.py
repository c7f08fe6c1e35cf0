"""Two plans at once: one is worked out in a process of its own while the other is worked out here.

A trial or a comparison needs two designs, and every machine has two cores.
"""

from __future__ import annotations

import os
import pickle
import sys
import threading
import warnings
from collections.abc import Callable
from typing import Generic, TypeVar, cast

T = TypeVar("T")


class Aside(Generic[T]):
    """What ``work`` returns, begun at once beside the caller; ``result`` waits for it.

    Where a process cannot be split off (another system, one core, other threads), and where it
    came to nothing, ``result`` does the work itself and raises what it raises.
    """

    def __init__(self, work: Callable[[], T]) -> None:
        self._work = work
        self._pipe: int | None = None
        single = threading.active_count() == 1
        if sys.platform != "linux" or (os.cpu_count() or 1) < 2 or not single:
            return  # elsewhere a split-off process may not use every library
        self._pipe, out = os.pipe()
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", DeprecationWarning)  # threads of number crunching only
            self._child = os.fork()
        if self._child == 0:
            try:
                os.close(self._pipe)
                with os.fdopen(out, "wb") as given:
                    given.write(pickle.dumps(work()))
            finally:
                os._exit(0)  # without the caller's buffers and clean-up
        os.close(out)

    def result(self) -> T:
        if self._pipe is None:
            return self._work()
        with os.fdopen(self._pipe, "rb") as given:
            data = given.read()
        self._pipe = None
        os.waitpid(self._child, 0)
        try:
            return cast("T", pickle.loads(data))
        except (EOFError, pickle.UnpicklingError):
            return self._work()
