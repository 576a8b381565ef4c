"""The chooser against CP-SAT (OR-tools) on random cases, and CP-SAT against plain enumeration on tiny ones.

The rules are written out twice more here, without the model's short cuts: ``faults`` looks for breaches of
them in a lockup as it lies, and ``by_hand`` tries every way to fill a tiny chase. Lengths are whole numbers
of half hundredths of a point, as the middle of an odd length needs.
"""

from __future__ import annotations

import copy
import functools
import itertools
import math
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from types import MappingProxyType
from typing import Any

import pytest
from cases import ARRANGEMENTS, SOLID_SIDES, Case, random_case, tiny_case
from reference_model import Optimum, optimum
from stonework.choosing import NoLockup, choose_lockup
from stonework.form import Form
from stonework.shop import Chase, Material, Quoin, Shop

CASES = range(300)
TINY_CASES = range(80)
MORE_TINY_CASES = range(80, 400)

SIDES = ("bottom", "left", "top", "right")
ENDS = {"bottom": ("left", "right"), "top": ("left", "right"), "left": ("bottom", "top"), "right": ("bottom", "top")}

# The corners each side runs through, by the neighbour that stops short there.
THROUGH = {
    "pinwheel-clockwise": {"bottom": {"left"}, "left": {"top"}, "top": {"right"}, "right": {"bottom"}},
    "pinwheel-anticlockwise": {"bottom": {"right"}, "right": {"top"}, "top": {"left"}, "left": {"bottom"}},
    "top-and-bottom-through": {"bottom": {"left", "right"}, "top": {"left", "right"}, "left": set(), "right": set()},
    "left-and-right-through": {"left": {"bottom", "top"}, "right": {"bottom", "top"}, "bottom": set(), "top": set()},
}

Pile = Counter[Material]


def grid(points: float) -> int:
    return 2 * round(100 * points)


def place(points: float) -> int:
    return round(200 * points)


# Every length read in is rounded to a hundredth of a point, and a long row of quoins is drawn from a dozen.
SLACK = grid(0.1)


class Rules:
    """A case's rules for one arrangement, in half hundredths of a point."""

    def __init__(self, case: Case, arrangement: str) -> None:
        options = case.options
        quoin = options.get("quoin") or case.shop.quoins[0]
        other = ("name", "kind", "turn", "bears_on", "count", "keys")  # the solver asks nothing of these
        self.quoin = {name: grid(getattr(quoin, name)) for name in Quoin.__slots__ if name not in other}
        form, chase = case.form, case.chase
        self.form, self.chase = [(grid(sheet.width), grid(sheet.height)) for sheet in (form, chase)]
        target = options.get("target") or ((chase.width - form.width) / 2, (chase.height - form.height) / 2)
        self.target = grid(target[0]), grid(target[1])
        self.tolerance = grid(options.get("tolerance", 6.0))
        self.clear, self.unbacked = grid(options.get("clear", 3.0)), grid(options.get("unbacked", 6.0))
        self.solid = options.get("solid", ("bottom", "left"))
        self.through = THROUGH[arrangement]
        self.stock = Counter[Material]()
        for size, count in case.shop.stock.items():
            self.stock[Material(size.kind, grid(size.thickness), grid(size.length))] += count

    def along(self, side: str) -> int:
        return self.form[0] if side in ("bottom", "top") else self.form[1]

    def gaps(self, x: int, y: int) -> dict[str, int]:
        (width, height), (chase_width, chase_height) = self.form, self.chase
        return {"left": x, "bottom": y, "right": chase_width - width - x, "top": chase_height - height - y}

    def row(self, side: str) -> list[int] | None:
        """Return where each quoin of a row starts, or None if the side is too short."""
        s, each, gap = self.along(side), self.quoin["length"], self.quoin["gap"]
        blocked_low, blocked_high = (end not in self.through[side] for end in ENDS[side])
        for n in range(math.ceil(s / self.quoin["span"]), 0, -1):
            length = n * each + (n - 1) * gap
            start = centred = (s - length) // 2
            if blocked_low and start < self.clear:
                start = self.clear
            if blocked_high and start + length > s - self.clear:
                start = s - self.clear - length
            in_the_way = blocked_low and start < self.clear
            if not in_the_way and 6 * abs(start - centred) <= s:
                return [start + i * (each + gap) for i in range(n)]
        return None

    def starts(self, side: str, length: int, gaps: dict[str, int]) -> tuple[int, int]:
        """Return the first and last place where a piece may start; the last comes first if there is none."""
        s, clear = self.along(side), self.clear
        low, high = ENDS[side]
        firsts, lasts = [s - self.unbacked - length], [self.unbacked]
        if side not in self.solid:
            row = self.row(side)
            if row is None:
                return 1, 0
            firsts.append(row[-1] + self.quoin["length"] - length)
            lasts.append(row[0])
        in_chase = clear - gaps[low], s + gaps[high] - clear - length
        at_low, at_high = clear, s - clear - length
        if self.through[side] == {low, high}:
            firsts.append(in_chase[0])
            lasts.append(in_chase[1])
        elif self.through[side] == {high}:
            firsts.append(at_low)
            lasts += [at_low, in_chase[1]]
        elif self.through[side] == {low}:
            firsts += [at_high, in_chase[0]]
            lasts.append(at_high)
        else:
            middle = (s - length) // 2
            firsts += [middle, at_low]
            lasts += [middle, at_high]
        return max(firsts), min(lasts)

    def allows(self, pile: Pile) -> bool:
        return all(count <= self.stock[size] for size, count in pile.items())

    def lies(self, side: str, pile: Pile, gaps: dict[str, int]) -> bool:
        """Say whether every piece of a pile may lie on a side."""
        if any(count > 12 for count in pile.values()):
            return False
        spans = [self.starts(side, size.length, gaps) for size in pile]
        return all(first <= last for first, last in spans)

    def score(self, x: int, y: int, openings: Iterable[int], wood: Pile) -> Optimum:
        error = abs(x - self.target[0]) + abs(y - self.target[1])
        off_rest = sum(abs(opening - self.quoin["rest"]) for opening in openings)
        length = sum(size.length * count for size, count in wood.items())
        return wood.total(), error // 2, off_rest // 2, length // 2


