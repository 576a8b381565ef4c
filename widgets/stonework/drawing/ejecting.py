"""Where labels crowd: one that has no place takes another's, and that looks for a new one, until none is left over.

Each time a label is turned out it weighs more, so that the same two don't go on taking each other's place.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Mapping, Sequence

from stonework.drawing.labels import Ground, Spot, Taken

_STEPS = 400
_TRIED = 40  # places off a piece, of all that there are


def by_ejecting(
    left: Sequence[int],
    placed: Mapping[int, Spot],
    ways: Callable[[int], tuple[list[Spot], list[Spot]]],
    ground: Ground,
    taken: Sequence[Spot],
) -> tuple[dict[int, Spot], list[int]]:
    """Return a spot for each label, and those that are left over even so.

    ``ways`` tells where a label may stand on its piece and off it; ``taken`` is what can't be moved.
    """
    chance, weight, placed, waiting = random.Random(1), Counter[int](), dict(placed), list(left)
    fixed = Taken(ground, taken)
    known: dict[int, tuple[list[Spot], list[Spot]]] = {}
    best, fewest = (dict(placed), list(waiting)), len(waiting)
    for _ in range(_STEPS):
        if not waiting:
            return placed, []
        n = waiting.pop(0)
        if n not in known:
            known[n] = tuple([spot for spot in spots if fixed.free(spot)] for spots in ways(n))
        on, off = known[n]
        alone = {m: Taken(ground, [spot]) for m, spot in placed.items()}
        some = sorted(chance.sample(range(len(off)), min(_TRIED, len(off))))  # the nearest first
        tried = [*on, *(off[k] for k in some)]
        out, spot = [], None
        for one in tried:
            meets = [m for m, other in alone.items() if not other.free(one)]
            if spot is None or sum(1 + weight[m] for m in meets) < sum(1 + weight[m] for m in out):
                out, spot = meets, one
            if not meets:
                break
        if spot is None:
            continue
        for m in out:
            del placed[m]
            weight[m] += 1
        placed[n] = spot
        waiting += out
        if len(waiting) < fewest:
            best, fewest = (dict(placed), list(waiting)), len(waiting)
    return best
