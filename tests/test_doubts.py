"""How sure an answer of the solver is: what is said where it isn't proved the best."""

from __future__ import annotations

import pytest
from stonework.choosing.answer import Answer


@pytest.mark.parametrize(
    ("pieces", "fewest", "doubt"),
    [
        (20, 20, "It isn't proved the best: with as many pieces, another may stand better."),
        (20, 19, "It isn't proved the best: 20 pieces where 19 may do."),
        (20, 16, "It isn't proved the best: 20 pieces where 16 may do."),
        (20, 15, "It isn't proved the best."),  # a bound so far off says nothing
    ],
)
def test_a_doubt_says_by_how_much_it_may_be_off(sound, pieces, fewest, doubt):
    assert Answer(sound, pieces, fewest, proved=False).doubt == doubt
    assert Answer(sound, pieces, fewest, proved=True).doubt == ""
