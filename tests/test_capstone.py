"""The capstone without a browser: every ticket from its place to its put-away list, on one record, panel by panel."""

from __future__ import annotations

from collections import Counter

import pytest
from stonework.jobs import steps
from stonework.lockup import SLACK, Lockup
from stonework.panels import AwayPanel, BlockPanel, CardPanel, ChoosePanel, HandPanel, PlacePanel, TighteningPanel
from stonework.placing import REGISTER
from stonework.putting_away import put_away
from stonework.records import open_lockup, record_path
from stonework.rules import judge, sound
from stonework.units import PICA, write_length
from test_panels import control, page, press, said
from test_tickets import BLACK, FERRY, RED, TICKETS, TIDE


@pytest.fixture
def beside(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


def fill_in(panel, **typed):
    for name, value in typed.items():
        control(panel, name.replace("_", " ")).value = value


def place(name, shop):
    """Place a ticket's form as its student would."""
    ticket, panel = TICKETS[name], PlacePanel(shop)
    if ticket.after:
        control(panel, "First colour's lockup").value = ticket.after
        press(panel, "Paper as for that lockup")
    fill_in(
        panel,
        Chase=ticket.chase,
        Form_width=write_length(ticket.printed.width),
        Form_height=write_length(ticket.printed.height),
        Sheet_width=write_length(ticket.sheet.width),
        Sheet_height=write_length(ticket.sheet.height),
        Margins="as I type them",
        Left_margin=write_length(ticket.left),
        Head_margin=write_length(ticket.head),
    )
    save(panel, name)
    return panel


def panel_lockup(panel):
    """Return the lockup that a panel would save."""
    if isinstance(panel, PlacePanel):
        return Lockup(panel.place.chase, panel.place.form, "placed", (), panel.place.intent)
    return panel.lockup


def save(panel, name):
    control(panel, "Name of the lockup").value = name
    over = record_path(name).exists() and open_lockup(name).to_dict() != panel_lockup(panel).to_dict()
    press(panel, "Save it")
    if over:
        assert said(panel).startswith(f"Under “{name}” another lockup is saved:")
        press(panel, "Save it")
    assert said(panel).startswith(f"Saved as {name}.lockup.json in ")


def opened(panel, name):
    control(panel, "Name of the lockup").value = name
    press(panel, "Open it")
    return panel


def undone(name, shop):
    return [step.words for step in steps(TICKETS[name], TICKETS, shop) if not step.done]


def built(name, shop):
    panel = opened(BlockPanel(shop), name)
    if TICKETS[name].abreast == 2:
        fill_in(panel, Form_width="18 picas", Second_form="beside the first", Second_width="18 picas")
        fill_in(panel, Second_height="11 picas", Gutter="6 picas")
    save(panel, name)
    return panel


def chosen(name, shop, **also):
    panel = opened(ChoosePanel(TICKETS[name].cabinet(shop)), name)
    fill_in(panel, **also)
    save(panel, name)
    return panel


def test_the_tide_card_two_abreast(breakwater, beside):
    place(TIDE, breakwater)
    assert undone(TIDE, breakwater) == ["Its 2 forms are not made into one block yet.", "No wood lies round it yet."]
    block = built(TIDE, breakwater)
    again = opened(BlockPanel(breakwater), TIDE)
    assert said(again).startswith("Opened “tide card”. 2 forms and 1 piece make a block 42 picas wide")
    assert again.lockup == block.lockup and control(again, "Gutter").value == "6 picas"
    left, right = sorted(form.x for form in block.lockup.block.forms)
    assert right - left == pytest.approx((18 + 6) * PICA)
    assert undone(TIDE, breakwater) == ["No wood lies round it yet."]
    chosen(TIDE, breakwater)
    assert undone(TIDE, breakwater) == []
    lockup = open_lockup(TIDE)
    assert lockup.block is not None and sound(judge(lockup, breakwater))
    # The same record in the panels of the lessons before.
    assert said(opened(TighteningPanel(breakwater), TIDE)).startswith("Opened “tide card”.")
    assert "42 picas × 11 picas" in said(opened(CardPanel(breakwater, "24 picas", "30 picas", "10 × 15"), TIDE))
    by_hand = opened(HandPanel(breakwater), TIDE)
    assert by_hand.lockup.block == lockup.block and "This would hold" in said(by_hand)
    away = put_away(lockup, breakwater)
    assert str(away.pieces) in said(opened(AwayPanel(breakwater, "20 picas", "12 picas", "5 × 8"), TIDE))


def test_the_bookplate_in_two_colours_its_line_built_up(breakwater, beside):
    place(BLACK, breakwater)
    chosen(BLACK, breakwater)
    assert undone(BLACK, breakwater) == []
    place(RED, breakwater)
    panel = opened(ChoosePanel(breakwater), RED)
    assert said(panel).startswith("The right side, 1 pica, is too short for the medium wedge quoin")
    block = built(RED, breakwater)
    assert block.lockup.form.height >= 78 and block.lockup.type_area.height == pytest.approx(PICA)
    assert "make a block 12 picas wide" in said(opened(BlockPanel(breakwater), RED))
    assert repr(block).startswith("<block: form 12 picas × 1 pica, built")
    lockup = chosen(RED, breakwater).lockup
    assert undone(RED, breakwater) == []
    # A small block in a large chase gets its caution.
    assert {finding.rule for finding in judge(lockup, breakwater)} <= {"no towers"} and lockup.block is not None
    away = opened(AwayPanel(breakwater, "20 picas", "12 picas", "5 × 8"), RED)
    assert f"{len(lockup.block.materials)} of metal to " in said(away) and "metal 3 × 12" in page(away)
    # The guides stay as they were for the black, and the red follows it: only its own wood sets it off.
    black = open_lockup(BLACK)
    first, second = black.type_area, lockup.type_area
    across = second.x - first.x - (TICKETS[RED].margins.right - TICKETS[BLACK].margins.right)
    assert across == pytest.approx(lockup.form.x - lockup.intent.x, abs=SLACK)
    assert abs(across) <= lockup.intent.tolerance + SLACK == REGISTER + SLACK
    assert lockup.intent.sheet == black.intent.sheet
    (register,) = [step for step in steps(TICKETS[RED], TICKETS, breakwater) if "“bookplate black”" in step.words]
    assert register.done


def test_a_place_takes_the_place_of_wood_only_when_asked_twice(breakwater, beside):
    place(BLACK, breakwater)
    lockup = chosen(BLACK, breakwater).lockup
    panel = PlacePanel(breakwater, chase="6 × 9")
    control(panel, "Name of the lockup").value = BLACK
    press(panel, "Save it")
    assert "with its wood. To put this one in its place" in said(panel) and open_lockup(BLACK) == lockup
    press(panel, "Save it")
    assert said(panel).startswith("Saved as") and open_lockup(BLACK).items == ()


def test_a_saved_lockup_opens_as_it_lies_with_its_quoins(breakwater, beside):
    place(FERRY, breakwater)
    lockup = chosen(FERRY, breakwater, Quoins="long one-piece").lockup
    again = opened(ChoosePanel(TICKETS[FERRY].cabinet(breakwater)), FERRY)
    assert again.lockup == lockup and control(again, "Quoins").value == "long one-piece"


def test_the_ferry_notice_with_what_the_others_left(breakwater, beside):
    place(FERRY, breakwater)
    busy = TICKETS[FERRY].cabinet(breakwater)
    panel = opened(ChoosePanel(busy), FERRY)
    assert said(panel).startswith("No lockup of this form can be made here with the medium wedge quoin")
    assert "It works with the long one-piece quoin." in page(panel)
    lockup = chosen(FERRY, breakwater, Quoins="long one-piece").lockup
    assert undone(FERRY, breakwater) == []
    used = Counter(item.material for item in lockup.wood)
    assert all(count <= busy.stock[material] for material, count in used.items())


def test_a_form_of_another_size_is_another_job_and_drops_the_block(breakwater, beside):
    place(RED, breakwater)
    built(RED, breakwater)
    panel = opened(ChoosePanel(breakwater), RED)
    assert panel.lockup.block is not None
    fill_in(panel, Form_height="9 picas")
    assert panel.lockup.block is None


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"Form_width": "nonsense"}, "can't be read as a length"),
        ({"Form_height": "60 picas"}, "The block reaches"),
        ({"Second_form": "below the first", "Gutter": "minus one"}, "can't be read as a length"),
    ],
)
def test_bad_input_gets_a_sentence(breakwater, typed, words):
    panel = BlockPanel(breakwater, chase="5 × 8")
    fill_in(panel, **typed)
    assert words in said(panel) and panel.lockup is None and "Traceback" not in page(panel)
    press(panel, "Save it")
    assert said(panel).startswith("There is no lockup to save. ") and words in said(panel) and "no block" in repr(panel)


