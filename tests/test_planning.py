"""A class on one cabinet: nothing is given out twice, every lockup holds, and no plan is better than what is proved."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace
from itertools import count
from pathlib import Path

import pytest
from class_model import Wanted, best
from hypothesis import given, settings
from hypothesis import strategies as st
from small_shops import small
from stonework.drawing.words import openings
from stonework.form import Form
from stonework.jobs import Ticket, load_jobs
from stonework.jobs.tasks import tasks
from stonework.placing import Sheet
from stonework.planning import (
    NamingError,
    Task,
    Thing,
    Way,
    advise,
    dealt,
    plan_class,
    read_class,
    read_names,
    why_not,
    with_changes,
)
from stonework.planning.things import things_of
from stonework.rules import judge
from stonework.shop import AS_GOOD_AS_SHUT, Shop
from stonework.units import PICA

ROOT = Path(__file__).resolve().parent.parent
SHOPS = {
    path.name.partition(".")[0]: Shop.load(path)
    for path in (*sorted((ROOT / "tests" / "shops").glob("*.shop.toml")), ROOT / "lessons" / "breakwater.shop.toml")
}
SCHOOL = SHOPS["breakwater"]
JOBS = load_jobs(ROOT / "lessons" / "breakwater.jobs.toml", SCHOOL)


def planned(wanted, shop, stop=None):
    """Return the last plan, and whether every one before it was no better and kept to its bound."""
    last = None
    for plan in plan_class(wanted, shop, stop):
        if plan is not None:
            assert plan.bound <= plan.score
            assert last is None or plan.score <= last.score
            last = plan
    return last


def way(form, chase, shop):
    target = ((chase.width - form.width) / 2, (chase.height - form.height) / 2)
    return Way(form, chase, target, shop.placing.tolerance, shop.placing.guides, tuple(shop.quoins))


def random_class(shop, people, seed):
    """Return people with forms of half picas in the shop's chases, some of them alike."""
    draw, wanted = random.Random(seed), []
    for n in range(people):
        chase = draw.choice(shop.chases)
        form = Form(*(draw.randint(20, int(side / PICA * 2) - 20) * PICA / 2 for side in (chase.width, chase.height)))
        if n and draw.random() < 0.4:
            wanted.append(replace(wanted[-1], name=f"student {n}"))
        else:
            wanted.append(Task(f"student {n}", f"job {n}", (way(form, chase, shop),)))
    return wanted


def taken(plan, shift):
    """Count what a shift's lockups take, from the lockups alone."""
    used = Counter()
    for one in plan.given:
        if one.shift != shift:
            continue
        lockup = one.lockup
        used[Thing("chase", lockup.chase.name)] += 1
        used.update(Thing("quoin", item.pattern) for item in lockup.items if item.kind == "quoin")
        used.update(Thing(m.kind, "", round(m.thickness, 2), round(m.length, 2)) for m in lockup.materials)
    return used


def assert_nothing_twice(plan, shop):
    there = things_of(shop)
    uncounted = {quoin.name for quoin in shop.quoins if quoin.count is None}
    for shift in range(plan.score.shifts):
        for thing, n in taken(plan, shift).items():
            assert n <= there[thing] or thing.name in uncounted, (shift, thing, n)


# --- nothing twice, and sound -------------------------------------------------------------------------------


@settings(max_examples=12)
@given(st.sampled_from(sorted(SHOPS)), st.integers(2, 6), st.integers(0, 10**6), st.sampled_from([1.0, 0.4]))
def test_nothing_is_given_out_twice_and_every_lockup_holds(name, people, seed, share):
    shop = SHOPS[name]
    shop = replace(shop, stock={m: int(n * share) for m, n in shop.stock.items()})
    calls = count()
    plan = planned(random_class(shop, people, seed), shop, lambda: next(calls) > 3000)
    if plan is None:
        return
    assert_nothing_twice(plan, shop)
    for one in plan.given:
        assert [f for f in judge(one.lockup, shop) if f.severity == "fault"] == []
    assert len(plan.given) + len(plan.idle) == people


