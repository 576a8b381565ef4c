"""The wedges of a quoin, and the key that drives them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from stonework.pressing.assuming import LITTLE, MM, number


@dataclass(frozen=True, slots=True)
class Wedge:
    """A quoin of two wedges that a key's pinion drives past each other.

    ``taper`` is one wedge's rise over its run, ``pinion`` a radius in points: measure both. ``inner`` is the friction
    between the wedges and ``outer`` of each on the wood: assumed. The forces follow from the balance of one wedge.
    """

    taper: float
    inner: float = 0.15
    outer: float = 0.30
    pinion: float = 5.0 / MM

    def __post_init__(self) -> None:
        number("The wedge's taper", self.taper, low=0.001, high=0.5)
        number("The wedge's inner friction", self.inner, low=0, high=1)
        number("The wedge's outer friction", self.outer, low=0, high=1)
        number("The pinion's radius", self.pinion, " pt", LITTLE)

    def drive(self, push: float) -> float:
        """Return the force along each wedge, in newtons, that tightens the quoin against a push."""
        slope = math.tan(math.atan(self.taper) + math.atan(self.inner))
        return number("The push", push, " N", 0) * (slope + self.outer)

    def back_out(self, push: float) -> float:
        """Return the force along each wedge, in newtons, that loosens it; below 0 it slips back by itself."""
        slope = math.tan(math.atan(self.taper) - math.atan(self.inner))
        return number("The push", push, " N", 0) * (self.outer - slope)

    def torque(self, push: float) -> float:
        """Return the torque on the key, N·mm, that tightens the quoin against a push: both wedges at the pinion."""
        return 2 * self.pinion * MM * self.drive(push)

    @property
    def self_locking(self) -> bool:
        """Say whether it stays where the key leaves it: the taper's angle is within both angles of friction."""
        return math.atan(self.taper) <= math.atan(self.inner) + math.atan(self.outer)

    @property
    def quarter_turn(self) -> float:
        """How far a quarter turn of the key opens it, in points: each wedge runs a quarter of the pinion's round."""
        return math.pi * self.pinion * self.taper
