"""How many ordinary forms the solver locks up in each shop, and how long it takes; and next to CP-SAT.

Run by hand: ``python tests/benchmarks/bench_choosing.py [forms] [small shops] [whole shops]``.
"""

from __future__ import annotations

import contextlib
import gc
import random
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

from stonework.choosing import ANY, QUICK, best_lockup
from stonework.form import Form
from stonework.rules import judge
from stonework.shop import Shop
from stonework.units import PICA

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from lockup_model import optimum
from small_shops import Small, small
from whole_shops import whole

TESTS = Path(__file__).resolve().parents[1]

MEASURED = """\
Forms: half picas at random from 8 picas to the chase less 10, each in a chase of the shop. “Sound” is without a fault
by the judge. “First” is what a panel shows while the best is looked for. Timed without collecting garbage, as timeit
does: how long that takes depends on all else in memory. CP-SAT: the model of tests/lockup_model.py built and solved
with two workers, on small shops and on whole ones, half of them scarce; ours on the same in the same run.
"""


def whole_shops(forms: int) -> None:
    print(
        f"{'shop':<12}{'locked up':>12}{'sound':>8}{'worn':>6}{'proved':>8}{'median ms':>11}{'under 60':>10}{'99th':>8}"
        f"{'slowest':>9}{'first, 99th':>13}"
    )
    files = [*sorted((TESTS / "shops").glob("*.toml")), TESTS.parent / "lessons" / "breakwater.shop.toml"]
    for path in files:
        shop, draw, answers, seconds, quick = Shop.load(path), random.Random(5), [], [], []
        for _ in range(forms):
            chase = draw.choice(shop.chases)
            sides = (draw.randint(16, int(side / PICA * 2) - 20) * PICA / 2 for side in (chase.width, chase.height))
            form, start = Form(*sides), time.perf_counter()
            with contextlib.suppress(ValueError):
                best_lockup(form, chase, shop, quoin=ANY, effort=QUICK)
            middle = time.perf_counter()
            with contextlib.suppress(ValueError):
                answers.append(best_lockup(form, chase, shop, quoin=ANY))
            quick.append(middle - start)
            seconds.append(time.perf_counter() - middle)
        sound = sum(not any(f.severity == "fault" for f in judge(a.lockup, shop)) for a in answers)
        worn = sum(any(item.material in shop.keep for item in a.lockup.pieces) for a in answers)
        times = [1000 * s for s in sorted(seconds)]
        print(
            f"{path.name.partition('.')[0]:<12}{f'{len(answers)} of {forms}':>12}{sound:>8}{worn:>6}"
            f"{sum(a.proved for a in answers):>8}{statistics.median(times):>11.0f}"
            f"{sum(ms < 60 for ms in times):>10}{times[int(0.99 * (forms - 1))]:>8.0f}{times[-1]:>9.0f}"
            f"{1000 * sorted(quick)[int(0.99 * (forms - 1))]:>13.0f}"
        )


def beside_cp_sat(words: str, question: Callable[[int], Small], cases: int) -> None:
    ratios = []
    for seed in range(cases):
        form, chase, shop, target, tolerance, solid = question(seed)
        start = time.perf_counter()
        with contextlib.suppress(ValueError):
            best_lockup(form, chase, shop, target=target, tolerance=tolerance, solid=solid, quoin=ANY)
        middle = time.perf_counter()
        optimum(form, chase, shop, quoins=shop.quoins, target=target, tolerance=tolerance, solid=solid, limit=20.0)
        ratios.append((time.perf_counter() - middle) / (middle - start))
    first, median, third = statistics.quantiles(ratios, n=4)
    print(f"{words}: CP-SAT takes {median:.1f} times as long at the median; quarters {first:.1f} and {third:.1f}.")


if __name__ == "__main__":
    asked = [int(number) for number in sys.argv[1:]]
    print(MEASURED)
    gc.collect()
    gc.disable()
    whole_shops(asked[0] if asked else 100)
    beside_cp_sat("Small shops", small, asked[1] if len(asked) > 1 else 40)
    beside_cp_sat("Whole shops", whole, asked[2] if len(asked) > 2 else 20)
