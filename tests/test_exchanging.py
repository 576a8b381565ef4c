"""Exchanging wood between opposite sides: exact, with the fewest pieces, against trying every way."""

from __future__ import annotations

from collections import Counter
from itertools import product

from hypothesis import given
from hypothesis import strategies as st
from stonework.exchanging import Exchange, exchange

SIZES = (6.0, 12.0, 24.0, 36.0)
sides = st.lists(st.sampled_from(SIZES), max_size=4)
stocks = st.dictionaries(st.sampled_from(SIZES), st.integers(0, 3))


def piles(stock: Counter[float], most: int) -> list[Counter[float]]:
    """Return every pile of at most so many pieces that a stock allows."""
    sizes = sorted(stock)
    counts = product(*(range(min(most, stock[size]) + 1) for size in sizes))
    return [Counter(dict(zip(sizes, count, strict=True))) for count in counts if sum(count) <= most]


def fewest_by_trying(here, there, by, spare) -> int | None:
    """Return the fewest pieces handled, over every way to take out and put in at most two a side."""
    best = None
    for out_here, out_there in product(piles(Counter(here), 2), piles(Counter(there), 2)):
        free = Counter(spare) + out_here + out_there
        for in_here in piles(free, 2):
            if _sum(in_here) - _sum(out_here) != by:
                continue
            for in_there in piles(free - in_here, 2):
                if _sum(out_there) - _sum(in_there) != by:
                    continue
                handled = sum(pile.total() for pile in (out_here, in_here, out_there, in_there))
                handled -= (out_here & in_there).total() + (out_there & in_here).total()
                best = handled if best is None else min(best, handled)
    return best


def _sum(pile: Counter[float]) -> float:
    return sum(size * count for size, count in pile.items())


@given(sides, sides, st.sampled_from([-18.0, -12.0, -6.0, 0.0, 6.0, 12.0, 30.0]), stocks)
def test_it_handles_as_few_pieces_as_any_way_there_is(here, there, by, spare):
    found = exchange(here, there, by, spare, most=2)
    assert (found and found.handled) == fewest_by_trying(here, there, by, spare)


@given(sides, sides, st.sampled_from([-12.0, 6.0, 18.0]), stocks)
def test_one_side_gains_what_the_other_loses_and_no_piece_comes_from_nowhere(here, there, by, spare):
    found = exchange(here, there, by, spare)
    if found is None:
        return
    assert sum(found.in_here) - sum(found.out_here) == by == sum(found.out_there) - sum(found.in_there)
    assert Counter(found.out_here) <= Counter(here) and Counter(found.out_there) <= Counter(there)
    free = Counter(spare) + Counter(found.out_here) + Counter(found.out_there)
    assert Counter(found.in_here) + Counter(found.in_there) <= free


def test_a_pica_that_lies_there_simply_changes_sides():
    found = exchange([60, 24], [36, 12], 12, {6: 4, 12: 4})
    assert found == Exchange((), (12,), (12,), ()) and found.handled == 1


def test_what_no_wood_makes_up_is_said():
    assert exchange([60, 24], [36, 12], 7, {6: 9, 12: 9}) is None


def test_no_move_handles_nothing():
    assert exchange([60], [36], 0, {6: 1}) == Exchange((), (), (), ())
