"""Answers that take a while: looked for beside the kernel's own work, and given up when something newer is asked."""

from __future__ import annotations

import asyncio
import threading
import traceback
from collections.abc import Callable, Iterator

from stonework.choosing import Stopped

Stop = Callable[[], bool]
Work = Callable[[Stop, bool], Iterator[Callable[[], None]]]
"""What is worked out: it yields what is then to be shown, bit by bit.

It is given a way to ask whether to give up, and whether nobody waits for its end.
"""

_AT_ONCE = 0.1  # seconds that the kernel waits for an answer, so that a quick one comes without a word of waiting


class Thinking:
    """Works out one thing at a time; what is asked later stops what was asked before.

    Where there is no kernel, and so nobody whom waiting would keep, all is worked out before ``ask`` returns.
    """

    def __init__(self, failed: Callable[[str], None]) -> None:
        self._failed = failed
        self._current = threading.Event()

    def forget(self) -> None:
        """Give up what is being worked out."""
        self._current.set()

    def ask(self, work: Work, *, waiting: Callable[[], None], wait: bool = False) -> None:
        """Work something out and show it, ``waiting`` first if it takes longer than a moment.

        ``wait`` says that all must be there when this returns, as when a lesson is run from its top.
        """
        self.forget()
        given_up = self._current = threading.Event()
        try:
            loop = None if wait else asyncio.get_running_loop()
        except RuntimeError:
            loop = None
        if loop is None:
            waiting()
            for show in work(given_up.is_set, False):
                show()
            return
        first = threading.Event()
        found: list[Callable[[], None]] = []

        def bring() -> None:
            """Show what was found, in the kernel's own thread."""
            while found and not given_up.is_set():
                try:
                    found.pop(0)()
                except Exception:
                    self._failed(traceback.format_exc())

        def think() -> None:
            try:
                for show in work(given_up.is_set, True):
                    found.append(show)
                    first.set()
                    loop.call_soon_threadsafe(bring)
            except Stopped:
                pass
            except Exception:
                trace = traceback.format_exc()
                found.append(lambda: self._failed(trace))
                loop.call_soon_threadsafe(bring)
            first.set()

        threading.Thread(target=think, daemon=True).start()
        if first.wait(_AT_ONCE):
            bring()
        else:
            waiting()
