"""The panels without a browser: what is typed reaches the model, what the model says reaches the page."""

import base64
import html
import re
from types import SimpleNamespace

import pytest
from ipywidgets import Button, Text
from stonework.panels import ChoosePanel, HandPanel
from stonework.panels.asking import name_box, when_entered
from stonework.rules import judge


def control(panel, description):
    """Find a control the way a student does: by its label."""
    found = [w for w in _walk(panel) if getattr(w, "description", None) == description]
    assert len(found) == 1, f"{len(found)} controls are called {description}"
    return found[0]


def _walk(widget):
    yield widget
    for child in getattr(widget, "children", ()):
        yield from _walk(child)


def page(panel):
    return " ".join(w.value for w in _walk(panel) if type(w).__name__ == "HTML")


def press(panel, words):
    """Press a button by what stands on it."""
    control(panel, words).click()


def said(panel):
    (words,) = re.findall(r'<p[^>]*role="status"[^>]*>(.*?)</p>', page(panel))
    return html.unescape(words)


@pytest.fixture
def choose(breakwater):
    return ChoosePanel(breakwater, chase="8 × 12")


@pytest.fixture
def by_hand(breakwater):
    return HandPanel(breakwater)


def test_a_new_size_changes_picture_words_and_repr(choose, breakwater):
    before = page(choose)
    control(choose, "Form width").value = "4 1/2 in"
    assert page(choose) != before
    assert choose.lockup.form.width == pytest.approx(4.5 / 0.013837)
    assert judge(choose.lockup, breakwater) == []
    assert "4 1/2 in × 17 picas" in repr(choose) and "\n" not in repr(choose)


@pytest.mark.parametrize("typed", ["27", "", "-3 picas", "nonsense", "nan in", "0 pt"])
def test_bad_input_gets_a_sentence_and_marks_the_picture_as_old(choose, typed):
    control(choose, "Form width").value = typed
    assert len(said(choose)) > 20 and "Traceback" not in page(choose)
    assert choose.lockup is None
    assert "The picture still shows the lockup before this." in page(choose)
    control(choose, "Form width").value = "30 picas"
    assert choose.lockup is not None
    assert "The picture still shows" not in page(choose)


def test_no_lockup_is_told_in_the_solvers_words(choose):
    control(choose, "Chase").value = "5 × 8"
    control(choose, "Form height").value = "29 picas"
    assert "too small for wood, quoin and wood." in said(choose)


def test_moving_solid_sides_corners_and_quoins_are_passed_on(choose):
    middle = choose.lockup.form.x
    control(choose, "Right of the middle (points)").value = "12"
    assert choose.lockup.form.x - middle == pytest.approx(12, abs=6)
    control(choose, "Form height").value = "20 picas 9 pt"
    control(choose, "Corners").value = "top-and-bottom-through"
    assert choose.lockup.arrangement == "top-and-bottom-through"
    control(choose, "Solid sides").value = ("top", "right")
    assert choose.lockup.quoin_sides == ("bottom", "left")
    control(choose, "Quoins").value = "small wedge"
    assert {item.length for item in choose.lockup.items if item.kind == "quoin"} == {48.0}


def test_a_lockup_is_stepped_through(choose):
    control(choose, "Take them all off").click()
    assert "The form alone" in said(choose)
    control(choose, "Lay the next").click()
    assert said(choose).startswith("Piece 1 of")
    control(choose, "One back").click()
    control(choose, "One back").click()
    assert control(choose, "Pieces laid").value == "0"
    control(choose, "Lay them all").click()
    assert "sound by all" in said(choose)
    control(choose, "Lay the next").click()
    assert "sound by all" in said(choose)


def test_a_failure_inside_is_told_and_its_trace_kept_behind_a_fold(choose, monkeypatch):
    def broken(*_args, **_more):
        raise RuntimeError("a slip of ours")

    monkeypatch.setattr("stonework.panels.choose.choose_freely", broken)
    control(choose, "Form width").value = "28 picas"
    assert "Something went wrong inside the workbook" in said(choose)
    assert re.search(r"<details>.*a slip of ours.*</details>", page(choose), re.S)


