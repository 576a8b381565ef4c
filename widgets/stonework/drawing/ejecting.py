"""Where labels crowd: one that has no place takes another's, and that looks for a new one, until none is left over.

Each time a label is turned out it weighs more, so that the same two don't go on taking each other's place.
"""

from __future__ import annotations

import math
import random
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from itertools import chain

from stonework.drawing.labels import Ground, Spot, Taken, clash

_STEPS = 400
_TRIED = 40  # places off a piece, of all that there are


def by_ejecting(
    left: Sequence[int],
    placed: Mapping[int, Spot],
    ways: Callable[[int], tuple[list[Spot], list[Spot]]],
    ground: Ground,
    taken: Sequence[Spot],
) -> dict[int, Spot]:
    """Return a spot for each label, or for as many as could be.

    ``ways`` tells where a label may stand on its piece and off it; ``taken`` is what can't be moved.
    """
    chance, weight, waiting = random.Random(1), Counter[int](), list(left)
    placed, fixed = dict(placed), Taken(ground, taken)
    covers = {n: ground.cover(spot) for n, spot in placed.items()}
    known: dict[int, tuple[list[Spot], list[Spot]]] = {}
    best = dict(placed)
    for _ in range(_STEPS):
        if not waiting:
            break
        n = waiting.pop(0)
        if n not in known:
            known[n] = ways(n)
        on, off = known[n]
        some = sorted(chance.sample(range(len(off)), min(_TRIED, len(off))))  # the nearest first
        tried = [on, [off[k] for k in some]]
        if weight[n] % 2:  # it was turned out: the other way first
            tried.reverse()
        out, spot, least = list[int](), None, math.inf
        for one in chain(*tried):
            if not fixed.free(one):
                continue
            cover = ground.cover(one)
            meets = [m for m, other in covers.items() if clash(cover, other)]
            if (cost := sum(1 + weight[m] for m in meets)) < least:
                out, spot, least = meets, one, cost
            if not meets:
                break
        if spot is None:
            continue
        for m in out:
            del placed[m], covers[m]
            weight[m] += 1
        placed[n], covers[n] = spot, ground.cover(spot)
        waiting += out
        if len(placed) > len(best):
            best = dict(placed)
    return best
