"""The two commands of lessons/workbook.py, without a network: pip and JupyterLab are stood in for."""

import ast
import importlib.metadata
import importlib.util
import json
import os
import re
import subprocess
import sys
import types
from pathlib import Path

import nbformat
import nbformat.sign
import pytest
from save_lessons import SHIPPED, shipped

ROOT = Path(__file__).resolve().parent.parent
SOURCE = ROOT / "lessons" / "workbook.py"
PLENTY = types.SimpleNamespace(free=2_000_000_000)
EXTRA = ["lessons/instructor/requirements.txt"]
EVERYTHING = ["requirements.txt", *EXTRA, "tests/requirements.txt"]
VERSION = f"{sys.version_info[0]} {sys.version_info[1]}".encode()

spec = importlib.util.spec_from_file_location("workbook", SOURCE)
workbook = importlib.util.module_from_spec(spec)
spec.loader.exec_module(workbook)


class StandIn:
    """Answers in place of the programs that the launcher runs, and notes what it asked for."""

    def __init__(self, root: Path):
        self.root = root
        self.venv_works = False
        self.venv_version = VERSION
        self.pip_says = b"Successfully installed"
        self.pip_status = 0
        self.pip_stopped_by = None
        self.made = 0
        self.installed = []
        self.handed_over = None

    def run(self, command, **options):
        if "venv" in command:
            self.made += 1
            self.venv_works, self.venv_version = True, VERSION
            (self.root / ".venv").mkdir(exist_ok=True)
            return subprocess.CompletedProcess(command, 0, stdout="")
        if "pip" in command:
            assert options["cwd"] == str(self.root)
            self.installed.append([command[i + 1] for i, word in enumerate(command) if word == "-r"])
            options["stdout"].write(self.pip_says)
            if self.pip_stopped_by:
                raise self.pip_stopped_by
            return subprocess.CompletedProcess(command, self.pip_status)
        return subprocess.CompletedProcess(command, int(not self.venv_works), stdout=self.venv_version)

    def hand_over(self, command):
        self.handed_over = command
        return 0


@pytest.fixture
def root(tmp_path):
    """A workbook with two lessons and three pages for the instructor, and nothing installed."""
    for name in [
        "requirements.txt",
        "tests/requirements.txt",
        "lessons/instructor/requirements.txt",
        "widgets/pyproject.toml",
        "widgets/settings/quiet.json",
        "widgets/plugin/static/plugin.js",
        "lessons/03-choose.ipynb",
        "lessons/03-choose-Copy1.ipynb",
        "lessons/12-print.ipynb",
        "lessons/instructor/answer-key.ipynb",
        "lessons/instructor/lesson-plans.ipynb",
        "lessons/instructor/plan-a-class.ipynb",
    ]:
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(f"first content of {name}")
    return tmp_path


@pytest.fixture
def stand_in(root, monkeypatch):
    stand_in = StandIn(root)
    monkeypatch.setattr(workbook.subprocess, "run", stand_in.run)
    monkeypatch.setattr(workbook, "hand_over", stand_in.hand_over)
    monkeypatch.setattr(workbook.shutil, "disk_usage", lambda path: PLENTY)
    monkeypatch.chdir(root)
    return stand_in


def sentence(capsys):
    """What stands on the error output, which must be one line and no traceback."""
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert "Traceback" not in said
    return said


# --- the Python that runs it


def test_an_old_python_can_read_the_file():
    ast.parse(SOURCE.read_text(encoding="utf-8"), feature_version=(3, 6))


def test_the_file_is_plain_ascii_for_any_console():
    assert SOURCE.read_bytes().isascii()


@pytest.mark.parametrize("version", [(3, 6), (3, 10)])
def test_an_old_python_is_told_what_to_install(version, stand_in, capsys, monkeypatch):
    monkeypatch.setattr(workbook.sys, "version_info", (*version, 0))
    assert workbook.main(["open"], stand_in.root) == 1
    assert re.search(rf"needs Python 3\.11 .* is Python 3\.{version[1]}: install", sentence(capsys))
    assert not stand_in.made


@pytest.mark.parametrize("version", [(3, 11), (3, 14), (4, 0)])
def test_newer_pythons_are_welcome(version):
    workbook.check_python(version)


