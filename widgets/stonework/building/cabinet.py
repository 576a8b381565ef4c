"""What the shop can still give to a block: the layers that may lie along a side, all in hundredths of a point."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Sequence
from functools import cache
from operator import itemgetter

from stonework.building.bands import Layer, Pairs, Stacks
from stonework.lockup import CLEAR, UNBACKED, Block
from stonework.shop import Material, Shop
from stonework.stacking import Size, Sums, grid

MOST_IN_A_ROW = 6
"""Pieces of metal, end to end; this workbook's own figure."""

Size3 = tuple[str, int, int]
"""Kind, thickness and length."""

_LENGTH = itemgetter(2)


class Cabinet:
    """What the shop can still give to a block, in hundredths, beside what some parts of it hold already."""

    def __init__(self, shop: Shop, parts: Sequence[Block]) -> None:
        used = Counter(size_of(material) for part in parts for material in part.materials)
        self.own = {size_of(material): material for material in (*shop.stock, *shop.metal)}
        self.left: Counter[Size3] = Counter()
        for material, there in (*shop.stock.items(), *shop.metal.items()):
            self.left[size_of(material)] += there
        self.left = self.left - used
        self._wood = sorted((size for size in self.left if size[0] != "metal"), key=itemgetter(2, 0, 1))
        self.metal: dict[int, dict[int, int]] = {}
        for (kind, thickness, length), there in sorted(self.left.items(), reverse=True):
            if kind == "metal":
                self.metal.setdefault(thickness, {})[length] = there
        self._leads = sorted({grid(one) for one in (*shop.leads, *shop.slugs)}, reverse=True)
        self.step = math.gcd(*(size[1] for size in self.left), *self._leads) or 1
        self.thickest = max([size[1] for size in self.left] + self._leads, default=1)
        self.thinnest = min([size[1] for size in self.left] + self._leads, default=1)
        self.endless = bool(self._leads)
        # One side's layers often make what another's do.
        self.layers, self.stacks, self._sums = cache(self._layers), cache(self._stacks), cache(self._make_sums)

    @property
    def pieces(self) -> float:
        """The most pieces that any block can take."""
        return math.inf if self.endless else self.left.total()

    def _layers(self, side: int, wood: bool, joined: bool) -> tuple[Layer, ...]:
        """Return the layers that may lie along a side so long; without wood, or with no joined rows, if so asked."""
        found = [Layer("lead", thickness, side, 1, math.inf) for thickness in self._leads]
        for thickness, lengths in self.metal.items():
            sums: Sums | None = None
            for pieces in range(1, (MOST_IN_A_ROW if joined else 1) + 1):
                if pieces == 1:
                    possible = side in lengths
                elif side % math.gcd(*lengths):
                    break
                else:
                    sums = sums or Sums([Size(length, 1, n) for length, n in lengths.items()], side)
                    possible = sums.can(side, pieces)
                if possible:
                    there = sum(n * length for length, n in lengths.items()) // side
                    found.append(Layer("metal", thickness, side, pieces, lengths[side] if pieces == 1 else there))
        if wood:
            shortest, longest = side - 2 * grid(UNBACKED), side - grid(CLEAR)
            first, last = bisect_left(self._wood, shortest, key=_LENGTH), bisect_right(self._wood, longest, key=_LENGTH)
            found += [Layer(*size, 1, self.left[size]) for size in self._wood[first:last]]
        return tuple(found)

    def _stacks(self, layers: tuple[Layer, ...], most: int) -> Stacks:
        return Stacks(layers, self._sums(tuple(Size(one.thickness, one.pieces, one.most) for one in layers), most))

    def _make_sums(self, sizes: tuple[Size, ...], most: int) -> Pairs:
        return Pairs(sizes, most, (self.step,))


def size_of(material: Material) -> Size3:
    """Return a material's kind, thickness and length."""
    return (material.kind, grid(material.thickness), grid(material.length))