def thickness(pile: Pile) -> int:
    return sum(size.thickness * count for size, count in pile.items())


# --- by hand ---------------------------------------------------------------------------------------------


@functools.cache
def by_hand(seed: int) -> Optimum | None:
    """Return the best of every way there is to fill a tiny case's chase, or None."""
    case = tiny_case(seed)
    only = case.options.get("arrangement")
    names = [only] if only else ARRANGEMENTS
    return min((found for name in names for found in every_way(Rules(case, name))), default=None)


def every_way(rules: Rules) -> Iterator[Optimum]:
    """Yield the score of every lockup there is of one arrangement."""
    counts = itertools.product(*(range(count + 1) for count in rules.stock.values()))
    piles = [Counter({size: n for size, n in zip(rules.stock, pile, strict=True) if n}) for pile in counts]
    solid_piles = [(pile, thickness(pile)) for pile in piles if pile]
    # On a quoin side: any pieces at all, then a reglet to bear on and a reglet at the chase.
    reglets = [size for size in rules.stock if size.kind == "reglet"]
    with_reglets = {
        tuple(sorted(pile.items())): (pile, thickness(pile))
        for inner in piles
        for bearing, at_chase in itertools.product(reglets, repeat=2)
        if rules.allows(pile := inner + Counter([bearing, at_chase]))
    }
    for x, y in places(rules, [thick for _, thick in solid_piles]):
        gaps = rules.gaps(x, y)
        ways: list[tuple[Pile, list[int]]] = [(Counter(), [])]  # the wood so far, and the openings
        for side in SIDES:
            fillings = solid_piles if side in rules.solid else with_reglets.values()
            here = list(side_ways(rules, side, fillings, gaps))
            ways = [
                (wood + pile, openings + opening)
                for wood, openings in ways
                for pile, opening in here
                if rules.allows(wood + pile)
            ]
        for wood, openings in ways:
            yield rules.score(x, y, openings, wood)


