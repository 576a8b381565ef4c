"""A question's panel without a browser: answer, Check, hint, solution, and the answer still there tomorrow."""

from __future__ import annotations

import json

import pytest
from stonework.exercises import QUESTIONS, AnswerSheet
from stonework.exercises.question import Choice
from stonework.lockup import Lockup
from stonework.panels import NamePanel, QuestionPanel
from test_panels import control, page, press, said


@pytest.fixture
def sheet(tmp_path):
    return AnswerSheet.open(tmp_path)


def answer(panel, variant, text):
    control(panel, variant.reader.label).value = text


TYPED = sorted(name for name in QUESTIONS if name not in ("scarce-cabinet", "three-points-left"))


@pytest.mark.parametrize("name", TYPED)
def test_a_wrong_answer_then_a_right_one_then_tomorrow(name, breakwater, sheet):
    variant = QUESTIONS[name].variant(sheet.number, breakwater)
    panel = QuestionPanel(name, breakwater, sheet)
    assert repr(panel) == f"<question {name}: not attempted>" and "Nothing is answered yet" in said(panel)
    answer(panel, variant, variant.misreadings[0].answer)
    press(panel, "Check")
    assert said(panel).startswith("Not yet.") and "stonework-refused" in page(panel)
    answer(panel, variant, variant.right)
    assert said(panel).startswith("Your answer has changed: press Check.") and "stonework-old" in page(panel)
    press(panel, "Check")
    assert said(panel).startswith("Right:") and "stonework-right" in page(panel)
    again = QuestionPanel(name, breakwater, AnswerSheet.open(sheet.path.parent))
    assert repr(again) == f"<question {name}: right>" and said(again) == said(panel)
    assert control(again, variant.reader.label).value == variant.right


@pytest.mark.parametrize("name", TYPED)
def test_enter_checks_and_nothing_typed_breaks_it(name, breakwater, sheet):
    variant = QUESTIONS[name].variant(sheet.number, breakwater)
    panel = QuestionPanel(name, breakwater, sheet)
    if isinstance(variant.reader, Choice):
        press(panel, "Check")
        assert "Nothing is answered yet" in said(panel)
        return
    box = control(panel, variant.reader.label)
    for typed in ("<img src=x>", "elephants", ""):
        box.value = typed
        box._handle_custom_msg({"event": "submit"}, [])
        assert "<img" not in page(panel) and "Traceback" not in page(panel)
    box.value = variant.right
    box._handle_custom_msg({"event": "submit"}, [])
    assert said(panel).startswith("Right:")


def test_hints_one_by_one_and_a_solution_that_can_be_hidden(breakwater, sheet):
    variant = QUESTIONS["depth-of-a-page"].variant(sheet.number, breakwater)
    panel = QuestionPanel("depth-of-a-page", breakwater, sheet)
    assert "Hint" not in page(panel)
    press(panel, "A hint")
    assert "Hint 1 of 2." in page(panel) and "Hint 2" not in page(panel)
    press(panel, "A hint")
    assert "Hint 2 of 2." in page(panel)
    press(panel, "A hint")
    assert "That was the last hint" in page(panel)
    press(panel, "Show a solution")
    assert variant.solution in page(panel)
    press(panel, "Hide the solution")
    assert variant.solution not in page(panel)


def test_the_sheet_says_its_number_and_what_went_wrong(breakwater, tmp_path):
    (tmp_path / "answers.json").write_text("{")
    sheet = AnswerSheet.open(tmp_path)
    panel = QuestionPanel("depth-of-a-page", breakwater, sheet)
    assert f"is {sheet.number}." in page(panel)
    assert "was set aside as" in page(panel)


def test_a_shop_without_numbers_for_a_question_shows_a_sentence(small_shop, sheet):
    panel = QuestionPanel("depth-of-a-page", small_shop, sheet)
    assert "can't be made from this shop's file" in said(panel)
    assert repr(panel) == "<question depth-of-a-page: can't be asked>"


def test_a_question_that_isn_t_there_is_told_so(breakwater, sheet):
    panel = QuestionPanel("nonsense", breakwater, sheet)
    assert "There is no question “nonsense”; there are read-the-gauge" in said(panel)


# --- whose answers they are ------------------------------------------------------------------------------------


def test_another_name_turns_every_question_to_another_sheet(breakwater, work):
    sheet = AnswerSheet.mine()
    names = NamePanel(sheet)
    assert repr(names) == "<name: none given yet>" and "Write your name" in said(names)
    give(names, "Ana")
    variant = QUESTIONS["depth-of-a-page"].variant(sheet.number, breakwater)
    panel = QuestionPanel("depth-of-a-page", breakwater, sheet)
    answer(panel, variant, variant.right)
    press(panel, "Check")
    give(names, "Ben")
    assert repr(panel) == "<question depth-of-a-page: not attempted>" and "Ben/answers.json" in page(panel)
    assert f"is {sheet.number}." in said(names)
    give(names, "Ana")
    assert repr(panel) == "<question depth-of-a-page: right>" and ">Ana<" in page(panel)
    assert sorted(path.name for path in work.iterdir() if path.name[0] != ".") == ["Ana", "Ben"]


