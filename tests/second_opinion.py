"""One question asked of our solver and of CP-SAT, and whether what they say agrees."""

from __future__ import annotations

import time
from typing import NamedTuple

from lockup_model import optimum
from small_shops import Small
from stonework.choosing.question import ALL_CORNERS, Question
from stonework.choosing.search import EFFORT, Search
from stonework.choosing.stacks import PIECE, PLACE, QUOIN, TOWER


class Opinion(NamedTuple):
    """What the two say: a verdict, ours and theirs as one number if there is one, and how many seconds each took."""

    verdict: str
    cost: int | None
    bound: int | None
    other: int | None
    ours: float
    theirs: float


def packed(cost: tuple[int, int, int, int]) -> int:
    """Return CP-SAT's cost as the solver has it: pieces, place, quoins, towers."""
    pieces, place, quoins, towers = cost
    return pieces * PIECE + place * PLACE + quoins * QUOIN + towers * TOWER


def opinion(case: Small, limit: float, effort: int = EFFORT) -> Opinion:
    """Ask both; ``limit`` is how many seconds CP-SAT has. A verdict that begins with “differ” is a fault."""
    start = time.perf_counter()
    q = Question(
        case.form, case.chase, case.shop, tuple(case.shop.quoins), case.target, case.tolerance,
        tuple(sorted(case.solid)), 3.0, 6.0, ALL_CORNERS,
    )  # fmt: skip
    search = Search(q, effort)
    found = search.best()
    middle = time.perf_counter()
    best, proved = optimum(
        case.form, case.chase, case.shop, quoins=case.shop.quoins, target=case.target, tolerance=case.tolerance,
        solid=case.solid, limit=limit,
    )  # fmt: skip
    times = (middle - start, time.perf_counter() - middle)
    other = None if best is None else packed(best)
    if found is None:
        return Opinion(_without(search.exhausted, other, proved), None, None, other, *times)
    return Opinion(_with(found.cost, found.bound, other, proved), found.cost, found.bound, other, *times)


def _without(exhausted: bool, other: int | None, proved: bool) -> str:
    """Compare where ours found nothing: what was looked through to its end isn't there."""
    if other is None:
        return "agree: none" if exhausted and proved else "neither found any, not proved"
    return "differ: ours says that there is none" if exhausted else "ours ran out, CP-SAT found one"


def _with(cost: int, bound: int, other: int | None, proved: bool) -> str:
    if other is None:
        return "differ: CP-SAT says that there is none" if proved else "CP-SAT ran out, ours found one"
    if proved and not bound <= other <= cost:
        return "differ: CP-SAT's best lies outside what ours says"
    if cost == bound and other < cost:
        return "differ: CP-SAT found a better one than ours proved best"
    if proved and other == cost:
        return "agree: both the best" if cost == bound else "agree: the best, though ours didn't prove it"
    return "ours may be off by what it says" if proved else "CP-SAT ran out"