@pytest.mark.parametrize("missing", ["venv", "ensurepip"])
def test_a_python_without_venv_is_told_the_apt_line(missing, stand_in, capsys, monkeypatch):
    monkeypatch.setattr(workbook.importlib.util, "find_spec", lambda name: None if name == missing else name)
    assert workbook.main(["open"], stand_in.root) == 1
    assert f"sudo apt install python{sys.version_info[0]}.{sys.version_info[1]}-venv" in sentence(capsys)
    assert not stand_in.made


# --- what is asked


@pytest.mark.parametrize("arguments", [[], ["bake"]])
def test_an_unknown_command_is_answered_with_the_two_known(arguments, stand_in, capsys):
    assert workbook.main(arguments, stand_in.root) == 1
    said = sentence(capsys)
    assert "workbook.py open'" in said
    assert "workbook.py test'" in said
    assert all(word in said for word in arguments)


def test_it_runs_from_any_folder_as_a_program(tmp_path):
    done = subprocess.run([sys.executable, SOURCE, "bake"], cwd=tmp_path, capture_output=True, text=True)
    assert done.returncode == 1
    assert done.stderr.startswith("'bake' is not")
    assert done.stderr.count("\n") == 1


@pytest.mark.parametrize(
    ("wanted", "found"),
    [
        ("", "03-choose"),
        ("3", "03-choose"),
        ("03", "03-choose"),
        ("12", "12-print"),
        ("print", "12-print"),
        ("lessons/12-print.ipynb", "12-print"),
        ("03-choose-Copy1.ipynb", "03-choose-Copy1"),
        ("key", "instructor/answer-key"),
        ("plan", "instructor/plan-a-class"),
        ("plans", "instructor/lesson-plans"),
        ("instructor", "instructor/lesson-plans"),
        ("lessons/instructor/answer-key.ipynb", "instructor/answer-key"),
    ],
)
def test_a_page_is_found_by_number_or_name(wanted, found, stand_in):
    assert workbook.main(["open", *filter(None, [wanted])], stand_in.root) == 0
    assert f"--LabApp.default_url=/doc/tree/lessons/{found}.ipynb" in stand_in.handed_over
    assert str(stand_in.root / "lessons") in stand_in.handed_over  # the folder that is signed


@pytest.mark.parametrize("wanted", ["2", "1", "bind"])
def test_an_unknown_lesson_is_answered_with_those_there_are(wanted, stand_in, capsys):
    assert workbook.main(["open", wanted], stand_in.root) == 1
    said = sentence(capsys)
    assert f"'{wanted}'" in said
    assert "03-choose" in said
    assert "12-print" in said
    assert "plan-a-class" in said
    assert not stand_in.made  # a slip of the finger doesn't cost a minute


def test_a_workbook_without_lessons_says_so(stand_in, capsys):
    for page in stand_in.root.glob("lessons/**/*.ipynb"):
        page.unlink()
    assert workbook.main(["open"], stand_in.root) == 1
    assert "no lessons" in sentence(capsys)


def test_open_serves_the_root_on_loopback_and_keeps_the_token(stand_in):
    workbook.main(["open", "--no-browser"], stand_in.root)
    command = stand_in.handed_over
    assert Path(command[0]).is_relative_to(stand_in.root / ".venv")
    assert f"--ServerApp.root_dir={stand_in.root}" in command
    assert "--ServerApp.ip=127.0.0.1" in command
    assert command[-1] == "--no-browser"
    assert not any(re.search("token|password", word) for word in command)


@pytest.mark.skipif(os.name == "nt", reason="Windows has no user number")
@pytest.mark.parametrize("user", [0, 1000])
def test_jupyterlab_is_told_of_root_only_when_it_is_root(user, stand_in, monkeypatch):
    monkeypatch.setattr(workbook.os, "geteuid", lambda: user)
    workbook.main(["open"], stand_in.root)
    assert ("--allow-root" in stand_in.handed_over) == (user == 0)


def test_test_hands_its_arguments_to_pytest_at_the_root(stand_in, tmp_path_factory, monkeypatch):
    monkeypatch.chdir(tmp_path_factory.mktemp("elsewhere"))
    assert workbook.main(["test", "-k", "units"], stand_in.root) == 0
    assert stand_in.handed_over[1:] == ["-m", "pytest", "-c", ".pytest.ini", "-k", "units"]
    assert Path.cwd() == stand_in.root


