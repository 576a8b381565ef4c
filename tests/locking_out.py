"""Save where one may not write, as somebody who isn't root. ``test_faults.py`` runs it in a process.

By hand: ``.venv/bin/python tests/locking_out.py``.
"""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from keepers import KEEPERS

_NOBODY = 65534


def main(name: str) -> None:
    """Save once while one may, then forbid it, save again, and print what was said."""
    keeper = KEEPERS[name]
    with tempfile.TemporaryDirectory() as scratch:
        os.chmod(scratch, 0o755)
        folder = Path(scratch) / "work"
        folder.mkdir()
        assert keeper.save(folder, 1) == ""
        if os.geteuid() == 0:  # whom nothing is forbidden
            for path in (folder, *folder.rglob("*")):
                os.chown(path, _NOBODY, _NOBODY)
            os.seteuid(_NOBODY)
        everything = [path for path in (folder, *folder.rglob("*")) if path.is_dir()]
        before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
        for path in everything:
            path.chmod(0o555)
        try:
            said = keeper.save(folder, 2)
        except (OSError, ValueError) as error:
            said = getattr(error, "strerror", None) or str(error)
        try:
            assert any(why in said for why in ("may not be written to", "Permission denied")) and len(said) < 300, said
            assert {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()} == before
            assert keeper.read(folder)[0] == 1
        finally:
            for path in everything:
                path.chmod(0o755)
            if os.getuid() == 0:
                os.seteuid(0)
    print(f"{name}: told “{said}”")


if __name__ == "__main__":
    os.environ.pop("STONEWORK_WORK", None)
    for each in KEEPERS:
        main(each)
