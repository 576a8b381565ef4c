"""How soon a class is planned, and how near to the best; and the model of its lockups next to CP-SAT.

Run by hand: ``python tests/benchmarks/bench_planning.py [people ...]``.
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from ortools.sat.python import cp_model
from stonework.form import Form
from stonework.planning import Task, Way
from stonework.planning.packing import Choice, Packing
from stonework.planning.planner import Planner
from stonework.planning.pool import Pool
from stonework.shop import Shop
from stonework.units import PICA

TESTS = Path(__file__).resolve().parents[1]
CLASSES = (
    # people, wood by the school's, chases by the school's, seconds that it may take
    (12, 1.0, 3, 5.0),
    (12, 1.0, 1, 5.0),
    (12, 0.5, 3, 5.0),
    (30, 1.5, 8, 30.0),
    (30, 1.5, 2, 30.0),
    (120, 6.0, 30, 300.0),
    (120, 1.5, 8, 300.0),
)
NEAR = 0.05

MEASURED = """\
Forms: half picas at random from 8 picas to the chase less 10, everyone's another, the school's four chases in turn.
Wood and chases are the school's so many times over. “First” is the first plan, “near” the first that is within 5 % of
the bound, “proved” one that is. Twelve in half of the school's wood are shown for what a cabinet does that is nearly
empty. CP-SAT: the same set-packing model of the same lockups, all at once or in as many shifts, with two workers; the
ratio is its time by that of HiGHS in the same run.
"""


def times(shop: Shop, wood: float, chases: int) -> Shop:
    """Return a shop with its wood and its chases so many times over."""
    parts = {name: {m: int(n * wood) for m, n in getattr(shop, name).items()} for name in ("stock", "metal", "strips")}
    return replace(shop, chases=[replace(one, count=one.count * chases) for one in shop.chases], **parts)


def forms(shop: Shop, people: int) -> list[Task]:
    draw, tasks = random.Random(5), []
    for n in range(people):
        chase = shop.chases[n % len(shop.chases)]
        form = Form(*(draw.randint(16, int(side / PICA * 2) - 20) * PICA / 2 for side in (chase.width, chase.height)))
        target = ((chase.width - form.width) / 2, (chase.height - form.height) / 2)
        way = Way(form, chase, target, shop.placing.tolerance, shop.placing.guides, tuple(shop.quoins))
        tasks.append(Task(f"student {n + 1}", f"job {n + 1}", (way,)))
    return tasks


def planned(people: int, wood: float, chases: int, limit: float, school: Shop) -> None:
    shop, start = times(school, wood, chases), time.perf_counter()

    def late() -> bool:
        return time.perf_counter() - start > limit

    pool = Pool(forms(shop, people), shop, late)
    planner = Planner(pool, stop=late)
    when: dict[str, float] = {}
    plan = None
    for plan in planner.run():
        if plan is not None:
            reached = {"first": True, "near": plan.gap < NEAR, "proved": plan.proved}
            for name in (name for name, yes in reached.items() if yes):
                when.setdefault(name, time.perf_counter() - start)
    told = "".join(f"{when[name]:>9.1f}" if name in when else f"{'–':>9}" for name in ("first", "near", "proved"))
    row = f"{people:>6}{wood:>6.1f}{chases:>8}{limit:>8.0f}{told}"
    if plan is None:
        print(f"{row}  no plan")
        return
    score, bound = plan.score, plan.bound
    print(
        f"{row}{score.shifts:>8}{score.largest:>9}{score.pieces:>8}{bound.shifts:>8}{bound.largest:>9}{bound.pieces:>8}"
        f"{100 * plan.gap:>7.1f}{beside_cp_sat(pool, plan.score.shifts):>9}",
        flush=True,
    )


def beside_cp_sat(pool: Pool, shifts: int) -> str:
    """Return how many times as long CP-SAT takes for the best plan of the same lockups, and whether it is the same."""
    choices = [
        Choice(n, column.count, column.uses)
        for n, kind in enumerate(pool.kinds)
        for way in kind.ways
        for column in pool.columns[way]
    ]
    many = [len(kind.tasks) for kind in pool.kinds]
    mine, ours = timed(lambda: Packing(many, pool.counted).best(choices, shifts).pieces)
    theirs, other = timed(lambda: packed(choices, many, pool, shifts))
    return f"{other / ours:.1f}" + ("" if mine == theirs else f" ({mine}, {theirs})")


def timed(solve: Callable[[], int]) -> tuple[int, float]:
    start = time.perf_counter()
    return solve(), time.perf_counter() - start


def packed(choices: Sequence[Choice], many: Sequence[int], pool: Pool, shifts: int, limit: float = 120.0) -> int:
    """Return the pieces of the best plan of some lockups by CP-SAT: the largest number first, then all."""
    cp = cp_model.CpModel()
    taken = [[cp.new_int_var(0, many[one.kind], "") for _ in range(shifts)] for one in choices]
    for kind, number in enumerate(many):
        cp.add(sum(sum(row) for row, one in zip(taken, choices, strict=True) if one.kind == kind) == number)
    for shift in range(shifts):
        needs: dict[object, list[cp_model.LinearExpr]] = {}
        for row, one in zip(taken, choices, strict=True):
            for thing, used in one.uses.items():
                needs.setdefault(thing, []).append(used * row[shift])
        for thing, terms in needs.items():
            cp.add(sum(terms) <= pool.counted[thing])
    largest = cp.new_int_var(0, max(one.count for one in choices), "")
    for row, one in zip(taken, choices, strict=True):
        used = cp.new_bool_var("")
        cp.add(sum(row) == 0).only_enforce_if(~used)
        cp.add(largest >= one.count).only_enforce_if(used)
    pieces = sum(one.count * sum(row) for row, one in zip(taken, choices, strict=True))
    for goal in (largest, pieces):
        cp.minimize(goal)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers, solver.parameters.max_time_in_seconds = 2, limit
        if solver.solve(cp) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return 0
        cp.add(goal <= round(solver.objective_value))
    return round(solver.objective_value)


if __name__ == "__main__":
    asked = {int(number) for number in sys.argv[1:]}
    print(MEASURED)
    heads = (("people", 6), ("wood", 6), ("chases", 8), ("limit", 8), ("first", 9), ("near", 9), ("proved", 9))
    heads += (("shifts", 8), ("largest", 9), ("pieces", 8), ("bound:", 8), ("largest", 9), ("pieces", 8), ("gap %", 7))
    print("".join(f"{head:>{wide}}" for head, wide in (*heads, ("CP-SAT", 9))))
    breakwater = Shop.load(TESTS.parent / "lessons" / "breakwater.shop.toml")
    for people, wood, chases, limit in CLASSES:
        if not asked or people in asked:
            planned(people, wood, chases, limit, breakwater)
