"""Asking for a lockup: the question is looked over and answered, or it is said that no answer was found."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any, NamedTuple

from stonework.any_cabinet.laying import as_lockup
from stonework.any_cabinet.question import ALL_CORNERS, ARRANGEMENTS, Question
from stonework.any_cabinet.search import Search
from stonework.any_cabinet.stacks import PIECE
from stonework.form import Form
from stonework.lockup import CLEAR, SIDES, TOLERANCE, UNBACKED, Block, Lockup, Side, along_x
from stonework.shop import Chase, Quoin, Shop

SECONDS = 0.4
"""For how long the very best is looked for; for as long again any that holds."""


_FAR = 4  # pieces; a bound further off says nothing


class Answer(NamedTuple):
    """A lockup, how many pieces it counts, and how many none has fewer than.

    A quoin that its span asks for and that is missing counts as a piece. ``proved`` says that no other of the family
    is better.
    """

    lockup: Lockup
    pieces: int
    fewest: int
    proved: bool

    @property
    def doubt(self) -> str:
        """By how much it may be off, in a sentence; nothing if it is proved the best."""
        if self.proved:
            return ""
        if self.pieces - self.fewest > _FAR:
            return "In the time there was it isn't proved the best."
        if self.fewest < self.pieces:
            return f"In the time there was it isn't proved the best: {self.pieces} pieces where {self.fewest} may do."
        return "In the time there was it isn't proved the best: with as many pieces, another may stand better."


def best_lockup(
    form: Form,
    chase: Chase,
    shop: Shop,
    *,
    quoins: Sequence[Quoin] = (),
    target: tuple[float, float] | None = None,
    tolerance: float = TOLERANCE,
    solid: tuple[Side, Side] = ("bottom", "left"),
    arrangement: str | None = None,
    steady: bool = True,
    seconds: float | None = None,
) -> Answer:
    """Choose the best lockup of the family that the package describes, or one as near it as the time allows.

    All lengths are points. ``target`` is where the form's lower left corner should stand (the middle of the chase if
    not given), ``tolerance`` how far it may be off each way. ``quoins`` are the patterns that may be used, all of the
    shop's if none is given. ``arrangement`` is one of ``ARRANGEMENTS``, whichever is best if not given. ``steady`` asks
    for no towers. After ``seconds``, ``SECONDS`` if not given, it looks for any lockup instead of the best.

    Raises ``ValueError`` with a sentence if none was found, or for a question that makes no sense.
    """
    if target is None:
        target = ((chase.width - form.width) / 2, (chase.height - form.height) / 2)
    if len(solid) != 2 or {along_x(side) for side in solid if side in SIDES} != {True, False}:
        raise ValueError(f"The solid sides were given as {' and '.join(solid)}; they must be two that meet.")
    if not (all(map(math.isfinite, target)) and math.isfinite(tolerance) and tolerance >= 0):
        raise ValueError(f"The target was given as {target}, {tolerance} pt either way; numbers of points are needed.")
    if arrangement is not None and arrangement not in ARRANGEMENTS:
        raise ValueError(f"“{arrangement}” isn't an arrangement; choose one of {', '.join(ARRANGEMENTS)}.")
    corners = ALL_CORNERS if arrangement is None else (ARRANGEMENTS[arrangement],)
    patterns = tuple(quoins or shop.quoins)
    if not patterns:
        raise ValueError("This shop has no quoins; a lockup needs them on two sides.")
    q = Question(form, chase, shop, patterns, target, tolerance, tuple(solid), CLEAR, UNBACKED, corners, steady)
    exhausted = True
    for step in _steps(q):
        search = Search(step, SECONDS if seconds is None else seconds)
        if found := search.best():
            proved = found.proved and exhausted
            return Answer(as_lockup(step, found), found.cost // PIECE, found.bound // PIECE, proved)
        exhausted = exhausted and search.exhausted
    if exhausted:
        raise ValueError(
            "Of the lockups that this looks for none can be made here from this cabinet, not even with two ends, other "
            "corners and cut strips."
        )
    raise ValueError("No lockup was found in the time there was; there may be one.")


def _steps(q: Question) -> Iterator[Question]:
    """Yield the question without what nobody takes gladly, then with strips cut for it, then with worn wood too."""
    yield q
    if q.shop.leads or q.shop.slugs:
        yield replace(q, cut=True)
    if q.shop.keep:
        yield replace(q, cut=True, kept=True)


def best_round(block: Block, chase: Chase, shop: Shop, **options: Any) -> Answer:
    """Choose the best lockup for a block, from what its own pieces leave in the cabinet; it lies in its chase in it.

    Options and what is raised are those of ``best_lockup``.
    """
    used = Counter(block.materials)
    rest = {
        name: {material: max(0, count - used[material]) for material, count in getattr(shop, name).items()}
        for name in ("stock", "metal", "strips")
    }
    outline = block.outline
    form = Form(round(outline.width, 2), round(outline.height, 2))
    answer = best_lockup(form, chase, replace(shop, **rest), **options)
    lockup = answer.lockup
    moved = block.moved(lockup.form.x - outline.x, lockup.form.y - outline.y)
    return answer._replace(lockup=replace(lockup, block=moved))
