"""Every lesson as it is shipped: run, clean, readable, and short of code. nbval then runs them all."""

import ast
import re
from itertools import pairwise
from pathlib import Path

import nbformat
import pytest
from draw_images import STILLS
from save_lessons import PAGES, way_on

ROOT = Path(__file__).resolve().parent.parent
WIDGET_VIEW = "application/vnd.jupyter.widget-view+json"
# They print into widgets, which nbval takes for the cell's own output; panels don't need them.
UNWANTED = {"Output", "interact", "interactive", "interactive_output"}


def read(path):
    return nbformat.read(path, as_version=4)


@pytest.fixture(params=PAGES, ids=lambda path: path.stem)
def path(request):
    return request.param


@pytest.fixture
def lesson(path):
    return read(path)


def complaints(notebook):
    """Say what is wrong with a notebook as shipped; a cleared one would pass nbval without a word."""
    found = []
    codes = [cell for cell in notebook.cells if cell.cell_type == "code"]
    for number, cell in enumerate(codes, 1):
        if cell.execution_count != number:
            found.append(f"{cell.id}: run as {cell.execution_count}, not {number}: cleared or run out of order")
        last = ast.parse(cell.source).body[-1]
        shows = isinstance(last, ast.Expr)
        if shows and not cell.outputs:
            found.append(f"{cell.id}: it shows something, yet no output is saved")
        for output in cell.outputs:
            if output.output_type == "error":
                found.append(f"{cell.id}: a saved error")
            if WIDGET_VIEW in output.get("data", {}):
                found.append(f"{cell.id}: a saved widget view, which opens as an error")
            text = output.get("data", {}).get("text/plain", "")
            if output.output_type == "execute_result" and ("object at 0x" in text or "\n" in text or not text):
                found.append(f"{cell.id}: its output isn't one line that describes its state")
    if "widgets" in notebook.metadata:
        found.append("widget state is saved in the file")
    return found


def names_in(source):
    """Return every name that code uses or imports."""
    nodes = list(ast.walk(ast.parse(source)))
    used = {node.id for node in nodes if isinstance(node, ast.Name)}
    imports = [node for node in nodes if isinstance(node, ast.Import | ast.ImportFrom)]
    return used | {alias.name for node in imports for alias in node.names}


# Pages to work with: they teach nothing.
WORK = {"bench", "lesson-plans", "plan-a-class", "class-report", "answer-key"}
WORDS = {"lesson-plans"}  # a page to read, without code
SHAPE = ("You will make", "You will be able to", "You need", "Predict.", "Try.", "Explain", "Care.")


def test_there_are_lessons_and_pages_for_the_instructor():
    assert {"lessons", "instructor"} == {path.parent.name for path in PAGES}


def test_a_lesson_is_shipped_as_it_ran(lesson):
    assert complaints(lesson) == []


def test_a_cleared_stale_or_widget_laden_notebook_is_refused():
    for spoil in (
        lambda cells: [cell.update(outputs=[], execution_count=None) for cell in cells],
        lambda cells: cells[-1].update(outputs=[]),
        lambda cells: cells[0].update(execution_count=7),
        lambda cells: cells[-1].outputs[0]["data"].update({WIDGET_VIEW: {}}),
    ):
        notebook = read(PAGES[0])
        spoil([cell for cell in notebook.cells if cell.cell_type == "code"])
        assert complaints(notebook)


def test_code_is_short_folded_and_free_of_what_nbval_cannot_check(lesson):
    for cell in lesson.cells:
        if cell.cell_type != "code":
            continue
        lines = [line for line in cell.source.splitlines() if line.strip() and not line.strip().startswith("#")]
        assert len(lines) <= 3, cell.source
        assert cell.metadata["jupyter"]["source_hidden"] is True
        assert not names_in(cell.source) & UNWANTED


def test_the_panels_use_nothing_that_prints_into_a_widget():
    for path in (ROOT / "widgets" / "stonework" / "panels").glob("*.py"):
        assert not names_in(path.read_text(encoding="utf-8")) & UNWANTED, path.name


