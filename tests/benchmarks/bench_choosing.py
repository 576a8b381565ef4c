"""How long choosing a lockup takes, next to CP-SAT on the same cases in the same run.

Run by hand: ``python tests/benchmarks/bench_choosing.py [cases]``.
"""

from __future__ import annotations

import argparse
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

from stonework.choosing import NoLockup, choose_lockup

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from cases import Case, random_case
from reference_model import optimum

FULLER = 10
HEADING = f"{'milliseconds':<32}{'median':>10}{'90th of 100':>14}{'slowest':>10}"
MEASURED = f"""\
Ours: one whole call of choose_lockup, the best of three after a warm-up. CP-SAT: the models of
tests/reference_model.py built and solved to the proven optimum with one worker, once, as it takes so long.
Both answer the same seeded cases in turn, half with an ample cabinet and half with a scarce one; finding that
nothing fits is an answer too. “Fuller” is the same cases with {FULLER} times as many of every size.
"""


def ours(case: Case) -> bool:
    """Choose a lockup; say whether there is one."""
    try:
        choose_lockup(case.form, case.chase, case.shop, **case.options)
    except NoLockup:
        return False
    return True


def theirs(case: Case) -> bool:
    """Solve the reference model; say whether there is a lockup."""
    return optimum(case) is not None


def timed(answer: Callable[[Case], bool], case: Case, times: int = 1) -> tuple[bool, float]:
    """Return the answer and the least seconds of so many runs."""
    seconds = []
    for _ in range(times):
        start = time.perf_counter()
        found = answer(case)
        seconds.append(time.perf_counter() - start)
    return found, min(seconds)


def row(name: str, seconds: list[float]) -> str:
    ninetieth = statistics.quantiles(seconds, n=10, method="inclusive")[-1]
    median, ninetieth, slowest = (1000 * s for s in (statistics.median(seconds), ninetieth, max(seconds)))
    return f"{name:<32}{median:>10.1f}{ninetieth:>14.1f}{slowest:>10.1f}"


def compare(cases: list[Case], name: str) -> float:
    """Time both on the same cases, print the table, and return our median in seconds."""
    mine, reference = [], []
    for case in cases:
        ours(case)
        fits, seconds = timed(ours, case, 3)
        mine.append((fits, seconds))
        found, seconds = timed(theirs, case)
        reference.append((found, seconds))
        if found != fits:
            sys.exit(f"Seed {case.seed}, {name}: only one of the two found a lockup. Run the tests first.")
    print(f"{name}\n{HEADING}")
    for which, wanted in (("all", (True, False)), ("with a lockup", (True,))):
        some_mine = [seconds for fits, seconds in mine if fits in wanted]
        some_reference = [seconds for fits, seconds in reference if fits in wanted]
        if len(some_mine) < 2:
            continue
        print(row(f"  ours, {which} ({len(some_mine)})", some_mine))
        print(row(f"  CP-SAT, {which}", some_reference))
        ratio = statistics.median(some_reference) / statistics.median(some_mine)
        print(f"  At the median CP-SAT takes {ratio:.1f} times as long as ours.")
    print()
    return statistics.median(seconds for _, seconds in mine)


def main() -> None:
    parser = argparse.ArgumentParser(description="Time choosing a lockup next to CP-SAT.")
    parser.add_argument("cases", nargs="?", type=int, default=100, help="how many random cases (100)")
    cases = [random_case(seed) for seed in range(parser.parse_args().cases)]
    print(MEASURED)
    usual = compare(cases, "The cabinets as they are")
    fuller = compare([case.fuller(FULLER) for case in cases], f"Cabinets {FULLER} times as full")
    print(f"Ours takes {fuller / usual:.2f} times as long at the median with {FULLER} times the wood.")


if __name__ == "__main__":
    main()
