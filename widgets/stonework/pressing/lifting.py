"""Lifting a form: what friction holds of it, and of each line."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from stonework.form import Form
from stonework.pressing.assuming import ASSUMED, LITTLE, MM, Assumptions, number

_NEWTONS_PER_POUND = 4.4482216


def weight_of_type(width: float, height: float) -> float:
    """Return the most that type and leads of an outline can weigh, in newtons: that of one block of their metal."""
    form = Form(number("The width", width, " pt", LITTLE), number("The height", height, " pt", LITTLE))
    return form.solid_metal * _NEWTONS_PER_POUND


class Lift(NamedTuple):
    """What friction can hold at the form's four sides, and what is wanted, in newtons.

    ``enough`` is what the sum says. Lines and letters drop, not forms, so only a trial lift will tell.
    """

    hold: float
    wanted: float
    enough: bool


def lift(forces: Sequence[float], weight: float, assumed: Assumptions = ASSUMED) -> Lift:
    """Weigh the friction under all quoins' forces against the form's weight in newtons: 2µΣN ≥ margin × W."""
    hold = 2 * assumed.friction * sum(number("A quoin's force", force, " N", 0) for force in forces)
    wanted = assumed.margin * number("The weight", weight, " N", 0)
    return Lift(hold, wanted, hold >= wanted)


class Lines(NamedTuple):
    """The force on the ends of each line, in newtons, and which lines it doesn't hold."""

    forces: tuple[float, ...]
    dropped: tuple[int, ...]


def press_lines(push: float, shortfalls: Sequence[float], weight: float, assumed: Assumptions = ASSUMED) -> Lines:
    """Share the side quoins' whole push among lines of type, each some points short of the fullest.

    The lines are springs side by side between stiff sticks. One of this weight (N) drops if 2µN < margin × weight.
    """
    number("The push", push, " N", 0)
    wanted = assumed.margin * number("A line's weight", weight, " N", 0)
    gaps = [number(f"Line {n}'s shortfall", gap, " pt", 0) * MM for n, gap in enumerate(shortfalls, 1)]
    if not gaps:
        raise ValueError("No lines were read; give the points by which each is short, 0 for a full one.")
    squeeze = math.inf
    for n, gap in enumerate(ordered := sorted(gaps), 1):  # the fullest take the push until the next one is met
        if gap < squeeze:
            squeeze = (push / assumed.line_stiffness + sum(ordered[:n])) / n
    forces = tuple(assumed.line_stiffness * max(0.0, squeeze - gap) for gap in gaps)
    return Lines(forces, tuple(n for n, force in enumerate(forces) if 2 * assumed.friction * force < wanted))
