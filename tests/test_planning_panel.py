"""The page on which a class is planned, without a browser, and what it prints."""

from __future__ import annotations

import asyncio
import html
import re
import shutil
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from stonework.choosing import choose_lockup
from stonework.drawing.class_sheets import buying_lines, buying_sheet, class_figures, stock_lines, student_sheets
from stonework.drawing.class_sheets_words import outcome, ready_words, time_words
from stonework.form import Form
from stonework.ledger import let_stand
from stonework.panels import PlanningPanel, planning, planning_paper
from stonework.people import here
from stonework.planning import Score, Thing
from test_panels import control, page, press, said


@pytest.fixture
def panel(tmp_path, shop_file):
    for name in ("breakwater.shop.toml", "breakwater.jobs.toml"):
        shutil.copy(shop_file.with_name(name), tmp_path)
    return PlanningPanel(tmp_path / "breakwater.shop.toml")


def rows(panel):
    """Return the table of who has what, cell by cell."""
    body = re.search(r"<tbody>(.*)</tbody>", page(panel), re.S).group(1)
    return [
        [html.unescape(cell) for cell in re.findall(r"<t[dh][^>]*>(.*?)</t[dh]>", row)]
        for row in body.split("</tr>")[:-1]
    ]


def test_names_with_their_jobs_are_planned_and_never_become_markup(panel):
    control(panel, "The class").value = "name,job\nZoë O'Neil,tide card\n刘伟,ferry notice\nAna,tide card"
    press(panel, "Plan the class")
    assert said(panel).startswith("3 students in 2 shifts: 2 and 1.") and "It is proved" in said(panel)
    assert {row[1] for row in rows(panel)} == {"Zoë O'Neil", "刘伟", "Ana"}
    assert "8 × 12 chase (1)" in page(panel)  # what to borrow
    assert repr(panel) == "<plan a class: 3 people in 2 shifts>"
    control(panel, "The class").value = "Ana\n<img src=x>\nAna"
    press(panel, "Plan the class")
    assert said(panel).startswith("Line 2: a name can't have “<” in it")
    assert "Line 3: “Ana” stands in line 1 too" in html.unescape(page(panel)) and "<img" not in page(panel)
    assert "<table" not in page(panel)  # nothing stands there as if it were this class's


def test_what_stands_is_left_out_of_the_plan(panel, breakwater):
    here().turn_to("Otto")
    let_stand(choose_lockup(Form(240, 150), breakwater.chase("8 × 12"), breakwater), "poster", breakwater)
    control(panel, "The class").value = "name,job\nAna,ferry notice\nBo,tide card"
    press(panel, "Plan the class")
    assert "What stands is left out of this plan: your own “poster” in the 8 × 12 chase." in page(panel)
    assert [row[1] for row in rows(panel)] == ["Ana"] and "Bo" in page(panel)  # the card wants that chase
    control(panel, "Only what standing forms leave").value = False
    press(panel, "Plan the class")
    assert {row[1] for row in rows(panel)} == {"Ana", "Bo"}


def test_only_ticked_jobs_are_dealt(panel):
    for job in ("tide card", "bookplate red", "bookplate black"):
        control(panel, job).value = False
    control(panel, "The class").value = "2"
    press(panel, "Plan the class")
    assert [row[2] for row in rows(panel)] == ["ferry notice", "ferry notice"]
    control(panel, "ferry notice").value = False
    assert "press" in said(panel).casefold() and "before" in said(panel)
    press(panel, "Plan the class")
    assert said(panel) == "There are no jobs to deal out: choose one or more."


def test_what_helps_is_planned_with_one_button_and_said(panel):
    control(panel, "The class").value = "12"
    press(panel, "Plan the class")
    before = panel._plan.score.shifts
    press(panel, "Plan with these changes")
    assert panel._plan.score.shifts < before and "Changed in this plan: student" in page(panel)
    press(panel, "Plan the class")
    assert panel._plan.score.shifts == before and "Changed in this plan" not in page(panel)


def test_what_to_have_ready_is_said(panel, breakwater):
    control(panel, "The class").value = "name,job\nAna,bookplate red"
    press(panel, "Plan the class")
    assert "Cut these beforehand: 1 " in page(panel)
    quoins = [replace(quoin, keys=1) for quoin in breakwater.quoins]
    control(panel, "The class").value = "4"
    press(panel, "Plan the class")
    told = ready_words(panel._plan, replace(breakwater, quoins=quoins))
    assert any(re.search(r"[23] students share 1 key of", line) for line in told)


def test_a_list_in_older_letters_is_read_with_a_word(panel):
    content = "name,job\nZoë,tide card".encode("cp1252")
    made = {"name": "c.csv", "type": "text/csv", "size": 22, "last_modified": datetime.now(UTC), "content": content}
    panel._upload.value = [made]
    assert "Zoë" in control(panel, "The class").value and "older letters" in said(panel)


