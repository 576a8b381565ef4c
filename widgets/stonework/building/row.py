"""Forms side by side, made up to one height, with gutters between them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from stonework.building.bands import APART, BEYOND, Band, Split, Stacks
from stonework.building.cabinet import MOST_IN_A_ROW, Cabinet
from stonework.building.lying import hollow, lay_between, sway, tidy, turned
from stonework.building.supplying import Rows, supply
from stonework.lockup import Block
from stonework.stacking import grid


@dataclass(frozen=True)
class RowOfForms:
    """Parts to stand side by side, all made up to one height, with gutters of one width; in hundredths.

    ``_known`` keeps the fewest pieces for a height, with wood to make the parts up and without.
    """

    parts: Sequence[Block]
    cabinet: Cabinet
    gutter: int
    _known: dict[tuple[int, bool], int | None] = field(default_factory=dict)

    def best(self) -> Block | None:
        """Return the best block, or ``None`` if there is none."""
        tallest, step = max(self._heights), self.cabinet.step
        heights = [tallest + n * step for n in range(grid(BEYOND) // step + 1)]
        if all(self._fewest(height, True) is None and self._fewest(height, False) is None for height in heights):
            return None
        thinnest, thickness = self.cabinet.thinnest, len(self.parts) * (heights[-1] + self.gutter)
        for pieces in range(MOST_IN_A_ROW * (thickness // thinnest) + 1):
            for height in heights:
                for _, pairs, gutters in sorted(self._ways(height, pieces), key=lambda way: way[0]):
                    bands = [*(band for pair in pairs for band in pair.bands), *gutters]
                    if (rows := supply(bands, self.cabinet)) is not None:
                        return self._laid(rows)
        return None

    @property
    def _gutters(self) -> int:
        return len(self.parts) - 1 if self.gutter else 0

    @cached_property
    def _hollow(self) -> bool:
        """Whether a gutter would lie over a hollow, even if no wood made the parts up."""
        return any(hollow(part, 1) for part in self.parts)

    @cached_property
    def _apart(self) -> list[int]:
        """By how much the bands of each part may differ."""
        return [max(0, min(grid(APART), sway(part, 1))) for part in self.parts]

    @cached_property
    def _heights(self) -> list[int]:
        return [grid(part.height) for part in self.parts]

    @cached_property
    def _made_up(self) -> dict[bool, list[Stacks]]:
        """What may make each part up, with wood and without."""
        most = grid(BEYOND) + max(self._heights)
        return {
            wood: [
                self.cabinet.stacks(self.cabinet.layers(grid(part.width), wood, not hollow(part, 0)), most)
                for part in self.parts
            ]
            for wood in (False, True)
        }

    def _between(self, height: int, wood: bool) -> Stacks:
        """Return what may make a gutter, when wood may make the parts up, or none."""
        return self.cabinet.stacks(self.cabinet.layers(height, True, not wood and not self._hollow), self.gutter)

    def _lacks(self, height: int, wood: bool) -> Iterator[tuple[Stacks, int, int]]:
        """Yield for each part what may make it up, how much it lacks and by how much its bands may differ."""
        for stacks, own, apart in zip(self._made_up[wood], self._heights, self._apart, strict=True):
            yield stacks, height - own, apart

    def _fewest(self, height: int, wood: bool) -> int | None:
        """Return the fewest pieces for a height if each band had the whole cabinet to itself; ``None`` if none do."""
        if (height, wood) not in self._known:
            self._known[height, wood] = self._reckon(height, wood)
        return self._known[height, wood]

    def _reckon(self, height: int, wood: bool) -> int | None:
        fewest = 0
        if self._gutters:  # asked first, since it's quickly answered
            if (pieces := self._between(height, wood).sums.fewest(self.gutter)) is None:
                return None
            fewest += self._gutters * pieces
        for stacks, lack, apart in self._lacks(height, wood):
            if (pieces := stacks.sums.fewest_pair(lack, apart)) is None:
                return None
            fewest += pieces
        return fewest

    def _ways(self, height: int, pieces: int) -> Iterator[tuple[int, tuple[Split, ...], tuple[Band, ...]]]:
        """Yield by how much the pairs differ in all, the pairs and the gutters, for every way of so many pieces."""
        for wood in (False, True):
            if (least := self._fewest(height, wood)) is None or least > pieces:
                continue
            more, choices = range(pieces - least + 1), []
            for stacks, lack, apart in self._lacks(height, wood):
                fewest = stacks.sums.fewest_pair(lack, apart)
                choices.append([split for n in more for split in stacks.splits(lack, fewest + n, apart)])
            if self._gutters:
                stacks = self._between(height, wood)
                fewest = stacks.sums.fewest(self.gutter)
                counts = [fewest + n for n in more if stacks.sums.can(self.gutter, fewest + n)]
                choices += [[Band(stacks, self.gutter, n) for n in counts]] * self._gutters
            for way in _adding_up(choices, pieces):
                pairs, gutters = way[: len(self.parts)], way[len(self.parts) :]
                yield sum(pair.uneven for pair in pairs), pairs, gutters

    def _laid(self, rows: Rows) -> Block:
        """Return the block with all bands laid."""
        n = len(self.parts)
        made_up = (rows[2 * i : 2 * i + 2] for i in range(n))
        parts = [
            turned(lay_between(turned(part), pair, self.cabinet))
            for part, pair in zip(self.parts, made_up, strict=True)
        ]
        block = parts[0]
        for part, row in zip(parts[1:], rows[2 * n :] or [[]] * (n - 1), strict=True):
            block = lay_between(block, [[], row], self.cabinet)
            beside = part.moved(block.width, 0.0)
            block = Block((*block.forms, *beside.forms), (*block.pieces, *beside.pieces))
        return tidy(block)


def _adding_up(choices: Sequence[Sequence[Any]], pieces: int) -> Iterator[tuple[Any, ...]]:
    """Yield one of each choice, in every way that takes just so many pieces."""
    if not choices:
        if pieces == 0:
            yield ()
        return
    least = sum(min((one.pieces for one in choice), default=pieces + 1) for choice in choices[1:])
    for one in choices[0]:
        if one.pieces + least <= pieces:
            for rest in _adding_up(choices[1:], pieces - one.pieces):
                yield (one, *rest)
