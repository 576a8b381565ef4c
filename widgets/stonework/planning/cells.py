"""Cells: for each way, sets of lockups that together hold them all, parted again where a bound is too low."""

from __future__ import annotations

from dataclasses import dataclass, replace

from stonework.choosing import EFFORT
from stonework.planning.pool import Pool, Reply
from stonework.planning.things import Thing, Uses

_AGAIN = 8 * EFFORT  # steps, where an answer wasn't proved


@dataclass(frozen=True)
class Cell:
    """All lockups of a way that take at most ``most`` and at least ``least`` of some things.

    ``reply`` is the best with at most so much; ``fewest`` what none in the cell has fewer pieces than.
    """

    kind: int
    way: int
    changes: int
    most: Uses
    least: Uses
    reply: Reply
    fewest: int
    tried: bool = False

    @property
    def demand(self) -> Uses:
        """What it takes at the least: its best lockup's things, if that takes no more than all others do."""
        column = self.reply.column
        if column and column.count == self.fewest and self.lean:
            return column.uses
        return self.least

    @property
    def lean(self) -> bool:
        """Whether its lockup takes no more of anything than any in the cell: then it serves for them all."""
        column = self.reply.column
        return column is not None and all(n <= self.least.get(thing, 0) for thing, n in column.uses.items())


def whole(pool: Pool, kind: int, way: int, changes: int) -> Cell | None:
    """Return the cell of all lockups of a way; ``None`` if there are none."""
    reply = pool.ask(way)
    if reply.column is None and reply.sure:
        return None
    return Cell(kind, way, changes, {}, pool.least(way), reply, reply.fewest)


def parted(pool: Pool, cell: Cell, thing: Thing) -> list[Cell]:
    """Part a cell in those that take as many of a thing as its lockup does, or more, and those that take fewer."""
    column = cell.reply.column
    assert column is not None
    used = column.uses[thing]
    more = replace(cell, least={**cell.least, thing: used})
    most = {**cell.most, thing: used - 1}
    reply = pool.ask(cell.way, most)
    if reply.column is None and reply.sure:
        return [more]
    return [more, replace(cell, most=most, reply=reply, fewest=max(cell.fewest, reply.fewest), tried=False)]


def tried_again(pool: Pool, cell: Cell) -> Cell | None:
    """Return a cell whose answer wasn't proved, with more effort spent on it; ``None`` if it holds nothing."""
    reply = pool.ask(cell.way, cell.most, _AGAIN)
    if reply.column is None and reply.sure:
        return None
    return replace(cell, reply=reply, fewest=max(cell.fewest, reply.fewest), tried=True)
