"""The record of a lockup: its exact shape, its way to JSON and back, and its geometry against Shapely."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from typing import get_args

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from stonework.lockup import (
    FILLINGS,
    KINDS,
    SIDES,
    UNIT,
    Block,
    Extent,
    Filling,
    Intent,
    Item,
    Lockup,
    PlacedForm,
    Side,
    along_x,
    lay,
    opposite,
    pattern_of,
)
from stonework.shop import Chase, Material, Quoin

FILLING_KEYS = ["kind", "thickness", "length", "x", "y", "width", "height"]
ITEM_KEYS = ["side", "order", "kind", "thickness", "length", "x", "y", "width", "height"]

# --- random lockups ---------------------------------------------------------------------------------------

places = st.floats(-1e4, 1e4)
sizes = st.floats(1e-6, 1e4)
words = st.text(st.characters(exclude_categories=("C", "Z")) | st.just(" "), max_size=120)
chases = st.builds(Chase, words, sizes, sizes)
forms = st.builds(PlacedForm, places, places, sizes, sizes)
intents = st.builds(Intent, places, places, st.floats(0, 1e4), st.none() | forms)
fillings = st.builds(Filling, st.sampled_from(FILLINGS), sizes, sizes, places, places, sizes, sizes)
blocks = st.builds(Block, st.lists(forms, max_size=3).map(tuple), st.lists(fillings, max_size=4).map(tuple))


@st.composite
def laid(draw, form):
    side, kind = draw(st.sampled_from(SIDES)), draw(st.sampled_from(KINDS))
    return lay(
        form,
        side,
        draw(st.integers(1, 9)),
        kind,
        thickness=draw(sizes),
        length=draw(sizes),
        low=draw(places),
        near=draw(places),
    )


@st.composite
def lockups(draw, least=0):
    form = draw(forms)
    items = draw(st.lists(laid(form), min_size=least, max_size=6))
    return Lockup(draw(chases), form, draw(words), tuple(items), draw(st.none() | intents), draw(st.none() | blocks))


# Whole quarter points are exact in binary, so what is far apart on paper is far apart here too.
quarters = st.integers(-4000, 4000).map(lambda n: n / 4)
quarter_sizes = st.integers(1, 4000).map(lambda n: n / 4)
quarter_forms = st.builds(PlacedForm, quarters, quarters, quarter_sizes, quarter_sizes)


def with_form(form: PlacedForm, *items: Item) -> Lockup:
    return Lockup(Chase("any", 1000.0, 1000.0), form, "by hand", items)


def box(rectangle: Item | PlacedForm) -> shapely.Polygon:
    return shapely.box(rectangle.x, rectangle.y, rectangle.x + rectangle.width, rectangle.y + rectangle.height)


# --- the record -------------------------------------------------------------------------------------------


def test_the_record_has_these_keys_in_this_order(sound):
    record = sound.to_dict()
    assert list(record) == ["unit", "chase", "form", "arrangement", "items", "intent"]
    assert list(record["chase"]) == ["name", "width", "height"]
    assert list(record["form"]) == ["x", "y", "width", "height"]
    assert isinstance(record["items"], list)
    assert len(record["items"]) == len(sound.items) == 11
    assert all(list(item) == ITEM_KEYS for item in record["items"])


def test_the_record_says_what_lies_where(sound):
    record = sound.to_dict()
    assert record["unit"] == "american_point"
    assert record["chase"] == {"name": "small", "width": 274.0, "height": 225.0}
    assert record["form"] == {"x": 60.0, "y": 48.0, "width": 144.0, "height": 120.0}
    assert record["arrangement"] == "pinwheel-clockwise"
    first = next(item for item in record["items"] if item["kind"] == "quoin")
    assert list(first.values()) == ["top", 3, "quoin", 21.0, 36.0, 114.0, 198.0, 36.0, 21.0]


def test_the_wish_is_kept_but_makes_no_other_lockup(sound):
    assert Lockup.from_dict(sound.to_dict()).intent == Intent(60.0, 48.0, 6.0)
    bare = replace(sound, intent=None)
    assert bare == sound and "intent" not in bare.to_dict()
    assert Lockup.from_dict(bare.to_dict()).intent is None


def test_a_block_is_kept_with_all_that_is_in_it(sound):
    record = built(sound).to_dict()
    assert list(record["block"]) == ["forms", "pieces"]
    assert list(record["block"]["pieces"][0]) == FILLING_KEYS
    assert Lockup.from_dict(record) == built(sound) != sound
    assert "block" not in sound.to_dict()


def test_the_pieces_of_a_block_have_their_sizes_in_the_cabinet_but_for_leads(sound):
    metal, lead = built(sound).block.pieces
    assert metal.material == Material("metal", 24.0, 144.0)
    with pytest.raises(ValueError, match="cut from a strip"):
        _ = lead.material


@given(lockups())
def test_a_record_reads_back_as_the_same_lockup(lockup):
    record = lockup.to_dict()
    assert Lockup.from_dict(record) == lockup
    assert Lockup.from_dict(record).to_dict() == record


@given(lockups())
def test_a_record_survives_json(lockup):
    record = lockup.to_dict()
    written = json.dumps(record, allow_nan=False)
    assert json.loads(written) == record
    assert Lockup.from_dict(json.loads(written)) == lockup
    assert json.dumps(Lockup.from_dict(json.loads(written)).to_dict()) == written


def test_a_record_is_a_copy(sound):
    record = sound.to_dict()
    record["items"].clear()
    record["form"]["x"] = 0.0
    record["chase"]["name"] = "another"
    assert len(sound.items) == 11
    assert sound.form.x == 60.0
    assert sound.chase.name == "small"


def test_reading_a_record_leaves_it_alone(sound):
    record = sound.to_dict()
    before = json.dumps(record)
    Lockup.from_dict(record)
    assert json.dumps(record) == before


def test_whole_numbers_will_do_for_points(sound):
    record = json.loads(json.dumps(sound.to_dict()).replace(".0", ""))
    assert Lockup.from_dict(record) == sound


def built(sound):
    """Return the sound lockup with its form built up from a line of 144 × 94."""
    metal = Filling("metal", 24.0, 144.0, 60.0, 48.0, 144.0, 24.0)
    lead = Filling("lead", 2.0, 144.0, 60.0, 72.0, 144.0, 2.0)
    return replace(sound, block=Block((PlacedForm(60.0, 74.0, 144.0, 94.0),), (metal, lead)))


def test_the_type_area_is_the_form_or_all_forms_of_its_block(sound):
    assert sound.type_area == sound.form
    assert built(sound).type_area == PlacedForm(60.0, 74.0, 144.0, 94.0)
    two = (PlacedForm(60.0, 50.0, 40.0, 30.0), PlacedForm(150.0, 60.0, 20.0, 40.0))
    assert replace(sound, block=Block(two, ())).type_area == PlacedForm(60.0, 50.0, 110.0, 50.0)


# --- bad records ------------------------------------------------------------------------------------------

MISSING = object()


def changed(record, path, value):
    """Return the record with one value put at a path such as ``("items", 0, "x")``, or taken away."""
    record = json.loads(json.dumps(record))
    *above, last = path
    there = record
    for step in above:
        there = there[step]
    if value is MISSING:
        del there[last]
    else:
        there[last] = value
    return record


def refusal(record) -> str:
    """Return why a record is refused: one plain line, from a ValueError and nothing else."""
    with pytest.raises(ValueError) as caught:
        Lockup.from_dict(record)
    assert type(caught.value) is ValueError
    words = str(caught.value)
    assert words.endswith(".")
    assert words[0].isupper()
    assert "\n" not in words
    return words


KEYS = [
    *[(key,) for key in ("unit", "chase", "form", "arrangement", "items")],
    *[("chase", key) for key in ("name", "width", "height")],
    *[("form", key) for key in ("x", "y", "width", "height")],
    *[("items", 1, key) for key in ITEM_KEYS],
]
NUMBERS = [path for path in KEYS if path[-1] in {"x", "y", "width", "height", "thickness", "length"}]
SIZES = [path for path in NUMBERS if path[-1] not in {"x", "y"}]


def place(path) -> str:
    """The words a refusal uses for a path: item 2's x."""
    where = {1: lambda: path[0], 2: lambda: f"{path[0]}'s {path[1]}", 3: lambda: f"item {path[1] + 1}'s {path[2]}"}
    return where[len(path)]()