def test_the_words_carry_the_lesson(lesson):
    words = sum(len(cell.source.split()) for cell in lesson.cells if cell.cell_type == "markdown")
    lines = sum(len(cell.source.splitlines()) for cell in lesson.cells if cell.cell_type == "code")
    assert words >= 10 * lines


def test_one_title_headings_in_order_and_the_shape_of_a_lesson(path, lesson):
    text = "\n".join(cell.source for cell in lesson.cells if cell.cell_type == "markdown")
    levels = [len(mark) for mark in re.findall(r"^(#+) ", text, re.M)]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    for phrase in ("Care.",) if path.stem in WORK else SHAPE:
        assert phrase in text


def test_one_click_starts_the_lesson_and_brings_the_reader_back_to_its_top(path, lesson):
    start = lesson.cells[0].source
    if path.stem in WORDS:
        assert "<button" not in start and not any(cell.cell_type == "code" for cell in lesson.cells)
        return
    assert 'data-commandlinker-command="apputils:run-all-enabled"' in start
    assert '"notebook:run-all-cells", "notebook:extend-marked-cells-top"' in start


def test_pictures_exist_and_say_what_they_show(path, lesson):
    text = "\n".join(cell.source for cell in lesson.cells if cell.cell_type == "markdown")
    pictures = re.findall(r"!\[([^\]]*)\]\(([^)]+)\)", text)
    for words, target in pictures:
        assert len(words.split()) >= 6, f"{target} needs a sentence, not a file name"
        assert (path.parent / target).is_file()
    assert len(pictures) == text.count("![")


# Words for a colour in a picture. An ink's own colour is another thing: the lessons print a second one.
HUES = r"\b(red|orange|yellow|green|blue|purple|violet|pink|brown|grey|gray)\b"
INK = r"\b(the red|red lines?|red forms?|bookplate red|in red)\b"


def told_by_colour(text):
    """Return the colours by which a text tells things apart: not everyone sees them, and not every printer has them."""
    return re.findall(HUES, re.sub(INK, "", text, flags=re.I), flags=re.I)


def test_nothing_is_told_by_its_colour_alone(lesson):
    assert told_by_colour("Press the small red square.") == ["red"]
    assert told_by_colour("The red line prints last.") == []
    assert told_by_colour("\n".join(cell.source for cell in lesson.cells if cell.cell_type == "markdown")) == []


@pytest.mark.parametrize("part", ["drawing", "exercises", "panels"])
def test_no_picture_question_or_panel_speaks_of_colours(part):
    for path in (ROOT / "widgets" / "stonework" / part).glob("*.py"):
        nodes = ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        said = [node.value for node in nodes if isinstance(node, ast.Constant) and isinstance(node.value, str)]
        assert [words for words in said if told_by_colour(words)] == [], path.name


def test_a_drawing_is_described_in_its_own_words(lesson):
    text = "\n".join(cell.source for cell in lesson.cells if cell.cell_type == "markdown")
    for words, target in re.findall(r"!\[([^\]]*)\]\(([^)]+)\)", text):
        if (name := Path(target).name) in STILLS:
            assert words == STILLS[name]().words


def test_every_drawing_is_used():
    text = "\n".join(cell.source for path in PAGES for cell in read(path).cells if cell.cell_type == "markdown")
    assert all(f"../images/{name}" in text for name in STILLS)


def test_a_stray_click_or_key_changes_nothing(lesson):
    for cell in lesson.cells:
        assert (cell.metadata.get("editable"), cell.metadata.get("deletable")) == (False, False), cell.id


def test_a_lesson_ends_with_the_way_to_the_next(path, lesson):
    last = lesson.cells[-1]
    assert (last.id, last.source) == ("way-on", way_on(path))
    for target in re.findall(r"\]\(([^)]+)\)", last.source):
        assert (path.parent / target).is_file()


def test_links_between_lessons_lead_somewhere(path, lesson):
    text = "\n".join(cell.source for cell in lesson.cells if cell.cell_type == "markdown")
    for target in re.findall(r"(?<!!)\[[^\]]*\]\(([^)]+)\)", text):
        assert (path.parent / target).is_file(), target


def test_the_kernel_is_the_stock_one(lesson):
    assert lesson.metadata.kernelspec.name == "python3"
