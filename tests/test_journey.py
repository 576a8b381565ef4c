"""A student's way through the lessons in real JupyterLab, in the system's own Chromium.

To watch it: STONEWORK_SHOW=1 python -m pytest -c .pytest.ini tests/test_journey.py. Screenshots are kept in
tests/screenshots/.
"""

import re

import pytest
from lab import (
    BEGIN,
    CHOOSE,
    JOB,
    LIFT,
    MEASURE,
    PLACE,
    ROOT,
    SHOP,
    TIGHTEN,
    choose_from_menu,
    fill_in,
    keep,
    panel_with,
    question,
    start,
)
from playwright.sync_api import expect
from stonework.exercises import QUESTIONS, AnswerSheet
from stonework.exercises.measure_the_form import practice_form
from stonework.shop import Shop

pytest_plugins = ["lab"]
pytestmark = pytest.mark.browser


def test_a_new_form_size_changes_the_picture_and_the_words(page):
    start(page)
    panel = page.locator(".stonework-panel").first
    expect(panel.get_by_role("status")).to_contain_text("sound by all")
    plan = panel.get_by_role("img")
    before = plan.get_attribute("aria-label")
    assert "27 picas wide and 17 picas high" in before
    plan.scroll_into_view_if_needed()
    keep(page, "choose-before")

    width = panel.get_by_label("Form width")
    width.fill("4 1/2 in")
    width.press("Enter")
    expect(plan).to_have_attribute("aria-label", re.compile("27 picas 1.2 pt wide"))
    assert plan.get_attribute("aria-label") != before
    expect(panel.get_by_role("status")).to_contain_text("sound by all")
    keep(page, "choose-after")

    width.fill("27")
    width.press("Enter")
    expect(panel.get_by_role("status")).to_contain_text("has no unit")
    expect(panel.get_by_text("The picture still shows the lockup before this.")).to_be_visible()
    keep(page, "choose-refused")


def test_an_answer_wrong_then_right_is_still_there_after_a_restart(visit, answers):
    page = visit(MEASURE)
    start(page, MEASURE)
    (folder,) = answers.glob("no name yet*")
    number = AnswerSheet.open(folder).number
    shop = Shop.load(ROOT / "lessons" / "breakwater.shop.toml")
    variant = QUESTIONS["depth-of-a-page"].variant(number, shop)
    asked = question(page, "How deep is a page?")
    said = asked.get_by_role("status").first
    expect(said).to_contain_text("Nothing is answered yet.")

    answer = asked.get_by_role("textbox", name=variant.reader.label)
    answer.fill(variant.misreadings[0].answer)
    answer.press("Enter")
    expect(said).to_contain_text(variant.misreadings[0].sentence)
    asked.get_by_role("button", name="A hint").press("Enter")
    expect(asked.get_by_text("Hint 1 of 2.")).to_be_visible()
    keep(page, "question-not-yet")
    answer.fill(variant.right)
    expect(said).to_contain_text("Your answer has changed: press Check.")
    answer.press("Tab")
    page.keyboard.press("Enter")  # the next stop after the answer is Check
    expect(said).to_contain_text(f"Right: {variant.reader.say(variant.reader.read(variant.right))}.")
    keep(page, "question-right")

    choose_from_menu(page, "Kernel", "Restart Kernel and Run All Cells…")
    asked = question(page, "How deep is a page?")
    # What the old kernel drew stays on screen until the new one draws; only the new one has forgotten the hint.
    expect(asked.get_by_text("Hint 1 of 2.")).to_have_count(0)
    expect(asked.get_by_role("status").first).to_contain_text("Right:")
    expect(asked.get_by_role("textbox", name=variant.reader.label)).to_have_value(variant.right)


def test_however_fast_an_answer_is_typed_all_of_it_is_judged(visit):
    page = visit(MEASURE)
    start(page, MEASURE)
    asked = question(page, "Room in the chase")
    answer = asked.get_by_role("textbox", name="Your answer, with its unit")
    answer.press_sequentially("3 picas 10 points", delay=8)
    answer.press("Enter")
    expect(asked.get_by_role("status").first).to_contain_text("You answered 3 picas 10 points, that is 3 picas 10 pt.")


def test_the_gauge_is_read_from_the_keyboard(visit):
    page = visit(MEASURE)
    start(page, MEASURE)
    panel = page.locator(".stonework-panel").first
    said = panel.get_by_role("status")
    edges = practice_form(16)
    reading = panel.get_by_role("textbox", name="Your reading, with its unit")
    reading.fill(f"{edges.head + 12:g} pt")
    reading.press("Enter")
    expect(said).to_contain_text("counting the marks")
    reading.fill(f"{edges.head:g} pt")
    reading.press("Enter")
    expect(said).to_contain_text("Now lay the gauge along the foot")
    panel.get_by_role("combobox", name="Edge").select_option("left")
    expect(panel.get_by_role("img")).to_have_attribute("aria-label", re.compile("along its left edge"))
    panel.get_by_role("img").scroll_into_view_if_needed()
    keep(page, "gauge")


