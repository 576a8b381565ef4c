"""Lockups in files: saved whole, opened as they were, and refused with the reason when they aren't lockups."""

from __future__ import annotations

import base64
import json
import os
import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from stonework.choosing import choose_freely, choose_lockup
from stonework.drawing.stone_sheet import PAPERS, full_size_plan, stone_sheet
from stonework.form import Form
from stonework.lockup import Job
from stonework.panels import BlockPanel, ChoosePanel, HandPanel, PlacePanel
from stonework.people import here
from stonework.records import NOT_STANDING, Standing, open_lockup, record_path, save_lockup, standing_of
from test_panels import control, page, press, said


@pytest.fixture
def beside():
    """The folder of whoever works here."""
    return here().ready()


def test_a_lockup_opens_as_it_was_saved(sound, tmp_path):
    path = save_lockup(sound, "tide table", tmp_path)
    assert path == tmp_path / "tide table.lockup.json" and open_lockup("tide table", tmp_path) == sound
    record = json.loads(path.read_text(encoding="utf-8"))
    assert (record["version"], record["lockup"]["unit"]) == (3, "american_point")
    assert [*tmp_path.glob("[!.]*")] == [path]


def test_a_lockup_that_stands_goes_on_standing_until_it_is_said_otherwise(sound, tmp_path):
    standing = Standing("2026-11-26", "The loft")
    path = save_lockup(sound, "tide", tmp_path, standing)
    assert standing_of(path) == standing
    save_lockup(replace(sound, job=Job(name="Tide")), "tide", tmp_path)
    assert standing_of(path) == standing
    save_lockup(sound, "tide", tmp_path, NOT_STANDING)
    assert standing_of(path) == NOT_STANDING == standing_of(tmp_path / "none.lockup.json")


@pytest.mark.parametrize("mark", [None, [], {"since": "2026-11-26"}, {"since": 3, "shop": "The loft"}])
def test_a_mark_that_is_none_is_no_mark(sound, tmp_path, mark):
    path = save_lockup(sound, "tide", tmp_path, Standing("2026-11-26", "The loft"))
    path.write_text(json.dumps({**json.loads(path.read_text(encoding="utf-8")), "standing": mark}), encoding="utf-8")
    assert standing_of(path) == NOT_STANDING


def test_a_lockup_saved_by_the_first_workbook_opens_still(sound, tmp_path):
    bare = replace(sound, intent=None)
    record = {"what": "stonework lockup", "version": 1, "lockup": bare.to_dict()}
    record_path("old", tmp_path).write_text(json.dumps(record), encoding="utf-8")
    assert open_lockup("old", tmp_path) == sound


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=20)
@given(width=st.integers(14, 34), height=st.integers(10, 24))
def test_whatever_the_solver_lays_can_be_kept(breakwater, tmp_path, width, height):
    lockup = choose_lockup(Form(12 * width, 12 * height), breakwater.chase("10 × 15"), breakwater)
    save_lockup(lockup, "any", tmp_path)
    assert open_lockup("any", tmp_path) == lockup


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "is damaged"),
        (b"{", "is damaged"),
        (b"\xff\xfe", "is damaged"),
        (b"[" * 100_000, "is damaged"),
        (b"[]", "isn't a lockup of this workbook"),
        (b'{"schema": 1, "number": 3, "answers": {}}', "isn't a lockup of this workbook"),
        (b'{"what": "stonework lockup", "version": "one"}', "says version 'one'"),
        (b'{"what": "stonework lockup", "version": 4}', "saved by a newer workbook"),
        (b'{"what": "stonework lockup", "version": 1}', "a table of named values was expected"),
        (b'{"what": "stonework lockup", "version": 1, "lockup": {}}', "lacks unit"),
    ],
)
def test_what_is_no_lockup_is_refused_with_the_reason_and_left_alone(tmp_path, content, words):
    path = record_path("mine", tmp_path)
    path.write_bytes(content)
    with pytest.raises(ValueError, match=words):
        open_lockup("mine", tmp_path)
    assert path.read_bytes() == content


def test_another_unit_is_refused(sound, tmp_path):
    path = save_lockup(sound, "mine", tmp_path)
    path.write_text(path.read_text(encoding="utf-8").replace("american_point", "inch"), encoding="utf-8")
    with pytest.raises(ValueError, match="unit was read as 'inch'"):
        open_lockup("mine", tmp_path)


def test_nothing_saved_is_told_so(tmp_path):
    with pytest.raises(ValueError, match="No lockup is saved as “mine”"):
        open_lockup("mine", tmp_path)


