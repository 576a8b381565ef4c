"""How many rounds a lockup wants and has room for, and that nobody is told to begin where both can't be had."""

from __future__ import annotations

from dataclasses import replace
from html import unescape

import pytest
from drawn import WEDGE, drawn, plain, shop_of
from hypothesis import given
from hypothesis import strategies as st
from stonework.choosing import NoLockup, choose_lockup
from stonework.drawing.words import hand_facts
from stonework.form import Form
from stonework.lockup import Lockup, pattern_of
from stonework.pressing import ASSUMED, PressedForm, lift, press_lines, spring_rise, weight_of_type
from stonework.rounds import RISES, Rounds, card_of, pushes, rise, rounds
from stonework.rules import judge
from stonework.shop import LAST_NOTCH, Shop
from stonework.tightening import SMALL_TURN, SNUG
from stonework.units import PICA


def page(shop: Shop, width: float = 28, height: float = 34, chase: str = "10 × 15", quoin: str | None = None) -> Lockup:
    return choose_lockup(Form(width * PICA, height * PICA), shop.chase(chase), shop, quoin=quoin)


def after(lockup: Lockup, number: int):
    form = PressedForm.of(lockup)
    return form.state([SNUG + SMALL_TURN * number] * len(form.quoins))


def lifts(lockup: Lockup, number: int) -> bool:
    """Say in so many words whether friction holds the form and each of its lines, one of them a little short."""
    state, form = after(lockup, number), lockup.form
    weight, lines = weight_of_type(form.width, form.height), round(form.height / PICA)
    _, across = pushes(lockup, state)
    short = [ASSUMED.line_short, *[0.0] * (lines - 1)]
    return lift(state.forces, weight).enough and not press_lines(across, short, weight / lines).dropped


def test_rounds_end_just_where_the_lift_may_pass(breakwater):
    lockup = page(breakwater)
    wanted = rounds(lockup, breakwater).wanted
    assert wanted > 1
    assert lifts(lockup, wanted) and not lifts(lockup, wanted - 1)


def test_a_small_card_may_lift_after_the_first_round(breakwater):
    card = page(breakwater, 10, 7, "5 × 8")
    assert lifts(card, 1) and not lifts(card, 0)
    assert rounds(card, breakwater).wanted == 1


def test_a_larger_and_heavier_form_wants_more_rounds(breakwater):
    small, large = (rounds(page(breakwater, *size), breakwater).wanted for size in ((20, 20), (50, 40)))
    assert small < large


def test_every_quoin_stops_a_point_before_its_last_notch(breakwater):
    for name in ("medium wedge", "small wedge", "long one-piece"):
        lockup = page(breakwater, 34, 30, quoin=name)
        quoin = breakwater.quoin(name)
        opened = [item.thickness - quoin.closed for item in lockup.items if item.kind == "quoin"]
        for opening, room in zip(sorted(opened, reverse=True), sorted(rounds(lockup, breakwater).room), strict=True):
            tight = opening + SNUG + room * SMALL_TURN
            assert tight <= quoin.travel - LAST_NOTCH < tight + SMALL_TURN


def test_a_quoin_with_too_little_travel_is_told_of_before_anyone_begins(breakwater):
    lockup = page(breakwater)
    shop = replace(breakwater, quoins=(replace(breakwater.quoins[0], travel=6.0, reserve=1.0),))
    found = rounds(lockup, shop)
    assert min(found.room) < found.wanted
    assert found.refusal.startswith(f"By the model the trial lift wants about {found.wanted} rounds")
    with pytest.raises(ValueError, match="Put in more wood, so that they start thinner"):
        card_of(lockup, shop)


def test_the_round_at_which_a_form_begins_to_rise(breakwater):
    lockup = page(breakwater, 60, 40)
    found = rounds(lockup, breakwater)
    assert found.rising is not None and found.rising <= found.wanted
    assert rise(lockup, after(lockup, found.rising)) >= RISES > rise(lockup, after(lockup, found.rising - 1))
    assert f"begins to rise at round {found.rising}" in " ".join(card_of(lockup, breakwater).steps)


def test_a_form_that_rises_only_after_its_lift_may_pass_is_told_so_too(breakwater):
    lockup = page(breakwater)
    found = rounds(lockup, breakwater)
    assert found.wanted < found.rising <= min(found.room)
    assert rise(lockup, after(lockup, found.rising)) >= RISES > rise(lockup, after(lockup, found.rising - 1))
    assert f"begins to rise at round {found.rising}: stop before that" in " ".join(card_of(lockup, breakwater).steps)


def test_the_keys_move_as_the_shop_measured_them(breakwater):
    assert rounds(page(breakwater), breakwater).keys == ("medium wedge, a nudge, about an eighth of a quarter turn",)
    unmeasured = replace(breakwater, quoins=tuple(replace(quoin, turn=None) for quoin in breakwater.quoins))
    assert "measure your key first" in rounds(page(unmeasured), unmeasured).keys[0]


