"""Asking for a block: one form built up, or several made into one; and why it can't be done."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from stonework.building.cabinet import Cabinet
from stonework.building.lying import as_block, turned
from stonework.building.row import RowOfForms
from stonework.building.surrounding import Surrounding
from stonework.form import Form
from stonework.lockup import CLEAR, Block
from stonework.shop import Quoin, Shop
from stonework.stacking import grid
from stonework.units import write_length

_TRIED = 24  # gutters tried each way for the nearest that can be made


class NoBlock(ValueError):
    """No block of the family can be built; its text says in sentences what can't be made and what would help."""


def least_side(quoin: Quoin) -> float:
    """Return the shortest side, in points, that a quoin can press on whichever way the corners are arranged.

    It is the quoin's length and ``CLEAR`` at each end: see the rule “room for a quoin”.
    """
    return quoin.length + 2 * CLEAR


def build_block(form: Form | Block, shop: Shop, *, least: tuple[float, float]) -> Block:
    """Build a form up on its sides until it is at least so wide and high, in points; its lower left corner is 0, 0.

    First come the bands at left and right along its height, then those at bottom and top along the whole width; or
    the other way about; or one pair is enough. Exact over the family that ``stonework.building`` describes.

    Raises ``NoBlock`` if the shop can't do it, and ``ValueError`` for sizes that aren't lengths.
    """
    if not all(math.isfinite(size) and size >= 0 for size in least):
        raise ValueError(f"The block's least size was given as {least}; two lengths in points, 0 or more, are needed.")
    start = as_block(form)
    built = Surrounding(start, Cabinet(shop, [start]), (grid(least[0]), grid(least[1]))).best()
    if built is None:
        raise NoBlock(_why_not(start, shop, least))
    return built


def side_by_side(forms: Sequence[Form | Block], shop: Shop, gutter: float) -> Block:
    """Make forms, from left to right, into one block with gutters of just that many points between them.

    Those less high are made up at foot and head to the highest, or all to the next height that can be made with the
    fewest pieces, up to ``BEYOND`` more: a pair of bands each. The gutters run through the whole height, and are bands
    too; if there is wood in any of the pairs, no gutter's layer is in more than one piece. Forms and blocks may be
    mixed, and what is made may be built up in turn. The lower left corner is 0, 0.

    The best has the fewest pieces, then the least height, then the pairs that differ least. Raises ``NoBlock``, which
    names the nearest gutter that can be made, and ``ValueError`` for no forms or a gutter that isn't a length.
    """
    if not forms:
        raise ValueError("A block was asked for of no forms at all; give it one or more.")
    if not (math.isfinite(gutter) and gutter >= 0):
        raise ValueError(f"The gutter was given as {gutter}; a length in points, 0 or more, is needed.")
    parts = [as_block(form) for form in forms]
    built = RowOfForms(parts, Cabinet(shop, parts), grid(gutter)).best()
    if built is None:
        raise NoBlock(_why_no_row(parts, shop, gutter, "high"))
    return built


def one_below_another(forms: Sequence[Form | Block], shop: Shop, gutter: float) -> Block:
    """Make forms, from the head down, into one block; all else is as in ``side_by_side``, width for height."""
    try:
        block = turned(side_by_side([turned(as_block(form)) for form in reversed(forms)], shop, gutter))
    except NoBlock as error:
        raise NoBlock(str(error).replace(" high", " wide")) from None
    return replace(block, forms=tuple(sorted(block.forms, key=lambda form: (-form.y - form.height, form.x))))


def in_rows(rows: Sequence[Sequence[Form | Block]], shop: Shop, gutter: float) -> Block:
    """Make any number of forms into one block: each row from left to right, and the rows from the head down.

    The gutters within the rows and between them are alike. Raises as ``side_by_side`` does.
    """
    made: list[Form | Block] = []
    left = shop
    for row in rows:
        block = side_by_side(row, left, gutter)
        left = left.without(block.materials)
        made.append(block)
    return one_below_another(made, shop, gutter) if len(made) != 1 else side_by_side(made, shop, gutter)


# --- why not ----------------------------------------------------------------------------------------------

_PLENTY = 99


def _plenty(shop: Shop) -> Shop:
    """Return the shop with plenty of every size that it lists."""
    return replace(shop, stock=dict.fromkeys(shop.stock, _PLENTY), metal=dict.fromkeys(shop.metal, _PLENTY))


def _why_not(start: Block, shop: Shop, least: tuple[float, float]) -> str:
    """Say why a block can't be built up, and what would help."""
    size, wanted = (f"{_written(width)} × {_written(height)}" for width, height in ((start.width, start.height), least))
    told = f"What the shop holds doesn't build {size} up to {wanted}, with as much on opposite sides."
    sizes = (grid(least[0]), grid(least[1]))
    if Surrounding(start, Cabinet(_plenty(shop), [start]), sizes).best():
        return f"{told} It has the right sizes, but too few pieces: free some, or build another block first."
    if shop.leads or shop.slugs:
        return f"{told} Change the size of the form by a lead."
    return f"{told} Leads and slugs would help: list them in the shop file, under [spacing]."


def _why_no_row(parts: Sequence[Block], shop: Shop, gutter: float, way: str) -> str:
    """Say why forms can't be put in a row, and what would help."""
    cabinet = Cabinet(shop, parts)
    plenty, few = Cabinet(_plenty(shop), []), "It has the right sizes, but too few pieces"
    if RowOfForms(parts, cabinet, 0).best() is None:
        sizes = _and([_written(part.height) for part in parts])
        told = f"The forms are {sizes} {way}, and what the shop holds doesn't make them up to one size."
        if RowOfForms(parts, plenty, 0).best():
            return f"{told} {few}: free some, or build these forms first."
        return f"{told} Change one of them by a lead, or take thinner leads."
    told = f"A gutter of {_written(gutter)} can't be made from what the shop holds."
    if RowOfForms(parts, plenty, grid(gutter)).best():
        told += f" {few}."
    lower = grid(gutter) // cabinet.step
    tried = sorted(
        (n * cabinet.step for n in range(max(0, lower - _TRIED), lower + _TRIED + 2)),
        key=lambda width: abs(width - grid(gutter)),
    )
    nearest = next((width for width in tried if RowOfForms(parts, cabinet, width).best()), None)
    if nearest is None:
        return f"{told} Nor can any other that is near it: leads would help."
    return f"{told} The nearest that can is {_written(nearest / 100)}."


def _and(parts: Sequence[str]) -> str:
    return " and ".join([", ".join(parts[:-1]), parts[-1]] if len(parts) > 1 else parts)


def _written(points: float) -> str:
    return write_length(round(points, 2))
