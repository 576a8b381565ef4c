"""A job on the bench in real JupyterLab: seen whole, carried by mouse and keyboard, and found again as it was left."""

from __future__ import annotations

import re

import pytest
from lab import keep
from playwright.sync_api import Locator, Page, expect

pytest_plugins = ["lab"]
pytestmark = pytest.mark.browser

SMALL = {"width": 1280, "height": 720}


def bench_of(page: Page) -> Locator:
    expect(page.locator(".stonework-bar").get_by_role("status")).to_contain_text("has started by itself")
    return page.locator(".stonework-bench")


def go(bench: Locator, station: str) -> None:
    bench.get_by_role("button", name=re.compile(rf"^\d+ {station}")).press("Enter")
    expect(bench.locator(".stonework-here")).to_contain_text(station)


def line(bench: Locator) -> Locator:
    return bench.locator(".stonework-line").get_by_role("status")


def in_view(what: Locator) -> bool:
    """Whether all of something lies in the window, below the bar at its top."""
    return what.evaluate(
        """node => {
            const { left, right, top, bottom } = node.getBoundingClientRect();
            const bar = document.querySelector(".stonework-bar").getBoundingClientRect().bottom;
            return left >= 0 && right <= innerWidth && top >= bar - 1 && bottom <= innerHeight + 1;
        }"""
    )


def overlapping(bench: Locator) -> list[str]:
    """What of a list, box or button is cut off at its right edge."""
    return bench.evaluate(
        """node => [...node.querySelectorAll("select, button")]
            .filter(one => one.getClientRects().length && one.scrollWidth > one.clientWidth + 1)
            .map(one => one.textContent.slice(0, 40))"""
    )


def test_a_job_is_carried_on_the_bench_each_station_whole_in_a_small_window(visit):
    page = visit("bench")
    page.set_viewport_size(SMALL)
    bench = bench_of(page)
    expect(line(bench)).to_contain_text("Next: measure.")
    for station, does, said in (
        ("measure", "Note these edges", "and square. Next: place."),
        ("place", "Lay it on the bench", "Next: block."),
        ("block", "Lay it on the bench", "Next: wood."),
        ("wood", "Lay it on the bench", "Next: tighten."),
        ("tighten", "Play to the end", "Next: lift."),
        ("lift", "It lifts, and nothing drops", "Next: press."),
    ):
        go(bench, station)
        bench.evaluate("node => node.scrollIntoView({ block: 'start' })")
        picture = bench.locator(".stonework-picture svg:visible").first
        verdict = bench.locator(".stonework-beside").get_by_role("status").first
        expect(picture).to_be_visible()
        keep(page, f"bench-{station}")
        assert in_view(picture) and in_view(verdict), station
        assert in_view(bench.locator(".stonework-beside .stonework-controls:visible").first), station
        assert overlapping(bench) == [], station
        bench.get_by_role("button", name=does).first.press("Enter")
        expect(line(bench)).to_contain_text(said)

    go(bench, "put away")
    bench.get_by_role("button", name="Undo the last change").press("Enter")
    expect(bench.locator(".stonework-here")).to_have_text("8 lift")
    bench.get_by_role("button", name="Do it again").press("Enter")
    expect(line(bench)).to_contain_text("Next: press.")
    page.reload()
    again = bench_of(page)
    expect(again.locator(".stonework-here")).to_contain_text("10 put away")
    expect(line(again)).to_contain_text("Next: press.")


