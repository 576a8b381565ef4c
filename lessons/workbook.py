"""Open the workbook in the browser, or run its tests.

    python3 lessons/workbook.py open               the first lesson
    python3 lessons/workbook.py open 5             a lesson by its number, or by words of its name
    python3 lessons/workbook.py open instructor    the instructor's pages
    python3 lessons/workbook.py renew 5            a page that was changed, as shipped again
    python3 lessons/workbook.py test               every test
    python3 lessons/workbook.py test -k units      some of them: what follows goes to pytest

The first run makes the folder .venv beside README.md and fetches what the workbook needs into it; later runs
find it there and start at once. Only the page that plans a class fetches something more, when it is first opened.
Options after "open", such as --no-browser, go to JupyterLab.

Only the standard library is used here and in widgets/launching, whose parts this puts together. The files stay
readable for Python 3.6, so that someone with an old Python is told so in words.
"""

import os
import re
import subprocess
import sys
from pathlib import Path
from urllib.parse import quote

sys.path.append(str(Path(__file__).resolve().parent.parent / "widgets" / "launching"))
from getting_ready import (
    LESSON_REQUIREMENTS,
    TEST_REQUIREMENTS,
    WINDOWS,
    Stopped,
    check_python,
    explain,
    fetch_for_planning,
    prepare,
)
from shipped import INSTRUCTOR, RUN, bring_back, copies, pages_in

ROOT = Path(__file__).resolve().parent.parent
PARTS = ROOT / "widgets" / "launching"
PLANNING = "plan-a-class"  # the page that fetches something of its own

# Run by the Python of .venv, which has what signs a page. It shares JupyterLab's process, as what both import takes
# over a second.
SIGN_AND_OPEN = f"import sys; sys.path.append({str(PARTS)!r}); import opening; sys.exit(opening.main())"

# A file's tests share a server or a class, so they stay together; and the fast files still come first. More at once
# would make a small machine's browser slower than a journey waits.
TWO_AT_A_TIME = ["--numprocesses=logical", "--maxprocesses=2", "--dist=loadfile", "--no-loadscope-reorder"]


def main(arguments: "list[str]", root: Path = ROOT) -> int:
    """Do what the command line asks. Return the exit status, unless JupyterLab or pytest takes over."""
    command, rest = (arguments[0], arguments[1:]) if arguments else ("", [])
    try:
        check_python(sys.version_info[:2])
        if command == "open":
            return open_lesson(root, rest)
        if command == "renew":
            return renew(root, rest)
        if command == "test":
            return run_tests(root, rest)
        said = f"'{command}' is not something this can do" if command else "Say what to do"
        raise Stopped(
            f"{said}: '{RUN} open' opens the first lesson, '{RUN} renew 5' brings a changed one back as shipped, "
            f"'{RUN} test' runs the tests."
        )
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


def renew(root: Path, arguments: "list[str]") -> int:
    """Lay a page out as shipped, and keep what is there now beside it."""
    lessons = root / "lessons"
    if not arguments:
        raise Stopped(f"Say which page to bring back as shipped, by its number or name: '{RUN} renew 5'.")
    page = find_page([lessons / name for name in copies()], arguments[0])
    aside = bring_back(page, page.relative_to(lessons).as_posix())
    kept = f"; what was there is now {aside.name}, beside it" if aside else ""
    print(f"{page.stem} is as shipped{kept}. '{RUN} open {page.stem}' opens it.")
    return 0


def run_tests(root: Path, arguments: "list[str]") -> int:
    """Run every test, two files at a time, or those that the arguments for pytest pick out."""
    python = prepare(root, TEST_REQUIREMENTS)
    os.chdir(str(root))
    return hand_over([str(python), "-m", "pytest", "-c", ".pytest.ini", *(arguments or TWO_AT_A_TIME)])


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
