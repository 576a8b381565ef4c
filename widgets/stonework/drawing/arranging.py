"""How a plan's labels come to their places: in turn, and again with some of them first or shorter until all have one.

A label says less before it would cover another: first the number and the size, then the number alone; then the number
stands off, at the end of a line to its piece. Of the places that are clear it has the one that hides least wood.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from stonework.drawing.ejecting import by_ejecting
from stonework.drawing.labels import Asked, Ground, Spot, Taken, clear

_STEPS = 10  # places tried along a piece, from its middle each way
_TRIES, _TRIES_WITH_LINES = 6, 3
_PARTS = (0.5, 0.25, 0.75, 0.08, 0.92)  # of a piece's length, where a line may end
_STRAIGHT = [math.pi / 2 * n for n in (1, 3, 0, 2)]
_SLANTING = [math.pi / 8 * n for n in (2, 6, 10, 14, 3, 5, 11, 13, 1, 7, 9, 15)]
_LINES = [  # how long, in half type sizes, and which way: straight ones first
    *((far, turn) for far in range(1, 9) for turn in _STRAIGHT),
    *((far, turn) for far in range(1, 18) for turn in (*_STRAIGHT, *_SLANTING)),
]


def arrange(
    asked: Sequence[Asked], ground: Ground, taken: Sequence[Spot] = (), *, thorough: bool = True
) -> tuple[list[Spot], bool]:
    """Return a spot for each label that is asked for, and whether all are clear of what is taken and of one another.

    Those that find no place are placed before the others. If that doesn't help, what is in their way says less; and
    if that doesn't either, they stand off, and what is in their way too. If ``thorough``, a crowd is sorted out then.
    Where even so there is no place left, it is the one that covers least.
    """
    state = _State(list(range(len(asked))))
    for state.lines, tries in ((False, _TRIES), (True, _TRIES_WITH_LINES)):
        first = set[int]()
        for _ in range(tries):
            placed, done = _placed(asked, state, ground, taken)
            left = [n for n in state.order if n not in placed]
            if not left:
                return _said_more(asked, placed, ground, taken), True
            if set(left) <= first and not state.give_way(_in_the_way(asked, left, placed, ground)):
                break
            first |= set(left)
            state.order = left + [n for n in state.order if n not in left]
    if thorough:
        placed = by_ejecting(left, placed, lambda n: _ways(asked[n], ground), ground, taken)
        left = [n for n in state.order if n not in placed]
        done = Taken(ground, [*taken, *placed.values()])
    for n in left:
        found = list(_on(asked[n], asked[n].says[-1], ground))
        placed[n] = min([spot for spot in found if ground.holds(ground.reach(spot))] or found, key=done.over)
        done.take(placed[n])
    return _said_more(asked, placed, ground, taken), not left


def _said_more(asked: Sequence[Asked], placed: dict[int, Spot], ground: Ground, taken: Sequence[Spot]) -> list[Spot]:
    """Return the spots in the order asked for; what gave way and needn't have stands on its piece and says more."""
    for n, one in enumerate(asked):
        if placed[n].words == one.says[0] and placed[n].tip is None:
            continue
        others = Taken(ground, [*taken, *(spot for m, spot in placed.items() if m != n)])
        placed[n] = _best(one, False, ground, others) or placed[n]
    return [placed[n] for n in range(len(asked))]


def _ways(asked: Asked, ground: Ground) -> tuple[list[Spot], list[Spot]]:
    return list(_on(asked, asked.says[-1], ground)), list(_off(asked, ground))


@dataclass
class _State:
    """In which order labels are placed, which say their least, and, once lines are drawn, which stand off."""

    order: list[int]
    lines: bool = False
    short: set[int] = field(default_factory=set)
    off: set[int] = field(default_factory=set)

    def give_way(self, those: set[int]) -> bool:
        """Let those say less, or stand off; say whether any of them can."""
        kept = self.off if self.lines else self.short
        more = those - kept
        kept |= more
        return bool(more)