# --- when pip has work to do


def test_a_repeat_run_leaves_pip_alone(stand_in, capsys):
    workbook.main(["open"], stand_in.root)
    assert "about a minute" in capsys.readouterr().out
    workbook.main(["open"], stand_in.root)
    assert stand_in.installed == [["requirements.txt"]]
    assert stand_in.made == 1
    assert "about a minute" not in capsys.readouterr().out


def test_the_tests_add_what_only_they_need(stand_in):
    for command in ["open", "test", "test", "open"]:
        assert workbook.main([command], stand_in.root) == 0
    assert stand_in.installed == [["requirements.txt"], EVERYTHING]
    assert stand_in.made == 1


# --- what only the page that plans a class asks for


def test_only_the_planning_page_fetches_its_extra_once_and_says_how_much(stand_in, capsys):
    for page in ["3", "instructor", "key"]:
        workbook.main(["open", page], stand_in.root)
    assert stand_in.installed == [["requirements.txt"]]
    assert "HiGHS" not in capsys.readouterr().out
    workbook.main(["open", "plan"], stand_in.root)
    assert re.search(r"HiGHS, which no lesson needs\. .* 3 MB to fetch and 9 MB of disk", capsys.readouterr().out)
    for page in ["3", "plan"]:
        workbook.main(["open", page], stand_in.root)
    assert stand_in.installed == [["requirements.txt"], EXTRA]


@pytest.mark.parametrize("changed", ["requirements.txt", "widgets/plugin/static/plugin.js"])
def test_a_change_in_the_lessons_own_needs_leaves_the_extra_alone(changed, stand_in):
    workbook.main(["open", "plan"], stand_in.root)
    (stand_in.root / changed).write_text("second content")
    for page in ["3", "plan"]:
        workbook.main(["open", page], stand_in.root)
    assert stand_in.installed == [["requirements.txt"], EXTRA, ["requirements.txt"]]


def test_a_new_pin_of_the_extra_or_an_environment_made_afresh_calls_for_it_again(stand_in):
    workbook.main(["open", "plan"], stand_in.root)
    (stand_in.root / EXTRA[0]).write_text("second content")
    workbook.main(["open", "plan"], stand_in.root)
    stand_in.venv_works = False
    workbook.main(["open", "plan"], stand_in.root)
    assert stand_in.installed == [["requirements.txt"], EXTRA, EXTRA, ["requirements.txt"], EXTRA]


def test_the_tests_bring_the_extra_along(stand_in):
    workbook.main(["test"], stand_in.root)
    workbook.main(["open", "plan"], stand_in.root)
    assert stand_in.installed == [EVERYTHING]


def test_without_its_extra_the_planning_page_opens_all_the_same(stand_in, capsys):
    workbook.main(["open"], stand_in.root)
    for said, advice in PIP_SAYS:
        stand_in.pip_says, stand_in.pip_status = said, 1
        assert workbook.main(["open", "plan"], stand_in.root) == 0
        assert re.search(rf"^The page opens without it: .*{advice}.* same command again\.$", sentence(capsys))
        assert any("instructor/plan-a-class" in word for word in stand_in.handed_over)
    tried = len(stand_in.installed)
    assert workbook.main(["open"], stand_in.root) == 0
    assert (stand_in.made, len(stand_in.installed)) == (1, tried)  # and the lessons lack nothing
    stand_in.pip_status = 0
    workbook.main(["open", "plan"], stand_in.root)
    assert stand_in.installed[-1] == EXTRA


def test_control_c_while_the_extra_is_fetched_costs_the_lessons_nothing(stand_in, capsys):
    workbook.main(["open"], stand_in.root)
    stand_in.pip_stopped_by = KeyboardInterrupt()
    assert workbook.main(["open", "plan"], stand_in.root) == 1
    assert "same command again" in sentence(capsys)
    stand_in.pip_stopped_by = None
    assert workbook.main(["open"], stand_in.root) == 0
    assert (stand_in.made, stand_in.installed) == (1, [["requirements.txt"], EXTRA])


# --- when pip is called again