def named(path) -> str:
    return "-".join(map(str, path))


@pytest.mark.parametrize("path", KEYS, ids=named)
def test_a_missing_key_is_named(sound, path):
    words = refusal(changed(sound.to_dict(), path, MISSING))
    assert f"lacks {path[-1]};" in words
    holder = {1: "lockup", 2: path[0], 3: "Item 2"}[len(path)]
    assert holder.lower() in words.lower()


@pytest.mark.parametrize("above", [(), ("chase",), ("form",), ("items", 1)], ids=named)
def test_an_unknown_key_is_named(sound, above):
    words = refusal(changed(sound.to_dict(), (*above, "colour"), "blue"))
    assert "colour" in words
    assert "expected: " in words


def test_what_is_lacking_and_what_was_expected_is_listed(sound):
    record = changed(sound.to_dict(), ("chase", "colour"), "blue")
    assert refusal(record) == "Chase holds colour, which isn't known here; expected: name, width, height."
    more = changed(record, ("chase", "smell"), "inky")
    assert refusal(more) == "Chase holds colour, smell, which isn't known here; expected: name, width, height."
    bare = changed(changed(sound.to_dict(), ("chase", "width"), MISSING), ("chase", "name"), MISSING)
    assert refusal(bare) == "Chase lacks name, width; expected: name, width, height."


