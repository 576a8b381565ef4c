"""Numbers for the variants of a question: from one seed the same on every machine and every Python."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from typing import TypeVar

One = TypeVar("One")


class Numbers:
    """A row of numbers that look drawn by lot and follow from the seed alone.

    Python promises the same row from its own ``random`` only for some of its methods; a hash is a hash anywhere.
    """

    def __init__(self, *seed: str | int) -> None:
        self._seed = "/".join(map(str, seed))
        self._drawn = 0

    def whole(self, low: int, high: int) -> int:
        """Return a whole number from low to high, both included."""
        self._drawn += 1
        digest = hashlib.sha256(f"{self._seed}/{self._drawn}".encode()).digest()
        return low + int.from_bytes(digest) % (high - low + 1)

    def one_of(self, among: Sequence[One]) -> One:
        """Return one of a row of things."""
        return among[self.whole(0, len(among) - 1)]

    def shuffled(self, things: Iterable[One]) -> tuple[One, ...]:
        """Return things in another order."""
        left = list(things)
        return tuple(left.pop(self.whole(0, len(left) - 1)) for _ in range(len(left)))
