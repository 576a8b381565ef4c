"""Every page as a screen reader tells it, and as eyes find it that see colours, sizes or motion otherwise.

One run of each page serves all that is asked here. What is expected is read from its notebook and from what is seen
in the browser; the tree is Chromium's own. The measures are those of WCAG 2.2: 1.3.2 and 2.4.3 (order), 1.4.3 (words
stand out 4.5 to 1, large ones 3), 1.4.4 (200 %), 1.4.11 (boxes and rings 3 to 1), 2.3.3 (motion), 2.4.7 (the keyboard's
place is seen), 4.1.2 (name, role, value) and 4.1.3 (what is said is spoken).
"""

from __future__ import annotations

import contextlib
import re
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import nbformat
import pytest
from lab import ROOT, WINDOW, arrive, leave
from playwright.sync_api import Page, TimeoutError, expect
from reader import CONTROLS, Heard, hear, words

pytest_plugins = ["lab"]
pytestmark = pytest.mark.browser

EYES = (Path(__file__).parent / "eyes.js").read_text(encoding="utf-8")
LESSONS = ROOT / "lessons"
# The page of lesson plans has words alone, and JupyterLab's own looks.
PAGES = [
    path.relative_to(LESSONS).with_suffix("").as_posix()
    for path in (*sorted(LESSONS.glob("[0-9b]*.ipynb")), *sorted(LESSONS.glob("instructor/*.ipynb")))
    if path.stem != "lesson-plans"
]


@pytest.fixture(scope="module", params=PAGES)
def lesson(request) -> str:
    return request.param


@pytest.fixture(scope="module")
def shown(lesson, browser, lab) -> Iterator[Page]:
    """A page that has run, with eyes on it."""
    page = arrive(browser, lab, lesson)
    expect(page.locator(".stonework-bar").get_by_role("status")).to_contain_text("has started by itself")
    expect(page.locator(OUTERMOST)).to_have_count(sum(kind == "panel" for kind, _ in written(lesson)))
    page.evaluate(EYES)
    yield page
    leave(page, lab)


@pytest.fixture(scope="module")
def told(shown) -> list[Heard]:
    """All that a reader is told of the page, from the first cell on."""
    everything = hear(shown)
    return everything[next(n for n, one in enumerate(everything) if one.role == "feed") :]


# --- read aloud ---------------------------------------------------------------------------------------------

OUTERMOST = ".stonework-panel:not(.stonework-panel .stonework-panel)"


def written(lesson: str) -> list[tuple[str, str]]:
    """What a notebook has, in its order: headings with their levels, the words of its pictures, tables, panels."""
    found: list[tuple[str, str]] = []
    for cell in nbformat.read(LESSONS / f"{lesson}.ipynb", as_version=4).cells:
        if cell.cell_type == "markdown":
            found += _marks(re.sub(r"<details>.*?</details>", "", cell.source, flags=re.S))
        elif any(out.get("data", {}).get("text/plain", "").startswith("<") for out in cell.outputs):
            found.append(("panel", ""))
    return found


def _marks(source: str) -> Iterator[tuple[str, str]]:
    for line in source.splitlines():
        if heading := re.match(r"(#+) (.*)", line):
            yield f"h{len(heading[1])}", re.sub(r"[*_`]", "", heading[2]).strip()
        elif picture := re.match(r"!\[(.*)\]\(", line):
            yield "picture", picture[1]
        elif re.match(r"\|[ :|-]+\|$", line):
            yield "table", ""


def marks(told: list[Heard]) -> Iterator[tuple[str, str]]:
    """The same of what is told; of panels those that stand in no other."""
    for one in told:
        if one.role == "heading":
            yield f"h{one.states['level']}", one.name
        elif one.role == "image" and one.tag == "img":
            yield "picture", one.name
        elif one.role == "table" and not one.panels:
            yield "table", ""
        elif "stonework-panel" in one.classes and not one.panels:
            yield "panel", ""


def test_headings_pictures_tables_and_panels_are_told_as_the_notebook_has_them(told, lesson):
    heard = list(marks(told))
    assert heard == written(lesson)
    levels = [int(kind[1]) for kind, _ in heard if kind[0] == "h" and kind[1:].isdigit()]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


def test_all_that_is_seen_is_told_in_its_order_and_nothing_else(told, shown):
    assert words(told) == shown.evaluate("eyes.text()")
    assert shown.evaluate("eyes.backwards()") == []
    assert shown.locator("html").get_attribute("lang") == "en"
    assert shown.evaluate("eyes.twice()") == []


def test_every_control_has_a_name_and_says_how_it_stands(told):
    controls = [one for one in told if one.role in CONTROLS]
    assert controls
    for one in controls:
        assert re.search(r"\w", one.name), one
        assert "null" not in (one.name, one.described), one
        if one.role in {"checkbox", "radio"}:
            assert "checked" in one.states, one
        if one.role in {"combobox", "DisclosureTriangle"}:
            assert "expanded" in one.states, one