def give(names, name):
    control(names, "Your name").value = name
    press(names, "This is my name")


@pytest.mark.parametrize("typed", ["", "../elsewhere", "a/b", "x" * 61, "<b>", "\u202eanA"])
def test_what_can_t_be_a_name_changes_nothing(work, typed):
    names = NamePanel(AnswerSheet.mine())
    give(names, "Ana")
    give(names, typed)
    assert "still “Ana”" in said(names) and ("can't have" in said(names) or "characters" in said(names) or not typed)
    assert repr(names) == "<name: Ana>" and [path.name for path in work.iterdir() if path.name[0] != "."] == ["Ana"]


def test_a_name_much_like_a_known_one_is_asked_about(work):
    sheet = AnswerSheet.mine()
    names = NamePanel(sheet)
    give(names, "Ana")
    give(names, "ana")
    assert "There is “Ana” already" in said(names) and repr(names) == "<name: Ana>"
    press(names, "I am Ana")
    assert repr(names) == "<name: Ana>" and sheet.path.parent.name == "Ana"
    give(names, "ana")
    press(names, "I am new: ana")
    assert repr(names) == "<name: ana>" and sheet.path.parent.name == "ana 2"


# --- on the stone --------------------------------------------------------------------------------------------


def test_a_lockup_is_laid_checked_and_lies_there_tomorrow(breakwater, sheet):
    name = "scarce-cabinet"
    variant = QUESTIONS[name].variant(sheet.number, breakwater)
    panel = QuestionPanel(name, breakwater, sheet)
    press(panel, "Check")
    assert "Nothing is answered yet" in said(panel)
    control(panel, "Length").value = max(length for _, length in control(panel, "Length").options)
    press(panel, "Lay this piece")
    assert said(panel).endswith("Press Check when you think it would hold.")
    press(panel, "Check")
    assert said(panel).startswith("Not yet. You answered 1 piece of wood and 0 quoins.")
    press(panel, "Take one off this side")
    assert "Took furniture" in said(panel)
    press(panel, "Take one off this side")
    assert "Nothing lies on the bottom" in said(panel)
    _lay(panel, Lockup.from_dict(json.loads(variant.right)))
    press(panel, "Check")
    assert said(panel).startswith("Right:")
    again = QuestionPanel(name, breakwater, AnswerSheet.open(sheet.path.parent))
    assert repr(again) == f"<question {name}: right>"
    assert again.children[0].lockup.items == panel.children[0].lockup.items
    press(again, "Clear the stone")
    assert said(again).startswith("Everything is off the stone.")
    press(again, "Check")
    assert said(again).startswith("Not yet.")


def _lay(panel, plan):
    """Lay a plan through the panel's own controls."""
    for side in ("bottom", "left", "top", "right"):
        control(panel, "Side").value = side
        rows = {item.order: item for item in plan.on(side)}
        for item in rows.values():
            if item.kind == "quoin":
                control(panel, "Piece").value = "row of quoins"
            else:
                control(panel, "Piece").value = item.kind
                control(panel, "Thickness").value = item.thickness
                control(panel, "Length").value = item.length
                low = plan.seen_from(side, item).low
                control(panel, "Toward").value = panel.children[0]._bench.lean(side, low, item.length)
            press(panel, "Lay this piece")


def test_what_is_wrong_is_marked_in_the_picture(breakwater, sheet):
    panel = QuestionPanel("scarce-cabinet", breakwater, sheet)
    control(panel, "Length").value = max(length for _, length in control(panel, "Length").options)
    press(panel, "Lay this piece")
    press(panel, "Check")
    assert "✗" in page(panel)
    press(panel, "Lay this piece")
    assert "✗" not in page(panel)


def test_the_cabinet_counts_what_was_taken(breakwater, sheet):
    panel = QuestionPanel("scarce-cabinet", breakwater, sheet)
    left = page(panel)
    press(panel, "Lay this piece")
    assert page(panel) != left
    assert "What the cabinet has left" in page(panel)


def test_the_form_is_moved_by_exchanging_pieces(breakwater, sheet):
    variant = QUESTIONS["three-points-left"].variant(sheet.number, breakwater)
    panel = QuestionPanel("three-points-left", breakwater, sheet)
    stood = panel.children[0].lockup.form.x
    plan = Lockup.from_dict(json.loads(variant.right))
    press(panel, "Clear the stone")
    _lay(panel, plan)
    press(panel, "Check")
    assert said(panel).startswith("Right:")
    assert stood - panel.children[0].lockup.form.x == pytest.approx(3)


def test_an_older_answer_on_the_stone_isn_t_laid(breakwater, sheet):
    name = "scarce-cabinet"
    variant = QUESTIONS[name].variant(sheet.number, breakwater)
    panel = QuestionPanel(name, breakwater, sheet)
    _lay(panel, Lockup.from_dict(json.loads(variant.right)))
    press(panel, "Check")
    record = json.loads(sheet.path.read_text())
    record["answers"][name]["task"] = "another"
    sheet.path.write_text(json.dumps(record))
    again = QuestionPanel(name, breakwater, AnswerSheet.open(sheet.path.parent))
    assert again.children[0].lockup.items == () and repr(again) == f"<question {name}: not attempted>"
