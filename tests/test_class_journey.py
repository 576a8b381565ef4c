"""A class on one cabinet in real JupyterLab: two students' forms stand, the third is told who has what."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from conftest import ROOT
from lab import BEGIN, CHOOSE, QUOINS, STORE, keep, panel_with, start
from playwright.sync_api import Locator, Page, expect
from stonework.exercises import QUESTIONS, AnswerSheet
from stonework.exercises.attempt import Attempt
from stonework.people import People
from stonework.shop import Shop

pytest_plugins = ["lab"]
pytestmark = pytest.mark.browser


def give(page: Page, name: str) -> Locator:
    """Type a name where the lesson asks for one."""
    names = panel_with(page, "This is my name")
    names.get_by_label("Your name").fill(name)
    names.get_by_role("button", name="This is my name").press("Enter")
    return names


def everybody(page: Page, name: str) -> None:
    """Expect a name under every panel that stands alone."""
    panels = page.locator(".stonework-panel:not(.stonework-panel .stonework-panel)")
    lines = page.locator(".stonework-whose:visible")
    expect(lines).to_have_count(panels.count())
    for line in lines.all():
        expect(line).to_have_text(name)


def verdict(panel: Locator) -> Locator:
    return panel.get_by_role("status").first


def test_two_forms_stand_and_the_third_is_told_whose_they_are(visit):
    page = visit(BEGIN)
    names = give(page, "Ana M.")
    expect(names.get_by_role("status")).to_contain_text("Good to have you here, Ana M.")
    everybody(page, "Ana M.")
    give(page, "ana m")
    expect(names.get_by_role("status")).to_contain_text("There is “Ana M.” already")
    names.get_by_role("button", name="I am Ana M.").press("Enter")
    everybody(page, "Ana M.")
    keep(page, "class-name")

    for name, chase in (("Ana M.", "8 × 12"), ("O'Brien", "6 × 9")):
        lesson = visit(CHOOSE)
        start(lesson, CHOOSE)
        give(lesson, name)
        everybody(lesson, name)
        panel = panel_with(lesson, "Lay the next")
        panel.get_by_label("Chase", exact=True).select_option(chase)
        expect(verdict(panel)).to_contain_text("This would hold")
        panel.get_by_label("Name of the lockup").fill("notice")
        panel.get_by_role("button", name="Let it stand").press("Enter")
        expect(verdict(panel)).to_contain_text("stands since today")

    third = visit(CHOOSE)
    start(third, CHOOSE)
    give(third, "Cleo")
    panel = panel_with(third, "Lay the next")
    expect(panel.locator(".stonework-picture svg")).to_be_visible()  # a lesson has its picture, whatever others hold
    expect(verdict(panel)).to_contain_text("It takes what others hold.")
    panel.get_by_label("Only what standing forms leave").check()
    panel.get_by_label("Chase", exact=True).select_option("6 × 9")
    expect(verdict(panel)).to_contain_text("The 6 × 9 chase is in use for O'Brien’s “notice”")
    expect(verdict(panel)).to_contain_text("free when that form is put away")
    panel.evaluate("node => node.scrollIntoView({ block: 'start' })")
    keep(third, "class-told")
    panel.get_by_label("Chase", exact=True).select_option("10 × 15")
    expect(verdict(panel)).to_contain_text("This would hold")
    panel.get_by_label("Only what standing forms leave").uncheck()
    panel.get_by_label("Chase", exact=True).select_option("8 × 12")
    expect(verdict(panel)).to_contain_text("This would hold")

    store = visit(STORE)
    start(store, STORE)
    ledger = panel_with(store, "Galley slips")
    expect(ledger.get_by_role("row")).to_have_count(3)
    expect(ledger.get_by_role("rowheader")).to_have_text(["Ana M.", "O'Brien"])
    ledger.get_by_role("button", name="Register").press("Enter")
    expect(ledger.get_by_role("link", name="Save register.pdf")).to_be_visible()
    keep(store, "class-ledger")
    give(store, "O'Brien")
    away = panel_with(store, "It is put away")
    away.get_by_label("Name of the lockup").fill("notice")
    away.get_by_role("button", name="It is put away").press("Enter")
    expect(verdict(away)).to_contain_text("free for everybody")
    ledger.get_by_role("button", name="Look again").press("Enter")
    expect(ledger.get_by_role("rowheader")).to_have_text(["Ana M."])


def test_a_name_given_in_one_lesson_is_taken_up_by_another_that_is_open(visit):
    one, other = visit(BEGIN), visit(QUOINS)
    start(other, QUOINS)
    give(one, "Zoë")
    everybody(other, "Zoë")
    expect(panel_with(other, "This is my name").get_by_label("Your name")).to_have_value("Zoë")


def test_two_windows_on_one_lesson_are_told_of_each_other_and_one_loaded_again_isn_t(visit):
    def work(page: Page, room: str) -> None:
        box = page.locator(".stonework-panel").first.get_by_role("textbox").first
        box.fill(room)
        box.press("Enter")
        expect(page.locator(".stonework-panel").first).to_contain_text(room)

    told = re.compile("open in two windows")
    one = visit(QUOINS)
    start(one, QUOINS)
    work(one, "2 picas 1 pt")
    one.reload()
    start(one, QUOINS)
    work(one, "2 picas 2 pt")
    expect(one.locator(".stonework-whose").first).not_to_have_text(told)
    two = visit(QUOINS)
    start(two, QUOINS)
    work(two, "2 picas 3 pt")
    work(one, "2 picas 4 pt")
    for page in (one, two):
        expect(page.locator(".stonework-whose").first).to_have_text(told)


# --- the instructor -----------------------------------------------------------------------------------------


def scarce(lessons: Path) -> None:
    """Put a shop beside the school's that has a third of its wood, with the same jobs."""
    text = (lessons / "breakwater.shop.toml").read_text(encoding="utf-8")
    wood, rest = text.split("# --- Metal furniture", 1)
    start, counts = wood.split("[furniture.counts]", 1)
    fewer = re.sub(r"(?<=[\[ ])\d+(?=[,\]\n])", lambda count: str(max(1, int(count[0]) // 3)), counts)
    name = start.replace('name = "Breakwater evening school"', 'name = "Breakwater annexe"', 1)
    (lessons / "annexe.shop.toml").write_text(f"{name}[furniture.counts]{fewer}# {rest}", encoding="utf-8")
    shutil.copy(lessons / "breakwater.jobs.toml", lessons / "annexe.jobs.toml")


def saved(page: Page, link: Locator) -> bytes:
    """Follow a link to a file, and return what the browser saves."""
    with page.expect_download() as download:
        link.press("Enter")
    return Path(download.value.path()).read_bytes()


def test_twelve_are_planned_where_wood_is_scarce_and_every_sheet_is_printed(visit, home):
    scarce(home / "lessons")
    page = visit("instructor/plan-a-class")
    plan = panel_with(page, "Plan the class")
    plan.get_by_label("Shop").select_option(label="annexe.shop.toml")
    plan.get_by_label("The class").fill("\n".join(["O'Brien", "李", "Zoë", *(f"student {n}" for n in range(4, 13))]))
    plan.get_by_role("button", name="Plan the class").press("Enter")
    expect(verdict(plan)).to_contain_text("12 students in ")
    expect(plan.get_by_role("button", name="Stop and keep this")).to_be_enabled()
    plan.get_by_role("button", name="Stop and keep this").press("Enter")
    expect(plan.get_by_role("button", name="Stop and keep this")).to_be_disabled()
    expect(plan.get_by_role("table").first.locator("tbody tr")).to_have_count(12)
    expect(plan.get_by_role("table").first).to_contain_text("李")
    keep(page, "class-plan")
    sheets = {"Who has what": "who-has-what", "Each student's sheet": "student-sheets"}
    for name, file in {**sheets, "Sheet for taking stock": "taking-stock"}.items():
        plan.get_by_role("button", name=name).press("Enter")
        assert saved(page, plan.get_by_role("link", name=f"Save {file}.pdf")).startswith(b"%PDF")


def test_what_the_class_got_wrong_is_reported_and_the_key_worked(visit, answers):
    shop = Shop.load(ROOT / "lessons" / "breakwater.shop.toml")
    wrong = {}
    for name, right in (("Ida", True), ("Jon", False)):
        sheet = AnswerSheet.open(People(answers).begin(name))
        attempt = Attempt(QUESTIONS["depth-of-a-page"], shop, sheet)
        missed = attempt.variant.misreadings[0]
        wrong[name] = missed.slip
        attempt.text = missed.answer
        attempt.check()
        attempt.text = attempt.variant.right if right else missed.answer
        attempt.check()
    page = visit("instructor/class-report")
    report = panel_with(page, "Read the folder")
    expect(report.get_by_role("status").first).to_contain_text("every kept answer was judged again")
    expect(report.get_by_role("row").filter(has_text="Jon")).to_contain_text(wrong["Jon"])
    report.get_by_role("button", name="Page to print").press("Enter")
    assert saved(page, report.get_by_role("link", name="class-report.pdf")).startswith(b"%PDF")
    keep(page, "class-report")

    page = visit("instructor/answer-key")
    key = panel_with(page, "Key to print")
    expect(key).to_contain_text("How deep is a page?")
    keep(page, "class-key")
