"""The workbook's plug-in in JupyterLab: what it runs by itself and what it doesn't, what it hides, what it hears."""

import json
import re
import shutil

import nbformat
import pytest
from lab import BEGIN, CHOOSE, MEASURE, QUESTIONS, TIGHTEN, TITLES, TOKEN, choose_from_menu, start
from nbformat.sign import NotebookNotary
from playwright.sync_api import Page, expect
from stonework.exercises.record import Answer
from stonework.exercises.sheet import AnswerSheet
from stonework.people.folders import People
from stonework.people.here import Here

pytest_plugins = ["lab"]
pytestmark = pytest.mark.browser

TOOLS = ("#jp-menu-panel", ".jp-SideBar.jp-mod-left", "#jp-main-statusbar", ".jp-NotebookPanel-toolbar")

NEIGHBOUR = """
(window._JUPYTERLAB ??= {}).neighbour = { // it may come before all others
  init: async () => {},
  get: async () => () => ({
    __esModule: true,
    default: { id: "neighbour:one", autoStart: true, activate: () => { document.body.dataset.neighbour = "here"; } },
  }),
};
"""

# Two things to touch, the second of which slides; each touch is told below, and moves the picture on by a unit.
TOUCHED = '''
from ipywidgets import HTML, Label, Text, VBox

def draw(x):
    """Draw a place and a piece."""
    rect = '<rect width="60" height="60" fill="tan"/>'
    touch = 'tabindex="0" role="button" aria-label'
    slides = 'data-stonework-touch="piece 7" data-stonework-slides=""'
    return f"""<svg viewBox="0 0 400 200" width="600" height="300">
    <g transform="translate(20 20)" data-stonework-touch="place 1" {touch}="a place">{rect}</g>
    <g transform="translate({x} 120)" {slides} {touch}="a piece">{rect}</g>
    </svg>"""

picture, touched, heard, said = HTML(draw(100)), Text(), Label("heard: nothing"), []
touched.add_class("stonework-touched")

def hear(change):
    """Tell what was touched, and draw anew."""
    number, *words = change.new.split("\\t")
    said.append(int(number))
    assert said == sorted(set(said))
    heard.value = f"{len(said)}: " + ", ".join(words)
    picture.value = draw(100 + len(said))

touched.observe(hear, "value")
panel = VBox([picture, touched, heard])
panel.add_class("stonework-panel")
panel
'''
KERNEL = {"kernelspec": {"name": "python3", "display_name": "Python 3 (ipykernel)", "language": "python"}}


def bar(page: Page):
    """The line of words above the lesson that is seen."""
    return page.locator(".stonework-bar:visible").get_by_role("status")


def write_own(home, name: str, source: str) -> None:
    """Write a notebook that is nobody's lesson."""
    cells = [nbformat.v4.new_markdown_cell("# My own"), nbformat.v4.new_code_cell(source)]
    nbformat.write(nbformat.v4.new_notebook(cells=cells, metadata=KERNEL), home / "lessons" / f"{name}.ipynb")


@pytest.fixture
def neighbour(home, lab):
    """Another person's plug-in."""
    folder = home / "data" / "labextensions" / "neighbour"
    (folder / "static").mkdir(parents=True)
    build = {"load": "static/entry.js", "extension": "./extension"}
    package = {"name": "neighbour", "version": "1.0.0", "jupyterlab": {"extension": True, "_build": build}}
    (folder / "package.json").write_text(json.dumps(package), encoding="utf-8")
    (folder / "static" / "entry.js").write_text(NEIGHBOUR, encoding="utf-8")
    yield
    shutil.rmtree(folder)


@pytest.fixture
def no_plugin(home, lab):
    """JupyterLab without the workbook's plug-in."""
    config = home / "config" / "labconfig" / "page_config.json"
    config.parent.mkdir(parents=True, exist_ok=True)
    config.write_text('{"disabledExtensions": {"stonework": true}}', encoding="utf-8")
    yield
    config.unlink()


