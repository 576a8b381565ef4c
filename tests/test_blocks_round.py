"""The blocks that a form may be built up to before it is locked up: as it is for its quoins, a pica more, two more."""

from __future__ import annotations

import pytest
from stonework.choosing.building_up import blocks_round, outline_of
from stonework.form import Form
from stonework.lockup import Block, PlacedForm


@pytest.mark.parametrize(
    ("form", "chase", "sizes"),
    [
        # Large enough for its quoins as it is, so it need not be built up for them.
        ((240, 144), "8 × 12", [(252, 156), (264, 168)]),
        # A line too low for its quoins grows by 30 points above and below.
        ((240, 24), "5 × 8", [(240, 84), (252, 84), (264, 84)]),
        # In a chase of 578 points a block of 584 has no place.
        ((560, 300), "5 × 8", [(572, 312)]),
        ((560, 345), "5 × 8", [(572, 357)]),
        ((572, 349), "5 × 8", []),
    ],
)
def test_a_form_is_built_up_by_a_pica_at_a_time_while_the_chase_has_room(breakwater, form, chase, sizes):
    made = blocks_round(Form(*form), breakwater.chase(chase), breakwater, [breakwater.quoin("medium wedge")])
    assert [(block.width, block.height) for block in made] == sizes


def test_a_block_is_locked_up_to_the_hundredth_of_a_point():
    block = Block((PlacedForm(3.0, 4.0, 100.1234, 50.4567),), ())
    assert outline_of(block) == Form(100.12, 50.46)
