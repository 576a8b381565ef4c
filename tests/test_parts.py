"""The still drawings: they are as shipped, say what they show, and show what they say."""

import xml.etree.ElementTree as ET
from itertools import combinations, pairwise
from math import dist
from pathlib import Path

import pytest
from draw_images import PICTURES, STILLS, small_lockup
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import to_rgba
from stonework.drawing import parts, picture
from stonework.drawing.pages import LOWER, UPPER
from stonework.drawing.plan import RAIL
from stonework.lockup import CLEAR, Lockup, lay
from stonework.pressing import MM, line_of_thrust
from stonework.rules import judge, sound
from stonework.shop import Chase

IMAGES = Path(__file__).resolve().parent.parent / "images"

# What each description has to name.
SEEN = {
    "parts-of-a-lockup.svg": (
        "chase",
        "rails",
        "form",
        "head",
        "foot",
        "furniture",
        "solid corner",
        "quoins",
        "reglet",
    ),
    "two-ways-at-the-corners.svg": ("form", "pinwheel", "stops short", "runs on through", "top and bottom"),
    "binding.svg": ("corner", "three points short", "free", "three points too long", "binds", "arrows"),
    "a-sprung-form.svg": ("from the side", "furniture", "stone", "middle third", "bows up", "heads", "exaggerated"),
    "the-trial-lift.svg": ("from the side", "chase", "centimetre", "reglets", "finger", "line", "dropped"),
    "the-first-minutes.svg": (
        "galley",
        "whole side",
        "squared",
        "straight sticks",
        "all four sides",
        "chase",
        "lowered",
        "string comes off",
        "no quoin",
        "tip",
    ),
    "eight-pages.svg": ("pages 1, 8, 7 and 2", "4, 5, 6 and 3", "heads meet", "25 by 19 inches", "2 in", "2½ in"),
}


@pytest.fixture(scope="module")
def drawn():
    return {name: draw() for name, draw in STILLS.items()}


def written(still):
    return [text for text in still.axes.texts if text.get_visible()]


def said(still):
    return [text.get_text() for text in written(still)]


def boxes(still):
    """Where each text stands, in inches, as the Agg renderer measures it."""
    renderer = FigureCanvasAgg(still.figure).get_renderer()
    return [(text.get_text(), text.get_window_extent(renderer)) for text in written(still)]


def drawn_in(still, box):
    """Say whether a box is among the shapes of a picture, corner for corner."""
    outline = [list(corner) for corner in picture.corners(box.x, box.y, box.width, box.height)]
    paths = [patch.get_path().vertices.tolist() for patch in still.axes.patches]
    return any(outline == path[n : n + 4] for path in paths for n in range(0, len(path), 5))


@pytest.mark.parametrize("name", STILLS)
def test_the_shipped_drawing_is_what_the_code_draws(name):
    assert (IMAGES / name).read_text(encoding="utf-8") == PICTURES[name]() == PICTURES[name]()


@pytest.mark.parametrize("name", STILLS)
def test_the_description_is_a_sentence_that_names_what_is_drawn(name, drawn):
    words = drawn[name].words
    assert words[0].isupper() and words.endswith(".") and words.count(".") == 1
    assert len(words.split()) >= 12
    assert [each for each in SEEN[name] if each not in words.lower()] == []
    root = ET.parse(IMAGES / name).getroot()
    assert root.get("role") == "img" and root.get("aria-label") == words


@pytest.mark.parametrize("name", STILLS)
def test_letters_are_large_enough_and_the_picture_ten_inches_wide(name, drawn):
    assert drawn[name].figure.get_size_inches()[0] == pytest.approx(10)
    assert min(text.get_fontsize() for text in written(drawn[name])) >= 9


@pytest.mark.parametrize("name", STILLS)
def test_no_text_stands_over_another_or_leaves_the_picture(name, drawn):
    measured = boxes(drawn[name])
    assert len(measured) > 5
    clashes = [(one, other) for (one, a), (other, b) in combinations(measured, 2) if a.overlaps(b)]
    assert clashes == []
    whole = drawn[name].figure.bbox
    assert [words for words, b in measured if not (whole.contains(b.x0, b.y0) and whole.contains(b.x1, b.y1))] == []


# --- each picture ------------------------------------------------------------------------------------------


def test_the_lockup_whose_parts_are_named_is_sound(breakwater):
    assert sound(judge(small_lockup(), breakwater))


def test_every_part_is_named_once(drawn):
    names = ("form", "chase", "rail", "furniture", "reglet", "quoins", "solid corner", "head", "foot")
    words = said(drawn["parts-of-a-lockup.svg"])
    assert [words.count(name) for name in names] == [1] * len(names)


