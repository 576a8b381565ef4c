"""Make the lock anew, show what moved, and run everything; where that fails, put the lock back.

    python3 tests/move_the_lock.py                  what the lists name stays; what they pull in moves to its newest
    python3 tests/move_the_lock.py --keep           only what a changed list asks for moves
    python3 tests/move_the_lock.py -- -k units      what follows -- goes to the tests, in place of everything

To move what a list names, change its pin there first. uv makes the lock, for every system at once and for Python 3.11
and newer; then it is asked for which systems and Pythons the lock has everything, and that is printed.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from itertools import product
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "widgets" / "launching"))
from getting_ready import LESSON_REQUIREMENTS, OLDEST_PYTHON, PLANNING_REQUIREMENTS, TEST_REQUIREMENTS, install, prepare
from lock import LOCK, entries

ROOT = Path(__file__).resolve().parent.parent
READERS = [*LESSON_REQUIREMENTS, *PLANNING_REQUIREMENTS]
MOVERS = "tests/ground/requirements.txt"
# No Python is fetched to ask about it: it is told by its number.
HOW = ["--quiet", "--no-python-downloads", "--only-binary=:all:", "--no-emit-package=stonework"]
LOCKING = ["--universal", "--generate-hashes", "--custom-compile-command=python3 tests/move_the_lock.py"]
PYTHONS = ("3.11", "3.12", "3.13", "3.14", "3.15", "3.16")
SYSTEMS = {
    "Linux": "x86_64-unknown-linux-gnu",
    "Linux on ARM": "aarch64-unknown-linux-gnu",
    "macOS": "aarch64-apple-darwin",
    "macOS on Intel": "x86_64-apple-darwin",
    "Windows": "x86_64-pc-windows-msvc",
    "Windows on ARM": "aarch64-pc-windows-msvc",
}


def resolve(python: Path, *arguments: str) -> subprocess.CompletedProcess:
    """Let uv make or try a lock."""
    command = [str(python), "-m", "uv", "pip", "compile", *HOW, *arguments]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True)


def versions() -> dict[str, str]:
    """Return the lock's versions by the packages' names, with the systems and Pythons that each is for."""
    found: dict[str, list[str]] = {}
    for entry in entries(ROOT):
        name, _, version = entry.partition("\n")[0].rstrip("\\ ").partition("==")
        found.setdefault(name, []).append(version)
    return {name: ", ".join(several) for name, several in found.items()}


def moved(before: dict[str, str], after: dict[str, str]) -> list[str]:
    """Return a line for each package that is new, gone, or at another version."""
    names = sorted(before.keys() | after.keys())
    return [
        f"  {name}: {before.get(name, 'not there')} -> {after.get(name, 'gone')}"
        for name in names
        if before.get(name) != after.get(name)
    ]


def table(python: Path) -> str:
    """Return for which systems and Pythons the lock has everything: for the lessons, and for the tests too."""

    def answer(place: tuple[str, str]) -> str:
        asked = [f"--python-platform={place[0]}", f"--python-version={place[1]}", f"--constraint={LOCK}"]
        if resolve(python, *asked, *READERS).returncode != 0:
            return "-"
        return "lessons" if resolve(python, *asked, *TEST_REQUIREMENTS).returncode != 0 else "all"

    with ThreadPoolExecutor(8) as pool:  # they wait for the registry most of the time
        answers = iter([*pool.map(answer, product(SYSTEMS.values(), PYTHONS))])
    lines = [f"{'':16}" + "".join(f"{version:>8}" for version in PYTHONS)]
    lines += [f"{system:16}" + "".join(f"{next(answers):>8}" for _ in PYTHONS) for system in SYSTEMS]
    return "\n".join(lines)


def main() -> int:
    """Move the lock; return the tests' exit status."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--keep", action="store_true", help="leave at its version whatever may stay")
    parser.add_argument("arguments", nargs="*", help="for the tests")
    given = parser.parse_args()
    lock, well = ROOT / LOCK, False
    old = lock.read_bytes()
    try:
        well = move(upgrade=not given.keep) and tested(given.arguments)
    finally:
        if not well:
            lock.write_bytes(old)
            print("The lock is as it was, and the launcher's next command brings .venv back to it.", file=sys.stderr)
    return int(not well)


def move(*, upgrade: bool) -> bool:
    """Make the lock anew, and show what moved and for what it has everything; say if it could be made."""
    before, python = versions(), prepare(ROOT, TEST_REQUIREMENTS)
    failure = install(ROOT, python, [MOVERS])
    if not failure:
        oldest = f"--python-version={'.'.join(map(str, OLDEST_PYTHON))}"
        asked = [*LOCKING, oldest, *(["--upgrade"] if upgrade else []), f"--output-file={LOCK}"]
        failure = resolve(python, *asked, *TEST_REQUIREMENTS, MOVERS).stderr
    if failure:
        print(f"No lock could be made:\n{failure}", file=sys.stderr)
        return False
    print("\n".join(["What moved:", *(moved(before, versions()) or ["  nothing"])]), flush=True)
    print(f"For which systems and Pythons it has everything:\n{table(python)}", flush=True)
    return True


def tested(arguments: list[str]) -> bool:
    """Run the tests by the README's command."""
    return subprocess.run([sys.executable, "lessons/workbook.py", "test", *arguments], cwd=ROOT).returncode == 0


if __name__ == "__main__":
    sys.exit(main())