@pytest.mark.parametrize(
    "changed",
    ["requirements.txt", "widgets/pyproject.toml", "widgets/settings/quiet.json", "widgets/plugin/static/plugin.js"],
)
def test_a_change_calls_pip_again(changed, stand_in):
    workbook.main(["open"], stand_in.root)
    (stand_in.root / changed).write_text("second content")
    workbook.main(["open"], stand_in.root)
    assert len(stand_in.installed) == 2
    assert stand_in.made == 1


def test_a_change_of_the_tests_own_requirements_is_nothing_to_a_reader(stand_in):
    workbook.main(["test"], stand_in.root)
    (stand_in.root / "tests/requirements.txt").write_text("second content")
    workbook.main(["open"], stand_in.root)
    assert len(stand_in.installed) == 1
    workbook.main(["test"], stand_in.root)
    assert len(stand_in.installed) == 2


def test_a_moved_workbook_calls_pip_again(stand_in, tmp_path_factory):
    workbook.main(["open"], stand_in.root)
    stand_in.root = stand_in.root.rename(tmp_path_factory.mktemp("other") / "moved")
    workbook.main(["open"], stand_in.root)
    assert len(stand_in.installed) == 2


@pytest.mark.parametrize("harm", ["broken", "too old", "interrupted"])
def test_a_spoilt_environment_is_made_afresh(harm, stand_in):
    workbook.main(["open"], stand_in.root)
    if harm == "broken":
        stand_in.venv_works = False
    elif harm == "too old":
        stand_in.venv_version = b"3 10"
    else:
        (stand_in.root / ".venv" / "workbook-stamp").write_text(workbook.UNFINISHED)
    assert workbook.main(["open"], stand_in.root) == 0
    assert stand_in.made == 2
    assert len(stand_in.installed) == 2


def test_a_real_folder_without_a_python_is_no_working_environment(tmp_path):
    assert workbook.working_version(tmp_path / "bin" / "python") is None


def test_the_running_python_is_a_working_environment():
    assert workbook.working_version(Path(sys.executable)) == sys.version_info[:2]


# --- what can go wrong while pip is at work

# Lines, cut short, that pip 23.2 and 26.3 printed with no network, with the disk full, and when asked for a
# version that doesn't exist; the Windows line and the quota's are from memory.
PIP_SAYS = [
    (
        b"WARNING: Retrying (Retry(total=0, connect=None, read=None, redirect=None, status=None)) after "
        b"connection broken by 'NewConnectionError('Failed to establish a new connection: [Errno -3] "
        b"Temporary failure in name resolution')': /simple/hatchling/\n"
        b"ERROR: No matching distribution found for hatchling==1.33.0\n",
        "connect this machine",
    ),
    (
        b"WARNING: Retrying (Retry(total=0, connect=None, read=None, redirect=None, status=None)) after "
        b"connection broken by 'NameResolutionError(\"HTTPSConnection(host='pypi.org', port=443): Failed to "
        b"resolve 'pypi.org'\")'\nERROR: Failed to build 'file:///home/widgets'\n",
        "connect this machine",
    ),
    (
        b"ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device\n",
        "make room",
    ),
    (b"ERROR: [WinError 112] There is not enough space on the disk\n", "make room"),
    (b"ERROR: [Errno 122] Disk quota exceeded\n", "make room"),
    (b"ERROR: No matching distribution found for six==1.16.99\n", "no six==1.16.99 for this Python"),
    (b"ERROR: something else \xff\n", "put that right"),
]


@pytest.mark.parametrize(("said", "advice"), PIP_SAYS)
def test_a_failure_of_pip_is_one_sentence_of_advice(said, advice, stand_in, capsys):
    stand_in.pip_says, stand_in.pip_status = said, 1
    assert workbook.main(["open"], stand_in.root) == 1
    told = sentence(capsys)
    log = stand_in.root / ".venv" / "install.log"
    assert advice in told
    assert str(log) in told
    assert log.read_bytes() == said
    assert stand_in.handed_over is None


def test_a_failed_run_is_tried_again(stand_in):
    stand_in.pip_status = 1
    assert workbook.main(["open"], stand_in.root) == 1
    stand_in.pip_status = 0
    assert workbook.main(["open"], stand_in.root) == 0
    assert len(stand_in.installed) == 2