def test_a_line_below_a_cut(breakwater, beside):
    panel = BlockPanel(breakwater, "12 picas", "9 picas", chase="8 × 12")
    fill_in(panel, Second_form="below the first", Second_width="20 picas", Second_height="2 picas", Gutter="1 pica")
    cut, line = sorted(panel.lockup.block.forms, key=lambda form: -form.y)
    assert (cut.width, line.width) == pytest.approx((12 * PICA, 20 * PICA))
    assert cut.y - line.y - line.height == pytest.approx(PICA)
    save(panel, "line and cut")
    again = opened(BlockPanel(breakwater), "line and cut")
    assert again.lockup == panel.lockup and control(again, "Second form").value == "below the first"
    assert panel.lockup.form.width >= 20 * PICA - 0.01


def test_eight_labels_in_two_rows_are_made_saved_and_opened_again(breakwater, beside):
    panel = BlockPanel(breakwater, "8 picas", "5 picas", chase="8 × 12")
    assert control(panel, "Gutter").disabled
    fill_in(panel, Times_side_by_side="4", Times_one_below_another="2", Gutter="1 pica")
    assert not control(panel, "Gutter").disabled and len(panel.lockup.block.forms) == 8
    save(panel, "labels")
    again = opened(BlockPanel(breakwater), "labels")
    assert again.lockup == panel.lockup
    assert (control(again, "Times side by side").value, control(again, "Times one below another").value) == ("4", "2")
    control(again, "Times side by side").value = "1"
    control(again, "Times one below another").value = "1"
    assert not again.lockup.block or len(again.lockup.block.forms) == 1


