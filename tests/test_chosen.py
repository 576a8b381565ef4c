"""What an instructor chooses for a class: one number for all, and questions left out."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stonework.exercises import QUESTIONS, AnswerSheet
from stonework.exercises.attempt import Attempt
from stonework.exercises.chosen import EVERYTHING, FILE, Chosen, chosen_for, keep_chosen, read_chosen, read_number
from stonework.exercises.progress import progress
from stonework.panels import QuestionPanel, StartPanel
from test_panels import page, said

PAGE = QUESTIONS["depth-of-a-page"]


@pytest.fixture
def sheet(tmp_path):
    return AnswerSheet.open(tmp_path / "work" / "Ana")


@pytest.fixture
def choose(tmp_path):
    return lambda **what: keep_chosen(tmp_path / "work", Chosen(**what))


def answered_right(sheet, breakwater, question=PAGE):
    attempt = Attempt(question, breakwater, sheet)
    attempt.text = attempt.variant.right
    attempt.check()
    return attempt


def test_nothing_is_chosen_until_somebody_does(sheet):
    assert chosen_for(sheet) == EVERYTHING and str(EVERYTHING) == ""


def test_what_is_kept_is_read_again(tmp_path):
    chosen = Chosen(7, frozenset({"next-gap", "which-side"}))
    keep_chosen(tmp_path, chosen)
    assert read_chosen(tmp_path) == chosen


def test_all_have_the_number_that_is_set_and_are_told(sheet, breakwater, choose):
    sheet.number = 8  # one of their own that makes another task
    choose(number=7)
    attempt = Attempt(PAGE, breakwater, sheet)
    assert attempt.variant.mark == PAGE.variant(7, breakwater).mark != PAGE.variant(sheet.number, breakwater).mark
    told = page(QuestionPanel(PAGE.id, breakwater, sheet))
    assert "Your instructor has set number 7 for all." in told and "number 7, set for all, takes its place." in told


def test_a_number_set_for_all_never_costs_an_answer_of_one_s_own(sheet, breakwater, choose):
    own = answered_right(sheet, breakwater)
    choose(number=7)
    assert Attempt(PAGE, breakwater, sheet).text == ""
    shown = answered_right(sheet, breakwater)
    shown.hint()
    choose(number=8)
    assert Attempt(PAGE, breakwater, sheet).outcome.standing == "not attempted"
    choose()
    again = Attempt(PAGE, breakwater, AnswerSheet.open(sheet.path.parent))
    assert (again.text, again.outcome.standing) == (own.text, "right")
    kept = json.loads(sheet.path.read_text())["answers"][PAGE.id]
    assert kept["tries"] == 1 and "hints" not in kept
    choose(number=7)
    assert Attempt(PAGE, breakwater, sheet).text == shown.text


def test_a_question_left_out_says_so_in_its_place_and_isn_t_counted(sheet, breakwater, shop_file, choose):
    answered_right(sheet, breakwater)
    before = progress(QUESTIONS.values(), breakwater, sheet)[0]
    choose(left_out=frozenset({PAGE.id}))
    panel = QuestionPanel(PAGE.id, breakwater, sheet)
    assert repr(panel) == f"<question {PAGE.id}: left out>"
    assert said(panel) == "How deep is a page?: your instructor leaves this question out."
    after = progress(QUESTIONS.values(), breakwater, sheet)[0]
    assert (before.right, len(before.questions)) == (1, len(after.questions) + 1) and after.right == 0
    choose(left_out=frozenset(QUESTIONS))
    start = page(StartPanel(shop_file, sheet))
    assert start.count("nothing is asked") == 8 and 'href="01-measure-the-form.ipynb"' in start


@pytest.mark.parametrize(
    "spoilt",
    [
        *("", "{", "[]", "7", '{"number": 7}', '{"schema": 2, "number": 7}', "[" * 50_000),
        *(f'{{"schema": 1, "number": {number}}}' for number in ("0", "-7", "true", "7.5", '"7"', "10000", "9" * 5000)),
        *(f'{{"schema": 1, "left out": {what}}}' for what in ('"which-side"', "[7]", "{}")),
    ],
)
def test_a_spoilt_file_is_said_and_then_all_is_asked(spoilt, sheet, breakwater, shop_file, tmp_path):
    (tmp_path / "work" / FILE).write_text(spoilt)
    chosen = chosen_for(sheet)
    assert chosen.number is None and not chosen.left_out and chosen.said.endswith("with your own number.")
    assert Attempt(PAGE, breakwater, sheet).variant.mark == PAGE.variant(sheet.number, breakwater).mark
    assert "can&#x27;t be read" in page(StartPanel(shop_file, sheet))


def test_a_question_unknown_today_may_be_left_out(sheet, breakwater, choose):
    choose(left_out=frozenset({"of-another-workbook"}))
    assert len(chosen_for(sheet).asked(QUESTIONS.values())) == len(QUESTIONS)


@given(st.integers(1, 9999))
def test_a_number_is_read_as_it_is_typed(number):
    assert read_number(f" {number} ") == number


@pytest.mark.parametrize("typed", ["0", "-7", "7.5", "10000", "seven", "٧", "7 8", "<b>7</b>", "9" * 5000])
def test_what_is_no_number_is_told(typed):
    assert read_number("  ") is None
    with pytest.raises(ValueError, match="isn't a number from 1 to 9999; write one, or nothing"):
        read_number(typed)


@pytest.mark.parametrize("shop", ["cellar", "loft", "metric"])
def test_a_number_set_for_all_serves_in_every_shop(shop, irregular, sheet, choose):
    choose(number=7)
    for name in ("which-furniture", "how-far-open", "weight-of-a-form"):
        attempt = answered_right(sheet, irregular[shop], QUESTIONS[name])
        assert attempt.outcome.standing == "right"
        assert attempt.variant.mark == QUESTIONS[name].variant(7, irregular[shop]).mark
