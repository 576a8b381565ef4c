"""What a whole lockup weighs at most, against sums done by hand and the one chase whose measurements are published."""

from __future__ import annotations

from dataclasses import replace

import pytest
from conftest import sound_lockup
from stonework.drawing.form_words import load_facts, lockup_weight_words
from stonework.lockup import Block, Filling, PlacedForm
from stonework.shop import Chase, Shop
from stonework.units import POINTS_PER_INCH
from stonework.weighing import weigh

POUND = 453.59237  # grams: the international pound of 1959, by definition
CUBIC_INCH = 2.54**3  # cm³


def shop_of(lockup, weight):
    """Return a shop with the lockup's chase, weighed or not."""
    chase = Chase(lockup.chase.name, lockup.chase.width, lockup.chase.height, weight)
    return Shop("one chase", (chase,), {}, ())


def in_pounds(square_points, inches_high, grams_per_cm3):
    """Return a weight as one does the sum by hand: square inches × height × density."""
    return square_points / POINTS_PER_INCH**2 * inches_high * CUBIC_INCH * grams_per_cm3 / POUND


def test_the_parts_of_a_small_lockup_by_hand():
    # The lockup of conftest.py. Type: 0.918 inch (A. A. Stewart, Type, 1918, p. 7) of slug metal. Furniture: 5/8 inch
    # (W. Savage, Dictionary, 1841, “Furniture”) of maple, 0.71 from memory. Quoins as solid steel, 7.9 from memory.
    lockup = sound_lockup()
    load = weigh(lockup, shop_of(lockup, 2.5))
    assert load.type_metal == pytest.approx(in_pounds(144 * 120, 0.918, 10.26))
    assert load.metal == 0
    wood = sum(item.thickness * item.length for item in lockup.items if item.kind != "quoin")
    quoins = sum(item.thickness * item.length for item in lockup.items if item.kind == "quoin")
    assert load.wood == pytest.approx(in_pounds(wood, 0.625, 0.71))
    assert load.quoins == pytest.approx(in_pounds(quoins, 0.625, 7.9))
    assert load.chase == 2.5
    assert load.total == pytest.approx(load.type_metal + load.wood + load.quoins + 2.5)


def test_a_chase_full_of_type_weighs_a_third_more_than_the_rule_has():
    # 8 × 12 inches solid are 24 lb by the rule for ordering (J. S. Ford, Paper and Printing Recipes). Derived: 32.7 lb
    # as a block of slug metal.
    chase = Chase("8 × 12", 12 * POINTS_PER_INCH, 8 * POINTS_PER_INCH)
    lockup = replace(sound_lockup(), chase=chase, form=PlacedForm(0, 0, chase.width, chase.height), items=())
    assert weigh(lockup, shop_of(lockup, None)).total == pytest.approx(32.7, abs=0.05)


def test_the_school_s_largest_chase_weighs_what_its_measurements_say(breakwater):
    # A published measurement of one steel chase: 17.055 × 12.625 inches outside, rails 0.999 and 1.251 wide, 0.563 to
    # 0.568 thick. At 0.284 lb to the cubic inch of steel, from memory, that is 10.0 lb.
    inside = (17.055 - 2 * 0.999) * (12.625 - 2 * 1.251)
    published = (17.055 * 12.625 - inside) * 0.5655 * 0.284
    lockup = replace(sound_lockup(), chase=breakwater.chase("10 × 15"))
    assert weigh(lockup, breakwater).chase == pytest.approx(published, rel=0.02)


def test_what_is_in_a_block_counts_by_what_it_is_made_of():
    lockup = sound_lockup()
    x, y = lockup.form.x, lockup.form.y
    forms = (PlacedForm(x, y, 60, 120), PlacedForm(x + 84, y, 60, 120))
    metal = Filling("metal", 12, 120, x + 60, y, 12, 120)
    lead = Filling("lead", 2, 120, x + 72, y, 2, 120)
    wood = Filling("reglet", 10, 120, x + 74, y, 10, 120)
    whole = replace(lockup, block=Block(forms, (metal, lead, wood)))
    load, plain = (weigh(one, shop_of(lockup, 2.5)) for one in (whole, lockup))
    assert load.type_metal == pytest.approx(in_pounds(2 * 60 * 120, 0.918, 10.26))
    assert load.metal == pytest.approx(in_pounds(14 * 120, 0.918, 10.26))
    assert load.wood - plain.wood == pytest.approx(in_pounds(10 * 120, 0.625, 0.71))
    assert load.total < plain.total  # the wood is lighter than the type that it stands for


@pytest.mark.parametrize("other", ["unweighed", "of another size", "of another name"])
def test_a_chase_that_nobody_weighed_is_told_and_not_counted(other):
    lockup = sound_lockup()
    shop = shop_of(lockup, None)
    if other != "unweighed":
        name, more = ("some other", 0) if other == "of another name" else (lockup.chase.name, 12)
        shop = replace(shop, chases=(Chase(name, lockup.chase.width + more, lockup.chase.height, 9.0),))
    load = weigh(lockup, shop)
    assert load.chase is None
    assert load.total == pytest.approx(load.type_metal + load.wood + load.quoins)
    words = lockup_weight_words(lockup, shop)
    assert "without its chase" in words and "Weigh the empty chase and add it" in words
    assert "The chase is not in the sum" in load_facts(lockup, shop)


def test_the_words_give_the_sum_and_its_parts():
    lockup = sound_lockup()
    words = lockup_weight_words(lockup, shop_of(lockup, 2.5))
    # By hand: 144 × 120 points are 3.31 square inches, at 0.340 lb 1.13. The wood, 4.85 square inches at 0.016 lb, is
    # 0.08, and the quoins, 0.30 at 0.18, are 0.05. With the chase 3.76.
    assert words.startswith(
        "At most about 3.8 lb (1.7 kg) to lift: type 1.1 lb, wood under 0.1 lb, quoins under 0.1 lb"
    )
    assert words.endswith(", chase 2.5 lb.")


def test_what_isn_t_laid_yet_is_told():
    lockup = replace(sound_lockup(), items=())
    assert lockup_weight_words(lockup, shop_of(lockup, 2.5)).endswith(
        "Wood and quoins that aren't laid yet come on top."
    )
