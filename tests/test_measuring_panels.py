"""The panels of lesson 1 without a browser: what is typed reaches the model, what the model says reaches the page."""

from __future__ import annotations

import pytest
from stonework.choosing import choose_lockup
from stonework.drawing.form_words import lockup_weight_words
from stonework.exercises.measure_the_form import practice_form
from stonework.form import Form
from stonework.panels import GaugePanel, PagePanel, SquarePanel, TruePointPanel, WeightPanel
from stonework.records import save_lockup
from stonework.units import PICA, write_length
from test_panels import control, page, press, said


@pytest.fixture
def gauge():
    return GaugePanel(number=3)


@pytest.fixture
def square(breakwater):
    return SquarePanel(breakwater, "18 picas", "17 picas 10 pt", "30 picas", "30 picas 2 pt")


# --- the gauge -----------------------------------------------------------------------------------------------


def test_a_reading_is_answered(gauge):
    edges = practice_form(3)
    control(gauge, "Your reading, with its unit").value = f"{edges.head + 12} pt"
    press(gauge, "Check the reading")
    assert said(gauge).startswith("Not yet.") and "counting the marks" in said(gauge)
    control(gauge, "Your reading, with its unit").value = write_length(edges.head)
    assert "Press Enter" in said(gauge)
    press(gauge, "Check the reading")
    assert said(gauge).startswith(f"Right: {write_length(edges.head)}")
    assert f"<td>{write_length(edges.head)}</td>" in page(gauge)
    assert repr(gauge) == "<line gauge: form 3, head edge; 1 of 4 read>"


def test_enter_checks_the_reading_too(gauge):
    box = control(gauge, "Your reading, with its unit")
    box.value = write_length(practice_form(3).head)
    box._handle_custom_msg({"event": "submit"}, [])
    assert said(gauge).startswith("Right")


def test_another_form_is_the_next_number_and_comes_round(gauge):
    before = page(gauge)
    press(gauge, "Another form")
    assert control(gauge, "Form number").value == "4" and page(gauge) != before
    control(gauge, "Form number").value = "9999"
    press(gauge, "Another form")
    assert control(gauge, "Form number").value == "1"


def test_the_gauge_goes_along_any_edge(gauge):
    for edge in ("head", "foot", "left", "right"):
        control(gauge, "Edge").value = edge
        assert f"along its {edge} edge" in page(gauge)
        control(gauge, "Your reading, with its unit").value = f"{getattr(practice_form(3), edge)} pt"
        press(gauge, "Check the reading")
        assert said(gauge).startswith("Right")
    assert repr(gauge).endswith("4 of 4 read>")


@pytest.mark.parametrize("typed", ["", "27", "nonsense", "-1 pt", "<script>"])
def test_a_reading_that_is_none_is_told_so(gauge, typed):
    control(gauge, "Your reading, with its unit").value = typed
    press(gauge, "Check the reading")
    assert len(said(gauge).split()) > 5 and "<script>" not in page(gauge)


# --- the page ------------------------------------------------------------------------------------------------


def test_a_page_is_added_up(breakwater):
    panel = PagePanel(breakwater)
    assert "30 picas 10 pt deep" in said(panel) and "29 picas 10 pt deep" in said(panel)
    control(panel, "Body").value = 12.0
    control(panel, "Leads between").value = 0.0
    # S. J. Vaughn, Printing and Bookbinding for Schools, 1912, p. 24: 30 picas of lines, 31 with the slugs.
    assert "18 picas wide and 31 picas deep" in said(panel) and "is 30 picas deep" in said(panel)
    control(panel, "Lines of quads below").value = "3"
    assert "34 picas deep" in said(panel) and "is 30 picas deep" in said(panel)
    control(panel, "Cut above").value = "12 × 9 picas"
    assert "43 picas 6 pt deep" in said(panel)
    assert repr(panel) == "<page: 30 lines of 12 pt, 0 pt leads; the form is 43 picas 6 pt deep>"


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("wide", "can't be read as a length"),
        ("0 pt", "must be more than nothing"),
        ("200 picas", "wider than any chase of this shop"),
        ("10 picas", "doesn't go into a measure"),
    ],
)
def test_a_measure_that_won_t_do_is_told_so(breakwater, typed, words):
    panel = PagePanel(breakwater)
    control(panel, "Cut above").value = "12 × 9 picas"
    control(panel, "Measure").value = typed
    assert words in said(panel) and "The picture still shows the page before this." in page(panel)
    assert "no form" in repr(panel)
    control(panel, "Measure").value = "20 picas"
    assert "The picture still shows" not in page(panel)


# --- the true point ------------------------------------------------------------------------------------------


def test_the_true_point_over_a_chase_and_over_any_length(breakwater):
    panel = TruePointPanel(breakwater, "10 × 15")
    # Derived from A. A. Stewart, Typesetting, 1919, p. 15 (.013837 inch): 15 inches are 1084.05 points, not 1080.
    assert "4.05 points" in said(panel)
    assert "thicker than a 2-point lead, thinner than the thinnest reglet" in page(panel)
    control(panel, "Or another length").value = "22 in"
    assert "thinner than the thinnest reglet" in page(panel)
    control(panel, "Or another length").value = "22 1/4 in"
    assert "thicker than the thinnest reglet" in page(panel)
    control(panel, "Or another length").value = ""
    control(panel, "Width of the chase").value = "5 × 8"
    assert "2.16 points" in said(panel)