@pytest.mark.parametrize("name", sorted(SHOPS))
def test_a_class_is_planned_in_each_shop(name):
    shop = SHOPS[name]
    plan = planned(random_class(shop, 5, 3), shop)
    assert len(plan.given) >= 3 and plan.proved and plan.done
    assert_nothing_twice(plan, shop)
    assert all(not any(f.severity == "fault" for f in judge(one.lockup, shop)) for one in plan.given)
    chases = Counter((one.shift, one.lockup.chase.name) for one in plan.given)
    assert all(n <= shop.chase(name).count for (_, name), n in chases.items())


def test_the_school_s_own_jobs_take_as_many_shifts_as_its_small_chase_asks():
    plan = planned(tasks(dealt(read_names("12"), list(JOBS)), JOBS, SCHOOL), SCHOOL)
    assert plan.proved and not plan.idle
    assert plan.score.shifts == 6  # both bookplates, three students each, want the one 6 × 9
    assert_nothing_twice(plan, SCHOOL)
    for one in plan.given:
        assert [f for f in judge(one.lockup, JOBS[one.task.job].cabinet(SCHOOL)) if f.severity == "fault"] == []
        assert one.lockup.chase.name == JOBS[one.task.job].chase
        assert one.lockup.job.hand == one.task.name
    first = {one.task.job: one.shift for one in plan.given}
    assert first["bookplate black"] < first["bookplate red"]


def test_as_many_chases_let_all_twelve_work_at_once():
    shop = replace(SCHOOL, chases=[replace(chase, count=6) for chase in SCHOOL.chases])
    wanted = tasks(dealt(read_names("12"), list(JOBS)), JOBS, shop)
    plan = next(plan for plan in plan_class(wanted, shop) if plan and plan.gap < 0.05)
    assert plan.score.shifts == 1 and len(plan.given) == 12
    assert_nothing_twice(plan, shop)


def test_blocks_take_their_pieces_from_the_same_cabinet():
    alone = planned(tasks([("Ana", "tide card")], JOBS, SCHOOL), SCHOOL)
    gutter = set(alone.given[0].lockup.block.materials)
    few = replace(
        SCHOOL,
        chases=[replace(chase, count=3) for chase in SCHOOL.chases],
        stock={m: min(n, 1) if m in gutter else n for m, n in SCHOOL.stock.items()},
        metal={m: min(n, 1) if m in gutter else n for m, n in SCHOOL.metal.items()},
    )
    plan = planned(tasks([(name, "tide card") for name in ("Ana", "Bo", "Cy")], JOBS, few), few)
    assert_nothing_twice(plan, few)
    assert plan.score.shifts == 1 and sum(bool(gutter & set(one.lockup.block.materials)) for one in plan.given) == 1


# --- as CP-SAT ----------------------------------------------------------------------------------------------


def small_class(seed, people, chases):
    one = small(seed)
    shop = replace(
        one.shop,
        chases=[replace(one.chase, count=chases)],
        quoins=[replace(quoin, count=quoin.count and people * quoin.count) for quoin in one.shop.quoins],
    )
    wanted = []
    for n in range(people):
        form = Form(one.form.width - 12 * (n % 2), one.form.height)
        target = ((one.chase.width - form.width) / 2, (one.chase.height - form.height) / 2)
        wanted.append(Wanted(form, shop.chases[0], target, one.tolerance, one.solid))
    ways = [Way(w.form, w.chase, w.target, w.tolerance, w.solid, tuple(shop.quoins)) for w in wanted]
    return wanted, [Task(f"student {n}", "job", (one,)) for n, one in enumerate(ways)], shop


SMALL = [(0, 2, 2), (6, 3, 3), (12, 2, 2), (4, 4, 2), (6, 6, 3), (8, 6, 3)]