@pytest.mark.parametrize("name", ["", "../mine", "a/b", "nul", "x" * 41, ".mine"])
def test_a_name_can_t_lead_out_of_the_folder(sound, tmp_path, name):
    for act in (lambda: save_lockup(sound, name, tmp_path), lambda: open_lockup(name, tmp_path)):
        with pytest.raises(ValueError, match="can't be the name of a lockup" if name else "Write a name"):
            act()
    assert list(tmp_path.iterdir()) == []


def test_a_save_that_fails_leaves_the_one_before(sound, tmp_path, monkeypatch):
    path = save_lockup(sound, "mine", tmp_path)
    before = path.read_bytes()

    def full(_descriptor):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(ValueError, match=r"can't be saved as mine\.lockup\.json: No space left on device"):
        save_lockup(sound, "mine", tmp_path)
    assert (
        path.read_bytes() == before
        and [*tmp_path.glob("[!.]*")] == [path]
        and not (tmp_path / ".stonework.part").exists()
    )


# --- in the panels -------------------------------------------------------------------------------------------


def test_a_lockup_chosen_in_one_panel_opens_in_another(breakwater, beside):
    choose, by_hand = ChoosePanel(breakwater, chase="8 × 12"), HandPanel(breakwater)
    control(choose, "Right of the middle (points)").value = "48"
    control(choose, "Name of the lockup").value = "ferry notice"
    press(choose, "Save it")
    assert said(choose).startswith("Saved as ferry notice.lockup.json in ")
    control(by_hand, "Name of the lockup").value = "ferry notice"
    press(by_hand, "Open it")
    assert said(by_hand).startswith("Opened “ferry notice”.") and "sound by all" in said(by_hand)
    assert by_hand.lockup.items == choose.lockup.items and by_hand.lockup.form == choose.lockup.form
    assert control(by_hand, "Form width").value == "27 picas" and control(by_hand, "Chase").value == "8 × 12"
    press(by_hand, "Take it back")
    assert by_hand.lockup.items == () and control(by_hand, "Chase").value == "5 × 8"


@pytest.mark.parametrize("solid", [("top", "right"), ("bottom", "right"), ("top", "left")])
def test_whichever_sides_are_solid_it_opens_as_it_was(breakwater, beside, solid):
    save_lockup(choose_lockup(Form(300, 200), breakwater.chase("8 × 12"), breakwater, solid=solid), "turned")
    by_hand = HandPanel(breakwater)
    control(by_hand, "Name of the lockup").value = "turned"
    press(by_hand, "Open it")
    opened, kept = by_hand.lockup, open_lockup("turned")
    assert (opened.form.x, opened.form.y) == pytest.approx((kept.form.x, kept.form.y))
    for mine, its in zip(opened.items, kept.items, strict=True):
        assert (mine.x, mine.y, mine.width, mine.height) == pytest.approx((its.x, its.y, its.width, its.height))
    press(by_hand, "Take it back")
    press(by_hand, "See it finished")
    assert "sound by all" in said(by_hand)


@pytest.mark.parametrize("name", ["", "nothing here", "../mine"])
def test_what_can_t_be_opened_changes_nothing(breakwater, beside, name):
    by_hand = HandPanel(breakwater)
    press(by_hand, "One next piece")
    before = by_hand.lockup
    control(by_hand, "Name of the lockup").value = name
    press(by_hand, "Open it")
    assert len(said(by_hand).split()) > 6 and by_hand.lockup == before and "Traceback" not in page(by_hand)


def test_a_lockup_from_a_shop_with_another_chase_is_refused(sound, breakwater, beside):
    save_lockup(sound, "small")
    by_hand = HandPanel(breakwater)
    control(by_hand, "Name of the lockup").value = "small"
    press(by_hand, "Open it")
    assert "a chase “small”, which this shop doesn't have" in said(by_hand)


def test_no_lockup_can_t_be_saved(breakwater, beside):
    choose = ChoosePanel(breakwater)
    control(choose, "Form width").value = "nonsense"
    control(choose, "Name of the lockup").value = "mine"
    press(choose, "Save it")
    assert said(choose).startswith("There is no lockup to save.") and [*beside.glob("[!.]*")] == []


# --- on paper ------------------------------------------------------------------------------------------------


def pdf_in(panel):
    (data,) = re.findall(r'href="data:application/pdf;base64,([^"]+)"', page(panel))
    return base64.b64decode(data)


