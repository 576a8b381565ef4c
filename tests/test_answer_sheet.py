"""The answer sheet: kept whole, taken up again, and nothing lost whatever befalls the file."""

from __future__ import annotations

import json
import os
import stat
import subprocess
import sys

import pytest
from conftest import ROOT
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from stonework.exercises.sheet import FOLDER, Answer, AnswerSheet

RIGHT = Answer("27 picas", 1, "abc")


@pytest.fixture
def sheet(tmp_path):
    return AnswerSheet.open("my", tmp_path)


def stored(sheet):
    return json.loads(sheet.path.read_text(encoding="utf-8"))


def others(folder):
    return sorted(path.name for path in folder.iterdir() if path.name != "my.answers.json")


def test_a_new_sheet_is_written_at_once_with_a_number_that_stays(sheet, tmp_path):
    assert 1 <= sheet.number <= 9999
    assert AnswerSheet.open("my", tmp_path).number == sheet.number
    assert stored(sheet) == {"schema": 1, "number": sheet.number, "answers": {}}
    assert sheet.said == "" and str(sheet.number) in str(sheet)


def test_numbers_differ_between_students(tmp_path):
    assert len({AnswerSheet.open(f"student {n}", tmp_path).number for n in range(12)}) > 8


def test_an_answer_is_kept_and_taken_up_again(sheet, tmp_path):
    sheet.keep("gauge", RIGHT, standing="right")
    again = AnswerSheet.open("my", tmp_path)
    assert again.answer("gauge") == RIGHT
    assert stored(again)["answers"]["gauge"]["standing"] == "right"
    assert again.answer("weight") is None
    assert others(tmp_path) == []


def test_two_lessons_open_at_once_lose_nothing_of_each_other(tmp_path):
    one, other = AnswerSheet.open("my", tmp_path), AnswerSheet.open("my", tmp_path)
    one.keep("gauge", RIGHT, standing="right")
    other.keep("weight", Answer("3 lb", 1, "def"), standing="not yet")
    again = AnswerSheet.open("my", tmp_path)
    assert again.answer("gauge") == RIGHT
    assert again.answer("weight") == Answer("3 lb", 1, "def")


def test_what_isn_t_known_is_kept(sheet):
    record = stored(sheet)
    record["from tomorrow"] = {"deep": [1, 2]}
    record["answers"] = {"gauge": {"answer": "1 pt", "lesson": 1, "task": "x", "mood": "fine"}, "unheard of": [3]}
    sheet.path.write_text(json.dumps(record), encoding="utf-8")
    again = AnswerSheet.open("my", sheet.path.parent)
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
    path = tmp_path / "my.answers.json"
    path.write_bytes(content)
    sheet = AnswerSheet.open("my", tmp_path)
    (aside,) = others(tmp_path)
    assert (tmp_path / aside).read_bytes() == content
    assert aside in sheet.said and "Nothing is lost" in sheet.said and "Traceback" not in sheet.said
    assert stored(sheet)["answers"] == {} and sheet.number
    sheet.keep("gauge", RIGHT, standing="right")
    assert AnswerSheet.open("my", tmp_path).answer("gauge") == RIGHT


def test_a_file_damaged_while_a_lesson_is_open_costs_no_answer(sheet, tmp_path):
    sheet.keep("gauge", RIGHT, standing="right")
    sheet.path.write_bytes(b"{")
    sheet.keep("weight", Answer("3 lb", 1, "def"), standing="not yet")
    assert len(others(tmp_path)) == 1 and sheet.said
    again = AnswerSheet.open("my", tmp_path)
    assert again.answer("gauge") == RIGHT and again.answer("weight") and again.number == sheet.number


def test_a_file_set_aside_twice_is_kept_twice(tmp_path):
    for content in (b"one", b"two"):
        (tmp_path / "my.answers.json").write_bytes(content)
        AnswerSheet.open("my", tmp_path)
    assert sorted((tmp_path / name).read_bytes() for name in others(tmp_path)) == [b"one", b"two"]


@pytest.mark.parametrize(
    "entry", [3, "x", [], {}, {"answer": 3, "lesson": 1, "task": "x"}, {"answer": "1", "lesson": True, "task": "x"}]
)
def test_an_entry_that_can_t_be_used_is_no_answer(sheet, entry):
    sheet.path.write_text(json.dumps({**stored(sheet), "answers": {"gauge": entry}}), encoding="utf-8")
    again = AnswerSheet.open("my", sheet.path.parent)
    assert again.answer("gauge") is None and again.said == ""