def test_a_lesson_opens_live_with_no_click_beside_anothers_plugin(visit, neighbour):
    page = visit(CHOOSE)
    start(page, CHOOSE)
    expect(page.locator(".stonework-panel").first.get_by_role("status")).to_contain_text("sound by all")
    expect(page.locator("body")).to_have_attribute("data-neighbour", "here")


def test_pressing_start_while_a_lesson_starts_does_no_harm(visit):
    page = visit(TIGHTEN)
    expect(bar(page)).to_contain_text("is starting by itself")
    page.get_by_role("button", name="Start this lesson").click()
    expect(bar(page)).to_be_empty()  # what the reader began overtook it
    asked = sum(question.lesson == TIGHTEN for question in QUESTIONS.values())
    expect(page.locator(".stonework-question")).to_have_count(asked)
    expect(page.locator("#jp-main-statusbar")).to_contain_text("| Idle")
    expect(page.locator(".stonework-question")).to_have_count(asked)
    expect(page.get_by_text(re.compile("Error displaying widget|Traceback"))).to_have_count(0)


@pytest.mark.parametrize("how", ["its code is changed", "its words are changed", "it isn't trusted"])
def test_a_lesson_that_is_not_as_it_came_says_so_and_the_way_back_and_waits_for_its_button(visit, home, lab, how):
    lesson = nbformat.read(home / "lessons" / f"{BEGIN}.ipynb", as_version=4)
    if how == "its code is changed":
        next(cell for cell in lesson.cells if cell.cell_type == "code").source += "\nprint('mine')"
    elif how == "its words are changed":
        lesson.cells[-1].source += "\n\nA word of mine."
    else:
        next(cell for cell in lesson.cells if cell.get("outputs")).outputs[0]["data"]["text/html"] = "<p>mine</p>"
    if how != "it isn't trusted":
        with NotebookNotary(data_dir=str(home / "data")) as notary:
            notary.sign(lesson)
    nbformat.write(lesson, home / "lessons" / "changed.ipynb")
    page = visit("changed")
    said = "isn't trusted here" if how == "it isn't trusted" else "someone has changed it"
    expect(bar(page)).to_contain_text(said)
    expect(bar(page)).to_contain_text("python3 lessons/workbook.py renew changed")
    expect(page.locator("#jp-main-statusbar")).to_contain_text("| Idle")
    expect(page.locator(".stonework-panel")).to_have_count(0)
    if how == "its code is changed":
        page.get_by_role("button", name="Start this lesson").click()
        expect(page.locator(".stonework-panel").last).to_be_visible()
        expect(bar(page)).to_be_empty()


# What a page, an answer or a name could bring along, if any of it were run.
HOSTILE = """<img src="nowhere" onerror="window.ran = 'an image'"><svg onload="window.ran = 'a drawing'"></svg>
<script>window.ran = 'a script'</script><iframe srcdoc="<script>parent.ran = 'a frame'</script>"></iframe>"""


def test_no_text_of_a_page_that_is_not_as_shipped_runs_as_code(visit, home, lab):
    lesson = nbformat.read(home / "lessons" / f"{BEGIN}.ipynb", as_version=4)
    lesson.cells[0].source += f"\n\nThey wrote this.\n\n{HOSTILE}"
    data = {"text/html": HOSTILE, "application/javascript": "window.ran = 'javascript'", "image/svg+xml": HOSTILE}
    code = next(cell for cell in lesson.cells if cell.cell_type == "code")
    code.outputs = [nbformat.v4.new_output("display_data", data={kind: text}) for kind, text in data.items()]
    code.outputs.append(nbformat.v4.new_output("stream", text=HOSTILE))
    nbformat.write(lesson, home / "lessons" / "theirs.ipynb")
    page = visit("theirs")
    expect(page.get_by_text("They wrote this.")).to_be_visible()
    expect(bar(page)).to_contain_text("someone has changed it")
    expect(page.locator(".jp-OutputArea-output").first).to_be_attached()
    brought = page.locator(".jp-MarkdownOutput, .jp-OutputArea-output")
    expect(brought.locator("[onerror], [onload], script, iframe")).to_have_count(0)
    assert page.evaluate("window.ran") is None


