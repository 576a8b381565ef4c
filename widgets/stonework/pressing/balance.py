"""The energy of a form between springs, and Newton's step toward the least of it."""

from __future__ import annotations

from typing import NamedTuple

_NOTHING = 1e-100  # newtons; keeps a division by no push at all from failing


class Contact(NamedTuple):
    """Where wood meets the form: from ``start`` to ``stop`` along a side, in mm; they may be one place.

    At s along it, it closes in by its opening + ``sign`` × (u if ``axis`` is 0, v if 1) + ``lever`` × w × s.
    """

    axis: int
    sign: float
    lever: float
    start: float
    stop: float
    modulus: float


class Pressed(NamedTuple):
    """How far a contact closes in at its two ends, over how long a part it touches (mm), and its whole force."""

    low: float = 0.0
    high: float = 0.0
    span: float = 0.0
    force: float = 0.0


class Balance(NamedTuple):
    """The energy, its slopes along u, v, w, its curvatures uu and vv, uw and vw, and ww, and each contact's part."""

    energy: float
    slopes: list[float]
    direct: list[float]
    mixed: list[float]
    turning: float
    pressed: list[Pressed]

    @property
    def off(self) -> float:
        """How far it is from rest: the steepest slope as a share of all pushes."""
        return max(map(abs, self.slopes)) / (sum(part.force for part in self.pressed) + _NOTHING)

    def newton(self) -> tuple[float, float, float]:
        """Return Newton's step; where nothing resists, it stays. u and v meet only through w."""
        (u, v, w), (uw, vw) = self.slopes, self.mixed
        uu, vv = self.direct[0] or 1.0, self.direct[1] or 1.0
        resisting = max(self.turning - uw**2 / uu - vw**2 / vv, 1e-12 * self.turning) or 1.0
        turn = (u * uw / uu + v * vw / vv - w) / resisting
        return -(u + uw * turn) / uu, -(v + vw * turn) / vv, turn