def test_another_form_doesn_t_take_the_paper_of_the_one_that_was_opened(breakwater, beside):
    place(TIDE, breakwater)
    panel = opened(BlockPanel(breakwater), TIDE)
    assert panel.lockup.intent.sheet is not None
    fill_in(panel, Form_width="8 picas", Form_height="5 picas", Times_side_by_side="4")
    assert panel.lockup.intent.sheet is None
    # The tide card's own two forms are as large together as it was: that's the same job again.
    fill_in(panel, Form_width="18 picas", Form_height="11 picas", Times_side_by_side="2", Gutter="6 picas")
    assert panel.lockup.intent.sheet is not None


def test_a_form_large_enough_is_left_as_it_is(breakwater):
    panel = BlockPanel(breakwater, "20 picas", "12 picas", chase="5 × 8")
    assert "needs no building up" in said(panel) and panel.lockup.block.pieces == ()


def test_a_lockup_begun_by_hand_opens_as_far_as_it_is_laid(breakwater, beside):
    place(BLACK, breakwater)
    by_hand = opened(HandPanel(breakwater), BLACK)
    press(by_hand, "One next piece")
    save(by_hand, BLACK)
    panel = opened(ChoosePanel(breakwater), BLACK)
    assert panel.lockup == by_hand.lockup and said(panel).startswith("This would not hold yet.")
    assert "This is not finished." in " ".join(undone(BLACK, breakwater))