def test_stray_keys_and_clicks_change_the_choice_and_not_the_lesson(page):
    start(page)
    panel = page.locator(".stonework-panel").first
    solid = panel.get_by_label("Solid sides")
    solid.focus()
    solid.press("ArrowDown")
    expect(solid.locator("option:checked")).to_have_text("bottom and right")
    expect(panel.get_by_role("img")).to_have_attribute("aria-label", re.compile("Left:.*quoin"))
    button = panel.get_by_role("button", name="Lay them all")
    button.focus()
    button.press("d")
    button.press("d")
    expect(page.get_by_role("button", name="See it finished")).to_be_visible()
    page.get_by_role("strong").filter(has_text="You will make").dblclick()
    expect(page.get_by_role("button", name="Start this lesson")).to_be_visible()
    expect(page.get_by_role("heading", name="Choose furniture and reglet", exact=True)).to_be_visible()


def test_a_lockup_is_laid_by_hand_from_the_keyboard(page):
    start(page)
    panel = panel_with(page, "One next piece")
    said = panel.get_by_role("status")
    following = panel.get_by_role("button", name="One next piece")
    following.focus()
    following.press("Enter")
    expect(said).to_contain_text("on the bottom, the next piece of one good plan.")
    back = panel.get_by_role("button", name="Take it back")
    back.focus()
    back.press("Space")
    expect(said).to_contain_text("Taken back.")
    panel.get_by_label("Length").select_option("60 picas")
    panel.get_by_role("button", name="Lay this piece").press("Enter")
    expect(said).to_contain_text("beyond the chase's inner edge")
    panel.get_by_role("button", name=re.compile("^Lay .* on the left")).press("Enter")  # a place in the picture
    expect(said).to_contain_text("Laid ")
    panel.get_by_role("button", name="See it finished").press("Enter")
    expect(said).to_contain_text("sound by all")
    panel.locator(".stonework-plan").scroll_into_view_if_needed()
    keep(page, "by-hand-finished")


def test_quoins_are_turned_undone_and_an_order_is_played(visit):
    page = visit(TIGHTEN)
    start(page, TIGHTEN)
    panel = page.locator(".stonework-panel").first
    said, plan = panel.get_by_role("status"), panel.locator(".stonework-plan").first
    expect(said).to_contain_text("The form sits square.")
    tighten = panel.get_by_role("button", name="Tighten 1", exact=True)
    for turns in (1, 2, 3, 4):
        tighten.press("Enter")
        expect(said).to_contain_text(f"{turns} small turn")
    expect(plan).to_have_attribute("aria-label", re.compile("turned anticlockwise.*Loose: top, right one"))
    plan.scroll_into_view_if_needed()
    keep(page, "tightening-cocked")
    panel.get_by_role("button", name="Undo").press("Enter")
    expect(said).to_contain_text("Taken back.")
    panel.get_by_label("Order to play").select_option("small turns in rotation")
    panel.get_by_label("against").select_option("diagonal in turn")
    play = panel.get_by_role("button", name="Play the next turn")
    play.press("Enter")
    expect(said).to_contain_text("Turn 1, small turns in rotation: quoin 1")
    panel.get_by_role("button", name="Play to the end").press("Enter")
    expect(said).to_contain_text("The form sits square.")
    expect(panel.get_by_text("diagonal in turn: at worst")).to_be_visible()


def test_a_form_is_lifted_mended_and_lifted_again(visit):
    page = visit(LIFT)
    start(page, LIFT)
    panel = page.locator(".stonework-panel").first
    said = panel.get_by_role("status")
    panel.get_by_role("button", name="Prop it and press").press("Enter")
    expect(said).to_contain_text("Line 1 drops.")
    keep(page, "lift-drops")
    what, do_it = panel.get_by_role("combobox", name="What to do"), panel.get_by_role("button", name="Do it")
    do_it.press("Enter")
    expect(said).to_contain_text("All quoins are slack")
    what.select_option("put a piece into the line")
    panel.get_by_role("combobox", name="Piece").select_option("4 pt")
    do_it.press("Enter")
    expect(said).to_contain_text("Put 4 pt into line 1.")
    what.select_option("plane lightly, and tighten again")
    do_it.press("Enter")
    expect(said).to_contain_text("tightened again")
    panel.get_by_role("button", name="Prop it and press").press("Enter")
    expect(said).to_contain_text("the form lifts as one piece")