@pytest.mark.parametrize("unit", ["point", "american_pica", "mm", "", None, 1, True, [], {}])
def test_another_unit_is_refused(sound, unit):
    words = refusal(changed(sound.to_dict(), ("unit",), unit))
    assert "unit" in words
    assert repr(unit) in words
    assert repr(UNIT) in words


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, True, False, None, "12", [12.0], {}])
@pytest.mark.parametrize("path", NUMBERS, ids=named)
def test_what_is_no_number_of_points_is_refused(sound, path, value):
    words = refusal(changed_in_place(sound, path, value))
    assert place(path) in words
    assert repr(value) in words
    assert "a number of points was expected" in words


def changed_in_place(sound, path, value):
    """As ``changed``; for values that JSON doesn't know."""
    record = changed(sound.to_dict(), path, 0)
    there = record
    for step in path[:-1]:
        there = there[step]
    there[path[-1]] = value
    return record


@pytest.mark.parametrize("value", [10**400, -(10**400)], ids=["huge", "huge below nothing"])
@pytest.mark.parametrize("path", [("form", "x"), ("chase", "width"), ("items", 1, "thickness")], ids=named)
def test_a_whole_number_too_large_for_points_is_refused(sound, path, value):
    assert place(path) in refusal(changed_in_place(sound, path, value))


@pytest.mark.parametrize("value", [-1.0, -0.0, 0, -1e-300])
@pytest.mark.parametrize("path", SIZES, ids=named)
def test_a_size_of_nothing_or_less_is_refused(sound, path, value):
    words = refusal(changed(sound.to_dict(), path, value))
    assert place(path) in words
    assert "more than nothing was expected" in words


@pytest.mark.parametrize("path", [path for path in NUMBERS if path[-1] in {"x", "y"}], ids=named)
def test_a_place_may_be_below_nothing(sound, path):
    # A piece laid by hand may stick out of the chase: that is for the rules to say.
    assert Lockup.from_dict(changed(sound.to_dict(), path, -3.0)) != sound


@pytest.mark.parametrize("value", ["middle", "Left", "", None, 1, ["left"], {}])
def test_a_side_is_one_of_four(sound, value):
    words = refusal(changed(sound.to_dict(), ("items", 1, "side"), value))
    assert "item 2's side" in words
    assert "one of bottom, left, top, right was expected" in words


