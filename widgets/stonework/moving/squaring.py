"""Squaring a form: which edge is short, and what is missing there.

The quoins squeeze a form's long edge and leave the short one loose. T. MacKellar, *The American Printer*, 1893, p. 147,
says it of two pages side by side, one a single lead longer than the other; that two edges of one form are the same
case is common practice. Lengths are points.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from stonework.form import ROUNDING, SQUARE, Edges, Form
from stonework.lockup import SLACK
from stonework.shop import Body, Chase, Shop
from stonework.stacking import fewest_pieces

Edge = Literal["head", "foot", "left", "right"]
_GRID = 100  # hundredths of a point, as everywhere that sums must be exact
_MANY = 12  # more of one thickness than anyone would put in


@dataclass(frozen=True, slots=True)
class Mending:
    """One short edge, by how many points it is short, and the fewest pieces that are as thick together.

    They tell what may be missing. ``pieces`` are thicknesses in points, thickest first; there are none if the shop has
    nothing of that thickness to within half a point. ``leads`` says whether they are leads or slugs, between lines, or
    spaces, in lines.
    """

    edge: Edge
    short: float
    leads: bool
    pieces: tuple[float, ...]


def mend(edges: Edges, shop: Shop, body: Body) -> list[Mending]:
    """Return what a form lacks to be square, for each way it isn't; nothing if it is.

    At a short left or right edge a lead or slug is missing, or doesn't reach. At a short head or foot the lines lack
    spaces of the form's body, or thins. The four edges don't tell whether the longer one is too long instead.
    """
    found: list[Mending] = []
    ways: tuple[tuple[float, Edge, Edge, bool], ...] = (
        (edges.wider_at_head, "foot", "head", False),
        (edges.taller_at_left, "right", "left", True),
    )
    for difference, if_more, if_less, leads in ways:
        if abs(difference) > SQUARE + ROUNDING:
            sizes = (*shop.leads, *shop.slugs) if leads else (*shop.thins, *body.spaces)
            edge = if_more if difference > 0 else if_less
            found.append(Mending(edge, abs(difference), leads, make_up(abs(difference), sizes)))
    return found


def make_up(length: float, sizes: Sequence[float]) -> tuple[float, ...]:
    """Return the sizes that come nearest to a length, to within half a point, and the fewest of them.

    Nothing if none come so near, or if leaving it be comes nearer.
    """
    stock = {round(size * _GRID): _MANY for size in sizes}
    wanted = round(length * _GRID)
    for off in range(min(round(SQUARE * _GRID) + 1, wanted)):  # with nothing in it would be off by all of it
        found = [pieces for total in (wanted - off, wanted + off) if (pieces := fewest_pieces(total, stock))]
        if found:
            return tuple(piece / _GRID for piece in min(found, key=len))
    return ()


def chases_for(form: Form, shop: Shop) -> list[Chase]:
    """Return the chases that a form fits into, as it lies or turned, the smallest first; room for wood not counted."""
    sides = sorted((form.width, form.height))
    fitting = [
        chase
        for chase in shop.chases
        if all(s < c - SLACK for s, c in zip(sides, sorted((chase.width, chase.height)), strict=True))
    ]
    return sorted(fitting, key=lambda chase: chase.width * chase.height)
