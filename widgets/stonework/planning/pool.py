"""All that was asked of the chooser: for a way and a cabinet with less in it, the lockup of the fewest pieces.

Counted are pieces of wood and metal, in the block too. Quoins aren't, but one that its side asks for and that is
missing counts as a piece, as everywhere in ``choosing``.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from stonework.choosing import EFFORT
from stonework.choosing.building_up import outline_of
from stonework.choosing.laying import as_lockup
from stonework.choosing.question import ALL_CORNERS, Question
from stonework.choosing.reasons import obstacles
from stonework.choosing.search import Search
from stonework.choosing.stacks import PIECE
from stonework.form import Form
from stonework.lockup import CLEAR, UNBACKED, Intent, Lockup
from stonework.planning.task import Task, Way
from stonework.planning.things import Thing, limited, piece, things_of, uses_of
from stonework.shop import Material, Quoin, Shop

Limits = frozenset[tuple[Thing, int]]
NONE: Limits = frozenset()


@dataclass(frozen=True, eq=False)
class Column:
    """One lockup of a way: how many pieces it counts and what it takes from the shop."""

    way: int
    lockup: Lockup
    count: int
    uses: Mapping[Thing, int]


class Reply(NamedTuple):
    """The best lockup found, how many pieces none has fewer than, and, where there is none, whether that is sure."""

    column: Column | None
    fewest: int
    sure: bool

    @property
    def proved(self) -> bool:
        """Whether nothing has fewer pieces, or there is nothing."""
        return self.sure if self.column is None else self.column.count == self.fewest


@dataclass(frozen=True)
class Kind:
    """Tasks that differ in nothing but whose they are: who has them, and their ways by their numbers in the pool."""

    tasks: tuple[int, ...]
    ways: tuple[int, ...]


class Pool:
    """Ways, and what the chooser answered to each; ``stop`` is asked again and again whether to give up."""

    def __init__(self, tasks: Sequence[Task], shop: Shop, stop: Callable[[], bool] | None = None) -> None:
        self.shop, self.tasks, self.stop = shop, tasks, stop
        self.counted = things_of(shop)
        self.ways: list[Way] = []
        self._cuts: list[bool] = []  # for each way whether strips may be cut, and what is kept for last be used
        self._keeps: list[bool] = []
        self._held: list[frozenset[Material]] = []
        self._replies: dict[int, dict[Limits, tuple[int, Reply]]] = {}
        self.columns: dict[int, list[Column]] = {}
        self.unsure = False  # whether a way was given up, or taken with cut strips, without its being proved needed
        self.kinds: list[Kind] = []
        self.idle: list[int] = []  # tasks that can't be done here, even alone
        self._group()

    def _group(self) -> None:
        alike: dict[tuple[tuple[Way, ...], frozenset[Material]], list[int]] = {}
        for n, task in enumerate(self.tasks):
            alike.setdefault((task.ways, task.held), []).append(n)
        for (ways, held), tasks in alike.items():
            plain = [n for way in ways if not way.change for n in self._opened(way, held)]
            if plain:
                self.kinds.append(Kind(tuple(tasks), tuple(plain)))
            else:
                self.idle += tasks

    def changed(self, kind: Kind) -> tuple[int, ...]:
        """Take up the ways that change a job of a kind, and return their numbers."""
        task = self.tasks[kind.tasks[0]]
        others = [n for way in task.ways if way.change for n in self._opened(way, task.held)]
        return (*others, *self._cut(kind.ways))

    def _opened(self, way: Way, held: frozenset[Material]) -> list[int]:
        """Take up a way, with strips cut or worn wood only if the whole shop doesn't do without; none if it can't be.

        So strips are cut, and worn pieces used, where they would be for one person alone in the shop.
        """
        for cut, kept in ((False, False), (True, False), (True, True)):
            if (cut and not kept and not self._strips) or (kept and not self.shop.keep):
                continue
            n = self._add(way, held, cut, kept)
            reply = self.ask(n)
            if reply.column:
                return [n]
            self.unsure = self.unsure or not reply.sure
        return []

    @property
    def _strips(self) -> bool:
        return bool(self.shop.leads or self.shop.slugs)

    def _cut(self, plain: Sequence[int]) -> list[int]:
        """Return the ways again with strips cut, where they aren't yet: that is a change in the job."""
        if not self._strips:
            return []
        found = []
        for n in plain:
            if not self._cuts[n]:
                found.append(self._add(replace(self.ways[n], change="cut"), self._held[n], True, False))
        return found

    def _add(self, way: Way, held: frozenset[Material], cut: bool, kept: bool) -> int:
        self.ways.append(way)
        self._cuts.append(cut)
        self._keeps.append(kept)
        self._held.append(held)
        return len(self.ways) - 1

    def least(self, n: int) -> dict[Thing, int]:
        """Return what every lockup of a way takes: its chase, and the pieces of its block."""
        way = self.ways[n]
        found = {Thing("chase", way.chase.name): 1}
        if not isinstance(way.form, Form):
            for material in way.form.materials:
                found[piece(material)] = found.get(piece(material), 0) + 1
        return found

    def ask(self, n: int, most: Mapping[Thing, int] | Limits = NONE, effort: int = EFFORT) -> Reply:
        """Return the best lockup of a way that takes no more of some things than ``most`` says."""
        limits = frozenset((thing, m) for thing, m in dict(most).items() if m < self.counted[thing])
        known = self._known(n, dict(limits), effort)
        if known is None:
            known = self._asked(n, dict(limits), effort)
            self._replies.setdefault(n, {})[limits] = effort, known
            if known.column:
                self.columns.setdefault(n, []).append(known.column)
        return known

    def _known(self, n: int, most: dict[Thing, int], effort: int) -> Reply | None:
        """Return an answer that was given to the same question, or to another that settles it."""
        given = self._replies.get(n, {})
        same = given.get(frozenset(most.items()))
        if same and (same[1].proved or same[0] >= effort):
            return same[1]
        for limits, (_, reply) in given.items():
            if not reply.proved or any(thing not in most or most[thing] > m for thing, m in limits):
                continue  # it had less to choose from, or too little time
            if reply.column is None or all(reply.column.uses.get(thing, 0) <= m for thing, m in most.items()):
                return reply
        return None

    def _asked(self, n: int, most: dict[Thing, int], effort: int) -> Reply:
        way, held = self.ways[n], self._held[n]
        block = None if isinstance(way.form, Form) else way.form
        if block and any(m > most.get(thing, m) for thing, m in self.least(n).items()):
            return Reply(None, 0, True)
        shop, quoins = limited(self.shop, way.quoins, most, self.counted)
        shop = shop.without(m for m in held for _ in range(shop.pieces[m]))
        outline = outline_of(block) if block else way.form
        q = Question(
            outline, way.chase, shop.without(block.materials) if block else shop, quoins, way.target, way.tolerance,
            tuple(way.solid), CLEAR, UNBACKED, ALL_CORNERS, cut=self._cuts[n], kept=self._keeps[n],
        )  # fmt: skip
        if next(obstacles(q), None) is not None:
            return Reply(None, 0, True)
        search = Search(q, effort, self.stop)
        found = search.best()
        inside = len(block.pieces) if block else 0
        if found is None:
            return Reply(None, 0, search.exhausted)
        column = self._column(n, as_lockup(q, found), found.cost // PIECE + inside)
        return Reply(column, found.bound // PIECE + inside, True)

    def _column(self, n: int, lockup: Lockup, count: int) -> Column:
        way = self.ways[n]
        if not isinstance(way.form, Form):
            whole = way.form.outline
            lockup = replace(lockup, block=way.form.moved(lockup.form.x - whole.x, lockup.form.y - whole.y))
        job = replace(lockup.job, press=way.press)
        wish = Intent(*way.target, way.tolerance, way.sheet)
        lockup = replace(lockup, head=way.head, intent=wish, job=job)
        cut: set[Thing] = set()
        if self._cuts[n]:
            sides = (lockup.form.width, lockup.form.height)
            strips = (*self.shop.leads, *self.shop.slugs)
            cut = {piece(Material("lead", thick, side)) for thick in strips for side in sides}
        return Column(n, lockup, count, uses_of(lockup, self.counted, cut))


def patterns(shop: Shop, name: str = "") -> tuple[Quoin, ...]:
    """Return the patterns of quoin that may be taken: all of the shop's, or the one of a name."""
    return (shop.quoin(name),) if name else tuple(shop.quoins)