@pytest.mark.parametrize("value", ["wood", "Quoin", "", None, 1, ["reglet"], {}])
def test_a_kind_is_one_of_five(sound, value):
    words = refusal(changed(sound.to_dict(), ("items", 1, "kind"), value))
    assert "item 2's kind" in words
    assert "one of furniture, reglet, quoin, metal, lead was expected" in words


@pytest.mark.parametrize("value", [0, -1, 1.0, True, "1", None, math.nan])
def test_an_order_counts_from_one(sound, value):
    words = refusal(changed_in_place(sound, ("items", 1, "order"), value))
    assert "item 2's order" in words
    assert "a whole number from 1 to 2000 was expected" in words


@pytest.mark.parametrize("path", [("arrangement",), ("chase", "name")], ids=named)
@pytest.mark.parametrize("value", [None, 1, True, ["pinwheel"], {}])
def test_a_word_is_a_word(sound, path, value):
    words = refusal(changed(sound.to_dict(), path, value))
    assert place(path) in words
    assert "a word was expected" in words


@pytest.mark.parametrize("path", [("chase",), ("form",), ("items",), ("items", 1)], ids=named)
@pytest.mark.parametrize("value", [None, 1, "here", True])
def test_a_part_of_the_record_is_of_its_kind(sound, path, value):
    words = refusal(changed(sound.to_dict(), path, value))
    assert {1: path[0], 2: "item 2"}[len(path)] in words.lower()
    assert "was expected" in words


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        (("intent",), "here", "Intent was read as 'here'"),
        (("intent", "tolerance"), -1, "The intent's tolerance was read as -1; nothing or more was expected."),
        (("intent", "x"), "left", "The intent's x was read as 'left'; a number of points was expected."),
        (("intent", "sheet"), [], "Sheet was read as []"),
        (("intent", "sheet"), {"x": 0, "y": 0, "width": 0, "height": 9}, "The sheet's width was read as 0"),
        (("block",), [], "Block was read as []"),
        (("block", "forms"), {}, "The block's forms were read as {}; a list was expected."),
        (("block", "forms", 0, "width"), 0, "The block's form 1's width was read as 0"),
        (("block", "forms", 0, "height"), -1, "The block's form 1's height was read as -1; more than nothing"),
        (("block", "pieces", 1, "kind"), "quoin", "one of furniture, reglet, metal, lead was expected"),
        (("block", "pieces", 1, "thickness"), None, "The block's piece 2's thickness was read as None"),
        (("block", "pieces", 1, "thickness"), 0, "The block's piece 2's thickness was read as 0; more than nothing"),
        (("block", "pieces", 0, "length"), -12, "The block's piece 1's length was read as -12; more than nothing"),
        (("block", "pieces", 1, "y"), MISSING, "Block's piece 2 lacks y"),
    ],
)
def test_a_wish_or_a_block_that_is_none_is_refused(sound, path, value, words):
    assert words in refusal(changed(built(sound).to_dict(), path, value))


@pytest.mark.parametrize("tolerance", [0, 0.25, 6])
def test_a_form_may_be_wanted_in_its_place_to_the_point(sound, tolerance):
    record = changed(built(sound).to_dict(), ("intent", "tolerance"), tolerance)
    assert Lockup.from_dict(record).intent.tolerance == tolerance


@pytest.mark.parametrize("record", [None, 1, "a lockup", [], True, {}])
def test_a_record_is_a_table(record):
    assert "lockup" in refusal(record)


scraps = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=9) | st.sampled_from([*SIDES, *KINDS]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from([*ITEM_KEYS, "name"]), inner),
    max_leaves=6,
)


@given(lockups(least=2), st.sampled_from(KEYS), scraps)
def test_any_record_is_read_as_it_stands_or_refused(lockup, path, scrap):
    record = lockup.to_dict()
    there = record
    for step in path[:-1]:
        there = there[step]
    there[path[-1]] = scrap
    try:
        read = Lockup.from_dict(record)
    except ValueError as error:
        assert type(error) is ValueError
        assert str(error).endswith(".")
    else:
        assert read.to_dict() == record


