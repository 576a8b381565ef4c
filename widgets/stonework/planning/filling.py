"""People given lockups one after another, in what the others have left."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence
from typing import NamedTuple

from stonework.choosing import QUICK
from stonework.planning.pool import Column, Pool
from stonework.planning.things import Thing

_HASTE = 2 * QUICK
_PLENTY = 20  # quoins for one person, at the most


class Entry(NamedTuple):
    """One person of a kind in a shift with a lockup."""

    kind: int
    shift: int
    column: Column


class Filling:
    """Fills shifts one person at a time. ``lent`` are the chases and quoins of which there are as many as are wanted.

    ``changed`` are the ways of each kind that change its job, and are taken only where no other goes. ``enough`` is how
    many pieces one person may have without its being sought whether another shift needs fewer.
    """

    def __init__(self, pool: Pool, changed: Sequence[Sequence[int]], lent: Collection[Thing]) -> None:
        self.pool, self.changed, self.enough = pool, changed, 0
        people = sum(len(kind.tasks) for kind in pool.kinds)
        self._whole = Counter(pool.counted) + Counter({thing: _PLENTY * people for thing in lent})

    def filled(
        self,
        kept: Sequence[Entry],
        people: Sequence[tuple[int, int | None, Column | None]],
        shifts: int,
        most: int,
        *,
        known: bool = False,
    ) -> list[Entry] | None:
        """Give people their lockups one after another, the wished one if it goes; ``None`` if one of them has none.

        Shifts are opened as they're needed, up to ``most``. ``known`` asks for no lockup that isn't known yet.
        """
        left = [Counter(self._whole) for _ in range(shifts)]
        entries = list(kept)
        for entry in kept:
            left[entry.shift].subtract(entry.column.uses)
        waiting = []
        for kind, shift, column in people:
            tried = range(len(left)) if shift is None else [shift]
            where = next((s for s in tried if column and fits(column, left[s])), None)
            if where is None or column is None:
                waiting.append(kind)
            else:
                left[where].subtract(column.uses)
                entries.append(Entry(kind, where, column))
        for kind in waiting:
            found = self._sought(kind, left, known)
            if found is None:
                if len(left) >= most:
                    return None
                left.append(Counter(self._whole))
                found = self._sought(kind, left[-1:], known)
                if found is None:
                    return None
                found = found._replace(shift=len(left) - 1)
            left[found.shift].subtract(found.column.uses)
            entries.append(found)
        return entries

    def _sought(self, kind: int, left: Sequence[Counter[Thing]], known: bool) -> Entry | None:
        """Seek a lockup for one person in what is left: in the first shift where it has few enough pieces."""
        best: Entry | None = None
        for shift, there in enumerate(left):
            for way in (*self.pool.kinds[kind].ways, *self.changed[kind]):
                column = self._fitting(way, there, known)
                if column and (best is None or self._dearer(best, column)):
                    best = Entry(kind, shift, column)
            if best and best.column.count <= max(self.enough, 1):
                break
        return best

    def _dearer(self, entry: Entry, column: Column) -> bool:
        """Say whether a person's lockup makes more changes than another, or has more pieces."""
        changed = self.changed[entry.kind]
        return (entry.column.way in changed, entry.column.count) > (column.way in changed, column.count)

    def _fitting(self, way: int, there: Counter[Thing], known: bool) -> Column | None:
        """Return the best lockup of a way in what is there; one that is known is taken if it can't be bettered."""
        if any(there[thing] < n for thing, n in self.pool.least(way).items()):
            return None
        short = {thing: there[thing] for thing, n in self.pool.counted.items() if there[thing] < n}
        fewest = self.pool.ask(way).fewest
        best = next((c for c in self.pool.columns.get(way, []) if c.count == fewest and fits(c, there)), None)
        if best is None and not known:
            best = self.pool.ask(way, short, _HASTE).column
        return best


def fits(column: Column, there: Counter[Thing]) -> bool:
    """Say whether there is all that a lockup takes."""
    return all(n <= there[thing] for thing, n in column.uses.items())
