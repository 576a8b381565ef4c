"""Run every lesson from the top and save it as it should be shipped.

    python tests/save_lessons.py [lessons/03-choose-furniture-and-reglet.ipynb ...]

A live panel can't be saved: its view would open as an error. So only its one-line description stays, which is
what a reader sees before starting the lesson, and what the notebook tests compare.
"""

import os
import sys
import tempfile
from pathlib import Path

import nbformat
from nbclient import NotebookClient

LESSONS = Path(__file__).resolve().parent.parent / "lessons"
WIDGET_VIEW = "application/vnd.jupyter.widget-view+json"


def save(path: Path) -> None:
    notebook = nbformat.read(path, as_version=4)
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
        os.environ["STONEWORK_ANSWERS"] = folder  # nobody's answers are to show in a saved lesson
        for lesson in [Path(name) for name in sys.argv[1:]] or sorted(LESSONS.glob("[0-9]*.ipynb")):
            save(lesson)
