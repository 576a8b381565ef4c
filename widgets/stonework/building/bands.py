"""Bands: stacks of layers along one side, what they make, and the pairs of them on two opposite sides."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import count
from typing import NamedTuple

from stonework.lockup import FillingKind
from stonework.stacking import Size, Sums, places
from stonework.units import PICA

# Both are this workbook's own figures.
APART = PICA
"""The most by which the bands of a pair may differ, in points."""
BEYOND = 12 * PICA
"""The most by which a band may be thicker than half of what is lacking, in points."""


class Layer(NamedTuple):
    """A layer that may lie along a side, in hundredths: of so many pieces, and at most so many such layers.

    ``length`` is that of the one piece of wood or of the lead; a row of metal is as long as its side.
    """

    kind: FillingKind
    thickness: int
    length: int
    pieces: int
    most: float


class Pairs(Sums):
    """The thicknesses that some layers make, by how many pieces they take, and what two bands of them make in all.

    That two layers may want the same pieces isn't minded.
    """

    _pairs: dict[tuple[int, int], int]
    _any_pairs: dict[int, int]

    def __init__(self, sizes: Sequence[Size], top: int, others: Sequence[int]) -> None:
        super().__init__(sizes, top, others)
        self._pairs, self._any_pairs = {}, {}

    def pair(self, pieces: int, apart: int) -> int:
        """Return what two bands make in all that take so many pieces and differ by ``apart`` at most, in steps."""
        if (pieces, apart) not in self._pairs:
            total = 0
            for one in range(pieces + 1):
                total |= pairs(self.at(one), self.at(pieces - one), apart // self.step)
            self._pairs[pieces, apart] = total
        return self._pairs[pieces, apart]

    def fewest_pair(self, total: int, apart: int) -> int | None:
        """Return the fewest pieces of two bands that make a total and differ by ``apart`` at most, or ``None``."""
        steps, rest = divmod(total, self.step)
        if rest or not self.any_pair(apart) >> steps & 1:
            return None
        return next(n for n in count() if self.pair(n, apart) >> steps & 1)

    def any_pair(self, apart: int) -> int:
        """Return what two bands make in all that differ by ``apart`` at most, in steps."""
        if apart not in self._any_pairs:
            self._any_pairs[apart] = pairs(self.any, self.any, apart // self.step)
        return self._any_pairs[apart]


class Stacks(NamedTuple):
    """The layers that may lie along one side, and what they make."""

    layers: tuple[Layer, ...]
    sums: Pairs

    def splits(self, total: int, pieces: int, apart: int) -> list[Split]:
        """Return every pair of bands that makes a total in so many pieces, evenest first, the thicker one first."""
        if not self.sums.pair(pieces, apart) >> total // self.sums.step & 1:
            return []
        found = []
        for one in range(pieces + 1):
            for steps in places(self.sums.at(one)):
                thick, thin = steps * self.sums.step, total - steps * self.sums.step
                if 0 <= thick - thin <= apart and thin >= 0 and self.sums.can(thin, pieces - one):
                    found.append(Split(thick - thin, (Band(self, thick, one), Band(self, thin, pieces - one))))
        return sorted(found, key=lambda split: split.uneven)


class Band(NamedTuple):
    """A band that is wanted: what it may be made of, how thick it is and of how many pieces."""

    stacks: Stacks
    thickness: int
    pieces: int


class Split(NamedTuple):
    """A pair of bands, low side first, and by how much they differ."""

    uneven: int
    bands: tuple[Band, ...]

    @property
    def pieces(self) -> int:
        """How many pieces the two take."""
        return sum(band.pieces for band in self.bands)


def pairs(thick: int, thin: int, near: int) -> int:
    """Return the sums of one bit of each number, where the second lies at or below the first by ``near`` at most."""
    total = 0
    for one in places(thick) if thin else ():
        low = max(0, one - near)
        total |= (thin >> low & (1 << (one - low + 1)) - 1) << low + one
    return total
