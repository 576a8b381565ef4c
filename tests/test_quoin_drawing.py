"""How quoins are drawn: each kind its own way, to the opening told, and never beyond the travel."""

from dataclasses import replace
from itertools import product

import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.path import Path
from stonework.choosing import choose_lockup
from stonework.drawing import PlanView
from stonework.drawing.quoins import quoin_marks, quoin_nut, quoin_parts, quoin_room
from stonework.drawing.wedge import WedgeView, jaws, wedge_words, wedges
from stonework.form import Form
from stonework.lockup import SIDES, Item, along_x
from stonework.shop import LAST_NOTCH

WEDGE, SMALL, LONG = 0, 1, 2  # the Breakwater school's patterns, in the order of its file


def lying(quoin, side, opening=3.0):
    """A quoin laid on a side, its lower left corner at 100, 200."""
    thick = quoin.closed + opening
    across = (quoin.length, thick) if along_x(side) else (thick, quoin.length)
    return Item(side, 1, "quoin", thick, quoin.length, 100.0, 200.0, *across)


def extent(points):
    """The least and most x and y of some points."""
    return tuple(f(p[axis] for p in points) for f in (min, max) for axis in (0, 1))


def area(corners):
    """The area of a closed shape, by the shoelace formula."""
    return abs(sum(x * b - a * y for (x, y), (a, b) in zip(corners, corners[1:] + corners[:1], strict=True))) / 2


def said(view):
    return [text.get_text() for text in view.axes.texts if text.get_visible() and text.get_text()]


def hatched(view, hatch):
    """What is drawn in a hatch: the outlines of its shapes."""
    (patch,) = [patch for patch in view.axes.patches if patch.get_hatch() == hatch]
    return [shape.tolist() for shape in patch.get_path().to_polygons()]


# --- in a plan -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("n", [WEDGE, SMALL, LONG])
def test_the_halves_fill_a_quoin_s_outline_but_for_the_daylight(n, side, breakwater):
    item = lying(breakwater.quoins[n], side)
    halves = quoin_parts(item, breakwater.quoins[n])
    assert len(halves) == 2
    whole = extent([corner for half in halves for corner in half])
    assert whole == pytest.approx((item.x, item.y, item.x + item.width, item.y + item.height))
    filled = sum(area(half) for half in halves) / (item.width * item.height)
    assert 0.75 < filled < 0.95


@pytest.mark.parametrize("side", SIDES)
def test_two_wedges_taper_and_two_jaws_do_not(side, breakwater):
    deep = 1 if along_x(side) else 0  # the axis across the quoin
    tapers = []
    for n in (WEDGE, LONG):
        item = lying(breakwater.quoins[n], side)
        half, _ = quoin_parts(item, breakwater.quoins[n])
        ends = {}
        for corner in half:
            ends.setdefault(round(corner[1 - deep], 6), []).append(corner[deep])
        tapers.append(sorted(max(at) - min(at) for at in ends.values()))
    (thin, broad), (one, other) = tapers
    assert broad > 2 * thin and one == pytest.approx(other)


@pytest.mark.parametrize("side", SIDES)
def test_only_one_piece_has_a_nut_and_it_is_in_its_middle(side, breakwater):
    for n in (WEDGE, SMALL):
        assert quoin_nut(lying(breakwater.quoins[n], side), breakwater.quoins[n]) == []
    item = lying(breakwater.quoins[LONG], side)
    (nut,) = quoin_nut(item, breakwater.quoins[LONG])
    left, low, right, high = extent(nut)
    assert (left + right) / 2 == pytest.approx(item.x + item.width / 2)
    assert (low + high) / 2 == pytest.approx(item.y + item.height / 2)
    assert right - left == pytest.approx(high - low) and right - left < item.thickness  # round, and within it


