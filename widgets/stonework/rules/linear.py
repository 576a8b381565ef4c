"""A small linear question: the least of a sum, under equations, of numbers that aren't negative."""

from __future__ import annotations

from collections.abc import Sequence

_NEAR = 1e-9
_MOST_STEPS = 2000  # far more than any side takes
_NOTHING = 1e-12
_FIRM = 1e-7  # what is smaller isn't turned about


def least(costs: Sequence[float], rows: Sequence[Sequence[float]], right: Sequence[float]) -> float | None:
    """Return the least ``costs · x`` with ``rows · x = right`` and no x below 0; ``None`` if no x will do.

    Two-phase simplex. Bland's rule says what comes in; of what may go out alike, it turns about the largest number.
    The answer must be bounded. Meant for some dozens of numbers: the sides of a lockup.
    """
    table = [
        [*row, side] if side >= 0 else [*(-one for one in row), -side] for row, side in zip(rows, right, strict=True)
    ]
    wide, high = len(costs), len(table)
    # One helper to each row; all of them together must come down to nothing.
    for n, row in enumerate(table):
        row[wide:wide] = [float(n == m) for m in range(high)]
    basis = [wide + n for n in range(high)]
    helped = [-sum(column) for column in zip(*table, strict=True)]
    helped[wide : wide + high] = [0.0] * high
    _walk(table, helped, basis, wide + high)
    if helped[-1] < -1e-7:
        return None
    for n, one in enumerate(basis):  # a helper at nothing that is left makes room for a number of ours
        if one >= wide:
            column = next((c for c in range(wide) if abs(table[n][c]) > _NEAR), None)
            if column is not None:
                _pivot(table, helped, basis, n, column)
    goal = [*costs, *([0.0] * high), 0.0]
    for n, one in enumerate(basis):
        if one < wide and goal[one]:
            times = goal[one]
            goal = [mine - times * its for mine, its in zip(goal, table[n], strict=True)]
    _walk(table, goal, basis, wide)
    return -goal[-1]


def _walk(table: list[list[float]], goal: list[float], basis: list[int], columns: int) -> None:
    for _ in range(_MOST_STEPS):
        column = next((c for c in range(columns) if goal[c] < -_NEAR), None)
        if column is None:
            return
        steps = [
            (row[-1] / row[column], -row[column], basis[n], n) for n, row in enumerate(table) if row[column] > _FIRM
        ]
        if not steps:
            return
        # Of steps alike to rounding, the one that turns about the largest number: a tiny one would blow rounding up.
        least_step = min(steps)[0] + _NEAR
        _pivot(table, goal, basis, min(step[1:] for step in steps if step[0] <= least_step)[-1], column)


def _pivot(table: list[list[float]], goal: list[float], basis: list[int], n: int, column: int) -> None:
    by = table[n][column]
    table[n] = turning = [one / by for one in table[n]]
    for row in (*(row for m, row in enumerate(table) if m != n), goal):
        if times := row[column]:
            row[:] = [mine - times * its if its else mine for mine, its in zip(row, turning, strict=True)]
            row[:] = [one if abs(one) > _NOTHING else 0.0 for one in row]
    basis[n] = column
