"""What the solver lays is sound, whatever it is asked; figures from outside; questions that make no sense.

Whether its choice is the best there is, ``test_choosing`` asks a second solver. Lengths are points.
"""

from __future__ import annotations

import itertools
import math
import os
import re
import subprocess
import sys
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
import shapely
from any_questions import PICA, PLENTY, Question, questions, small
from hypothesis import given, settings
from hypothesis import strategies as st
from stonework.choosing import ARRANGEMENTS, NoLockup, best_lockup, choose_freely, choose_lockup
from stonework.form import Form
from stonework.lockup import SIDES, Lockup, pattern_of
from stonework.rules import judge
from stonework.shop import Chase, Material, Shop, ShopFileError
from stonework.units import read_length

ROOT = Path(__file__).resolve().parents[1]


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


# Cautions that fewer pieces, or any lockup at all, may be worth; and with so little effort it need not be the best.
NOT_MINDED = {"no towers", "quoins enough", "no joint over a joint", "fewest pieces"}


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
        row = lockup.quoins(side)
        (pattern,) = {pattern_of(item, question.shop.quoins) for item in row}
        assert pattern and len(row) <= math.ceil(lockup.side_length(side) / pattern.span)
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
    again = replace(question, shop=backward).answer()
    assert again and len(again.pieces) == len(lockup.pieces)


def test_what_it_lays_holds():
    found = []

    @settings(max_examples=60)
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
    assert sum(found) > 15


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
import test_chosen_lockups as asked
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
    medium = {"quoin": "medium wedge"}
    assert Question(form, chase, breakwater, medium).answer() is None
    larger = choose_lockup(form, skeleton, breakwater, **medium)
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
    # Nothing may run through a corner if the form may stand anywhere; so there need be no lockup, but no failure.
    with pytest.raises(NoLockup, match=r"No lockup .*\."):
        choose_lockup(PAGE, breakwater.chases[2], breakwater, tolerance=1e307)


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
        assert lockup is None or {finding.rule for finding in judge(lockup, shop)} <= NOT_MINDED


# --- choices left open ------------------------------------------------------------------------------------


@pytest.mark.parametrize("size", [(120, 80), (480, 300), (300, 500), (620, 380), (760, 420)])
def test_the_smallest_chase_that_works_is_chosen(breakwater, size):
    form = Form(*map(float, size))
    chosen = choose_freely(form, breakwater, chases=breakwater.chases, heads=("top", "left"))
    lockup = chosen.answer.lockup
    lying = form if chosen.head == "top" else Form(form.height, form.width)
    assert (lockup.form.width, lockup.form.height) == (lying.width, lying.height)
    for chase in breakwater.chases:
        if chase.width * chase.height < lockup.chase.width * lockup.chase.height:
            for way in (form, Form(form.height, form.width)):
                with pytest.raises(NoLockup):
                    choose_lockup(way, chase, breakwater)
    # In the chase it has the fewer pieces of the two ways.
    for way in (form, Form(form.height, form.width)):
        try:
            assert best_lockup(way, lockup.chase, breakwater).pieces >= chosen.answer.pieces
        except NoLockup:
            assert way != lying


def test_a_line_is_built_up_only_if_that_may_be_and_nothing_else_does(breakwater):
    line, chases = Form(240.0, 24.0), [breakwater.chase("5 × 8")]
    with pytest.raises(NoLockup):
        choose_freely(line, breakwater, chases=chases)
    lockup = choose_freely(line, breakwater, chases=chases, build_up=True).answer.lockup
    assert lockup.block is not None and [form.width for form in lockup.block.forms] == [240.0]
    assert [finding for finding in judge(lockup, breakwater) if finding.severity == "fault"] == []
    page = choose_freely(Form(216.0, 180.0), breakwater, chases=chases, build_up=True).answer.lockup
    assert page.block is None
    with pytest.raises(ValueError, match="No chase"):
        choose_freely(line, breakwater, chases=[])


def test_the_block_that_is_built_is_the_one_that_was_promised(breakwater):
    for size in ((24.0, 24.0), (36.0, 480.0)):
        options = {"chases": [breakwater.chase("8 × 12")], "quoin": "medium wedge"}
        with pytest.raises(NoLockup) as caught:
            choose_freely(Form(*size), breakwater, **options)
        promised = next(words for words in caught.value.reasons if "built up to a block of" in words)
        built = choose_freely(Form(*size), breakwater, build_up=True, **options).answer.lockup.form
        wide, high = re.search(r"a block of (.+) × (.+) first", promised).groups()
        assert (built.width, built.height) == pytest.approx((read_length(wide), read_length(high)), abs=0.01)


def test_where_no_chase_does_the_reasons_are_those_of_the_largest(breakwater):
    with pytest.raises(NoLockup, match=r"too large for the 10 × 15 chase"):
        choose_freely(Form(1100.0, 700.0), breakwater, chases=breakwater.chases, heads=("top", "left"))


@pytest.mark.parametrize("name", ["cellar", "loft", "metric"])
def test_what_is_left_open_is_chosen_in_irregular_shops(irregular, name):
    shop = irregular[name]
    for form in (Form(200.0, 130.0), Form(130.0, 240.0), Form(180.0, 12.0)):
        chosen = choose_freely(form, shop, chases=shop.chases, heads=("top", "left"), build_up=True)
        lockup = chosen.answer.lockup
        assert [finding for finding in judge(lockup, shop) if finding.severity == "fault"] == []
        assert lockup.chase in shop.chases and chosen.head in ("top", "left")


def test_a_larger_chase_isn_t_called_the_smallest_where_a_smaller_one_may_do(breakwater):
    # With no effort nothing is found in a chase, and nothing is known of it; so the next is taken.
    form, chases = Form(480.0, 300.0), breakwater.chases
    whole = choose_freely(form, breakwater, chases=chases)
    assert whole.proved and whole.doubt == ""

    def hurried(one, chase, shop, **options):
        return best_lockup(one, chase, shop, **{**options, "effort": 0 if chase == whole.answer.lockup.chase else 2500})

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("stonework.choosing.freely.best_lockup", hurried)
        later = choose_freely(form, breakwater, chases=chases)
    assert later.answer.proved and not later.proved and "left open" in later.doubt
    assert later.answer.lockup.chase.width > whole.answer.lockup.chase.width
