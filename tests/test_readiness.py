"""What leaves the workbook: ready, not finished, or one that would not hold."""

from __future__ import annotations

from dataclasses import replace

import pytest
from stonework.lockup import Intent
from stonework.readiness import readiness
from test_rules import BREAKS, CAUTIONS, broken, changed, without


def test_the_sound_lockup_is_ready(sound, small_shop):
    assert readiness(sound, small_shop) == ("", ())
    assert readiness(sound, small_shop).words == ""


def test_a_begun_lockup_is_not_finished(sound, small_shop):
    found = readiness(without(sound, "top", 1, 2, 3, 4), small_shop)
    assert found.mark == "NOT FINISHED"
    assert found.reasons == ("Still 4 picas 9 pt to fill on the top.", "Still quoins to lay on one more side.")
    assert found.words == "This is not finished. Still 4 picas 9 pt to fill on the top."


@pytest.mark.parametrize(("thinner", "words"), [(0.06, "0.1 pt"), (0.34, "0.3 pt"), (12.26, "1 pica 0.3 pt")])
def test_what_is_left_to_fill_is_said_to_a_tenth_of_a_point(sound, small_shop, thinner, words):
    found = readiness(changed(sound, "bottom", 1, thickness=48 - thinner), small_shop)
    assert f"Still {words} to fill on the bottom." in found.reasons


def test_a_form_alone_is_not_finished(sound, small_shop):
    assert readiness(replace(sound, items=()), small_shop).mark == "NOT FINISHED"


def test_a_stick_through_the_iron_would_not_hold(sound, small_shop):
    found = readiness(changed(sound, "bottom", 1, length=240, low=-70), small_shop)
    assert found.mark == "WOULD NOT HOLD"
    assert "reaches 10 pt beyond the chase's inner edge" in " ".join(found.reasons)


def test_what_stands_elsewhere_or_lacks_a_piece_may_hold_and_is_not_finished(sound, small_shop):
    moved = replace(sound, intent=Intent(40.0, 48.0, 6.0))
    assert readiness(moved, small_shop).mark == "NOT FINISHED"
    lacking = replace(small_shop, stock={m: n for m, n in list(small_shop.stock.items())[1:]})
    assert readiness(sound, lacking).mark == "NOT FINISHED"


@pytest.mark.parametrize("name", BREAKS)
def test_no_lockup_with_a_fault_is_ready_and_every_reason_is_a_sentence(sound, small_shop, name):
    found = readiness(*broken(sound, small_shop, name))
    caution = BREAKS[name].rule in CAUTIONS and BREAKS[name].also in ("", *CAUTIONS)
    assert bool(found.mark) is not caution
    assert bool(found.reasons) is bool(found.mark)
    assert all(reason.endswith(".") and reason[0].isupper() for reason in found.reasons)
