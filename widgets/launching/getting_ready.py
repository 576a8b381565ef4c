"""Get .venv ready: make it, and let pip put into it what the lock says; say in a sentence what went wrong."""

import hashlib
import importlib.util
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

from lock import entries_for

OLDEST_PYTHON, NEWEST_PYTHON = (3, 11), (3, 15)  # the lock has all that a lesson needs for these
WINDOWS = os.name == "nt"

WITH_WIDGETS = "requirements.txt"  # installs ./widgets
LESSON_REQUIREMENTS = [WITH_WIDGETS]
PLANNING_REQUIREMENTS = ["lessons/instructor/requirements.txt"]
TEST_REQUIREMENTS = [*LESSON_REQUIREMENTS, *PLANNING_REQUIREMENTS, "tests/requirements.txt"]
STAMP, WANTED, LOG = "workbook-stamp", "wanted.txt", "install.log"  # in .venv
UNFINISHED = "unfinished"  # the stamp while pip is at work: found at a start, .venv is made afresh

PIP_FAILED = "pip could not install what it needs (its own words are in {})"
FULL_DISK = re.compile(r"no space left|not enough space|quota exceeded", re.IGNORECASE)
OTHER_FILE = re.compile(r"do not match the hashes.*?^ +(\S+) from ", re.IGNORECASE | re.DOTALL | re.MULTILINE)
NO_NETWORK = re.compile(
    r"connection broken|connection error|connectionerror|failed to establish|timed out|connecttimeout"
    r"|getaddrinfo|name resolution|network is unreachable|proxyerror|could not fetch url",
    re.IGNORECASE,
)
NO_PACKAGE = re.compile(r"no matching distribution found for (\S+)", re.IGNORECASE)


class Stopped(Exception):
    """The workbook can't go on; the message is one sentence that says why and what to do."""


def check_python(version: "tuple[int, int]") -> None:
    """Stop if this Python is too old for the workbook."""
    if version < OLDEST_PYTHON:
        needed, found = (".".join(map(str, numbers)) for numbers in (OLDEST_PYTHON, version))
        raise Stopped(
            f"The workbook needs Python {needed} or newer and this is Python {found}: install a newer one "
            "from python.org or from your system's packages, and give the command again with that one."
        )


def prepare(root: Path, requirements: "list[str]") -> Path:
    """Make or mend .venv until it holds what the requirements files ask for; return its Python."""
    venv = root / ".venv"
    python = venv / ("Scripts/python.exe" if WINDOWS else "bin/python")
    stamp = venv / STAMP
    held = lines_of(stamp)
    version = working_version(python)
    usable = version is not None and version >= OLDEST_PYTHON and held != [UNFINISHED]
    if usable and set(fingerprints(root, requirements, version)) <= set(held):
        return python
    megabytes = 430 if requirements == LESSON_REQUIREMENTS else 1150
    print(f"Getting the workbook ready, this once: about a minute and {megabytes} MB of disk ...", flush=True)
    if not usable:
        make_environment(venv, megabytes)
        version, held = sys.version_info[:2], []
    stamp.write_text(UNFINISHED, encoding="utf-8")
    failure = install(root, python, requirements)
    if failure:
        # pip changes nothing before it has fetched everything: only a full disk stops it half-way.
        if not FULL_DISK.search(failure):
            stamp.write_text("\n".join(held), encoding="utf-8")
        raise Stopped(explain(failure, PIP_FAILED.format(venv / LOG)))
    note(stamp, held, fingerprints(root, requirements, version))
    return python


def fetch_for_planning(root: Path, python: Path) -> None:
    """Fetch what the page that plans a class needs, unless it's there; say so if it can't be fetched."""
    stamp = root / ".venv" / STAMP
    held, wanted = lines_of(stamp), fingerprints(root, PLANNING_REQUIREMENTS, working_version(python))
    if set(wanted) <= set(held):
        return
    print(
        "To plan a class, this page needs one part more than the lessons do: HiGHS, a free solver. "
        "Fetching it, this once: some seconds, 3 MB to fetch and 9 MB of disk ...",
        flush=True,
    )
    # A failure here spoils nothing that the lessons need, so the stamp never says "unfinished".
    failure = install(root, python, PLANNING_REQUIREMENTS)
    if failure:
        print(explain(failure, PIP_FAILED.format(stamp.with_name(LOG)), "The page opens without it"), file=sys.stderr)
    else:
        note(stamp, held, wanted)


def lines_of(stamp: Path) -> "list[str]":
    """Return what the stamp says .venv holds: a line for each requirements file."""
    return stamp.read_text(encoding="utf-8", errors="replace").splitlines() if stamp.is_file() else []


