"""Let so many processes write one thing at once. ``test_faults.py`` runs it in a process.

By hand: ``.venv/bin/python tests/crowding.py 2 10 30``.
"""

from __future__ import annotations

import contextlib
import os
import sys
import tempfile
from fnmatch import fnmatch
from pathlib import Path

from keepers import KEEPERS, Keeper
from stonework.files import alone

_EACH = 3  # states that each of them writes


def main(name: str, writers: int) -> None:
    """Write from so many processes, and print that all of it was kept."""
    keeper = KEEPERS[name]
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch) / "work"
        folder.mkdir()
        gate, open_gate = os.pipe()
        children = []
        for writer in range(writers):
            if (child := os.fork()) == 0:
                os.close(open_gate)
                os.read(gate, 1)  # until the gate is shut behind the last
                os._exit(_write(keeper, folder, writer * _EACH))
            children.append(child)
        os.close(gate)
        os.close(open_gate)
        failed = [os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) for child in children]
        assert not any(failed), failed
        now, said = keeper.read(folder)
        assert (now, said) == (writers * _EACH, ""), (now, said)
        left = {path.name for path in folder.rglob("*")}
        assert all(any(fnmatch(one, known) for known in keeper.files) for one in left), left
    print(f"{name}: {writers} writers, {now} states, nothing lost")


def _write(keeper: Keeper, folder: Path, first: int) -> int:
    """Add what nobody else adds; or, where each state follows on the one before, keep others out between the two."""
    try:
        for n in range(first + 1, first + 1 + _EACH):
            with contextlib.nullcontext() if keeper.adds else alone(folder):
                said = keeper.save(folder, n if keeper.adds else keeper.read(folder)[0] + 1)
            if said:
                raise ValueError(said)
    except BaseException as error:
        print(repr(error), file=sys.stderr, flush=True)
        return 1
    return 0


if __name__ == "__main__":
    os.environ.pop("STONEWORK_WORK", None)
    for count in sys.argv[1:]:
        for each in KEEPERS:
            main(each, int(count))
