"""What a lockup is chosen from, in whole hundredths of a point: form, chase, place, corners, quoins and cabinet."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from itertools import product
from typing import Any, Literal, NamedTuple

from stonework.form import Form
from stonework.lockup import SIDES, Side, along_x, opposite
from stonework.shop import Chase, Material, MaterialKind, Quoin, Shop
from stonework.stacking import grid

Key = tuple[MaterialKind, int]
"""Kind, and thickness in hundredths of a point."""

_CUT = 6  # strips of one length and thickness that may be cut for one form; this workbook's own figure

End = Literal["through", "stops", "stepped"]
Ends = tuple[End, End]
"""What a side does at the corner at its low end (left or bottom), and at that of its high end."""

Corner = Literal["lying", "standing", "stepped"]
"""Which side runs through a corner: the one that lies along the bottom or top, the one that stands, or neither."""

Corners = tuple[Corner, Corner, Corner, Corner]
"""Bottom left, bottom right, top left, top right."""

CORNERS = 4

ARRANGEMENTS: Mapping[str, Corners] = {
    "pinwheel-clockwise": ("lying", "standing", "standing", "lying"),
    "pinwheel-anticlockwise": ("standing", "lying", "lying", "standing"),
    "top-and-bottom-through": ("lying", "lying", "lying", "lying"),
    "left-and-right-through": ("standing", "standing", "standing", "standing"),
    "stepped": ("stepped", "stepped", "stepped", "stepped"),
}
"""The arrangements that have a name: those of a kind at all four corners, and the two pinwheels."""

_OTHERS = product(("lying", "standing", "stepped"), repeat=4)
ALL_CORNERS: tuple[Corners, ...] = tuple(dict.fromkeys((*ARRANGEMENTS.values(), *_OTHERS)))
"""Every way to arrange four corners, the ones with a name first."""

FREE: Ends = ("through", "through")
"""Ends that let more lie there than any others do."""

_AT: Mapping[Side, tuple[int, int]] = {"bottom": (0, 1), "left": (0, 2), "top": (2, 3), "right": (1, 3)}
_BESIDE: Mapping[bool, tuple[Side, Side]] = {True: ("left", "right"), False: ("bottom", "top")}


@cache
def ends_of(side: Side, corners: tuple[Corner, ...]) -> Ends:
    """Return what a side does at its two corners; it runs through those that aren't settled yet."""
    mine = "lying" if along_x(side) else "standing"
    low, high = (corners[n] if n < len(corners) else mine for n in _AT[side])
    return _end(low, mine), _end(high, mine)


def _end(corner: str, mine: str) -> End:
    if corner == "stepped":
        return "stepped"
    return "through" if corner == mine else "stops"


class Reach(NamedTuple):
    """How far what lies on a side may reach beyond the form, at its low and at its high end; less than 0 stays inside.

    Each end has the least and the most that it may be; between them it is ``clear`` less than how deep it lies.
    """

    clear: int
    low: tuple[int, int]
    high: tuple[int, int]

    def at(self, depth: int) -> tuple[int, int]:
        """Return how far it is at a depth, at both ends."""
        inside = depth - self.clear
        (least, most), (first, last) = self.low, self.high
        return min(max(inside, least), most), min(max(inside, first), last)


class Row(NamedTuple):
    """So many quoins of one pattern on a side, ``missing`` fewer than its span asks.

    ``parted`` says that they bear on two ends, some on each, where hardly a stick of the cabinet fits; else on one
    piece.
    """

    pattern: Quoin
    number: int
    missing: int
    parted: bool


