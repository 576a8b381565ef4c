"""A row of things that is worked out only as far as it is asked for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Generic, TypeVar

T = TypeVar("T")


class Lazily(Generic[T]):
    """What an iterator yields, by number; ``found`` comes before it."""

    def __init__(self, more: Iterator[T], found: Sequence[T] = ()) -> None:
        self._more, self._found = more, list(found)

    def get(self, n: int) -> T | None:
        """Return the n-th; ``None`` if there are no more."""
        while len(self._found) <= n:
            try:
                self._found.append(next(self._more))
            except StopIteration:
                return None
        return self._found[n]