def test_wood_is_laid_slid_and_taken_off_in_the_picture_by_mouse_and_by_keys(visit):
    page = visit("bench")
    bench = bench_of(page)
    go(bench, "ticket")
    bench.get_by_label("Job", exact=True).select_option("bookplate black")
    expect(bench.locator(".stonework-foot").first).to_contain_text("“bookplate black”")
    go(bench, "place")
    bench.get_by_role("button", name="Lay it on the bench").press("Enter")
    go(bench, "wood")
    bench.get_by_role("radio", name="lay it by hand").check()
    verdict = bench.locator(".stonework-beside:visible").get_by_role("status").first

    bench.get_by_role("button", name="Open the cabinet").filter(visible=True).press("Enter")
    bench.get_by_role("button", name=re.compile("^Take furniture 2 picas.*, 20: ")).click()
    expect(verdict).to_contain_text("in hand. Where shall it lie?")
    bench.get_by_role("button", name=re.compile("^Lay furniture .* on the bottom$")).click()
    expect(verdict).to_contain_text("Laid furniture 2 picas × 20 picas on the bottom")
    keep(page, "bench-touched")

    laid = bench.get_by_role("button", name=re.compile("outermost on the bottom"))
    laid.press("ArrowRight")
    expect(verdict).to_contain_text("Moved the outermost piece on the bottom by 6 pt")
    expect(laid).to_be_focused()
    box = laid.bounding_box()
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] / 2 - 30, box["y"] + box["height"] / 2, steps=4)
    page.mouse.up()
    expect(verdict).to_contain_text(re.compile("Moved the outermost piece on the bottom by (?!6 pt)"))
    laid.press("Delete")
    expect(verdict).to_contain_text("Took furniture 2 picas off the bottom")

    page.get_by_role("button", name="Show to a class").press("Enter")
    go(bench, "ticket")
    page.keyboard.press("PageDown")  # a ticket has no steps: on to the first station that isn't done
    expect(bench.locator(".stonework-here")).to_contain_text("2 measure")


def test_shown_to_a_class_it_is_large_and_a_key_takes_a_step(visit):
    page = visit("03-choose-furniture-and-reglet")
    page.set_viewport_size(SMALL)
    expect(page.locator(".stonework-bar").get_by_role("status")).to_contain_text("has started by itself")
    choose = page.locator(".stonework-panel").first
    picture, verdict = choose.locator(".stonework-picture svg"), choose.get_by_role("status").first
    choose.evaluate("node => node.scrollIntoView({ block: 'start' })")
    assert least_letters(picture) >= 10
    page.get_by_role("button", name="Show to a class").press("Enter")
    expect(page.get_by_role("button", name="Show to one reader")).to_be_visible()
    expect(page.locator(".jp-RenderedMarkdown details").first).to_be_hidden()
    page.wait_for_function(LARGE)
    choose.evaluate("node => node.scrollIntoView({ block: 'start' })")
    assert least_letters(picture) >= 12 and in_view(picture)
    keep(page, "to-a-class")
    page.keyboard.press("PageUp")
    expect(verdict).to_contain_text("Piece 15 of 16")
    page.keyboard.press("PageUp")
    expect(verdict).to_contain_text("Piece 14 of 16")
    page.keyboard.press("PageDown")
    expect(verdict).to_contain_text("Piece 15 of 16")
    page.get_by_role("button", name="Show to one reader").press("Enter")
    expect(page.locator(".jp-RenderedMarkdown details").first).to_be_visible()


_LETTERS = """node => Math.min(...[...node.querySelectorAll("text")].filter(one => one.textContent.trim()).map(one => {
    const { a, b } = one.getScreenCTM();
    return parseFloat(getComputedStyle(one).fontSize) * Math.hypot(a, b);
}))"""
LARGE = f"() => ({_LETTERS})(document.querySelector('.stonework-picture svg')) >= 12"


def least_letters(picture: Locator) -> float:
    """How high the smallest letters of a picture are, in CSS pixels."""
    return picture.evaluate(_LETTERS)


FAR = """() => {
    const panels = [...document.querySelectorAll(".stonework-stage")].filter(one => one.getClientRects().length);
    const strong = [...document.querySelectorAll(".jp-RenderedMarkdown strong")];
    const tries = strong.filter(one => one.textContent === "Try.");
    return tries.map(one => {
        const at = one.getBoundingClientRect().top;
        const away = panels.map(panel => {
            const { top, bottom } = panel.getBoundingClientRect();
            const picture = panel.querySelector("svg.stonework-plan");
            // A picture keeps to the foot of the window until its panel has gone by.
            return bottom <= at ? at - bottom : top + (picture?.getBoundingClientRect().height ?? 0) - at;
        });
        return Math.round(Math.min(...away.filter(one => one >= 0)));
    });
}"""


@pytest.mark.parametrize("lesson", ["02-place-the-form", "03-choose-furniture-and-reglet"])
def test_no_task_is_more_than_a_window_away_from_its_picture(visit, lesson):
    page = visit(lesson)
    page.set_viewport_size({"width": 1400, "height": 900})
    expect(page.locator(".stonework-bar").get_by_role("status")).to_contain_text("has started by itself")
    expect(page.locator(".stonework-again svg.stonework-plan")).to_be_attached()
    away = page.evaluate(FAR)
    assert len(away) >= 5 and max(away) < 900, away
