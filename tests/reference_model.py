"""The choice of a lock-up stated once more, for the CP-SAT solver of OR-tools: a proof to test against.

It shares nothing with ``stonework.choosing``. Lengths are whole hundredths of a point. Positions along a side
count from the form's corner at the side's low end (left or bottom) and are doubled, so that a row of quoins,
or a piece centred on an odd length, still starts on a whole number.
"""

from __future__ import annotations

from dataclasses import dataclass

from cases import Case
from ortools.sat.python import cp_model

Optimum = tuple[int, int, int, int]
"""Pieces of wood, |x error| + |y error|, sum of |opening - rest|, total length of wood."""

SIDES = ("left", "bottom", "right", "top")
MOST_OF_A_SIZE = 12
WORKERS = 1

# Is a side blocked at its low end, and at its high end?
BLOCKED: dict[str, dict[str, tuple[bool, bool]]] = {
    "pinwheel-clockwise": {
        "left": (True, False), "bottom": (False, True), "right": (False, True), "top": (True, False),
    },
    "pinwheel-anticlockwise": {
        "left": (False, True), "bottom": (True, False), "right": (True, False), "top": (False, True),
    },
    "top-and-bottom-through": {
        "left": (True, True), "bottom": (False, False), "right": (True, True), "top": (False, False),
    },
    "left-and-right-through": {
        "left": (False, False), "bottom": (True, True), "right": (False, False), "top": (True, True),
    },
}  # fmt: skip


@dataclass(frozen=True)
class Size:
    """One size of wood and how many the cabinet holds."""

    kind: str
    thickness: int
    length: int
    count: int


class Problem:
    """A case in whole hundredths of a point, its defaults filled in."""

    def __init__(self, case: Case) -> None:
        options, form, chase = case.options, case.form, case.chase
        quoin = options.get("quoin") or case.shop.quoins[0]
        target = options.get("target") or ((chase.width - form.width) / 2, (chase.height - form.height) / 2)
        self.form = hundredths(form.width), hundredths(form.height)
        self.chase = hundredths(chase.width), hundredths(chase.height)
        self.target = hundredths(target[0]), hundredths(target[1])
        self.tolerance = hundredths(options.get("tolerance", 6.0))
        self.clear = hundredths(options.get("clear", 3.0))
        self.unbacked = hundredths(options.get("unbacked", 6.0))
        self.solid = frozenset(options.get("solid", ("bottom", "left")))
        only = options.get("arrangement")
        self.arrangements = [only] if only else list(BLOCKED)
        self.sizes = [
            Size(size.kind, hundredths(size.thickness), hundredths(size.length), count)
            for size, count in case.shop.stock.items()
        ]
        self.quoin_length, self.quoin_gap = hundredths(quoin.length), hundredths(quoin.gap)
        self.span = hundredths(quoin.span)
        self.closed, self.rest = hundredths(quoin.closed), hundredths(quoin.rest)
        self.most_open = hundredths(quoin.travel) - hundredths(quoin.reserve)

    def along(self, side: str) -> int:
        """Return the form's dimension along a side."""
        return self.form[0] if side in ("bottom", "top") else self.form[1]


def hundredths(points: float) -> int:
    """Return a length in points as the nearest whole number of hundredths."""
    return round(100 * points)


