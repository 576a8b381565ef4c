"""HiGHS, as far as planning needs it: whole numbers of things, rows that bind them, and the least of one sum.

It isn't among what a lesson needs, so it is loaded only when a plan is asked for.
"""

from __future__ import annotations

import importlib.util
import math
from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

_CLOSE = 1e-6  # how far from a whole number HiGHS may leave what must be one


class Solved(NamedTuple):
    """The best solution found, if any, its value, and what none can be less than; infinite if there is none."""

    values: list[int] | None
    value: float
    bound: float

    @property
    def none(self) -> bool:
        """Whether it is proved that there is no solution."""
        return math.isinf(self.bound)


def installed() -> bool:
    """Say whether HiGHS can be loaded."""
    return importlib.util.find_spec("highspy") is not None


class Program:
    """A sum to make least, over variables of whole numbers and rows that bind them."""

    def __init__(self) -> None:
        self._costs: list[float] = []
        self._most: list[float] = []
        self._rows: list[tuple[Mapping[int, float], float, float]] = []

    def variable(self, cost: float, most: float = math.inf) -> int:
        """Add a whole number from 0 on, and return which one it is."""
        self._costs.append(cost)
        self._most.append(most)
        return len(self._costs) - 1

    def row(self, terms: Mapping[int, float], low: float = -math.inf, high: float = math.inf) -> None:
        """Keep a weighted sum of variables between two limits."""
        self._rows.append((terms, low, high))

    def least(self, stop: Callable[[], bool] | None = None, nodes: int = 500, start: list[int] | None = None) -> Solved:
        """Look for the least sum through so many nodes, and not so many seconds, so that every machine finds the same.

        ``start`` is a solution that is known.
        """
        import highspy

        solver = self._passed(highspy, whole=True)
        solver.setOptionValue("mip_max_nodes", nodes)
        if start is not None:
            known = highspy.HighsSolution()
            known.col_value = [float(n) for n in start]
            solver.setSolution(known)
        if stop is not None:
            solver.cbMipInterrupt += lambda event: event.interrupt() if stop() else None
        solver.run()
        if solver.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
            return Solved(None, math.inf, math.inf)
        info = solver.getInfo()
        bound = max(0.0, info.mip_dual_bound) if math.isfinite(info.mip_dual_bound) else 0.0
        # Every cost is whole: so the least is too, and a bound a hair below it is rounding.
        bound = math.ceil(bound - _CLOSE)
        if info.primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
            return Solved(None, math.inf, bound)
        values = [round(value) for value in solver.getSolution().col_value]
        # Believed only if it keeps to every row: what is given out twice would be found out at the stone.
        return Solved(values if self._keeps(values) else None, info.objective_function_value, bound)

    def _keeps(self, values: list[int]) -> bool:
        sums = ((sum(by * values[n] for n, by in terms.items()), low, high) for terms, low, high in self._rows)
        return all(low - _CLOSE <= total <= high + _CLOSE for total, low, high in sums)

    def prices(self) -> list[float]:
        """Return for each row by how much the least sum, were parts allowed, would fall if its limit were one more."""
        import highspy

        solver = self._passed(highspy, whole=False)
        solver.run()
        return [max(0.0, -price) for price in solver.getSolution().row_dual]

    def _passed(self, highspy: Any, *, whole: bool) -> Any:
        """Return a solver to which the program was passed."""
        import numpy as np

        lp = highspy.HighsLp()
        lp.num_col_, lp.num_row_ = len(self._costs), len(self._rows)
        lp.col_cost_, lp.col_upper_ = np.array(self._costs, float), np.array(self._most, float)
        lp.col_lower_ = np.zeros(lp.num_col_)
        if whole:
            lp.integrality_ = [highspy.HighsVarType.kInteger] * lp.num_col_
        lp.row_lower_ = np.array([low for _, low, _ in self._rows], float)
        lp.row_upper_ = np.array([high for *_, high in self._rows], float)
        matrix = lp.a_matrix_
        matrix.format_, matrix.num_col_, matrix.num_row_ = highspy.MatrixFormat.kRowwise, lp.num_col_, lp.num_row_
        matrix.start_ = np.cumsum([0, *(len(terms) for terms, *_ in self._rows)])
        matrix.index_ = np.array([n for terms, *_ in self._rows for n in terms], dtype=np.int32)
        matrix.value_ = np.array([by for terms, *_ in self._rows for by in terms.values()], float)
        solver = _quiet(highspy)
        solver.passModel(lp)
        return solver


def _quiet(highspy: Any) -> Any:
    """Return a solver that prints nothing: else its name would stand in the page."""

    class Quiet(highspy.Highs):
        def enableCallbacks(self) -> None:
            self.setOptionValue("output_flag", False)
            super().enableCallbacks()

    solver = Quiet()
    solver.setOptionValue("random_seed", 1)
    solver.setOptionValue("mip_rel_gap", 0.0)
    return solver
