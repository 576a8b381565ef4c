"""The way to the best plan: a bound by cells, plans by lockups, until they meet.

The bound chooses one cell for each person, at the least that any lockup in it takes: no plan can be below that. Where
the lockups of the chosen cells take more of a thing together than there is, one of the cells is parted. Meanwhile
lockups are sought in what a plan leaves in the cabinet, and the best plan of all lockups found so far is made of them.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from stonework.choosing import QUICK, Stopped
from stonework.planning.cells import Cell, parted, tried_again, whole
from stonework.planning.filling import Entry, Filling
from stonework.planning.packing import Choice, Packed, Packing
from stonework.planning.plan import Given, Plan, Score
from stonework.planning.pool import Column, Pool
from stonework.planning.things import Thing

_PATIENCE = 30  # rounds in which neither plan nor bound gets better, before the search ends
_AT_ONCE = 12  # cells parted in a round
_TRIED = 4  # things by which a cell is parted for a try
_ALL = 10**6  # more pieces than anything has
_LOOSE = 7  # people whose lockups are sought anew together
_HASTE = 2 * QUICK
_STEPS = 3  # lockups are sought without the dearest thing, without the dearest third and two thirds


class Planner:
    """Plans one class. ``borrow`` lets things be had beyond those of the shop, ``change`` jobs be changed.

    Shifts are as few as can be; with what is borrowed it is one. Then the fewest things borrowed, or changes, count.
    """

    def __init__(
        self, pool: Pool, *, borrow: bool = False, change: bool = False, stop: Callable[[], bool] | None = None
    ) -> None:
        self._pool, self._stop, self._free = pool, stop, borrow or change
        self._many = [len(kind.tasks) for kind in pool.kinds]
        self._borrow, self._change = borrow, change
        self._changed: list[tuple[int, ...]] = [() for _ in pool.kinds]
        beds = {Thing("chase", chase.name) for chase in pool.shop.chases if chase.bed}  # no one lends a press
        lent = {thing for thing in pool.counted if borrow and thing not in beds}
        self._filling = Filling(pool, self._changed, {thing for thing in lent if not thing.piece})
        counts = [quoin.count for quoin in pool.shop.quoins]
        quoins = None if None in counts or borrow else sum(filter(None, counts))
        self._packing = Packing(self._many, pool.counted, lent, quoins)
        self._cells: list[Cell] = []
        self._random = random.Random(1)
        self.entries: list[Entry] | None = None
        self.bound = Score(1, 0, 0, 0)
        self._packed = 0  # lockups known when the last plan was made of them
        self.impossible = False

    # --- the whole ------------------------------------------------------------------------------------------

    def run(self) -> Iterator[Plan | None]:
        """Yield the best plan so far, again and again, ``None`` before the first; the last is the best found."""
        done = False
        try:
            yield from self._rounds()
            done = True
        except Stopped:
            pass
        yield self._plan(done)

    def _rounds(self) -> Iterator[Plan | None]:
        if self._change:
            self._changed[:] = (self._pool.changed(kind) for kind in self._pool.kinds)
        for n, kind in enumerate(self._pool.kinds):
            ways = [(way, 0) for way in kind.ways] + [(way, 1) for way in self._changed[n]]
            self._cells += filter(None, (whole(self._pool, n, way, changes) for way, changes in ways))
        if not self._many:
            return
        if not self._borrow:  # any plan at once, of lockups that are known
            everyone = [(n, None, None) for n, many in enumerate(self._many) for _ in range(many)]
            self._take(self._filling.filled([], everyone, 1, len(everyone), known=True))
        stale, before = 0, None
        patience = _PATIENCE // 3 if self._free else _PATIENCE  # advice comes after the plan, and is waited for
        while stale < patience and not self._met and not self.impossible:
            stuck = self._raise_bound()
            if self.impossible:
                return
            if stuck is not None:
                self._seek()
            now = self.score, self.bound
            stale = 0 if now != before else stale + 1
            before = now
            yield self._plan(False)
            if stuck and stale > _PATIENCE // 3:
                return

    @property
    def score(self) -> Score | None:
        """The score of the best plan so far."""
        return None if self.entries is None else self._scored(self.entries)

    @property
    def _met(self) -> bool:
        score = self.score
        return score is not None and score <= self.bound

    def _scored(self, entries: Sequence[Entry]) -> Score:
        counts, shifts = [entry.column.count for entry in entries], 1 + max(entry.shift for entry in entries)
        lacking = sum(self.lacking(entries).values()) if self._borrow else 0
        changes = sum(entry.column.way in self._changed[entry.kind] for entry in entries)
        if self._free:  # what is borrowed or changed is all that counts
            return Score(shifts, lacking + changes, 0, 0)
        return Score(shifts, 0, max(counts), sum(counts))

    def lacking(self, entries: Sequence[Entry]) -> Counter[Thing]:
        """Return what entries take together beyond what is there."""
        used: Counter[Thing] = Counter()
        for entry in entries:
            used.update(entry.column.uses)
        return used - self._pool.counted

    def _take(self, entries: list[Entry] | None) -> None:
        if entries is not None and (self.entries is None or self._scored(entries) < self._scored(self.entries)):
            self.entries = entries

    # --- the bound ------------------------------------------------------------------------------------------

    def _raise_bound(self) -> bool | None:
        """Choose cells, and part some where their lockups take too much; say whether there is nothing left to part.

        ``None`` says that more shifts are needed than was known.
        """
        choices = [Choice(cell.kind, cell.fewest, cell.demand, cell.changes) for cell in self._cells]
        packed = self._packing.best(choices, self.bound.shifts, self.bound.largest, self._stop)
        if packed.impossible:
            if self._borrow or self.bound.shifts >= sum(self._many):
                self.impossible = True
            else:
                self.bound = Score(self.bound.shifts + 1, 0, 0, 0)
            return None
        largest, pieces = (0, 0) if self._free else (packed.largest, packed.pieces)
        bound = Score(self.bound.shifts, packed.extra, largest, pieces)
        self.bound = max(self.bound, bound)
        self._filling.enough = self.bound.largest
        if packed.chosen is None:
            return True
        over = self._overdrawn(packed)
        if not over:
            if packed.split:
                chosen = [self._cells[n] for n, _ in packed.chosen]
                if all(cell.reply.column for cell in chosen):
                    self._take(
                        [Entry(c.kind, s, c.reply.column) for c, (_, s) in zip(chosen, packed.chosen, strict=True)]
                    )
            if self._met:
                return False
            again = {n for n, _ in packed.chosen if not self._cells[n].reply.proved and not self._cells[n].tried}
            for n in sorted(again, reverse=True):
                self._cells[n : n + 1] = filter(None, [tried_again(self._pool, self._cells[n])])
            self._seek_from(packed)
            return not again
        self._seek_from(packed)
        for n, things in sorted(over.items(), reverse=True):
            ways = (parted(self._pool, self._cells[n], thing) for thing in things)
            # What raises the bound most: the other part holds nothing, or only lockups of more pieces.
            self._cells[n : n + 1] = max(ways, key=lambda cells: cells[1].fewest if len(cells) > 1 else _ALL)
        return False

    def _overdrawn(self, packed: Packed) -> dict[int, list[Thing]]:
        """Return which cells to part, each by one of some things of which its lockup takes more than it counted for."""
        used: dict[tuple[Thing, int], int] = {}
        takers: dict[tuple[Thing, int], list[int]] = {}
        counted: dict[tuple[Thing, int], int] = {}
        for n, shift in packed.chosen or ():
            cell = self._cells[n]
            demand = cell.demand
            for thing, k in (cell.reply.column.uses if cell.reply.column else demand).items():
                used[thing, shift] = used.get((thing, shift), 0) + k
                counted[thing, shift] = counted.get((thing, shift), 0) + demand.get(thing, 0)
                if k > demand.get(thing, 0):
                    takers.setdefault((thing, shift), []).append(n)
        times = 1 if packed.split else self.bound.shifts
        excess = {}
        for where, k in used.items():
            # What is borrowed for what the cells count anyway is in the bound already.
            more = k - max(times * self._pool.counted[where[0]], counted[where])
            if more > 0:
                excess[where] = more
        found: dict[int, list[Thing]] = {}
        for where in sorted(excess, key=lambda where: (-excess[where], where)):
            for n in sorted(set(takers[where])):
                if n in found or len(found) < _AT_ONCE:
                    things = found.setdefault(n, [])
                    if where[0] not in things and len(things) < _TRIED:
                        things.append(where[0])
        return found

    # --- plans ----------------------------------------------------------------------------------------------

    def _seek_from(self, packed: Packed) -> None:
        """Make a plan near chosen cells: their lockups as far as they go together, the others in what is left."""
        if self.entries and (self._free or 1 + max(entry.shift for entry in self.entries) <= self.bound.shifts):
            return
        people = []
        for n, shift in packed.chosen or ():
            column = self._cells[n].reply.column
            people.append((self._cells[n].kind, shift if packed.split else None, column))
        shifts = self.bound.shifts
        self._take(
            self._filling.filled([], people, shifts, shifts if self.entries or self._borrow else sum(self._many))
        )

    def _seek(self) -> None:
        """Look for a better plan: lockups without what is short, the best of all known, and some people's anew."""
        if self._met or self.impossible:
            return
        known = sum(map(len, self._pool.columns.values()))
        choices = self._columns()
        self._ask_dearly(choices)
        if sum(map(len, self._pool.columns.values())) > known or self._packed != known or self.entries is None:
            self._pack()
        elif not self._free:
            self._loosen(self.entries)
        self._packed = sum(map(len, self._pool.columns.values()))

    def _ways(self, kind: int) -> tuple[int, ...]:
        """Return the ways of a kind: those that change nothing, then the others."""
        return (*self._pool.kinds[kind].ways, *self._changed[kind])

    def _columns(self) -> list[tuple[Choice, Column]]:
        """Return all lockups known that no other makes needless."""
        found = []
        for n in range(len(self._many)):
            for way in self._ways(n):
                for column in _undominated(self._pool.columns.get(way, [])):
                    found.append((Choice(n, column.count, column.uses, way in self._changed[n]), column))
        return found

    def _ask_dearly(self, known: Sequence[tuple[Choice, Column]]) -> None:
        """Ask for lockups without the things that are short: without the dearest first, then without more of them."""
        prices = self._packing.prices([choice for choice, _ in known], self.bound.shifts)
        prices = {thing: price for thing, price in prices.items() if thing.piece}
        levels = sorted(set(prices.values()))
        for at in sorted({(len(levels) * n - 1) // _STEPS for n in range(1, _STEPS + 1)} - {-1}, reverse=True):
            dear = {thing: 0 for thing, price in prices.items() if price >= levels[at]}
            for kind in range(len(self._many)):
                for way in self._ways(kind):
                    block = self._pool.least(way)
                    self._pool.ask(way, {t: block.get(t, 0) for t in dear}, _HASTE)

    def _pack(self) -> None:
        """Make the best plan of all lockups known."""
        known = self._columns()
        choices, columns = [choice for choice, _ in known], [column for _, column in known]
        packed = self._packing.best(choices, self.bound.shifts, self.bound.largest, self._stop)
        if packed.chosen is None:
            return
        if packed.split:
            self._take([Entry(choices[n].kind, shift, columns[n]) for n, shift in packed.chosen])
        else:
            people = [(choices[n].kind, None, columns[n]) for n, _ in packed.chosen]
            self._take(self._filling.filled([], people, self.bound.shifts, self.bound.shifts))

    def _loosen(self, entries: Sequence[Entry]) -> None:
        """Take back the lockups of some people, those with more pieces than need be first, and seek them anew."""
        fewest = {
            n: min(cell.fewest for cell in self._cells if cell.kind == n and not cell.changes)
            for n in range(len(self._many))
        }
        more = [entry for entry in entries if entry.column.count > fewest[entry.kind]]
        last = max(entry.shift for entry in entries)
        if last + 1 > self.bound.shifts:
            more = [entry for entry in entries if entry.shift == last]
        if not more:
            return
        worst = self._random.choice(sorted(more, key=lambda entry: -entry.column.count)[: max(1, len(more) // 2)])
        near = [entry for entry in entries if entry is not worst]
        if last + 1 <= self.bound.shifts:
            near = [entry for entry in near if entry.shift == worst.shift] or near
        loose = [worst, *self._random.sample(near, min(len(near), _LOOSE - 1))]
        kept = [entry for entry in entries if not any(entry is one for one in loose)]
        if last + 1 > self.bound.shifts:
            loose, kept = more[:1] + [e for e in loose if e is not more[0]], [e for e in kept if e is not more[0]]
        shifts = max(self.bound.shifts, last + 1)
        self._take(self._filling.filled(kept, [(entry.kind, None, None) for entry in loose], shifts, shifts))

    # --- the way back to the class --------------------------------------------------------------------------

    def _plan(self, done: bool) -> Plan | None:
        if self.entries is None:
            return None
        people = {n: iter(kind.tasks) for n, kind in enumerate(self._pool.kinds)}
        given = {}
        order = self._order(self.entries)
        for entry in sorted(self.entries, key=lambda entry: (order[entry.shift], entry.column.count)):
            task, column = next(people[entry.kind]), entry.column
            who, way = self._pool.tasks[task], self._pool.ways[column.way]
            lockup = replace(column.lockup, job=replace(column.lockup.job, name=who.job, hand=who.name))
            given[task] = Given(who, order[entry.shift], way, lockup, column.count, column.uses)
        score = self._scored(self.entries)
        return Plan(
            tuple(given[task] for task in sorted(given)),
            score,
            min(self.bound, score),
            self._pool.counted,
            tuple(self._pool.tasks[n] for n in self._pool.idle),
            self._pool.unsure,
            done,
            self.lacking(self.entries) if self._borrow else {},
        )

    def _order(self, entries: Sequence[Entry]) -> dict[int, int]:
        """Return when each shift comes: one is as good as another, so those with much that is late come last."""
        late: Counter[int] = Counter()
        for entry in entries:
            late[entry.shift] += self._pool.tasks[self._pool.kinds[entry.kind].tasks[0]].late
        return {shift: n for n, shift in enumerate(sorted(late, key=lambda shift: (late[shift], shift)))}


def _undominated(columns: Sequence[Column]) -> list[Column]:
    """Return the lockups of a way beside which no other has as few pieces and takes no more of anything."""
    found: list[Column] = []
    for column in sorted(columns, key=lambda one: one.count):
        if not any(all(n <= column.uses.get(thing, 0) for thing, n in one.uses.items()) for one in found):
            found.append(column)
    return found