@pytest.mark.parametrize("side", SIDES)
def test_outlines_are_marked_by_kind_within_the_quoin(side, breakwater):
    marks = []
    for n in (WEDGE, LONG):
        item = lying(breakwater.quoins[n], side)
        lines = quoin_marks(item, breakwater.quoins[n])
        left, low, right, high = extent([end for line in lines for end in line])
        assert item.x <= left < right <= item.x + item.width and item.y <= low < high <= item.y + item.height
        marks.append(lines)
    slant, nut = marks
    ((x, y), (far, top)) = slant[0]
    assert len(slant) == 1 and x != far and y != top
    assert len(nut) > 10


def test_a_quoin_of_no_known_pattern_is_a_plain_body(breakwater):
    item = lying(breakwater.quoins[WEDGE], "top")
    ((*outline,),) = quoin_parts(item, None)
    assert extent(outline) == (item.x, item.y, item.x + item.width, item.y + item.height)
    assert quoin_nut(item, None) == quoin_marks(item, None) == []


@pytest.mark.parametrize("side", SIDES)
def test_words_on_one_piece_stand_clear_of_its_nut(side, breakwater):
    quoin = breakwater.quoins[LONG]
    item = lying(quoin, side)
    room, (nut,) = quoin_room(item, quoin), quoin_nut(item, quoin)
    left, low, _, _ = extent(nut)
    assert room.x + room.width <= left + 1e-9 or room.y + room.height <= low + 1e-9
    assert item.x <= room.x and room.x + room.width <= item.x + item.width
    whole = quoin_room(lying(breakwater.quoins[WEDGE], side), breakwater.quoins[WEDGE])
    assert max(whole.width, whole.height) == breakwater.quoins[WEDGE].length


@pytest.mark.parametrize("n", [WEDGE, LONG])
def test_the_plan_draws_each_quoin_by_its_pattern(n, breakwater):
    quoin = breakwater.quoins[n]
    lockup = choose_lockup(Form(360, 216), breakwater.chase("8 × 12"), breakwater, quoin=quoin)
    view = PlanView()
    view.draw(lockup, breakwater)
    items = [item for item in lockup.items if item.kind == "quoin"]
    assert len(hatched(view, "////")) == 2 * len(items)
    closed = [shape for patch in view.axes.patches for shape in patch.get_path().to_polygons()]
    round_ones = [extent(shape.tolist()) for shape in closed if len(shape) == 17]
    assert len(round_ones) == (len(items) if quoin.kind == "one piece" else 0)
    for left, low, right, high in round_ones:
        middle = ((left + right) / 2, (low + high) / 2)
        assert any(middle == pytest.approx((i.x + i.width / 2, i.y + i.height / 2)) for i in items)
    # A shop that has no such quoin can't say what it is.
    view.draw(lockup, replace(breakwater, quoins=[replace(quoin, length=quoin.length + 6)]))
    assert len(hatched(view, "////")) == len(items)


FORMS = [(27, 17), (20, 14), (30, 18), (21, 15.75), (34, 22), (14, 10.5), (12, 20), (24, 12), (18, 30), (60, 40)]


@pytest.mark.parametrize("chase", ["5 × 8", "6 × 9", "8 × 12", "10 × 15"])
def test_no_label_lies_on_the_iron_or_on_another(chase, breakwater):
    view, drawn = PlanView(), 0
    inside = breakwater.chase(chase)
    for (width, height), quoin in product(FORMS, breakwater.quoins):
        try:
            lockup = choose_lockup(Form(12 * width, 12 * height), inside, breakwater, quoin=quoin)
        except ValueError:
            continue
        drawn += 1
        view.draw(lockup, breakwater)
        renderer = FigureCanvasAgg(view.figure).get_renderer()
        words = [text for text in view.axes.texts if text.get_visible() and text.get_text().strip()]
        boxes = [(text, text.get_window_extent(renderer)) for text in words]
        for n, (text, box) in enumerate(boxes):
            assert [o.get_text() for o, other in boxes[:n] if box.overlaps(other)] == [], text.get_text()
            if ":" in text.get_text():
                (left, low), (right, high) = view.axes.transData.inverted().transform(box.get_points())
                assert min(left, low) >= 0 and right <= inside.width and high <= inside.height, text.get_text()
    assert drawn >= 2


