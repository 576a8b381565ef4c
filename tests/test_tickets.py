"""The job tickets: they add up, they can be printed, and a job's steps are told as they stand on its record."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from stonework.choosing import NoLockup, choose_lockup
from stonework.drawing.words import margin_words
from stonework.form import Lines
from stonework.jobs import load_jobs, steps
from stonework.lockup import Intent, Lockup, PlacedForm
from stonework.panels import ChoosePanel, PlacePanel, TicketPanel
from stonework.people import here
from stonework.placing import REGISTER, gripped, place_by_custom, place_by_sheet
from stonework.records import save_lockup
from stonework.shop import Material, Shop
from stonework.units import PICA, write_length
from test_panels import control, page, press, said

LESSONS = Path(__file__).resolve().parent.parent / "lessons"
TICKETS = load_jobs(LESSONS / "breakwater.jobs.toml", Shop.load(LESSONS / "breakwater.shop.toml"))
TIDE, FERRY, BLACK, RED = TICKETS


@pytest.fixture
def beside(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


def placed(name, shop):
    """The place of a ticket's form, by the shop's custom, or by the guides of the job before."""
    ticket = TICKETS[name]
    chase = shop.chase(ticket.chase)
    if ticket.after:
        paper = placed(ticket.after, shop).sheet
        return place_by_sheet(ticket.printed, ticket.margins, paper, chase, shop.placing)
    return place_by_custom(ticket.printed, ticket.sheet, ticket.margins, chase, shop.placing)


def bare(place):
    return Lockup(place.chase, place.form, "placed", (), place.intent)


def told(name, shop):
    return [(step.done, step.words) for step in steps(TICKETS[name], TICKETS, shop)]


# --- the tickets ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", TICKETS)
def test_a_ticket_goes_on_its_paper_and_into_its_chase_clear_of_the_grippers(name, breakwater):
    ticket, place = TICKETS[name], placed(name, breakwater)
    assert min(ticket.margins) >= 2 * PICA and gripped(place, breakwater.placing) == ()
    assert place.margins == pytest.approx(ticket.margins, abs=1e-9)
    assert place.form.height % PICA == 0 and place.form.width % PICA == 0
    assert ticket.name == name and ticket.sheets > 0


@pytest.mark.parametrize("name", TICKETS)
def test_every_line_of_copy_is_a_line_of_the_form(name):
    ticket = TICKETS[name]
    lines = sum(part.number for part in ticket.content.parts if isinstance(part, Lines) and part.prints)
    assert lines == sum(not words.startswith("(") for words in ticket.copy)


@pytest.mark.parametrize("name", TICKETS)
def test_every_line_of_copy_goes_into_its_measure(name):
    # Half an em a letter, spaces included, is more than most types take: common practice in estimating.
    ticket = TICKETS[name]
    copy = iter([words for words in ticket.copy if not words.startswith("(")])
    for part in ticket.content.parts:
        if isinstance(part, Lines) and part.prints:
            assert all(len(next(copy)) * part.body / 2 <= ticket.content.measure for _ in range(part.number))


def test_the_red_falls_into_the_room_that_the_black_leaves(breakwater):
    black, red = placed(BLACK, breakwater), placed(RED, breakwater)
    assert red.sheet == black.sheet
    content = TICKETS[BLACK].content
    ((empty, depth),) = [
        (top, part.depth)
        for top, part in zip(content.tops, content.parts, strict=True)
        if isinstance(part, Lines) and part.quads
    ]
    head = black.form.y + black.form.height
    over, under = head - empty - red.form.y - red.form.height, red.form.y - (head - empty - depth)
    assert over == pytest.approx(6) and under == pytest.approx(6)
    assert black.form.x < red.form.x and red.form.x + red.form.width < black.form.x + black.form.width


def test_the_cabinet_lacks_a_piece_for_the_ferry_notice_and_another_quoin_does(breakwater):
    ticket, place = TICKETS[FERRY], placed(FERRY, breakwater)
    busy = ticket.cabinet(breakwater)
    assert busy.stock[Material("reglet", 6.0, 24 * PICA)] == 0 == busy.stock[Material("reglet", 12.0, 50 * PICA)]
    assert busy.stock[Material("reglet", 6.0, 23 * PICA)] == breakwater.stock[Material("reglet", 6.0, 23 * PICA)]
    with pytest.raises(NoLockup) as caught:
        choose_lockup(ticket.printed, place.chase, busy, target=place.target, quoin="medium wedge")
    first, remedy, *_, lacking = caught.value.reasons
    assert first.startswith("No lockup") and remedy == "It works with the long one-piece quoin."
    assert lacking == "It works with one reglet 6 pt × 49 picas more than the cabinet has."
    assert choose_lockup(ticket.printed, place.chase, busy, target=place.target, quoin="long one-piece")
    assert choose_lockup(ticket.printed, place.chase, breakwater, target=place.target)


def test_a_job_that_needs_no_wood_of_others_has_the_whole_cabinet(breakwater):
    assert TICKETS[TIDE].cabinet(breakwater) is breakwater


# --- how far a job is ------------------------------------------------------------------------------------------


def test_a_job_begins_with_nothing(breakwater, beside):
    ((done, words),) = told(BLACK, breakwater)
    assert not done and words.startswith("Nothing is saved as “bookplate black” yet")


def test_a_damaged_record_is_told(breakwater, beside):
    (here().ready() / "bookplate black.lockup.json").write_text("{", encoding="utf-8")
    ((done, words),) = told(BLACK, breakwater)
    assert not done and "is damaged" in words


def test_step_by_step_a_job_becomes_ready(breakwater, beside):
    place = placed(BLACK, breakwater)
    save_lockup(bare(place), BLACK)
    size, chase, margins, wood = told(BLACK, breakwater)
    assert (size, chase) == ((True, "What prints is 15 picas × 18 picas."), (True, "It lies in the 6 × 9 chase."))
    assert margins == (True, "Its margins are left 4 picas, right 4 picas, head 4 picas, foot 4 picas.")
    assert wood == (False, "No wood lies round it yet.")
    lockup = choose_lockup(TICKETS[BLACK].printed, place.chase, breakwater, target=place.target)
    lockup = replace(lockup, intent=place.intent)
    save_lockup(lockup, BLACK)
    assert told(BLACK, breakwater)[-1] == (True, "It would hold, by every rule.")
    save_lockup(replace(lockup, items=lockup.items[:3]), BLACK)
    done, words = told(BLACK, breakwater)[-1]
    assert not done and words.startswith("This is not finished. Still")


@pytest.mark.parametrize(
    ("spoil", "at", "words"),
    [
        (
            lambda one: replace(one, form=replace(one.form, width=100.0)),
            0,
            "the ticket asks for 15 picas × 18 picas",
        ),
        (lambda one: replace(one, chase=replace(one.chase, name="8 × 12")), 1, "not the 6 × 9."),
        (lambda one: replace(one, intent=None), 2, "Where its paper lies isn't said yet"),
        (lambda one: replace(one, intent=Intent(0, 0, 6)), 2, "Where its paper lies isn't said yet"),
        (
            lambda one: replace(one, intent=replace(one.intent, sheet=PlacedForm(0, 0, 99, 99))),
            2,
            "the ticket says 23 picas × 26 picas",
        ),
        (
            lambda one: replace(one, intent=replace(one.intent, sheet=replace(one.intent.sheet, x=0.0))),
            2,
            "the ticket asks for left 4 picas, right 4 picas",
        ),
    ],
)
def test_what_isn_t_as_the_ticket_says_is_told(breakwater, beside, spoil, at, words):
    save_lockup(spoil(bare(placed(BLACK, breakwater))), BLACK)
    done, said = told(BLACK, breakwater)[at]
    assert not done and words in said


def test_the_second_colour_asks_for_the_guides_of_the_first(breakwater, beside):
    place = placed(RED, breakwater)
    save_lockup(bare(place), RED)
    assert "No lockup is saved as “bookplate black”" in told(RED, breakwater)[3][1]
    save_lockup(bare(placed(BLACK, breakwater)), BLACK)
    assert told(RED, breakwater)[3] == (True, "It prints on “bookplate black” just where it belongs.")
    shifted = replace(place.intent, sheet=replace(place.sheet, x=place.sheet.x + 6), x=place.form.x + 6)
    save_lockup(replace(bare(place), intent=shifted), RED)
    done, words = told(RED, breakwater)[3]
    assert not done and "doesn't lie as for “bookplate black”" in words


@pytest.mark.parametrize(("off", "in_register"), [(0.0, True), (1.0, True), (1.1, False), (5.0, False)])
@pytest.mark.parametrize("tolerance", [0.5, 6.0, 20.0])
def test_a_second_colour_is_right_within_a_point_whatever_the_first_one_s_tolerance(
    breakwater, beside, off, in_register, tolerance
):
    black = bare(placed(BLACK, breakwater))
    save_lockup(replace(black, intent=replace(black.intent, tolerance=tolerance)), BLACK)
    red = bare(placed(RED, breakwater))
    red = replace(red, form=replace(red.form, y=red.form.y - off), intent=replace(red.intent, tolerance=tolerance))
    save_lockup(red, RED)
    done, words = told(RED, breakwater)[3]
    assert done is in_register
    if not in_register:
        out = f"Not in register: on “bookplate black” it prints {write_length(off)} too far to the foot."
        assert words.startswith(out) and "leads or card" in words


def test_a_second_colour_follows_the_first_to_where_its_wood_set_it(breakwater, beside):
    place = placed(BLACK, breakwater)
    black = choose_lockup(TICKETS[BLACK].printed, place.chase, breakwater, target=place.target)
    black = replace(black, intent=place.intent)
    off = black.form.x - place.intent.x, black.form.y - place.intent.y
    assert max(map(abs, off)) > 1  # else this shows nothing
    save_lockup(black, BLACK)
    ticket, panel = TICKETS[RED], PlacePanel(breakwater)
    control(panel, "Form width").value = write_length(ticket.printed.width)
    control(panel, "Form height").value = write_length(ticket.printed.height)
    control(panel, "Margins").value = "as I type them"
    control(panel, "Left margin").value = "1 pica"
    control(panel, "First colour's lockup").value = BLACK
    press(panel, "Paper as for that lockup")
    assert "The first colour's wood set it" in said(panel)
    control(panel, "Left margin").value = write_length(ticket.left)
    control(panel, "Head margin").value = write_length(ticket.head)
    assert panel.place.sheet == place.sheet and panel.place.tolerance == REGISTER
    control(panel, "Name of the lockup").value = RED
    press(panel, "Save it")
    assert told(RED, breakwater)[3] == (True, "It prints on “bookplate black” just where it belongs.")


def test_one_lockup_has_one_set_of_margins_in_every_panel(breakwater, beside):
    place = placed(BLACK, breakwater)
    save_lockup(bare(place), BLACK)
    panel = ChoosePanel(breakwater)
    control(panel, "Name of the lockup").value = BLACK
    press(panel, "Open it")
    press(panel, "Save it")
    press(panel, "Save it")
    margins = margin_words(panel.lockup).removeprefix("On the sheet the margins will be ")
    assert margins in page(panel)
    assert told(BLACK, breakwater)[2][1].startswith(f"Its margins are {margins}")


def test_cards_side_by_side_must_both_be_there(breakwater, beside):
    save_lockup(bare(placed(TIDE, breakwater)), TIDE)
    assert (False, "Its 2 forms are not made into one block yet.") in told(TIDE, breakwater)


# --- the panel -------------------------------------------------------------------------------------------------


def test_the_panel_shows_a_ticket_and_how_far_it_is(breakwater, beside):
    panel = TicketPanel(breakwater, TICKETS)
    assert said(panel).startswith("Next: Nothing is saved as “tide card” yet")
    assert "High water at Breakwater" in page(panel) and "Set as" in page(panel)
    control(panel, "Job").value = BLACK
    assert "From the library of" in page(panel) and repr(panel) == "<ticket: bookplate black>"
    place = placed(BLACK, breakwater)
    lockup = choose_lockup(TICKETS[BLACK].printed, place.chase, breakwater, target=place.target)
    save_lockup(replace(lockup, intent=place.intent), BLACK)
    press(panel, "Look how far it is")
    assert said(panel) == "The lockup is as the ticket says. Next: tighten it, and try the lift."
