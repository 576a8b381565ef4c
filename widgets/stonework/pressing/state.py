"""How a form lies under some openings of its quoins."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from stonework.lockup import Side

FIRM = 1e-9
"""What presses less than this share of the whole push is loose."""


class BedPressure(NamedTuple):
    """How a solid side is pressed: N for each mm of it at its left or lower end, and at its right or upper end.

    Between them it runs straight, over ``contact`` points; ``loose`` says that the rest has lifted off.
    """

    side: Side
    low: float
    high: float
    contact: float
    loose: bool


@dataclass(frozen=True, slots=True)
class State:
    """How a form lies under some openings of its quoins; ``forces`` are one a quoin, ``energy`` is N·mm.

    ``moved`` is how far its middle went right and up, in points, and ``turned`` how far it turned anticlockwise, in
    radians. ``skew`` is the turn in points over the form's longer side: how far it sits cocked. That stands here
    for lines out of square, which a rigid block can't show.
    """

    openings: tuple[float, ...]
    forces: tuple[float, ...]
    beds: tuple[BedPressure, ...]
    moved: tuple[float, float]
    turned: float
    skew: float
    energy: float

    @property
    def loose_quoins(self) -> tuple[int, ...]:
        """Which quoins push nothing."""
        return tuple(n for n, force in enumerate(self.forces) if force <= FIRM * sum(self.forces))

    @property
    def loose(self) -> bool:
        """Say whether a quoin pushes nothing, or part of a solid side has lifted off."""
        return bool(self.loose_quoins) or any(bed.loose for bed in self.beds)
