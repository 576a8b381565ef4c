"""What is touched in a picture does what the buttons do, in the same words."""

from __future__ import annotations

import re
from itertools import count
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stonework.drawing import PlanView
from stonework.drawing.stone_touches import stone_touches
from stonework.drawing.touching import Touch, touchable
from stonework.exercises import AnswerSheet
from stonework.lockup import SIDES
from stonework.panels import HandPanel, QuestionPanel, TighteningPanel
from stonework.panels.showing import SHOW, show_to_a_class
from stonework.panels.touching import drag, read_touch
from test_panels import control, page, press, said

NUMBERS = count(1)


def touch(panel, words, way=""):
    """Tell a panel what the page's plug-in tells it."""
    control(panel, "What was touched").value = "\t".join(filter(None, (str(next(NUMBERS)), words, way)))


def places(panel):
    """What can be touched in a panel's pictures: its label by its words."""
    found = re.findall(r'aria-label="([^"]*)" data-stonework-touch="([^"]*)"', page(panel))
    return {words: label for label, words in found}


@pytest.fixture
def hand(breakwater):
    return HandPanel(breakwater)


def test_touching_the_room_on_a_side_lays_the_piece_chosen_there_as_the_button_does(hand, breakwater):
    other = HandPanel(breakwater)
    control(other, "Side").value = "left"
    press(other, "Lay this piece")
    assert places(hand)["room left"] == "Lay furniture 2 picas × 10 picas on the left"
    touch(hand, "room left")
    assert hand.lockup == other.lockup and said(hand) == said(other)
    assert control(hand, "Side").value == "left"


def test_the_same_touch_twice_is_heard_twice(hand):
    touch(hand, "room bottom")
    touch(hand, "room bottom")
    assert len(hand.lockup.on("bottom")) == 2


def test_a_stick_is_taken_from_the_cabinet_and_laid(hand):
    press(hand, "▸ Open the cabinet")
    assert places(hand)["take furniture 36 180"].startswith("Take furniture 3 picas, 15: ")
    touch(hand, "take furniture 36 180")
    assert "Furniture 3 picas × 15 picas in hand." in said(hand)
    touch(hand, "room top")
    (item,) = hand.lockup.items
    assert (item.side, item.thickness, item.length) == ("top", 36, 180)


@pytest.mark.parametrize(("way", "by"), [("right", 6.0), ("left", -6.0), ("by 24 3", None), ("by -24 0", None)])
def test_what_lies_outermost_slides_along_its_side(hand, way, by):
    touch(hand, "room bottom")
    (before,) = hand.lockup.items
    touch(hand, "layer bottom", way)
    (after,) = hand.lockup.items
    moved = after.x - before.x
    if by is None:  # a drag: as far as it went in the picture, in whole points
        by = round(float(way.split()[1]) / hand._plan_view.scale)
    assert moved == pytest.approx(by) and after.y == before.y


def test_an_arrow_across_its_side_moves_nothing_and_says_which_do(hand):
    touch(hand, "room bottom")
    before = hand.lockup
    touch(hand, "layer bottom", "up")
    assert hand.lockup == before and "slides left and right" in said(hand)


@pytest.mark.parametrize("way", ["off", "by 3 -60"])
def test_it_is_taken_off_by_delete_or_dragged_away_from_the_form(hand, way):
    touch(hand, "room bottom")
    touch(hand, "layer bottom", way)
    assert hand.lockup.items == () and "Took furniture" in said(hand)


def test_quoins_are_turned_by_a_touch_as_by_their_buttons(breakwater):
    panel, other = TighteningPanel(breakwater), TighteningPanel(breakwater)
    press(other, "Tighten 2")
    touch(panel, "quoin 1")
    assert panel._turning.turned == other._turning.turned and said(panel) == said(other)
    touch(panel, "quoin 1", "left")
    assert panel._turning.turned[1] == 0
    assert len(places(panel)) == len(panel._turning.names)


