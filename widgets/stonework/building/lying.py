"""How a block lies: turned, with bands laid at its sides, and what it has to press on there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from stonework.building.cabinet import Cabinet
from stonework.building.supplying import Laid
from stonework.form import Form
from stonework.lockup import Block, Filling, FillingKind, PlacedForm
from stonework.stacking import grid


def as_block(form: Form | Block) -> Block:
    """Return a form or block as a block, its lower left corner at 0, 0 and its form to the hundredth of a point."""
    if isinstance(form, Form):
        return Block((PlacedForm(0.0, 0.0, round(form.width, 2), round(form.height, 2)),), ())
    outline = form.outline
    return tidy(form.moved(-outline.x, -outline.y))


def tidy(block: Block) -> Block:
    """Return the block with every place to the hundredth of a point, whatever adding has left."""
    return Block(
        tuple(replace(form, x=round(form.x, 2), y=round(form.y, 2)) for form in block.forms),
        tuple(replace(piece, x=round(piece.x, 2), y=round(piece.y, 2)) for piece in block.pieces),
    )


def turned(block: Block) -> Block:
    """Return the block with x and y exchanged."""
    forms = (replace(one, x=one.y, y=one.x, width=one.height, height=one.width) for one in block.forms)
    pieces = (replace(one, x=one.y, y=one.x, width=one.height, height=one.width) for one in block.pieces)
    return Block(tuple(forms), tuple(pieces))


def lay_between(block: Block, rows: Sequence[Sequence[Laid]], cabinet: Cabinet) -> Block:
    """Lay bands at the left and right of a block, from it outward: leads, then metal, then wood."""
    side, pieces = grid(block.height), []
    for row, outward in zip(rows, (-1, 1), strict=True):
        at = 0 if outward < 0 else grid(block.width)
        for n, (layer, lengths) in enumerate(sorted(row, key=lambda laid: _INNER_FIRST.index(laid[0].kind))):
            low = (side - sum(lengths)) // 2
            left = at if outward > 0 else at - layer.thickness
            for length in lengths if n % 2 == 0 else lengths[::-1]:  # so that joints don't lie in one line
                own = cabinet.own.get((layer.kind, layer.thickness, length))
                size = (own.thickness, own.length) if own else (layer.thickness / 100, length / 100)
                place = (left / 100, low / 100, layer.thickness / 100, length / 100)
                pieces.append(Filling(layer.kind, *size, *place))
                low += length
            at += outward * layer.thickness
    laid = Block(block.forms, (*block.pieces, *pieces))
    return laid.moved(-laid.outline.x, 0.0)


_INNER_FIRST: tuple[FillingKind, ...] = ("lead", "metal", "reglet", "furniture")


def _touched(block: Block, axis: int) -> list[list[tuple[int, int]]]:
    """Return what the block has to press on at its two sides along an axis, low side first: from where to where."""
    if axis == 1:
        block = turned(block)
    outline = block.outline
    low, high = grid(outline.y), grid(outline.y + outline.height)
    parts = [(grid(one.x - outline.x), grid(one.x - outline.x + one.width), one) for one in block.content]
    return [
        sorted((start, stop) for start, stop, one in parts if grid(one.y) == low),
        sorted((start, stop) for start, stop, one in parts if grid(one.y + one.height) == high),
    ]


def hollow(block: Block, axis: int) -> bool:
    """Say whether one of the two sides along an axis has a hollow, where wood stops short."""
    size = grid((block.width, block.height)[axis])
    return any(sum(stop - start for start, stop in side) < size for side in _touched(block, axis))


def sway(block: Block, axis: int) -> int:
    """Return by how much the bands at both ends of two sides may differ, so that the middle still rests on a part."""
    size = grid((block.width, block.height)[axis])
    return min(min(size - 2 * side[0][0], 2 * max(stop for _, stop in side) - size) for side in _touched(block, axis))
