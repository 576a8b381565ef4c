"""A form turned in its chase: where its sides come to lie, and what is written of it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from stonework.lockup import (
    NO_JOB,
    SIDES,
    Block,
    Filling,
    Job,
    Lockup,
    PlacedForm,
    as_read,
    quarters_from,
    turned_side,
)

# Which side of a page comes to lie where, once its head has been turned: a quarter to the left is one place on.
ROUND = ("top", "left", "bottom", "right")


@pytest.mark.parametrize(("quarters", "head"), [*enumerate(ROUND)])
def test_a_head_turned_by_quarters_to_the_left(quarters, head):
    assert quarters_from("top", head) == quarters
    assert (quarters_from("top", head) + quarters_from(head, "top")) % 4 == 0
    assert turned_side("top", head) == head
    assert [turned_side(side, head) for side in ROUND] == [*ROUND[quarters:], *ROUND[:quarters]]


def test_a_page_is_read_upright_however_it_lies():
    lying = PlacedForm(10, 20, 300, 200)
    assert {head: as_read(lying, head) for head in SIDES} == {
        "top": (300, 200),
        "bottom": (300, 200),
        "left": (200, 300),
        "right": (200, 300),
    }


def test_a_block_turned_a_quarter_to_the_left_has_its_right_side_at_the_top():
    left, right = PlacedForm(10, 20, 100, 50), PlacedForm(122, 20, 30, 50)
    gutter = Filling("metal", 12, 50, 110, 20, 12, 50)
    block = Block((left, right), (gutter,))
    turned = block.turned(1)
    below, above = turned.forms
    assert (below.width, below.height) == (50, 100) and (above.width, above.height) == (50, 30)
    assert above.y == below.y + below.height + 12 and above.x == below.x
    assert (turned.width, turned.height) == (block.height, block.width) == (50, 142)
    assert turned.materials == block.materials
    assert block.turned(4) == block.turned(0) == block and block.turned(-1) == block.turned(3) != turned


def test_a_block_of_nothing_has_no_outline():
    with pytest.raises(ValueError, match="holds one form or more"):
        _ = Block((), ()).outline


def test_which_way_the_head_points_and_whose_it_is_are_kept_where_they_say_something(sound):
    assert {"head", "job"}.isdisjoint(sound.to_dict())
    job = replace(NO_JOB, name="Harbour dues", press="small press")
    kept = replace(sound, head="left", job=job)
    record = kept.to_dict()
    assert record["head"] == "left" and record["job"] == {"name": "Harbour dues", "press": "small press"}
    assert Lockup.from_dict(record) == kept and isinstance(Lockup.from_dict(record).job, Job)
    with pytest.raises(ValueError, match=r"'up'.*bottom, left, top, right"):
        Lockup.from_dict({**record, "head": "up"})