@pytest.mark.parametrize(
    "name",
    [
        *("", " ", "../my", "a/b", "a\\b", "/etc/passwd", "..", ".", ".hidden", "my\0", "my\n", "con", "COM1"),
        *("lpt9 ", "x" * 41, "C:my", "my.json", "-rf", "~", "%TEMP%", None, 3),
    ],
)
def test_a_name_can_t_lead_out_of_the_folder(tmp_path, name):
    with pytest.raises(ValueError, match=r"can't be the name of an answer sheet|Write a name for an answer sheet"):
        AnswerSheet.open(name, tmp_path)
    assert list(tmp_path.iterdir()) == []


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(name=st.text(max_size=50))
def test_whatever_the_name_the_file_lies_in_the_folder_or_nowhere(tmp_path, name):
    try:
        sheet = AnswerSheet.open(name, tmp_path)
    except ValueError:
        return
    assert sheet.path.resolve().parent == tmp_path.resolve()
    assert sheet.path.is_file()


@pytest.mark.parametrize("name", ["my", "Zoë", "student 7", "anna-maria", "日本"])
def test_a_name_a_person_would_choose(tmp_path, name):
    sheet = AnswerSheet.open(name, tmp_path)
    assert sheet.path.name == f"{name}.answers.json"
    assert repr(sheet) == f"<answer sheet {name}>"


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

    monkeypatch.setattr(type(sheet.path), "read_text", refused)
    sheet.keep("weight", Answer("3 lb", 1, "def"), standing="not yet")
    assert "can't be read: Permission denied" in sheet.said
    assert sheet.path.read_bytes() == before
    fresh = AnswerSheet.open("my", sheet.path.parent)
    assert fresh.number and sheet.path.read_bytes() == before


def test_no_folder_to_write_to_is_said_and_work_goes_on(tmp_path):
    sheet = AnswerSheet.open("my", tmp_path / "nowhere")
    assert "can't be kept" in sheet.said and sheet.number
    sheet.keep("gauge", RIGHT, standing="right")
    assert sheet.answer("gauge") == RIGHT


def test_the_folder_may_be_named_for_a_whole_classroom(tmp_path, monkeypatch):
    monkeypatch.setenv(FOLDER, str(tmp_path))
    assert AnswerSheet.open().path.parent == tmp_path


def test_answers_are_nobody_else_s_business(sheet):
    sheet.keep("gauge", RIGHT, standing="right")
    if os.name == "posix":
        assert stat.S_IMODE(sheet.path.stat().st_mode) & 0o077 == 0


@pytest.mark.parametrize(
    "name", ["my.answers.json", "a b.answers.json", "my set aside 20260101-101010-000001.json", ".stonework-x.part"]
)
def test_git_never_takes_an_answer_sheet(name):
    run = subprocess.run(["git", "check-ignore", f"lessons/{name}"], cwd=ROOT, capture_output=True, check=False)
    assert run.returncode == 0


def test_the_tests_themselves_use_a_folder_of_their_own():
    assert os.environ[FOLDER] not in ("", ".") and "stonework-answers-" in os.environ[FOLDER]
    ask = "from stonework.exercises import AnswerSheet; print(AnswerSheet.open().path.parent)"
    run = subprocess.run([sys.executable, "-c", ask], capture_output=True, text=True, check=True, cwd=ROOT / "lessons")
    assert run.stdout.strip() == os.environ[FOLDER]


def test_a_sheet_turns_to_another_name_and_tells_its_followers(sheet, tmp_path):
    told = []
    sheet.follow(lambda: told.append(sheet.name))
    sheet.keep("gauge", RIGHT, standing="right")
    sheet.turn_to("Anna")
    assert sheet.answer("gauge") is None and sheet.path == tmp_path / "Anna.answers.json"
    with pytest.raises(ValueError, match="can't be the name"):
        sheet.turn_to("../my")
    assert sheet.name == "Anna"
    sheet.turn_to("my")
    assert sheet.answer("gauge") == RIGHT and told == ["Anna", "my"]
