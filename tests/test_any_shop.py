"""The bench, the shop panel and chases measured anew, in the school and in three irregular shops."""

from __future__ import annotations

from dataclasses import replace

import pytest
from conftest import ROOT
from drawn import WEDGE, drawn, plain, shop_of
from hypothesis import given
from hypothesis import strategies as st
from stonework.choosing import choose_lockup
from stonework.drawing.stone_sheet import sheet_figure
from stonework.drawing.words import sentence
from stonework.form import Form
from stonework.laying import Bench
from stonework.lockup import SIDES, Job, Lockup, PlacedForm, opposite
from stonework.panels import ChoosePanel, HandPanel, PlacePanel, ShopPanel
from stonework.placing import Margins, Sheet, edge_over, place_by_custom, printed_margins
from stonework.putting_away import cabinet_places, put_away
from stonework.records import in_this_shop, nearest_chase, open_lockup, save_lockup
from stonework.rounds import card_of
from stonework.rules import judge, sound
from stonework.shop import Chase, Material, Placing, Shop
from test_panels import control, page, press, said

SIXTEENTH = 1 / 16 / 0.013837


def bench_of(shop: Shop, size: tuple[float, float] = (240.0, 144.0), **options) -> Bench:
    return Bench(Form(*size), Chase("drawn", 400.0, 300.0), shop, **options)


# --- what the record holds is kept ----------------------------------------------------------------------------


def test_ends_metal_leads_patterns_head_and_job_are_saved_and_opened(irregular, tmp_path):
    loft = irregular["loft"]
    bench = bench_of(loft, head="left", job=Job("tide table", "2026-03-04", "treadle", "Zoë"))
    assert (bench.lying.width, bench.lying.height) == (144.0, 240.0)
    bench.lay("bottom", Material("lead", 6.0, 180.0))
    bench.lay("bottom", Material("metal", 24.0, 168.0))
    bench.lay_ends("left", Material("furniture", 24.0, 180.0), Material("furniture", 24.0, 96.0))
    bench.lay_quoins("top", loft.quoin("tiny"), 2)
    bench.lay_quoins("right", loft.quoin("three-inch"), 1)
    lockup = bench.lockup()
    save_lockup(lockup, "mixed", tmp_path)
    again = open_lockup("mixed", tmp_path)
    assert again == lockup and again.head == "left" and again.job.hand == "Zoë"
    assert [item.pattern for item in again.items if item.kind == "quoin"] == ["tiny", "tiny", "three-inch"]
    (ends,) = again.layers("left")
    assert [item.length for item in ends] == [180.0, 96.0] and ends[0].order == ends[1].order == 1
    assert ends[0].y + ends[0].length == pytest.approx(ends[1].y)
    # Put on the stone again, it is the same to the last piece, and can be taken back.
    other = bench_of(loft)
    other.open(again)
    assert other.lockup() == again and other.head == "left" and other.form == Form(240.0, 144.0)
    other.take_back()
    assert other.lockup().items == ()


def test_two_ends_must_be_alike_and_a_row_is_moved_along(breakwater):
    bench = bench_of(breakwater)
    with pytest.raises(ValueError, match="of one kind and thickness"):
        bench.lay_ends("bottom", Material("furniture", 24.0, 120.0), Material("reglet", 6.0, 120.0))
    assert not bench.can_take_back and bench.move_along("top", 6.0) is None
    bench.lay_quoins("top")
    before = [item.x for item in bench.lockup().quoins("top")]
    bench.move_along("top", 6.0)
    assert [item.x for item in bench.lockup().quoins("top")] == pytest.approx([x + 6 for x in before])


def test_what_is_laid_goes_back_to_its_own_place(irregular):
    loft = irregular["loft"]
    bench = bench_of(loft)
    worn = Material("furniture", 35.3, 312.0)
    for piece in (worn, Material("lead", 6.0, 180.0), Material("metal", 24.0, 168.0)):
        bench.lay("bottom", piece)
    away = put_away(bench.lockup(), loft)
    assert {place.words for place, _ in away.wood} == {"Sprat, place 5"} and not away.homeless
    assert {place.kind for place, _ in away.metal} == {"metal", "lead"}
    # Worn pieces make no rows of their own: five thicknesses of furniture, five rows.
    assert {place.row for place in cabinet_places(loft) if place.kind == "furniture"} == {1, 2, 3, 4, 5}