def test_pieces_laid_by_hand_are_judged(by_hand):
    control(by_hand, "Length").value = 720.0
    control(by_hand, "Lay this piece").click()
    assert "beyond the chase" in said(by_hand)
    control(by_hand, "Take it back").click()
    assert "Still" in said(by_hand) and "Good so far" not in said(by_hand)  # of an empty chase
    control(by_hand, "Length").value = 240.0
    control(by_hand, "Lay this piece").click()
    assert "Good so far" in said(by_hand)
    control(by_hand, "Take it back").click()
    control(by_hand, "Take it back").click()
    assert "nothing to take back" in said(by_hand)


def test_the_hand_panel_offers_what_the_cabinet_has(by_hand, breakwater):
    for kind in ("furniture", "reglet"):
        control(by_hand, "Piece").value = kind
        offered = {value for _, value in control(by_hand, "Thickness").options}
        assert offered == {m.thickness for m in breakwater.stock if m.kind == kind}
    control(by_hand, "Piece").value = "row of quoins"
    assert control(by_hand, "Thickness").disabled
    control(by_hand, "Lay this piece").click()
    assert by_hand.lockup.quoins("bottom")


def test_help_goes_one_piece_at_a_time_to_a_sound_lockup(by_hand, breakwater):
    while "Nothing is left to lay" not in said(by_hand):
        before = len(by_hand.lockup.items)
        control(by_hand, "One next piece").click()
        assert len(by_hand.lockup.items) > before or "Nothing is left" in said(by_hand)
    assert judge(by_hand.lockup, breakwater) == []


def test_a_form_that_no_plan_fits_says_so(by_hand):
    control(by_hand, "Form height").value = "29 picas"
    control(by_hand, "See it finished").click()
    assert "No plan can be given." in said(by_hand)
    control(by_hand, "Form height").value = "29"
    assert "has no unit" in said(by_hand)


def test_quoins_on_three_sides_are_a_fault_at_once(by_hand):
    for side in ("bottom", "top", "left"):
        control(by_hand, "Side").value = side
        control(by_hand, "Piece").value = "reglet"
        control(by_hand, "Lay this piece").click()
        control(by_hand, "Piece").value = "row of quoins"
        control(by_hand, "Lay this piece").click()
    assert "Look again." in said(by_hand) and "nowhere else" in page(by_hand)


def test_cautions_wait_until_the_lockup_is_finished(by_hand):
    control(by_hand, "Thickness").value = 24.0
    control(by_hand, "Length").value = 240.0
    control(by_hand, "Lay this piece").click()
    control(by_hand, "Lay this piece").click()
    assert "Caution" not in page(by_hand) and re.search("Good so far. Still .* to fill on the bottom", said(by_hand))


def test_another_size_can_be_taken_back_with_all_that_lay_there(by_hand):
    control(by_hand, "Lay this piece").click()
    control(by_hand, "Form width").value = "21 picas"
    assert by_hand.lockup.items == ()
    control(by_hand, "Form width").value = "21"
    control(by_hand, "Lay this piece").click()
    assert "has no unit" in said(by_hand) and by_hand.lockup.items == ()
    control(by_hand, "Take it back").click()
    assert len(by_hand.lockup.items) == 1
    assert control(by_hand, "Form width").value == "20 picas"


def test_every_control_has_a_name(choose, by_hand):
    for panel in (choose, by_hand):
        for widget in _walk(panel):
            if hasattr(widget, "description") and type(widget).__name__ != "HTML":
                assert widget.description, widget
        assert sum(isinstance(w, Button) for w in _walk(panel)) >= 4


def test_the_picture_can_be_saved_to_print(choose):
    control(choose, "Picture to print").click()
    (data,) = re.findall(r'download="lockup.svg" href="data:image/svg\+xml;base64,([^"]+)"', page(choose))
    assert base64.b64decode(data).decode() in page(choose)
    control(choose, "Form width").value = "28 picas"
    assert "lockup.svg" not in page(choose)


