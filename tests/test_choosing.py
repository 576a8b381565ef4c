"""The solver from outside: what it lays holds, mirrors and bargains as it should, and what it says when it can't.

Whether its choice is the best there is, ``test_choosing_reference`` asks a second solver. Lengths are points.
"""

from __future__ import annotations

import itertools
import math
import os
import re
import subprocess
import sys
from collections import Counter
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import pytest
import shapely
import stonework.choosing
from conftest import ROOT
from hypothesis import given, settings
from hypothesis import strategies as st
from stonework.choosing import ARRANGEMENTS, NoLockup, choose_lockup
from stonework.form import Form
from stonework.lockup import SIDES, Lockup
from stonework.rules import judge
from stonework.shop import Chase, Material, Quoin, Shop, ShopFileError
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


# --- what it lays -----------------------------------------------------------------------------------------


# The solver doesn't mind these yet: it builds towers of odds and ends, and takes fewer quoins where no more fit.
NOT_MINDED = {"no towers", "quoins enough"}


def check_the_judge_has_not_a_word_to_say(question: Question, lockup: Lockup):
    assert {finding.rule for finding in judge(lockup, question.shop)} <= NOT_MINDED


def check_shapely_finds_all_in_the_chase_and_nothing_over_anything(question: Question, lockup: Lockup):
    chase = shapely.box(0, 0, question.chase.width, question.chase.height).buffer(ROUNDING, join_style="mitre")
    assert all(chase.covers(box(one)) for one in (lockup.form, *lockup.items))
    inner = [box(one, ROUNDING) for one in (lockup.form, *lockup.items)]
    assert not any(one.intersects(other) for one, other in itertools.combinations(inner, 2))


def check_shapely_finds_no_gap_from_form_to_chase(question: Question, lockup: Lockup):
    form = lockup.form
    right, top = form.x + form.width, form.y + form.height
    laid = shapely.union_all([box(one) for one in lockup.items]).buffer(ROUNDING / 2)
    for side in SIDES:
        # A line outward from the middle of a solid side, or through the first quoin of a row.
        row, gap, along = lockup.quoins(side), lockup.gap(side), lockup.side_length(side) / 2
        if row:
            seen = lockup.seen_from(side, row[0])
            along = (seen.low + seen.high) / 2
        line = {
            "bottom": [(form.x + along, form.y), (form.x + along, form.y - gap)],
            "left": [(form.x, form.y + along), (form.x - gap, form.y + along)],
            "top": [(form.x + along, top), (form.x + along, top + gap)],
            "right": [(right, form.y + along), (right + gap, form.y + along)],
        }[side]
        assert shapely.LineString(line).difference(laid).length < ROUNDING


def check_it_is_what_was_asked_for(question: Question, lockup: Lockup):
    assert (lockup.form.width, lockup.form.height) == (question.form.width, question.form.height)
    assert lockup.chase == question.chase
    assert set(lockup.quoin_sides) == set(SIDES) - set(question.options["solid"])
    assert lockup.arrangement == question.options.get("arrangement", lockup.arrangement)
    off = max(abs(lockup.form.x - question.target[0]), abs(lockup.form.y - question.target[1]))
    assert off <= question.options.get("tolerance", 6.0) + ROUNDING
    used = Counter(item.material for item in lockup.wood)
    assert all(n <= question.shop.stock[material] for material, n in used.items())
    for side in lockup.quoin_sides:
        stack = lockup.on(side)
        assert len(lockup.quoins(side)) <= math.ceil(lockup.side_length(side) / question.quoin.span)
        assert stack[0].kind != "quoin"
        assert stack[-1].kind == "reglet"


def check_its_record_reads_back_as_itself(question: Question, lockup: Lockup):
    again = Lockup.from_dict(lockup.to_dict())
    assert again == lockup
    findings = judge(again, question.shop, target=question.target, tolerance=24.0)
    assert {finding.rule for finding in findings} <= NOT_MINDED


def check_it_is_the_same_a_second_time(question: Question, lockup: Lockup):
    assert question.answer() == lockup
    backward = replace(question.shop, stock=dict(reversed(question.shop.stock.items())))
    assert worth(question, replace(question, shop=backward).answer()) == worth(question, lockup)