# --- a form turned --------------------------------------------------------------------------------------------


@given(
    head=st.sampled_from(SIDES),
    left=st.integers(20, 60),
    right=st.integers(20, 60),
    foot=st.integers(20, 60),
    top=st.integers(20, 60),
)
def test_a_turned_form_has_the_margins_that_were_asked_for(head, left, right, foot, top):
    form, margins = Form(200.0, 120.0), Margins(left, right, top, foot)
    sheet = Sheet(200.0 + left + right, 120.0 + top + foot)
    place = place_by_custom(form, sheet, margins, Chase("c", 700.0, 600.0), Placing(), head)
    assert place.margins == pytest.approx(margins)
    # Every edge of the sheet lies at one side of the chase, and head and foot, left and right across from each other.
    edges = {side: edge_over(side, head) for side in SIDES}
    assert sorted(edges.values()) == ["foot", "head", "left", "right"] and edges[head] == "head"
    across = {"head": "foot", "foot": "head", "left": "right", "right": "left"}
    assert all(edges[opposite(side)] == across[edges[side]] for side in SIDES)


def test_a_print_is_the_mirror_of_its_form_whichever_way_the_head_points():
    # A form whose head points to the left of the chase, seen from its foot, has the chase's bottom at its left hand:
    # so the sheet's right edge lies there. Derived: the upright case, mirrored left to right, turned.
    form, sheet = PlacedForm(100, 100, 50, 80), PlacedForm(60, 70, 130, 160)
    over = {"left": 40, "right": 40, "bottom": 30, "top": 50}
    printed = printed_margins(form, sheet, "left")
    assert printed == Margins(left=over["top"], right=over["bottom"], head=over["left"], foot=over["right"])


