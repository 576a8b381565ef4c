"""What the launcher signs: pages as shipped, and no others; and how a changed one is brought back."""

import copy
import json
import shutil
import subprocess
import sys
import types
import zipfile

import nbformat
import pytest
from launcher import opening, sentence, shipped, workbook
from nbformat.sign import NotebookNotary
from save_lessons import COPIES, LESSONS, PAGES, ROOT, keep_copies, names

pytest_plugins = ["launcher"]

LESSON, KEY = "03-choose-furniture-and-reglet.ipynb", "instructor/answer-key.ipynb"
VIEW = {"model_id": "gone", "version_major": 2, "version_minor": 0}


@pytest.fixture
def lessons(tmp_path, monkeypatch):
    """A lesson and a page for the instructor as shipped, and nothing trusted yet."""
    monkeypatch.setenv("JUPYTER_DATA_DIR", str(tmp_path / "data"))
    for name in (LESSON, KEY):
        (tmp_path / "lessons" / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "lessons" / name).write_bytes((LESSONS / name).read_bytes())
    return tmp_path / "lessons"


def change(page, how):
    """Save a page with something done to it."""
    notebook = nbformat.read(page, as_version=4)
    how(notebook)
    nbformat.write(notebook, page)
    return notebook


def trusted(page):
    with NotebookNotary() as notary:
        return notary.check_signature(nbformat.read(page, as_version=4))


def sign(notebook):
    """Sign as JupyterLab does for whoever ran a page on this machine."""
    with NotebookNotary() as notary:
        notary.sign(notebook)


def code(notebook):
    return [cell for cell in notebook.cells if cell.cell_type == "code"]


def show(notebook, data):
    code(notebook)[-1].outputs = [nbformat.v4.new_output("display_data", data=data)]


CHANGES = {
    "words": lambda notebook: notebook.cells[0].update(source=notebook.cells[0].source + "\n<script>ran()</script>"),
    "code": lambda notebook: code(notebook)[0].update(source=code(notebook)[0].source + "\nran()"),
    "one cell more": lambda notebook: notebook.cells.append(nbformat.v4.new_code_cell("ran()")),
    "words made code": lambda notebook: notebook.cells[0].update(cell_type="code", outputs=[], execution_count=None),
    "a page in an output": lambda notebook: show(notebook, {"text/html": "<script>ran()</script>"}),
    "a script in an output": lambda notebook: show(notebook, {"text/plain": "", "application/javascript": "ran()"}),
}


def test_the_command_signs_pages_as_shipped_and_hands_over_to_jupyterlab(lessons, monkeypatch, capsys):
    opened = []
    stand_in = types.SimpleNamespace(main=lambda: opened.append(sys.argv[1:]))
    monkeypatch.setitem(sys.modules, "jupyterlab.labapp", stand_in)
    monkeypatch.setattr(sys, "argv", ["-c", str(lessons), "--no-browser"])
    with pytest.raises(SystemExit):
        exec(workbook.SIGN_AND_OPEN, {})
    assert trusted(lessons / LESSON) and trusted(lessons / KEY)
    assert opened == [["--no-browser"]]
    assert capsys.readouterr() == ("", "")


@pytest.mark.parametrize("how", CHANGES)
def test_a_changed_page_loses_its_trust_and_is_left_as_it_is(lessons, how):
    changed = change(lessons / LESSON, CHANGES[how])
    sign(changed)
    before = (lessons / LESSON).read_bytes()
    assert opening.trust(shipped.pages_in(lessons)) == [lessons / LESSON]
    assert not trusted(lessons / LESSON) and trusted(lessons / KEY)
    assert (lessons / LESSON).read_bytes() == before


def test_a_page_that_was_only_run_and_saved_is_trusted_on_any_machine_and_opens_without_its_dead_views(lessons):
    def ran(notebook):
        for number, cell in enumerate(code(notebook), 7):
            cell.execution_count, cell.metadata["execution"] = number, {"iopub.status.idle": "2026-11-26T19:00:00Z"}
        code(notebook)[-1].outputs = [
            nbformat.v4.new_output("stream", text="what it printed this time"),
            nbformat.v4.new_output("display_data", data={"text/plain": "<a panel>", shipped.LIVE_VIEW: VIEW}),
        ]
        notebook.metadata["widgets"] = {"application/vnd.jupyter.widget-state+json": {"state": {"gone": {}}}}
        notebook.metadata["language_info"] = {"name": "python", "version": "3.15.0"}

    change(lessons / LESSON, ran)
    assert opening.trust(shipped.pages_in(lessons)) == []
    assert trusted(lessons / LESSON)
    saved = (lessons / LESSON).read_text(encoding="utf-8")
    assert shipped.LIVE_VIEW not in saved and "widget-state" not in saved and "what it printed this time" in saved


