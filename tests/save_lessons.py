"""Run every page from the top and save it as it should be shipped.

    python tests/save_lessons.py [lessons/03-choose-furniture-and-reglet.ipynb ...]

A live panel can't be saved: its view would open as an error. So only its one-line description stays, which is
what a reader sees before starting the lesson, and what the notebook tests compare. Then the list of the lessons'
code is written for the plug-in, which runs by itself only what stands in it.
"""

import hashlib
import json
import os
import sys
import tempfile
from pathlib import Path

import nbformat
from nbclient import NotebookClient

ROOT = Path(__file__).resolve().parent.parent
LESSONS = ROOT / "lessons"
INSTRUCTOR, INDEX = LESSONS / "instructor", "lesson-plans.ipynb"
PAGES = sorted([*LESSONS.glob("*.ipynb"), *INSTRUCTOR.glob("*.ipynb")])
SHIPPED = ROOT / "widgets" / "plugin" / "static" / "shipped.json"
WIDGET_VIEW = "application/vnd.jupyter.widget-view+json"


def title(path: Path) -> str:
    """Return a lesson's number and its heading."""
    heading = next(
        line.removeprefix("# ")
        for cell in nbformat.read(path, as_version=4).cells
        for line in cell.source.splitlines()
        if cell.cell_type == "markdown" and line.startswith("# ")
    )
    return f"{int(path.name[:2])} {heading}"


def way_on(path: Path) -> str:
    """Return the links at a page's end: for a lesson the one before, the page that lists them all, and the next."""
    lessons = sorted(LESSONS.glob("[0-9]*.ipynb"))
    if path.parent == INSTRUCTOR:
        index = "" if path.name == INDEX else f"[For the instructor]({INDEX}) · "
        return f"{index}[All lessons](../{lessons[0].name})"
    if path not in lessons:  # a page beside the lessons
        return f"[All lessons]({lessons[0].name})"
    here = lessons.index(path)
    before, after = lessons[max(here - 1, 0) : here], lessons[here + 1 : here + 2]
    links = [f"[← {title(lesson)}]({lesson.name})" for lesson in before if lesson != lessons[0]]
    links += [f"[All lessons]({lessons[0].name})"] if here else []
    links += [f"[{title(lesson)} →]({lesson.name})" for lesson in after]
    return " · ".join(links)


def show_the_way(notebook: nbformat.NotebookNode, path: Path) -> None:
    """Put the links into the lesson's last cell."""
    if notebook.cells[-1].id != "way-on":
        notebook.cells.append(nbformat.v4.new_markdown_cell(id="way-on"))
    cell = notebook.cells[-1]
    cell.source = way_on(path)
    cell.metadata = {"editable": False, "deletable": False}


def fingerprint(notebook: nbformat.NotebookNode) -> str:
    """Return the SHA-256 of a notebook's code, reckoned as the plug-in's lesson.js does."""
    sources = [cell.source for cell in notebook.cells if cell.cell_type == "code"]
    return hashlib.sha256(json.dumps(sources, ensure_ascii=False, separators=(",", ":")).encode()).hexdigest()


def shipped() -> str:
    """Return the list of all pages' code, by which the plug-in knows a page that is as it came."""
    pages = {path.relative_to(LESSONS).as_posix(): fingerprint(nbformat.read(path, as_version=4)) for path in PAGES}
    return json.dumps(pages, indent=2) + "\n"


def save(path: Path) -> None:
    path = path.resolve()
    notebook = nbformat.read(path, as_version=4)
    show_the_way(notebook, path)
    client = NotebookClient(notebook, store_widget_state=False, resources={"metadata": {"path": str(path.parent)}})
    client.execute()
    for cell in notebook.cells:
        cell.metadata.pop("execution", None)
        for output in cell.get("outputs", []):
            output.get("data", {}).pop(WIDGET_VIEW, None)
    # The patch version of Python isn't the lesson's business.
    notebook.metadata["language_info"] = {"name": "python"}
    nbformat.write(notebook, path)
    print(f"saved {path.name}")


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as folder:
        os.environ["STONEWORK_WORK"] = folder  # nobody's answers are to show in a saved lesson
        for lesson in [Path(name) for name in sys.argv[1:]] or PAGES:
            save(lesson)
    SHIPPED.write_text(shipped(), encoding="utf-8")