def test_the_panels_turn_a_form_and_say_so(breakwater, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    panel = ChoosePanel(breakwater, "20 picas", "12 picas", "8 × 12")
    control(panel, "Head points to").value = "left"
    lockup = panel.lockup
    assert (lockup.form.width, lockup.form.height, lockup.head) == (144.0, 240.0, "left")
    assert "its head to the left," in page(panel) and sound(judge(lockup, breakwater))
    control(panel, "Name of the lockup").value = "sideways"
    control(panel, "Laid by").value = "O'Brien"
    press(panel, "Save it")
    saved = open_lockup("sideways")
    assert (saved.head, saved.job.hand, saved.job.name) == ("left", "O'Brien", "sideways") and saved.job.date
    hand = HandPanel(breakwater)
    control(hand, "Name of the lockup").value = "sideways"
    press(hand, "Open it")
    assert control(hand, "Form width").value == "20 picas" and control(hand, "Head points to").value == "left"
    place = PlacePanel(breakwater)
    control(place, "Head points to").value = "right"
    assert place.place.head == "right" and "its head to the right" in page(place)


# --- press by press -------------------------------------------------------------------------------------------


def test_a_press_brings_its_chases_its_guides_and_its_tolerance(irregular):
    metric = irregular["metric"]
    panel = HandPanel(metric, "60 mm", "50 mm")
    control(panel, "Press").value = "cylinder"
    lockup = panel.lockup
    assert control(panel, "Solid sides").value == ("bottom", "right")
    assert lockup.job.press == "cylinder"
    assert lockup.intent.tolerance == pytest.approx(metric.custom("cylinder").tolerance)
    assert set(control(panel, "Chase").options) == {"upright", "large"}
    control(panel, "Press").value = "platen"
    assert list(control(panel, "Chase").options) == ["upright"]
    place = PlacePanel(metric, ("120 mm", "120 mm"), ("60 mm", "50 mm"))
    control(place, "Press").value = "platen"
    assert place.place.tolerance == pytest.approx(metric.custom("platen").tolerance)


@pytest.mark.parametrize("name", ["cellar", "loft", "metric"])
def test_each_irregular_shop_can_lay_by_hand_what_it_has(irregular, name):
    shop = irregular[name]
    panel = HandPanel(shop, "60 mm", "50 mm")
    for kind in control(panel, "Piece").options:
        control(panel, "Piece").value = kind
        press(panel, "Lay this piece")
        assert "Laid " in said(panel) and "Something went wrong" not in said(panel)
    assert panel.lockup.items


# --- chases measured anew -------------------------------------------------------------------------------------


@given(
    wider=st.sampled_from([-SIXTEENTH, 0.0, SIXTEENTH]),
    higher=st.sampled_from([-SIXTEENTH, 0.0, SIXTEENTH]),
    quoins=st.sampled_from([("top", "right"), ("bottom", "left"), ("top", "left"), ("bottom", "right")]),
)
def test_a_chase_measured_anew_keeps_its_jobs(wider, higher, quoins):
    upright = plain((240.0, 144.0))
    solid, closed = upright["bottom"], upright["top"]
    beside, closed_beside = upright["left"], upright["right"]
    sides = {
        "bottom": closed if "bottom" in quoins else solid,
        "top": closed if "top" in quoins else solid,
        "left": closed_beside if "left" in quoins else beside,
        "right": closed_beside if "right" in quoins else beside,
    }
    lockup = drawn((240.0, 144.0), sides)
    chase = replace(lockup.chase, width=lockup.chase.width + wider, height=lockup.chase.height + higher)
    shop = replace(shop_of(lockup, WEDGE), chases=(chase,))
    found = in_this_shop(lockup, shop)
    assert found.lockup.chase == chase and bool(found.words) == bool(wider or higher)
    for side in SIDES:
        layers = found.lockup.layers(side)
        made = sum(layer[0].thickness for layer in layers)
        assert made == pytest.approx(found.lockup.gap(side))
        assert [item.length for layer in layers for item in layer] == [item.length for item in lockup.on(side)]
    rules = {finding.rule for finding in judge(found.lockup, shop)}
    # What stood 3 points from a neighbour's end may lie on it now: then the judge says so, and nothing else is lost.
    assert not rules & {"no gap from form to chase", "inside the chase", "true to size", "in its place"}


def test_an_article_before_a_chase_s_name_is_no_other_chase(sound):
    saved = replace(sound, chase=replace(sound.chase, name="the small one"))
    shop = Shop("s", (replace(sound.chase, name="small one"),), {}, (WEDGE,))
    found = in_this_shop(saved, shop)
    assert (found.lockup.chase.name, found.words) == ("small one", "")
    assert nearest_chase(shop.chases, "the small one").name == "small one"


def test_another_chase_of_that_name_is_refused_and_a_missing_one_named(sound):
    shop = Shop("s", (replace(sound.chase, width=sound.chase.width + 80),), {}, (WEDGE,))
    with pytest.raises(ValueError, match="which is another chase"):
        in_this_shop(sound, shop)
    with pytest.raises(ValueError, match=r"which this shop doesn't have; it has “other”"):
        in_this_shop(sound, Shop("s", (Chase("other", 100, 90),), {}, (WEDGE,)))


def test_a_panel_says_what_the_new_measure_changed(breakwater):
    lockup = choose_lockup(Form(240, 144), breakwater.chase("5 × 8"), breakwater)
    save_lockup(lockup, "old")
    first = replace(breakwater.chases[0], width=breakwater.chases[0].width - SIXTEENTH)
    panel = HandPanel(replace(breakwater, chases=(first, *breakwater.chases[1:])))
    control(panel, "Name of the lockup").value = "old"
    press(panel, "Open it")
    assert "The 5 × 8 chase now measures 4.52 pt narrower than when this was laid" in said(panel)
    assert isinstance(panel.lockup, Lockup) and panel.lockup.chase == first


def test_the_nearest_chase_in_size_is_taken_not_the_largest():
    chases = [Chase("quad", 1300, 1000), Chase("card", 500, 330), Chase("folio", 900, 600)]
    for name, nearest in (("8 × 12", "folio"), ("5 x 8", "card"), ("12 × 18", "quad"), ("quad", "quad"), ("?", "quad")):
        assert nearest_chase(chases, name).name == nearest


# --- the shop panel -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["cellar", "loft", "metric"])
def test_the_panel_shows_a_shop_whole(irregular, name):
    panel = ShopPanel(ROOT / "tests" / "shops" / f"{name}.shop.toml")
    shop = irregular[name]
    assert panel.shop == shop and "can be used. Nothing in it is wrong." in said(panel)
    html = page(panel)
    assert all(quoin.name in html for quoin in shop.quoins) and all(chase.name in html for chase in shop.chases)
    for kind in ("furniture", "reglet"):
        assert f"{kind.capitalize()}; lengths in picas" in html
    assert "<svg" in html and "The cabinet of " in html


def test_the_panel_follows_the_file_while_it_is_written(tmp_path):
    path = tmp_path / "mine.toml"
    text = (ROOT / "lessons" / "your-shop.toml").read_text(encoding="utf-8")
    path.write_text(text, encoding="utf-8")
    panel = ShopPanel(path)
    assert repr(panel) == "<shop file mine.toml: in order, 0 questions>"
    path.write_text(text.replace('closed = "2 picas"', 'closed = "29 in"'), encoding="utf-8")
    press(panel, "Look again")
    assert "1 value may be a slip" in said(panel) and "very thick for a quoin" in page(panel)
    path.write_text(text.replace('"8 in"', '"8 in').replace("count = 8", 'count = "8"'), encoding="utf-8")
    press(panel, "Look again")
    assert "holds 1 mistake" in said(panel) and "isn&#x27;t closed" in page(panel)
    path.write_text(text.replace("count = 8", 'count = "8"').replace("keys = 2", "keys = -2"), encoding="utf-8")
    press(panel, "Look again")
    assert "holds 2 mistakes" in said(panel) and page(panel).count("Line ") >= 2
    path.unlink()
    press(panel, "Look again")
    assert "can't be opened" in said(panel)


# --- tightening and the sheet follow the head ------------------------------------------------------------------


def test_head_and_foot_are_tightened_before_the_sides_wherever_the_head_points():
    # T. MacKellar, The American Printer, 1893, p. 148: feet before sides.
    lockup = drawn((240.0, 144.0), plain((240.0, 144.0)))
    shop = shop_of(lockup, replace(WEDGE, turn=2.0))
    upright, sideways = card_of(lockup, shop), card_of(replace(lockup, head="left"), shop)
    assert upright.quoins[upright.order[0]].startswith("top") and "sides before top and bottom" in upright.steps[-1]
    assert sideways.quoins[sideways.order[0]].startswith("right")
    assert "top and bottom before the sides" in " ".join(sideways.steps)


def test_the_sheet_for_the_stone_names_the_job_and_which_way_the_head_points():
    lockup = drawn((240.0, 144.0), plain((240.0, 144.0)))
    job = Job("tide table", "2026-03-04", "treadle", "Ana M.")
    figure = sheet_figure(replace(lockup, head="left", job=job), shop_of(lockup, replace(WEDGE, turn=2.0)), "A4")
    title = " ".join(text.get_text() for text in figure.texts)
    for part in ("Head to the left", "job tide table", "press treadle", "laid by Ana M.", "2026-03-04"):
        assert part in title


def test_a_turned_form_is_told_by_the_size_one_reads_it_by():
    lockup = replace(drawn((240.0, 144.0), plain((240.0, 144.0))), head="left")
    shop = shop_of(lockup, replace(WEDGE, turn=2.0))
    assert sentence(lockup, shop, ()).startswith("A form 12 picas wide and 20 picas high, its head to the left,")
    assert sheet_figure(lockup, shop).texts[0].get_text().startswith("Form 12 picas × 20 picas")
