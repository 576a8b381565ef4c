"""Balance, against SciPy's linear programming on random sides, and against twenty lockups drawn up beforehand."""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from drawn import Layer, drawn, plain, shop_of, wood
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog
from stonework.lockup import SLACK, Lockup, Side
from stonework.rules import balance, judge
from stonework.rules.linear import least

# --- the reference: forces and moments of every contact, put to SciPy ------------------------------------------


def by_scipy(lockup: Lockup, side: Side) -> tuple[float, float] | None:
    """Return where the push of a side may pass, reckoned afresh; ``None`` if nothing balances.

    Unknown are, for every contact, its force and its moment about the form's corner: the moment lies between the force
    at one end of the contact and at the other. Nothing is shared with the code under test but the record.
    """
    length, gap = lockup.side_length(side), lockup.gap(side)
    items = list(lockup.on(side))
    seen = [lockup.seen_from(side, item) for item in items]
    bodies = [(0.0, length, None, 0.0), *((s.low, s.high, s.near, s.far) for s in seen), (-1e5, 1e5, gap, None)]
    contacts = []
    for i, (low, high, _, far) in enumerate(bodies):
        for j, (other_low, other_high, near, _) in enumerate(bodies):
            if far is not None and near is not None and abs(far - near) <= SLACK:
                a, b = max(low, other_low), min(high, other_high)
                if b - a > SLACK:
                    contacts.append((i, j, a, b))
    n = len(contacts)
    equal, to, below, at_most = [], [], [], []
    for i, j, a, b in contacts:
        k = contacts.index((i, j, a, b))
        for sign, end in ((-1, b), (1, a)):  # a·f ≤ m ≤ b·f
            row = np.zeros(2 * n)
            row[k], row[n + k] = sign * end, -sign
            below.append(row)
            at_most.append(0.0)

    def row(body: int, *, outer: bool, offset: int) -> np.ndarray:
        found = np.zeros(2 * n)
        for k, (i, j, _, _) in enumerate(contacts):
            found[offset + k] = float((i if outer else j) == body)
        return found

    for body in range(1, len(bodies) - 1):
        for offset in (0, n):
            equal.append(row(body, outer=True, offset=offset) - row(body, outer=False, offset=offset))
            to.append(0.0)
    equal.append(row(0, outer=True, offset=0))
    to.append(1.0)
    moment = row(0, outer=True, offset=n)
    for sign, end in ((-1, length / 3 - SLACK), (1, length * 2 / 3 + SLACK)):
        below.append(sign * moment)
        at_most.append(sign * end)
    touched = {j: b - a for i, j, a, b in contacts if i == 0}
    for body in range(1, len(bodies) - 1):
        share = 1 / 50
        if abs(seen[body - 1].near) <= SLACK and body in touched:
            share = max(share, touched[body] / sum(touched.values()) / 4)
        below.append(-row(body, outer=False, offset=0))
        at_most.append(-share)
    quoins = [body for body in range(1, len(bodies) - 1) if items[body - 1].kind == "quoin"]
    for one, other in pairwise(quoins):
        equal.append(row(one, outer=False, offset=0) - row(other, outer=False, offset=0))
        to.append(0.0)
    ends = []
    for sign in (1, -1):
        bounds = [(0, None)] * n + [(None, None)] * n
        answer = linprog(sign * moment, np.array(below), at_most, np.array(equal), to, bounds, method="highs")
        if answer.status != 0:
            return None
        ends.append(float(moment @ answer.x))
    return ends[0], ends[1]


def random_side(rng: random.Random) -> tuple[float, list[Layer]]:
    """Return a side's length and layers: one or two pieces each, sometimes a row of quoins, laid as they may fall."""
    length = rng.choice((96.0, 144.0, 240.0))
    layers: list[Layer] = []
    row_at = rng.choice((None, 1, 2, 3))
    for n in range(rng.randint(1, 5)):
        thickness = rng.choice((6.0, 12.0, 24.0))
        if n == row_at:
            count = rng.randint(1, 3)
            first, step = rng.uniform(-12, length / 2), 36 + rng.uniform(6, 30)
            layers.append([wood(20, 36, first + k * step, "quoin") for k in range(count)])
        elif rng.random() < 0.55:
            size = rng.uniform(0.2, 1.4) * length
            layers.append([wood(thickness, size, rng.uniform(-0.2, 0.9) * length - size / 4)])
        else:
            low, joint = rng.uniform(-30, 30), rng.uniform(0.1, 0.9) * length
            apart = rng.choice((0.0, 0.0, 4.0, 24.0))
            high = length + rng.uniform(-30, 60)
            layers.append(
                [wood(thickness, joint - low, low), wood(thickness, max(6.0, high - joint - apart), joint + apart)]
            )
    return length, layers