def test_from_the_start_page_a_link_leads_to_a_lesson(visit):
    page = visit(BEGIN)
    start(page, BEGIN)
    panel = page.locator(".stonework-panel").last
    expect(panel.get_by_role("status")).to_contain_text("All is in order.")
    panel.scroll_into_view_if_needed()
    keep(page, "start")
    panel.get_by_role("link", name="1 Measure the form").click()
    expect(page.get_by_role("heading", name="Measure the form", exact=True)).to_be_visible()


def test_a_place_is_found_for_a_sheet_and_wood_for_the_place(visit):
    page = visit(PLACE)
    start(page, PLACE)
    panel = panel_with(page, "Paper as the shop has it")
    said = panel.get_by_role("status")
    panel.get_by_label("Margins", exact=True).select_option("as I type them")
    fill_in(panel, Left_margin="1 pica")
    expect(said).to_contain_text("would come down on type")
    fill_in(panel, Left_margin="6 picas", Name_of_the_lockup="journey")
    expect(panel.get_by_role("img")).to_have_attribute("aria-label", re.compile("margins left 6 picas, right 3 picas"))
    panel.scroll_into_view_if_needed()
    keep(page, "place")
    panel.get_by_role("button", name="Save it").press("Enter")
    expect(said).to_contain_text("Saved as journey.lockup.json")

    page = visit(CHOOSE)
    start(page, CHOOSE)
    panel = panel_with(page, "Lay the next")
    fill_in(panel, Name_of_the_lockup="journey")
    panel.get_by_role("button", name="Open it").press("Enter")
    expect(panel.get_by_text("On the sheet the margins will be left")).to_be_visible()
    expect(panel.get_by_role("status")).to_contain_text("sound by all")


def test_a_job_goes_from_its_ticket_to_an_empty_stone(visit):
    page = visit(JOB)
    start(page, JOB)
    measure = panel_with(page, "Note these edges")
    expect(measure.get_by_text("Next: measure.")).to_be_visible()
    measure.get_by_role("button", name="Note these edges").press("Enter")
    lays = page.get_by_role("button", name="Lay it on the bench", exact=True)
    expect(measure.get_by_text("Next: place.")).to_be_visible()
    for nth, following in enumerate(("block", "wood", "tighten")):
        lays.nth(nth).press("Enter")
        expect(measure.get_by_text(f"Next: {following}.")).to_be_visible()
        page.get_by_role("heading", name=f"{nth + 3} ").scroll_into_view_if_needed()
        keep(page, f"job-{following}")
    page.get_by_role("button", name="Play to the end", exact=True).first.press("Enter")
    expect(measure.get_by_text("Next: lift.")).to_be_visible()
    page.get_by_role("button", name="It lifts, and nothing drops", exact=True).first.press("Enter")
    expect(measure.get_by_text("Next: press.")).to_be_visible()
    keep(page, "job-lifted")


def test_a_shop_file_is_written_wrong_put_right_and_laid_with(visit, home):
    path = home / "lessons" / "your-shop.toml"
    right = path.read_text(encoding="utf-8")
    page = visit(SHOP)
    start(page, SHOP)
    panel = panel_with(page, "Look again")
    said, again = panel.get_by_role("status"), panel.get_by_role("button", name="Look again")
    expect(said).to_contain_text("can be used. Nothing in it is wrong.")
    expect(panel.get_by_role("img")).to_have_attribute("aria-label", re.compile("The cabinet of "))
    keep(page, "your-shop")
    wrong = right.replace("count = 8", 'count = "eight"', 1).replace("keys = 2", "keys = -2", 1)
    path.write_text(wrong, encoding="utf-8")
    again.press("Enter")
    expect(said).to_contain_text("holds 2 mistakes")
    line = next(n for n, words in enumerate(wrong.splitlines(), 1) if 'count = "eight"' in words)
    expect(panel.get_by_text(re.compile(f"Line {line}\\b"))).to_be_visible()
    path.write_text(right.replace('closed = "2 picas"', 'closed = "29 in"', 1), encoding="utf-8")
    again.press("Enter")
    expect(said).to_contain_text("1 value may be a slip")
    path.write_text(right, encoding="utf-8")
    again.press("Enter")
    expect(said).to_contain_text("Nothing in it is wrong.")
    bench = panel_with(page, "Lay this piece")
    bench.get_by_label("Head points to", exact=True).select_option("the left")
    bench.get_by_role("button", name="Lay this piece").press("Enter")
    expect(bench.get_by_role("status")).to_contain_text("Laid ")
    expect(bench.locator(".stonework-plan")).to_have_attribute("aria-label", re.compile("its head to the left"))
    bench.scroll_into_view_if_needed()
    keep(page, "your-shop-bench")