def test_enter_waits_for_the_letters_that_are_still_on_their_way(monkeypatch):
    # The browser tells of the key at once, and holds back what was typed while the kernel is busy.
    class Loop:
        def __init__(self):
            self.waiting = []

        def call_later(self, _seconds, call):
            handle = SimpleNamespace(call=call, cancelled=False)
            handle.cancel = lambda: setattr(handle, "cancelled", True)
            self.waiting.append(handle)
            return handle

    loop, read = Loop(), []
    monkeypatch.setattr("stonework.panels.asking.asyncio.get_running_loop", lambda: loop)
    box = Text("tide")
    when_entered(box, lambda: read.append(box.value))
    box.value = "tide c"  # typing alone asks for nothing
    assert loop.waiting == []
    box._handle_custom_msg({"event": "submit"}, [])
    box.value = "tide card"
    first, second = loop.waiting
    assert first.cancelled and not second.cancelled and read == []
    second.call()
    assert read == ["tide card"]


def test_enter_and_then_the_button_ask_once(monkeypatch):
    waiting, asked = [], []

    def call_later(_seconds, call):
        waiting.append(SimpleNamespace(call=call, cancel=lambda: waiting.clear()))
        return waiting[-1]

    loop = SimpleNamespace(call_later=call_later)
    monkeypatch.setattr("stonework.panels.asking.asyncio.get_running_loop", lambda: loop)
    box, opening = name_box("a name", "Open it", lambda _button: asked.append(box.value))
    box.value = "tide card"
    box._handle_custom_msg({"event": "submit"}, [])
    assert len(waiting) == 1 and asked == []
    opening.click()
    assert waiting == [] and asked == ["tide card"]


def test_the_quoins_that_were_chosen_are_said(breakwater):
    panel = ChoosePanel(breakwater, "27 picas", "17 picas", "5 × 8")
    control(panel, "Quoins").value = ""
    names = {side: panel.lockup.quoins(side)[0].pattern for side in panel.lockup.quoin_sides}
    assert f"Chosen: {names['top']} on the top, {names['right']} on the right." in said(panel)


def test_chase_head_and_building_up_are_left_open_and_what_was_chosen_is_said(breakwater):
    panel = ChoosePanel(breakwater, "20 picas", "30 picas", "8 × 12")
    control(panel, "Chase").value = ""
    control(panel, "Head points to").value = ""
    assert "Chosen: the 5 × 8 chase, the head to the left." in said(panel)
    assert panel.lockup.chase.name == "5 × 8" and panel.lockup.head == "left"
    control(panel, "Form height").value = "2 picas"
    assert panel.lockup is None
    control(panel, "Build up to a block").value = True
    assert "the form built up to a block" in said(panel) and panel.lockup.block is not None
    control(panel, "Chase").value = "6 × 9"
    control(panel, "Head points to").value = "top"
    assert panel.lockup.chase.name == "6 × 9" and "Chosen: the form built up to a block." in said(panel)


def test_quoins_on_a_third_side_are_told_before_what_comes_of_them(breakwater):
    panel = HandPanel(breakwater)
    press(panel, "See it finished")
    control(panel, "Side").value = "left"
    control(panel, "Piece").value = "row of quoins"
    press(panel, "Lay this piece")
    assert "Look again." in said(panel) and "Put quoins on two neighbouring sides and nowhere else" in said(panel)


def test_what_is_opened_isn_t_told_or_replaced_by_what_was_looked_for_before(breakwater, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    panel = ChoosePanel(breakwater, "20 picas", "12 picas", "8 × 12")
    control(panel, "Name of the lockup").value = "mine"
    press(panel, "Save it")
    control(panel, "Chase").value = ""
    assert "Chosen: the 5 × 8 chase." in said(panel)
    stopped = panel._thinking._current
    press(panel, "Open it")
    assert "Chosen" not in said(panel) and panel.lockup.chase.name == "8 × 12" and stopped.is_set()