def with_bottom(length: float, layers: Sequence[Layer]) -> Lockup:
    other = {side: [[wood(36, 96, 0)]] for side in ("left", "top", "right")}
    return drawn((length, 96.0), {"bottom": layers, **other})


@pytest.mark.parametrize("seed", range(40))
def test_balance_is_what_linear_programming_finds(seed):
    rng = random.Random(seed)
    for _ in range(10):
        lockup = with_bottom(*random_side(rng))
        ours, theirs = balance(lockup, "bottom"), by_scipy(lockup, "bottom")
        assert ours.holds == (theirs is not None), lockup.on("bottom")
        if theirs is not None:
            assert ours.push == pytest.approx(theirs, abs=1e-3)


def test_the_random_sides_are_neither_all_sound_nor_all_plain():
    rng, held, whole = random.Random(1), 0, 0
    for _ in range(300):
        length, layers = random_side(rng)
        held += balance(with_bottom(length, layers), "bottom").holds
        whole += all(len(layer) == 1 for layer in layers)
    assert 30 < held < 270 and 30 < whole < 150


@given(st.data())
def test_the_least_of_a_sum_is_what_scipy_finds(data):
    whole = st.integers(-4, 4)
    wide, high = data.draw(st.integers(1, 6)), data.draw(st.integers(1, 4))
    rows = data.draw(st.lists(st.lists(whole, min_size=wide, max_size=wide), min_size=high, max_size=high))
    right = data.draw(st.lists(whole, min_size=high, max_size=high))
    costs = data.draw(st.lists(st.integers(0, 4), min_size=wide, max_size=wide))  # so that the answer is bounded
    answer = linprog(costs, A_eq=rows, b_eq=right, method="highs")
    found = least(costs, rows, right)
    assert (found is None) == (answer.status == 2)
    if found is not None:
        assert found == pytest.approx(answer.fun, abs=1e-7)


def test_the_worked_cases_of_the_middle_third():
    # Statics: under one push at the edge of the middle third the far end is just not slack (Das, Principles of
    # Foundation Engineering, at second hand: e ≤ B/6). A stick that reaches only to 47 of 144 can't be met there.
    for reach, holds in ((47.9, False), (48.1, True), (95.0, True)):
        lockup = with_bottom(144.0, [[wood(24, 144, 0)], [wood(24, reach + 10, -10)]])
        assert balance(lockup, "bottom").holds == holds
    # A joint anywhere holds between whole pieces, as both halves are met face to face.
    lockup = with_bottom(144.0, [[wood(24, 144, 0)], [wood(24, 20, 0), wood(24, 124, 20)], [wood(24, 150, 0)]])
    assert balance(lockup, "bottom").holds


def test_a_row_of_quoins_may_press_with_either_end_of_each():
    for off, holds in ((41.9, True), (42.2, False)):  # a sixth of 144, and half of 36
        row = [wood(20, 36, 54 + off, "quoin")]
        lockup = with_bottom(144.0, [[wood(24, 150, -3)], row, [wood(6, 150, -3)]])
        assert balance(lockup, "bottom").holds == holds


# --- twenty lockups drawn up from the trade -------------------------------------------------------------------
# Each with what a stonehand would say: sound, or the rule by which it isn't. Common practice, and statics.

S = (240.0, 144.0)  # the form, unless another is given


def with_side(side: Side, layers: Sequence[Layer], **others: Sequence[Layer]) -> Lockup:
    return drawn(S, {**plain(S), side: layers, **others})


def deep(side: Side) -> list[Layer]:
    """Return a side as it is, with twenty picas of wood more against the iron: room for what reaches far out."""
    return [*plain(S)[side], [wood(240, 144, 3 if side == "left" else -3)]]


