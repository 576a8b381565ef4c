"""Save where one may not write, as somebody who isn't root. ``test_faults.py`` runs it in a process.

By hand: ``.venv/bin/python tests/locking_out.py``.
"""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from keepers import KEEPERS, Keeper

_NOBODY = 65534


def main(name: str) -> None:
    """Save once while one may, then forbid it, save again as somebody else, and print what was said."""
    keeper = KEEPERS[name]
    with tempfile.TemporaryDirectory() as scratch:
        os.chmod(scratch, 0o755)
        folder = Path(scratch) / "work"
        folder.mkdir()
        assert keeper.save(folder, 1) == ""
        inside = [folder, *folder.rglob("*")]
        for path in inside:
            path.chmod(0o555 if path.is_dir() else 0o444)
        if (child := os.fork()) == 0:
            failed = True
            try:
                failed = _forbidden(keeper, folder, name)
            finally:
                os._exit(failed)
        failed = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
        for path in inside:
            path.chmod(0o755)
    assert not failed


def _forbidden(keeper: Keeper, folder: Path, name: str) -> int:
    if os.geteuid() == 0:  # whom nothing is forbidden
        os.setresuid(_NOBODY, _NOBODY, _NOBODY)
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    try:
        said = keeper.save(folder, 2)
    except (OSError, ValueError) as error:
        said = getattr(error, "strerror", None) or str(error)
    after = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    print(f"{name}: told “{said}”", flush=True)
    return not ("may not be written to" in said and len(said) < 300 and before == after and keeper.read(folder)[0] == 1)


if __name__ == "__main__":
    os.environ.pop("STONEWORK_WORK", None)
    for each in KEEPERS:
        main(each)
