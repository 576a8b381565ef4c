"""The answer key: every question worked for any number, on the page and on paper."""

from __future__ import annotations

import json
import re

import pytest
from stonework.exercises import LESSONS, QUESTIONS
from stonework.exercises.chosen import Chosen, keep_chosen
from stonework.exercises.key import answer_key, key_page
from stonework.panels import ChosenPanel, KeyPanel
from stonework.people import People
from test_panels import control, page, press, said
from test_report import pages_in


@pytest.fixture
def class_of_two(work):
    for name, number in (("Ana", 21), ("Ben", 22)):
        folder = People(work).begin(name)
        (folder / "answers.json").write_text(json.dumps({"schema": 1, "number": number, "name": name, "answers": {}}))
    return work


@pytest.mark.parametrize("number", [1, 7, 9999])
def test_every_question_is_worked_and_what_stands_as_right_is_right(number, breakwater):
    worked = answer_key(number, QUESTIONS.values(), breakwater)
    assert [one.question for one in worked] == list(QUESTIONS.values())
    for one in worked:
        variant = one.question.variant(number, breakwater)
        assert (one.task, one.working, one.why) == (variant.task, variant.solution, variant.why)
        if variant.start is None:  # a lockup is told in its working, piece by piece
            written = one.right.partition(", that is ")[0]
            assert variant.check(written).standing == "right", one.right
        else:
            assert re.fullmatch(r"\d+ pieces of wood and \d quoins", one.right)


def test_a_question_that_a_shop_has_no_task_for_says_so(irregular):
    one, other = answer_key(7, (QUESTIONS["both-faces"], QUESTIONS["how-to-store"]), irregular["cellar"])
    assert one.right == "" and "can't be made from this shop's file" in one.task
    assert other.right and other.working


def test_what_is_left_out_for_the_class_is_worked_and_says_so(shop_file, breakwater, work, monkeypatch):
    panel = KeyPanel(shop_file)
    assert "left out" not in page(panel)
    keep_chosen(work, Chosen(left_out=frozenset({"depth-of-a-page"})))
    printed = []
    monkeypatch.setattr("stonework.panels.key.key_page", lambda *told: printed.append(told[2]) or b"%PDF")
    press(panel, "Key to print")  # what is chosen meanwhile is heard of
    marked = "How deep is a page? (left out for this class)"
    assert f"<strong>{marked}</strong>" in page(panel) and page(panel).count("left out for") == 1
    assert [one.title for one in printed[0] if not one.asked] == [marked]
    monkeypatch.setattr("stonework.exercises.key.pdf", lambda title, figures: figures)
    figures = key_page(1, "", printed[0], breakwater.name)
    assert marked in [text.get_text() for figure in figures for text in figure.texts]


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_key_is_printed_whole(paper, breakwater):
    worked = answer_key(7, QUESTIONS.values(), breakwater)
    assert 3 <= pages_in(key_page(7, "Ana", worked, breakwater.name, paper)) <= 6
    assert pages_in(key_page(7, "", worked[:3], "<b>$x$</b>", paper)) == 1
    with pytest.raises(ValueError, match="A4 or Letter was expected"):
        key_page(7, "", worked, breakwater.name, "A0")


def test_the_panel_works_any_number_and_any_student_s(class_of_two, shop_file, breakwater):
    panel = KeyPanel(shop_file)
    assert said(panel) == "Worked for number 1."
    control(panel, "Number").value = "21"
    depth = QUESTIONS["depth-of-a-page"]
    assert said(panel) == "Worked for number 21." and depth.variant(21, breakwater).task in page(panel)
    control(panel, "Student").value = ("Ben", 22)
    assert control(panel, "Number").value == "22" and depth.variant(22, breakwater).task in page(panel)
    control(panel, "Lesson").value = "08-from-ticket-to-press"
    assert "Two abreast" in page(panel) and depth.title not in page(panel)
    press(panel, "Key to print")
    assert "Save answer-key.pdf" in page(panel)
    control(panel, "Number").value = "23"
    assert control(panel, "Student").value == "" and "Save answer-key.pdf" not in page(panel)


def test_the_panel_finds_students_who_came_later(shop_file, work, request):
    panel = KeyPanel(shop_file)
    assert [name for name, _ in control(panel, "Student").options] == ["any"]
    request.getfixturevalue("class_of_two")
    press(panel, "Look for students again")
    assert [name for name, _ in control(panel, "Student").options] == ["any", "Ana", "Ben"]


def test_the_panel_says_what_it_can_t_work_and_which_number_is_set(shop_file, work, tmp_path):
    keep_chosen(work, Chosen(number=7))
    panel = KeyPanel(shop_file)
    assert said(panel) == "Worked for number 1. But number 7 is set for all."
    for typed, told in (("", "Choose a student, or write a number."), ("<b>", "“<b>” isn't a number from 1 to 9999")):
        control(panel, "Number").value = typed
        assert said(panel).startswith(told) and '"stonework-task"' not in page(panel)
        press(panel, "Key to print")
        assert "There is nothing to print yet." in page(panel) and "<b>" not in page(panel)
    assert said(KeyPanel(tmp_path / "no.toml")).startswith("The shop file can't be used: ")


def test_what_is_chosen_on_the_page_is_kept_and_found_again(work):
    panel = ChosenPanel()
    assert said(panel) == f"{len(QUESTIONS)} of {len(QUESTIONS)} questions are asked, with everyone's own number."
    control(panel, "One number for all").value = "7"
    control(panel, "How deep is a page?").value = False
    press(panel, "Keep this for the class")
    told = f"{len(QUESTIONS) - 1} of {len(QUESTIONS)} questions are asked, with number 7 for all."
    assert said(panel) == f"Kept, for every lesson that is started from now on: {told}"
    again = ChosenPanel()
    assert said(again) == told and control(again, "How deep is a page?").value is False
    control(again, "One number for all").value = "no number"
    press(again, "Keep this for the class")
    assert said(again).startswith("“no number” isn't a number") and said(ChosenPanel()) == told
    press(again, "Ask everything again")
    assert "everyone's own number" in said(again) and control(again, "One number for all").value == ""
    assert all(titled in page(again) for titled in LESSONS.values())


def test_what_is_changed_on_the_page_is_not_kept_until_it_is(work):
    panel = ChosenPanel()
    number, box, kept = control(panel, "One number for all"), control(panel, "How deep is a page?"), said(panel)
    not_kept = "Not kept yet: press “Keep this for the class”."
    for control_, value, before in ((number, "abc", ""), (box, False, True)):
        control_.value = value
        assert said(panel) == not_kept
        control_.value = before
        assert said(panel) == kept
    number.value = "abc"
    press(panel, "Keep this for the class")
    assert said(panel).startswith("“abc” isn't a number")
    number.value = "42"
    assert said(panel) == not_kept  # the old error is gone
    press(panel, "Keep this for the class")
    assert said(panel).startswith("Kept, ")
    number.value = ""
    assert said(panel) == not_kept
    press(panel, "Ask everything again")
    assert said(panel).startswith("Kept, ")


def test_a_choice_that_can_t_be_kept_is_told(work):
    work.parent.mkdir(exist_ok=True)
    work.touch()  # a file stands where the folder should
    panel = ChosenPanel()
    press(panel, "Keep this for the class")
    assert said(panel).startswith("This can't be kept in class.json")
