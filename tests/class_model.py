"""A class at one cabinet stated once more, for OR-tools' CP-SAT: a proof to test planning against.

Every person's lockup is one of the family as ``lockup_model`` states it; all of a shift share its chases, quoins and
pieces. It shares nothing with ``stonework.planning``.
"""

from __future__ import annotations

import time
from collections.abc import Iterator, Sequence
from itertools import product
from typing import TYPE_CHECKING, NamedTuple

from lockup_model import (
    ACROSS,
    NEIGHBOURS,
    SEED,
    UP,
    WAYS,
    WORKERS,
    QuoinSide,
    Side,
    cabinet,
    hundredths,
    pattern_of,
    total,
)
from lockup_model import MOST as MOST_ON_A_SIDE
from lockup_model import Model as One
from ortools.sat.python import cp_model

if TYPE_CHECKING:
    from stonework.form import Form
    from stonework.shop.things import Chase, Shop

Best = tuple[int, int, int]
"""Shifts, the most pieces that one person handles, and all pieces: what is compared, in this order."""


class Wanted(NamedTuple):
    """One person's form: its chase and where it is wanted there, in points."""

    form: Form
    chase: Chase
    target: tuple[float, float]
    tolerance: float
    solid: tuple[str, str]


class Person(One):
    """One person's lockup in a model that others share: what it takes, and how many pieces it counts."""

    def __init__(self, cp: cp_model.CpModel, wanted: Wanted, shop: Shop, clear: float = 3.0, bare: float = 6.0) -> None:
        self.cp, self.sizes, self.patterns = cp, cabinet(shop), [pattern_of(quoin) for quoin in shop.quoins]
        self.clear, self.unbacked = hundredths(clear), hundredths(bare)
        self.iron = max(self.clear, hundredths(wanted.chase.clear_corners))
        width, height = hundredths(wanted.form.width), hundredths(wanted.form.height)
        self.length = {"bottom": width, "top": width, "left": height, "right": height}
        off = hundredths(wanted.tolerance)
        self.gap, self.least_gap, self.most_gap = {}, {}, {}
        spares = hundredths(wanted.chase.width) - width, hundredths(wanted.chase.height) - height
        for (low, high), spare, aim in zip((UP, ACROSS), spares, map(hundredths, wanted.target), strict=True):
            at = cp.new_int_var(aim - off, aim + off, "")
            self.gap |= {low: at, high: spare - at}
            self.least_gap |= {low: max(0, aim - off), high: max(0, spare - aim - off)}
            self.most_gap |= {low: max(0, aim + off), high: max(0, spare - aim + off)}
        self.corners = {corner: {way: cp.new_bool_var("") for way in WAYS} for corner in product(ACROSS, UP)}
        for literals in self.corners.values():
            cp.add_exactly_one(literals.values())
        rows = [QuoinSide(self, name) for name in NEIGHBOURS if name not in wanted.solid]
        sides = [*rows, *(Side(self, name, solid=True) for name in wanted.solid)]
        uses = [each for side in sides for each in side.uses]
        for side in sides:
            cp.add(sum(total(each, lambda one: one.price) for each in side.uses) <= MOST_ON_A_SIDE)
        self.taken = [sum(total(each, lambda one, s=s: one.pieces.count(s)) for each in uses) for s in self.sizes]
        self.quoins = [sum(k * on for side in rows for p, k, _, on in side.rows if p is one) for one in self.patterns]
        missing = sum(side.missing for side in rows)
        self.count = sum(total(each, lambda one: one.price) for each in uses) + missing

    def limits(self) -> Iterator[tuple[cp_model.LinearExprT, int]]:
        """Yield what is taken of everything that is counted, and how many there are."""
        yield from zip(self.taken, (size.count for size in self.sizes), strict=True)
        yield from ((n, one.count) for n, one in zip(self.quoins, self.patterns, strict=True) if one.count is not None)


def best(people: Sequence[Wanted], shop: Shop, limit: float = 60.0) -> tuple[Best | None, bool]:
    """Return what the best plan comes to, and whether that is proved; ``None`` if someone can't be served at all."""
    for shifts in range(1, len(people) + 1):
        found, proved = _in_shifts(people, shop, shifts, limit)
        if found or not proved:
            return found, proved
    return None, True


def _in_shifts(people: Sequence[Wanted], shop: Shop, shifts: int, limit: float) -> tuple[Best | None, bool]:
    cp = cp_model.CpModel()
    persons = [Person(cp, wanted, shop) for wanted in people]
    when = [[cp.new_bool_var("") for _ in range(shifts)] for _ in people]
    for literals in when:
        cp.add_exactly_one(literals)
    for shift in range(shifts):
        for chase in shop.chases:
            mine = [on[shift] for on, wanted in zip(when, people, strict=True) if wanted.chase.name == chase.name]
            cp.add(sum(mine) <= chase.count)
        for each in zip(*(person.limits() for person in persons), strict=True):
            there = each[0][1]
            taken = []
            for (used, _), on in zip(each, when, strict=True):
                now = cp.new_int_var(0, there, "")
                cp.add(now == used).only_enforce_if(on[shift])
                taken.append(now)
                if shift == 0:
                    cp.add(used <= there)
            cp.add(sum(taken) <= there)
    largest = cp.new_int_var(0, 100, "")
    for person in persons:
        cp.add(person.count <= largest)
    values, end = [shifts], time.monotonic() + limit
    for goal in (largest, sum(person.count for person in persons)):
        cp.minimize(goal)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers, solver.parameters.random_seed = WORKERS, SEED
        solver.parameters.max_time_in_seconds = max(0.0, end - time.monotonic())
        status = solver.solve(cp)
        if status == cp_model.INFEASIBLE and len(values) == 1:
            return None, True
        if status != cp_model.OPTIMAL:
            return None, False
        values.append(round(solver.objective_value))
        cp.add(goal == values[-1])
    return (values[0], values[1], values[2]), True
