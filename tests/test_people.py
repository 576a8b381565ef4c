"""Who works here: names as people write them, a folder each, one name for all pages of a seat, older files found."""

from __future__ import annotations

import json
import os
import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stonework.exercises import AnswerSheet
from stonework.panels.two_pages import Pages
from stonework.people import LONGEST, WORK, Here, People, here, near, read_name, work_folder
from stonework.people.before import OLDER

# --- names ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("written", "kept"),
    [
        ("O'Brien", "O'Brien"),
        ("  Ana   M. ", "Ana M."),
        ("Zoe\u0308", "Zoë"),
        ("李", "李"),
        ("Anna-María de la Cruz", "Anna-María de la Cruz"),
        ("नेहा", "नेहा"),
        ("student 7", "student 7"),
        ("x" * LONGEST, "x" * LONGEST),
    ],
)
def test_a_name_as_people_write_it(work, written, kept):
    assert read_name(written) == kept
    people = People(work)
    assert people.folders() == {} and people.begin(written).parent == work
    assert list(people.folders()) == [kept] and people.begin(written) == people.folders()[kept]


@pytest.mark.parametrize(
    "text", ["", " \n ", "x" * 61, "a/b", "..", ".hidden", "-rf", "a\\b", "a\0b", "<b>", "a\u202eb", "$HOME", "=1+1"]
)
def test_what_is_no_name_is_told_in_a_sentence(work, text):
    with pytest.raises(ValueError, match=r"^(Write your name|That name has|A name )") as refused:
        People(work).begin(text)
    assert len(str(refused.value)) < 300 and not work.exists()


@given(st.text(max_size=70))
def test_whatever_is_typed_a_folder_lies_in_the_folder_for_work_or_nowhere(tmp_path_factory, text):
    work = tmp_path_factory.mktemp("work", numbered=True)
    try:
        folder = People(work).begin(text)
    except ValueError:
        assert not list(work.glob("[!.]*"))
        return
    assert folder.resolve().parent == work.resolve() and People(work).folders() == {read_name(text): folder}
    assert not folder.name.endswith((".", " ")) and folder.name.partition(".")[0].casefold() not in (
        "con",
        "nul",
        "aux",
    )


def test_names_that_one_machine_takes_for_one_have_two_folders(work):
    folders = [People(work).begin(name) for name in ("Ana", "ana", "ANA", "Ana.", "con", "Zoë")]
    assert len({folder.name.casefold() for folder in folders}) == 6
    assert set(People(work).folders()) == {"Ana", "ana", "ANA", "Ana.", "con", "Zoë"}


def test_near_misses_are_found_and_others_aren_t():
    known = ["Ana", "Ana M.", "Ben", "Zoë", "O'Brien", "李", "Katharina"]
    assert near("ana", known)[0] == "Ana" and near("Anna", known)[0] == "Ana" and near("Ana M", known)[0] == "Ana M."
    assert near("Zoe", known) == ["Zoë"] and near("OBrien", known) == ["O'Brien"] and near("Katarina", known)
    assert (
        near("Ana", known) == ["Ana M."]
        and near("Bea", known) == []
        and near("王", known) == []
        and near("Otto", known) == []
    )


# --- one name at a seat --------------------------------------------------------------------------------------


def test_a_name_is_given_once_and_kept_for_every_page_and_restart(work):
    first, other = here(), Here(People(work))
    told = []
    other.follow(lambda: told.append(other.name))
    first.turn_to("Ana M.")
    assert other.name == "" and Here(People(work)).name == "Ana M."  # a page opened later knows at once
    other.look()
    assert told == ["Ana M."] and other.folder == first.folder == work.resolve() / "Ana M"
    other.turn_to("Ben")
    first.look()
    assert first.name == "Ben"


def test_what_was_done_without_a_name_becomes_the_first_one_s_and_nobody_else_s(work):
    (here().ready() / "note").write_text("x")
    nameless = here().folder
    here().turn_to("Ana")
    assert (here().folder / "note").exists() and not nameless.exists()
    again = Here(People(work))
    again.name, again.folder = "", nameless
    (again.ready() / "other").write_text("y")
    again.turn_to("Ana")
    assert again.folder.name == "Ana" and (nameless / "other").exists()
    assert "without a name stays in" in str(again)


def test_a_hub_s_user_is_named_by_the_hub_until_they_say_otherwise(work, monkeypatch):
    monkeypatch.setenv("JUPYTERHUB_USER", "zoe_k")
    assert here().name == "zoe k"
    here().turn_to("Zoë")
    assert Here(People(work)).name == "Zoë"
    for account, name in (("ana.b", "ana.b"), ("ana-b", "ana-b"), ("ana_b", "ana b")):
        monkeypatch.setenv("JUPYTERHUB_USER", account)
        assert Here(People(work)).name == name  # no two accounts share a folder
    monkeypatch.setenv("JUPYTERHUB_USER", "ben")
    assert Here(People(work)).name == "ben"  # another seat on the same folder


