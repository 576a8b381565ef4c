"""Asking for a plan, and for what would make it possible at once."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from stonework.planning.plan import Plan
from stonework.planning.planner import Planner
from stonework.planning.pool import Pool
from stonework.planning.task import Task
from stonework.shop import Shop


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
    """Yield what would help: first what to borrow, then with it what to change."""
    pool = _pool(tasks, shop, stop)
    if pool is None:
        return
    borrow = _last(Planner(pool, borrow=True, stop=stop))
    yield Advice(borrow, None)
    yield Advice(borrow, _last(Planner(pool, change=True, stop=stop)))


def _last(planner: Planner) -> Plan | None:
    plan = None
    for plan in planner.run():  # noqa: B007 - the last is the best
        pass
    return plan


def _pool(tasks: Sequence[Task], shop: Shop, stop: Callable[[], bool] | None) -> Pool | None:
    from stonework.choosing import Stopped

    try:
        return Pool(tasks, shop, stop)
    except Stopped:
        return None