def one_wedge(length: float) -> list[Layer]:
    reglet = [wood(6, length, 3, "reglet")]
    return [[wood(36, length, 3)], reglet, [wood(0, 36, length / 2 - 18, "quoin")], reglet]


def held_at_one_end() -> list[Layer]:
    """Return a quoin side whose second stick reaches far past the form, with its quoin in the middle of it."""
    reglet = [wood(6, 250, -226, "reglet")]
    return [[wood(36, 240, 3)], [wood(24, 250, -226)], reglet, [wood(0, 36, -100, "quoin")], reglet]


REGLET, ROW = [wood(6, 240, 3, "reglet")], [wood(0, 36, 42, "quoin"), wood(0, 36, 162, "quoin")]

GOOD: Mapping[str, Lockup] = {
    "one stick a side, wedges in the middle": drawn(S, plain(S)),
    "two ends under a whole stick": with_side(
        "bottom", [[wood(24, 240, -3)], [wood(36, 120, -3), wood(36, 120, 117)], [wood(24, 240, -3)]]
    ),
    "two ends outside a whole stick, against the iron": with_side(
        "bottom", [[wood(36, 240, -3)], [wood(24, 124, -6), wood(24, 124, 118)]]
    ),
    "wedges between reglets on a short side": with_side("right", plain(S)["right"]),
    "a one-piece quoin between bare furniture": with_side(
        "top", [[wood(36, 240, 3)], [wood(22, 120, 60, "quoin")], [wood(24, 240, 3)]]
    ),
    "a one-piece quoin that reaches past a narrow form": drawn(
        (102.0, 96.0),
        {**plain((102.0, 96.0)), "top": [[wood(36, 140, 3)], [wood(22, 120, 6, "quoin")], [wood(24, 140, 3)]]},
    ),
    "slugs as long as the form against it": with_side(
        "bottom",
        [[wood(6, 240, 0, "lead")], [wood(36, 240, -3)]],
        right=[
            [(kind, thick, min(138, length), max(3, low)) for kind, thick, length, low in layer]
            for layer in plain(S)["right"]
        ],
    ),
    "metal furniture at the form, wood at the iron": with_side(
        "left", [[wood(24, 144, 0, "metal")], [wood(36, 144, 3)]]
    ),
    "two wedges of a row that stand a little off the middle": with_side(
        "top", [[wood(36, 240, 3)], REGLET, [wood(0, 36, 54, "quoin"), wood(0, 36, 174, "quoin")], REGLET]
    ),
    "sticks that grow longer outward": with_side(
        "bottom", [[wood(24, 234, 3)], [wood(24, 240, -3)], [wood(24, 262, -25)]]
    ),
}

BAD: Mapping[str, tuple[Lockup, str]] = {
    "a stick held on two picas at one end, at the foot": (
        with_side("bottom", [[wood(36, 240, -3)], [wood(24, 130, 213)]], right=deep("right")),
        "in balance",
    ),
    "a stick held on two picas at one end, inside the quoins": (
        with_side("top", held_at_one_end(), left=deep("left")),
        "in balance",
    ),
    "a stick pushed twenty picas along": (
        with_side("bottom", [[wood(36, 240, -3)], [wood(24, 240, 197)], [wood(24, 240, -3)]], right=deep("right")),
        "in balance",
    ),
    "quoins at one end of a side": (
        with_side("top", [[wood(36, 240, 3)], REGLET, [wood(0, 36, 5, "quoin")], REGLET]),
        "in balance",
    ),
    "a tower of five square sticks": (
        with_side("left", [[wood(36, 144, 3)], *[[wood(24, 24, 60)]] * 5]),
        "no towers",
    ),
    "wedges on a thin reglet over a hollow": (
        with_side("top", [[wood(36, 80, 3), wood(36, 80, 163)], REGLET, [wood(0, 36, 102, "quoin")], REGLET]),
        "no reglet over a hollow",
    ),
    "joint over joint": (
        with_side("bottom", [[wood(24, 240, -3)], *[[wood(24, 120, -3), wood(24, 120, 117)]] * 2]),
        "no joint over a joint",
    ),
    "one small wedge for thirty picas": (
        drawn(
            (360.0, 144.0),
            {
                **plain((360.0, 144.0)),
                "top": [
                    [wood(36, 360, 3)],
                    [wood(6, 360, 3, "reglet")],
                    [wood(0, 36, 162, "quoin")],
                    [wood(6, 360, 3, "reglet")],
                ],
            },
        ),
        "quoins enough",
    ),
    "a slug between wedge and furniture": (
        with_side("top", [[wood(36, 240, 3)], [wood(6, 240, 3, "lead")], ROW, REGLET]),
        "metal against quoin or chase",
    ),
    "a stick too short for the form": (
        with_side("bottom", [[wood(36, 200, -3)]]),
        "backed to its ends",
    ),
}


