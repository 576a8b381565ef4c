"""Kill a writer over and over, and look each time at what it left behind. ``test_faults.py`` runs it in a process.

    .venv/bin/python tests/killing.py 200      for each keeper: how often it was killed, how many saves it finished

The first kills come one at each step that a save takes in the file system, the others at any moment. SIGKILL can't be
caught: it is to a process what a power cut is to a machine, except that what was written to the disk's cache stays.
"""

from __future__ import annotations

import os
import random
import shutil
import signal
import sys
import tempfile
import time
from fnmatch import fnmatch
from pathlib import Path

from keepers import KEEPERS, Keeper

_STEPS = {"open", "os.rename", "os.remove", "os.mkdir", "os.chmod", "shutil.move"}
_AFRESH = 10  # states after which a folder begins anew, as a file of jobs would grow too long


def killed(keeper: Keeper, folder: Path, at: int | float) -> tuple[int, bool]:
    """Let a process of its own save one state after another until it is killed.

    A whole number is the step of its first save at which it kills itself; any other the seconds after its first save.
    Returns how many saves it had finished, and whether it was killed at all.
    """
    first = keeper.read(folder)[0] + 1
    heard, told = os.pipe()
    child = os.fork()
    if child == 0:
        _write_on(keeper, folder, first, told, at if isinstance(at, int) else 0)
    os.close(told)
    done = b""
    if isinstance(at, float):
        done = os.read(heard, 1)
        time.sleep(at)
        os.kill(child, signal.SIGKILL)
    with open(heard, "rb") as pipe:
        done += pipe.read()
    _, status = os.waitpid(child, 0)
    assert b"!" not in done, f"a save failed: {done!r}"
    return len(done), os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGKILL


def _write_on(keeper: Keeper, folder: Path, first: int, told: int, step: int) -> None:
    """Save until killed, and tell of each save; with a step, kill oneself there or end after one save."""
    steps = 0

    def count(event: str, _arguments: object) -> None:
        nonlocal steps
        if event not in _STEPS:
            return
        steps += 1
        if steps == step:
            os.kill(os.getpid(), signal.SIGKILL)

    sys.addaudithook(count)
    try:
        for n in range(first, first + _AFRESH):
            complaint = keeper.save(folder, n)
            os.write(told, b"!" + complaint.encode() if complaint else b".")
            if step:
                break
    except BaseException as error:
        os.write(told, f"!{error!r}".encode())
    os._exit(0)


def look_after(keeper: Keeper, folder: Path, before: int, saved: int) -> int:
    """Return which state lies there now; fail if one that was saved is lost, half-written, or left rubbish."""
    now, said = keeper.read(folder)
    assert said == "", said
    assert before + saved <= now <= before + saved + 1, f"{saved} were saved after {before}, and {now} is there"
    for path in folder.rglob("*"):
        assert any(fnmatch(path.name, name) for name in keeper.files), f"{path} was left"
    assert sum(1 for path in folder.rglob(".stonework.part")) <= 2  # one a folder, written over the next time
    return now


def main(name: str, kills: int) -> None:
    """Kill a keeper so often, and print what came of it."""
    keeper, chance = KEEPERS[name], random.Random(15)
    with tempfile.TemporaryDirectory() as scratch:
        folder, n, saves, done, step = Path(scratch) / "work", 0, 0, 0, 1
        folder.mkdir()
        while done < kills:
            if n > _AFRESH:
                shutil.rmtree(folder)
                folder.mkdir()
                n = 0
            at = step if step else chance.uniform(0, 0.006)
            saved, was_killed = killed(keeper, folder, at)
            n = look_after(keeper, folder, n, saved)
            saves, done = saves + saved, done + was_killed
            if step and not was_killed:
                print(f"{name}: killed at each of {step - 1} steps", flush=True)
            step = step + 1 if step and was_killed else 0
    print(f"{name}: killed {done} times, {saves} saves finished, nothing lost")


if __name__ == "__main__":
    os.environ.pop("STONEWORK_WORK", None)
    for each in KEEPERS:
        main(each, int(sys.argv[1]))
