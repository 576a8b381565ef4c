"""The answer sheet: kept whole, taken up again, and nothing lost whatever befalls the file."""

from __future__ import annotations

import json
import os
import stat
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from conftest import ROOT
from stonework.exercises import AnswerSheet
from stonework.exercises.record import Answer, Help
from stonework.people import here
from stonework.people.before import SHEET

RIGHT = Answer("27 picas", 1, "abc")


@pytest.fixture
def sheet(tmp_path):
    return AnswerSheet.open(tmp_path)


def stored(sheet):
    return json.loads(sheet.path.read_text(encoding="utf-8"))


def others(folder):
    """Return what lies beside the sheet and the lock."""
    return sorted(path.name for path in folder.iterdir() if path.name not in (SHEET, ".stonework.lock"))


def test_a_new_sheet_is_written_at_once_with_a_number_that_stays(sheet, tmp_path):
    assert 1 <= sheet.number <= 9999
    assert AnswerSheet.open(tmp_path).number == sheet.number
    assert stored(sheet) == {"schema": 1, "number": sheet.number, "answers": {}}
    assert sheet.said == "" and str(sheet.number) in str(sheet)


def test_numbers_differ_between_students(tmp_path):
    assert len({AnswerSheet.open(tmp_path / f"student {n}").number for n in range(12)}) > 8


def test_an_answer_is_kept_and_taken_up_again(sheet, tmp_path):
    sheet.keep("gauge", RIGHT, standing="right")
    again = AnswerSheet.open(tmp_path)
    assert again.answer("gauge") == RIGHT
    assert stored(again)["answers"]["gauge"]["standing"] == "right"
    assert again.answer("weight") is None
    assert others(tmp_path) == []


def test_two_lessons_open_at_once_lose_nothing_of_each_other(tmp_path):
    one, other = AnswerSheet.open(tmp_path), AnswerSheet.open(tmp_path)
    one.keep("gauge", RIGHT, standing="right")
    other.keep("weight", Answer("3 lb", 1, "def"), standing="not yet")
    again = AnswerSheet.open(tmp_path)
    assert again.answer("gauge") == RIGHT
    assert again.answer("weight") == Answer("3 lb", 1, "def")


def test_what_isn_t_known_is_kept(sheet):
    record = stored(sheet)
    record["from tomorrow"] = {"deep": [1, 2]}
    record["answers"] = {"gauge": {"answer": "1 pt", "lesson": 1, "task": "x", "mood": "fine"}, "unheard of": [3]}
    sheet.path.write_text(json.dumps(record), encoding="utf-8")
    again = AnswerSheet.open(sheet.path.parent)
    again.keep("gauge", RIGHT, standing="right")
    kept = stored(again)
    assert kept["from tomorrow"] == {"deep": [1, 2]}
    assert kept["answers"]["unheard of"] == [3]
    assert kept["answers"]["gauge"]["mood"] == "fine" and kept["answers"]["gauge"]["answer"] == "27 picas"


DAMAGED = {
    "half a file": b'{"schema": 1, "number": 12, "answ',
    "nothing in it": b"",
    "no text": b"\xff\xfe\x00broken",
    "a list": b"[1, 2, 3]",
    "no schema": b'{"number": 12, "answers": {}}',
    "no number": b'{"schema": 1, "answers": {}}',
    "a number that is none": b'{"schema": 1, "number": "many", "answers": {}}',
    "answers that are none": b'{"schema": 1, "number": 12, "answers": [1]}',
    "a newer schema": b'{"schema": 99, "number": 12, "answers": {}}',
    "too deep": b"[" * 100_000,
}


@pytest.mark.parametrize("content", DAMAGED.values(), ids=DAMAGED.keys())
def test_a_damaged_file_is_set_aside_and_said_so(tmp_path, content):
    path = tmp_path / SHEET
    path.write_bytes(content)
    sheet = AnswerSheet.open(tmp_path)
    (aside,) = others(tmp_path)
    assert (tmp_path / aside).read_bytes() == content
    assert aside in sheet.said and "Nothing is lost" in sheet.said and "Traceback" not in sheet.said
    assert stored(sheet)["answers"] == {} and sheet.number
    sheet.keep("gauge", RIGHT, standing="right")
    assert AnswerSheet.open(tmp_path).answer("gauge") == RIGHT


def test_a_file_damaged_while_a_lesson_is_open_costs_no_answer(sheet, tmp_path):
    sheet.keep("gauge", RIGHT, standing="right")
    sheet.path.write_bytes(b"{")
    sheet.keep("weight", Answer("3 lb", 1, "def"), standing="not yet")
    assert len(others(tmp_path)) == 1 and sheet.said
    again = AnswerSheet.open(tmp_path)
    assert again.answer("gauge") == RIGHT and again.answer("weight") and again.number == sheet.number


