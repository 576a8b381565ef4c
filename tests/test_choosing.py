"""The solver from outside: what it lays holds, mirrors and bargains as it should, and what it says when it can't.

Whether its choice is the best there is, ``test_choosing_reference`` asks a second solver. Lengths are points.
"""

from __future__ import annotations

import itertools
import math
import re
from collections import Counter
from dataclasses import dataclass, field, replace
from typing import Any

import pytest
import shapely
import stonework.choosing
from hypothesis import given, settings
from hypothesis import strategies as st
from stonework.choosing import ARRANGEMENTS, NoLockup, choose_lockup
from stonework.form import Form
from stonework.lockup import SIDES, Lockup, along_x
from stonework.rules import judge
from stonework.shop import Chase, Material, Quoin, Shop
from stonework.units import read_length

PICA = 12.0
INCH = 1 / 0.013837  # A. A. Stewart, Typesetting, 1919, p. 15: the point is .013837 inch
SOLID_SIDES = [("bottom", "left"), ("bottom", "right"), ("top", "left"), ("top", "right")]

# --- random questions -------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Question:
    """Everything ``choose_lockup`` is asked with."""

    form: Form
    chase: Chase
    shop: Shop
    options: dict[str, Any] = field(default_factory=dict)

    def answer(self) -> Lockup | None:
        try:
            return choose_lockup(self.form, self.chase, self.shop, **self.options)
        except NoLockup:
            return None

    def but(self, **options) -> Question:
        return replace(self, options=self.options | options)

    @property
    def quoin(self) -> Quoin:
        return self.options.get("quoin", self.shop.quoins[0])

    @property
    def target(self) -> tuple[float, float]:
        middle = ((self.chase.width - self.form.width) / 2, (self.chase.height - self.form.height) / 2)
        return self.options.get("target", middle)


def worth(question: Question, lockup: Lockup | None) -> tuple[int, ...] | None:
    """Return what is weighed, measured on the lockup: pieces, distance from target, quoins from rest, wood."""
    if lockup is None:
        return None
    x, y = question.target
    rows = [lockup.quoins(side)[0] for side in lockup.quoin_sides]
    quoin = question.quoin
    weighed = (
        abs(lockup.form.x - x) + abs(lockup.form.y - y),
        sum(abs(item.thickness - quoin.closed - quoin.rest) for item in rows),
        sum(item.length for item in lockup.wood),
    )
    return len(lockup.wood), *(round(100 * length) for length in weighed)


WIDTHS = (2, 3, 4, 5, 6, 8, 10)
LENGTHS = (10, 15, 20, 25, 30, 40, 50, 60)


@st.composite
def cabinets(draw) -> dict[Material, int]:
    """Draw wood of the trade's sizes: as many of a size as its width has, or its length if that has fewer."""
    most = draw(st.sampled_from([2, 4, 12]))
    counts = st.integers(0, most)
    by_width = {width: draw(counts) for width in WIDTHS}
    by_length = {length: draw(counts) for length in LENGTHS}
    stock = {
        Material("furniture", width * PICA, length * PICA): min(by_width[width], by_length[length])
        for width in WIDTHS
        for length in LENGTHS
    }
    step, first = draw(st.sampled_from([1, 1, 2, 5])), draw(st.integers(5, 12))
    for thickness in draw(st.sampled_from([(6.0,), (6.0, 12.0), (6.0, 12.0), (6.0, 12.0, 18.0), (4.5, 12.0)])):
        count = draw(st.integers(1, most))
        stock |= {Material("reglet", thickness, length * PICA): count for length in range(first, 61, step)}
    return stock


