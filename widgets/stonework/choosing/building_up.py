"""A form built up to a block, so that it can be locked up: the blocks to try."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from stonework.building import NoBlock, build_block, least_side
from stonework.form import Form
from stonework.lockup import Block
from stonework.shop import Chase, Quoin, Shop

_MORE = (0.0, 12.0, 24.0)  # points by which the block is larger than it need be for the quoins


def outline_of(block: Block) -> Form:
    """Return a block as the form that is locked up, to the hundredth of a point."""
    return Form(round(block.outline.width, 2), round(block.outline.height, 2))


def blocks_round(form: Form, chase: Chase, shop: Shop, quoins: Iterable[Quoin]) -> Iterator[Block]:
    """Yield the blocks that a form may be built up to before it is locked up, the smallest first."""
    least = max(least_side(quoin) for quoin in quoins)
    for more in _MORE:
        sides = (max(form.width + more, least), max(form.height + more, least))
        if sides == (form.width, form.height) or sides[0] >= chase.width or sides[1] >= chase.height:
            continue
        try:
            yield build_block(form, shop, least=sides)
        except NoBlock:
            continue