def test_a_file_set_aside_twice_is_kept_twice(tmp_path):
    for content in (b"one", b"two"):
        (tmp_path / SHEET).write_bytes(content)
        AnswerSheet.open(tmp_path)
    assert sorted((tmp_path / name).read_bytes() for name in others(tmp_path)) == [b"one", b"two"]


@pytest.mark.parametrize(
    "entry", [3, "x", [], {}, {"answer": 3, "lesson": 1, "task": "x"}, {"answer": "1", "lesson": True, "task": "x"}]
)
def test_an_entry_that_can_t_be_used_is_no_answer(sheet, entry):
    sheet.path.write_text(json.dumps({**stored(sheet), "answers": {"gauge": entry}}), encoding="utf-8")
    again = AnswerSheet.open(sheet.path.parent)
    assert again.answer("gauge") is None and again.said == ""


def test_a_write_that_fails_half_way_leaves_the_old_file(sheet, monkeypatch):
    sheet.keep("gauge", RIGHT, standing="right")
    before = sheet.path.read_bytes()

    def full(_descriptor):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    sheet.keep("weight", Answer("3 lb", 1, "def"), standing="not yet")
    assert sheet.path.read_bytes() == before
    assert others(sheet.path.parent) == []
    assert "No space left on device" in sheet.said and "You can work on" in sheet.said
    assert sheet.answer("weight") is not None


def test_a_file_that_can_t_be_read_is_left_as_it_is(sheet, monkeypatch):
    sheet.keep("gauge", RIGHT, standing="right")
    before = sheet.path.read_bytes()

    def refused(*_args, **_kwargs):
        raise PermissionError(13, "Permission denied")

    with monkeypatch.context() as disk:
        disk.setattr("stonework.exercises.sheet.read_plain", refused)
        sheet.keep("weight", Answer("3 lb", 1, "def"), standing="not yet")
    assert "can't be read: Permission denied" in sheet.said
    assert sheet.path.read_bytes() == before
    fresh = AnswerSheet.open(sheet.path.parent)
    assert fresh.number and sheet.path.read_bytes() == before


def test_no_folder_to_write_to_is_said_and_work_goes_on(tmp_path):
    (tmp_path / "a file").touch()
    sheet = AnswerSheet.open(tmp_path / "a file" / "nowhere")
    assert "can't be kept" in sheet.said and sheet.number
    sheet.keep("gauge", RIGHT, standing="right")
    assert sheet.answer("gauge") == RIGHT


def test_what_could_not_be_kept_is_kept_with_the_next_answer(sheet, monkeypatch):
    def full(_descriptor):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as disk:
        disk.setattr(os, "fsync", full)
        sheet.keep("gauge", Answer("1 lb", 1, "abc"), standing="not yet")
        sheet.keep("gauge", RIGHT, standing="right")
        assert "No space left on device" in sheet.said
    sheet.keep("weight", Answer("3 lb", 1, "def"), standing="not yet")
    kept = AnswerSheet.open(sheet.path.parent)
    assert kept.answer("gauge") == RIGHT and kept.answer("weight") and sheet.said == ""
    assert stored(kept)["answers"]["gauge"]["tries"] == 2


# --- what is kept of a question --------------------------------------------------------------------------


def test_tries_hints_slips_first_and_last_are_kept_and_of_time_the_day_alone(sheet):
    sheet.keep("gauge", Answer("1 lb", 1, "abc"), standing="not yet", slip="weighed it")
    sheet.note("gauge", Help(1, "abc", 1, solution=False))
    sheet.keep("gauge", Answer("2 lb", 1, "abc"), standing="not yet", slip="weighed it")
    sheet.keep("gauge", RIGHT, standing="right")
    sheet.note("gauge", Help(1, "abc", 0, solution=True))
    assert stored(sheet)["answers"]["gauge"] == {
        **{"lesson": 1, "task": "abc", "answer": "27 picas", "standing": "right", "kept": date.today().isoformat()},
        **{
            "first": "1 lb",
            "tries": 3,
            "right at": 3,
            "hints": 1,
            "solution": True,
            "right": "27 picas",
            "slips": {"weighed it": 2},
        },
    }


def test_another_task_is_counted_anew(sheet):
    sheet.keep("gauge", Answer("1 lb", 1, "abc"), standing="not yet", slip="weighed it")
    sheet.keep("gauge", Answer("1 lb", 2, "abc"), standing="right")
    entry = stored(sheet)["answers"]["gauge"]
    assert (entry["tries"], entry["right at"], entry["first"]) == (1, 1, "1 lb") and "slips" not in entry