def test_every_panel_is_a_group_named_by_its_question_or_its_heading(told):
    panels = [one for one in told if "stonework-panel" in one.classes and not one.panels]
    headings = {one.name.strip("¶") for one in told if one.role == "heading"}
    assert panels
    for one in panels:
        assert one.role == "group" and one.name, one
        assert "stonework-question" in one.classes or one.name in headings, one


def test_pictures_have_words_tables_have_heads_and_panels_say_how_they_stand(told, shown):
    pictures = [one for one in told if one.tag in {"img", "svg"} and one.role != "generic"]
    assert len(pictures) == shown.evaluate("eyes.all('img, svg.stonework-plan').length")
    assert all(one.role in {"image", "group"} and len(one.name.split()) > 5 for one in pictures)
    heads = sum(one.role == "columnheader" for one in told)
    assert heads >= 2 * sum(one.role == "table" for one in told)
    live = [one for one in told if "stonework-status" in one.classes]
    assert live and all(one.role == "status" and one.states["live"] == "polite" for one in live)


# --- looked at otherwise ------------------------------------------------------------------------------------

LOOKS = ("faint", "edgeless", "ringless")


def look(page: Page, *kinds: str) -> dict[str, list[str]]:
    """What eyes find wrong."""
    page.keyboard.press("Tab")  # the ring is for who goes by the keyboard
    return {kind: found for kind in kinds if (found := page.evaluate(f"eyes.{kind}()"))}


def test_it_stands_out_in_both_themes_and_in_forced_colours(shown):
    pictures = shown.evaluate("eyes.inksOfPictures()")
    for ground in ("light", "dark"):
        shown.emulate_media(forced_colors="active", color_scheme=ground)
        assert look(shown, *LOOKS, "bare") == {}
        assert shown.evaluate("eyes.inksOfPictures()") == pictures  # their paper stays white under their own inks
    shown.emulate_media(forced_colors="none", color_scheme="light")
    assert look(shown, *LOOKS, "bare") == {}
    other = "JupyterLab Light" if shown.locator("body").get_attribute("data-jp-theme-light") == "false" else DARK
    shown.evaluate(TURN_TO, other)
    expect(shown.locator("body")).to_have_attribute("data-jp-theme-name", other)
    assert look(shown, *LOOKS, "bare") == {}


DARK = "JupyterLab Dark"
# A lesson's own Start button runs JupyterLab's commands so.
TURN_TO = """theme => {
    const button = document.createElement("button");
    button.dataset.commandlinkerCommand = "apputils:change-theme";
    button.dataset.commandlinkerArgs = JSON.stringify({ theme });
    document.querySelector(".jp-RenderedMarkdown").append(button);
    button.click();
    button.remove();
}"""


def test_at_200_per_cent_nothing_sticks_out_or_is_covered(shown):
    for window in ({"width": 640, "height": 360}, WINDOW):  # 1280 × 720 at 200 %, and as before
        shown.set_viewport_size(window)
        shown.wait_for_function(f"document.querySelector('.jp-Notebook').clientWidth === {window['width']}")
        with contextlib.suppress(TimeoutError):  # JupyterLab lays a page out anew in its own time
            shown.wait_for_function("!eyes.covered().length", timeout=5_000)
        assert look(shown, "cut", "covered", "backwards") == {}


def test_nothing_glides_for_who_asks_for_less_motion(shown):
    shown.emulate_media(reduced_motion="reduce")
    assert look(shown, "moving") == {}


# --- with the keyboard, and spoken --------------------------------------------------------------------------

CONTROL = "a[href], :is(input, select, textarea, button):enabled, summary, .stonework-place"
NAME = "one => one.labels?.[0]?.textContent ?? one.getAttribute('aria-label') ?? one.textContent.trim()"
REACHED = f"""panel => {{
    const one = document.activeElement;
    return panel.contains(one) ? ({NAME})(one) : null;
}}"""


def test_the_keyboard_goes_through_a_panel_as_it_is_read(shown):
    panel = shown.locator(OUTERMOST).first
    controls = [one for one in panel.locator(CONTROL).all() if one.is_visible()]
    controls[0].focus()
    reached = []
    while (name := panel.evaluate(REACHED)) is not None:
        reached.append(name)
        shown.keyboard.press("Tab")
    assert reached == [one.evaluate(NAME) for one in controls]


SPOKEN = """panel => {
    window.spoken = [];
    new MutationObserver(changes => {
        for (const one of changes.flatMap(change => [...change.addedNodes]))
            for (const live of one.matches?.("[role=status]") ? [one] : one.querySelectorAll?.("[role=status]") ?? [])
                if (live.textContent) window.spoken.push(live.textContent);
    }).observe(panel, { childList: true, subtree: true });
}"""


def test_what_a_question_says_is_spoken_once(shown):
    asked = shown.locator(".stonework-question").first
    if not asked.count():
        pytest.skip("nothing is asked here")
    asked.evaluate(SPOKEN)
    hint = asked.get_by_role("button", name="A hint")
    for nth in (1, 2):
        hint.press("Enter")
        expect(asked.get_by_text(f"Hint {nth} of")).to_be_visible()
    assert [said[:6] for said in shown.evaluate("window.spoken")] == ["Hint 1", "Hint 2"]