@st.composite
def quoins(draw, name: str, gaps=(6.0, 12.0, 24.0)) -> Quoin:
    travel = draw(st.integers(6, 24))
    reserve = draw(st.integers(0, travel // 2))
    return Quoin(
        name,
        length=draw(st.integers(36, 96)),
        closed=draw(st.integers(18, 30)),
        travel=travel,
        reserve=reserve,
        rest=draw(st.integers(0, travel - reserve)),
        gap=draw(st.sampled_from(gaps)),
        span=draw(st.integers(96, 300)),
    )


@st.composite
def questions(draw, exact: bool = False) -> Question:
    """Draw a question; ``exact`` keeps every length to whole points, so that a mirror rounds it no differently."""
    if exact:
        width, height = draw(st.integers(300, 700)), draw(st.integers(300, 700))
        grain = 1.0
    else:
        width, height = (
            side * INCH
            for side in draw(st.sampled_from([(8, 5), (9, 6), (12, 8), (15, 10), (6, 9), (8, 12), (7.3, 7.3)]))
        )
        grain = draw(st.sampled_from([PICA, 1.0, 0.01]))
    form = Form(*(max(1, round(side * draw(st.integers(20, 90)) / 100 / grain)) * grain for side in (width, height)))
    chase = Chase("one", float(width), float(height))
    shop = Shop("any", (chase,), draw(cabinets()), (draw(quoins("first")), draw(quoins("second"))))
    options: dict[str, Any] = {"solid": draw(st.sampled_from(SOLID_SIDES))}
    if draw(st.booleans()):
        options["arrangement"] = draw(st.sampled_from(list(ARRANGEMENTS)))
    if draw(st.integers(0, 3)) == 0:
        options["tolerance"] = float(draw(st.integers(0, 24)))
    if draw(st.integers(0, 3)) == 0:
        off = st.integers(-30, 30)
        middle = ((chase.width - form.width) / 2, (chase.height - form.height) / 2)
        options["target"] = (middle[0] + draw(off), middle[1] + draw(off))
    return Question(form, chase, shop, options)


def box(rectangle, inset: float = 0.0) -> shapely.Polygon:
    return shapely.box(
        rectangle.x + inset,
        rectangle.y + inset,
        rectangle.x + rectangle.width - inset,
        rectangle.y + rectangle.height - inset,
    )


# The solver reckons in whole hundredths of a point; what it lays is made of the lengths as they came.
ROUNDING = 0.02


def share_found(most: int, check, **kinds) -> float:
    """Run a check on every lockup found for random questions; return the share of questions that had one."""
    found = []

    @settings(max_examples=most)
    @given(questions(**kinds))
    def on_each(question):
        lockup = question.answer()
        found.append(lockup is not None)
        if lockup is not None:
            check(question, lockup)

    on_each()
    return sum(found) / len(found)


# --- what it lays -----------------------------------------------------------------------------------------


def test_every_lockup_passes_the_judge_without_a_word():
    def check(question, lockup):
        assert judge(lockup, question.shop) == []

    assert share_found(250, check) > 0.2


def test_shapely_finds_nothing_over_anything_and_all_in_the_chase():
    def check(question, lockup):
        chase = shapely.box(0, 0, question.chase.width, question.chase.height).buffer(ROUNDING, join_style="mitre")
        assert all(chase.covers(box(one)) for one in (lockup.form, *lockup.items))
        inner = [box(one, ROUNDING) for one in (lockup.form, *lockup.items)]
        assert not any(one.intersects(other) for one, other in itertools.combinations(inner, 2))

    assert share_found(150, check) > 0.2


def test_shapely_finds_no_gap_between_form_and_chase():
    def check(question, lockup):
        wood_and_quoins = shapely.union_all([box(one) for one in lockup.items])
        for side in SIDES:
            row = lockup.quoins(side)
            seen = lockup.seen_from(side, (row or lockup.on(side))[0])
            along = (seen.low + seen.high) / 2 if row else lockup.side_length(side) / 2
            form, gap = lockup.form, lockup.gap(side)
            ends = {
                "bottom": [(form.x + along, form.y), (form.x + along, form.y - gap)],
                "left": [(form.x, form.y + along), (form.x - gap, form.y + along)],
                "top": [(form.x + along, form.y + form.height), (form.x + along, form.y + form.height + gap)],
                "right": [(form.x + form.width, form.y + along), (form.x + form.width + gap, form.y + along)],
            }[side]
            bare = shapely.LineString(ends).difference(wood_and_quoins.buffer(ROUNDING / 2))
            assert bare.length < ROUNDING

    assert share_found(150, check) > 0.2


def test_what_it_lays_is_what_was_asked_for():
    def check(question, lockup):
        assert (lockup.form.width, lockup.form.height) == (question.form.width, question.form.height)
        assert lockup.chase == question.chase
        assert set(lockup.quoin_sides) == set(SIDES) - set(question.options["solid"])
        assert lockup.arrangement == question.options.get("arrangement", lockup.arrangement)
        tolerance = question.options.get("tolerance", 6.0)
        assert max(abs(a - b) for a, b in zip((lockup.form.x, lockup.form.y), question.target, strict=True)) <= (
            tolerance + ROUNDING
        )
        used = Counter(item.material for item in lockup.wood)
        assert all(n <= question.shop.stock[material] for material, n in used.items())
        for side in lockup.quoin_sides:
            stack = lockup.on(side)
            assert len(lockup.quoins(side)) <= math.ceil(lockup.side_length(side) / question.quoin.span)
            assert (stack[0].kind == "quoin", stack[-1].kind) == (False, "reglet")

    assert share_found(100, check) > 0.2


def test_its_record_reads_back_as_the_same_lockup():
    def check(question, lockup):
        assert Lockup.from_dict(lockup.to_dict()) == lockup
        assert judge(Lockup.from_dict(lockup.to_dict()), question.shop, target=question.target, tolerance=24.0) == []

    assert share_found(60, check) > 0.2


def test_it_gives_the_same_answer_twice_whatever_the_order_of_the_cabinet():
    def check(question, lockup):
        assert question.answer() == lockup
        backward = replace(question.shop, stock=dict(reversed(question.shop.stock.items())))
        assert worth(question, replace(question, shop=backward).answer()) == worth(question, lockup)

    assert share_found(60, check) > 0.2


# --- mirrors and bargains ---------------------------------------------------------------------------------

PINWHEELS = {"pinwheel-clockwise": "pinwheel-anticlockwise", "pinwheel-anticlockwise": "pinwheel-clockwise"}
THROUGH = {
    "top-and-bottom-through": "left-and-right-through",
    "left-and-right-through": "top-and-bottom-through",
}
MIRRORS: dict[str, tuple[dict[str, str], dict[str, str]]] = {
    "left to right": ({"left": "right", "right": "left"}, PINWHEELS),
    "top to bottom": ({"bottom": "top", "top": "bottom"}, PINWHEELS),
    "across the diagonal": (
        {"left": "bottom", "bottom": "left", "right": "top", "top": "right"},
        PINWHEELS | THROUGH,
    ),
}


def mirrored(question: Question, mirror: str) -> Question:
    form, chase, options = question.form, question.chase, dict(question.options)
    sides, arrangements = MIRRORS[mirror]
    x, y = question.target
    if mirror == "left to right":
        x = chase.width - form.width - x
    elif mirror == "top to bottom":
        y = chase.height - form.height - y
    else:
        x, y = y, x
        form, chase = Form(form.height, form.width), Chase(chase.name, chase.height, chase.width)
    options |= {"target": (x, y), "solid": tuple(sides.get(side, side) for side in options["solid"])}
    if "arrangement" in options:
        options["arrangement"] = arrangements.get(options["arrangement"], options["arrangement"])
    return Question(form, chase, question.shop, options)


@pytest.mark.parametrize("mirror", MIRRORS)
@settings(max_examples=60)
@given(question=questions(exact=True))
def test_a_mirror_makes_a_lockup_no_better_or_worse(mirror, question):
    other = mirrored(question, mirror)
    assert worth(other, other.answer()) == worth(question, question.answer())


@settings(max_examples=60)
@given(questions(), st.sampled_from(WIDTHS), st.sampled_from(LENGTHS), st.integers(1, 4))
def test_more_wood_never_makes_it_worse(question, width, length, more):
    stock = Counter(question.shop.stock) + Counter({Material("furniture", width * PICA, length * PICA): more})
    before = worth(question, question.answer())
    richer = replace(question, shop=replace(question.shop, stock=stock))
    after = worth(richer, richer.answer())
    assert before is None or (after is not None and after <= before)


@settings(max_examples=60)
@given(questions(), st.integers(1, 20))
def test_more_tolerance_never_makes_it_worse(question, more):
    before = worth(question, question.answer())
    looser = question.but(tolerance=question.options.get("tolerance", 6.0) + more)
    after = worth(looser, looser.answer())
    assert before is None or (after is not None and after <= before)


@settings(max_examples=40)
@given(questions())
def test_the_free_choice_of_arrangement_is_the_best_of_the_four(question):
    free = question.but(arrangement=None)
    each = [worth(question, question.but(arrangement=name).answer()) for name in ARRANGEMENTS]
    assert worth(free, free.answer()) == min((one for one in each if one is not None), default=None)


# --- outside figures --------------------------------------------------------------------------------------

# S. J. Vaughn, Printing and Bookbinding for Schools, 1912, p. 24: a page 18 ems wide is 30 ems long.
PAGE = Form(18 * PICA, 30 * PICA)
TURNED = Form(30 * PICA, 18 * PICA)


@pytest.mark.parametrize(("form", "across", "up"), [(PAGE, 54.27, 18.18), (TURNED, 42.27, 30.18)])
def test_free_space_round_a_page_in_an_8_by_12_chase(breakwater, form, across, up):
    # Derived from the page of Vaughn p. 24 and a chase of 12 × 8 inches at .013837 inch to the point: 72.27 by
    # 48.18 picas. Upright the page leaves 54.27 and 18.18 picas; turned on its side, 42.27 and 30.18.
    chase = breakwater.chase("8 × 12")
    assert (chase.width / PICA, chase.height / PICA) == pytest.approx((72.27, 48.18), abs=0.005)
    lockup = choose_lockup(form, chase, breakwater)
    assert lockup.gap("left") + lockup.gap("right") == pytest.approx(across * PICA, abs=0.06)
    assert lockup.gap("bottom") + lockup.gap("top") == pytest.approx(up * PICA, abs=0.06)
    filled = {side: 0.0 for side in SIDES}
    for side in SIDES:
        for _, layer in itertools.groupby(lockup.on(side), key=lambda item: item.order):
            filled[side] += next(layer).thickness
    assert filled["left"] + filled["right"] == pytest.approx(across * PICA, abs=0.06)
    assert filled["bottom"] + filled["top"] == pytest.approx(up * PICA, abs=0.06)


def test_a_press_takes_a_chase_of_its_size_inside_and_a_larger_skeleton_chase(breakwater):
    # Vaughn 1912, p. 29: a 10 × 15 press takes a 10 × 15 chase, or a skeleton chase of about 11 × 16 inside.
    # Derived, at .013837 inch to the point: the skeleton chase is 96.36 by 66.25 picas.
    chase = breakwater.chase("10 × 15")
    skeleton = Chase("skeleton", read_length("16 in"), read_length("11 in"))
    assert (skeleton.width / PICA, skeleton.height / PICA) == pytest.approx((96.36, 66.25), abs=0.005)
    # A form too high for the one goes into the other.
    form = Form(60 * PICA, 56 * PICA)
    assert Question(form, chase, breakwater).answer() is None
    larger = choose_lockup(form, skeleton, breakwater)
    assert judge(larger, breakwater) == []
    assert larger.gap("bottom") + larger.gap("top") == pytest.approx((66.25 - 56) * PICA, abs=0.06)


@pytest.mark.parametrize("form", [Form(15 * PICA, 20 * PICA), Form(20 * PICA, 15 * PICA)])
def test_a_small_shops_count_of_pieces(breakwater, form):
    # A printers' forum (grade C): a block of 15 × 20 picas in a 6 × 9 chase takes perhaps six pieces of furniture
    # and two quoins. It doesn't say which way the block stands, nor whether reglets were counted, so only
    # furniture is compared, and with a band of two either way.
    lockup = choose_lockup(form, breakwater.chase("6 × 9"), breakwater)
    furniture = sum(item.kind == "furniture" for item in lockup.wood)
    assert 4 <= furniture <= 8
    assert sum(len(lockup.quoins(side)) for side in SIDES) == 2


def test_solid_sides_and_quoin_sides(breakwater):
    # Vaughn 1912, pp. 31-33: solid from the form to one side and one end, quoins on the other side and end, with
    # furniture on both sides of the quoin. Private-press notes on locking up put bottom and left solid for a
    # hand-fed platen.
    lockup = choose_lockup(PAGE, breakwater.chase("8 × 12"), breakwater)
    assert lockup.quoin_sides == ("top", "right")
    for side in lockup.quoin_sides:
        kinds = [item.kind for item in lockup.on(side)]
        assert kinds[0] != "quoin" != kinds[-1]


# --- questions that make no sense -------------------------------------------------------------------------


def refusal(breakwater, kind, **options) -> str:
    """Return the sentence that a question is refused with, by exactly this kind of error."""
    shop = options.pop("shop", breakwater)
    with pytest.raises(kind) as caught:
        choose_lockup(PAGE, breakwater.chases[2], shop, **options)
    assert type(caught.value) is kind
    (words,) = caught.value.args
    assert words[0].isupper() or words[0] == "“"
    assert words.endswith(".")
    return words


def test_an_unknown_arrangement(breakwater):
    words = refusal(breakwater, ValueError, arrangement="spiral")
    assert "“spiral” isn't an arrangement" in words
    assert all(name in words for name in ARRANGEMENTS)


@pytest.mark.parametrize("solid", [("bottom", "top"), ("left", "right"), ("left", "left"), ("left",), ()])
def test_solid_sides_that_do_not_meet(breakwater, solid):
    words = refusal(breakwater, ValueError, solid=solid)
    assert "must be two that meet" in words
    assert all(side in words for side in solid)


def test_a_solid_side_that_is_none_of_the_four(breakwater):
    assert "middle" in refusal(breakwater, ValueError, solid=("bottom", "middle"))


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
@pytest.mark.parametrize("name", ["tolerance", "clear", "unbacked"])
def test_a_distance_that_is_no_number(breakwater, name, value):
    words = refusal(breakwater, ValueError, **{name: value})
    assert f"The {name} was given as {value}" in words
    assert "a number of points is needed" in words


@pytest.mark.parametrize("name", ["tolerance", "clear", "unbacked"])
def test_a_distance_below_nothing(breakwater, name):
    assert name in refusal(breakwater, ValueError, **{name: -1.0})


def test_a_tolerance_beyond_all_reason(breakwater):
    assert choose_lockup(PAGE, breakwater.chases[2], breakwater, tolerance=1e308)


@pytest.mark.parametrize("target", [(math.nan, 100.0), (100.0, math.inf)])
def test_a_target_that_is_nowhere(breakwater, target):
    assert "The target was given as" in refusal(breakwater, ValueError, target=target)


def test_an_unknown_quoin(breakwater):
    words = refusal(breakwater, KeyError, quoin="toggle")
    assert words == "This shop has no quoin called “toggle”; it has “medium wedge”, “small wedge”."


def test_a_shop_without_quoins(breakwater):
    words = refusal(breakwater, ValueError, shop=replace(breakwater, quoins=()))
    assert words == "This shop has no quoins; a lockup needs them on two sides."
    # With a quoin of the asker's own it does.
    own = choose_lockup(PAGE, breakwater.chases[2], replace(breakwater, quoins=()), quoin=breakwater.quoins[0])
    assert own.quoin_sides == ("top", "right")


@pytest.mark.parametrize("size", [0.0, -1.0, math.nan, math.inf])
def test_a_form_has_a_size(size):
    for name, sizes in (("width", (size, 100.0)), ("height", (100.0, size))):
        with pytest.raises(ValueError, match=rf"^A form's {name} was given as {size} pt; .* more than nothing\.$"):
            Form(*sizes)


def test_a_quoin_by_name_or_by_itself(breakwater):
    chase = breakwater.chases[2]
    by_name = choose_lockup(PAGE, chase, breakwater, quoin="small wedge")
    assert by_name == choose_lockup(PAGE, chase, breakwater, quoin=breakwater.quoins[1])
    assert by_name.quoins("top")[0].length == breakwater.quoins[1].length
    assert choose_lockup(PAGE, chase, breakwater) == choose_lockup(PAGE, chase, breakwater, quoin="medium wedge")


# --- why not ----------------------------------------------------------------------------------------------


def why_not(form: Form, chase: Chase, shop: Shop, **options) -> tuple[str, ...]:
    with pytest.raises(NoLockup) as caught:
        choose_lockup(form, chase, shop, **options)
    reasons = caught.value.reasons
    assert reasons
    for words in reasons:
        assert words[0].isupper()
        assert words.endswith(".")
        assert words.isprintable()
    assert str(caught.value) == " ".join(reasons)
    return reasons


def test_reasons_are_found_only_when_read(breakwater, monkeypatch):
    asked = []
    found = stonework.choosing._reasons
    monkeypatch.setattr(stonework.choosing, "_reasons", lambda question: asked.append(1) or found(question))
    with pytest.raises(NoLockup) as caught:
        choose_lockup(Form(600, 600), breakwater.chases[0], breakwater)
    assert asked == []
    assert caught.value.reasons == caught.value.reasons
    assert asked == [1]
    assert isinstance(caught.value, ValueError)


@pytest.mark.parametrize(
    ("width", "height"), [(600.0, 100.0), (100.0, 600.0), (8 * INCH, 100.0), (100.0, 5 * INCH), (600.0, 600.0)]
)
def test_a_form_too_large_for_the_chase(breakwater, width, height):
    first = why_not(Form(width, height), breakwater.chase("5 × 8"), breakwater)[0]
    assert "is too large for the 5 × 8 chase, 48 picas 2.16 pt × 30 picas 1.35 pt inside" in first
    assert first.endswith("it needs a larger chase.")


def small(stock, **quoin) -> Shop:
    """A shop of one chase, whatever wood is asked for, and a quoin of 18 shut, 8 more at the most."""
    parts = {"length": 36, "closed": 18, "travel": 12, "reserve": 4, "rest": 3, "gap": 12, "span": 144} | quoin
    return Shop("small", (), stock, (Quoin("wedge", **parts),))


PLENTY = {Material("furniture", 24.0, 120.0): 99, Material("reglet", 6.0, 120.0): 99}


@pytest.mark.parametrize(("free", "short"), [(40.0, "4 pt"), (30.0, "9 pt"), (47.0, "6 pt")])
def test_a_gap_too_small_for_quoins(free, short):
    # A quoin of 18 and two reglets of 6 take 30. The middle leaves half of what is free to the top; the form may
    # stand 6 lower: 20 + 6 is 4 short of 30, 15 + 6 is 9. With 47 free, 23.5 + 6 is half a point short.
    short = {"6 pt": "0.5 pt"}.get(short, short)
    reasons = why_not(Form(120, 120), Chase("close", 300.0, 120.0 + free), small(PLENTY))
    assert f"The top gap is {short} too small for wood, quoin and reglet: take a larger chase" in reasons[0]
    assert not any(words.startswith("The right gap") for words in reasons)


def test_a_gap_too_small_for_quoins_is_large_enough_with_that_much_more():
    # Turned to the side: 4 points more beyond the right, with the form wanted where it was, is enough.
    form, shop = Form(120, 120), small({**PLENTY, Material("reglet", 14.0, 120.0): 9})
    reasons = why_not(form, Chase("close", 160.0, 300.0), shop, target=(20.0, 90.0), tolerance=6.0)
    assert "The right gap is 4 pt too small" in reasons[0]
    assert choose_lockup(form, Chase("close", 164.0, 300.0), shop, target=(20.0, 90.0), tolerance=6.0)


def test_whether_moving_the_form_is_offered():
    # Free in all: 60, enough for a 6-point solid side and 30 for the quoins. Then moving down is worth a try.
    chase, shop = Chase("close", 300.0, 180.0), small(PLENTY)
    first = why_not(Form(120, 120), chase, shop, target=(90.0, 55.0))[0]
    assert (
        first == "The top gap is 19 pt too small for wood, quoin and reglet: take a larger chase or move the form down."
    )
    assert choose_lockup(Form(120, 120), chase, shop, target=(90.0, 24.0))
    # Free in all: 30, not enough for both.
    first = why_not(Form(120, 120), Chase("close", 300.0, 150.0), shop)[0]
    assert first.endswith("take a larger chase.")


def test_a_solid_gap_too_small_for_any_wood():
    reasons = why_not(Form(120, 120), Chase("any", 300.0, 300.0), small(PLENTY), target=(90.0, -4.0), tolerance=6.0)
    assert "The bottom gap, 0 pt, is too small for any wood: move the form up." in reasons


def test_a_side_too_short_for_a_quoin():
    shop = small(
        {m: 99 for n in (6, 12, 24) for m in (Material("reglet", float(n), 60.0), Material("furniture", n, 60.0))},
        length=96,
    )
    reasons = why_not(Form(60, 60), Chase("any", 240.0, 240.0), shop)
    assert reasons[0] == "The top side, 5 picas, is too short for the wedge quoin, 8 picas long."
    shorter = replace(shop, quoins=(*shop.quoins, replace(shop.quoins[0], name="short", length=36.0)))
    reasons = why_not(Form(60, 60), Chase("any", 240.0, 240.0), shorter)
    assert "It works with the short quoin." in reasons
    assert choose_lockup(Form(60, 60), Chase("any", 240.0, 240.0), shorter, quoin="short")


def test_a_cabinet_without_reglet(breakwater):
    stock = {material: n for material, n in breakwater.stock.items() if material.kind == "furniture"}
    reasons = why_not(PAGE, breakwater.chases[2], replace(breakwater, stock=stock))
    assert reasons == ("The cabinet lists no reglet; the quoins need one on each face.",)


def test_an_empty_cabinet(breakwater):
    for stock in ({}, dict.fromkeys(breakwater.stock, 0)):
        reasons = why_not(PAGE, breakwater.chases[2], replace(breakwater, stock=stock))
        assert "The cabinet l" in reasons[0]  # lists no reglet; lacks


NUMBERS = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"]
PIECES = re.compile(r"(\w+) (reglet|piece of furniture|pieces of furniture|reglets) (.+?) × (.+)")


def lacking(words: str) -> Counter[Material]:
    """Read the pieces back from “The cabinet lacks two reglets 6 pt × 20 picas and one …”."""
    listed = re.fullmatch(r"The cabinet lacks (.+)\.", words)[1]
    pieces: Counter[Material] = Counter()
    for part in re.split(r", | and ", listed):
        number, kind, thickness, length = PIECES.fullmatch(part).groups()
        n = NUMBERS.index(number) if number in NUMBERS else int(number)
        assert (n == 1) == (kind in ("reglet", "piece of furniture"))
        kind = "reglet" if "reglet" in kind else "furniture"
        pieces[Material(kind, read_length(thickness), read_length(length))] += n
    return pieces


def test_the_pieces_a_cabinet_lacks_would_do(breakwater):
    # The reglets that a plan's sides could use are gone.
    chase = breakwater.chases[2]
    plan = choose_lockup(PAGE, chase, breakwater)
    reglets = [item for item in plan.wood if item.kind == "reglet"]
    stock = {m: n for m, n in breakwater.stock.items() if m.kind == "furniture" or m.length > 42 * PICA}
    assert reglets
    poorer = replace(breakwater, stock=stock)
    reasons = why_not(PAGE, chase, poorer)
    # No reglet of their length is listed any more, so the sentence can't name one.
    assert not any("lacks" in words for words in reasons)
    none_left = replace(breakwater, stock={m: n if m in stock else 0 for m, n in breakwater.stock.items()})
    pieces = lacking(why_not(PAGE, chase, none_left)[0])
    assert {material.kind for material in pieces} == {"reglet"}
    assert pieces.total() >= 2
    assert choose_lockup(PAGE, chase, replace(breakwater, stock=Counter(none_left.stock) + pieces))
    for material in pieces:
        fewer = Counter(none_left.stock) + pieces - Counter([material])
        assert Question(PAGE, chase, replace(breakwater, stock=fewer)).answer() is None


def test_the_one_reglet_a_cabinet_lacks():
    stock = {Material("furniture", 24.0, 120.0): 9, Material("reglet", 6.0, 120.0): 3}
    form, chase = Form(120, 120), Chase("any", 200.0, 200.0)
    first = why_not(form, chase, small(stock), target=(24.0, 24.0))[0]
    assert first == "The cabinet lacks one reglet 6 pt × 10 picas."
    stock[Material("reglet", 6.0, 120.0)] = 4
    assert choose_lockup(form, chase, small(stock), target=(24.0, 24.0))


# --- every remedy it names works --------------------------------------------------------------------------


def try_remedy(question: Question, words: str) -> str | None:
    """Try what one sentence says works, and say which kind of remedy it was; None for no remedy."""
    if "lacks" in words:
        pieces = lacking(words)
        stock = Counter(question.shop.stock) + pieces
        assert replace(question, shop=replace(question.shop, stock=stock)).answer(), words
        return "pieces"
    if not words.startswith("It works "):
        return None
    if found := re.fullmatch(r"It works in the (.+) chase\.", words):
        chase = question.shop.chase(found[1])
        off = [a - b for a, b in zip(question.target, replace(question, options={}).target, strict=True)]
        middle = ((chase.width - question.form.width) / 2, (chase.height - question.form.height) / 2)
        other = replace(question, chase=chase).but(target=(middle[0] + off[0], middle[1] + off[1]))
        assert other.answer(), words
        return "chase"
    if found := re.fullmatch(r"It works with the (.+) quoin\.", words):
        assert question.but(quoin=question.shop.quoin(found[1])).answer(), words
        return "quoin"
    if found := re.fullmatch(r"It works with the corners arranged as (.+)\.", words):
        assert question.but(arrangement=found[1].replace(" ", "-")).answer(), words
        return "arrangement"
    moved = re.fullmatch(r"It works with the form moved (.+) from where it was wanted\.", words)[1]
    x, y = question.target
    for part in moved.split(" and "):
        length, way = re.fullmatch(r"(.+?) (?:to the )?(left|right|up|down)", part).groups()
        by = read_length(length) * (1 if way in ("right", "up") else -1)
        x, y = (x + by, y) if way in ("left", "right") else (x, y + by)
    tolerance = question.options.get("tolerance", 6.0) + ROUNDING
    assert question.but(target=(x, y), tolerance=tolerance).answer(), words
    return "move"


def test_what_it_says_would_work_does():
    """Try every remedy named for random questions without an answer."""
    tried: Counter[str | None] = Counter()

    @settings(max_examples=60)
    @given(questions())
    def on_each(question):
        larger = Chase("large", 15 * INCH, 10 * INCH)
        question = replace(question, shop=replace(question.shop, chases=(question.chase, larger)))
        try:
            choose_lockup(question.form, question.chase, question.shop, **question.options)
        except NoLockup as error:
            assert error.reasons
            tried.update(try_remedy(question, words) for words in error.reasons)

    on_each()
    assert {"pieces", "chase", "quoin", "arrangement", "move"} <= set(tried)


def test_it_works_in_a_larger_chase(breakwater):
    form = Form(36 * PICA, 26 * PICA)
    reasons = why_not(form, breakwater.chase("5 × 8"), breakwater)
    remedy = next(words for words in reasons if words.startswith("It works in the "))
    assert try_remedy(Question(form, breakwater.chase("5 × 8"), breakwater), remedy) == "chase"
    name = re.fullmatch(r"It works in the (.+) chase\.", remedy)[1]
    assert choose_lockup(form, breakwater.chase(name), breakwater)
    # It is the smallest that does.
    for chase in breakwater.chases:
        if chase.width * chase.height < breakwater.chase(name).width * breakwater.chase(name).height:
            assert Question(form, chase, breakwater).answer() is None
