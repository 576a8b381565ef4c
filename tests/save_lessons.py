"""Run every page from the top and save it as it should be shipped.

    python tests/save_lessons.py [lessons/03-choose-furniture-and-reglet.ipynb ...]

A live panel can't be saved: its view would open as an error. So only its one-line description stays, which is
what a reader sees before starting the lesson, and what the notebook tests compare. Then the pages' fingerprints are
written, by which a page as shipped is known, and copies of all pages, from which it is brought back.
"""

import json
import os
import sys
import tempfile
import zipfile
from pathlib import Path

import nbformat
from nbclient import NotebookClient

sys.path.append(str(Path(__file__).resolve().parent.parent / "widgets" / "launching"))
from shipped import COPIES, FINGERPRINTS, fingerprint, pages_in, take_out_live_views

ROOT = Path(__file__).resolve().parent.parent
LESSONS = ROOT / "lessons"
INSTRUCTOR, INDEX = LESSONS / "instructor", "lesson-plans.ipynb"
PAGES = sorted(pages_in(LESSONS))


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


def shipped() -> str:
    """Return the list of all pages' fingerprints."""
    pages = {name: fingerprint(nbformat.read(LESSONS / name, as_version=4)) for name in names()}
    return json.dumps(pages, indent=2) + "\n"


def names() -> list[str]:
    """Return the pages' names, from lessons/, in their order."""
    return [path.relative_to(LESSONS).as_posix() for path in pages_in(LESSONS)]


def keep_copies() -> None:
    """Write the copies of all pages; the same pages give the same bytes."""
    with zipfile.ZipFile(COPIES, "w") as kept:
        for name in names():
            kept.writestr(zipfile.ZipInfo(name), (LESSONS / name).read_bytes(), zipfile.ZIP_DEFLATED, 9)


def save(path: Path) -> None:
    path = path.resolve()
    notebook = nbformat.read(path, as_version=4)
    show_the_way(notebook, path)
    client = NotebookClient(notebook, store_widget_state=False, resources={"metadata": {"path": str(path.parent)}})
    client.execute()
    for cell in notebook.cells:
        cell.metadata.pop("execution", None)
    take_out_live_views(notebook)
    # The patch version of Python isn't the lesson's business.
    notebook.metadata["language_info"] = {"name": "python"}
    nbformat.write(notebook, path)
    print(f"saved {path.name}")


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as folder:
        os.environ["STONEWORK_WORK"] = folder  # nobody's answers are to show in a saved lesson
        for lesson in [Path(name) for name in sys.argv[1:]] or PAGES:
            save(lesson)
    FINGERPRINTS.write_text(shipped(), encoding="utf-8")
    keep_copies()
