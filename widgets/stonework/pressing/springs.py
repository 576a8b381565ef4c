"""The beds and springs that the pieces in a lockup make."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from stonework.lockup import Lockup, Side, along_x, pattern_of
from stonework.pressing.assuming import LITTLE, MM, Assumptions, number
from stonework.shop import Quoin
from stonework.units import PICA


class Bed(NamedTuple):
    """The wood of a solid side; ``modulus`` is newtons for each mm of side and each mm it is pressed in."""

    side: Side
    modulus: float


class Spring(NamedTuple):
    """One quoin with its wood; ``at`` is how far its middle lies from the middle of the side, in points.

    It bears evenly along its ``length``, or at one place if that is nothing. ``room`` is how far it can still open
    before the end of its travel.
    """

    side: Side
    at: float
    stiffness: float
    length: float = 0.0
    room: float = math.inf


def _stack_give(lockup: Lockup, side: Side, assumed: Assumptions) -> float:
    """Return how far all that lies on a side closes, mm for each MPa: its layers and the joints round them in a row.

    Metal furniture, leads and slugs count by their joints alone: by itself metal gives less than a tenth of what wood
    does (lead 16 GPa, from memory).
    """
    layers = {item.order: item for item in lockup.on(side)}.values()
    wood = sum(layer.thickness for layer in layers if layer.kind in ("furniture", "reglet"))
    return wood * MM / assumed.across_grain + (len(layers) + 1) * assumed.joint_give


def bed_of(lockup: Lockup, side: Side, assumed: Assumptions) -> Bed:
    """Return a solid side's bed; ``ValueError`` if nothing lies there."""
    if not lockup.on(side):
        raise ValueError(f"No wood was read on the {side}; a solid side needs wood from the form to the chase.")
    length, across = lockup.side_length(side), lockup.side_length("left" if along_x(side) else "bottom")
    give = _stack_give(lockup, side, assumed) + assumed.form_give * across / PICA
    return Bed(side, 1 / (give / (assumed.furniture_height * MM) + length * MM / assumed.rail_stiffness))


def springs_of(lockup: Lockup, side: Side, assumed: Assumptions, patterns: Sequence[Quoin]) -> list[Spring]:
    """Return a side's quoins, each pressing on wood of its own length; together they bow the one rail."""
    row = sorted(((lockup.seen_from(side, quoin), quoin) for quoin in lockup.quoins(side)), key=lambda one: one[0].low)
    springs = []
    for seen, quoin in row:
        length = number(f"A {side} quoin's length", seen.high - seen.low, " pt", LITTLE)
        face = length * assumed.furniture_height * MM**2
        give = _stack_give(lockup, side, assumed) / face + len(row) / assumed.rail_stiffness
        pattern, room = pattern_of(quoin, patterns), math.inf
        if pattern is not None:
            opening = quoin.thickness - pattern.closed
            pattern.allow(opening)
            room = pattern.travel - opening
        springs.append(Spring(side, (seen.low + seen.high - lockup.side_length(side)) / 2, 1 / give, length, room))
    return springs
