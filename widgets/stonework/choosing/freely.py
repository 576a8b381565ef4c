"""Choices left open: the smallest chase that works, the way the head points, and whether to build up first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from stonework.choosing.answer import Answer
from stonework.choosing.asking import NoLockup, best_lockup, patterns
from stonework.choosing.building_up import blocks_round
from stonework.form import Form
from stonework.lockup import Block, Side, along_x
from stonework.shop import Chase, Quoin, Shop


class Chosen(NamedTuple):
    """An answer, and to which side of its chase the form's head points; the chase and the block are in its lockup.

    ``proved`` says that the answer is the best, and that what would have been taken before it doesn't work.
    """

    answer: Answer
    head: Side
    proved: bool

    @property
    def doubt(self) -> str:
        """By how much it may be off, in a sentence; nothing if it is proved."""
        if self.answer.proved and not self.proved:
            return "It isn't proved that what was left open can't be chosen better."
        return self.answer.doubt


def choose_freely(
    form: Form | Block,
    shop: Shop,
    *,
    chases: Sequence[Chase],
    heads: Sequence[Side] = ("top",),
    build_up: bool = False,
    off: tuple[float, float] = (0.0, 0.0),
    **options: Any,
) -> Chosen:
    """Choose a lockup where more than the wood is open: the smallest chase first, and in it the fewest pieces.

    ``form`` is measured with its head up, and is turned for each of ``heads``; a block lies as it is. Where nothing
    else does in a chase, and ``build_up`` says so, the form is built up to a block. ``off`` is how far from the middle
    of the chase it is wanted, to the right and up, in points. Other options are those of ``best_lockup``.

    Raises ``NoLockup``, with the reasons of the largest chase and the first head, if nothing works.
    """
    refusal: NoLockup | None = None
    sure = True
    for chase in sorted(chases, key=lambda chase: chase.width * chase.height):
        best: Chosen | None = None
        refusal = None
        for built in (False, True) if build_up else (False,):
            for head in () if best else heads:
                for one in _blocks(form, chase, shop, head, options.get("quoin")) if built else [_lying(form, head)]:
                    try:
                        answer = best_lockup(one, chase, shop, target=_target(one, chase, off), **options)
                    except NoLockup as error:
                        refusal = refusal or error
                        sure = sure and error.certain
                        continue
                    sure = sure and answer.proved
                    if best is None or answer.pieces < best.answer.pieces:
                        best = Chosen(answer, head, sure)
                    break
        if best:
            return best._replace(proved=sure)
    if refusal is None:
        raise ValueError("No chase was given to choose from.")
    raise refusal


def _lying(form: Form | Block, head: Side) -> Form | Block:
    return form if isinstance(form, Block) or along_x(head) else Form(form.height, form.width)


def _blocks(form: Form | Block, chase: Chase, shop: Shop, head: Side, quoin: Quoin | str | None) -> Iterator[Block]:
    lying, (first, others) = _lying(form, head), patterns(shop, quoin)
    if isinstance(lying, Form):
        yield from blocks_round(lying, chase, shop, (*first, *others))


def _target(form: Form | Block, chase: Chase, off: tuple[float, float]) -> tuple[float, float]:
    """Return where the lower left corner of a form, or of a block's outline, is wanted."""
    outline = form if isinstance(form, Form) else form.outline
    return (chase.width - outline.width) / 2 + off[0], (chase.height - outline.height) / 2 + off[1]