def test_a_quoin_that_the_shop_does_not_own_has_no_rounds(breakwater):
    with pytest.raises(ValueError, match="none of this shop's"):
        rounds(page(breakwater), replace(breakwater, quoins=breakwater.quoins[1:]))


@given(st.integers(14, 60), st.integers(10, 40), st.sampled_from(["medium wedge", "small wedge", "long one-piece"]))
def test_no_card_ever_sends_a_quoin_to_its_last_notch(breakwater, width, height, name):
    try:
        lockup = page(breakwater, width, height, quoin=name)
    except NoLockup:
        return
    try:
        card = card_of(lockup, breakwater)
    except ValueError as refused:
        assert "Put in more wood" in str(refused)
        return
    assert 1 <= card.wanted <= card.room
    for item in lockup.items:
        if item.kind == "quoin":
            pattern = pattern_of(item, breakwater.quoins)
            opened = item.thickness - pattern.closed + SNUG + card.room * SMALL_TURN
            assert opened <= pattern.travel - LAST_NOTCH + 1e-6


# --- a row off the middle ---------------------------------------------------------------------------------------


def moved_row(by: float) -> tuple[Lockup, Shop]:
    """Return a good lockup whose upper row of quoins stands so many points to the right of the middle, and its shop."""
    sides = plain((240.0, 144.0))
    sides["top"][2] = [(kind, thick, length, low + by) for kind, thick, length, low in sides["top"][2]]
    lockup = drawn((240.0, 144.0), sides)
    return lockup, shop_of(lockup, replace(WEDGE, turn=2.0))


def test_a_row_in_the_middle_leaves_nothing_to_tell():
    lockup, shop = moved_row(0.0)
    todo = rounds(lockup, shop)
    assert (todo.off, todo.askew) == ((), "") and abs(todo.skew) < 1e-9
    assert not any("cocked over" in step for step in card_of(lockup, shop).steps)


@pytest.mark.parametrize(("by", "where", "way"), [(18.0, "right", "clockwise"), (-18.0, "left", "anticlockwise")])
def test_what_a_row_off_the_middle_leaves_is_told_with_its_doubt(by, where, way):
    # A push down to the right of the middle turns a form clockwise: statics, no source.
    lockup, shop = moved_row(by)
    todo = rounds(lockup, shop)
    end = after(lockup, min(todo.wanted, *todo.room)).skew
    assert todo.off == (("top", by),) and todo.skew == pytest.approx(end) and abs(end) > 0.01
    assert todo.askew.startswith(f"The quoins on the top stand 18 points to the {where} of the middle of their side. ")
    assert f"about {abs(end):.2f} points cocked" in todo.askew and f"turned {way};" in todo.askew
    assert "good to a factor of two or three" in todo.askew
    assert todo.askew == card_of(lockup, shop).steps[0]
    assert todo.askew in unescape(hand_facts(lockup, shop, judge(lockup, shop)))


def test_the_end_skew_grows_with_the_distance_and_mirrors():
    skews = [rounds(*moved_row(by)).skew for by in (-24.0, -12.0, 12.0, 24.0)]
    assert skews[0] > skews[1] > 0 > skews[2] > skews[3]
    assert skews[0] == pytest.approx(-skews[3]) and skews[1] == pytest.approx(-skews[2])


def test_where_a_row_stands_is_said_as_one_sees_it():
    off = (("top", 3.0), ("bottom", -4.0), ("left", 5.0), ("right", -6.0))
    told = Rounds(2, (3,), None, (), off, skew=0.25).askew
    for words in (
        "The quoins on the top stand 3 points to the right of the middle of their side.",
        "The quoins on the bottom stand 4 points to the left of the middle of their side.",
        "The quoins on the left stand 5 points above the middle of their side.",
        "The quoins on the right stand 6 points below the middle of their side.",
        "about 0.25 points cocked over its longer side, turned anticlockwise;",
    ):
        assert words in told
    assert "turned clockwise;" in Rounds(2, (3,), None, (), off, skew=-0.25).askew
    assert "ends square all the same." in Rounds(2, (3,), None, (), off, skew=0.004).askew


def test_how_far_it_rises_follows_from_what_is_taken_for_granted(breakwater):
    lockup = page(breakwater)
    state, low = after(lockup, 4), replace(ASSUMED, furniture_height=ASSUMED.furniture_height / 2)
    up, across = pushes(lockup, state)
    width, height = lockup.form.width, lockup.form.height
    for assumed in (ASSUMED, low):
        either = spring_rise(up, height, width, assumed), spring_rise(across, width, height, assumed)
        assert rise(lockup, state, assumed) == max(either)
    assert rise(lockup, state, low) != rise(lockup, state)
