"""Asking for a plan, and for what would make it possible at once."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import islice
from typing import NamedTuple

from stonework.choosing import ANY, NoLockup, Stopped, best_lockup
from stonework.planning.plan import Plan
from stonework.planning.planner import Planner
from stonework.planning.pool import Pool
from stonework.planning.task import Task
from stonework.shop import Shop

_REASONS = 3  # sentences on why a job can't be done at all


class Advice(NamedTuple):
    """What would help, as plans: things borrowed, so that all work at once, and jobs changed, for the fewest shifts.

    ``None`` stands for what isn't known.
    """

    borrow: Plan | None
    change: Plan | None


def plan_class(tasks: Sequence[Task], shop: Shop, stop: Callable[[], bool] | None = None) -> Iterator[Plan | None]:
    """Yield the best plan so far, again and again, ``None`` while there is none; the last is the best that was found.

    Whoever has had enough says so by ``stop``, which is asked again and again, and still gets the best so far.
    """
    pool = _pool(tasks, shop, stop)
    yield from Planner(pool, stop=stop).run() if pool else iter([None])


def advise(tasks: Sequence[Task], shop: Shop, stop: Callable[[], bool] | None = None) -> Iterator[Advice]:
    """Yield what would help: first what to change, then with it what to borrow, ever less as it is found."""
    pool = _pool(tasks, shop, stop)
    if pool is None:
        return
    change = _last(Planner(pool, change=True, stop=stop))
    borrow = None
    yield Advice(borrow, change)
    for better in Planner(pool, borrow=True, stop=stop).run():
        if better is not None and better != borrow:
            borrow = better
            yield Advice(borrow, change)


def with_changes(tasks: Sequence[Task], change: Plan) -> list[Task]:
    """Return tasks in which the changes of a plan are taken for granted: those changed have that way alone."""
    made = {one.task.name: replace(one.way, change="") for one in change.given if one.way.change}
    return [replace(task, ways=(made[task.name],)) if task.name in made else task for task in tasks]


def _last(planner: Planner) -> Plan | None:
    plan = None
    for plan in planner.run():  # noqa: B007 - the last is the best
        pass
    return plan


def _pool(tasks: Sequence[Task], shop: Shop, stop: Callable[[], bool] | None) -> Pool | None:
    try:
        return Pool(tasks, shop, stop)
    except Stopped:
        return None


def why_not(task: Task, shop: Shop, stop: Callable[[], bool] | None = None) -> str:
    """Say why a task can't be done in this shop even alone, and what would help, in sentences."""
    ways = [way for way in task.ways if not way.change]
    if not ways:
        return task.trouble or "No chase of the shop takes it."
    way = ways[0]
    try:
        best_lockup(
            way.form, way.chase, shop.without(m for m in task.held for _ in range(shop.pieces[m])),
            quoin=ANY, target=way.target, tolerance=way.tolerance, solid=way.solid, stop=stop,
        )  # fmt: skip
    except NoLockup as error:
        return " ".join(islice(error.why(stop), _REASONS))
    return "Its quoins would be as good as shut, so that they couldn't be slackened."