@pytest.mark.parametrize(("said", "made"), [(PIP_SAYS[0][0], 1), (PIP_SAYS[2][0], 2)])
def test_only_a_full_disk_spoils_the_environment(said, made, stand_in):
    workbook.main(["open"], stand_in.root)
    (stand_in.root / "requirements.txt").write_text("second content")
    stand_in.pip_says, stand_in.pip_status = said, 1
    workbook.main(["open"], stand_in.root)
    stand_in.pip_status = 0
    assert workbook.main(["open"], stand_in.root) == 0
    assert stand_in.made == made


def test_control_c_is_one_sentence_and_the_next_run_starts_afresh(stand_in, capsys):
    stand_in.pip_stopped_by = KeyboardInterrupt()
    assert workbook.main(["open"], stand_in.root) == 1
    assert "same command again" in sentence(capsys)
    stand_in.pip_stopped_by = None
    assert workbook.main(["open"], stand_in.root) == 0
    assert stand_in.made == 2


def test_a_disk_without_room_is_found_before_anything_is_fetched(stand_in, capsys, monkeypatch):
    monkeypatch.setattr(workbook.shutil, "disk_usage", lambda path: types.SimpleNamespace(free=12_000_000))
    assert workbook.main(["open"], stand_in.root) == 1
    assert re.search("12 MB free where 430 MB .* make room", sentence(capsys))
    assert not stand_in.made


def test_a_spoilt_environment_gives_its_own_room_back(stand_in, monkeypatch):
    workbook.main(["open"], stand_in.root)
    stand_in.venv_works = False
    monkeypatch.setattr(workbook.shutil, "disk_usage", lambda path: types.SimpleNamespace(free=12_000_000))
    assert workbook.main(["open"], stand_in.root) == 0
    assert stand_in.made == 2


def test_a_missing_file_of_the_workbook_is_named(stand_in, capsys):
    (stand_in.root / "requirements.txt").unlink()
    assert workbook.main(["open"], stand_in.root) == 1
    assert "requirements.txt" in sentence(capsys)


def test_a_venv_that_can_not_be_made_says_why(root, capsys, monkeypatch):
    monkeypatch.setattr(workbook.shutil, "disk_usage", lambda path: PLENTY)
    (root / ".venv").write_text("a file where the folder should be")
    assert workbook.main(["open"], root) == 1
    told = sentence(capsys)
    assert "could not be made" in told
    assert str(root / ".venv") in told


# --- handing over


@pytest.mark.skipif(os.name == "nt", reason="POSIX takes the process's place")
def test_on_posix_the_tool_takes_the_process_over(monkeypatch):
    calls = []

    def execv(path, command):
        calls.append((path, command))
        raise SystemExit  # like the real one, it doesn't return

    monkeypatch.setattr(workbook.os, "execv", execv)
    with pytest.raises(SystemExit):
        workbook.hand_over(["tool", "--option"])
    assert calls == [("tool", ["tool", "--option"])]


def test_on_windows_the_exit_status_is_passed_on(monkeypatch):
    monkeypatch.setattr(workbook, "WINDOWS", True)
    assert workbook.hand_over([sys.executable, "-c", "raise SystemExit(7)"]) == 7


def test_on_windows_control_c_is_left_to_the_tool(monkeypatch):
    waits = iter([KeyboardInterrupt(), KeyboardInterrupt(), 3])

    class Child:
        def __init__(self, command):
            pass

        def wait(self):
            result = next(waits)
            if isinstance(result, BaseException):
                raise result
            return result

    monkeypatch.setattr(workbook, "WINDOWS", True)
    monkeypatch.setattr(workbook.subprocess, "Popen", Child)
    assert workbook.hand_over(["tool"]) == 3


def test_lessons_are_signed_and_an_unreadable_one_is_passed_over(tmp_path, monkeypatch):
    lessons = tmp_path / "lessons"
    (lessons / "instructor").mkdir(parents=True)
    sound = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell("1 + 1")])
    key = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell("2 + 2")])
    (lessons / "01-unreadable.ipynb").write_text("{")
    nbformat.write(sound, lessons / "02-sound.ipynb")
    nbformat.write(key, lessons / "instructor" / "answer-key.ipynb")
    opened = []
    monkeypatch.setenv("JUPYTER_DATA_DIR", str(tmp_path / "data"))
    monkeypatch.setitem(
        sys.modules, "jupyterlab.labapp", types.SimpleNamespace(main=lambda: opened.append(sys.argv[1:]))
    )
    monkeypatch.setattr(sys, "argv", ["-c", str(lessons), "--no-browser"])
    assert not nbformat.sign.NotebookNotary().check_signature(sound)
    with pytest.raises(SystemExit):
        exec(workbook.SIGN_AND_OPEN, {})
    for page in ["02-sound.ipynb", "instructor/answer-key.ipynb"]:
        assert nbformat.sign.NotebookNotary().check_signature(nbformat.read(lessons / page, 4))
    assert opened == [["--no-browser"]]


