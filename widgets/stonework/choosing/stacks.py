"""Stacks: the courses of one side and what they cost."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from itertools import chain, islice
from typing import NamedTuple

from stonework.choosing.courses import Offer
from stonework.choosing.dealing import Wish
from stonework.choosing.lazily import Lazily
from stonework.choosing.question import Key

# A cost is one integer with four places, so that costs add and compare in the order they matter.
PIECE, PLACE, QUOIN, TOWER = 1 << 60, 1 << 40, 1 << 20, 1
POINT = 100
MOST = 12
"""How many pieces a side may take; this workbook's own figure."""

_AT_ONCE = 24  # stacks looked at before one is chosen

Limits = Mapping[tuple[Key, int, bool], int]
"""How many courses a side may have at most: by kind and thickness, one piece or two, outside the quoins or not."""


class Laid(NamedTuple):
    """Where a row of quoins lies: each one's start in half hundredths, and how far its middle is off, in hundredths.

    If it bears on two ends, ``pair`` says how long they are and ``low`` where the first of them starts.
    """

    starts: tuple[int, ...]
    off: int
    pair: tuple[int, int] | None = None
    low: int = 0


class Stack(NamedTuple):
    """The courses of one side, and what they cost.

    ``inner`` lie against the form, or between it and what the quoins bear on; ``bearing`` and ``outer`` are the faces
    of the quoins. ``wishes`` say what each course asks of its sticks, and ``wood`` is the least length
    that they take, metal counting as longer than any wood.
    """

    inner: tuple[Offer, ...]
    bearing: Offer | None
    outer: Offer | None
    laid: Laid | None
    wishes: tuple[Wish, ...]
    cost: int
    wood: int

    @property
    def offers(self) -> tuple[Offer, ...]:
        """Every course, from the form outward."""
        return (*self.inner, *filter(None, (self.bearing, self.outer)))


class Ordered:
    """Stacks in the order of their cost, and of those first found that cost alike those with least wood first.

    They come in the order of their cost; so what the best costs is known before its equals are worked out.
    """

    def __init__(self, stacks: Iterator[Stack]) -> None:
        self._stacks = stacks

    @cached_property
    def _first(self) -> Stack | None:
        return next(self._stacks, None)

    @property
    def least(self) -> int | None:
        """What the best costs; ``None`` if there are none."""
        return self._first and self._first.cost

    @cached_property
    def _found(self) -> Lazily[Stack]:
        first = islice(chain(filter(None, (self._first,)), self._stacks), _AT_ONCE)
        return Lazily(self._stacks, sorted(first, key=lambda stack: (stack.cost, stack.wood)))

    def get(self, n: int) -> Stack | None:
        """Return the n-th best; ``None`` if there are no more."""
        return self._found.get(n)
