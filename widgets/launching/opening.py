"""Trust the pages that are as shipped, and no others; then let JupyterLab open one. The Python of .venv runs this.

A page that JupyterLab trusts starts by itself, and its button runs it without a question. So only a page with the
fingerprint of one that is shipped is signed. One that someone changed loses its trust, even if it was given on this
machine: whoever sits here next would run it unasked. To sign what was written anew is a matter for save_lessons.py.
"""

from __future__ import annotations

import copy
import sys
from pathlib import Path

import nbformat
from nbformat.sign import NotebookNotary
from shipped import RUN, is_as_shipped, pages_in, take_out_live_views


def trust(pages: list[Path]) -> list[Path]:
    """Sign each page that is as shipped, without the live views that were saved in it; return the others."""
    with NotebookNotary() as notary:
        return [page for page in pages if not _trusted(page, notary)]


def _trusted(page: Path, notary: NotebookNotary) -> bool:
    try:
        saved = nbformat.read(page, as_version=4)
        notebook = copy.deepcopy(saved)
        mended = take_out_live_views(notebook)
        if not is_as_shipped(notebook):
            notary.unsign(saved)
            return False
        if mended:
            nbformat.write(notebook, page)
        notary.sign(notebook)
    except Exception:  # whatever is wrong with the file: JupyterLab says it when the page is opened
        return False
    return True


def said_of(changed: list[Path]) -> str:
    """Say which pages aren't as shipped, and how each is brought back."""
    names = ", ".join(page.stem for page in changed)
    are, them = ("is", "it") if len(changed) == 1 else ("are", "them")
    return (
        f"{names} {are} not as shipped, so nothing in {them} is trusted or starts by itself. '{RUN} renew "
        f"{changed[0].stem}' brings {'it' if len(changed) == 1 else 'the first'} back as shipped, and keeps what is "
        "there now beside it.\n"
    )


def main() -> int:
    """Take the folder of the lessons from the command line, and let JupyterLab have the rest of it."""
    if changed := trust(pages_in(Path(sys.argv.pop(1)))):
        sys.stderr.write(said_of(changed))
    from jupyterlab.labapp import main as open_jupyterlab

    return open_jupyterlab()
