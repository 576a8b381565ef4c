"""What the hub starts for each student: the pages laid out in their home, signed, and JupyterLab to show them.

Everybody has pages of their own, since JupyterLab saves what a page shows. They are laid out afresh at each start, so
that they are as shipped, and what the instructor has changed reaches everybody. Answers and lockups don't lie here
but in the class's folder for work. Of the other files, one that a student has changed stays as it is.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import sys
import tempfile
from pathlib import Path

sys.path.append(str(Path(__file__).resolve().parents[2] / "widgets" / "launching"))
from opening import trust

SCHOOL = Path(__file__).resolve().parents[2]
LAID = ".laid.json"  # the fingerprints of what was laid out last, by which a student's own changes are told
OURS = (".ipynb", ".shop.toml", ".svg")  # always as shipped: pages, the class's one cabinet, pictures
SHOWN = (*OURS, ".toml")


def lay_out(school: Path, place: Path, *, teaches: bool) -> list[Path]:
    """Lay out the pages, and the files that they read, as they are at the school; return the pages."""
    before, laid = _laid(place), {}
    rooms = ["lessons", "lessons/instructor", "images"] if teaches else ["lessons", "images"]
    for source in sorted(file for room in rooms for file in school.glob(f"{room}/*") if file.name.endswith(SHOWN)):
        name = source.relative_to(school)
        target = place / name
        kept = target.is_file() and not name.name.endswith(OURS) and _fingerprint(target) != before.get(str(name))
        if not kept:
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(source, target)
        laid[str(name)] = before.get(str(name), "") if kept else _fingerprint(target)
    (place / LAID).write_text(json.dumps(laid, indent=1), encoding="utf-8")
    return [place / name for name in laid if name.endswith(".ipynb")]


def _laid(place: Path) -> dict[str, str]:
    try:
        return dict(json.loads((place / LAID).read_text(encoding="utf-8")))
    except (OSError, ValueError, TypeError):
        return {}


def _fingerprint(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


if __name__ == "__main__":
    # What is kept in the class's folder is the group's too: their wood lies in one cabinet.
    os.umask(0o007)
    # So they start by themselves; one that the school has changed and not saved as shipped doesn't.
    trust(lay_out(SCHOOL, Path.home() / "stonework", teaches=bool(os.environ.get("STONEWORK_TEACHES"))))
    from jupyterhub.singleuser import main

    # The kernels' own files, which only this student may open: a socket's path may have a hundred characters, and in
    # many a home it would have more.
    with tempfile.TemporaryDirectory(prefix="stonework-", dir="/tmp") as runtime:
        os.environ["JUPYTER_RUNTIME_DIR"] = runtime
        main()