def _placed(
    asked: Sequence[Asked], state: _State, ground: Ground, taken: Sequence[Spot]
) -> tuple[dict[int, Spot], Taken]:
    """Return a spot for each label that there is a place for, and all that they take."""
    done, placed = Taken(ground, taken), dict[int, Spot]()

    def place(n: int, spot: Spot | None) -> None:
        if spot:
            placed[n] = spot
            done.take(spot)

    def stand_off(n: int) -> None:
        place(n, next((spot for spot in _off(asked[n], ground) if done.free(spot)), None))

    off = state.off if state.lines else set[int]()
    for n in (n for n in state.order if n in off):
        stand_off(n)
    for n in (n for n in state.order if n not in off):
        place(n, _best(asked[n], n in state.short, ground, done))
    for n in (n for n in state.order if state.lines and n not in placed):
        stand_off(n)
    return placed, done


def _in_the_way(asked: Sequence[Asked], left: Sequence[int], placed: dict[int, Spot], ground: Ground) -> set[int]:
    """Return which labels lie on pieces whose own find no place."""
    wanted = [ground.reach(spot) for n in left for spot in _on(asked[n], asked[n].says[-1], ground)]
    return {n for n, spot in placed.items() if spot.tip is None and not clear(ground.reach(spot), wanted)}


def _best(asked: Asked, short: bool, ground: Ground, done: Taken) -> Spot | None:
    """Return where a label says most, and there hides least; ``None`` if it has no place on its piece."""
    for words in asked.says[-1:] if short else asked.says:
        best, least = None, (ground.hides if words != asked.says[-1] else 1.0) + 1e-9
        for spot in _on(asked, words, ground):
            if not done.free(spot):
                continue
            hidden = ground.hidden(ground.reach(spot), asked.body) if asked.strays else 0.0
            if hidden < least:
                best, least = spot, hidden
            if not hidden:
                break
        if best:
            return best
    return None


def _on(asked: Asked, words: str, ground: Ground) -> Iterator[Spot]:
    """Yield where words may stand on a piece, its middle first, or past its ends if it is hardly thicker than they."""
    turned = not asked.flat and words != asked.says[-1]
    left, low, right, top = asked.body
    start, stop, level = (left, right, (low + top) / 2) if asked.flat else (low, top, (left + right) / 2)
    room, deep = ground.inside if asked.flat else ground.inside[::-1]
    long, thick = ground.room(words, turned=turned, bold=asked.bold)[:: 1 if asked.flat else -1]
    level = max(thick / 2, min(deep - thick / 2, level))
    middle, free = (start + stop) / 2, max(0.0, stop - start - long) / 2
    steps = _STEPS if free else 0
    along = [middle, *(middle + sign * n / _STEPS * free for n in range(1, steps + 1) for sign in (1, -1))]
    along = [max(long / 2, min(room - long / 2, at)) for at in along]
    thin = min(right - left, top - low) < 1.5 * thick
    along += [stop + long / 2 + 2, start - long / 2 - 2] if asked.strays and thin else []
    for at in along:
        yield Spot((at, level) if asked.flat else (level, at), words, turned, asked.bold)


def _off(asked: Asked, ground: Ground) -> Iterator[Spot]:
    """Yield where the least that is said may stand off its piece: at the end of a straight short line first."""
    words, (left, low, right, top) = asked.says[-1], asked.body
    across, up = ground.room(words, bold=asked.bold)
    tips = [
        (left + part * (right - left), (low + top) / 2)
        if asked.flat
        else ((left + right) / 2, low + part * (top - low))
        for part in _PARTS
    ]
    for long, turn in _LINES:
        far = long * ground.size / 2 / ground.scale
        out = (across / 2 + far) * math.cos(turn), (up / 2 + far) * math.sin(turn)
        for tip in tips:
            x, y = tip[0] + out[0], tip[1] + out[1]
            if not (left < x < right and low < y < top):
                yield Spot((x, y), words, False, asked.bold, tip)
