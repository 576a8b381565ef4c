"""The mirror picture: what is printed is the type turned over, where the margins say; and its words say the same."""

from __future__ import annotations

from itertools import combinations
from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.path import Path
from stonework.drawing.mirror import MirrorView, guides_words
from stonework.drawing.picture import NOWHERE
from stonework.form import Form
from stonework.placing import Sheet, even_margins, margins_from, place_by_custom
from stonework.shop import Placing
from stonework.units import PICA, write_length

CUSTOM = Placing(grippers=("left", "right"), bite=2 * PICA)


def draw(shop, left=4, head=3, custom=CUSTOM):
    form, sheet = Form(27 * PICA, 17 * PICA), Sheet(36 * PICA, 26 * PICA)
    margins = margins_from(sheet, form, left * PICA, head * PICA)
    place = place_by_custom(form, sheet, margins, shop.chase("8 × 12"), custom)
    view = MirrorView("test")
    view.draw(place, custom)
    return view, place


def paths(view):
    """The paths drawn, by what they are filled or ruled with."""
    return {
        name: getattr(view, f"_{name}").get_path() for name in ("type", "ink", "paper", "sheet", "grippers", "guides")
    }


@settings(max_examples=12)
@given(left=st.integers(0, 9), head=st.integers(0, 9))
def test_the_print_is_the_type_turned_over(breakwater, left, head):
    view, place = draw(breakwater, left, head)
    drawn = paths(view)
    paper, sheet = (drawn[name].get_extents() for name in ("paper", "sheet"))
    # Turn the stone's type over about the paper's middle, and carry it to where the sheet is drawn.
    turned = drawn["type"].vertices * (-1, 1) + (paper.x0 + paper.x1, 0) + (sheet.x0 - paper.x0, sheet.y0 - paper.y0)
    assert np.allclose(turned, drawn["ink"].vertices)
    assert (sheet.width, sheet.height) == pytest.approx((place.sheet.width, place.sheet.height))


@settings(max_examples=20)
@given(width=st.integers(8, 60), height=st.integers(6, 80), part=st.tuples(st.floats(0.1, 1), st.floats(0.1, 1)))
def test_at_any_sheet_s_scale_type_stays_in_its_form_and_no_two_words_meet(breakwater, width, height, part):
    sheet = Sheet(width * PICA, height * PICA)
    form = Form(max(3 * PICA, part[0] * sheet.width), max(PICA, min(60 * PICA, part[1] * sheet.height)))
    chase = breakwater.chase("10 × 15")
    view = MirrorView("test")
    place = place_by_custom(form, sheet, even_margins(sheet, form), chase, CUSTOM)
    view.draw(place, CUSTOM)
    drawn = paths(view)
    lead, ink = (view._lead.get_path().get_extents(), drawn["type"].get_extents())
    assert lead.x0 <= ink.x0 and ink.x1 <= lead.x1 and lead.y0 <= ink.y0 and ink.y1 <= lead.y1
    # The initial has many corners, a word four; read from the left, it stands clear of the words.
    printed = drawn["ink"].to_polygons()
    initial, beside = ([shape for shape in printed if (len(shape) > 5) is many] for many in (True, False))
    assert max(shape[:, 0].max() for shape in initial) < min((shape[:, 0].min() for shape in beside), default=inf)
    renderer = FigureCanvasAgg(view.figure).get_renderer()
    words = [text for text in view.axes.texts if text.get_visible()]
    boxes = {text.get_text(): text.get_window_extent(renderer) for text in words}
    assert [(a, b) for (a, one), (b, other) in combinations(boxes.items(), 2) if one.overlaps(other)] == []
    # Every margin is written, outside the sheet and clear of its guides.
    to_page = view.axes.transData
    on_page = [drawn["sheet"].get_extents().transformed(to_page)]
    guides = drawn["guides"].to_polygons()
    on_page += [Path(guide).get_extents().transformed(to_page) for guide in guides]
    for name, margin in place.margins._asdict().items():
        box = boxes[f"{name} {write_length(round(margin, 1))}"]
        assert not any(box.overlaps(other) for other in on_page)
        assert view.figure.bbox.x0 <= box.x0 and box.x1 <= view.figure.bbox.x1 and view.figure.bbox.y0 <= box.y0


def test_guides_at_the_left_of_the_chase_lie_at_the_right_of_the_sheet(breakwater):
    view, place = draw(breakwater)
    drawn = paths(view)
    sheet = drawn["sheet"].get_extents()
    corners = drawn["guides"].vertices
    on_stone, on_sheet = (corners[corners[:, 0] < sheet.x0 - 40], corners[corners[:, 0] > sheet.x0 - 1])
    assert on_stone[:, 0].min() < place.sheet.x and on_stone[:, 1].min() < place.sheet.y
    assert on_sheet[:, 0].max() > sheet.x1 and on_sheet[:, 1].min() < sheet.y0


def test_grippers_cover_the_edges_the_shop_says_as_deep_as_it_says(breakwater):
    view, _ = draw(breakwater)
    sheet, bites = paths(view)["sheet"].get_extents(), paths(view)["grippers"].vertices
    across = sorted({round(x - sheet.x0, 6) for x in bites[:, 0]})
    assert across == pytest.approx([0, 2 * PICA, 34 * PICA, 36 * PICA])
    view, _ = draw(breakwater, custom=Placing())
    assert paths(view)["grippers"] is NOWHERE


def test_the_words_say_what_is_drawn(breakwater):
    view, place = draw(breakwater)
    words = view.words
    assert "a form 27 picas wide and 17 picas high in the 8 × 12 chase" in words
    assert "margins left 4 picas, right 5 picas, head 3 picas, foot 6 picas" in words
    assert "Grippers cover 2 picas of it at its left and right" in words and guides_words(CUSTOM) in words
    assert 'role="img"' in view.svg() and "mirror" in words
    assert place.margins == pytest.approx((48, 60, 36, 72))


@pytest.mark.parametrize(
    ("guides", "edges"),
    [(("bottom", "left"), "foot and right edge"), (("top", "right"), "head and left edge")],
)
def test_the_edges_at_the_guides_are_those_of_the_mirror(guides, edges):
    assert guides_words(Placing(guides=guides)).endswith(f"there lie the sheet's {edges}.")