def test_names_stand_outside_the_chase_or_on_clear_stone(drawn):
    still, lockup = drawn["parts-of-a-lockup.svg"], small_lockup()
    to_points = still.axes.transData.inverted()
    solids = [*lockup.items, lockup.form]
    rail, chase = RAIL, lockup.chase
    for words, box in boxes(still):
        (left, low), (right, high) = to_points.transform([(box.x0, box.y0), (box.x1, box.y1)])
        outside = right < -rail or left > chase.width + rail or high < -rail or low > chase.height + rail
        inside = left > 0 and right < chase.width and low > 0 and high < chase.height
        hidden = [s for s in solids if left < s.x + s.width and right > s.x and low < s.y + s.height and high > s.y]
        assert outside or (inside and not hidden), words


def test_a_pinwheel_stops_once_a_side_and_run_through_pieces_twice_or_never(drawn):
    """The forms and the eight pieces, read off the picture: where an end stops, and where it runs on."""
    patches = drawn["two-ways-at-the-corners.svg"].axes.patches
    pieces = rectangles(next(patch for patch in patches if patch.get_facecolor() == to_rgba(picture.MAPLE)))
    forms = rectangles(next(patch for patch in patches if patch.get_facecolor() == to_rgba(picture.LEAD)))
    assert len(pieces) == 8 and len(forms) == 2
    stops = []
    for left, bottom, right, top in forms:
        middle = (left + right) / 2
        for x0, y0, x1, y1 in [piece for piece in pieces if abs((piece[0] + piece[2]) / 2 - middle) < 200]:
            along = (left - x0, x1 - right) if x1 - x0 > y1 - y0 else (bottom - y0, y1 - top)
            stops.append(sum(past < 0 for past in along))
    assert sorted(stops[:4]) == [1, 1, 1, 1]
    assert sorted(stops[4:]) == [0, 0, 2, 2]


def rectangles(patch):
    """The least and most x and y of each closed shape of four corners."""
    points = patch.get_path().vertices.tolist()
    fours = [points[n : n + 4] for n in range(0, len(points), 5)]
    return [(min(x for x, _ in f), min(y for _, y in f), max(x for x, _ in f), max(y for _, y in f)) for f in fours]


def test_free_and_bound_are_what_they_claim():
    free, bound = parts.binding_corner(-3), parts.binding_corner(3)
    assert free.at_the_end == pytest.approx(CLEAR) and free.at_the_form == pytest.approx(0)
    assert bound.at_the_end == pytest.approx(0) and bound.at_the_form == pytest.approx(3)
    for corner in (free, bound):  # the top's wood runs on past the whole of the piece that stops
        assert corner.top.x + corner.top.width > corner.right.x + corner.right.width


@pytest.mark.parametrize(("past", "binds"), [(-3, False), (-2, True), (0, True), (3, True)])
def test_the_rule_of_free_ends_agrees(past, binds, breakwater):
    corner = parts.binding_corner(past, (100.0, 100.0))
    quoin = lay(corner.form, "top", 2, "quoin", thickness=24, length=40, low=0, near=corner.top.thickness)
    lockup = Lockup(Chase("any", 300.0, 300.0), corner.form, "as drawn", (corner.top, corner.right, quoin))
    assert binds == any(finding.rule == "free ends" for finding in judge(lockup, breakwater))


def test_the_two_corners_are_drawn_as_reckoned(drawn):
    still = drawn["binding.svg"]
    assert {"✓ free", "✗ binds"} < set(said(still))
    for past, at in ((-CLEAR, (32.0, 48.0)), (CLEAR, (106.0, 48.0))):
        corner = parts.binding_corner(past, at)
        assert all(drawn_in(still, box) for box in (corner.form, corner.top, corner.right))


def test_one_form_is_pushed_within_the_middle_third_and_one_below(drawn):
    assert line_of_thrust(parts.HIGH) < 1 < line_of_thrust(parts.LOW)
    words = " ".join(said(drawn["a-sprung-form.svg"]))
    assert "exaggerated" in words and "heads part" in words


def test_the_reglets_prop_the_chase_about_a_centimetre():
    assert sum(parts.REGLETS) * MM == pytest.approx(10, abs=2)


def test_the_picture_of_the_lift_warns(drawn):
    words = " ".join(said(drawn["the-trial-lift.svg"]))
    assert "hands from under" in words and "rules" in words and "instructor" in words


# --- the first minutes -------------------------------------------------------------------------------------


def outlines(still, **looks):
    """The shapes of every patch of such a face, edge or breadth of line, as lists of corners."""
    wanted = [p for p in still.axes.patches if all(getattr(p, f"get_{key}")() == look for key, look in looks.items())]
    shapes = (shape.tolist() for p in wanted for shape in p.get_path().to_polygons(closed_only=False))
    return [shape for shape in shapes if len(shape) > 1]


def extent(shape):
    """The least x and y of a shape, and the most."""
    return tuple(f(corner[axis] for corner in shape) for f in (min, max) for axis in (0, 1))


