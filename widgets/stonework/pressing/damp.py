"""Damp: how wood grows with the moisture of the air."""

from __future__ import annotations

from stonework.pressing.assuming import number

WOODS = {
    "sugar maple": (0.00165, 0.00353),
    "red maple": (0.00137, 0.00289),
    "black cherry": (0.00126, 0.00248),
    "American beech": (0.00190, 0.00431),
}
"""What a wood gains of its width for each 1 % of moisture, radially and tangentially: from 6 to 14 % (*Wood
Handbook*, FPL-GTR-190, Table 13-5). Furniture isn't sorted by the run of its rings."""


def moisture_growth(thickness: float, coefficient: float, before: float, after: float) -> float:
    """Return how many points some points of wood gain as their moisture goes from before to after, in per cent.

    ``coefficient`` is one of ``WOODS``, which hold from 6 to 14 %. In a lockup this acts, at most, like opening that
    side's quoins so far: wood under a push creeps.
    """
    number("The stack's thickness", thickness, " pt", 0)
    number("The coefficient", coefficient, low=0, high=0.1)
    change = number("The moisture after", after, " %", 6, 14) - number("The moisture before", before, " %", 6, 14)
    return thickness * coefficient * change


def equilibrium_moisture(celsius: float, humidity: float) -> float:
    """Return the moisture, in per cent, that wood comes to in air of some °C and per cent relative humidity.

    Hailwood and Horrobin's equation as W. T. Simpson gives it (FPL-RN-0268, 1998); coefficients from memory.
    """
    t, h = number("The temperature", celsius, " °C", 0, 60), number("The humidity", humidity, " %", 0, 100) / 100
    w = 349 + 1.29 * t + 0.0135 * t**2
    kh = (0.805 + 0.000736 * t - 0.00000273 * t**2) * h
    one = (6.27 - 0.00938 * t - 0.000303 * t**2) * kh
    two = one * (1.91 + 0.0407 * t - 0.000293 * t**2) * kh
    return 1800 / w * (kh / (1 - kh) + (one + 2 * two) / (1 + one + two))