@pytest.mark.parametrize("nonsense", [None, [], {"tries": "x", "slips": 3, "others": "y", "lesson": 1, "task": "abc"}])
def test_nonsense_in_an_entry_counts_for_nothing(sheet, nonsense):
    sheet.path.write_text(json.dumps({**stored(sheet), "answers": {"gauge": nonsense}}), encoding="utf-8")
    sheet.keep("gauge", RIGHT, standing="right", slip="none")
    entry = stored(sheet)["answers"]["gauge"]
    assert (entry["tries"], entry["slips"], entry["answer"]) == (1, {"none": 1}, "27 picas")


def test_what_two_windows_answer_is_kept_from_both_the_newest_first(tmp_path):
    one, other = AnswerSheet.open(tmp_path), AnswerSheet.open(tmp_path)
    one.keep("gauge", Answer("1 lb", 1, "abc"), standing="not yet")
    other.keep("gauge", RIGHT, standing="right")
    entry = stored(one)["answers"]["gauge"]
    assert (entry["answer"], entry["others"], entry["tries"]) == ("27 picas", ["1 lb"], 2)
    other.keep("gauge", Answer("28 picas", 1, "abc"), standing="not yet")
    assert stored(one)["answers"]["gauge"]["others"] == ["1 lb"]  # it knew of its own answer


# --- whose it is -------------------------------------------------------------------------------------------


def test_a_sheet_becomes_another_s_when_somebody_else_works_here(work):
    sheet, told = AnswerSheet.mine(), []
    sheet.follow(lambda: told.append(here().name))
    here().turn_to("Anna")
    sheet.keep("gauge", RIGHT, standing="right")
    here().turn_to("Ben")
    assert told == ["Anna", "Ben"] and sheet.answer("gauge") is None and sheet.path == work / "Ben" / SHEET
    here().turn_to("Anna")
    assert sheet.answer("gauge") == RIGHT and stored(sheet)["name"] == "Anna"


def test_a_sheet_s_mode_is_the_folder_s_business(sheet):
    if os.name == "posix":
        sheet.path.chmod(0o640)
        sheet.keep("gauge", RIGHT, standing="right")
        assert stat.S_IMODE(sheet.path.stat().st_mode) == 0o640


@pytest.mark.parametrize(
    "name", ["work/Ana/answers.json", "my.answers.json", "tide card.lockup.json", ".stonework.part"]
)
def test_git_never_takes_anybody_s_work(name):
    run = subprocess.run(["git", "check-ignore", f"lessons/{name}"], cwd=ROOT, capture_output=True, check=False)
    assert run.returncode == 0


def test_the_tests_themselves_use_a_folder_of_their_own(work):
    ask = "from stonework.exercises import AnswerSheet; print(AnswerSheet.mine().path.parent.parent)"
    run = subprocess.run([sys.executable, "-c", ask], capture_output=True, text=True, check=True, cwd=ROOT / "lessons")
    assert Path(run.stdout.strip()) == work.resolve()


# --- many at once --------------------------------------------------------------------------------------------

WRITER = """
import sys
from pathlib import Path
from stonework.exercises import AnswerSheet
from stonework.exercises.record import Answer
who, tries = sys.argv[2], int(sys.argv[3])
sheet = AnswerSheet.open(Path(sys.argv[1]))
for n in range(tries):
    sheet.keep(f"{who} {n % 5}", Answer(f"{who} {n}", 1, "abc"), standing="not yet")
    sheet.keep("one for all", Answer(f"{who} {n}", 1, "abc"), standing="not yet")
print(sheet.number, sheet.said)
"""


def test_ten_processes_in_a_race_lose_nothing(tmp_path):
    tries, writers = 20, 10
    run = [sys.executable, "-c", WRITER, str(tmp_path)]
    running = [subprocess.Popen([*run, str(n), str(tries)], stdout=subprocess.PIPE, text=True) for n in range(writers)]
    said = {process.communicate(timeout=120)[0].strip() for process in running}
    assert len(said) == 1, said  # one number for all, and nothing to complain of
    answers = json.loads((tmp_path / SHEET).read_text(encoding="utf-8"))["answers"]
    assert len(answers) == 5 * writers + 1
    assert all(answers[f"{who} {n}"]["tries"] == tries // 5 for who in range(writers) for n in range(5))
    assert answers["one for all"]["tries"] == tries * writers
    assert others(tmp_path) == []
