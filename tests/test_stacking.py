"""Making up totals: a published table of lengths, and trying every way there is."""

from __future__ import annotations

import itertools
import math
from collections import Counter

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from stonework.stacking import Size, Sums, fewest_pieces, places

# J. Southward, Dictionary of Typography (1870s), "Combination leads, clumps, and metal furniture": six stock
# lengths in ems, and how the others are made up with as many as three pieces of them. It gives 38 sums; here are
# those from 8 to 29.
STOCK = (4, 7, 9, 13, 15, 20)
TABLE = {
    8: (4, 4),
    11: (7, 4),
    12: (4, 4, 4),
    14: (7, 7),
    16: (9, 7),
    17: (13, 4),
    18: (9, 9),
    19: (15, 4),
    21: (7, 7, 7),
    22: (15, 7),
    23: (15, 4, 4),
    24: (20, 4),
    25: (9, 9, 7),
    26: (13, 13),
    27: (20, 7),
    28: (15, 13),
    29: (20, 9),
}
PLENTY = dict.fromkeys(STOCK, 99)


def every_sum(stock, most_pieces):
    """Return each total's fewest pieces, by trying every choice of up to that many."""
    found: dict[int, int] = {}
    for pieces in range(1, most_pieces + 1):
        for chosen in itertools.combinations_with_replacement(stock, pieces):
            found.setdefault(sum(chosen), pieces)
    return found


# --- the published table ----------------------------------------------------------------------------------


@pytest.mark.parametrize(("total", "pieces"), TABLE.items())
def test_southwards_table_uses_the_fewest_pieces(total, pieces):
    ours = fewest_pieces(total, PLENTY)
    assert ours is not None
    assert sum(ours) == sum(pieces) == total
    assert len(ours) == len(pieces)
    assert set(ours) <= set(STOCK)


def test_the_only_lengths_up_to_fifty_that_three_pieces_do_not_make():
    # Derived from Southward's six lengths by trying every way.
    ours = {total: fewest_pieces(total, PLENTY) for total in range(1, 51)}
    beyond = {total for total, pieces in ours.items() if pieces is None or len(pieces) > 3}
    assert beyond == {1, 2, 3, 5, 6, 10}
    assert beyond == set(range(1, 51)) - set(every_sum(STOCK, 3))


def test_every_total_up_to_fifty_takes_as_few_pieces_as_trying_every_way_finds():
    # Southward gives 38 sums, besides the six lengths in stock themselves.
    reached = every_sum(STOCK, 3)
    assert len([total for total in range(8, 51) if total in reached and total not in STOCK]) == 38
    for total in range(1, 51):
        pieces = fewest_pieces(total, PLENTY)
        assert (pieces and len(pieces)) == reached.get(total)


def test_every_length_from_51_to_100_takes_six_pieces_or_fewer():
    # Southward, the same entry: what is longer is made up with up to six pieces.
    reached = every_sum(STOCK, 6)
    for total in range(51, 101):
        pieces = fewest_pieces(total, PLENTY)
        assert pieces is not None
        assert sum(pieces) == total
        assert len(pieces) == reached[total] <= 6


# --- against trying every way -----------------------------------------------------------------------------

stocks = st.dictionaries(st.integers(1, 40), st.integers(0, 3), max_size=5)


def every_way(stock):
    """Yield every choice from a stock as a Counter, none included."""
    sizes = sorted(stock)
    for counts in itertools.product(*(range(stock[size] + 1) for size in sizes)):
        yield Counter(dict(zip(sizes, counts, strict=True)))


@given(stocks, st.integers(0, 160))
@example({7: 2, 4: 1}, 18)
@example({6: 3, 12: 1}, 18)
@example({}, 0)
@example({}, 5)
@example({20: 0, 10: 2}, 20)
def test_fewest_pieces_from_a_stock_that_runs_out(stock, total):
    ours = fewest_pieces(total, stock)
    ways = [way for way in every_way(stock) if sum(way.elements()) == total]
    if ours is None:
        assert not ways
    else:
        assert sum(ours) == total
        assert not Counter(ours) - Counter(stock)
        assert list(ours) == sorted(ours, reverse=True)
        assert len(ours) == min(way.total() for way in ways)


