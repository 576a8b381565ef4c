"""Making up totals: a published table of lengths, and trying every way there is."""

from __future__ import annotations

import itertools
from collections import Counter

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from stonework.stacking import Sums, fewest_pieces

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
def questions(draw):
    """Sizes and counts, from where on some are required, and a window."""
    sizes = draw(st.lists(st.integers(1, 30), min_size=1, max_size=4))
    grid = draw(st.sampled_from([1, 1, 5, 25]))
    counts = draw(st.lists(st.integers(0, 3), min_size=len(sizes), max_size=len(sizes)))
    required_from = draw(st.integers(0, len(sizes)))
    required = draw(st.integers(0, 3))
    low = draw(st.integers(-10, 200))
    return [size * grid for size in sizes], counts, required, required_from, low, low + draw(st.integers(0, 40))


def every_choice(sizes, counts, position):
    """Yield every choice of the sizes from a position on, as counts for all positions."""
    ranges = [range(count + 1 if i >= position else 1) for i, count in enumerate(counts)]
    yield from itertools.product(*ranges)


def allowed(chosen, position, required, required_from, owed):
    """Say whether a choice has as many pieces of the required sizes as are asked for at that position."""
    if position >= required_from:
        return sum(chosen) >= owed
    return sum(chosen[required_from:]) >= required


@settings(max_examples=500)
@given(questions(), st.integers(0, 4), st.data())
def test_fewest_against_trying_every_way(question, owed, data):
    sizes, counts, required, required_from, low, high = question
    position = data.draw(st.integers(0, len(sizes)))
    sums = Sums(sizes, counts, 300, required=required, required_from=required_from)
    ways = [
        sum(chosen)
        for chosen in every_choice(sizes, counts, position)
        if low <= sum(n * size for n, size in zip(chosen, sizes, strict=True)) <= min(high, 300)
        and allowed(chosen, position, required, required_from, owed)
    ]
    ours = sums.fewest(position, low, high, owed)
    assert ours == min(ways, default=None)
    assert sums.fewest(position, low, high, owed) == ours  # from memory


@settings(max_examples=500)
@given(questions(), st.integers(0, 4), st.integers(0, 6), st.data())
def test_can_against_trying_every_way(question, owed, pieces, data):
    sizes, counts, required, required_from, low, high = question
    position = data.draw(st.integers(0, len(sizes)))
    sums = Sums(sizes, counts, 300, required=required, required_from=required_from)
    ways = [
        chosen
        for chosen in every_choice(sizes, counts, position)
        if low <= sum(n * size for n, size in zip(chosen, sizes, strict=True)) <= min(high, 300)
        and sum(chosen) == pieces
        and allowed(chosen, position, required, required_from, owed)
    ]
    assert sums.can(position, low, high, pieces, owed) == bool(ways)


@given(questions())
def test_totals_against_trying_every_way(question):
    sizes, counts, _, _, low, high = question
    totals = {sum(n * size for n, size in zip(chosen, sizes, strict=True)) for chosen in every_choice(sizes, counts, 0)}
    assert Sums(sizes, counts, 300).totals(low, high) == sorted(
        total for total in totals if max(low, 1) <= total <= min(high, 300)
    )


@given(questions())
def test_what_is_asked_first_does_not_matter(question):
    sizes, counts, required, required_from, low, high = question
    assume(sum(counts) > 0)
    one = Sums(sizes, counts, 300, required=required, required_from=required_from)
    other = Sums(sizes, counts, 300, required=required, required_from=required_from)
    positions = range(len(sizes) + 1)
    upward = {p: one.fewest(p, low, high) for p in positions}
    one_can = {(p, n): one.can(p, low, high, n) for p in positions for n in range(5)}
    other_can = {(p, n): other.can(p, low, high, n) for n in reversed(range(5)) for p in reversed(positions)}
    downward = {p: other.fewest(p, low, high) for p in reversed(positions)}
    assert upward == downward
    assert one_can == other_can


def test_two_reglets_are_owed_whatever_else_would_do():
    # Furniture of 24 and reglets of 6 and 12 points, two reglets owed: 24 is made of reglets, not furniture.
    sums = Sums([24, 12, 6], [5, 5, 5], 100, required=2, required_from=1)
    assert sums.fewest(0, 24, 24) == 2
    assert sums.fewest(0, 48, 48) == 3
    assert sums.fewest(0, 23, 23) is None
    assert sums.fewest(0, 6, 6) is None
    assert Sums([24, 12, 6], [5, 5, 5], 100).fewest(0, 24, 24) == 1
    assert Sums([24, 12, 6], [5, 1, 0], 100, required=2, required_from=1).fewest(0, 36, 36) is None
    # One piece of furniture and one reglet make 36; with two reglets owed it takes three of 12.
    assert Sums([24, 12], [1, 5], 100, required=2, required_from=1).fewest(0, 36, 36) == 3


def test_nothing_is_made_of_no_pieces():
    sums = Sums([4, 6], [1, 1], 20)
    assert sums.fewest(0, 0, 0) == 0
    assert sums.totals(0, 20) == [4, 6, 10]
    assert Sums([], [], 20).fewest(0, 0, 5) == 0
    assert Sums([], [], 20).totals(0, 20) == []


def test_nothing_makes_up_less_than_nothing():
    assert fewest_pieces(-5, {1: 3, 5: 3}) is None
    assert fewest_pieces(0, {1: 3}) == ()
