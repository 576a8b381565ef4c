"""A block in words: what was built up to what, and which pieces it takes."""

from __future__ import annotations

from html import escape

from stonework.drawing.words import margin_words, pull_list, sentence, table
from stonework.lockup import Lockup
from stonework.shop import Shop
from stonework.units import write_length


def block_words(lockup: Lockup, least: float) -> str:
    """Say what the block measures, and why it was built up; ``least`` is the shortest side its quoin can press."""
    block = lockup.block
    if block is None:
        return "This form isn't built up."
    forms, pieces = len(block.forms), len(block.pieces)
    wanted = f"The quoin wants sides of {_written(least)} at the least"
    if not pieces:
        return f"{wanted}: this form has them, and needs no building up."
    what = "The form" if forms == 1 else f"{forms} forms"
    return (
        f"{what} and {pieces} piece{'s' * (pieces > 1)} make a block {_written(lockup.form.width)} wide and "
        f"{_written(lockup.form.height)} high. {wanted}."
    )


def block_facts(lockup: Lockup, shop: Shop) -> str:
    """Return what the block is made of and where it will stand, as HTML."""
    return (
        f"<p>{escape(sentence(lockup, shop, ()))} {escape(margin_words(lockup))}</p>{pull_list(lockup)}"
        f"<details><summary>The same as a table</summary>{table(lockup, shop, ())}</details>"
    )


def _written(points: float) -> str:
    return write_length(round(points, 1))
