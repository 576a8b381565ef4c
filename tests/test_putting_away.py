"""Putting away: every piece that was pulled goes back, each to its own place, in one walk; and damp in the wood."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stonework.building import build_block
from stonework.choosing import NoLockup, choose_lockup, lock_up
from stonework.form import Form
from stonework.panels import AwayPanel, DampPanel
from stonework.panels.common import REFUSED, status
from stonework.pressing import WOODS
from stonework.putting_away import cabinet_places, put_away
from stonework.records import save_lockup
from stonework.shop import Material
from stonework.units import PICA
from test_panels import control, page, press, said


@given(st.integers(12, 40), st.integers(8, 30), st.integers(0, 3))
def test_the_list_covers_exactly_what_was_pulled(breakwater, width, height, chase):
    try:
        lockup = choose_lockup(Form(PICA * width, PICA * height), breakwater.chases[chase], breakwater)
    except NoLockup:
        return
    away = put_away(lockup, breakwater)
    pulled = Counter(item.material for item in lockup.pieces if item.kind != "lead")
    assert Counter({place.material: count for place, count in (*away.wood, *away.metal)}) == pulled
    assert Counter(dict(away.leads)) == Counter(item.thickness for item in lockup.leads)
    assert away.homeless == () and away.pieces == len(lockup.pieces)
    assert sum(count for _, count in away.quoins) == len(lockup.items) - len(lockup.pieces)


def test_one_walk_passes_every_place_once(breakwater):
    places = cabinet_places(breakwater)
    assert Counter(place.material for place in places) == Counter((*breakwater.stock, *breakwater.metal))
    kinds = ["furniture", "reglet", "metal"]
    walked = [(kinds.index(place.kind), place.row, place.place) for place in places]
    assert walked == sorted(walked) and len(set(walked)) == len(walked)
    sizes = [(kinds.index(place.kind), place.material.thickness, place.material.length) for place in places]
    assert sizes == sorted(sizes)


def test_the_list_goes_in_the_order_of_the_walk(breakwater):
    lockup = choose_lockup(Form(24 * PICA, 18 * PICA), breakwater.chase("8 × 12"), breakwater)
    walk = list(cabinet_places(breakwater))
    where = [walk.index(place) for place, _ in put_away(lockup, breakwater).wood]
    assert where == sorted(where)


def test_what_the_cabinet_has_no_place_for_is_said(breakwater, sound):
    bare = replace(breakwater, stock={}, quoins=())
    away = put_away(sound, bare)
    assert away.wood == () and away.pieces == len(sound.wood)
    assert Counter(dict(away.homeless)) == Counter(item.material for item in sound.wood)
    assert away.quoins == (("not this shop's", 2),)


def test_what_lies_in_a_block_goes_back_too(breakwater):
    block = build_block(Form(9 * PICA + 4, 2 * PICA), breakwater, least=(78, 78))
    lockup = lock_up(block, breakwater.chase("5 × 8"), breakwater)
    away = put_away(lockup, breakwater)
    assert [(place.kind, count) for place, count in away.metal] == []
    assert away.leads == ((12.0, 1),) and away.pieces == len(lockup.wood) + 2
    line = lock_up(build_block(Form(240, 24), breakwater, least=(78, 78)), breakwater.chase("5 × 8"), breakwater)
    away = put_away(line, breakwater)
    assert [(place.row, place.place, count) for place, count in away.metal] == [(1, 8, 1), (2, 8, 1)]
    assert away.pieces == len(line.wood) and away.leads == ()
    lacking = put_away(line, replace(breakwater, metal={}))
    assert Counter(dict(lacking.homeless)) == Counter(line.block.materials) and lacking.pieces == len(line.wood)


def test_places_have_the_cabinet_s_own_words_and_worn_wood_lies_with_its_like(irregular):
    loft = irregular["loft"]
    places = {place.material: place for place in cabinet_places(loft)}
    whole, worn = Material("furniture", 36.0, 26 * PICA), Material("furniture", 35.3, 26 * PICA)
    assert places[whole].label == places[worn].label == "Sprat, place 5"
    assert (places[whole].row, places[whole].place) == (places[worn].row, places[worn].place) == (2, 5)
    assert places[Material("reglet", 6.0, 24 * PICA)].label == ""


def test_strips_that_are_kept_by_length_go_back_to_the_rack_and_others_to_their_thickness(irregular, sound):
    loft = irregular["loft"]
    kept, cut = Material("lead", 6.0, 34 * PICA), Material("lead", 6.0, 33 * PICA)
    assert kept in loft.strips and cut not in loft.strips
    item = sound.items[0]
    strips = [replace(item, kind="lead", thickness=6.0, length=one.length) for one in (kept, kept, cut)]
    away = put_away(replace(sound, items=tuple(strips)), loft)
    assert [(place.material, count) for place, count in away.metal] == [(kept, 2)]
    assert away.leads == ((6.0, 1),) and away.homeless == () and away.pieces == 0


# --- the panels ----------------------------------------------------------------------------------------------


def test_the_panel_lists_a_lockup_and_one_that_was_saved(breakwater, sound, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    panel = AwayPanel(breakwater, "24 picas", "18 picas", chase="8 × 12")
    assert repr(panel) == "<put away: 13 pieces of wood to 8 places, 3 quoins>"
    assert "1 × furniture 5 × 25" in page(panel) and "drawer" in page(panel)
    control(panel, "Name of the lockup").value = "mine"
    press(panel, "Open it")
    assert "No lockup is saved as “mine”" in said(panel) and "13 pieces" in repr(panel)
    save_lockup(choose_lockup(Form(144, 120), breakwater.chase("5 × 8"), breakwater), "mine")
    press(panel, "Open it")
    assert said(panel).startswith("“mine”: ") and "13 pieces" not in repr(panel)


def test_a_lockup_that_would_not_hold_is_told_of_and_goes_back_all_the_same(breakwater, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    lockup = choose_lockup(Form(144, 120), breakwater.chase("5 × 8"), breakwater)
    first, *others = lockup.items
    spoilt = {
        "through the iron": replace(lockup, items=(replace(first, x=-30.0), *others)),
        "begun": replace(lockup, items=lockup.items[:2]),
    }
    panel = AwayPanel(breakwater, "24 picas", "18 picas", chase="8 × 12")
    assert status(said(panel)) in page(panel)
    for name, words in (("through the iron", "This would not hold."), ("begun", "This is not finished. Still")):
        save_lockup(spoilt[name], name)
        control(panel, "Name of the lockup").value = name
        press(panel, "Open it")
        assert said(panel).startswith(f"“{name}”: {words}") and status(said(panel), REFUSED) in page(panel)
        listed = [int(count) for count in re.findall(r'<th scope="row">(\d+) × ', page(panel))]
        assert sum(listed) == len(spoilt[name].items)


def test_enter_in_the_name_box_opens_the_lockup(breakwater, sound, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    save_lockup(sound, "mine")
    panel = AwayPanel(breakwater, "24 picas", "18 picas", chase="8 × 12")
    box = control(panel, "Name of the lockup")
    box.value = "mine"
    assert "“mine”" not in said(panel)
    box._handle_custom_msg({"event": "submit"}, [])
    assert said(panel).startswith("“mine”: ")


def test_a_shop_without_a_lockup_for_it_says_so(breakwater, small_shop):
    panel = AwayPanel(replace(breakwater, chases=small_shop.chases), "24 picas", "18 picas", chase="8 × 12")
    assert "This shop has no lockup for such a form." in said(panel) and repr(panel) == "<put away: no lockup>"


def test_damp_air_makes_the_stack_grow_and_dry_air_shrink():
    panel = DampPanel("10 picas")
    assert said(panel).startswith("In time the stack grows by 0.6 to 1.4 points.")
    control(panel, "Damp of the air now, %").value = "35"
    assert "shrinks" in said(panel)
    control(panel, "Damp of the air now, %").value = "40"
    assert said(panel) == "The stack stays as it is."
    control(panel, "Wood in the gap, together").value = "33 picas"
    control(panel, "Damp of the air now, %").value = "60"
    assert "more than a lead" in page(panel)
    for wood in WOODS:
        control(panel, "Kind of wood").value = wood
        assert "the stack grows by" in said(panel)


@pytest.mark.parametrize("typed", ["", "ten", "-1 pica", "10"])
def test_no_thickness_is_refused(typed):
    panel = DampPanel()
    control(panel, "Wood in the gap, together").value = typed
    assert len(said(panel).split()) > 5 and "grows" not in said(panel)