def row_of_quoins(problem: Problem, side: str, blocked: tuple[bool, bool]) -> tuple[int, int] | None:
    """Return where the row on a side starts and ends, doubled, or None if the side is too short."""
    s = problem.along(side)
    for quoins in range(-(-s // problem.span), 0, -1):
        length = quoins * problem.quoin_length + (quoins - 1) * problem.quoin_gap
        centred = s - length  # where the row starts, doubled, as are the next two
        least, most = centred - s // 3, centred + s // 3  # a sixth of the side either way
        if blocked[0]:
            least = max(least, 2 * problem.clear)
        if blocked[1]:
            most = min(most, 2 * (s - problem.clear - length))
        if least <= most:
            start = max(least, min(centred, most))
            return start, start + 2 * length
    return None


class Model:
    """One arrangement of the corners as a CP-SAT model, with what is to be least in its order."""

    def __init__(self, problem: Problem, arrangement: str) -> None:
        self.problem = problem
        self.cp = cp_model.CpModel()
        self.place = [
            self.cp.new_int_var(target - problem.tolerance, target + problem.tolerance, axis)
            for axis, target in zip("xy", problem.target, strict=True)
        ]
        x, y = self.place
        self.gap = {
            "left": x,
            "bottom": y,
            "right": problem.chase[0] - problem.form[0] - x,
            "top": problem.chase[1] - problem.form[1] - y,
        }
        self.counts = {side: self._counts(side, BLOCKED[arrangement][side]) for side in SIDES}
        openings = [self._fill(side) for side in SIDES]
        for i, size in enumerate(problem.sizes):
            self.cp.add(sum(on[i] for on in self.counts.values() if i in on) <= size.count)
        self.objectives = (
            sum(n for on in self.counts.values() for n in on.values()),
            sum(self._distance(at, to) for at, to in zip(self.place, problem.target, strict=True)),
            sum(self._distance(opening, problem.rest) for opening in openings if opening is not None),
            sum(problem.sizes[i].length * n for on in self.counts.values() for i, n in on.items()),
        )

    def _counts(self, side: str, blocked: tuple[bool, bool]) -> dict[int, cp_model.IntVar]:
        """Return how many of each size lie on a side, by index, for the sizes that reach as they should."""
        p = self.problem
        s, clear = 2 * p.along(side), 2 * p.clear
        first, last = 2 * p.unbacked, s - 2 * p.unbacked  # every piece starts by the one, ends past the other
        if side not in p.solid:
            row = row_of_quoins(p, side, blocked)
            if row is None:
                return {}
            first, last = min(first, row[0]), max(last, row[1])
        low, high = ("left", "right") if side in ("bottom", "top") else ("bottom", "top")
        if blocked == (False, False):
            self.cp.add(clear - 2 * self.gap[low] <= first)
            self.cp.add(s + 2 * self.gap[high] - clear >= last)
        across = p.chase[0] if side in ("bottom", "top") else p.chase[1]

        counts = {}
        for i, size in enumerate(p.sizes):
            length = 2 * size.length
            runs_into, room = None, 0  # the gap it runs into from its blocked end, and the room it needs there
            if blocked == (True, True):
                start = (s - length) // 2
                reaches = clear <= start <= first and start + length >= last
            elif blocked == (True, False):
                reaches = clear <= first and clear + length >= last
                runs_into, room = high, clear + length + clear - s
            elif blocked == (False, True):
                reaches = s - clear >= last and s - clear - length <= first
                runs_into, room = low, clear + length + clear - s
            else:
                reaches = last - first <= length <= 2 * across - 2 * clear
            if not reaches:
                continue
            counts[i] = self.cp.new_int_var(0, min(MOST_OF_A_SIZE, size.count), f"{side} {size}")
            if runs_into:
                used = self.cp.new_bool_var("")
                self.cp.add(2 * self.gap[runs_into] >= room).only_enforce_if(used)
                self.cp.add(counts[i] == 0).only_enforce_if(~used)
        return counts

    def _fill(self, side: str) -> cp_model.IntVar | None:
        """Make a side's wood fill its gap, and return the opening of its quoins if it has any."""
        p, on = self.problem, self.counts[side]
        thickness = sum(p.sizes[i].thickness * n for i, n in on.items())
        if side in p.solid:
            self.cp.add(sum(on.values()) >= 1)
            self.cp.add(thickness == self.gap[side])
            return None
        # Of a quoin side's pieces, any two reglets can be the bearing one and the one at the chase.
        self.cp.add(sum(n for i, n in on.items() if p.sizes[i].kind == "reglet") >= 2)
        opening = self.cp.new_int_var(0, max(0, p.most_open), f"opening {side}")
        self.cp.add(opening <= p.most_open)
        self.cp.add(thickness + p.closed + opening == self.gap[side])
        return opening

    def _distance(self, at: cp_model.IntVar, to: int) -> cp_model.IntVar:
        distance = self.cp.new_int_var(0, cp_model.INT32_MAX, "")
        self.cp.add_abs_equality(distance, at - to)
        return distance

    def least(self, objective: int, at_most: int | None) -> int | None:
        """Return the least value of an objective, or None if it can't be had within ``at_most``."""
        expression = self.objectives[objective]
        if at_most is not None:
            self.cp.add(expression <= at_most)
        self.cp.minimize(expression)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = WORKERS
        solver.parameters.random_seed = 1
        status = solver.solve(self.cp)
        if status == cp_model.INFEASIBLE:
            return None
        assert status == cp_model.OPTIMAL, solver.status_name(status)
        self.cp.clear_hints()
        for i, value in enumerate(solver.response_proto.solution):
            self.cp.add_hint(self.cp.get_int_var_from_proto_index(i), value)
        return round(solver.objective_value)


def optimum(case: Case) -> Optimum | None:
    """Return the best that any arrangement gives, one objective after the other, or None if none fits."""
    problem = Problem(case)
    models = [Model(problem, arrangement) for arrangement in problem.arrangements]
    best: list[int] = []
    for objective in range(4):
        least: int | None = None
        values = []
        for model in models:
            value = model.least(objective, least)
            values.append(value)
            least = value if value is not None else least
        if least is None:
            return None
        models = [model for model, value in zip(models, values, strict=True) if value == least]
        for model in models:
            model.cp.add(model.objectives[objective] == least)
        best.append(least)
    return tuple(best)