def places(rules: Rules, thicknesses: list[int]) -> Iterator[tuple[int, int]]:
    """Yield each place that solid sides of these thicknesses can give the form, near enough to its target."""
    room_x, room_y = (chase - form for chase, form in zip(rules.chase, rules.form, strict=True))
    xs = {thick if "left" in rules.solid else room_x - thick for thick in thicknesses}
    ys = {thick if "bottom" in rules.solid else room_y - thick for thick in thicknesses}
    for x, y in itertools.product(xs, ys):
        if max(abs(x - rules.target[0]), abs(y - rules.target[1])) <= rules.tolerance:
            yield x, y


def side_ways(
    rules: Rules, side: str, fillings: Iterable[tuple[Pile, int]], gaps: dict[str, int]
) -> Iterator[tuple[Pile, list[int]]]:
    """Yield each filling that suits a side, and the opening it leaves if the side holds quoins."""
    for pile, thick in fillings:
        opening = gaps[side] - thick - rules.quoin["closed"]
        if side in rules.solid:
            suits, openings = thick == gaps[side], []
        else:
            suits, openings = 0 <= opening <= rules.quoin["travel"] - rules.quoin["reserve"], [opening]
        if suits and rules.lies(side, pile, gaps):
            yield pile, openings


# --- limits worked out on paper --------------------------------------------------------------------------


def bare_case(
    arrangement: str,
    *,
    form: tuple[float, float] = (120, 120),
    lengths: Mapping[str, float] = MappingProxyType({}),
    quoin: Mapping[str, float] = MappingProxyType({}),
    target: tuple[float, float] = (60, 61),
    tolerance: float = 0,
    left: tuple[int, float] = (1, 60),
    top: tuple[int, float] = (2, 6),
) -> Case:
    """Return a case with just the wood it needs, no piece of which will do on another side.

    The gaps are 60 at the left and top, 61 at the bottom and right. Wood is 6 shorter than the form unless
    ``lengths`` says otherwise; the quoins, one a side, can't open. ``left`` is how many pieces of what thickness
    fill the left side, and ``top`` how many reglets of what thickness go with the top's one piece of 30.
    """
    width, height = form
    cut = {"bottom": width - 6, "left": height - 6, "top": width - 6, "right": height - 6} | lengths
    stock = {
        Material("furniture", 61, cut["bottom"]): 1,
        Material("furniture", left[1], cut["left"]): left[0],
        Material("furniture", 30, cut["top"]): 1,
        Material("reglet", top[1], cut["top"]): top[0],
        Material("furniture", 33, cut["right"]): 1,
        Material("reglet", 5, cut["right"]): 2,
    }
    chase = Chase("bare", width + left[0] * left[1] + 61, height + 61 + 48 + top[0] * top[1])
    measures = {"length": 48, "closed": 18, "travel": 2, "reserve": 2, "rest": 0, "gap": 6, "span": 300} | quoin
    shop = Shop("bare", [chase], stock, [Quoin("bare", **measures)])
    options = {"target": target, "tolerance": tolerance, "arrangement": arrangement}
    return Case(0, Form(width, height), chase, shop, options)


CLOCKWISE, ANTICLOCKWISE, TOP_BOTTOM, LEFT_RIGHT = ARRANGEMENTS