@pytest.mark.parametrize("name", GOOD)
def test_ten_good_lockups_have_no_finding_at_all(name):
    lockup = GOOD[name]
    assert judge(lockup, shop_of(lockup)) == []
    assert all(by_scipy(lockup, side) is not None for side in ("bottom", "left", "top", "right"))


@pytest.mark.parametrize("name", BAD)
def test_ten_bad_lockups_are_found_by_their_rule(name):
    lockup, rule = BAD[name]
    found = {finding.rule for finding in judge(lockup, shop_of(lockup))}
    assert rule in found
    assert found <= {rule, "longer outward", "quoins on wood all along", "backed to its ends"} | (
        {"quoins enough"} if rule == "in balance" else set()
    )


def test_a_finding_out_of_balance_says_where_the_push_would_have_to_pass():
    lockup, _ = BAD["a stick pushed twenty picas along"]
    (finding,) = (one for one in judge(lockup, shop_of(lockup)) if one.rule == "in balance")
    assert finding.push.side == "bottom"
    assert (finding.push.low, finding.push.high) == pytest.approx((80, 160), abs=0.1)
    assert "between 6 picas 8" in finding.why.replace("7.9", "8") or "6 picas 7.9 pt" in finding.why
    assert [item.order for item in finding.items] == [2]


def test_what_is_turned_over_balances_as_before():
    # The pieces of a side mirrored end for end: the push passes mirrored too.
    rng = random.Random(7)
    for _ in range(40):
        length, layers = random_side(rng)
        turned = [[(k, t, size, length - low - size) for k, t, size, low in reversed(layer)] for layer in layers]
        one, other = balance(with_bottom(length, layers), "bottom"), balance(with_bottom(length, turned), "bottom")
        assert one.holds == other.holds
        if one.holds:
            assert one.push == pytest.approx((length - other.push[1], length - other.push[0]), abs=1e-6)


def test_a_lockup_that_is_only_moved_balances_as_before():
    lockup = GOOD["two ends under a whole stick"]
    moved = replace(
        lockup,
        chase=replace(lockup.chase, width=lockup.chase.width),
        items=tuple(replace(item, order=item.order + 3) for item in lockup.items),
    )
    assert balance(moved, "bottom") == balance(lockup, "bottom")._replace(stops=())


def test_courses_of_two_ends_with_their_joints_together_balance():
    # Drawn from a lockup that the simplex, troubled by rounding, once refused and SciPy didn't. Each half of the side
    # carries its own quoin, so the push passes straight through.
    half, length = 455.24, 900.0
    layers = [
        *([wood(t, half, at), wood(t, half, at + half)] for t, at in ((56.9, 0.0), (22.8, 6.0), (128.0, 0.0))),
        [wood(29.1, 241.8, 110.0, "quoin"), wood(29.1, 241.8, 554.0, "quoin")],
        [wood(22.8, 739.8, 80.0)],
    ]
    lockup = with_bottom(length, layers)
    expected = by_scipy(lockup, "bottom")
    assert expected is not None and balance(lockup, "bottom").holds
    assert balance(lockup, "bottom").push == pytest.approx(expected, abs=0.01)


def test_a_shorter_stick_outside_the_quoins_is_no_fault_of_order():
    sides = plain(S)
    sides["top"][0] = [wood(36, 300, -3)]
    sides["top"][1] = [wood(6, 320, -3, "reglet")]
    sides["top"][-1] = [wood(24, 240, 3)]  # furniture outside, shorter than the furniture inside
    lockup = drawn(S, sides)
    assert "longer outward" not in {finding.rule for finding in judge(lockup, shop_of(lockup))}