@pytest.mark.parametrize("paper", PAPERS)
def test_a_sheet_for_the_stone_and_a_full_size_plan_are_offered(breakwater, paper):
    choose = ChoosePanel(breakwater, chase="8 × 12")
    control(choose, "Paper").value = paper
    press(choose, "Sheet for the stone")
    signed = choose.signed(choose.lockup, "")
    assert pdf_in(choose) == stone_sheet(signed, breakwater, paper)
    press(choose, "Full-size plan")
    assert pdf_in(choose) == full_size_plan(signed, breakwater, paper) and "100 %" in page(choose)
    control(choose, "Form width").value = "20 picas"
    assert "application/pdf" not in page(choose)


def test_an_empty_stone_has_no_sheet(breakwater):
    by_hand = HandPanel(breakwater)
    press(by_hand, "Sheet for the stone")
    assert "There is nothing on the stone to print yet." in page(by_hand)
    press(by_hand, "See it finished")
    press(by_hand, "Sheet for the stone")
    assert pdf_in(by_hand).startswith(b"%PDF")


# --- asked before anything is lost ----------------------------------------------------------------------------


def test_saving_over_another_lockup_asks_first_whatever_lies_in_either(breakwater, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    choose, place = ChoosePanel(breakwater), PlacePanel(breakwater)
    for first, second in ((choose, place), (place, choose), (choose, HandPanel(breakwater))):
        (here().folder / "job.lockup.json").unlink(missing_ok=True)
        for panel in (first, second):
            control(panel, "Name of the lockup").value = "job"
        press(first, "Save it")
        assert said(first).startswith("Saved as job")
        before = (here().folder / "job.lockup.json").read_bytes()
        press(second, "Save it")
        assert "another lockup is saved" in said(second) and (here().folder / "job.lockup.json").read_bytes() == before
        press(second, "Save it")
        assert said(second).startswith("Saved as job") and (here().folder / "job.lockup.json").read_bytes() != before
        press(second, "Save it")  # the same once more is no other
        assert said(second).startswith("Saved as job")


def test_what_was_asked_for_one_lockup_is_no_leave_for_another(breakwater, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    panel = ChoosePanel(breakwater)
    control(panel, "Name of the lockup").value = "job"
    press(panel, "Save it")
    control(panel, "Form width").value = "26 picas"
    press(panel, "Save it")
    control(panel, "Form width").value = "25 picas"
    press(panel, "Save it")
    assert "another lockup is saved" in said(panel)


def test_a_place_that_differs_in_its_paper_alone_is_another(breakwater, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    panel = PlacePanel(breakwater)
    control(panel, "Name of the lockup").value = "job"
    press(panel, "Save it")
    control(panel, "Sheet width").value = "40 picas"  # even margins: the form stays where it is
    press(panel, "Save it")
    assert "another lockup is saved" in said(panel)
    control(panel, "Sheet width").value = "42 picas"
    press(panel, "Save it")
    assert "another lockup is saved" in said(panel)
    press(panel, "Save it")
    assert said(panel).startswith("Saved as job")


def test_a_damaged_file_is_not_saved_over_unasked(breakwater, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (here().ready() / "job.lockup.json").write_text("{", encoding="utf-8")
    panel = ChoosePanel(breakwater)
    control(panel, "Name of the lockup").value = "job"
    press(panel, "Save it")
    assert "lies a file that can't be read as a lockup" in said(panel)
    assert (here().folder / "job.lockup.json").read_text(encoding="utf-8") == "{"


@pytest.mark.parametrize("make", [ChoosePanel, HandPanel, BlockPanel])
def test_enter_in_a_name_box_does_what_the_button_beside_it_does(breakwater, tmp_path, monkeypatch, make):
    monkeypatch.chdir(tmp_path)
    for panel, words in ((make(breakwater), "No lockup is saved as “none such”"), (PlacePanel(breakwater), "Saved as")):
        box = control(panel, "Name of the lockup")
        box.value = "none such"
        box._handle_custom_msg({"event": "submit"}, [])
        assert words in said(panel)
        Path("none such.lockup.json").unlink(missing_ok=True)


def test_no_contented_answer_stands_while_the_next_question_is_worked_on(breakwater, monkeypatch):
    panel = ChoosePanel(breakwater)
    assert said(panel).startswith("This would hold")
    seen = []

    def looking(*asked, **options):
        seen.append((said(panel), "stonework-stale" in panel._picture._dom_classes))
        return choose_freely(*asked, **options)

    monkeypatch.setattr("stonework.panels.choose.choose_freely", looking)
    control(panel, "Form width").value = "26 picas"
    assert seen == [("Looking for wood …", True)]
    assert said(panel).startswith("This would hold") and "stonework-stale" not in panel._picture._dom_classes