LIMITS = {
    # Blocked at both ends: from 6 to 12 shorter than the form's 120.
    "longest between blocked ends": lambda d: bare_case(TOP_BOTTOM, lengths={"left": 114 + d}),
    "shortest between blocked ends": lambda d: bare_case(TOP_BOTTOM, lengths={"left": 108 - d}),
    # Blocked at one: from 120 - 3 - 6 to 120 - 3 and the gap it runs into less 3.
    "longest into the top gap": lambda d: bare_case(CLOCKWISE, lengths={"left": 174 + d}),
    "longest into the bottom gap": lambda d: bare_case(ANTICLOCKWISE, lengths={"left": 175 + d}),
    "longest into the left gap": lambda d: bare_case(CLOCKWISE, lengths={"bottom": 174 + d}),
    "longest into the right gap": lambda d: bare_case(ANTICLOCKWISE, lengths={"bottom": 175 + d}),
    "longest on a quoin side": lambda d: bare_case(CLOCKWISE, lengths={"right": 175 + d}),
    "shortest from a blocked high end": lambda d: bare_case(ANTICLOCKWISE, lengths={"left": 111 - d}),
    "shortest from a blocked low end": lambda d: bare_case(CLOCKWISE, lengths={"left": 111 - d}),
    # Free at both: from 12 shorter than the form to 6 shorter than the chase's 120 + 60 + 61.
    "longest in the chase": lambda d: bare_case(TOP_BOTTOM, lengths={"bottom": 235 + d}),
    "shortest between free ends": lambda d: bare_case(TOP_BOTTOM, lengths={"bottom": 108 - d}),
    # A row of one quoin. It shifts 3 - (120 - 154) / 2 = 20, a sixth of the side. Centred, it runs 57 beyond
    # the form at either end, to 3 from the chase at the left; or 58, to 3 from it at the right.
    "longest row between blocked ends": lambda d: bare_case(
        LEFT_RIGHT, quoin={"length": 114 + d}, lengths={"right": 120}
    ),
    "longest row that may shift": lambda d: bare_case(
        CLOCKWISE, quoin={"length": 154 + d}, lengths={"top": 160, "right": 160}
    ),
    "longest row to the left": lambda d: bare_case(
        TOP_BOTTOM, form=(120, 260), quoin={"length": 234 + d}, lengths={"top": 235}
    ),
    "longest row to the right": lambda d: bare_case(
        TOP_BOTTOM, form=(120, 260), left=(1, 62), target=(62, 61), quoin={"length": 236 + d}, lengths={"top": 237}
    ),
    "shortest wood for a row": lambda d: bare_case(
        TOP_BOTTOM, form=(120, 260), quoin={"length": 200}, lengths={"top": 200 - d}
    ),
    "thickest quoin": lambda d: bare_case(CLOCKWISE, quoin={"closed": 18 + d}),
    "widest opening": lambda d: bare_case(CLOCKWISE, quoin={"closed": 16 - d, "reserve": 0}),
    "farthest from the target": lambda d: bare_case(CLOCKWISE, target=(60, 67 + d), tolerance=6),
    "twelve of a size on a solid side": lambda d: bare_case(
        CLOCKWISE, left=(12 + bool(d), 4), target=(48 + 4 * bool(d), 61)
    ),
    "twelve of a size on a quoin side": lambda d: bare_case(CLOCKWISE, top=(12 + bool(d), 7)),
}
"""Cases that fit, each of which no longer does once it is a hundredth of a point (or a piece) past its limit."""


# --- a lockup as it lies ---------------------------------------------------------------------------------


def choose(case: Case) -> dict[str, Any] | None:
    try:
        return choose_lockup(case.form, case.chase, case.shop, **case.options).to_dict()
    except NoLockup:
        return None


@functools.cache
def chosen(make: Callable[[int], Case], seed: int) -> dict[str, Any] | None:
    return choose(make(seed))


def wood_of(items: list[dict[str, Any]]) -> Pile:
    return Counter(
        Material(item["kind"], grid(item["thickness"]), grid(item["length"]))
        for item in items
        if item["kind"] != "quoin"
    )


def layers(record: dict[str, Any], side: str) -> list[list[dict[str, Any]]]:
    """Return a side's items from the form outward, each row of quoins together."""
    items = sorted((item for item in record["items"] if item["side"] == side), key=lambda item: item["order"])
    return [list(layer) for _, layer in itertools.groupby(items, key=lambda item: item["order"])]


def settled(rules: Rules, record: dict[str, Any]) -> tuple[int, int, list[int]]:
    """Return the form's place and both openings as the pieces settle them, whatever the drawing rounds to."""
    room_x, room_y = (chase - form for chase, form in zip(rules.chase, rules.form, strict=True))
    wood = {side: thickness(wood_of(list(itertools.chain(*layers(record, side))))) for side in SIDES}
    x = wood["left"] if "left" in rules.solid else room_x - wood["right"]
    y = wood["bottom"] if "bottom" in rules.solid else room_y - wood["top"]
    gaps = rules.gaps(x, y)
    return x, y, [gaps[side] - wood[side] - rules.quoin["closed"] for side in SIDES if side not in rules.solid]


def measured(case: Case, record: dict[str, Any]) -> Optimum:
    """Return what counts, from the pieces that were laid."""
    rules = Rules(case, record["arrangement"])
    return rules.score(*settled(rules, record), wood_of(record["items"]))


