"""Asking for a lockup: the question is looked over and answered, or refused with its reasons."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from functools import cached_property
from typing import Any

from stonework.choosing.answer import Answer, answer
from stonework.choosing.building_up import outline_of
from stonework.choosing.question import ALL_CORNERS, ARRANGEMENTS, Question
from stonework.choosing.reasons import obstacles, reasons
from stonework.choosing.search import EFFORT
from stonework.form import Form
from stonework.lockup import CLEAR, SIDES, TOLERANCE, UNBACKED, Block, Lockup, Side, along_x
from stonework.saying import shown
from stonework.shop import Chase, Quoin, Shop

ANY = ""
"""As ``quoin``: whichever patterns are best, not the shop's first before the others."""


class NoLockup(ValueError):
    """No lockup was found; ``reasons`` says why in sentences, the most useful first.

    What would make it work is found by trying, which takes longer than the answer itself: so the reasons are worked
    out when first read. ``why`` yields them one by one.
    """

    def __init__(self, question: Question, exhausted: bool) -> None:
        super().__init__()
        self._question, self._exhausted = question, exhausted

    def why(self, stop: Callable[[], bool] | None = None) -> Any:
        """Yield what stands in the way and what was tried and works, as each is found; raises ``Stopped``."""
        return reasons(self._question, self._exhausted, stop)

    @cached_property
    def certain(self) -> bool:
        """Whether there is none at all, however long one looks."""
        return self._exhausted or next(obstacles(self._question), None) is not None

    @cached_property
    def reasons(self) -> tuple[str, ...]:
        """Say what stands in the way and what would help."""
        return tuple(self.why())

    def __str__(self) -> str:
        return " ".join(self.reasons)


def choose_lockup(form: Form, chase: Chase, shop: Shop, **options: Any) -> Lockup:
    """Choose furniture, reglet and quoins for a form in a chase; options, and what is raised, as in ``best_lockup``."""
    return best_lockup(form, chase, shop, **options).lockup


def lock_up(block: Block, chase: Chase, shop: Shop, **options: Any) -> Lockup:
    """Choose a lockup for a block; options, and what is raised, as in ``best_lockup``."""
    return best_lockup(block, chase, shop, **options).lockup


def best_lockup(
    form: Form | Block,
    chase: Chase,
    shop: Shop,
    *,
    quoin: Quoin | str | None = None,
    target: tuple[float, float] | None = None,
    tolerance: float = TOLERANCE,
    solid: tuple[Side, Side] = ("bottom", "left"),
    clear: float = CLEAR,
    unbacked: float = UNBACKED,
    arrangement: str | None = None,
    steady: bool = True,
    effort: int = EFFORT,
    stop: Callable[[], bool] | None = None,
) -> Answer:
    """Choose the best lockup of the family that the package describes, or one as near it as the effort allows.

    All lengths are points. ``target`` is where the form's lower left corner should stand (the middle of the chase if
    not given), ``tolerance`` how far it may be off each way. ``quoin`` is one of the shop's, or its name; if not given
    the shop's first, and all others only where that doesn't do; ``ANY`` for whichever are best. ``arrangement`` is one
    of ``ARRANGEMENTS``, whichever is best if not given. ``steady`` asks for no towers. ``effort`` says how many steps
    are spent on the very best, and ``stop`` is asked again and again whether to give up.

    A block is locked up with what its own pieces leave in the cabinet, and lies in its chase in the lockup.

    Raises ``NoLockup`` if none was found, ``Stopped`` if ``stop`` said so, and ``ValueError`` or ``KeyError`` for a
    question that makes no sense.
    """
    outline, left = (form, shop) if isinstance(form, Form) else (outline_of(form), shop.without(form.materials))
    if target is None:
        target = ((chase.width - outline.width) / 2, (chase.height - outline.height) / 2)
    _look_over(target, solid, arrangement, tolerance=tolerance, clear=clear, unbacked=unbacked)
    quoins, others = patterns(shop, quoin)
    corners = ALL_CORNERS if arrangement is None else (ARRANGEMENTS[arrangement],)
    q = Question(
        outline, chase, left, quoins, target, tolerance, tuple(solid), clear, unbacked, corners, steady, others
    )
    found, exhausted = answer(q, effort, stop)
    if found is None:
        raise NoLockup(q, exhausted)
    if isinstance(form, Form):
        return found
    lying, whole = found.lockup.form, form.outline
    return found._replace(lockup=replace(found.lockup, block=form.moved(lying.x - whole.x, lying.y - whole.y)))


def _look_over(target: tuple[float, float], solid: tuple[Side, Side], arrangement: str | None, **points: float) -> None:
    """Refuse what makes no sense."""
    if arrangement is not None and arrangement not in ARRANGEMENTS:
        raise ValueError(f"“{shown(str(arrangement))}” isn't an arrangement; choose one of {', '.join(ARRANGEMENTS)}.")
    if len(solid) != 2 or {along_x(side) for side in solid if side in SIDES} != {True, False}:
        raise ValueError(
            f"The solid sides were given as {' and '.join(map(str, solid))}; they must be two that meet, such as "
            "bottom and left."
        )
    if not all(map(math.isfinite, target)):
        raise ValueError(f"The target was given as {target}; two numbers of points are needed.")
    for name, value in points.items():
        if not (math.isfinite(value) and value >= 0):
            raise ValueError(f"The {name} was given as {value}; a number of points, 0 or more, is needed.")


def patterns(shop: Shop, quoin: Quoin | str | None) -> tuple[tuple[Quoin, ...], tuple[Quoin, ...]]:
    """Return the patterns of quoin to take, and those to take where they don't do."""
    if isinstance(quoin, Quoin):
        return (quoin,), ()
    if quoin:
        return (shop.quoin(quoin),), ()
    if not shop.quoins:
        raise ValueError("This shop has no quoins; a lockup needs them on two sides.")
    if quoin == ANY:
        return tuple(shop.quoins), ()
    enough = [one for one in shop.quoins if one.count is None or one.count > 1]
    return tuple((enough or shop.quoins)[:1]), tuple(shop.quoins) if len(shop.quoins) > 1 else ()
