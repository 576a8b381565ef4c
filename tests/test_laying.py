"""Laying by hand: what is put down makes the record it should, and is judged like any other."""

import itertools
from dataclasses import replace

import pytest
from stonework.choosing import choose_lockup
from stonework.form import Form
from stonework.laying import Bench
from stonework.lockup import SIDES, Block, Filling, Lockup, PlacedForm
from stonework.rules import judge, sound
from stonework.shop import Material, Placing


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


@pytest.mark.parametrize("side", SIDES)
def test_a_piece_is_laid_in_the_middle_of_its_own_side(bench, side):
    bench.lay(side, Material("furniture", 24, 100))
    lockup = bench.lockup()
    seen = lockup.seen_from(side, lockup.items[0])
    assert (seen.low + seen.high) / 2 == lockup.side_length(side) / 2 and seen.high - seen.low == 100


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


@pytest.mark.parametrize(
    ("width", "number"),
    # A medium wedge serves 20 picas of a side at most: so one does for 240 points, and no more than that.
    [(239, 1), (240, 1), (241, 2), (480, 2)],
)
def test_a_side_gets_as_many_quoins_as_it_needs_even_from_its_middle(breakwater, width, number):
    bench = Bench(Form(width, 144), breakwater.chase("8 × 12"), breakwater)
    bench.lay_quoins("top")
    lockup = bench.lockup()
    row = [lockup.seen_from("top", item) for item in lockup.quoins("top")]
    assert len(row) == number
    assert row[0].low + row[-1].high == pytest.approx(width)
    assert all(b.low - a.high == pytest.approx(bench.quoin.gap) for a, b in itertools.pairwise(row))


def test_a_row_is_of_the_pattern_and_number_asked_for(bench, breakwater):
    small = breakwater.quoin("small wedge")
    bench.lay_quoins("right", small, 2)
    row = bench.lockup().quoins("right")
    assert [(item.length, item.thickness, item.pattern) for item in row] == [(48, 18, "small wedge")] * 2


def test_two_sticks_lie_end_to_end_as_one_would(bench):
    short, long = Material("furniture", 24, 120), Material("furniture", 24, 180)
    for lean in ("low", "middle", "high"):
        bench.clear()
        bench.lay_ends("bottom", short, long, lean)
        first, second = (bench.lockup().seen_from("bottom", item) for item in bench.lockup().layers("bottom")[0])
        assert (first.high - first.low, second.high - second.low) == (120, 180) and first.high == second.low
        bench.clear()
        bench.lay("bottom", Material("furniture", 24, 300), lean)
        (whole,) = bench.lockup().items
        assert bench.lockup().seen_from("bottom", whole).low == first.low


@pytest.mark.parametrize("other", [Material("reglet", 24, 180), Material("furniture", 24.1, 180)])
def test_two_sticks_that_are_not_alike_are_not_laid_end_to_end(bench, other):
    with pytest.raises(ValueError, match=f"of one kind and thickness; furniture 2 picas and {other.kind} 2 picas"):
        bench.lay_ends("bottom", Material("furniture", 24, 120), other)
    assert bench.lockup().items == () and not bench.can_take_back


def test_the_outermost_layer_is_moved_along_its_side_and_the_others_stay(bench):
    for side in ("bottom", "left"):
        assert bench.move_along(side, 6) is None and bench.take_off(side) is None
    assert not bench.can_take_back
    inner, outer = Material("furniture", 24, 240), Material("reglet", 12, 240)
    for side, dx, dy in (("bottom", 6, 0), ("top", 6, 0), ("left", 0, 6), ("right", 0, 6)):
        bench.lay(side, inner)
        bench.lay(side, outer)
        still, before = bench.lockup().on(side)
        moved = bench.move_along(side, 6)
        assert bench.lockup().on(side) == (still, replace(before, x=before.x + dx, y=before.y + dy))
        assert bench.take_off(side) == moved
        assert bench.lockup().on(side) == (still,)
        bench.put(side, moved)
        bench.take_back()
        bench.take_back()
        bench.take_back()
        assert bench.lockup().on(side) == (still, before)


