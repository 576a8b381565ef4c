"""Where one starts: is the workbook in order, and how far has a student come?"""

from __future__ import annotations

import json

import nbformat
import pytest
from conftest import ROOT
from stonework.exercises import LESSONS, QUESTIONS, AnswerSheet
from stonework.exercises.attempt import Attempt
from stonework.exercises.progress import check_workbook, progress
from stonework.panels import NamePanel, StartPanel
from test_panels import control, page, press, said


@pytest.fixture
def sheet(tmp_path):
    return AnswerSheet.open(tmp_path)


def answered(name, breakwater, sheet):
    attempt = Attempt(QUESTIONS[name], breakwater, sheet)
    attempt.text = attempt.variant.right
    attempt.check()


def test_every_question_stands_under_its_lesson(breakwater, sheet):
    stands = progress(QUESTIONS.values(), breakwater, sheet)
    assert [one.lesson for one in stands] == sorted(LESSONS)
    assert sum(len(one.questions) for one in stands) == len(QUESTIONS)
    assert all(one.right == 0 for one in stands)
    answered("depth-of-a-page", breakwater, sheet)
    (first, *others) = progress(QUESTIONS.values(), breakwater, sheet)
    assert first.right == 1 and ("How deep is a page?", "right") in first.questions
    assert all(one.right == 0 for one in others)


def test_what_was_once_right_stays_right_whatever_is_tried_after(breakwater, sheet):
    answered("depth-of-a-page", breakwater, sheet)
    again = Attempt(QUESTIONS["depth-of-a-page"], breakwater, sheet)
    again.text = again.variant.misreadings[0].answer
    again.check()
    assert again.outcome.standing == "not yet" and progress(QUESTIONS.values(), breakwater, sheet)[0].right == 1
    record = json.loads(sheet.path.read_text())
    record["answers"]["depth-of-a-page"]["right"] = again.text  # what a file claims is judged, not believed
    sheet.path.write_text(json.dumps(record))
    assert progress(QUESTIONS.values(), breakwater, AnswerSheet.open(sheet.path.parent))[0].right == 0


def test_an_answer_to_an_older_lesson_isn_t_counted(breakwater, sheet):
    answered("depth-of-a-page", breakwater, sheet)
    record = json.loads(sheet.path.read_text())
    record["answers"]["depth-of-a-page"]["lesson"] -= 1
    sheet.path.write_text(json.dumps(record))
    older = AnswerSheet.open(sheet.path.parent)
    assert progress(QUESTIONS.values(), breakwater, older)[0].right == 0


def test_the_titles_are_those_of_the_lessons():
    for name, titled in LESSONS.items():
        cells = nbformat.read(ROOT / "lessons" / f"{name}.ipynb", as_version=4).cells
        heading = cells[0].source.splitlines()[0].removeprefix("# ")
        assert titled == f"{int(name[:2])} {heading}"
    assert {question.lesson for question in QUESTIONS.values()} == set(LESSONS)


def test_all_is_in_order_here(shop_file, sheet):
    found = check_workbook(shop_file, sheet)
    assert len(found) == 4 and all(checked.well for checked in found)


def test_what_is_not_in_order_is_said_with_what_to_do(tmp_path, shop_file):
    (tmp_path / "broken.toml").write_text("name = 3")
    (tmp_path / "a file").touch()
    lost = AnswerSheet.open(tmp_path / "a file" / "nowhere")
    _, picture, shop, kept = check_workbook(tmp_path / "broken.toml", lost)
    assert picture.well and not shop.well and not kept.well
    assert "Put it right in a text editor" in shop.words and "can't be kept" in kept.words


def test_the_panel_follows_the_sheet(shop_file, breakwater):
    sheet = AnswerSheet.mine()
    names, panel = NamePanel(sheet), StartPanel(shop_file, sheet)
    assert said(panel) == "All is in order." and repr(panel) == "<workbook: all is in order>"
    assert "0 of 9 right" in page(panel) and 'href="05-tightening-order.ipynb"' in page(panel)
    answered("read-the-gauge", breakwater, sheet)
    press(panel, "Look again")
    assert "1 of 9 right" in page(panel)
    assert "Right: Read the gauge. Not attempted: How deep is a page?; " in page(panel)
    for name, right in (("Anna", 1), ("Ben", 0)):  # what was done without a name becomes the first one's
        control(names, "Your name").value = name
        press(names, "This is my name")
        assert f"{right} of 9 right" in page(panel) and f"{name}/answers.json" in page(panel)


def test_the_panel_says_what_is_wrong(tmp_path, sheet):
    panel = StartPanel(tmp_path / "missing.toml", sheet)
    assert said(panel) == "Something is not in order." and repr(panel) == "<workbook: 1 of 4 not in order>"
    assert "✗ Not yet: The shop file can" in page(panel)
