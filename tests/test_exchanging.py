"""Moving a form by exchanging wood, against trying every way; turning one with strips, against turned rectangles."""

from __future__ import annotations

import itertools
from collections import Counter
from itertools import product

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from stonework.moving import CARD, Exchange, Moved, between, exchange, move_form, turning_strips

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


# --- turning -------------------------------------------------------------------------------------------------


@given(st.integers(100, 600), st.integers(100, 600), st.floats(0.5, 6), st.sampled_from([1, -1]))
def test_the_strips_fill_what_opens_between_the_turned_form_and_its_wood(width, height, fall, way):
    # The form stands crooked on the stone, anticlockwise if ``way`` is 1, by so many points in 600.
    square = shapely.box(0, 0, width, height)
    line = shapely.LineString([(0, height), (width, height)])
    angle = way * fall / 600
    crooked = affinity.rotate(line, angle, origin=(0, 0), use_radians=True)
    read = affinity.scale(crooked, xfact=-1, origin=(0, 0))  # what it prints, as one reads it
    (x1, y1), (x2, y2) = sorted(read.coords)
    strips = turning_strips("left" if y1 < y2 else "right", abs(y2 - y1), x2 - x1, width, height)
    # The wood lies along the crooked form. Seen from the wood, the form turns back by as much.
    straight = affinity.rotate(square, -angle, use_radians=True)
    left, low, right, high = straight.bounds
    for strip in strips:
        spot = shapely.Point(
            width if "right" in strip[:2] else 0,
            height if "top" in strip[:2] else 0,
        )
        spot = affinity.rotate(spot, -angle, square.centroid, use_radians=True)
        opened = {"bottom": spot.y - low, "top": high - spot.y, "left": spot.x - left, "right": right - spot.x}
        assert opened[strip.side] == pytest.approx(strip.thickness, rel=1e-3)
    assert {strip.side for strip in strips} == {"bottom", "left", "top", "right"}


def test_a_strip_is_to_its_side_as_the_fall_is_to_the_line():
    # The worked figure of lesson 2, by similar triangles: 2 points in a line of 18 picas, on a form of 27 × 18.
    strips = turning_strips("right", 2, 18 * 12, 27 * 12, 18 * 12)
    assert strips == (("bottom", "left", 3), ("top", "right", 3), ("left", "top", 2), ("right", "bottom", 2))


# --- moving against the quoins ---------------------------------------------------------------------------------

few = st.lists(st.sampled_from([2.0, 3.0, 6.0, 12.0, 24.0]), max_size=3)


def takings(side):
    return [out for n in range(len(side) + 1) for out in itertools.combinations(side, n)]


@settings(max_examples=60)
@given(
    solid=few,
    inside=few,
    by=st.sampled_from([-6.0, -2.0, 0.0, 1.0, 2.5, 3.0, 9.0]),
    spare=st.dictionaries(st.sampled_from([1.0, 2.0, 6.0, 12.0]), st.integers(1, 2), max_size=3),
    opening=st.sampled_from([0.0, 1.0, 3.5]),
)
def test_a_form_is_moved_with_the_fewest_pieces_and_quoins_within_their_range(solid, inside, by, spare, opening):
    # Every way there is, tried one by one, with up to two pieces put in at either side.
    moved = move_form(solid, inside, by, spare, opening, 7.0, most=2)
    sign = 1 if by >= 0 else -1
    sizes = sorted({*spare, *solid, *inside})
    puts = [put for n in range(3) for put in itertools.combinations_with_replacement(sizes, n)]
    best = None
    for out, into in itertools.product((t for t in takings(solid) if len(t) < 3), puts):
        way = sign * (sum(into) - sum(out))
        if not abs(by) - CARD - 1e-9 <= way <= abs(by) + 1e-9 or way < -1e-9:
            continue
        for out_there, in_there in itertools.product((t for t in takings(inside) if len(t) < 3), puts):
            after = opening - sign * way - (sum(in_there) - sum(out_there))
            there_is = Counter(spare) + Counter(out) + Counter(out_there)
            if -1e-9 <= after <= 7 + 1e-9 and Counter(into) + Counter(in_there) <= there_is:
                handled = Exchange(out, into, out_there, in_there).handled
                rank = (round(abs(by) - way, 6), handled)
                best = min(best or rank, rank)
    assert (moved is None) == (best is None)
    if moved is not None:
        assert (moved.left_over, moved.handled) == pytest.approx(best)
        way = sum(moved.in_solid) - sum(moved.out_solid)
        assert way == pytest.approx(by - sign * moved.left_over)
        change = sum(moved.in_quoins) - sum(moved.out_quoins)
        assert moved.opening == pytest.approx(opening - way - change) and -1e-9 <= moved.opening <= 7 + 1e-9


def test_a_form_is_moved_by_pieces_that_only_change_sides():
    # 12 points lie at one side and are wanted at the other, and the cabinet has none.
    there = move_form([60, 24], [36, 12], 12, {}, opening=4, most_open=8)
    assert there == Moved((), (12,), (12,), (), 4, 0) and there.handled == 1
    back = move_form([60, 12], [36], -12, {}, opening=4, most_open=8)
    assert back == Moved((12,), (), (), (12,), 4, 0) and back.handled == 1


def test_between_two_sides_the_cabinet_has_what_is_left_of_their_lengths(built, breakwater):
    for lockup in built.values():
        used = Counter(item.material for item in lockup.pieces)
        for side, other in (("bottom", "top"), ("left", "right")):
            lying = [item.length for one in (side, other) for item in lockup.on(one) if item.kind != "quoin"]
            left = Counter[float]()
            for material, count in [*breakwater.stock.items(), *breakwater.strips.items()]:
                if min(lying) <= material.length <= max(lying):
                    left[material.thickness] += count - used[material]
            assert between(lockup, breakwater, side) == between(lockup, breakwater, other) == left


def test_no_piece_is_put_in_that_is_not_there():
    # 12 points more at the solid side are two sixes, and a piece of 13 comes out at the other: a point is left open.
    moved = move_form([24.0], [13.0], 12.0, {6.0: 2}, 0.0, 7.0)
    assert (moved.in_solid, moved.out_quoins, moved.opening) == ((6, 6), (13,), 1)
    assert move_form([24.0], [13.0], 12.0, {6.0: 1}, 0.0, 7.0) is None