def faults(case: Case, record: dict[str, Any]) -> list[str]:
    """Return every breach of the rules in a lockup, in words."""
    rules = Rules(case, record["arrangement"])
    form, items = record["form"], record["items"]
    x, y, openings = settled(rules, record)
    found = []
    if (grid(form["width"]), grid(form["height"])) != rules.form:
        found.append("the form has changed its size")
    if max(abs(place(form["x"]) - x), abs(place(form["y"]) - y)) > SLACK:
        found.append("the form doesn't stand where its solid sides hold it")
    if max(abs(x - rules.target[0]), abs(y - rules.target[1])) > rules.tolerance:
        found.append("the form stands too far from its target")
    if not all(0 <= opening <= rules.quoin["travel"] - rules.quoin["reserve"] for opening in openings):
        found.append(f"the quoins would be opened {openings} (1/200 pt)")
    if not rules.allows(wood_of(items)):
        found.append("there is more wood than the cabinet holds")
    rectangles = {"the form": box(form)} | {f"{item}": box(item) for item in items}
    for (one, a), (other, b) in itertools.combinations(rectangles.items(), 2):
        if all(min(a[axis][1], b[axis][1]) - max(a[axis][0], b[axis][0]) > SLACK for axis in (0, 1)):
            found.append(f"{one} and {other} overlap")
    for one, edges in rectangles.items():
        if any(edges[axis][0] < -SLACK or edges[axis][1] > rules.chase[axis] + SLACK for axis in (0, 1)):
            found.append(f"{one} isn't in the chase")
    for side in SIDES:
        found += [f"{side}: {fault}" for fault in faults_on(rules, record, side, rules.gaps(x, y))]
    return found


def faults_on(rules: Rules, record: dict[str, Any], side: str, gaps: dict[str, int]) -> Iterator[str]:
    stack = layers(record, side)
    kinds = [layer[0]["kind"] for layer in stack]
    if side in rules.solid:
        if not kinds or "quoin" in kinds:
            yield f"a solid side holds {kinds}"
    elif kinds[-3:] != ["reglet", "quoin", "reglet"] or kinds.count("quoin") != 1:
        yield f"a quoin side holds {kinds}"
    if any(count > 12 for count in wood_of(list(itertools.chain(*stack))).values()):
        yield "there are more than twelve of a size"
    out = 0
    for layer in stack:
        thick, length = grid(layer[0]["thickness"]), grid(layer[0]["length"])
        seen = [as_seen(box(record["form"]), side, box(item)) for item in layer]
        for low, high, near, far in seen:
            if max(abs(near - out), abs(far - out - thick), abs(high - low - length)) > SLACK:
                yield f"{layer} isn't as thick and long as it says, or doesn't touch what is before it"
        lows = sorted(low for low, *_ in seen)
        if layer[0]["kind"] == "quoin":
            yield from faults_in_row(rules, side, layer, lows)
        elif len(layer) != 1:
            yield f"{layer} share an order"
        else:
            first, last = rules.starts(side, length, gaps)
            if first > last or not first - SLACK <= lows[0] <= last + SLACK:
                yield f"{layer[0]} starts at {lows[0]}, out of its reach from {first} to {last} (1/200 pt)"
        out += thick
    if abs(out - gaps[side]) > SLACK:
        yield f"the pieces fill {out} of {gaps[side]} (1/200 pt)"


def faults_in_row(rules: Rules, side: str, row: list[dict[str, Any]], lows: list[int]) -> Iterator[str]:
    """Yield what is wrong with a row of quoins that start at ``lows``."""
    expected = rules.row(side) or []
    if len(lows) != len(expected) or any(abs(low - start) > SLACK for low, start in zip(lows, expected, strict=True)):
        yield f"the quoins start at {lows}, not {expected} (1/200 pt)"
    if len({quoin["thickness"] for quoin in row}) != 1:
        yield "the quoins of the row aren't opened alike"
    if any(grid(quoin["length"]) != rules.quoin["length"] for quoin in row):
        yield "the quoins have changed their length"


def box(thing: dict[str, Any]) -> tuple[tuple[int, int], tuple[int, int]]:
    """Return where a thing starts and ends in x and in y."""
    (x, right), (y, top) = (
        (place(thing[start]), place(thing[start] + thing[size])) for start, size in (("x", "width"), ("y", "height"))
    )
    return (x, right), (y, top)