@pytest.mark.parametrize("typed", ["12", "0 in", "far", "101 feet"])
def test_a_length_to_compare_that_won_t_do_is_told_so(breakwater, typed):
    panel = TruePointPanel(breakwater)
    control(panel, "Or another length").value = typed
    assert len(said(panel).split()) > 5 and "The picture still shows" in page(panel)


def test_a_very_long_rule_has_no_more_marks_than_can_be_seen(breakwater):
    panel = TruePointPanel(breakwater)
    short = len(page(panel))
    control(panel, "Or another length").value = "960 in"
    assert "960 inches" in page(panel) and len(page(panel)) < 4 * short


# --- squareness ----------------------------------------------------------------------------------------------


def test_a_crooked_form_is_mended_edge_by_edge(square):
    assert "The foot is 2 pt short" in said(square) and "The left is 2 pt short" in said(square)
    assert "18 picas wide and 30 picas 2 pt high" in page(square)
    control(square, "Foot").value = "18 picas"
    assert "foot" not in said(square)
    assert "along the left edge for a lead" in said(square) and "as thick as 2 pt" in said(square)
    control(square, "Left").value = "362 pt"
    assert "is square" in said(square)


def test_units_may_differ_from_edge_to_edge(square):
    for name, value in (("Head", "3 in"), ("Foot", "76.2 mm"), ("Left", "360 pt"), ("Right", "30 picas")):
        control(square, name).value = value
    assert "is square" in said(square)


@pytest.mark.parametrize(
    ("edge", "typed", "words"),
    [
        ("Head", "18", "Head: “18” has no unit"),
        ("Foot", "0 pt", "A form's foot edge was given as 0.0 pt; it must be more than nothing."),
        ("Left", "-3 picas", "Left: “-3 picas” is less than nothing"),
        ("Right", "", "Right: No length was written"),
    ],
)
def test_a_bad_edge_is_named(square, edge, typed, words):
    control(square, edge).value = typed
    assert words in said(square) and "The picture still shows" in page(square)


def test_a_form_that_no_chase_takes_is_told_so(square):
    for name in ("Head", "Foot", "Left", "Right"):
        control(square, name).value = "99 picas"
    assert "No chase of this shop takes so large a form, which must be smaller" in page(square)


def test_a_difference_that_no_lead_makes_up_is_told_so(square, breakwater):
    control(square, "Foot").value = "18 picas"
    control(square, "Left").value = "1 pica"
    assert "leads don't come to that" in said(square)


# --- weight --------------------------------------------------------------------------------------------------


def test_the_weight_of_a_form(breakwater):
    panel = WeightPanel(breakwater, "8 in", "12 in")
    # Derived (see test_form.py): 96 square inches of slug metal, 0.918 inch high, are 32.7 lb. By the rule of two books
    # 24 lb of type are to be ordered.
    assert said(panel) == "At most about 32.7 lb (14.8 kg) of type."
    assert "96.0 square inches ÷ 4, in pounds, is 24 lb" in page(panel)
    assert "not how much a form can weigh" in page(panel)
    assert "Care." in page(panel) and "instructor come first" in page(panel)
    assert repr(panel) == "<weight: 8 in × 12 in>"


@pytest.fixture
def card_in_its_chase(breakwater, monkeypatch, tmp_path):
    """A lockup saved under the name “card”."""
    monkeypatch.chdir(tmp_path)
    lockup = choose_lockup(Form(27 * PICA, 17 * PICA), breakwater.chase("8 × 12"), breakwater)
    save_lockup(lockup, "card")
    return lockup


@pytest.mark.parametrize("by", ["button", "Enter"])
def test_a_saved_lockup_is_weighed(breakwater, card_in_its_chase, by):
    panel = WeightPanel(breakwater)
    box = control(panel, "Name of the lockup")
    box.value = "card"
    if by == "Enter":
        box._handle_custom_msg({"event": "submit"}, [])
    else:
        press(panel, "Open it")
    assert said(panel) == lockup_weight_words(card_in_its_chase, breakwater)
    assert "chase 7 lb" in said(panel) and "together" in page(panel) and "Care." in page(panel)
    assert repr(panel) == "<weight: lockup “card”>"
    control(panel, "Form width").value = "8 in"
    assert said(panel).endswith("of type.") and "together" not in page(panel)


def test_a_lockup_that_isn_t_there_leaves_the_weight_as_it_is(breakwater, card_in_its_chase):
    panel = WeightPanel(breakwater, "8 in", "12 in")
    control(panel, "Name of the lockup").value = "nobody's"
    press(panel, "Open it")
    assert "nobody" in said(panel) and " lb" not in said(panel)
    assert repr(panel) == "<weight: 8 in × 12 in>"


@pytest.mark.parametrize("typed", ["0 in", "-1 in", "many", "8"])
def test_the_weight_of_no_form_is_refused(breakwater, typed):
    panel = WeightPanel(breakwater)
    control(panel, "Form width").value = typed
    assert len(said(panel).split()) > 5 and " lb" not in said(panel)


def test_the_weight_of_a_form_larger_than_any_chase_comes_with_a_warning(breakwater):
    panel = WeightPanel(breakwater, "20 in", "3 in")
    assert "No chase of this shop takes so large a form, which must be smaller" in page(panel)