@dataclass(frozen=True)
class Question:
    """Everything a lockup is chosen from; see ``best_lockup``. Lengths are points as given.

    ``quoins`` are the patterns to take, and ``others`` those to take where these don't do. ``cut`` says whether leads
    and slugs may be cut to the form's sides, and ``kept`` whether what is kept for last may be used.
    """

    form: Form
    chase: Chase
    shop: Shop
    quoins: tuple[Quoin, ...]
    target: tuple[float, float]
    tolerance: float
    solid: tuple[Side, ...]
    clear: float
    unbacked: float
    corners: tuple[Corners, ...]
    steady: bool = True
    others: tuple[Quoin, ...] = ()
    cut: bool = False
    kept: bool = False

    # --- what follows is in hundredths of a point -----------------------------------------------------

    @cached_property
    def _pieces(self) -> dict[Material, int]:
        """What may be used, and how many there are of each."""
        pieces = {m: n for m, n in self.shop.pieces.items() if n > 0 and (self.kept or m not in self.shop.keep)}
        if self.cut:
            for thickness in (*self.shop.leads, *self.shop.slugs):
                for length in {self.form.width, self.form.height}:
                    strip = Material("lead", thickness, length)
                    pieces[strip] = pieces.get(strip, 0) + _CUT
        return pieces

    @cached_property
    def cabinet(self) -> dict[Key, tuple[tuple[int, int], ...]]:
        """The cabinet by kind and thickness: lengths and how many there are of each, shortest first."""
        found: dict[Key, dict[int, int]] = {}
        for m, there in self._pieces.items():
            if grid(m.thickness) > 0:
                of = found.setdefault((m.kind, grid(m.thickness)), {})
                of[grid(m.length)] = of.get(grid(m.length), 0) + there
        return {key: tuple(sorted(lengths.items())) for key, lengths in found.items()}

    @cached_property
    def step(self) -> int:
        """What divides every thickness, and so every depth."""
        return math.gcd(*(thickness for _, thickness in self.cabinet)) or 1

    @cached_property
    def materials(self) -> dict[tuple[MaterialKind, int, int], Material]:
        """The cabinet's own sizes by their rounded ones."""
        return {(m.kind, grid(m.thickness), grid(m.length)): m for m in self._pieces}

    @cached_property
    def memo(self) -> dict[Any, Any]:
        """What was reckoned for one side and goes for another too."""
        return {}

    def length(self, side: Side) -> int:
        """Return the form's own dimension along a side."""
        return grid(self.form.width if along_x(side) else self.form.height)

    def free(self, side: Side) -> int:
        """Return what a side's gap and the one across from it come to."""
        return self._free[side]

    @cached_property
    def _free(self) -> dict[Side, int]:
        across = grid(self.chase.width) - grid(self.form.width)
        along = grid(self.chase.height) - grid(self.form.height)
        return {side: along if along_x(side) else across for side in SIDES}

    def aim(self, side: Side) -> int:
        """Return the gap that a side would have with the form where it is wanted."""
        aim = grid(self.target[along_x(side)])
        return self.free(side) - aim if side in ("top", "right") else aim

    def gaps(self, side: Side) -> tuple[int, int]:
        """Return the least and the greatest gap that a side can have."""
        return self._gaps[side]

    @cached_property
    def _gaps(self) -> dict[Side, tuple[int, int]]:
        off = grid(min(self.tolerance, self.chase.width + self.chase.height))
        return {side: (max(0, self.aim(side) - off), min(self.aim(side) + off, self.free(side))) for side in SIDES}

    def reach(self, side: Side, ends: Ends) -> Reach:
        """Return how far what lies on a side may reach beyond the form at both ends."""
        if ("reach", side, ends) not in self.memo:
            beside = (self.gaps(one)[0] for one in _BESIDE[along_x(side)])
            low, high = (self._reach(end, gap) for end, gap in zip(ends, beside, strict=True))
            self.memo["reach", side, ends] = Reach(grid(self.clear), low, high)
        found: Reach = self.memo["reach", side, ends]
        return found

    def _reach(self, end: End, gap: int) -> tuple[int, int]:
        clear = grid(self.clear)
        most = gap - max(clear, grid(self.chase.clear_corners))  # where the chase's corners are rounded
        if end == "through":
            return most, most
        return (-clear, -clear) if end == "stops" else (0, max(0, most))

    def rows(self, side: Side) -> list[Row]:
        """Return the rows of quoins to try on a side: none missing first, and patterns in the shop's order."""
        length = self.length(side)
        # Longest in a pinwheel, where a side runs through one corner and stops at the other.
        least, most = length - 2 * grid(self.unbacked), length + max(self.reach(side, FREE).at(0)) - grid(self.clear)
        found = []
        for pattern in self.quoins:
            kinds = ("reglet",) if pattern.bears_on == "reglet" else ("furniture", "reglet")
            whole = any(
                least <= stick <= most
                for (kind, _), lengths in self.cabinet.items()
                if kind in kinds
                for stick, _ in lengths
            )
            needed = -(-length // grid(pattern.span))
            for number in range(min(needed, needed if pattern.count is None else pattern.count), 0, -1):
                ways = (False,) if whole or number == 1 else (False, True)
                found += [Row(pattern, number, needed - number, parted) for parted in ways]
        return sorted(found, key=lambda row: (row.missing, row.parted))

    @property
    def quoin_sides(self) -> tuple[Side, ...]:
        """The two sides that have quoins."""
        return tuple(side for side in SIDES if side not in self.solid)

    @cached_property
    def axes(self) -> tuple[tuple[Side, Side], tuple[Side, Side]]:
        """The solid side and the quoin side across from it, left and right first."""
        across, along = sorted(self.solid, key=along_x)
        return (across, opposite(across)), (along, opposite(along))