# --- geometry ---------------------------------------------------------------------------------------------


def test_the_four_sides():
    assert get_args(Side) == SIDES == ("bottom", "left", "top", "right")
    assert {side for side in SIDES if along_x(side)} == {"bottom", "top"}
    assert {side: opposite(side) for side in SIDES} == {
        "bottom": "top",
        "top": "bottom",
        "left": "right",
        "right": "left",
    }


@given(quarter_forms, quarter_sizes, quarter_sizes)
def test_the_gaps_and_the_form_make_up_the_chase(form, width, height):
    lockup = Lockup(Chase("any", width, height), form, "", ())
    assert lockup.gap("left") + form.width + lockup.gap("right") == width
    assert lockup.gap("bottom") + form.height + lockup.gap("top") == height
    assert {side: lockup.side_length(side) for side in SIDES} == {
        "bottom": form.width,
        "top": form.width,
        "left": form.height,
        "right": form.height,
    }


@pytest.mark.parametrize(
    ("side", "corners"),
    [
        ("bottom", (15.0, 13.0, 45.0, 16.0)),
        ("left", (3.0, 25.0, 6.0, 55.0)),
        ("top", (15.0, 64.0, 45.0, 67.0)),
        ("right", (34.0, 25.0, 37.0, 55.0)),
    ],
)
def test_a_piece_laid_on_each_side(side, corners):
    # A form 20 × 40 with its corner at (10, 20); the piece is 3 × 30, begins 5 along and lies 4 out.
    item = lay(PlacedForm(10, 20, 20, 40), side, 2, "reglet", thickness=3, length=30, low=5, near=4)
    assert (item.x, item.y, item.x + item.width, item.y + item.height) == corners
    assert (item.side, item.order, item.kind, item.thickness, item.length) == (side, 2, "reglet", 3, 30)


@given(quarter_forms, st.sampled_from(SIDES), quarter_sizes, quarter_sizes, quarters, quarters)
def test_laying_and_looking_are_inverse(form, side, thickness, length, low, near):
    item = lay(form, side, 1, "furniture", thickness=thickness, length=length, low=low, near=near)
    seen = with_form(form, item).seen_from(side, item)
    assert seen == Extent(low, low + length, near, near + thickness)


@given(quarter_forms, st.sampled_from(SIDES), quarter_forms)
def test_a_rectangle_seen_from_a_side_can_be_laid_there_again(form, side, rectangle):
    seen = with_form(form).seen_from(side, rectangle)
    again = lay(
        form,
        side,
        1,
        "furniture",
        thickness=seen.far - seen.near,
        length=seen.high - seen.low,
        low=seen.low,
        near=seen.near,
    )
    assert box(again).equals(box(rectangle))


@given(quarter_forms)
def test_the_form_seen_from_its_own_sides(form):
    for side in SIDES:
        lockup = with_form(form)
        across = lockup.side_length("left" if along_x(side) else "bottom")
        assert lockup.seen_from(side, form) == Extent(0.0, lockup.side_length(side), -across, 0.0)


@given(quarter_forms, st.sampled_from(SIDES), quarter_forms, quarter_forms)
def test_what_overlaps_from_one_side_overlaps_on_the_stone(form, side, one, other):
    lockup = with_form(form)
    a, b = lockup.seen_from(side, one), lockup.seen_from(side, other)
    shared = max(0.0, min(a.high, b.high) - max(a.low, b.low)) * max(0.0, min(a.far, b.far) - max(a.near, b.near))
    assert shared == box(one).intersection(box(other)).area


@given(quarter_forms, st.sampled_from(SIDES), quarter_sizes, quarters, quarters)
def test_distance_from_the_form_is_what_shapely_measures(form, side, thickness, near, low):
    # A piece beside the side, not past its ends: then the distance is how far out it begins.
    length = with_form(form).side_length(side)
    item = lay(form, side, 1, "reglet", thickness=thickness, length=length, low=low % length / 2, near=abs(near))
    assert box(form).distance(box(item)) == pytest.approx(abs(near), rel=1e-12)
    assert not box(form).contains(box(item).centroid)


