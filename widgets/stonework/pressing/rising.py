"""Springing: how wood that is lower than type lifts the middle of a form."""

from __future__ import annotations

from stonework.pressing.assuming import ASSUMED, LITTLE, MM, Assumptions, number
from stonework.units import PICA


def line_of_thrust(
    furniture_height: float = ASSUMED.furniture_height, type_height: float = ASSUMED.type_height
) -> float:
    """Return how far below mid-height furniture on the stone presses the type, as a share of a sixth of its height.

    It presses at half its own height: (B − h)/2 below. Beyond 1 the thrust has left the middle third (footings: Das,
    *Principles of Foundation Engineering*, at second hand): feet are squeezed, heads part, and the form springs up in
    the middle.
    """
    wood = number("The furniture's height", furniture_height, " pt", LITTLE)
    return 3 * (1 - wood / number("The type's height", type_height, " pt", LITTLE))


def spring_rise(push: float, along: float, across: float, assumed: Assumptions = ASSUMED) -> float:
    """Return how far the middle of a form rises off the stone, in points, under a push along its ``along`` side.

    The push, in newtons, lies below the middle of the type and bends the form as a beam ``across`` wide: straight
    beam theory while the thrust keeps to the middle third, and beyond it with the heads parted. Lengths are points.
    A picture of which way it goes more than a figure: the form's own stiffness is assumed.
    """
    force = number("The push", push, " N", 0)
    length, width = (number("The form's side", side, " pt", 1) * MM for side in (along, across))
    body = assumed.type_height * MM
    modulus = PICA * MM / max(assumed.form_give, LITTLE)
    off = (assumed.type_height - assumed.furniture_height) * MM / 2
    if off <= body / 6:
        curvature = 12 * force * off / (modulus * width * body**3)
    else:
        curvature = 2 * force / (9 * max(body / 2 - off, LITTLE) ** 2 * modulus * width)
    return curvature * length**2 / 8 / MM if off > 0 else 0.0