def test_what_to_buy_is_not_known_until_it_was_found(panel, breakwater, monkeypatch):
    printed = []
    control(panel, "The class").value = "12"
    press(panel, "Plan the class")
    panel.paper.offer(panel._plan, breakwater, None)
    with monkeypatch.context() as paper:
        paper.setattr(
            planning_paper, "buying_sheet", lambda lines, needed, *_: printed.append((lines, needed)) or b"%PDF"
        )
        press(panel.paper, "What to buy")
    (lines, needed), words = printed[0], [one.words for one in buying_lines(*printed[0])]
    assert needed is None and "wasn't found yet" in lines[0] and "Not known." in words and "Nothing." not in words


def test_minutes_say_how_many_evenings_it_takes(panel):
    control(panel, "The class").value = "name,job\nAna,ferry notice\nBo,ferry notice"
    control(panel, "Minutes for a shift").value = "70"
    press(panel, "Plan the class")
    assert "120 minutes have room for 1 shift of 70, and 2 are needed: that takes 2 evenings." in page(panel)
    control(panel, "Minutes for a shift").value = "60"
    assert "120 minutes have room for 2 shifts of 60: that is enough." in page(panel)
    control(panel, "Minutes for a shift").value = "many"
    assert "Minutes for a shift: “many” was typed" in page(panel)


def test_without_highs_it_says_what_to_do(panel, monkeypatch):
    monkeypatch.setattr(planning, "installed", lambda: False)
    press(panel, "Plan the class")
    assert "python3 lessons/workbook.py open plan" in said(panel) and "Traceback" not in page(panel)


def test_a_search_beside_the_kernel_is_stopped_and_keeps_its_best(panel):
    control(panel, "The class").value = "120"

    async def lesson():
        press(panel, "Plan the class")
        async with asyncio.timeout(60):
            while panel._plan is None:
                await asyncio.sleep(0)
            press(panel, "Stop and keep this")
            while not (control(panel, "Stop and keep this").disabled and panel._bar.value == ""):
                await asyncio.sleep(0)

    asyncio.run(lesson())
    assert len(rows(panel)) == 120 and said(panel).startswith("120 students in ")


def words_on(figures):
    return [text.get_text() for figure in figures for text in figure.texts]


def test_the_page_for_the_wall_names_everybody_and_what_is_short(panel, breakwater):
    control(panel, "The class").value = "12"
    press(panel, "Plan the class")
    plan = panel._plan
    for paper in ("A4", "Letter"):
        (figure,) = class_figures(plan, breakwater, paper)
        words = words_on([figure])
        assert all(f"student {n}" in words for n in range(1, 13))
        width, height = (72 * inches for inches in figure.get_size_inches())
        for text in figure.texts:  # nothing runs over the edge
            box = text.get_window_extent().transformed(figure.dpi_scale_trans.inverted())
            assert min(box.x0, box.y0) >= 0 and 72 * box.x1 <= width and 72 * box.y1 <= height
    # The ferry notice takes all furniture of 10 × 50 picas that there is.
    short = [one for one in plan.given if Thing("furniture", "", 120.0, 600.0) in plan.scarce(one.shift)]
    assert {one.task.job for one in short if one.uses.get(Thing("furniture", "", 120.0, 600.0))} == {"ferry notice"}
    assert "furniture 10 picas" in " ".join(words)
    several = replace(plan, given=plan.given * 6)
    assert len(class_figures(several, breakwater)) > 1


def test_stock_is_taken_of_all_that_the_shop_has(panel, breakwater):
    control(panel, "The class").value = "4"
    press(panel, "Plan the class")
    lines = [line.words for line in stock_lines(panel._plan, breakwater)]
    boxes = [line for line in lines if line.startswith("☐")]
    assert len(boxes) == len(breakwater.pieces) + len(breakwater.chases) + len(breakwater.quoins)
    assert "☐ 6 × 9: 1, 1 out" in boxes and "☐ 5 × 8: 1" in boxes
    sheets = student_sheets(panel._plan, breakwater)
    assert len(re.findall(rb"/Type /Page\b", sheets)) == len(panel._plan.given) == 4


def test_words_say_what_is_proved_and_what_is_not(panel):
    control(panel, "The class").value = "2"
    press(panel, "Plan the class")
    plan = replace(panel._plan, score=Score(3, 0, 12, 100), bound=Score(2, 0, 11, 90))
    assert outcome(plan).endswith("It isn't proved the best: 2 shifts may do.")
    assert "nobody may need more than 11" in outcome(replace(plan, bound=Score(3, 0, 11, 90)))
    assert "98 pieces may do together, 2.0 % fewer" in outcome(replace(plan, bound=Score(3, 0, 12, 98)))
    assert "It is proved" in outcome(replace(plan, bound=plan.score))
    assert "isn't proved" in outcome(replace(plan, bound=plan.score, unsure=True))
    assert time_words(plan, 30, 40) == "30 minutes have room for no shifts of 40: a shift doesn't fit at all."
    assert buying_sheet(["Words."], {Thing("chase", "6 × 9"): 2}, panel._shop).startswith(b"%PDF")
