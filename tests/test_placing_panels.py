"""The panels of lesson 2: a place is drawn, warned of, saved and opened; a second colour keeps its guides."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stonework.choosing import choose_lockup
from stonework.drawing.place_words import WAYS, grows_for
from stonework.form import Form
from stonework.lockup import SIDES, opposite
from stonework.moving import between, exchange, inner_wood, turning_strips
from stonework.panels import ChoosePanel, HandPanel, MovePanel, PlacePanel
from stonework.placing import REGISTER, printed_margins
from stonework.records import open_lockup, save_lockup
from stonework.rules import judge
from stonework.units import PICA, read_length, write_length
from test_panels import control, page, press, said

TYPED = "as I type them"


@pytest.fixture
def beside(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def place(breakwater):
    return PlacePanel(breakwater, chase="8 × 12")


def refused(panel):
    return 'class="stonework-status stonework-refused"' in page(panel)


def margins(panel):
    return [margin / PICA for margin in panel.place.margins]


def test_even_margins_put_the_form_where_the_shop_has_it(place, breakwater):
    chase = breakwater.chase("8 × 12")
    assert margins(place) == pytest.approx([4.5] * 4)
    assert place.place.form.x == pytest.approx((chase.width - 27 * PICA) / 2)
    assert repr(place).startswith("<place: form 27 picas × 17 picas; 22 picas 7.6 pt from the left")
    assert not refused(place)
    assert "there lie the sheet's foot and right edge" in page(place).replace("&#x27;", "'")


def test_more_white_on_the_left_moves_the_paper_to_the_right_on_the_stone(place):
    before = place.place.sheet.x
    control(place, "Margins").value = TYPED
    control(place, "Left margin").value = "7 picas"
    assert margins(place)[:2] == pytest.approx([7, 2]) and place.place.sheet.x - before == pytest.approx(2.5 * PICA)


def test_boxes_of_margins_show_what_was_found_and_are_typed_into_only_then(place):
    assert control(place, "Left margin").disabled and control(place, "Left margin").value == "4 picas 6 pt"
    control(place, "Margins").value = "book page, back on the right"
    assert control(place, "Left margin").value == "5 picas 4.8 pt"
    control(place, "Margins").value = TYPED
    assert not control(place, "Left margin").disabled and margins(place)[0] == pytest.approx(5.4)


def test_type_under_a_gripper_is_warned_of_where_it_is(place):
    control(place, "Margins").value = TYPED
    control(place, "Left margin").value = "1 pica"
    assert "at the sheet's left a gripper covers 3 picas 0.1 pt and would come down on type" in said(place)
    assert refused(place)
    control(place, "Left margin").value = "1/2 in"
    assert "gripper covers" not in said(place)


def test_the_status_tells_the_margins_and_changes_with_them(place):
    assert said(place).startswith(
        "Margins: left 4 picas 6 pt, right 4 picas 6 pt, head 4 picas 6 pt, foot 4 picas 6 pt."
    )
    control(place, "Margins").value = TYPED
    control(place, "Left margin").value = "6 picas"
    assert said(place).startswith("Margins: left 6 picas, right 3 picas, head 4 picas 6 pt")


def test_the_table_says_how_far_off_the_middle_a_form_stands(breakwater):
    custom = replace(breakwater.placing, right=-6.0, up=0.0)
    panel = PlacePanel(replace(breakwater, placing=custom), chase="8 × 12")
    assert "<td>6 pt to the left</td>" in page(panel) and "<td>not at all</td>" in page(panel)


@pytest.mark.parametrize(
    ("name", "typed", "words"),
    [
        ("Sheet width", "20 picas", "The form is 27 picas wide and the sheet only 20 picas"),
        ("Form height", "nonsense", "can't be read as a length"),
        ("Sheet height", "", "No length was written"),
        ("Form width", "0 pt", "more than nothing"),
    ],
)
def test_bad_input_gets_a_sentence_and_a_good_one_a_picture_again(place, name, typed, words):
    before = control(place, name).value
    control(place, name).value = typed
    assert words in said(place) and "Traceback" not in page(place)
    control(place, name).value = before
    assert place.place is not None and not refused(place)


def test_a_form_larger_than_the_chase_is_refused(place):
    control(place, "Sheet width").value = "90 picas"
    control(place, "Form width").value = "80 picas"
    assert "beyond the 8 × 12 chase" in said(place) and place.place is None
    press(place, "Save it")
    assert said(place).startswith("There is no lockup to save. The form would reach")


def test_a_saved_place_is_where_lesson_3_looks_for_wood(place, breakwater, beside):
    control(place, "Margins").value = TYPED
    control(place, "Left margin").value = "6 picas"
    control(place, "Name of the lockup").value = "tide table"
    press(place, "Save it")
    assert said(place).startswith("Saved as tide table.lockup.json in ")
    kept = open_lockup("tide table")
    assert kept.items == () and kept.intent == place.place.intent and kept.intent.sheet == place.place.sheet
    choose = ChoosePanel(breakwater, "20 picas", "10 picas", chase="5 × 8")
    control(choose, "Name of the lockup").value = "tide table"
    press(choose, "Open it")
    assert control(choose, "Form width").value == "27 picas" and control(choose, "Chase").value == "8 × 12"
    assert judge(choose.lockup, breakwater, target=place.place.target, tolerance=6) == []
    white = printed_margins(choose.lockup.form, place.place.sheet)
    assert "On the sheet the margins will be left " in page(choose)
    assert abs(white.left - 6 * PICA) <= 6
    press(choose, "Save it")
    assert "press Save it once more" in said(choose) and open_lockup("tide table") == kept
    press(choose, "Save it")
    again = open_lockup("tide table")
    assert again.items == choose.lockup.items and again.intent.sheet == place.place.sheet


def test_another_size_is_another_job_and_forgets_the_sheet(place, breakwater, beside):
    control(place, "Name of the lockup").value = "tide table"
    press(place, "Save it")
    choose = ChoosePanel(breakwater, chase="8 × 12")
    control(choose, "Name of the lockup").value = "tide table"
    press(choose, "Open it")
    assert "the margins will be" in page(choose)
    control(choose, "Form width").value = "24 picas"
    assert "the margins will be" not in page(choose) and choose.lockup.intent.sheet is None


def test_a_saved_place_is_laid_by_hand_where_it_was_wanted(place, breakwater, beside):
    control(place, "Margins").value = TYPED
    control(place, "Head margin").value = "2 picas"
    control(place, "Name of the lockup").value = "ferry"
    press(place, "Save it")
    by_hand = HandPanel(breakwater)
    control(by_hand, "Name of the lockup").value = "ferry"
    press(by_hand, "Open it")
    assert by_hand.lockup.items == () and by_hand.lockup.intent == place.place.intent
    press(by_hand, "See it finished")
    assert "This would hold" in said(by_hand) and by_hand.lockup.intent.sheet == place.place.sheet


def test_the_sides_at_the_guides_are_the_solid_ones(breakwater):
    turned = replace(breakwater, placing=replace(breakwater.placing, guides=("top", "right")))
    choose, by_hand = ChoosePanel(turned, chase="8 × 12"), HandPanel(turned)
    press(by_hand, "See it finished")
    for panel in (choose, by_hand):
        assert panel.lockup.quoin_sides == ("bottom", "left") and "This would hold" in said(panel)


def test_a_place_opened_by_hand_keeps_the_shop_s_solid_sides(breakwater, beside):
    turned = replace(breakwater, placing=replace(breakwater.placing, guides=("top", "right")))
    place = PlacePanel(turned, chase="8 × 12")
    control(place, "Name of the lockup").value = "turned"
    press(place, "Save it")
    by_hand = HandPanel(turned)
    control(by_hand, "Name of the lockup").value = "turned"
    press(by_hand, "Open it")
    press(by_hand, "See it finished")
    assert by_hand.lockup.quoin_sides == ("bottom", "left")


def test_a_second_colour_keeps_the_guides(place, beside):
    control(place, "Name of the lockup").value = "black"
    press(place, "Save it")
    paper = place.place.sheet
    control(place, "First colour's lockup").value = "black"
    press(place, "Paper as for that lockup")
    assert said(place).startswith("The guides stay as for “black”.")
    control(place, "Form width").value = "10 picas"
    control(place, "Form height").value = "2 picas"
    control(place, "Margins").value = TYPED
    control(place, "Left margin").value = "13 picas"
    control(place, "Head margin").value = "5 picas"
    assert place.place.sheet == paper and margins(place) == pytest.approx([13, 13, 5, 19])
    assert "The guides stay where they are" in page(place)
    press(place, "Paper as the shop has it")
    assert place.place.sheet != paper and "the guides are set to suit" in page(place)


def test_a_second_colour_follows_the_first_to_where_its_wood_set_it(place, breakwater, beside):
    control(place, "Name of the lockup").value = "black"
    press(place, "Save it")
    wanted = place.place.form
    # The wood set the black 2 points left and 3 up on the stone: on the sheet to the right, and toward the head.
    stands = replace(wanted, x=wanted.x - 2, y=wanted.y + 3)
    save_lockup(replace(open_lockup("black"), form=stands), "black")
    control(place, "First colour's lockup").value = "black"
    press(place, "Paper as for that lockup")
    assert "set it 2 pt to the right and 3 pt toward the head on the sheet" in said(place)
    assert place.place.target == pytest.approx((stands.x, stands.y)) and place.place.tolerance == REGISTER
    assert place.place.margins == pytest.approx(printed_margins(stands, place.place.sheet))


def test_another_sheet_has_guides_of_its_own(place, beside):
    control(place, "Name of the lockup").value = "black"
    press(place, "Save it")
    control(place, "First colour's lockup").value = "black"
    press(place, "Paper as for that lockup")
    assert "The guides stay where they are" in page(place)
    control(place, "Sheet width").value = "40 picas"
    assert place.place.sheet.width == 40 * PICA and "the guides are set to suit" in page(place)


def test_what_has_no_paper_can_t_lend_its_guides(place, breakwater, beside):
    choose = ChoosePanel(breakwater, chase="8 × 12")
    control(choose, "Name of the lockup").value = "bare"
    press(choose, "Save it")
    before = place.place
    for name, words in (("bare", "doesn't say where its paper lies"), ("nothing", "No lockup is saved as “nothing”")):
        control(place, "First colour's lockup").value = name
        press(place, "Paper as for that lockup")
        assert words in said(place) and place.place == before


# --- moving --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("way", WAYS)
def test_the_side_that_grows_moves_the_printing_the_way_asked(breakwater, way):
    # The form goes away from the side that grows; the sheet stays. Read the margins before and after.
    form = Form(18 * PICA, 24 * PICA)
    lockup = choose_lockup(form, breakwater.chase("8 × 12"), breakwater)
    grows, x, y = grows_for(way), lockup.form.x, lockup.form.y
    moved = {"left": (6, 0), "right": (-6, 0), "bottom": (0, 6), "top": (0, -6)}[grows]
    place = type(lockup.form)
    sheet = place(x - 50, y - 50, form.width + 100, form.height + 100)
    before = printed_margins(lockup.form, sheet)
    after = printed_margins(place(x + moved[0], y + moved[1], form.width, form.height), sheet)
    shrinks = {"to the left": "left", "to the right": "right", "toward the head": "head", "toward the foot": "foot"}
    assert getattr(after, shrinks[way]) == pytest.approx(getattr(before, shrinks[way]) - 6)


@given(st.integers(14, 30), st.integers(12, 24), st.sampled_from(SIDES), st.sampled_from([6, 12, 18]))
def test_what_the_panel_exchanges_is_there_and_comes_out_even(breakwater, width, height, grows, by):
    lockup = choose_lockup(Form(width * PICA, height * PICA), breakwater.chase("10 × 15"), breakwater)
    here, there = inner_wood(lockup, grows), inner_wood(lockup, opposite(grows))
    found = exchange(here, there, by, between(lockup, breakwater, grows))
    assert found is not None
    assert sum(found.in_here) - sum(found.out_here) == by == sum(found.out_there) - sum(found.in_there)
    # Every thickness that goes in is one the cabinet has.
    thicknesses = {material.thickness for material in breakwater.stock}
    assert {*found.in_here, *found.in_there} <= thicknesses


def test_a_move_is_told_as_what_to_take_and_what_to_put(breakwater):
    move = MovePanel(breakwater, chase="8 × 12")
    assert said(move).startswith("On the stone the form goes to the right. At the right, take out ")
    assert "At the left, put in 6 pt." in said(move) and "Lengths are only assumed to suit" in page(move)
    control(move, "Move the print").value = "toward the head"
    assert "On the stone the form goes toward the top. At the top, take out " in said(move)
    control(move, "By how much").value = "2 pt"
    assert "At the bottom, put in 2 pt. The quoins at the top then stand open " in said(move)
    control(move, "By how much").value = "0 pt"
    assert said(move) == "The form stays where it is."
    assert repr(move) == "<move: toward the head, by 0 pt>"


@pytest.mark.parametrize("by", ["1 pt", "2 pt", "3 1/2 pt", "9 pt", "9.7 pt"])
def test_leads_and_card_make_what_reglet_can_t(breakwater, by):
    move = MovePanel(breakwater, chase="8 × 12")
    control(move, "By how much").value = by
    there = re.split(r"\. (?=[A-Z0-9])", said(move).split("At the left, ")[1])[0]
    sums = {
        word: sum(map(read_length, found[1].split(" + ")))
        if (found := re.search(rf"{word} (.*?)( and put|$)", there))
        else 0
        for word in ("put in", "take out")
    }
    card = re.search(r" ([\d.]+) pt more, as you read it, is for paper or card", said(move))
    made = sums["put in"] - sums["take out"] + (float(card[1]) if card else 0)
    assert made == pytest.approx(read_length(by), abs=0.06)
    assert (card is None) == (by != "9.7 pt")  # leads go by half points


def test_one_s_own_lockup_is_opened_and_a_turned_one_moves_as_it_is_read(breakwater, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    lockup = choose_lockup(Form(24 * PICA, 18 * PICA), breakwater.chase("8 × 12"), breakwater)
    save_lockup(replace(lockup, head="left"), "sideways")
    move = MovePanel(breakwater, chase="8 × 12")
    control(move, "Name of the lockup").value = "sideways"
    press(move, "Open it")
    # The head points to the left of the chase: what moves to the right on the sheet goes down on the stone.
    control(move, "Move the print").value = "to the right"
    assert said(move).startswith("On the stone the form goes toward the bottom. At the bottom, take out ")
    control(move, "A line prints lower at").value = "left"
    told = {strip.side: strip for strip in turning_strips("left", 2, 18 * PICA, 18 * PICA, 24 * PICA, "left")}
    for side, strip in told.items():
        assert f"at the {side}, near its {strip.end} end, {write_length(round(strip.thickness, 2))}" in said(move)


def test_a_shop_without_wood_says_so(small_shop):
    move = MovePanel(small_shop)
    assert "This shop has no lockup for a form 18 picas wide" in said(move)