def as_seen(form: tuple, side: str, item: tuple) -> tuple[int, int, int, int]:
    """Return where an item starts and ends along a side, and where outward from the form."""
    along, across = (0, 1) if side in ("bottom", "top") else (1, 0)
    low, high = (edge - form[along][0] for edge in item[along])
    if side in ("bottom", "left"):
        far, near = (form[across][0] - edge for edge in item[across])
    else:
        near, far = (edge - form[across][1] for edge in item[across])
    return low, high, near, far


# --- the tests -------------------------------------------------------------------------------------------


def described(case: Case) -> str:
    return f"seed {case.seed}: {case.form}, {case.chase}, {case.shop.quoins}, {dict(case.options)}"


@pytest.mark.parametrize("seed", TINY_CASES)
def test_the_reference_and_the_chooser_find_what_trying_every_way_finds(seed):
    case = tiny_case(seed)
    record = choose(case)
    ours = record and measured(case, record)
    assert (optimum(case), ours) == (by_hand(seed), by_hand(seed)), described(case)


@pytest.mark.parametrize("limit", LIMITS)
def test_a_limit_lies_where_it_was_worked_out(limit):
    within, beyond = LIMITS[limit](0.0), LIMITS[limit](0.01)
    record = choose(within)
    assert optimum(within) is not None
    assert record is not None and not faults(within, record)
    assert optimum(beyond) is None
    assert choose(beyond) is None


@pytest.mark.parametrize(
    ("make", "seed"),
    [*((random_case, seed) for seed in CASES), *((tiny_case, seed) for seed in MORE_TINY_CASES)],
)
def test_the_chooser_finds_the_reference_optimum_and_breaks_no_rule(make, seed):
    case, record = make(seed), chosen(make, seed)
    ours, theirs = record and measured(case, record), optimum(case)
    assert ours == theirs, f"chosen {ours}, reference {theirs}; {described(case)}"
    assert record is None or not faults(case, record), described(case)


def turned_about(record: dict[str, Any]) -> None:
    """Name the other pinwheel."""
    record["arrangement"] = ARRANGEMENTS[1 - ARRANGEMENTS.index(record["arrangement"])]


def moved(record: dict[str, Any]) -> None:
    record["form"]["x"] += 1


def shortened(record: dict[str, Any]) -> None:
    record["items"][0]["length"] -= 12


def one_less(record: dict[str, Any]) -> None:
    record["items"].pop()


def slid(record: dict[str, Any]) -> None:
    """Slide a row's first quoin along."""
    quoin = next(item for item in record["items"] if item["kind"] == "quoin")
    quoin["x" if quoin["side"] in ("bottom", "top") else "y"] += 1


def reversed_order(record: dict[str, Any]) -> None:
    """Count every side's items inward."""
    for item in record["items"]:
        item["order"] = -item["order"]


@pytest.mark.parametrize("spoil", [turned_about, moved, shortened, one_less, slid, reversed_order])
def test_a_spoiled_lockup_shows_its_faults(spoil):
    pinwheels = ((seed, chosen(random_case, seed)) for seed in CASES)
    seed, record = next((n, r) for n, r in pinwheels if r and r["arrangement"] in ARRANGEMENTS[:2])
    spoiled = copy.deepcopy(record)
    spoil(spoiled)
    assert not faults(random_case(seed), record)
    assert faults(random_case(seed), spoiled)


def test_the_cases_are_a_fair_mix():
    cases, records = [random_case(seed) for seed in CASES], [chosen(random_case, seed) for seed in CASES]
    ample, scarce = records[0::2], records[1::2]
    for half in (ample, scarce):
        fitting = sum(record is not None for record in half)
        assert len(half) / 3 < fitting < len(half) * 9 / 10
    fitted = [(case, record) for case, record in zip(cases, records, strict=True) if record]
    assert {record["arrangement"] for _, record in fitted} == set(ARRANGEMENTS)
    assert {case.options["solid"] for case, _ in fitted} == set(SOLID_SIDES)
    tiny = sum(by_hand(seed) is not None for seed in TINY_CASES)
    assert len(TINY_CASES) / 8 < tiny < len(TINY_CASES)