def test_a_piece_dropped_anywhere_leans_the_way_that_is_nearest(bench):
    # A piece of 300 points along a side of 240 begins at -63 leaning low, at -30 in the middle, at 3 leaning high.
    begins = {-200: "low", -47: "low", -46: "middle", -14: "middle", -13: "high", 100: "high"}
    assert {low: bench.lean("bottom", low, 300) for low in begins} == begins


def test_a_form_stood_on_its_head_keeps_what_lies_round_it_and_one_laid_sideways_does_not(bench):
    bench.lay("bottom", Material("furniture", 48, 240))
    bench.turn("bottom")
    assert (bench.lying.width, bench.lying.height) == (240, 144) and len(bench.lockup().items) == 1
    bench.turn("left")
    assert (bench.lying.width, bench.lying.height) == (144, 240) and bench.lockup().items == ()
    assert bench.lockup().head == "left" and bench.form == Form(240, 144)
    bench.take_back()
    bench.take_back()
    assert bench.head == "top" and len(bench.lockup().items) == 1


def test_a_block_that_is_turned_takes_its_forms_along(breakwater):
    # Two lines, one below the other: with the head to the left, the first lies at the left of the second.
    first, second = PlacedForm(0, 100, 200, 20), PlacedForm(0, 0, 200, 80)
    block = Block((first, second), (Filling("lead", 20, 200, 0, 80, 200, 20),))
    chase = breakwater.chase("8 × 12")
    bench = Bench(Form(200, 120), chase, breakwater)
    bench.open(Lockup(chase, PlacedForm(0, 0, 200, 120), "by hand", (), block=block))
    bench.turn("left")
    lockup = bench.lockup()
    above, below = lockup.block.forms
    assert (above.width, above.height, below.width, below.height) == (20, 200, 80, 200)
    assert below.x - above.x == 40 and below.y == above.y
    assert lockup.block.outline == lockup.form
    bench.turn("right")
    above, below = bench.lockup().block.forms
    assert above.x - below.x == 100


def test_the_sides_that_are_to_be_solid_are_those_the_form_slides_to(bench):
    bench.keep_solid(("top", "right"))
    gap = bench.lockup().gap("top")
    made = round(gap / 6) * 6.0
    bench.lay("top", Material("furniture", made, 240))
    assert bench.lockup().gap("top") == pytest.approx(made)
    bench.keep_solid(("bottom", "right"))
    assert bench.lockup().gap("top") == pytest.approx(gap)


def test_a_press_brings_its_custom_along(bench):
    lays = Placing(right=6, up=-12, guides=("top", "right"), tolerance=1.5)
    before = bench.lockup()
    bench.take_press("proof press", lays)
    after = bench.lockup()
    assert (after.job.press, bench.solid) == ("proof press", ("top", "right"))
    assert (after.form.x - before.form.x, after.form.y - before.form.y) == (6, -12)
    assert bench.wish.tolerance == 1.5
    bench.take_back()
    assert bench.lockup() == before and bench.job.press == ""


def test_a_lockup_that_does_not_say_where_its_form_was_wanted_is_wanted_where_it_lies(bench, plan, breakwater):
    bench.open(replace(plan, intent=None))
    assert (bench.wish.x, bench.wish.y) == (plan.form.x, plan.form.y)
    assert judge(bench.lockup(), breakwater) == []


def test_a_plan_of_a_block_is_laid_round_the_block_where_it_comes_to_lie(built, breakwater):
    for plan in built.values():
        bench = Bench(Form(240, 144), breakwater.chase("5 × 8"), breakwater)
        bench.open(plan)
        assert bench.lockup().block == plan.block and bench.lockup().form == plan.form


def test_what_is_laid_next_is_named(bench, plan):
    told = []
    while (said := bench.next_from(plan)).startswith("Laid "):
        told.append(said)
    assert sum(said.startswith("Laid the row of quoins on the ") for said in told) == 2
    for side in SIDES:
        assert sum(f" on the {side}, the next piece" in said for said in told) == len(plan.layers(side))
    assert said == "Nothing is left to lay: this plan is complete."


def test_quoins_that_have_no_room_left_stay_shut(bench):
    for _ in range(4):
        bench.lay("top", Material("furniture", 120, 240))
    bench.lay_quoins("top")
    bench.lay("top", Material("reglet", 6, 240))
    assert {item.thickness for item in bench.lockup().quoins("top")} == {bench.quoin.closed}
