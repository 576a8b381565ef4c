"""Open the workbook in the browser, or run its tests.

    python3 lessons/workbook.py open               the first lesson
    python3 lessons/workbook.py open 5             a lesson by its number, or by words of its name
    python3 lessons/workbook.py open instructor    the instructor's pages
    python3 lessons/workbook.py test               every test
    python3 lessons/workbook.py test -k units      some of them: what follows goes to pytest

The first run makes the folder .venv beside README.md and fetches what the workbook needs into it; later runs
find it there and start at once. Only the page that plans a class fetches something more, when it is first opened.
Options after "open", such as --no-browser, go to JupyterLab.

Only the standard library is used here, and the file stays readable for Python 3.6, so that someone with an
old Python is told so in words.
"""

import hashlib
import importlib.util
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from urllib.parse import quote

ROOT = Path(__file__).resolve().parent.parent
OLDEST_PYTHON = (3, 11)
WINDOWS = os.name == "nt"
RUN = "py lessons\\workbook.py" if WINDOWS else "python3 lessons/workbook.py"

INSTRUCTOR = "instructor"  # the folder of the instructor's pages, in lessons/
INDEX = "lesson-plans"  # the page there that lists the others
PLANNING = "plan-a-class"  # the page there that fetches something of its own
WITH_WIDGETS = "requirements.txt"  # installs ./widgets
LESSON_REQUIREMENTS = [WITH_WIDGETS]
PLANNING_REQUIREMENTS = ["lessons/instructor/requirements.txt"]
TEST_REQUIREMENTS = [*LESSON_REQUIREMENTS, *PLANNING_REQUIREMENTS, "tests/requirements.txt"]
STAMP, LOG = "workbook-stamp", "install.log"  # in .venv
UNFINISHED = "unfinished"  # the stamp while pip is at work: found at a start, .venv is made afresh

PIP_FAILED = "pip could not install what it needs (its own words are in {})"
FULL_DISK = re.compile(r"no space left|not enough space|quota exceeded", re.IGNORECASE)
NO_NETWORK = re.compile(
    r"connection broken|connection error|connectionerror|failed to establish|timed out|connecttimeout"
    r"|getaddrinfo|name resolution|network is unreachable|proxyerror|could not fetch url",
    re.IGNORECASE,
)
NO_PACKAGE = re.compile(r"no matching distribution found for (\S+)", re.IGNORECASE)

# Run by the Python of .venv. A signed page is trusted: its Start button runs it without a question. A live
# view that was saved would open as an error, so it is taken out first. Both share JupyterLab's process, as what
# they import takes over a second. JupyterLab itself reports an unreadable lesson.
SIGN_AND_OPEN = """
import contextlib, pathlib, sys
import nbformat, nbformat.sign
from jupyterlab.labapp import main
VIEW = "application/vnd.jupyter.widget-view+json"
notary = nbformat.sign.NotebookNotary()
lessons = pathlib.Path(sys.argv.pop(1))
for path in [*lessons.glob("[0-9]*.ipynb"), lessons / "bench.ipynb", *lessons.glob("instructor/*.ipynb")]:
    with contextlib.suppress(Exception):
        lesson = nbformat.read(path, as_version=4)
        outputs = [output for cell in lesson.cells for output in cell.get("outputs", [])]
        if [1 for output in outputs if output.get("data", {}).pop(VIEW, None)]:
            nbformat.write(lesson, path)
        notary.sign(lesson)
sys.exit(main())
"""


class Stopped(Exception):
    """The workbook can't go on; the message is one sentence that says why and what to do."""


def main(arguments: "list[str]", root: Path = ROOT) -> int:
    """Do what the command line asks. Return the exit status, unless JupyterLab or pytest takes over."""
    command, rest = (arguments[0], arguments[1:]) if arguments else ("", [])
    try:
        check_python(sys.version_info[:2])
        if command == "open":
            return open_lesson(root, rest)
        if command == "test":
            return run_tests(root, rest)
        said = f"'{command}' is not something this can do" if command else "Say what to do"
        raise Stopped(f"{said}: '{RUN} open' opens the first lesson, '{RUN} test' runs the tests.")
    except Stopped as stopped:
        sentence = str(stopped)
    except OSError as error:
        sentence = explain(str(error), f"the folder {root} could not be read or written ({error})")
    except KeyboardInterrupt:
        sentence = "Stopped before the workbook was ready: give the same command again to start afresh."
    print(sentence, file=sys.stderr)
    return 1