@pytest.mark.parametrize(("seed", "people", "chases"), SMALL)
def test_a_small_class_is_planned_as_well_as_cp_sat_plans_it(seed, people, chases):
    wanted, ours, shop = small_class(seed, people, chases)
    plan, (other, proved) = planned(ours, shop), best(wanted, shop)
    assert proved and other is not None
    score, bound = plan.score, plan.bound
    assert (bound.shifts, bound.largest, bound.pieces) <= other <= (score.shifts, score.largest, score.pieces)
    assert plan.proved and (score.shifts, score.largest, score.pieces) == other


# --- stopping, and what would help ---------------------------------------------------------------------------


def scarce_twelve():
    """Twelve forms at once in half of the school's wood: far from proved for a while."""
    shop = replace(
        SCHOOL,
        stock={m: n // 2 for m, n in SCHOOL.stock.items()},
        chases=[replace(chase, count=3) for chase in SCHOOL.chases],
    )
    draw, wanted = random.Random(5), []
    for n in range(12):
        chase = shop.chases[n % 4]
        form = Form(*(draw.randint(16, int(side / PICA * 2) - 20) * PICA / 2 for side in (chase.width, chase.height)))
        wanted.append(Task(f"student {n}", f"job {n}", (way(form, chase, shop),)))
    return wanted, shop


def test_a_search_that_is_stopped_keeps_its_best():
    wanted, shop = scarce_twelve()
    plans, enough = [], []
    for plan in plan_class(wanted, shop, lambda: bool(enough)):
        plans.append(plan)
        if plan is not None and not enough:
            enough.append(True)
    assert len(plans) >= 2 and plans[-1].score == min(plan.score for plan in plans if plan)
    assert not plans[-1].done and not plans[-1].proved and 0 < plans[-1].gap <= 1
    assert len(plans[-1].given) == 12
    assert_nothing_twice(plans[-1], shop)


def test_with_what_is_said_to_be_borrowed_all_work_at_once():
    wanted = tasks(dealt(read_names("5"), ["bookplate black", "ferry notice"]), JOBS, SCHOOL)
    assert planned(wanted, SCHOOL).score.shifts == 3
    *_, advice = advise(wanted, SCHOOL)
    borrowed = advice.borrow.borrowed
    assert advice.borrow.score == advice.borrow.bound  # fewer won't do
    assert borrowed == {Thing("chase", "6 × 9"): 2, Thing("chase", "10 × 15"): 1}
    lent = [replace(chase, count=chase.count + borrowed.get(Thing("chase", chase.name), 0)) for chase in SCHOOL.chases]
    with_them = replace(SCHOOL, chases=lent)
    assert planned(tasks([(one.name, one.job) for one in wanted], JOBS, with_them), with_them).score.shifts == 1
    one_less = replace(SCHOOL, chases=[replace(c, count=2 if c.name == "6 × 9" else c.count) for c in lent])
    assert planned(tasks([(one.name, one.job) for one in wanted], JOBS, one_less), one_less).score.shifts == 2


def test_wood_that_is_short_is_borrowed_too(small_shop, sound):
    form = Form(sound.form.width, sound.form.height)
    shop = replace(small_shop, chases=[replace(sound.chase, count=2)])
    one = Way(form, shop.chases[0], (60.0, 48.0), 6.0, ("bottom", "left"), tuple(shop.quoins))
    wanted = [Task("Ana", "card", (one,)), Task("Bo", "card", (one,))]
    assert planned(wanted, shop).score.shifts == 2  # the shop has the wood for one
    *_, advice = advise(wanted, shop)
    borrow = advice.borrow
    assert borrow.score.extra == sum(borrow.borrowed.values()) > 0
    more = replace(
        shop,
        stock={m: n + borrow.borrowed.get(Thing(m.kind, "", m.thickness, m.length), 0) for m, n in shop.stock.items()},
    )
    assert planned(wanted, more).score.shifts == 1


def test_jobs_changed_as_said_take_as_few_shifts_as_said():
    wanted = tasks(dealt(read_names("4"), ["bookplate black"]), JOBS, SCHOOL)
    assert planned(wanted, SCHOOL).score.shifts == 4
    *_, advice = advise(wanted, SCHOOL)
    change = advice.change
    assert change.score.shifts == 1 and change.score == change.bound
    assert sum(bool(one.way.change) for one in change.given) == change.score.extra == 3
    assert_nothing_twice(change, SCHOOL)
    assert all(not any(f.severity == "fault" for f in judge(one.lockup, SCHOOL)) for one in change.given)


def test_what_cannot_be_locked_up_at_all_is_left_out_and_told():
    shop = replace(
        SCHOOL, stock={m: n for m, n in SCHOOL.stock.items() if m.kind != "reglet"}, quoins=SCHOOL.quoins[:1]
    )
    wanted = tasks([("Ana", "bookplate black")], JOBS, shop)
    assert planned(wanted, shop) is None
    assert why_not(wanted[0], shop).startswith("The cabinet lists no reglet")


# --- names and jobs -------------------------------------------------------------------------------------------


def test_jobs_are_dealt_in_turn_and_round_again():
    assert read_names("3") == ["student 1", "student 2", "student 3"]
    assert read_names(" Zoë \n\n刘 伟\nO’Neil ") == ["Zoë", "刘 伟", "O’Neil"]
    had = Counter(job for _, job in dealt(read_names("14"), list(JOBS)))
    assert max(had.values()) - min(had.values()) == 1


def test_a_list_without_its_heading_is_no_list_of_names():
    with pytest.raises(NamingError, match=r"Line 1: “Ana, tide card” was read.*Line 2: “Bo; notice”"):
        read_names("Ana, tide card\nBo; notice\nCy")
    for text in ("12.5", "12 students"):
        with pytest.raises(NamingError, match="write how many students there are as a number alone"):
            read_names(text)


def test_no_quoin_is_as_good_as_shut(breakwater, irregular):
    for shop in (breakwater, *irregular.values()):
        chase = shop.chases[-1]
        wanted = [
            Task(f"student {n}", "page", _page_ways(shop, chase, Form(12 * (16 + 2 * n), 12 * (11 + n))))
            for n in range(3)
        ]
        plan = planned(wanted, shop)
        assert plan is not None and len(plan.given) + len(plan.idle) == 3
        opened = [by for one in plan.given for by in openings(one.lockup, shop).values()]
        assert opened and min(opened) >= AS_GOOD_AS_SHUT


def _page_ways(shop, chase, form):
    ticket = Ticket("page", "", (), form, Sheet(form.width + 96, form.height + 96), 48, 48, chase.name)
    return tasks([("Ana", "page")], {"page": ticket}, shop)[0].ways


def test_changes_that_help_are_taken_for_granted(breakwater):
    wanted = tasks(dealt(read_names("12"), list(JOBS)), JOBS, breakwater)
    *_, advice = advise(wanted, breakwater, None)
    change = advice.change
    plan = planned(with_changes(wanted, change), breakwater)
    assert plan.score.shifts == change.score.shifts < planned(wanted, breakwater).score.shifts
    assert {one.task.name for one in change.given if one.way.change} and plan.score.largest > 0


def test_every_mistake_in_a_list_is_told_at_once():
    with pytest.raises(NamingError) as told:
        read_class("name,job\nAna,tide card\nAna,ferry notice\n<b>,tide card\nBo\nCy,poster\n", list(JOBS))
    assert [mistake.partition(":")[0] for mistake in told.value.mistakes] == ["Line 3", "Line 4", "Line 5", "Line 6"]
    with pytest.raises(NamingError, match="the heading name,job was expected"):
        read_class("Ana,tide card", list(JOBS))
    assert read_class('\ufeffName;Job\n"Ana, B.";TIDE CARD\n', list(JOBS)) == [("Ana, B.", "tide card")]


@pytest.mark.parametrize("text", ["", "0", "151", "name", "Ana\nAna"])
def test_what_names_nobody_is_refused_in_a_sentence(text):
    if text == "name":
        assert read_names(text) == ["name"]
        return
    with pytest.raises(NamingError, match=r"[.]$"):
        read_names(text)