def test_what_it_lays_holds():
    found = []

    @settings(max_examples=200)
    @given(questions())
    def on_each(question):
        lockup = question.answer()
        found.append(lockup is not None)
        if lockup is not None:
            check_the_judge_has_not_a_word_to_say(question, lockup)
            check_shapely_finds_all_in_the_chase_and_nothing_over_anything(question, lockup)
            check_shapely_finds_no_gap_from_form_to_chase(question, lockup)
            check_it_is_what_was_asked_for(question, lockup)
            check_its_record_reads_back_as_itself(question, lockup)
            check_it_is_the_same_a_second_time(question, lockup)

    on_each()
    assert sum(found) > 60


@pytest.mark.parametrize("gap", [0.0, 0.03])
def test_quoins_with_no_room_between_them_are_no_fault_of_the_shops(gap):
    # A shop file may say that quoins in a row need no room between them.
    shop = small(PLENTY, length=30, gap=gap, span=60)
    lockup = choose_lockup(Form(120, 120), Chase("any", 210.0, 210.0), shop)
    assert len(lockup.quoins("top")) == 2
    assert judge(lockup, shop) == []


def test_no_more_than_twelve_of_a_size_are_laid_on_one_side():
    shop = small({Material("furniture", 24.0, 120.0): 99, Material("reglet", 6.0, 120.0): 40})
    chase, target = Chase("any", 120 + 13 * 24 + 57, 210.0), (13 * 24.0, 48.0)
    lockup = choose_lockup(Form(120, 120), chase, shop, target=target, tolerance=30.0)
    assert sum(item.kind == "furniture" for item in lockup.on("left")) == 12


ASK = """
import sys
sys.path.insert(0, {tests!r})
import test_choosing as asked
print(asked.two_answers())
"""


def two_answers() -> tuple:
    """Return a lockup and the reasons against another, for a question as even as can be."""
    sizes = [(kind, float(n), 60.0) for kind in ("reglet", "furniture") for n in (6, 12, 24)]
    shop = small({Material(*size): 99 for size in sizes}, length=96)
    form, chase = Form(60, 60), Chase("any", 240.0, 240.0)
    try:
        choose_lockup(form, chase, shop)
    except NoLockup as error:
        reasons = error.reasons
    short = replace(shop, quoins=(replace(shop.quoins[0], length=36),))
    return choose_lockup(form, chase, short).to_dict(), reasons


def test_the_answer_does_not_change_from_one_run_of_python_to_the_next():
    code = ASK.format(tests=str(Path(__file__).parent))
    answers = set()
    for seed in "1234":
        run = subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            encoding="utf-8",
            check=True,
        )
        answers.add(run.stdout)
    assert len(answers) == 1


@pytest.mark.parametrize("rest", [0, 3, 6])
def test_quoins_lie_at_their_resting_opening_if_the_wood_allows(rest):
    # A gap of 36 takes the quoin of 18 and two reglets of 6 or 9: the opening left is 6, 3 or 0.
    sizes = [("furniture", 24.0), ("reglet", 6.0), ("reglet", 9.0)]
    shop = small({Material(kind, thickness, 120.0): 9 for kind, thickness in sizes}, rest=rest)
    lockup = choose_lockup(Form(120, 120), Chase("any", 180.0, 180.0), shop, target=(24.0, 24.0), tolerance=0.0)
    assert [lockup.quoins(side)[0].thickness for side in lockup.quoin_sides] == [18.0 + rest, 18.0 + rest]


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
    assert f"The {name} was given as {value}; a number of points" in words


@pytest.mark.parametrize("name", ["tolerance", "clear", "unbacked"])
def test_a_distance_below_nothing(breakwater, name):
    assert name in refusal(breakwater, ValueError, **{name: -1.0})


def test_a_tolerance_beyond_all_reason(breakwater):
    assert choose_lockup(PAGE, breakwater.chases[2], breakwater, tolerance=1e307)


@pytest.mark.parametrize("target", [(math.nan, 100.0), (100.0, math.inf)])
def test_a_target_that_is_nowhere(breakwater, target):
    assert "The target was given as" in refusal(breakwater, ValueError, target=target)