def open_lesson(root: Path, arguments: "list[str]") -> int:
    """Open one page in JupyterLab: the first lesson, or the page that the first argument names."""
    lessons = root / "lessons"
    named = bool(arguments) and not arguments[0].startswith("-")
    page = find_page(pages_in(lessons), arguments[0] if named else "")
    python = prepare(root, LESSON_REQUIREMENTS)
    if page.stem == PLANNING:
        fetch_for_planning(root, python)
    print(f"Opening {page.stem} in your browser. To stop, press Control-C here twice.")
    # The root is served, not lessons/, so that a lesson can show ../images/.
    options = [
        "--ServerApp.ip=127.0.0.1",
        f"--ServerApp.root_dir={root}",
        f"--LabApp.default_url=/doc/tree/{quote(page.relative_to(root).as_posix())}",
        "--log-level=WARN",
    ]
    if not WINDOWS and os.geteuid() == 0:
        options.append("--allow-root")
    return hand_over([str(python), "-c", SIGN_AND_OPEN, str(lessons), *options, *arguments[named:]])


def run_tests(root: Path, arguments: "list[str]") -> int:
    """Run every test, or those that the arguments for pytest pick out."""
    python = prepare(root, TEST_REQUIREMENTS)
    os.chdir(str(root))
    return hand_over([str(python), "-m", "pytest", "-c", ".pytest.ini", *arguments])


def check_python(version: "tuple[int, int]") -> None:
    """Stop if this Python is too old for the workbook."""
    if version < OLDEST_PYTHON:
        needed, found = (".".join(map(str, numbers)) for numbers in (OLDEST_PYTHON, version))
        raise Stopped(
            f"The workbook needs Python {needed} or newer and this is Python {found}: install a newer one "
            "from python.org or from your system's packages, and give the command again with that one."
        )


def pages_in(lessons: Path) -> "list[Path]":
    """Return the lessons in their order, the bench, and the instructor's pages, their index first."""
    numbered = sorted(lessons.glob("[0-9]*.ipynb"), key=lambda path: path.stem)
    instructors = sorted((lessons / INSTRUCTOR).glob("*.ipynb"), key=lambda path: (path.stem != INDEX, path.stem))
    return [*numbered, *lessons.glob("bench.ipynb"), *instructors]


def find_page(pages: "list[Path]", wanted: str) -> Path:
    """Return the page with the wanted number or words in its name; the first one if nothing is wanted."""
    if not pages:
        raise Stopped("There are no lessons beside workbook.py: fetch the whole workbook again.")
    words = Path(wanted).stem
    if wanted.isdecimal():
        numbers = [(re.match(r"\d*", page.name).group(), page) for page in pages]
        found = [page for number, page in numbers if number and int(number) == int(wanted)]
    elif words == INSTRUCTOR:
        found = [page for page in pages if page.parent.name == INSTRUCTOR]
    else:  # a name that begins so comes first: "plan" is plan-a-class, not lesson-plans
        found = [page for page in pages if words in page.stem]
        found.sort(key=lambda page: not page.stem.startswith(words))
    if found:
        return found[0]
    names = ", ".join(page.stem for page in pages)
    raise Stopped(f"No page is called '{wanted}': open one of these by its number or name: {names}.")


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
    megabytes = 430 if requirements == LESSON_REQUIREMENTS else 950
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
    """Let pip install the requirements files; return what it said if it failed. All it says goes to a log in .venv."""
    command = [str(python), "-m", "pip", "install", "--no-input", "--disable-pip-version-check"]
    for name in requirements:
        command += ["-r", name]
    log = root / ".venv" / LOG
    with log.open("wb") as chatter:
        # pip looks for ./widgets from where it runs.
        done = subprocess.run(command, cwd=str(root), stdout=chatter, stderr=subprocess.STDOUT)
    return log.read_text(encoding="utf-8", errors="replace") or "pip failed" if done.returncode != 0 else ""


def explain(said: str, otherwise: str, so: str = "The workbook isn't ready") -> str:
    """Turn what a failed step said into one sentence that says what to do."""
    if FULL_DISK.search(said):
        otherwise += ", because the disk is full: make room"
    elif NO_NETWORK.search(said):
        otherwise += ", because the network could not be reached: connect this machine"
    elif NO_PACKAGE.search(said):
        package = NO_PACKAGE.search(said).group(1)
        otherwise += f", because there is no {package} for this Python and machine: use another Python"
    else:
        otherwise += ": put that right"
    return f"{so}: {otherwise}, then give the same command again."


def hand_over(command: "list[str]") -> int:
    """Let the command take this process's place; on Windows, wait for it and return its exit status."""
    sys.stdout.flush()
    if not WINDOWS:
        os.execv(command[0], command)
    child = subprocess.Popen(command)
    while True:
        try:
            return child.wait()
        except KeyboardInterrupt:  # the command hears Control-C as well, and decides what it means
            continue


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