def note(stamp: Path, held: "list[str]", fetched: "list[str]") -> None:
    """Write into the stamp what was fetched, and what .venv held of other requirements files."""
    names = {line.partition(" ")[0] for line in fetched}
    others = [line for line in held if line.partition(" ")[0] not in names]
    stamp.write_text("\n".join(others + fetched), encoding="utf-8")


def working_version(python: Path) -> "tuple[int, ...] | None":
    """Return the version of an environment's Python, or None if it or its pip doesn't run."""
    ask = [str(python), "-c", "import sys, pip; print(*sys.version_info[:2])"]
    try:
        answer = subprocess.run(ask, capture_output=True)
    except OSError:
        return None
    return tuple(map(int, answer.stdout.split())) if answer.returncode == 0 else None


def fingerprints(root: Path, requirements: "list[str]", version: "tuple[int, ...]") -> "list[str]":
    """Return a line for each requirements file that changes when pip would have something new to do."""
    # The folder's place counts, because pip notes where ./widgets lies.
    # pip copies JupyterLab's settings and plug-in into .venv, so a change in them wants it again.
    widgets = root / "widgets"
    shared = [widgets / "pyproject.toml", *sorted((widgets / "settings").glob("*.json"))]
    shared += sorted(path for path in (widgets / "plugin").glob("**/*") if path.is_file())
    lines = []
    for name in requirements:
        digest = hashlib.sha256(f"{root} {version}".encode())
        for path in [root / name, *(shared if name == WITH_WIDGETS else [])]:
            digest.update(path.read_bytes())
        digest.update("".join(entries_for(root, [name])).encode())
        lines.append(f"{name} {digest.hexdigest()}")
    return lines


def make_environment(venv: Path, megabytes: int) -> None:
    """Make .venv afresh, whatever is there, if the disk has room for it."""
    if not all(map(importlib.util.find_spec, ["venv", "ensurepip"])):
        package = "python{}.{}-venv".format(*sys.version_info)
        raise Stopped(
            "This Python lacks its module venv: on Debian or Ubuntu run 'sudo apt install "
            f"{package}', elsewhere install Python from python.org, and give the command again."
        )
    free = shutil.disk_usage(str(venv.parent)).free // 1_000_000
    if free < megabytes and not venv.exists():  # what is there gives its room back
        raise Stopped(
            f"The disk is too full, with {free} MB free where {megabytes} MB are needed: "
            f"make room on the disk of {venv.parent}, then give the same command again."
        )
    command = [sys.executable, "-m", "venv", "--clear", str(venv)]
    made = subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    if made.returncode != 0:
        last_line = made.stdout.strip().rpartition("\n")[2]
        raise Stopped(explain(made.stdout, f"the folder {venv} could not be made ({last_line})"))


def install(root: Path, python: Path, requirements: "list[str]") -> str:
    """Let pip install what the lock says for the lists; return what it said if it failed. All it says goes to a log.

    Each file is refused if its contents aren't those that the lock names. None is built, since that fetches more. The
    workbook's own parts come last: they lie here, and have no fingerprint.
    """
    wanted, log = root / ".venv" / WANTED, root / ".venv" / LOG
    wanted.write_text("".join(entries_for(root, requirements)), encoding="utf-8")
    pip = [str(python), "-m", "pip", "install", "--no-input", "--disable-pip-version-check", "--no-deps"]
    commands = [[*pip, "--require-hashes", "--only-binary=:all:", "-r", str(wanted)]]
    if WITH_WIDGETS in requirements:
        commands.append([*pip, "--no-build-isolation", "-e", "./widgets"])
    with log.open("wb") as chatter:
        for command in commands:
            # pip looks for ./widgets from where it runs.
            done = subprocess.run(command, cwd=str(root), stdout=chatter, stderr=subprocess.STDOUT)
            if done.returncode != 0:
                break
    return log.read_text(encoding="utf-8", errors="replace") or "pip failed" if done.returncode != 0 else ""


def explain(said: str, otherwise: str, so: str = "The workbook isn't ready") -> str:
    """Turn what a failed step said into one sentence that says what to do."""
    if FULL_DISK.search(said):
        otherwise += ", because the disk is full: make room"
    elif OTHER_FILE.search(said):
        package = OTHER_FILE.search(said).group(1)
        otherwise += f", because what was fetched for {package} is not the file that the workbook was tested with, "
        otherwise += "and none of it was used: try another network, or fetch the workbook anew"
    elif NO_NETWORK.search(said):
        otherwise += ", because the network could not be reached: connect this machine"
    elif NO_PACKAGE.search(said):
        package = NO_PACKAGE.search(said).group(1)
        oldest, newest = (".".join(map(str, numbers)) for numbers in (OLDEST_PYTHON, NEWEST_PYTHON))
        otherwise += (
            f", because there is no {package} for this Python and machine: use a Python from {oldest} to {newest}"
        )
    else:
        otherwise += ": put that right"
    return f"{so}: {otherwise}, then give the same command again."