@pytest.mark.parametrize("text", ["{", "[]", "{}", "7", '{"name": 3}', '{"name": "a/b"}', "[" * 9000])
def test_a_note_or_card_that_can_t_be_read_costs_nobody_their_work(work, text):
    here().turn_to("Ana")
    here()._note.write_text(text)
    (here().folder / "person.json").write_text(text)
    assert Here(People(work)).name == "" and list(People(work).folders()) == ["Ana"]  # by the folder's own name


def test_a_folder_that_can_t_be_made_is_said_and_the_name_stays(work):
    here().turn_to("Ana")
    (work / ".stonework.lock").unlink()
    (work / ".stonework.lock").mkdir()
    with pytest.raises(ValueError, match=r"There can't be a folder for Ben: "):
        here().turn_to("Ben")
    assert here().name == "Ana"


def test_the_lessons_and_the_instructor_s_pages_share_one_folder(tmp_path, monkeypatch):
    monkeypatch.delenv(WORK)
    (tmp_path / "lessons" / "instructor").mkdir(parents=True)
    (tmp_path / "lessons" / "workbook.py").touch()
    for folder in (tmp_path / "lessons", tmp_path / "lessons" / "instructor"):
        monkeypatch.chdir(folder)
        assert work_folder() == tmp_path / "lessons" / "work"


BEGIN = """
import sys
from stonework.people import People
print(People(sys.argv[1]).begin("Ana"))
"""


def test_ten_who_begin_one_name_at_once_get_one_folder(work):
    run = [sys.executable, "-c", BEGIN, str(work)]
    running = [subprocess.Popen(run, stdout=subprocess.PIPE, text=True) for _ in range(10)]
    assert {process.communicate(timeout=60)[0].strip() for process in running} == {str(work / "Ana")}


# --- what older workbooks kept -------------------------------------------------------------------------------


@pytest.fixture
def older(tmp_path, monkeypatch):
    """A folder of lessons as an older workbook left it."""
    monkeypatch.delenv(WORK)
    monkeypatch.chdir(tmp_path)
    (tmp_path / "workbook.py").touch()
    return tmp_path


def leave(folder, name, number=7):
    (folder / name).write_text(json.dumps({"schema": 1, "number": number, "answers": {}}), encoding="utf-8")


def test_one_person_s_older_work_is_found_and_moved_with_a_word(older):
    leave(older, "my.answers.json")
    leave(older, "tide card.lockup.json")
    sheet = AnswerSheet.mine()
    assert sheet.number == 7 and (here().folder / "tide card.lockup.json").exists()
    assert "2 files that an older workbook kept beside the lessons were moved" in str(here())
    assert [path.name for path in older.glob("[!.]*")] == ["workbook.py", "work"] or len([*older.glob("[!.]*")]) == 2
    here().turn_to("Ana")
    assert sheet.number == 7 and (here().folder / "tide card.lockup.json").exists()


def test_older_sheets_of_several_go_to_their_names_and_lockups_to_nobody(older, monkeypatch):
    elsewhere = older / "elsewhere"
    elsewhere.mkdir()
    monkeypatch.setenv(OLDER, str(elsewhere))
    leave(elsewhere, "Ana.answers.json", 5)
    leave(elsewhere, "Ben.answers.json", 6)
    leave(elsewhere, "notice.lockup.json")
    here()
    people = People(older / "work")
    numbers = {name: AnswerSheet.open(folder).number for name, folder in people.folders().items()}
    assert numbers == {"Ana": 5, "Ben": 6} and (older / "work" / "from before" / "notice.lockup.json").exists()


def test_older_files_never_take_the_place_of_newer_ones(older):
    People(older / "work").begin("Ana")
    newer = AnswerSheet.open(older / "work" / "Ana")
    leave(older, "Ana.answers.json", newer.number + 1)
    here()
    assert AnswerSheet.open(older / "work" / "Ana").number == newer.number
    assert json.loads((older / "work" / "Ana" / "answers 2.json").read_text())["number"] == newer.number + 1


@pytest.mark.skipif(os.name != "posix", reason="a FIFO is a thing of POSIX")
def test_what_is_no_file_is_left_alone(older):
    os.mkfifo(older / "my.answers.json")
    assert here().said == "" and (older / "my.answers.json").exists()


# --- two pages on one kernel ---------------------------------------------------------------------------------


def test_two_pages_are_told_apart_from_one_that_was_loaded_again():
    pages = Pages()
    assert not any(map(pages.hear, ("a", "a", "b", "b", "", "c"))) and not pages.two
    assert pages.hear("b") and pages.two
    assert not pages.hear("c") and pages.two  # said once
    heard = [pages.hear("c") for _ in range(20)]
    assert heard.count(True) == 1 and not pages.two  # the other was closed
