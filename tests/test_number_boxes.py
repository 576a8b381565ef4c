"""Boxes for numbers: what is typed is read as it stands, or refused in a sentence; nothing jumps to another number."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stonework.panels import (
    BlockPanel,
    ChoosePanel,
    DampPanel,
    GaugePanel,
    LiftPanel,
    PagePanel,
    WedgePanel,
)
from stonework.panels.numbers import NumberBox
from test_panels import control, page, press, said

BOXES = {
    "Lines": (lambda shop: PagePanel(shop), ("1.5", "-5", "81", "", "ten")),
    "Lines of quads below": (lambda shop: PagePanel(shop), ("1.5", "-5", "21")),
    "Form number": (lambda shop: GaugePanel(), ("1.5", "-5", "0", "10000")),
    "Small turns": (lambda shop: WedgePanel(shop), ("1.5", "-5", "61")),
    "Taper, 1 in": (lambda shop: WedgePanel(shop), ("1.5", "3", "41")),
    "Damp of the air now, %": (lambda shop: DampPanel(), ("29.9", "-5", "71", "nan")),
    "Times side by side": (lambda shop: BlockPanel(shop), ("1.5", "0", "9")),
    "Right of the middle (points)": (lambda shop: ChoosePanel(shop), ("301", "1e999", "12 pt")),
    "Pieces laid": (lambda shop: ChoosePanel(shop), ("1.5", "-1", "99")),
}


@pytest.mark.parametrize("name", BOXES)
def test_what_is_no_such_number_is_refused_in_a_sentence_and_stays_as_typed(breakwater, name):
    make, wrong = BOXES[name]
    panel = make(breakwater)
    box = control(panel, name)
    right, before = box.value, page(panel)
    for typed in wrong:
        box.value = typed
        assert said(panel).startswith(f"{name}: “{typed}” was typed; a ")
        assert said(panel).endswith(" is needed.") and " from " in said(panel)
        assert box.value == typed and "Traceback" not in page(panel)
    box.value = right
    assert "was typed" not in said(panel) and said(panel)
    assert bool(page(panel)) == bool(before)


def test_a_line_that_isn_t_there_is_refused_before_anything_is_done(breakwater):
    panel = LiftPanel(breakwater, 3)
    press(panel, "Do it")  # slacken all quoins
    control(panel, "What to do").value = "put a piece into the line"
    control(panel, "Line").value = "0"
    press(panel, "Do it")
    assert said(panel).startswith("Line: “0” was typed; a whole number from 1 to ")


@given(st.integers(-50, 50), st.text(max_size=40))
def test_a_box_reads_what_it_wrote_and_refuses_the_rest_briefly(number, text):
    box = NumberBox(0, -50, 50, "Box")
    box.put(number)
    assert box.number == number and isinstance(box.number, int)
    box.value = text
    try:
        assert -50 <= box.number <= 50
    except ValueError as error:
        assert str(error).startswith("Box: ") and str(error).endswith("needed.") and len(str(error)) < 300