def test_no_text_of_an_answer_or_a_job_runs_as_code(visit, home, lab, answers):
    sheet = AnswerSheet.open(Here(People(answers)).folder)
    for question in QUESTIONS:
        sheet.keep(question, Answer(HOSTILE, 0, ""), standing="not yet")
    jobs = home / "lessons" / "breakwater.jobs.toml"
    kept = jobs.read_text(encoding="utf-8")
    jobs.write_text(kept.replace("A pocket card", f"{HOSTILE.splitlines()[0]} A pocket card"), encoding="utf-8")
    try:
        for name in (MEASURE, "bench"):
            page = visit(name)
            panels = page.locator(".stonework-panel, .stonework-question")
            expect(bar(page)).to_contain_text("has started by itself")
            if name == MEASURE:  # an answer that was kept stands in its box again
                expect(page.locator(".stonework-question input").first).to_have_value(re.compile("window.ran"))
            else:
                expect(panels.get_by_text("window.ran").first).to_be_attached()
            expect(panels.locator("[onerror], [onload], script, iframe")).to_have_count(0)
            assert page.evaluate("window.ran") is None
    finally:
        jobs.write_text(kept, encoding="utf-8")
        shutil.rmtree(answers)


def test_a_persons_own_notebook_is_not_run_and_keeps_jupyterlabs_tools(visit, home, lab):
    write_own(home, "own", "print('it ran')")
    page = visit("own")
    expect(page.locator("#jp-main-statusbar")).to_contain_text("| Idle")
    for tool in TOOLS:
        expect(page.locator(tool)).to_be_visible()
    expect(page.locator(".stonework-bar, .jp-OutputArea-output")).to_have_count(0)


def test_a_page_of_words_prints_whole_and_says_nothing_of_starting(visit):
    page = visit("instructor/lesson-plans")
    expect(page.get_by_role("heading", name="For the instructor")).to_be_visible()
    expect(page.locator("#jp-main-statusbar")).to_contain_text("| Idle")
    with page.expect_response(
        lambda answer: "/nbconvert/html/lessons/instructor/lesson-plans" in answer.url
    ) as printed:
        page.keyboard.press("Control+p")
    text = printed.value.text()
    assert printed.value.ok and all(heading in text for heading in ("A two-hour evening", "A weekend", "Ten weeks"))
    expect(bar(page)).to_be_empty()


def test_after_a_restart_the_lesson_runs_again_and_says_so(visit):
    page = visit(BEGIN)
    start(page, BEGIN)
    choose_from_menu(page, "Kernel", "Restart Kernel…")
    expect(bar(page)).to_contain_text("Python was started again behind this page, so the lesson has run again.")
    expect(page.locator(".stonework-panel").last.get_by_role("status")).to_contain_text("All is in order.")


def test_without_the_plugin_the_start_button_serves(visit, no_plugin):
    page = visit(CHOOSE)
    expect(page.locator("#jp-main-statusbar")).to_contain_text("| Idle")
    expect(page.locator("#jp-menu-panel")).to_be_visible()
    expect(page.locator(".stonework-bar")).to_have_count(0)
    expect(page.get_by_text("<choose: form 27 picas")).to_be_attached()
    expect(page.get_by_text("Error displaying widget")).to_have_count(0)
    expect(page.locator(".jp-cell-toolbar")).to_be_attached()
    expect(page.locator(".jp-cell-toolbar jp-button")).to_have_count(0)
    page.get_by_role("button", name="Start this lesson").click()
    expect(page.get_by_role("button", name="See it finished")).to_be_visible()
    expect(page.get_by_role("heading", name=TITLES[CHOOSE], exact=True)).to_be_in_viewport()