def test_an_unknown_quoin(breakwater):
    words = refusal(breakwater, KeyError, quoin="toggle")
    assert words == "This shop has no quoin called “toggle”; it has “medium wedge”, “small wedge”, “long one-piece”."


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


SHOP_TEXT = (ROOT / "lessons" / "breakwater.shop.toml").read_text(encoding="utf-8")
LENGTHS_IN_FILE = [found.span() for found in re.finditer(r'"[0-9][^"\n]*"(?! = [0-9])', SHOP_TEXT)]


@settings(max_examples=60)
@given(
    st.sampled_from(LENGTHS_IN_FILE), st.sampled_from(["5 pt", "0.5 pt", "13 ciceros", "1 mm", "300 pt", "7000 picas"])
)
def test_a_shop_file_that_loads_can_be_chosen_from(tmp_path_factory, span, length):
    path = tmp_path_factory.getbasetemp() / "my.shop.toml"
    path.write_text(f'{SHOP_TEXT[: span[0]]}"{length}"{SHOP_TEXT[span[1] :]}', encoding="utf-8")
    try:
        shop = Shop.load(path)
    except ShopFileError:
        return
    for chase in shop.chases[:2]:
        lockup = Question(Form(216, 180), chase, shop).answer()
        assert lockup is None or judge(lockup, shop) == []


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
        first
        == "The top gap is 1 pica 7 pt too small for wood, quoin and reglet: take a larger chase or move the form down."
    )
    assert choose_lockup(Form(120, 120), chase, shop, target=(90.0, 24.0))
    # Free in all: 30, not enough for both.
    first = why_not(Form(120, 120), Chase("close", 300.0, 150.0), shop)[0]
    assert first.endswith("take a larger chase.")


def test_a_solid_gap_too_small_for_any_wood():
    reasons = why_not(Form(120, 120), Chase("any", 300.0, 300.0), small(PLENTY), target=(90.0, -4.0), tolerance=6.0)
    assert "The bottom gap, 0 pt, is too small for any wood: move the form up." in reasons


def test_a_side_too_short_for_a_quoin():
    sizes = [(kind, float(n), 60.0) for kind in ("reglet", "furniture") for n in (6, 12, 24)]
    shop = small({Material(*size): 99 for size in sizes}, length=96)
    form, chase = Form(60, 60), Chase("any", 240.0, 240.0)
    first = why_not(form, chase, shop)[0]
    assert re.fullmatch(r"The (top|right) side, 5 picas, is too short for the wedge quoin, 8 picas long\.", first)
    two = replace(shop, quoins=(*shop.quoins, replace(shop.quoins[0], name="short", length=36.0)))
    assert "It works with the short quoin." in why_not(form, chase, two)
    assert choose_lockup(form, chase, two, quoin="short")


@pytest.mark.parametrize(
    ("arrangement", "length", "works"),
    [
        # A side of 144 with one corner blocked: the row may start 3 from there and shift a sixth of the side, 24.
        ("pinwheel-clockwise", 186.0, True),
        ("pinwheel-clockwise", 186.02, False),
        # With both blocked it has 144 less 3 at each end; with none, it may run past both.
        ("left-and-right-through", 138.0, True),
        ("left-and-right-through", 138.01, False),
    ],
)
def test_how_long_a_side_a_quoin_needs(arrangement, length, works):
    stock = {Material(kind, n, long): 40 for kind, n in (("reglet", 6.0), ("furniture", 24.0)) for long in (138, 192)}
    shop = small(stock, length=length)
    question = Question(Form(144, 144), Chase("any", 384.0, 384.0), shop, {"arrangement": arrangement})
    lockup = question.answer()
    assert (lockup is not None) == works
    if lockup:
        assert judge(lockup, shop) == []
    else:
        first = why_not(question.form, question.chase, shop, arrangement=arrangement)[0]
        assert re.match("The (top|right) side, 12 picas, is too short for the wedge quoin", first)


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
    """Try what one sentence says, and say which kind of sentence it was; None for one that can't be tried."""
    if found := re.search(r"from ([^.]+(?:\.\d+[^.]*)?) to (.+)\. The cabinet lists no such length\.", words):
        # The range is written to a tenth of a point.
        shortest, longest = (read_length(length) for length in found.groups())
        lengths = {material.length for material, n in question.shop.stock.items()}
        assert not any(shortest + 0.1 < length < longest - 0.1 for length in lengths), words
        return "lengths"
    if "lacks" in words:
        stock = Counter(question.shop.stock) + lacking(words)
        assert replace(question, shop=replace(question.shop, stock=stock)).answer(), words
        return "pieces"
    if not words.startswith("It works "):
        return None
    if found := re.fullmatch(r"It works in the (.+) chase\.", words):
        # The form keeps its place relative to the middle of the chase.
        chase = question.shop.chase(found[1])
        x, y = (
            target + (there - here) / 2
            for target, there, here in zip(
                question.target,
                (chase.width, chase.height),
                (question.chase.width, question.chase.height),
                strict=True,
            )
        )
        assert replace(question, chase=chase).but(target=(x, y)).answer(), words
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


