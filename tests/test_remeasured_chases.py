"""A lockup in a chase that was measured anew: what moves with which side, and what is said of it."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from stonework.lockup import Block, Lockup, PlacedForm, lay
from stonework.records import in_this_shop
from stonework.shop import Chase, Shop

FORM = PlacedForm(60.0, 48.0, 144.0, 120.0)


def measured(lockup: Lockup, wider: float, higher: float):
    """Return what becomes of a lockup in a chase so much wider and higher than it was."""
    chase = replace(lockup.chase, width=lockup.chase.width + wider, height=lockup.chase.height + higher)
    return in_this_shop(lockup, Shop("s", (chase,), Counter(), ()))


def with_quoin(side: str) -> Lockup:
    """Return a form in its chase with nothing beside it but a quoin on one side."""
    quoin = lay(FORM, side, 1, "quoin", thickness=20, length=36, low=40, near=0)
    return Lockup(Chase("small", 274.0, 225.0), FORM, "by hand", (quoin,), block=Block((FORM,), ()))


@pytest.mark.parametrize(
    ("wider", "higher", "said"),
    [
        (4.0, 0.0, "4 pt wider than"),
        (-4.0, 0.0, "4 pt narrower than"),
        (0.0, 4.5, "4.5 pt higher than"),
        (4.0, -4.5, "4 pt wider and 4.5 pt lower than"),
        (0.04, 0.0, ""),
    ],
)
def test_what_has_changed_is_said(sound, wider, higher, said):
    words = measured(sound, wider, higher).words
    expected = f"The small chase now measures {said} when this was laid. The wood stays against its solid sides"
    assert words.startswith(expected) if said else not words


@pytest.mark.parametrize(("side", "moved"), [("left", (4, 0)), ("bottom", (0, 6)), ("right", (0, 0)), ("top", (0, 0))])
def test_a_form_goes_with_the_solid_side_and_its_block_with_it(side, moved):
    # The side across from the only quoin is solid; what isn't squeezed between two sides stays where it is.
    found = measured(with_quoin(side), 4, 6).lockup
    assert (found.form.x - FORM.x, found.form.y - FORM.y) == moved
    assert found.block.outline == found.form
    quoin = found.items[0]
    assert quoin.thickness == 20 + (4 if side in ("left", "right") else 6)
    assert found.seen_from(side, quoin).near == 0


def test_a_chase_that_is_another_is_told_with_both_sizes(sound):
    sizes = r"of 22 picas 10 pt × 18 picas 9 pt; this shop's measures 25 picas 10\.3 pt × 18 picas 9 pt, "
    with pytest.raises(ValueError, match=sizes):
        measured(sound, 36.26, 0.0)


def test_a_quoin_against_the_iron_at_the_top_goes_with_the_iron(sound):
    found = measured(sound, 0.0, 4.5).lockup
    outer, quoin = found.layers("top")[-1][0], found.quoins("top")[0]
    assert found.chase.height - outer.y - outer.height == pytest.approx(0)
    assert quoin.thickness == pytest.approx(25.5) and outer.y == pytest.approx(quoin.y + quoin.height)
