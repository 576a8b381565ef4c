"""The pages as they are shipped: how one is known by its fingerprint, and how it is brought back.

The fingerprint is of a page's words and code. What running a page leaves in it doesn't count: numbers of runs, and
plain text that its code printed, which can do nothing.
"""

import hashlib
import json
import os
import re
import zipfile
from pathlib import Path

RUN = "py lessons\\workbook.py" if os.name == "nt" else "python3 lessons/workbook.py"

HERE = Path(__file__).resolve().parent
FINGERPRINTS = HERE.parent / "plugin" / "static" / "shipped.json"  # the page's plug-in reads it too
COPIES = HERE / "pages.zip"  # of every page, as shipped
CHANGED = "changed "  # how the name of a page begins that was put aside

INSTRUCTOR = "instructor"  # the folder of the instructor's pages, in lessons/
INDEX = "lesson-plans"  # the page there that lists the others

LIVE_VIEW = "application/vnd.jupyter.widget-view+json"
_OUTPUTS = {"stream", "error", "execute_result", "display_data"}


def pages_in(lessons: Path) -> "list[Path]":
    """Return the lessons in their order, the bench, and the instructor's pages, their index first."""
    numbered = sorted(lessons.glob("[0-9]*.ipynb"), key=lambda path: path.stem)
    instructors = [path for path in (lessons / INSTRUCTOR).glob("*.ipynb") if not path.name.startswith(CHANGED)]
    instructors.sort(key=lambda path: (path.stem != INDEX, path.stem))
    return [*numbered, *lessons.glob("bench.ipynb"), *instructors]


def fingerprint(page: dict) -> str:
    """Return the SHA-256 of a page's words and code, reckoned as the plug-in's lesson.js does."""
    cells = [[cell["cell_type"], "".join(cell["source"])] for cell in page["cells"]]
    return hashlib.sha256(json.dumps(cells, ensure_ascii=False, separators=(",", ":")).encode()).hexdigest()


def is_as_shipped(page: dict) -> bool:
    """Whether a page has the words and code of one that is shipped, and shows nothing but plain text with them."""
    outputs = [output for cell in page["cells"] for output in cell.get("outputs", [])]
    plain = all(
        output["output_type"] in _OUTPUTS and set(output.get("data", {})) <= {"text/plain"} for output in outputs
    )
    return plain and fingerprint(page) in json.loads(FINGERPRINTS.read_text(encoding="utf-8")).values()


def take_out_live_views(page: dict) -> bool:
    """Take out what a live panel leaves in a saved page, which would open as an error; say if there was any."""
    shown = [output["data"] for cell in page["cells"] for output in cell.get("outputs", []) if "data" in output]
    left = [(data, LIVE_VIEW) for data in shown] + [(page["metadata"], "widgets")]
    left = [(data, key) for data, key in left if key in data]
    for data, key in left:
        del data[key]
    return bool(left)


def copies() -> "list[str]":
    """Return the names of all pages that are shipped, from lessons/, in the pages' order."""
    with zipfile.ZipFile(str(COPIES)) as kept:
        return kept.namelist()


def bring_back(page: Path, name: str) -> "Path | None":
    """Lay a page out as shipped. If another lay there, put it aside and return where it is; if none had to, None."""
    with zipfile.ZipFile(str(COPIES)) as kept:
        shipped = kept.read(name)
    aside = None
    if page.exists():
        if _same(page.read_bytes(), shipped):
            return None
        aside = _free_name(page)
        page.replace(aside)
    page.parent.mkdir(parents=True, exist_ok=True)
    page.write_bytes(shipped)
    return aside


def _same(one: bytes, other: bytes) -> bool:
    # A Windows git may have changed the ends of the lines.
    return re.sub(rb"\r\n", b"\n", one) == other


def _free_name(page: Path) -> Path:
    """Return a name beside a page for what is put aside, which nothing has yet."""
    number, aside = 1, page.with_name(f"{CHANGED}{page.name}")
    while aside.exists():
        number += 1
        aside = page.with_name(f"{CHANGED}{page.stem} ({number}).ipynb")
    return aside