@pytest.fixture(scope="module")
def minutes(drawn):
    """The drawing, its five pages from left to right and from the top, and the pieces of wood round each."""
    still = drawn["the-first-minutes.svg"]
    forms = rectangles(next(patch for patch in still.axes.patches if patch.get_facecolor() == to_rgba(picture.LEAD)))
    wood = rectangles(next(patch for patch in still.axes.patches if patch.get_facecolor() == to_rgba(picture.MAPLE)))
    pages = sorted(forms, key=lambda page: (-page[1], page[0]))
    near = [[piece for piece in wood if _apart(piece, page) < 6] for page in pages]
    return still, pages, near


def _apart(one, other):
    """How far two rectangles lie apart, each way at most."""
    return max(max(one[n], other[n]) - min(one[n + 2], other[n + 2]) for n in (0, 1))


def test_the_page_is_pushed_along_its_whole_side_and_squared_against_two(minutes):
    _, pages, near = minutes
    (pusher,) = near[0]
    assert pusher[2] <= pages[0][0] and (pusher[1], pusher[3]) == pytest.approx((pages[0][1], pages[0][3]))
    assert len(near[1]) == 2
    for piece in near[1]:  # each is longer than the side it squares, and reaches past both its ends
        along = 0 if piece[2] - piece[0] > piece[3] - piece[1] else 1
        assert piece[along] < pages[1][along] and piece[along + 2] > pages[1][along + 2]


def test_wood_stands_on_all_four_sides_before_the_chase_comes_and_nothing_lies_on_anything(minutes):
    still, pages, near = minutes
    for page, pieces in zip(pages[2:], near[2:], strict=True):
        left, low, right, high = page
        sides = [
            sum(piece[2] <= left for piece in pieces),
            sum(piece[3] <= low for piece in pieces),
            sum(piece[0] >= right for piece in pieces),
            sum(piece[1] >= high for piece in pieces),
        ]
        assert sides == [1, 1, 1, 1]
        assert all(_apart(one, other) > 0 for one, other in combinations([*pieces, page], 2))
    chases = [extent(s) for s in outlines(still, facecolor=to_rgba(picture.IRON), linewidth=1.2)]
    assert len(chases) == 4  # two, each with its outer edge and its inner
    for pieces, outer, inner in zip(near[3:], chases[::2], chases[1::2], strict=True):
        assert outer[0] < inner[0] and outer[1] < inner[1] and outer[2] > inner[2] and outer[3] > inner[3]
        assert all(inner[n] < piece[n] and piece[n + 2] < inner[n + 2] for piece in pieces for n in (0, 1))
    assert not any(low[0] < pages[2][0] < low[2] and low[1] < pages[2][1] < low[3] for low in chases)


def test_the_string_is_round_four_pages_and_comes_off_the_fifth_up_over_the_wood(minutes):
    still, pages, near = minutes
    cords = outlines(still, edgecolor=to_rgba(picture.INK), linewidth=4.6)
    assert len(cords) == 5
    for cord, page in zip(cords[:4], pages[:4], strict=True):
        left, low, right, high = extent(cord)
        assert cord[0] == cord[-1] and left < page[0] and low < page[1] and right > page[2] and high > page[3]
    off = cords[4]
    assert off[0] != off[-1]
    assert off[-1][0] > max(piece[2] for piece in near[4]) and off[-1][1] > max(piece[3] for piece in near[4])


def test_lines_that_tip_stand_on_the_stone_and_lean_on_the_stick(minutes):
    still, _, _ = minutes
    tipped = outlines(still, edgecolor=to_rgba(picture.WRONG))
    stones = outlines(still, facecolor=to_rgba(picture.STONE), edgecolor=to_rgba(picture.INK))
    top = extent(stones[-1])[3]
    assert len(tipped) == 3 and all(extent(line)[1] == pytest.approx(top) for line in tipped)
    sticks = [extent(s) for s in outlines(still, facecolor=to_rgba(picture.MAPLE), linewidth=1.2)]
    *_, held = sticks
    (x, y), (far, high) = max(pairwise(tipped[-1]), key=lambda edge: dist(*edge))  # the right one has no nick
    assert x + (far - x) * (held[3] - y) / (high - y) == pytest.approx(held[0])


# --- eight pages -------------------------------------------------------------------------------------------


def test_eight_pages_back_and_follow_each_other():
    # Turned left to right, each place falls on the one across; there must lie the page on the back of the same leaf.
    for row in (LOWER, UPPER):
        assert all({page, behind} == {odd, odd + 1} and odd % 2 for page, behind, odd in _leaves(row))
    # Pages that meet at the back are 1 and 8, 2 and 7 ..., as in any book of eight pages: together 9.
    assert all(row[0] + row[1] == row[2] + row[3] == 9 for row in (LOWER, UPPER))
    # S. J. Vaughn, Printing and Bookbinding for Schools, 1912, p. 37: odd pages left of even, seen from the foot.
    assert [page % 2 for page in LOWER] == [page % 2 for page in UPPER[::-1]] == [1, 0, 1, 0]


def _leaves(row):
    return [(page, behind, min(page, behind)) for page, behind in zip(row, row[::-1], strict=True)]