def remedies(question: Question) -> dict[str | None, str]:
    """Return the sentences of a question without an answer, by what they say, each one tried."""
    reasons = why_not(question.form, question.chase, question.shop, **question.options)
    return {try_remedy(question, words): words for words in reasons}


def test_what_it_says_would_work_does():
    tried: Counter[str | None] = Counter()

    @settings(max_examples=30)
    @given(questions())
    def on_each(question):
        larger = Chase("large", 15 * INCH, 10 * INCH)
        question = replace(question, shop=replace(question.shop, chases=(question.chase, larger)))
        if question.answer() is None:
            tried.update(remedies(question).keys())

    on_each()
    assert tried["pieces"] > 3
    assert tried["arrangement"] + tried["chase"] + tried["move"] + tried["quoin"] > 3


def test_it_works_in_a_larger_chase(breakwater):
    form, chase = Form(36 * PICA, 26 * PICA), breakwater.chase("5 × 8")
    words = remedies(Question(form, chase, breakwater))["chase"]
    name = re.fullmatch(r"It works in the (.+) chase\.", words)[1]
    assert choose_lockup(form, breakwater.chase(name), breakwater)
    # It is the smallest that does.
    for chase in breakwater.chases:
        if chase.width * chase.height < breakwater.chase(name).width * breakwater.chase(name).height:
            assert Question(form, chase, breakwater).answer() is None


def test_it_works_with_the_form_moved():
    # Pieces of 24 make 24 or 48 at the left, and 40 is wanted there.
    stock = {Material("furniture", 24.0, 120.0): 4, Material("reglet", 6.0, 120.0): 4}
    question = Question(Form(120, 120), Chase("any", 224.0, 200.0), small(stock, travel=40), {"target": (40.0, 24.0)})
    assert remedies(question)["move"] == ("It works with the form moved 8 pt to the right from where it was wanted.")


def test_it_works_with_other_corners(breakwater):
    # A form as high as the shortest piece: only pieces that run through a corner can stand beside it.
    form = Form(240, 120)
    for name in ARRANGEMENTS:
        question = Question(form, breakwater.chases[2], breakwater, {"arrangement": name})
        if question.answer() is None:
            assert "arrangement" in remedies(question)
            return
    raise AssertionError("every arrangement works")


def test_it_lists_no_such_length():
    # A form of 120 wants pieces of about as much; the cabinet has none between 60 and 240 points.
    stock = {Material(kind, 6.0, length): 40 for kind in ("furniture", "reglet") for length in (60.0, 240.0)}
    question = Question(Form(120, 120), Chase("any", 220.0, 220.0), small(stock))
    assert "lengths" in remedies(question)


def test_a_form_too_small_for_its_quoins_is_to_be_built_up(breakwater):
    with pytest.raises(NoLockup) as caught:
        choose_lockup(Form(20 * PICA, 1 * PICA), breakwater.chase("6 × 9"), breakwater)
    assert caught.value.reasons[0] == (
        "A side shorter than 6 picas 6 pt hardly has room for the medium wedge quoin: build the form up to a block "
        "first."
    )
