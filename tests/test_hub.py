"""A class on one server: a real JupyterHub on this machine, ten made-up students at once, and their instructor.

The hub has the configuration that tests/hub/jupyterhub_config.py offers an administrator, with other accounts. It is
reached as a browser reaches it: by its login page, through its proxy, and over a kernel's websocket.
"""

from __future__ import annotations

import json
import os
import shutil
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from stat import S_IMODE

import pytest
from hub import rehearsal
from hub.student import lay_out
from hub.visitor import Visitor
from lab import BEGIN, start

pytest_plugins = ["lab"]

if rehearsal.missing() and not os.environ.get("CI"):
    pytest.skip(rehearsal.missing(), allow_module_level=True)

NAMES = ("ana", "bea", "cem", "dov", "eli", "fia", "gus", "hal", "ida", "jon")
INSTRUCTOR = "instructor"
SHOP, JOBS = "breakwater.shop.toml", "breakwater.jobs.toml"
LESSON = "lessons/01-measure-the-form.ipynb"
ASKED = ("depth-of-a-page", "page-with-a-cut", "error-of-the-chase")

ANSWER = """
def walk(widget):
    yield widget
    for child in getattr(widget, "children", ()):
        yield from walk(child)

panel = _
next(one for one in walk(panel) if type(one).__name__ == "Text").value = {text!r}
next(one for one in walk(panel) if getattr(one, "description", "") == "Check").click()
"""
WHO = """
import json, os
from ipykernel.connect import get_connection_info
spoken_to_by = json.loads(get_connection_info())["transport"]
print(json.dumps([os.getpid(), os.getppid(), os.environ["JUPYTERHUB_USER"], spoken_to_by]))
"""


@dataclass
class School:
    """The hub of an evening: its address, its folder, and who came."""

    address: str
    place: Path
    students: list[Visitor]
    processes: list[tuple[int, int, str, str]]


def own_answer(name: str, question: str) -> str:
    """Return a length that nobody else gives to this question."""
    return f"{10 + NAMES.index(name)} picas {ASKED.index(question)} pt"


def evening(student: Visitor) -> tuple[int, int, str, str]:
    """Run a lesson and answer three of its questions; return what its kernel says of itself."""
    for cell in student.open(LESSON):
        student.run(cell)
        for question in ASKED:
            if question in cell:
                student.run(ANSWER.format(text=own_answer(student.name, question)))
    return tuple(json.loads(student.run(WHO)))


@pytest.fixture(scope="module")
def school(tmp_path_factory):
    place = tmp_path_factory.mktemp("hub")
    with rehearsal.hub(place, [*NAMES, INSTRUCTOR]) as (address, _), ThreadPoolExecutor(len(NAMES)) as pool:
        students = [Visitor(address, name) for name in NAMES]
        try:
            list(pool.map(Visitor.come_in, students))  # so that all have come before anyone answers
            yield School(address, place, students, list(pool.map(evening, students)))
        finally:
            for student in students:
                student.leave()


def test_each_student_has_a_folder_of_their_own_and_no_answer_is_lost(school):
    sheets = {
        json.loads(card.read_text())["name"]: json.loads((card.parent / "answers.json").read_text())["answers"]
        for card in school.place.glob("work/*/person.json")
    }
    kept = {name: {asked: sheet[asked]["answer"] for asked in sheet} for name, sheet in sheets.items()}
    assert kept == {name: {question: own_answer(name, question) for question in ASKED} for name in NAMES}


def test_what_is_kept_is_open_to_the_class_and_to_nobody_else(school):
    kept = [*school.place.glob("work/*"), *school.place.glob("work/*/*.json")]
    modes = {S_IMODE(path.stat().st_mode) for path in kept if not path.name.startswith(".")}
    assert modes == {0o770, 0o660}


def test_each_student_s_kernel_is_a_process_of_a_server_of_their_own(school):
    kernels, servers, names, ways = zip(*school.processes, strict=True)
    assert len(set(kernels)) == len(set(servers)) == len(NAMES) and names == NAMES
    assert set(ways) == {"ipc"}  # by no port, where others could listen


def test_nobody_gets_into_another_s_server(school):
    for student, other in zip(school.students, (*NAMES[1:], NAMES[0]), strict=True):
        assert student.ask(f"/user/{student.name}/api/kernels").status_code == 200
        assert student.ask(f"/user/{other}/api/kernels").status_code == 403
        pages = [student.browser.get(f"{school.address}/user/{name}/lab") for name in (student.name, other)]
        assert [page.status_code for page in pages] == [200, 403]


def test_pages_are_as_shipped_at_every_start_and_what_a_student_wrote_stays(tmp_path):
    school, home = tmp_path / "school", tmp_path / "home"
    shutil.copytree(rehearsal.ROOT / "lessons", school / "lessons", ignore=shutil.ignore_patterns("work"))
    lay_out(school, home, teaches=False)
    page, shop, jobs = (home / "lessons" / name for name in (Path(LESSON).name, SHOP, JOBS))
    for file in (page, shop, jobs):
        file.write_text("mine")
    lay_out(school, home, teaches=False)
    assert page.read_bytes() == (school / LESSON).read_bytes()
    assert shop.read_bytes() == (school / "lessons" / SHOP).read_bytes()
    assert jobs.read_text() == "mine"
    jobs.unlink()
    lay_out(school, home, teaches=False)
    (school / "lessons" / JOBS).write_text("the instructor's next jobs")
    lay_out(school, home, teaches=False)
    assert jobs.read_text() == "the instructor's next jobs"
    assert not (home / "lessons" / "instructor").exists()


@pytest.mark.browser
def test_the_instructor_comes_in_and_lesson_0_starts_by_itself(school, browser):
    with browser.new_page(viewport={"width": 1400, "height": 1000}) as page:
        page.goto(school.address)
        page.get_by_label("Username").fill(INSTRUCTOR)
        page.get_by_label("Password").fill("anything")
        page.get_by_role("button", name="Sign in").click()
        start(page, BEGIN)
    taught = school.place.glob("homes/*/stonework/lessons/instructor/*.ipynb")
    assert {page.relative_to(school.place).parts[1] for page in taught} == {INSTRUCTOR}
