"""One form surrounded with bands until it is large enough."""

from __future__ import annotations

import heapq
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby, product
from typing import NamedTuple

from stonework.building.bands import APART, BEYOND, Split, Stacks
from stonework.building.cabinet import Cabinet
from stonework.building.lying import hollow, lay_between, sway, tidy, turned
from stonework.building.supplying import Rows, supply
from stonework.lockup import Block
from stonework.stacking import grid, places


class Way(NamedTuple):
    """One way to surround a form: which way the inner pair makes it grow, and both pairs' bands."""

    uneven: int
    inner: int  # 0: the bands at left and right lie inside those at bottom and top; 1: the other way about
    pairs: tuple[Split, Split]


_NONE = Split(0, ())


@dataclass(frozen=True)
class Surrounding:
    """A block to be surrounded until it is large enough; sizes are width, then height, in hundredths."""

    start: Block
    cabinet: Cabinet
    least: tuple[int, int]

    def best(self) -> Block | None:
        """Return the best block, or ``None`` if there is none."""
        if not self._possible():
            return None
        pieces = 0
        while pieces <= self.cabinet.pieces:
            for way in self._ways(pieces):
                bands = [band for split in way.pairs for band in split.bands]
                if (rows := supply(bands, self.cabinet)) is not None:
                    return self._laid(way, rows)
            pieces += 1
        return None

    @property
    def _size(self) -> tuple[int, int]:
        return grid(self.start.width), grid(self.start.height)

    def _lack(self, axis: int) -> int:
        return max(0, self.least[axis] - self._size[axis])

    def _most(self, axis: int) -> int:
        return self._lack(axis) // 2 + grid(BEYOND)

    def _apart(self, axis: int) -> int:
        return max(0, min(grid(APART), sway(self.start, axis)))

    def _hollow(self, axis: int) -> bool:
        """Say whether the sides that make the block grow this way have hollows."""
        return hollow(self.start, 1 - axis)

    def _shapes(self) -> Iterator[tuple[int, Stacks | None, bool]]:
        """Yield which way the inner pair goes, its stacks if there is one, and whether the outer may have joints."""
        for inner in (0, 1):
            yield inner, None, not self._hollow(1 - inner)
            side, joined = self._size[1 - inner], not self._hollow(inner)
            plain = self.cabinet.layers(side, False, joined)
            yield inner, self.cabinet.stacks(plain, self._most(inner)), not self._hollow(1 - inner)
            wooden = self.cabinet.layers(side, True, joined)
            if len(wooden) > len(plain):
                yield inner, self.cabinet.stacks(wooden, self._most(inner)), False

    def _outer(self, inner: int, grown: int, joined: bool) -> Stacks:
        layers = self.cabinet.layers(self._size[inner] + grown, True, joined)
        return self.cabinet.stacks(layers, self._most(1 - inner))

    def _fewest(self, axis: int) -> int:
        """Return a number of pieces that making up what is lacking can't be below."""
        lack = self._lack(axis)
        return max(-(-lack // self.cabinet.thickest), 2 if lack > self._apart(axis) else 1)

    def _grown(self, stacks: Stacks | None, pieces: int, axis: int) -> Iterator[int]:
        """Yield by how much a pair of so many pieces can make the block grow, from what is lacking on."""
        if stacks is None or pieces == 0:
            if pieces == 0 and not self._lack(axis):
                yield 0
            return
        step = stacks.sums.step
        made = stacks.sums.pair(pieces, self._apart(axis))
        yield from (n * step for n in places(made, -(-self._lack(axis) // step)))

    def _ways(self, pieces: int) -> Iterator[Way]:
        """Yield every way that takes so many pieces, as far as one can see, the best first."""
        if not pieces:
            if self._lack(0) == self._lack(1) == 0:
                yield Way(0, 0, (_NONE, _NONE))
            return

        def sizes(inner: int, within: Stacks | None, first: int, grown: int, joined: bool) -> Iterator[tuple]:
            outer = self._outer(inner, grown, joined)
            for more in self._grown(outer, pieces - first, 1 - inner):
                area = (self._size[inner] + grown) * (self._size[1 - inner] + more)
                yield area, inner, within, first, grown, outer, more

        found = [
            sizes(inner, within, first, grown, joined)
            for inner, within, joined in self._shapes()
            for first in (range(1, pieces - self._fewest(1 - inner) + 1) if within else (0,))
            for grown in self._grown(within, first, inner)
        ]
        for _, alike in groupby(heapq.merge(*found, key=lambda size: size[0]), key=lambda size: size[0]):
            ways = [
                Way(one.uneven + other.uneven, inner, (one, other))
                for _, inner, within, first, grown, outer, more in alike
                for one, other in product(
                    within.splits(grown, first, self._apart(inner)) if within else [_NONE],
                    outer.splits(more, pieces - first, self._apart(1 - inner)),
                )
            ]
            yield from sorted(ways, key=lambda way: way.uneven)

    def _possible(self) -> bool:
        """Say whether there would be a way if each band had the whole cabinet to itself."""
        if self._lack(0) == self._lack(1) == 0:
            return True
        for inner, within, joined in self._shapes():
            first = within.sums.any_pair(self._apart(inner)) if within else 1
            least = -(-self._lack(inner) // self.cabinet.step)
            for grown in places(first >> least):
                outer = self._outer(inner, (grown + least) * self.cabinet.step, joined)
                if outer.sums.any_pair(self._apart(1 - inner)) >> -(-self._lack(1 - inner) // self.cabinet.step):
                    return True
        return False

    def _laid(self, way: Way, rows: Rows) -> Block:
        """Return the block with its bands laid."""
        block = self.start if way.inner == 0 else turned(self.start)
        if way.pairs[0].bands:
            block, rows = lay_between(block, rows[:2], self.cabinet), rows[2:]
        block = turned(block)
        if way.pairs[1].bands:
            block = lay_between(block, rows, self.cabinet)
        return tidy(turned(block) if way.inner == 0 else block)
