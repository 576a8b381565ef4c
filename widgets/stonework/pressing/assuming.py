"""What the model of the quoins takes for granted, and how a figure that can't be is refused."""

from __future__ import annotations

from dataclasses import dataclass, fields
from numbers import Real

from stonework.saying import shown_value
from stonework.units import POINTS_PER_INCH

MM = 25.4 / POINTS_PER_INCH
"""Millimetres in a point."""

LITTLE = 1e-6
"""As good as nothing, in any unit used here."""

_LARGE = 1e9  # beyond all reason, likewise


def number(what: str, value: float, unit: str = "", low: float = -_LARGE, high: float = _LARGE) -> float:
    """Return a figure; ``ValueError``, a sentence, if it is none or lies beyond its bounds."""
    if not (isinstance(value, Real) and low <= value <= high):
        raise ValueError(
            f"{what} was read as {shown_value(value)}{unit}; it must be a number from {low:g} to {high:g}."
        )
    return float(value)


@dataclass(frozen=True, slots=True)
class Assumptions:
    """What the model takes for granted, each with its source or the word “assumed”. Replace what you can measure."""

    across_grain: float = 1200.0
    """Modulus of wood pressed across the grain, MPa. Assumed, between sugar maple's 819 tangential and 1663 radial:
    0.065 and 0.132 (*Wood Handbook*, FPL-GTR-190, Table 5-1) of 12 600 (its Table 5-3, by way of a database)."""
    furniture_height: float = 0.625 * POINTS_PER_INCH
    """How high wood stands from the stone: 5/8 inch (W. Savage, *Dictionary*, 1841, “Furniture”)."""
    type_height: float = 0.918 * POINTS_PER_INCH
    """Height to paper: 0.918 inch (A. A. Stewart, *Type*, 1918, p. 7)."""
    joint_give: float = 0.04
    """How far one joint in the wood closes, mm for each MPa. Assumed; anything from 0.02 to 0.1 is as likely."""
    form_give: float = 0.003
    """How far one pica of the form closes, joints and all, mm for each MPa. Assumed."""
    rail_stiffness: float = 4500.0
    """Push on a rail of the chase that bows its middle by a millimetre, N/mm; lumped in as if the whole rail gave
    way alike. Assumed: ``chase_frame``'s figure for the longer rail of an 8 × 12 chase of 3/4-inch iron bars."""
    friction: float = 0.2
    """Friction that holds the form at its sides. Assumed; chestnut on steel was measured at 0.19 dry and 0.50 damp
    (*Forests* 13:1078, 2022)."""
    margin: float = 3.0
    """How many times its own weight a form or a line should be held by. Assumed."""
    line_stiffness: float = 546.0
    """Stiffness of a line of type pressed end to end, N/mm. Assumed."""
    line_short: float = 0.1
    """How far a well-set line may fall short of the fullest and must still be held, in points. Assumed."""

    def __post_init__(self) -> None:
        for each in fields(self):
            low = 0.0 if each.name in ("joint_give", "form_give", "friction") else LITTLE
            number(f"The assumption “{each.name.replace('_', ' ')}”", getattr(self, each.name), low=low)


ASSUMED = Assumptions()