def test_labels_stay_where_they_are_while_one_steps_through(breakwater):
    lockup = choose_lockup(Form(360, 216), breakwater.chase("8 × 12"), breakwater)
    view, places = PlanView(), {}
    for placed in range(1, len(lockup.items) + 1):
        view.draw(lockup, breakwater, placed=placed)
        for text in view.axes.texts:
            if text.get_visible() and ":" in text.get_text():
                places.setdefault(text.get_text(), set()).add(text.get_position())
    assert len(places) == len(lockup.wood)
    assert all(len(found) == 1 for found in places.values())


# --- one quoin, large ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("opening", [0.0, 0.5, 3.0, 7.25, 9.0])
@pytest.mark.parametrize("n", [WEDGE, SMALL, LONG])
def test_its_faces_are_as_far_apart_as_it_is_thick(n, opening, breakwater):
    quoin = breakwater.quoins[n]
    halves = (jaws if quoin.kind == "one piece" else wedges)(quoin, opening)
    _, low, _, high = extent([corner for half in halves for corner in half])
    assert high - low == pytest.approx(quoin.closed + opening)


@pytest.mark.parametrize("opening", [0.0, 3.0, 12.0])
def test_two_wedges_touch_all_along_their_slopes(opening, breakwater):
    low, high = wedges(breakwater.quoins[WEDGE], opening)
    (_, _, (x, y), (left, top)), (_, _, (a, b), (c, d)) = low, high
    slope = (top - y) / (left - x)
    assert (d - b) / (c - a) == pytest.approx(slope)  # alike
    assert b - y == pytest.approx(slope * (a - x))  # and on one line


@pytest.mark.parametrize("opening", [0.0, 2.0, 9.0])
def test_two_jaws_part_by_the_opening_and_do_not_slide(opening, breakwater):
    quoin = breakwater.quoins[LONG]
    low, high = jaws(quoin, opening)
    (left, _, right, inner), (start, outer, stop, _) = extent(low), extent(high)
    assert outer - inner == pytest.approx(opening)
    assert (left, right) == pytest.approx((start, stop)) == (0, quoin.length)
    # The hollow leaves iron behind it.
    middle = Path(low).contains_points([(quoin.length / 2, y) for y in (0.05 * quoin.closed, 0.45 * quoin.closed)])
    assert middle.tolist() == [True, False]


def test_the_two_kinds_are_drawn_and_told_differently(breakwater):
    views = []
    for n in (WEDGE, LONG):
        view = WedgeView()
        view.draw(breakwater.quoins[n], 2)
        views.append(view)
    wedge, one = views
    assert "two wedges" in wedge.words and "jaws" not in wedge.words
    assert "two jaws" in one.words and "wedges" not in one.words
    assert any("last notch" in words for words in said(wedge)) and not any("end of" in words for words in said(wedge))
    assert any("end of its travel" in words for words in said(one)) and not any("notch" in words for words in said(one))
    # A keyhole in the middle, and a nut round it: 24 sides, which nothing has in a pair of wedges.
    sides = [[len(shape) - 1 for patch in v.axes.patches for shape in patch.get_path().to_polygons()] for v in views]
    assert 24 not in sides[0] and sides[1].count(24) == 1


def test_one_kind_drawn_after_the_other_leaves_nothing_behind(breakwater):
    reused, fresh = WedgeView(), WedgeView()
    reused.draw(breakwater.quoins[LONG], 4)
    reused.draw(breakwater.quoins[WEDGE], 3)
    fresh.draw(breakwater.quoins[WEDGE], 3)
    assert reused.svg() == fresh.svg()