# --- what is installed


def pins(name):
    """The pins of a requirements file with their versions, and the comment lines above each."""
    found, comments = {}, []
    for line in (ROOT / name).read_text(encoding="utf-8").splitlines():
        if line.startswith("#"):
            comments.append(line)
        elif line and line != "-e ./widgets":
            match = re.fullmatch(r"([a-z][a-z0-9-]*)==(\d+(?:\.\d+)+)", line)
            assert match, f"{name}: '{line}' is not an exact pin"
            found[match[1]] = (match[2], comments)
            comments = []
    return found


@pytest.mark.parametrize("name", workbook.TEST_REQUIREMENTS)
def test_every_requirement_is_pinned_and_the_pin_is_what_runs(name):
    found = pins(name)
    assert found
    for package, (version, _) in found.items():
        assert importlib.metadata.version(package) == version


def test_every_package_for_the_tests_alone_has_its_reason():
    assert [name for name, (_, comments) in pins("tests/requirements.txt").items() if not comments] == []


def test_a_reader_downloads_nothing_that_only_the_tests_or_an_instructor_need():
    several = [set(pins(name)) for name in workbook.TEST_REQUIREMENTS]
    assert len(set.union(*several)) == sum(map(len, several))


def test_the_quiet_settings_are_installed_and_jupyterlab_knows_each():
    quiet = ROOT / "widgets" / "settings" / "default_setting_overrides.json"
    installed = Path(sys.prefix) / "etc" / "jupyter" / "labconfig" / quiet.name
    assert installed.read_bytes() == quiet.read_bytes()
    schemas = Path(sys.prefix) / "share" / "jupyter" / "lab" / "schemas"
    kinds = {"string": str, "boolean": bool, "array": list}
    for plugin, settings in json.loads(quiet.read_text(encoding="utf-8")).items():
        extension, _, name = plugin.partition(":")
        known = json.loads((schemas / extension / f"{name}.json").read_text(encoding="utf-8"))["properties"]
        for setting, value in settings.items():
            assert type(value) is kinds[known[setting]["type"]]


def contents(folder):
    """The bytes of a folder's files, by their names."""
    return {path.relative_to(folder): path.read_bytes() for path in folder.glob("**/*") if path.is_file()}


def test_the_plugin_is_installed_as_it_stands():
    installed = contents(Path(sys.prefix) / "share" / "jupyter" / "labextensions" / "stonework")
    assert Path("package.json") in installed
    assert installed == contents(ROOT / "widgets" / "plugin")


def test_the_plugin_knows_the_code_of_every_lesson_and_of_the_instructors_pages():
    assert "instructor/your-shop.ipynb" in json.loads(shipped())
    assert SHIPPED.read_text(encoding="utf-8") == shipped(), "run tests/save_lessons.py"


def test_each_key_taken_from_jupyterlab_is_one_it_has():
    # Left alone, these would move or delete a cell while a student chooses from a list.
    quiet = json.loads((ROOT / "widgets" / "settings" / "default_setting_overrides.json").read_text(encoding="utf-8"))
    taken = quiet["@jupyterlab/shortcuts-extension:shortcuts"]["shortcuts"]
    schema = Path(sys.prefix) / "share" / "jupyter" / "lab" / "schemas" / "@jupyterlab" / "notebook-extension"
    known = json.loads((schema / "tracker.json").read_text(encoding="utf-8"))["jupyter.lab.shortcuts"]
    for one in taken:
        assert {k: v for k, v in one.items() if k != "disabled"} in known
    assert {"ArrowDown", "ArrowUp"} < {keys for one in taken for keys in one["keys"]}
    assert ["D", "D"] in [one["keys"] for one in taken]