def test_what_is_no_touch_does_nothing(hand):
    before = hand.lockup
    for heard in (
        "",
        "room bottom",
        "x\troom bottom",
        "1\troom",
        "1\troom inside",
        "1\tlayer top\tby a b",
        "1\ttake x",
    ):
        control(hand, "What was touched").value = heard
    assert hand.lockup == before


@given(heard=st.text(max_size=40) | st.tuples(st.integers(0, 9), st.text(max_size=20)).map(lambda t: f"{t[0]}\t{t[1]}"))
def test_anything_heard_is_a_touch_or_nothing(heard):
    found = read_touch(heard)
    assert found is None or all("\t" not in part for part in found)
    assert drag(heard) is None or heard.split()[0] == "by"


def test_a_place_lies_in_the_picture_where_its_piece_is_drawn(built, breakwater):
    lockup = built["8 × 12"]
    view = PlanView("places")
    view.draw(lockup, breakwater)
    touches = [touch for side in SIDES for touch in stone_touches(lockup, side, "")]
    svg = ElementTree.fromstring(touchable(view, touches))
    _, _, wide, high = map(float, svg.get("viewBox").split())
    rects = [one for one in svg.iter("{http://www.w3.org/2000/svg}rect") if one.get("class") == "stonework-place"]
    assert len(rects) == len(touches) == 4  # it is full, so there is no room, and one outermost layer a side
    # The chase spans the view but for its margins: a place's middle is that of its piece, as a share of both.
    (left, right), (foot, top) = view.axes.get_xlim(), view.axes.get_ylim()
    for rect, one in zip(rects, touches, strict=True):
        x, y, width, height = (float(rect.get(name)) for name in ("x", "y", "width", "height"))
        assert (x + width / 2) / wide == pytest.approx((one.left + one.width / 2 - left) / (right - left), abs=0.002)
        assert 1 - (y + height / 2) / high == pytest.approx(
            (one.foot + one.height / 2 - foot) / (top - foot), abs=0.002
        )


def test_a_picture_that_can_be_touched_is_a_group_and_its_words_can_t_break_out(breakwater, built):
    view = PlanView("marks")
    view.draw(built["8 × 12"], breakwater)
    svg = touchable(view, [Touch('a"<b', "<i>&", 0, 0, 10, 10)])
    root = ElementTree.fromstring(svg)
    assert root.get("role") == "group" and 'role="img"' not in svg
    (rect,) = [one for one in root.iter("{http://www.w3.org/2000/svg}rect") if one.get("class") == "stonework-place"]
    assert rect.get("data-stonework-touch") == 'a"<b' and rect.get("aria-label") == "<i>&"
    assert 'role="img"' in touchable(view, [])


@pytest.fixture
def one_reader():
    yield
    show_to_a_class(False)


def test_a_plan_shown_to_a_class_is_lettered_larger_and_back_again(hand, breakwater, one_reader):
    touch(hand, "room bottom")
    sizes = {on: set() for on in ("before", "on", "off")}
    sizes["before"] = lettering(hand)
    for on in ("on", "off"):
        touch(hand, SHOW, on)
        sizes[on] = lettering(hand)
    assert min(sizes["on"]) > min(sizes["before"]) and sizes["off"] == sizes["before"]
    touch(hand, SHOW, "on")
    other = HandPanel(breakwater)  # what is opened later is lettered for the class too
    assert min(lettering(other)) == min(sizes["on"])


def lettering(panel):
    return {float(size) for size in re.findall(r"font-size: ([\d.]+)px", panel._picture.value)}


def test_a_piece_is_chosen_as_an_answer_and_judged_only_when_checked(breakwater):
    panel = QuestionPanel("which-piece-binds", breakwater, AnswerSheet.mine())
    right = panel.children[0]._attempt.variant.right
    there = places(panel)
    assert f"piece {right}" in there and there[f"piece {right}"].startswith(f"Piece {right}: ")
    touch(panel, f"piece {right}")
    assert control(panel, "Number of the piece").value == right
    assert "Right" not in said(panel)
    press(panel, "Check")
    assert said(panel).startswith("Right")
