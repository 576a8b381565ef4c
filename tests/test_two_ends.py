"""Two sticks end to end in one course: which may lie there, and who gets which, against trying every way."""

from __future__ import annotations

from collections import Counter
from itertools import permutations

from hypothesis import example, given, settings
from hypothesis import strategies as st
from stonework.choosing.courses import Place
from stonework.choosing.dealing import Wish, deal

places = st.builds(
    Place,
    length=st.just(24),
    cover=st.tuples(st.integers(0, 3), st.integers(21, 24)),
    reach=st.tuples(st.integers(0, 4), st.integers(0, 4)),
    joint=st.tuples(st.integers(3, 8), st.integers(16, 21)),
)
sticks = st.dictionaries(st.integers(4, 20), st.integers(1, 2), max_size=4)


def starts(place: Place, first: int, second: int) -> list[int]:
    """Try every start: the form covered, neither end too far out, and the joint where it may be."""
    return [
        start
        for start in range(-place.reach[0], place.length)
        if start <= place.cover[0]
        and place.cover[1] <= start + first + second <= place.length + place.reach[1]
        and place.joint[0] <= start + first <= place.joint[1]
    ]


@given(place=places, lengths=sticks, below=st.integers(8, 21))
def test_the_pairs_that_may_lie_somewhere(place, lengths, below):
    there = tuple(sorted(lengths.items()))
    expected = [
        (first, second)
        for first in sorted(lengths)
        for second in sorted(lengths)
        if max(first, second) < below and starts(place, first, second) and (first != second or lengths[first] > 1)
    ]
    assert list(place.pairs(there, below)) == expected
    for first, second in expected:
        low, high = place.starts(first, second)
        assert [*range(low, high + 1)] == starts(place, first, second)


@settings(max_examples=150)
@given(
    place=places,
    lengths=sticks,
    pairs=st.lists(st.tuples(st.integers(18, 26), st.integers(0, 4)), max_size=2),
    singles=st.lists(st.tuples(st.integers(4, 20), st.integers(0, 4)), max_size=2),
)
@example(place=Place(24, (0, 24), (0, 0), (3, 21)), lengths={10: 1, 14: 1}, pairs=[(20, 4)], singles=[])
def test_ends_and_whole_sticks_are_dealt_if_they_can_be(place, lengths, pairs, singles):
    wishes = [Wish(low, low + more, place, 21) for low, more in pairs] + [
        Wish(low, low + more) for low, more in singles
    ]
    all_sticks = [length for length, count in lengths.items() for _ in range(count)]
    needed = 2 * len(pairs) + len(singles)

    def met(way: tuple[int, ...]) -> bool:
        ends = list(zip(way[0 : 2 * len(pairs) : 2], way[1 : 2 * len(pairs) : 2], strict=True))
        return all(
            wish.low <= sum(two) <= wish.high and starts(place, *two) for wish, two in zip(wishes, ends, strict=False)
        ) and all(
            wish.low <= one <= wish.high for wish, one in zip(wishes[len(pairs) :], way[2 * len(pairs) :], strict=True)
        )

    given_to = deal(tuple(sorted(lengths.items())), wishes)
    assert (given_to is not None) == any(map(met, permutations(all_sticks, needed)))
    if given_to is not None:
        used = tuple(length for some in given_to for length in some)
        assert met(used) and not Counter(used) - Counter(all_sticks)


def test_ends_that_are_settled_are_given_as_they_are_and_not_twice():
    place = Place(24, (0, 24), (0, 0), (3, 21))
    settled = Wish(24, 24, place, 21, (10, 14))
    assert deal(((10, 1), (14, 1)), [settled]) == [(10, 14)]
    assert deal(((10, 1), (14, 2)), [settled, Wish(14, 14)]) == [(10, 14), (14,)]
    assert deal(((10, 1), (14, 1)), [settled, Wish(14, 14)]) is None
    assert deal(((10, 1), (14, 2)), [settled, settled]) is None


def test_what_was_tried_in_vain_is_laid_back():
    # Ends of 8 and 12 would do for the first course, but then no two are left that make 22 for the second.
    place = Place(24, (3, 21), (4, 4), (3, 21))
    given_to = deal(((8, 1), (10, 1), (12, 1), (14, 1)), [Wish(20, 24, place, 21), Wish(22, 22, place, 21)])
    assert given_to is not None
    assert sorted(map(sorted, given_to)) == [[8, 14], [10, 12]]