def test_an_unreadable_page_is_passed_over_and_told(lessons):
    (lessons / LESSON).write_text("{")
    assert opening.trust(shipped.pages_in(lessons)) == [lessons / LESSON]
    assert trusted(lessons / KEY)


def test_of_changed_pages_is_said_which_and_the_way_back():
    one = opening.said_of([LESSONS / LESSON])
    assert one.startswith("03-choose-furniture-and-reglet is not as shipped") and one.count("\n") == 1
    assert "workbook.py renew 03-choose-furniture-and-reglet'" in one
    assert "03-choose-furniture-and-reglet, answer-key are not" in opening.said_of([LESSONS / LESSON, LESSONS / KEY])


def test_the_copies_are_the_pages_as_they_stand_and_are_written_alike_each_time(tmp_path, monkeypatch):
    with zipfile.ZipFile(COPIES) as kept:
        assert {name: kept.read(name) for name in kept.namelist()} == {
            name: (LESSONS / name).read_bytes() for name in names()
        }, "run tests/save_lessons.py"
    monkeypatch.setattr("save_lessons.COPIES", tmp_path / "pages.zip")
    keep_copies()
    written = (tmp_path / "pages.zip").read_bytes()
    keep_copies()
    assert (tmp_path / "pages.zip").read_bytes() == written
    assert len(names()) == len(PAGES)


# --- the way back


def test_a_changed_page_comes_back_as_shipped_and_what_was_there_is_kept(root, capsys):
    page = root / "lessons" / LESSON
    for number, mine in enumerate(["my own words", "and others"], 1):
        page.write_text(mine)
        assert workbook.main(["renew", "3"], root) == 0
        aside = page.with_name(f"changed {page.stem}{f' ({number})' if number > 1 else ''}.ipynb")
        assert aside.read_text() == mine and aside.name in capsys.readouterr().out
        assert page.read_bytes() == (LESSONS / LESSON).read_bytes()
    assert [one for one in shipped.pages_in(root / "lessons") if "changed" in one.name] == []


@pytest.mark.parametrize("there", [True, False])
def test_a_page_as_shipped_or_lost_is_brought_back_without_a_copy(there, root, capsys):
    page = root / "lessons" / KEY
    page.unlink()
    if there:  # as git lays it out under Windows
        page.write_bytes((LESSONS / KEY).read_bytes().replace(b"\n", b"\r\n"))
    assert workbook.main(["renew", "key"], root) == 0
    assert json.loads(page.read_text()) == json.loads((LESSONS / KEY).read_text())
    assert "what was there" not in capsys.readouterr().out
    assert not [*page.parent.glob("changed *")]


def test_it_works_from_a_folder_with_an_odd_name(tmp_path):
    odd = tmp_path / ("Ana's print room, café" if sys.platform == "win32" else 'Ana\'s "print room", café')
    for part in ("lessons/workbook.py", "widgets/launching"):
        (odd / part).parent.mkdir(parents=True, exist_ok=True)
        (shutil.copytree if (ROOT / part).is_dir() else shutil.copyfile)(ROOT / part, odd / part)
    done = subprocess.run([sys.executable, "lessons/workbook.py", "renew", "key"], cwd=odd, capture_output=True)
    assert (done.returncode, done.stderr) == (0, b"")
    assert (odd / "lessons" / KEY).read_bytes() == (LESSONS / KEY).read_bytes()


@pytest.mark.parametrize(("asked", "said"), [([], "Say which page"), (["33"], "No page is called '33'")])
def test_what_can_not_be_brought_back_is_answered_in_a_sentence(asked, said, root, capsys):
    assert workbook.main(["renew", *asked], root) == 1
    assert said in sentence(capsys)


def test_a_fingerprint_is_of_words_and_code_and_their_order():
    page = json.loads((LESSONS / LESSON).read_text(encoding="utf-8"))
    assert shipped.is_as_shipped(page)
    swapped = copy.deepcopy(page)
    swapped["cells"][1], swapped["cells"][2] = swapped["cells"][2], swapped["cells"][1]
    assert shipped.fingerprint(swapped) != shipped.fingerprint(page)