def test_jupyterlabs_tools_are_away_until_asked_for_and_a_link_opens_in_place(visit):
    page = visit(BEGIN)
    start(page, BEGIN)
    for tool in TOOLS:
        expect(page.locator(tool)).to_be_hidden()
    page.get_by_role("button", name="Show JupyterLab's own tools").press("Enter")
    for tool in TOOLS:
        expect(page.locator(tool)).to_be_visible()
    page.get_by_role("button", name="Hide JupyterLab's own tools").press("Enter")
    with page.expect_response(lambda answer: answer.request.method == "PUT" and f"{BEGIN}.ipynb" in answer.url):
        page.keyboard.press("Control+s")
    page.get_by_role("link", name=re.compile("1 Measure the form")).last.click()
    expect(page).to_have_url(re.compile("01-measure-the-form"))
    expect(bar(page)).to_contain_text("has started by itself")
    assert len(page.context.pages) == 1
    for tool in TOOLS:
        expect(page.locator(tool).last).to_be_hidden()


@pytest.fixture
def touchable(visit, home, lab):
    """A notebook with a picture that can be touched."""
    write_own(home, "touched", TOUCHED)
    page = visit("touched")
    expect(page.locator("#jp-main-statusbar")).to_contain_text("| Idle")
    choose_from_menu(page, "Run", "Run All Cells")
    expect(page.get_by_role("button", name="a piece")).to_be_visible()
    return page


def drag(page: Page, right: float, down: float) -> None:
    """Drag the piece by CSS pixels."""
    box = page.get_by_role("button", name="a piece").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + right / 2, y + down / 2)
    page.mouse.move(x + right, y + down)
    page.mouse.up()


def test_a_picture_is_touched_by_the_pointer(touchable):
    page = touchable
    heard = page.locator(".stonework-panel .widget-label").last
    page.get_by_role("button", name="a place").click()
    expect(heard).to_have_text("1: place 1")
    page.get_by_role("button", name="a place").click()
    expect(heard).to_have_text("2: place 1")
    drag(page, 2, 2)
    expect(heard).to_have_text("3: piece 7")
    drag(page, 75, -30)  # the picture is drawn at one and a half times its units
    expect(heard).to_have_text("4: piece 7, by 50 20")
    drag(page, -15, 45)
    expect(heard).to_have_text("5: piece 7, by -10 -30")


def test_a_picture_is_touched_from_the_keyboard_and_keeps_its_place(touchable):
    page = touchable
    heard = page.locator(".stonework-panel .widget-label").last
    place, piece = page.get_by_role("button", name="a place"), page.get_by_role("button", name="a piece")
    place.focus()
    place.press("Enter")
    expect(heard).to_have_text("1: place 1")
    expect(place).to_be_focused()
    page.keyboard.press("Space")
    expect(heard).to_have_text("2: place 1")
    page.keyboard.press("Tab")
    expect(piece).to_be_focused()
    for key in ("ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown", "Backspace"):
        page.keyboard.press(key)  # none is lost, however quickly they follow
    expect(heard).to_have_text("7: piece 7, off")
    page.keyboard.press("ArrowUp")
    expect(heard).to_have_text("8: piece 7, up")
    expect(piece).to_be_focused()
    for key in ("Shift+Enter", "0", "0"):  # for JupyterLab: run the cell and add another; begin the kernel anew
        page.keyboard.press(key)
    expect(heard).to_have_text("9: piece 7")
    page.keyboard.press("Delete")
    expect(heard).to_have_text("10: piece 7, off")
    expect(page.locator(".jp-Cell")).to_have_count(2)


def test_on_a_page_that_lost_its_python_no_verdict_looks_as_if_it_held(visit, lab):
    page = visit(BEGIN)
    start(page, BEGIN)
    panel = page.locator(".stonework-panel").first
    assert "grayscale" not in panel.evaluate("node => getComputedStyle(node).filter")
    for session in page.request.get(f"{lab}/api/sessions?token={TOKEN}").json():
        page.request.delete(f"{lab}/api/sessions/{session['id']}?token={TOKEN}")
    expect(bar(page)).to_contain_text("has lost its Python")
    expect(panel).to_have_css("filter", re.compile("grayscale"))