@given(quarter_forms, st.sampled_from(SIDES), quarter_sizes)
def test_a_gap_is_the_strip_of_chase_beside_the_form(form, side, beyond):
    # The chase drawn round the form, and what Shapely leaves of that side when the form is cut away.
    form = PlacedForm(beyond, 2 * beyond, form.width, form.height)
    chase = Chase("any", form.width + 4 * beyond, form.height + 6 * beyond)
    lockup = Lockup(chase, form, "", ())
    strip = lay(form, side, 1, "furniture", thickness=lockup.gap(side), length=lockup.side_length(side), low=0, near=0)
    inside = shapely.box(0, 0, chase.width, chase.height)
    assert inside.covers(box(strip))
    assert box(strip).touches(box(form))
    assert inside.boundary.intersection(box(strip)).length == lockup.side_length(side)


# --- looking at a lockup ----------------------------------------------------------------------------------


def test_the_items_of_a_side_from_the_form_outward(sound):
    backward = Lockup(sound.chase, sound.form, sound.arrangement, sound.items[::-1])
    for lockup in (sound, backward):
        assert [item.order for item in lockup.on("top")] == [1, 2, 3, 4]
        assert {item.side for item in lockup.on("top")} == {"top"}
        assert sum(len(lockup.on(side)) for side in SIDES) == len(lockup.items)


def test_what_is_only_told_of_a_thing_makes_it_no_other(sound):
    quoin = sound.quoins("top")[0]
    assert replace(quoin, pattern="small wedge") == quoin != replace(quoin, thickness=quoin.thickness + 1)
    chase = sound.chase
    assert replace(chase, weight=4.5, clear_corners=2.0, count=3) == chase != replace(chase, width=chase.width + 1)


def test_the_quoins_and_the_wood(sound):
    assert sound.quoin_sides == ("top", "right")
    assert [len(sound.quoins(side)) for side in SIDES] == [0, 0, 1, 1]
    assert len(sound.wood) == 9
    assert all(item.kind != "quoin" for item in sound.wood)


def test_a_piece_of_wood_is_looked_for_by_its_size(sound):
    assert sound.on("left")[1].material == Material("furniture", 24.0, 132.0)
    assert sound.on("top")[1].material == Material("reglet", 6.0, 144.0)
    with pytest.raises(ValueError, match=r"^A quoin isn't kept in the wood cabinet\.$"):
        _ = sound.quoins("top")[0].material


def test_solid_sides_go_in_first_and_quoins_last(sound):
    # This workbook's own order: the solid corner first, for quoins push against it; then wood; then the quoins.
    order = sound.placing_order()
    assert sorted(order, key=sound.items.index) == list(sound.items)
    stage = [2 if i.kind == "quoin" else 1 if i.side in sound.quoin_sides else 0 for i in order]
    assert stage == sorted(stage)
    for side in SIDES:
        laid_there = [item.order for item in order if item.side == side and item.kind != "quoin"]
        assert laid_there == sorted(laid_there)


def quoin(name, *, length=36.0, closed=18.0, travel=12.0, reserve=4.0):
    return Quoin(name, length, closed, travel, reserve, 0.0, 0.0, 144.0)


@pytest.mark.parametrize(("thickness", "name"), [(17.0, "thin"), (18.0, "thin"), (26.0, "thin"), (31.0, "thick")])
def test_which_quoin_an_item_is(thickness, name):
    quoins = [quoin("thin"), quoin("thick", closed=30.0), quoin("long", length=72.0, closed=31.0)]
    item = Item("top", 1, "quoin", thickness, 36.0, 0.0, 0.0, 36.0, thickness)
    assert pattern_of(item, quoins) == next(q for q in quoins if q.name == name)


def test_a_quoin_of_another_length_is_none_of_the_shops():
    item = Item("top", 1, "quoin", 20.0, 40.0, 0.0, 0.0, 40.0, 20.0)
    assert pattern_of(item, [quoin("only")]) is None
    assert pattern_of(item, []) is None