@given(st.dictionaries(st.sampled_from([600, 1200, 1800, 2400, 3600, 4800, 6000]), st.integers(0, 40)), st.data())
def test_fewest_pieces_with_many_of_a_size(stock, data):
    # The textbook way: how few pieces make each total, one piece after another.
    most = 60_000
    few = {0: 0}
    for size, count in stock.items():
        for _ in range(count):
            for total, pieces in sorted(few.items(), reverse=True):
                if total + size <= most:
                    few[total + size] = min(pieces + 1, few.get(total + size, pieces + 1))
    total = data.draw(st.sampled_from(sorted(few)) | st.integers(0, 100).map(lambda n: n * 600))
    ours = fewest_pieces(total, stock)
    assert (None if ours is None else len(ours)) == few.get(total)


# --- Sums -------------------------------------------------------------------------------------------------


@st.composite
def sizes(draw) -> list[Size]:
    """Sizes of whole steps, one piece or two at a time, some without end."""
    grid = draw(st.sampled_from([1, 1, 5, 25]))
    many = st.sampled_from([0, 1, 2, 3, math.inf])
    one = st.tuples(st.integers(1, 12).map(lambda n: n * grid), st.integers(1, 2), many)
    return [Size(*size) for size in draw(st.lists(one, max_size=4))]


def every_choice(some, total, cost):
    """Yield how many of each size make a total at a cost, by trying every number of each."""
    for taken in itertools.product(*(range(int(min(size.most, cost)) + 1) for size in some)):
        made = sum(n * size.thickness for n, size in zip(taken, some, strict=True))
        if made == total and sum(n * size.cost for n, size in zip(taken, some, strict=True)) == cost:
            yield taken


TOP = 60


@given(sizes(), st.integers(0, TOP), st.integers(0, 6), st.data())
def test_what_a_cost_makes_is_what_trying_every_choice_makes(some, total, cost, data):
    sums, ways = Sums(some, TOP), set(every_choice(some, total, cost))
    assert sums.can(total, cost) == bool(ways)
    found = list(sums.mixtures(total, cost))
    assert len(found) == len(set(found)) and set(found) == ways
    position = data.draw(st.integers(0, len(some)))
    assert sums.can(total, cost, position) == any(not any(taken[:position]) for taken in ways)


@given(sizes(), st.integers(-3, TOP))
def test_the_fewest_is_the_least_cost_of_trying_every_choice(some, total):
    # A total of TOP steps can't need more pieces than it has steps.
    least = next((cost for cost in range(2 * TOP + 1) if Sums(some, TOP).can(total, cost)), None)
    sums = Sums(some, TOP)
    assert sums.fewest(total) == least
    if least is not None:
        assert total // sums.step in places(sums.any)
        assert not any(next(every_choice(some, total, cost), None) for cost in range(min(least, 5)))


@given(st.integers(0, 2**40), st.integers(-5, 50), st.none() | st.integers(-5, 50))
def test_the_places_of_a_number_are_its_bits(number, low, high):
    written = f"{number:b}"[::-1]
    stop = len(written) if high is None else high + 1
    assert list(places(number, low, high)) == [n for n, bit in enumerate(written) if bit == "1" and low <= n < stop]


def test_what_is_asked_in_another_order_is_answered_alike():
    some, totals = [Size(6, 1, 2), Size(10, 2, math.inf), Size(9, 1, 1)], range(40)
    forward, backward = Sums(some, 40), Sums(some, 40)
    ours = {(total, cost): forward.can(total, cost) for total in totals for cost in range(6)}
    asked = [(total, cost) for total in reversed(totals) for cost in reversed(range(6))]
    assert {(total, cost): backward.can(total, cost) for total, cost in asked} == ours


def test_no_sizes_make_nothing_and_nothing_is_always_made():
    assert Sums([], 20).fewest(0) == 0 and Sums([], 20).fewest(5) is None
    assert list(Sums([], 20).mixtures(0, 0)) == [()] and list(Sums([], 20).mixtures(0, 1)) == []
    assert Sums([Size(4, 1, 1), Size(6, 1, 1)], 20, [4]).step == 2
