"""Laying by hand: what is put down makes the record it should, and is judged like any other."""

import pytest
from stonework.choosing import choose_lockup
from stonework.form import Form
from stonework.laying import Bench
from stonework.rules import judge, sound
from stonework.shop import Material


@pytest.fixture
def bench(breakwater):
    return Bench(Form(240, 144), breakwater.chase("5 × 8"), breakwater)


@pytest.fixture
def plan(bench, breakwater):
    return choose_lockup(bench.form, bench.chase, breakwater)


def test_a_plan_laid_piece_by_piece_is_that_plan(bench, plan, breakwater):
    layers = sum(len({item.order for item in plan.on(side)}) for side in ("bottom", "left", "top", "right"))
    for _ in range(layers):
        assert bench.next_from(plan).endswith("the next piece of one good plan.")
    assert "Nothing is left" in bench.next_from(plan)
    assert sorted(map(str, bench.lockup().items)) == sorted(map(str, plan.items))
    assert judge(bench.lockup(), breakwater) == []


def test_seeing_it_finished_can_be_taken_back(bench, plan, breakwater):
    bench.lay("bottom", Material("furniture", 48, 240))
    mine = bench.lockup()
    bench.finish(plan)
    assert sound(judge(bench.lockup(), breakwater))
    bench.take_back()
    assert bench.lockup() == mine


def test_clearing_can_be_taken_back_and_an_empty_stone_takes_nothing_back(bench):
    bench.take_back()
    assert not bench.can_take_back
    bench.lay("left", Material("reglet", 6, 144))
    bench.clear()
    assert bench.lockup().items == ()
    bench.take_back()
    assert len(bench.lockup().items) == 1


def test_a_different_piece_stops_the_hints_and_stays(bench, plan):
    bench.lay("bottom", Material("furniture", 24, 720))
    before = bench.lockup()
    assert "isn't as in the plan" in bench.next_from(plan)
    assert bench.lockup() == before


def test_the_form_slides_against_a_stack_that_nearly_fills_the_gap(bench):
    middle = bench.lockup().form.y
    made = round(middle / 6) * 6.0
    assert 0 < abs(made - middle) <= 6
    bench.lay("bottom", Material("furniture", made - 12, 240))
    assert bench.lockup().form.y == middle
    bench.lay("bottom", Material("reglet", 12, 240))
    assert bench.lockup().form.y == made
    assert bench.lockup().items[-1].y == pytest.approx(0)


def test_leaning_pieces_stop_three_points_inside_the_far_corner(bench):
    bench.lay("top", Material("furniture", 24, 300), "low")
    bench.lay("top", Material("furniture", 24, 300), "high")
    low, high = (bench.lockup().seen_from("top", item) for item in bench.lockup().items)
    assert low.high == pytest.approx(240 - 3)
    assert high.low == pytest.approx(3)


def test_quoins_open_to_fill_the_room_before_the_outer_reglet(bench):
    gap = bench.lockup().gap("top")
    bench.lay("top", Material("reglet", 12, 240))
    bench.lay_quoins("top")
    assert bench.lockup().quoins("top")[0].thickness == bench.quoin.closed
    bench.lay("top", Material("reglet", 12, 240))
    assert bench.lockup().quoins("top")[0].thickness == pytest.approx(gap - 24)


def test_every_step_by_hand_is_judged_without_failing(bench, breakwater):
    for side in ("bottom", "left", "top", "right"):
        for material in (Material("furniture", 120, 720), Material("reglet", 6, 120)):
            bench.lay(side, material)
            assert not sound(judge(bench.lockup(), breakwater))
        bench.lay_quoins(side)
        assert not sound(judge(bench.lockup(), breakwater))


def test_another_form_or_chase_can_be_taken_back(bench, breakwater):
    bench.lay("bottom", Material("furniture", 48, 240))
    before = bench.lockup()
    bench.begin(Form(100, 100), breakwater.chase("8 × 12"))
    assert bench.lockup().items == () and bench.lockup().chase.name == "8 × 12"
    bench.take_back()
    assert bench.lockup() == before
