"""Placing a form for a sheet: margins, the mirror, grippers and the gaps between pages, against books and geometry."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import affinity
from stonework.choosing import choose_lockup
from stonework.drawing.place_words import place_facts
from stonework.form import Form
from stonework.lockup import PlacedForm
from stonework.placing import (
    Margins,
    Place,
    Sheet,
    book_margins,
    even_margins,
    gripped,
    margins_from,
    page_gaps,
    place_by_custom,
    place_by_sheet,
    printed_margins,
)
from stonework.pressing import PressedForm
from stonework.rules import judge
from stonework.shop import Chase, Placing
from stonework.units import PICA, POINTS_PER_INCH

INCH = POINTS_PER_INCH
lengths = st.integers(20, 2000).map(lambda n: n / 4)
whites = st.integers(0, 800).map(lambda n: n / 4)
margins = st.builds(Margins, whites, whites, whites, whites)
CHASE = Chase("large", 2000.0, 2000.0)


def on_sheet(form: Form, white: Margins) -> Sheet:
    return Sheet(form.width + white.left + white.right, form.height + white.head + white.foot)


# --- margins -------------------------------------------------------------------------------------------------


def test_a_catalogue_leaf_closes():
    # E. G. Gress, The Art & Practice of Typography, 1917, p. 88: leaf 4 3/4 × 7 3/4 in with type 2 5/8 × 5 1/2;
    # head 5/8, back 7/8, outer 1 1/4, foot 1 5/8 in.
    sheet, form = Sheet(4.75 * INCH, 7.75 * INCH), Form(2.625 * INCH, 5.5 * INCH)
    found = margins_from(sheet, form, left=0.875 * INCH, head=0.625 * INCH)
    assert (found.right / INCH, found.foot / INCH) == pytest.approx((1.25, 1.625))


def test_a_measured_book_has_the_outer_margin_the_rule_gives():
    # Gress p. 69: back 5, head 6, outer 7 1/2, foot 11 picas. Head and foot are only near the rule (p. 54).
    form = Form(20 * PICA, 30 * PICA)
    found = book_margins(on_sheet(form, Margins(5 * PICA, 7.5 * PICA, 6 * PICA, 11 * PICA)), form, "left")
    assert (found.left / PICA, found.right / PICA) == pytest.approx((5, 7.5))
    assert (found.head / PICA, found.foot / PICA) == pytest.approx((6, 11), abs=0.4)


@given(lengths, lengths, st.sampled_from(["left", "right"]), whites, whites)
def test_a_book_page_has_gress_proportions(width, height, back, across, up):
    # Gress p. 54: outer one and a half times the back, foot twice the head.
    form = Form(width, height)
    found = book_margins(Sheet(width + across, height + up), form, back)
    inner, outer = (found.left, found.right) if back == "left" else (found.right, found.left)
    assert (outer, found.foot) == pytest.approx((1.5 * inner, 2 * found.head))
    assert (inner + outer, found.head + found.foot) == pytest.approx((across, up))


def test_on_a_page_of_the_right_shape_the_head_is_like_the_back():
    # Gress p. 54: head and back alike; so the white across is to the white up as 2 1/2 to 3.
    found = book_margins(Sheet(200 + 50, 300 + 60), Form(200, 300), "left")
    assert found == pytest.approx((20, 30, 20, 40))


@given(lengths, lengths, whites, whites)
def test_even_margins_are_even(width, height, across, up):
    found = even_margins(Sheet(width + across, height + up), Form(width, height))
    assert found == pytest.approx((across / 2, across / 2, up / 2, up / 2))


@pytest.mark.parametrize("find", [even_margins, lambda s, f: book_margins(s, f, "left"), page_gaps])
def test_a_form_larger_than_its_sheet_is_refused(find):
    more = (1, 1, 0.0) if find is page_gaps else ()
    with pytest.raises(ValueError, match="The form is 20 picas wide and the sheet only 19 picas; take a larger sheet"):
        find(Sheet(19 * PICA, 30 * PICA), Form(20 * PICA, 20 * PICA), *more)
    with pytest.raises(ValueError, match="The form is 31 picas high"):
        find(Sheet(20 * PICA, 30 * PICA), Form(20 * PICA, 31 * PICA), *more)
    with pytest.raises(ValueError, match="more than nothing"):
        find(Sheet(float("nan"), 30 * PICA), Form(20 * PICA, 20 * PICA), *more)


def test_a_margin_that_pushes_the_form_off_the_sheet_is_refused():
    with pytest.raises(ValueError, match="A left margin of 6 picas was given; only 5 picas of the sheet stays white"):
        margins_from(Sheet(25 * PICA, 30 * PICA), Form(20 * PICA, 20 * PICA), left=6 * PICA, head=0)


# --- the mirror ----------------------------------------------------------------------------------------------


@given(lengths, lengths, margins, lengths, lengths)
def test_the_printed_sheet_is_the_mirror_image_of_what_lies_on_the_stone(width, height, white, x, y):
    form = Form(width, height)
    sheet = on_sheet(form, white)
    paper = PlacedForm(x, y, *sheet)
    place = place_by_sheet(form, white, paper, Chase("any", 9000, 9000), Placing())
    # Turn the paper over about its upright middle, as one does to read it, and take the type's ink with it.
    ink = shapely.box(place.form.x, place.form.y, place.form.x + width, place.form.y + height)
    read = affinity.scale(ink, xfact=-1, yfact=1, origin=(x + sheet.width / 2, y + sheet.height / 2))
    left, foot, right, head = read.bounds
    found = (left - x, x + sheet.width - right, y + sheet.height - head, foot - y)
    assert found == pytest.approx(white, abs=1e-9) and place.margins == pytest.approx(white, abs=1e-9)


@given(lengths, lengths, margins, st.floats(-60, 60), st.floats(-60, 60))
def test_by_custom_the_form_stands_where_the_shop_says_and_the_margins_are_as_asked(width, height, white, right, up):
    form, custom = Form(width, height), Placing(right=right, up=up)
    place = place_by_custom(form, on_sheet(form, white), white, CHASE, custom)
    assert place.target == pytest.approx((1000 - width / 2 + right, 1000 - height / 2 + up))
    assert place.margins == pytest.approx(white, abs=1e-9)


@given(lengths, lengths, margins, lengths, lengths, margins)
def test_a_second_colour_falls_in_its_own_place_on_the_same_sheet(w, h, white, w2, h2, white2):
    first, second = Form(w, h), Form(w2, h2)
    sheet = on_sheet(first, white)
    assume(second.width <= sheet.width and second.height <= sheet.height)
    again = margins_from(sheet, second, min(white2.left, sheet.width - w2), min(white2.head, sheet.height - h2))
    placed = place_by_custom(first, sheet, white, CHASE, Placing())
    after = place_by_sheet(second, again, placed.sheet, CHASE, Placing())
    assert after.sheet == placed.sheet and after.margins == pytest.approx(again, abs=1e-9)


@given(st.floats(-6, 6), st.floats(-6, 6))
def test_a_second_colour_follows_the_first_to_where_its_wood_set_it(right, up):
    form, white = Form(240, 180), Margins(40, 60, 30, 50)
    first = place_by_custom(form, on_sheet(form, white), white, CHASE, Placing(up=-24))
    stands = PlacedForm(first.form.x + right, first.form.y + up, 240, 180)
    after = place_by_sheet(form, white, first.sheet, CHASE, Placing(up=-24), (right, up))
    assert after.target == pytest.approx((stands.x, stands.y)) and after.sheet == first.sheet
    # The same form a second time prints over the first: one sheet, one set of margins.
    assert after.margins == pytest.approx(printed_margins(stands, first.sheet))


@pytest.mark.parametrize(("allowed", "asked"), [(6.0, 1.0), (1.0, 1.0), (0.5, 0.5)])
def test_a_second_colour_is_asked_for_within_a_point_whatever_the_first_was_allowed(allowed, asked):
    form, white, custom = Form(240, 180), Margins(40, 60, 30, 50), Placing(tolerance=allowed)
    first = place_by_custom(form, on_sheet(form, white), white, CHASE, custom)
    second = place_by_sheet(form, white, first.sheet, CHASE, custom)
    assert first.tolerance == first.intent.tolerance == allowed
    assert second.tolerance == second.intent.tolerance == asked
    assert second.form == first.form


@pytest.mark.parametrize(
    ("by", "side"), [((-950, 0), "left"), ((950, 0), "right"), ((0, -950), "bottom"), ((0, 950), "top")]
)
def test_a_form_beyond_the_chase_is_refused(by, side):
    form, white = Form(240, 180), Margins(0, 0, 0, 0)
    with pytest.raises(ValueError, match=f"beyond the large chase on the {side}; take a larger chase"):
        place_by_custom(form, Sheet(240, 180), white, CHASE, Placing(right=by[0], up=by[1]))


@pytest.mark.parametrize(
    ("by", "said"),
    # How far it reaches is rounded up to a tenth of a point, so that as much less is enough.
    [(880.01, "0.1 pt"), (880.1, "0.1 pt"), (881.23, "1.3 pt"), (892, "1 pica"), (904.01, "2 picas 0.1 pt")],
)
def test_how_far_a_form_would_reach_beyond_the_chase_is_said(by, said):
    form, sheet, white = Form(240, 180), Sheet(240, 180), Margins(0, 0, 0, 0)
    with pytest.raises(ValueError, match=f"^The form would reach {said} beyond the large chase on the right"):
        place_by_custom(form, sheet, white, CHASE, Placing(right=by))
    assert place_by_custom(form, sheet, white, CHASE, Placing(right=880)).form.x == 2000 - 240


def test_a_place_is_what_the_solver_and_the_judge_ask_for(breakwater):
    form, sheet = Form(27 * PICA, 17 * PICA), Sheet(36 * PICA, 26 * PICA)
    chase = breakwater.chase("8 × 12")
    place = place_by_custom(form, sheet, even_margins(sheet, form), chase, breakwater.placing)
    lockup = choose_lockup(form, chase, breakwater, target=place.target, tolerance=place.tolerance)
    assert judge(lockup, breakwater, target=place.target, tolerance=place.tolerance) == []
    assert place.intent.sheet == place.sheet and place.intent.tolerance == breakwater.placing.tolerance == 6
    off = printed_margins(lockup.form, place.sheet).left - place.margins.left
    assert off == pytest.approx(place.form.x - lockup.form.x) and abs(off) <= place.tolerance


# --- grippers ------------------------------------------------------------------------------------------------


def test_the_school_s_grippers_hold_half_an_inch_of_the_paper(breakwater):
    # An American printers' handbook (University of Wisconsin digital text, title not shown): the paper's edge lies at
    # least half an inch nearer the chase's edge than the gripper's points do.
    assert breakwater.placing.bite >= 0.5 * INCH
    assert "hold" not in place_facts(placed(breakwater.placing), breakwater.placing, stays=False)


@pytest.mark.parametrize(("bite", "told"), [(36.2, False), (36.0, True), (1.0, True), (0.0, False)])
def test_grippers_that_hold_too_little_are_told_of(bite, told):
    # Half an inch is 36.1 points.
    custom = Placing(grippers=("left",), bite=bite)
    assert ("half an inch is the least" in place_facts(placed(custom), custom, stays=False)) is told
    none = Placing(bite=bite)
    assert "half an inch" not in place_facts(placed(none), none, stays=False)


def placed(custom: Placing) -> Place:
    form, white = Form(240, 180), Margins(60, 60, 60, 60)
    return place_by_custom(form, on_sheet(form, white), white, CHASE, custom)


@pytest.mark.parametrize(("left", "right", "edges"), [(2, 2, ()), (1.9, 2, ("left",)), (1, 1, ("left", "right"))])
def test_a_narrow_margin_lies_under_the_grippers(left, right, edges):
    custom = Placing(grippers=("left", "right"), bite=2 * PICA)
    form, white = Form(240, 180), Margins(left * PICA, right * PICA, 0, 0)
    place = place_by_custom(form, on_sheet(form, white), white, CHASE, custom)
    assert gripped(place, custom) == edges
    assert gripped(place, Placing()) == ()


@pytest.mark.parametrize(
    ("head", "edges"),
    # A gripper that takes an upright sheet at its right edge lies over the left of the chase. With the head to the
    # left, that is the head; with it to the right, the foot.
    [("top", "right"), ("bottom", "left"), ("left", "head"), ("right", "foot")],
)
def test_a_gripper_stays_where_it_is_however_the_page_is_turned(head, edges):
    form, bare = Form(240, 180), Margins(0, 0, 0, 0)
    custom = Placing(grippers=("right",), bite=INCH / 2)
    place = place_by_custom(form, on_sheet(form, bare), bare, CHASE, custom, head)
    assert gripped(place, custom) == (edges,)


# --- pages in one form ---------------------------------------------------------------------------------------


def test_the_school_s_eight_page_form():
    # S. J. Vaughn, Printing and Bookbinding for Schools, 1912, pp. 36–37: a half sheet of 25 × 38 in, so 19 × 25; type
    # pages 4 × 7 in; one inch of margin after trimming. Back to back 2 in; from the front of page 1 to that of page 7
    # 12 1/2 in, so the next gap is 2 1/2 in, said to be 15 picas; the other way 9 1/2 − 7 = 2 1/2 in.
    gaps = page_gaps(Sheet(25 * INCH, 19 * INCH), Form(4 * INCH, 7 * INCH), across=4, up=2, back=1 * INCH)
    assert (gaps.backs / INCH, gaps.fronts / INCH, gaps.heads / INCH) == pytest.approx((2, 2.5, 2.5))
    assert (2 * 4 * INCH + gaps.backs + gaps.fronts) / INCH == pytest.approx(12.5)
    assert gaps.fronts / PICA == pytest.approx(15, abs=0.06)  # true 15.06: the book's six picas are an inch


@given(lengths, lengths, whites, whites, st.integers(1, 4), st.integers(1, 4), st.floats(0, 1), st.floats(0, 1))
def test_folded_every_page_lies_in_its_leaf_as_wide_from_back_and_head(w, h, across_white, up_white, n, m, one, other):
    leaf, back, head = Sheet(w + across_white, h + up_white), one * across_white, other * up_white
    gaps = page_gaps(Sheet(2 * n * leaf.width, 2 * m * leaf.height), Form(w, h), 2 * n, 2 * m, back, head)
    # Lay the pages out from the sheet's edge, as on the stone, and look where the folds fall between them.
    x, y = gaps.fronts / 2, gaps.feet / 2
    for pair in range(n):
        fold = (2 * pair + 1) * leaf.width
        assert (fold - x - w, x + w + gaps.backs - fold) == pytest.approx((back, back), abs=1e-6)
        x += 2 * w + gaps.backs + gaps.fronts
    for pair in range(m):
        fold = (2 * pair + 1) * leaf.height
        assert (fold - y - h, y + h + gaps.heads - fold) == pytest.approx((head, head), abs=1e-6)
        y += 2 * h + gaps.heads + gaps.feet
    assert (x - gaps.fronts / 2, y - gaps.feet / 2) == pytest.approx((2 * n * leaf.width, 2 * m * leaf.height))


def test_a_page_whose_foot_is_twice_its_head_has_gaps_to_match():
    # Each leaf has 36 points of white up and down: 12 above the page and 24 below.
    gaps = page_gaps(Sheet(400, 472), Form(180, 200), across=2, up=2, back=10, head=12)
    assert gaps == pytest.approx((20, 20, 24, 48))


def test_a_back_wider_than_the_white_is_refused():
    with pytest.raises(ValueError, match="A back margin of 6 picas was given; only 5 picas of each leaf stays white"):
        page_gaps(Sheet(50 * PICA, 30 * PICA), Form(20 * PICA, 20 * PICA), across=2, up=1, back=6 * PICA)
    with pytest.raises(ValueError, match="A head margin of 11 picas was given; only 10 picas of each leaf stays white"):
        page_gaps(Sheet(50 * PICA, 30 * PICA), Form(20 * PICA, 20 * PICA), 2, 1, back=5 * PICA, head=11 * PICA)


# --- how far the wood gives ----------------------------------------------------------------------------------


@pytest.mark.parametrize(("width", "height", "chase"), [(27, 17, "8 × 12"), (18, 24, "8 × 12"), (28, 34, "10 × 15")])
def test_tightening_presses_the_form_toward_the_guides_by_a_point_or_so(width, height, chase, breakwater):
    # The order of magnitude that lesson 2 tells, by the model; its springs are assumed, so a factor of two is let pass.
    lockup = choose_lockup(Form(width * PICA, height * PICA), breakwater.chase(chase), breakwater)
    quoins = sum(item.kind == "quoin" for item in lockup.items)
    right, up = PressedForm.of(lockup).state([3.0] * quoins).moved
    assert 0.5 <= -right <= 2 and 0.5 <= -up <= 2


# --- the place -----------------------------------------------------------------------------------------------


def test_a_place_knows_its_chase():
    place = Place(CHASE, PlacedForm(10, 20, 30, 40), PlacedForm(0, 0, 60, 80), 6.0)
    assert place.margins == Margins(left=20, right=10, head=20, foot=20)
    assert place.target == (10, 20)