@pytest.mark.parametrize("n", [WEDGE, SMALL, LONG])
def test_the_bar_divides_the_travel_where_the_words_do(n, breakwater):
    quoin, view = breakwater.quoins[n], WedgeView()
    view.draw(quoin, quoin.rest)
    ((reserve),), ((end),) = hatched(view, "///"), hatched(view, "xxxx")
    (_, finger, _, tight), (_, low_end, _, last) = extent(reserve), extent(end)
    per_point = (last - low_end) / LAST_NOTCH
    assert tight == pytest.approx(low_end)
    assert (tight - finger) / per_point == pytest.approx(quoin.most_tight - quoin.most_open)
    shut = last - quoin.travel * per_point
    bars = [extent(s.tolist()) for patch in view.axes.patches for s in patch.get_path().to_polygons() if len(s) == 5]
    (used,) = [bar for bar in bars if bar[1] == pytest.approx(shut) and bar[3] < last - 1 and bar[2] - bar[0] < 10]
    assert (used[3] - shut) / per_point == pytest.approx(quoin.rest)
    words = " ".join(said(view))
    assert f"finger-tight: {quoin.most_open:g} pt at most" in words
    assert f"reserve, for tightening: to {quoin.most_tight:g} pt" in words
    assert f"{quoin.travel:g} pt: nothing may reach it" in words and f"open {quoin.rest:g} pt" in words


def test_without_a_reserve_nothing_is_kept_for_tightening(breakwater):
    view = WedgeView()
    view.draw(replace(breakwater.quoins[WEDGE], reserve=0.0), 2)
    assert "reserve" not in " ".join(said(view))


@pytest.mark.parametrize(
    ("n", "opening", "told"),
    [
        (WEDGE, 3, "Finger-tight it may be open 7 pt at most: 4 pt are left before its reserve."),
        (WEDGE, 6, "1 pt is left before its reserve"),
        (WEDGE, 7, "0 pt are left before its reserve"),
        (WEDGE, 9, "It is in its reserve, which is for tightening: 2 pt are left before tightening must stop, 1 pt "),
        (WEDGE, 11, "0 pt are left before tightening must stop"),
        (WEDGE, 11.5, "That is too near the last notch, which nothing may reach"),
        (WEDGE, 12, "That is too near the last notch, which nothing may reach"),
        (LONG, 8.5, "That is too near the end of its travel, which nothing may reach"),
        (LONG, 7, "1 pt is left before tightening must stop, 1 pt before the end of its travel."),
        (SMALL, 0, "its two wedges are shut, and it is 1 pica 6 pt thick."),
        (LONG, 0, "its two jaws are shut"),
    ],
)
def test_the_words_say_what_is_left(n, opening, told, breakwater):
    quoin, view = breakwater.quoins[n], WedgeView()
    assert told in wedge_words(quoin, opening)
    view.draw(quoin, opening)
    assert view.words == wedge_words(quoin, opening)


@pytest.mark.parametrize("opening", [-1, 12.2, 16, float("inf"), float("nan")])
def test_an_opening_that_it_cannot_have_is_refused(opening, breakwater):
    quoin, view = breakwater.quoins[WEDGE], WedgeView()
    with pytest.raises(ValueError, match="medium wedge"):
        wedge_words(quoin, opening)
    with pytest.raises(ValueError, match="medium wedge"):
        view.draw(quoin, opening)
    assert view.words == ""


def test_bare_furniture_is_bruised_only_by_what_wants_reglet(breakwater):
    view = WedgeView()
    view.draw(breakwater.quoins[WEDGE], 3, reglets=False)
    assert "bare furniture: it is bruised" in said(view)
    view.draw(breakwater.quoins[LONG], 3, reglets=False)
    assert breakwater.quoins[LONG].bears_on == "any wood" and "bare furniture: this quoin may bear on it" in said(view)


def test_no_words_lie_on_others_or_leave_the_picture(breakwater):
    view = WedgeView()
    for quoin, part in product(breakwater.quoins, (0, 0.3, 0.7, 1)):
        view.draw(quoin, part * quoin.travel)
        renderer = FigureCanvasAgg(view.figure).get_renderer()
        words = [text for text in view.axes.texts if text.get_visible() and text.get_text()]
        boxes = [text.get_window_extent(renderer) for text in words]
        assert all(not one.overlaps(other) for n, one in enumerate(boxes) for other in boxes[:n])
        whole = view.figure.bbox
        assert all(whole.contains(b.x0, b.y0) and whole.contains(b.x1, b.y1) for b in boxes)
