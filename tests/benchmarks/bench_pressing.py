"""How long a state of a pressed form and a search for an order take, next to SciPy on the same model in the same run.

Run by hand: ``python tests/benchmarks/bench_pressing.py [states]``.
"""

from __future__ import annotations

import argparse
import random
import statistics
import sys
import time
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import NamedTuple

import numpy as np
from scipy import optimize
from stonework.pressing import MM, Bed, PressedForm, Spring
from stonework.tightening import Tightening

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from test_pressing import least_squares

MEASURED = """\
Ours: PressedForm.state. SciPy's Newton: optimize.minimize by “trust-exact” on the very energy, slopes and curvatures
that ours uses. SciPy's least squares: MINPACK on beds cut into 400 strips, as in the tests. All answer the same
seeded, invented forms and openings, in turn, the best of three runs. A search is one call of Tightening.best on the
first of those forms, four turns a quoin and nothing remembered, with its states worked out by each of the three.
"""


def some_form(chance: random.Random, quoins: int) -> PressedForm:
    """Return an invented form with so many quoins on the top and as many on the right."""
    width, height = chance.uniform(180, 540), chance.uniform(180, 540)
    springs = [
        Spring(side, at, 1500 * 3 ** chance.uniform(-1, 1))
        for side, length in (("top", width), ("right", height))
        for at in sorted(length * chance.uniform(-0.4, 0.4) for _ in range(quoins))
    ]
    beds = Bed("bottom", 30 * 3 ** chance.uniform(-1, 1)), Bed("left", 15 * 3 ** chance.uniform(-1, 1))
    return PressedForm(width, height, beds, tuple(springs))


# --- three ways to the skew, in points --------------------------------------------------------------------


def ours(form: PressedForm, openings: Sequence[float]) -> float:
    return form.state(openings).skew


def newton(form: PressedForm, openings: Sequence[float]) -> float:
    millimetres = [0.0, 0.0, *(opening * MM for opening in openings)]

    def energy(place: np.ndarray) -> tuple[float, np.ndarray]:
        here = form._balance(millimetres, place)
        return here.energy, np.array(here.slopes)

    def curvatures(place: np.ndarray) -> np.ndarray:
        here = form._balance(millimetres, place)
        (uu, vv), (uw, vw) = here.direct, here.mixed
        return np.array([[uu, 0, uw], [0, vv, vw], [uw, vw, here.turning]])

    found = optimize.minimize(
        energy, np.zeros(3), jac=True, hess=curvatures, method="trust-exact", options={"gtol": 1e-6}
    )
    return found.x[2] / form._radius * max(form.width, form.height)


def strips(form: PressedForm, openings: Sequence[float]) -> float:
    return least_squares(form, openings)[1] * max(form.width, form.height)


WAYS = {"ours": ours, "SciPy's Newton": newton, "SciPy's least squares": strips}


class Lie(NamedTuple):
    skew: float
    loose: bool = False


class Solved(NamedTuple):
    """A form whose states are worked out in one of the three ways."""

    form: PressedForm
    way: Callable[[PressedForm, Sequence[float]], float]

    @property
    def sides(self) -> tuple[str, ...]:
        return self.form.sides

    def state(self, openings: Sequence[float]) -> Lie:
        return Lie(self.way(self.form, openings))


# --- the clock --------------------------------------------------------------------------------------------


def seconds(run: Callable[[], object]) -> float:
    start = time.perf_counter()
    run()
    return time.perf_counter() - start


def compare(quoins: int, number: int) -> None:
    """Time so many states and one search by each way, and print a table."""
    chance = random.Random(quoins)
    forms = [some_form(chance, quoins) for _ in range(number)]
    taken: dict[str, list[float]] = {name: [] for name in WAYS}
    for form in forms:
        openings = [0.5 + 0.5 * chance.randint(0, 4) for _ in form.quoins]
        skews = [way(form, openings) for way in WAYS.values()]
        if max(skews) - min(skews) > 1e-3:
            sys.exit(f"They disagree on {form} opened by {openings}: {skews}. Run the tests first.")
        for name, way in WAYS.items():
            taken[name].append(min(seconds(partial(way, form, openings)) for _ in range(3)))
    searches = {name: seconds(Tightening(Solved(forms[0], way)).best) for name, way in WAYS.items()}
    median = {name: statistics.median(each) for name, each in taken.items()}
    print(f"{quoins} + {quoins} quoins, {5 ** (2 * quoins)} states a search")
    print(f"{'':<26}{'a state, µs':>12}{'slowest':>10}{'times ours':>12}{'a search, s':>14}{'times ours':>12}")
    for name in WAYS:
        state, slowest, times = 1e6 * median[name], 1e6 * max(taken[name]), median[name] / median["ours"]
        search, more = searches[name], searches[name] / searches["ours"]
        print(f"  {name:<24}{state:>12.0f}{slowest:>10.0f}{times:>12.1f}{search:>14.3f}{more:>12.1f}")
    print()


def main() -> None:
    parser = argparse.ArgumentParser(description="Time pressed forms and order searches next to SciPy.")
    parser.add_argument("states", nargs="?", type=int, default=100, help="how many random states (100)")
    number = parser.parse_args().states
    print(MEASURED)
    for quoins in (1, 2, 3):
        compare(quoins, number)


if __name__ == "__main__":
    main()
