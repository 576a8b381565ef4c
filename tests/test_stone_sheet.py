"""The stone sheet and the full-size plan, read back from their own PDF: sizes, marks, lists, and words that fit."""

from __future__ import annotations

import math
import re
import subprocess
import sys
from collections import Counter
from dataclasses import replace
from itertools import pairwise

import matplotlib
import pytest
from conftest import ROOT, sound_lockup
from hypothesis import given, settings
from hypothesis import strategies as st
from matplotlib.backends.backend_agg import FigureCanvasAgg
from stonework.choosing import choose_lockup
from stonework.drawing.form_words import lockup_weight_words
from stonework.drawing.stone_sheet import (
    FullSizeView,
    full_size_plan,
    full_size_words,
    pieces_to_place,
    pieces_to_put_away,
    sheet_figure,
    stone_sheet,
    tiling,
)
from stonework.drawing.words import in_picas, piece_name
from stonework.form import Form
from stonework.lockup import Item, Lockup, PlacedForm, letter, opposite
from stonework.putting_away import cabinet_places
from stonework.rounds import card_of
from stonework.rules import judge
from stonework.shop import Chase, Shop
from stonework.tightening import CAUTIONS

UNIT = 72 * 0.013837  # PDF units in an American point, by the point's definition in inches
MM = 72 / 25.4
CLOSE = 0.1 * UNIT
# Width and height in PDF units: ISO 216 says 210 × 297 mm; Letter is 8 1/2 × 11 in (both from memory).
SIZES = {"A4": (210 * MM, 297 * MM), "Letter": (612.0, 792.0)}
FORMS = {(360, 216): "8 × 12", (240, 144): "5 × 8", (300, 180): "6 × 9", (600, 400): "10 × 15", (144, 252): "8 × 12"}
NUMBER = r"-?\d*\.?\d+"


@pytest.fixture(scope="module")
def lockups(breakwater):
    return {size: choose_lockup(Form(*size), breakwater.chase(name), breakwater) for size, name in FORMS.items()}


@pytest.fixture(scope="module")
def lockup(lockups):
    return lockups[360, 216]


def turned(lockup):
    """The same lockup with left for bottom: a tall chase."""
    swap = {"bottom": "left", "left": "bottom", "top": "right", "right": "top"}
    chase, form = lockup.chase, lockup.form
    items = tuple(
        Item(swap[i.side], i.order, i.kind, i.thickness, i.length, i.y, i.x, i.height, i.width) for i in lockup.items
    )
    return Lockup(
        Chase(chase.name, chase.height, chase.width),
        PlacedForm(form.y, form.x, form.height, form.width),
        lockup.arrangement,
        items,
    )


# --- reading a PDF ------------------------------------------------------------------------------------------


class Page:
    """What a page draws, in its own units: closed shapes, strokes with their dash, and clip rectangles."""

    def __init__(self, size, stream):
        self.size, self.shapes, self.strokes, self.broken, self.clips = size, [], [], [], []
        path, closed, dashed, kept = [], [], False, []
        token = re.compile(rf"((?:(?:{NUMBER}|\[[^]]*\])\s+)*)([a-zA-Z*]+)(?=\s)")
        for numbers, name in token.findall(re.sub(r"BT\s.*?\sET", "", stream, flags=re.S)):
            values = [float(n) for n in re.findall(NUMBER, numbers)]
            if name == "d":
                dashed = len(values) > 1  # a dash pattern and its phase; a whole line has the phase alone
            elif name == "q":
                kept.append(dashed)
            elif name == "Q":
                dashed = kept.pop()
            elif name == "re":
                self.clips.append(values)
            elif name == "m":
                path.append([tuple(values)])
            elif name == "l":
                path[-1].append(tuple(values))
            elif name == "h":
                closed.append(path.pop())
            elif name in ("S", "B", "f", "n"):
                if name != "n":  # nothing is painted
                    self.shapes += closed
                    (self.broken if dashed else self.strokes).extend(line for line in path if len(line) > 1)
                path, closed = [], []

    @property
    def boxes(self):
        """Upright rectangles as left, bottom, width, height."""
        found = []
        for shape in self.shapes:
            xs, ys = sorted({x for x, _ in shape}), sorted({y for _, y in shape})
            if len(shape) == 4 and len(xs) == len(ys) == 2:
                found.append((xs[0], ys[0], xs[1] - xs[0], ys[1] - ys[0]))
        return found

    @property
    def window(self):
        """The part of the page that shows the plan."""
        (window,) = {tuple(clip) for clip in self.clips if max(clip[:2]) > 0}
        return window


def pages(pdf):
    objects = dict(re.findall(rb"(?:^|\n)(\d+) 0 obj\n(.*?)\nendobj", pdf, re.S))
    found = []
    for entry in objects.values():
        if entry.startswith(b"<< /Type /Page "):
            box = [float(n) for n in re.search(rb"/MediaBox \[([^]]*)\]", entry)[1].split()]
            assert box[:2] == [0, 0]
            content = objects[re.search(rb"/Contents (\d+) 0 R", entry)[1]]
            stream = re.search(rb"\nstream\n(.*)\nendstream", content, re.S)[1]
            found.append(Page(tuple(box[2:]), stream.decode("latin-1")))
    assert len(found) == int(re.search(rb"/Type /Pages .*?/Count (\d+)", pdf)[1]) > 0
    return found


def plain(make, *args):
    with matplotlib.rc_context({"pdf.compression": 0}):
        return make(*args)


def near(one, other):
    return all(abs(a - b) <= CLOSE for a, b in zip(one, other, strict=True))


# --- the full-size plan -------------------------------------------------------------------------------------


@pytest.fixture(scope="module", params=[(size, paper) for size in FORMS for paper in SIZES], ids=str)
def sheets(request, lockups, breakwater):
    size, paper = request.param
    return lockups[size], paper, pages(plain(full_size_plan, lockups[size], breakwater, paper))


def test_there_are_as_many_sheets_as_the_words_say(sheets, breakwater):
    lockup, paper, found = sheets
    said = full_size_words(lockup, breakwater, paper)
    assert f"takes {len(found)} sheet{'s' * (len(found) > 1)} of {paper}." in said
    assert "100 %" in said and "Before you trust it" in said
    assert ("Trim" in said) == (len(found) > 1)


def test_the_pages_have_the_size_of_the_paper(sheets):
    _, paper, found = sheets
    for page in found:
        assert sorted(page.size) == pytest.approx(SIZES[paper], abs=1e-6)


def test_every_sheet_has_rulers_of_whole_picas_as_long_as_the_page_takes(sheets, breakwater):
    lockup, paper, found = sheets
    said = full_size_words(lockup, breakwater, paper)
    for page in found:
        for axis, where in ((0, "across"), (1, "up")):
            other = 1 - axis
            picas = int(re.search(rf"(\d+) picas {where}", said)[1])
            rules = [p for p in page.strokes if abs(abs(p[1][axis] - p[0][axis]) - picas * 12 * UNIT) <= CLOSE]
            (rule,) = [p for p in rules if abs(p[0][other] - p[1][other]) < 1e-6]
            start, level = rule[0][axis], rule[0][other]
            ticks = sorted(
                p[0][axis]
                for p in page.strokes
                if abs(p[0][other] - level) < 1e-3 and abs(p[0][axis] - p[1][axis]) < 1e-3
            )
            assert len(ticks) == picas + 1
            assert near(ticks, [start + n * 12 * UNIT for n in range(picas + 1)])
            assert all(0 < at < page.size[axis] for at in ticks) and 0 < level < page.size[other]
            longer = min((n for n in (72, 60, 48, 36, 24) if n > picas), default=math.inf)
            assert longer * 12 * UNIT > page.size[axis] - 20 * MM  # within a white edge of a centimetre


def grid(lockup, paper, found):
    """The sheets by row and column, with what each window's left and bottom are on the sheets laid together."""
    cut = tiling(lockup, paper)
    assert cut.rows * cut.columns == len(found)
    *_, width, height = found[0].window
    for n, page in enumerate(found):
        row, column = divmod(n, cut.columns)
        yield row, column, page, column * (width - 15 * MM), -row * (height - 15 * MM)


def joined(lockup, paper, found, expected):
    """Every box near so many units in size, as the sheets show it: clipped to windows, laid together, merged."""
    low, high = [math.inf, math.inf], [-math.inf, -math.inf]
    for _, _, page, dx, dy in grid(lockup, paper, found):
        x0, y0, w, h = page.window
        for x, y, width, height in page.boxes:
            if near((width, height), expected):
                left, right = max(x, x0), min(x + width, x0 + w)
                bottom, top = max(y, y0), min(y + height, y0 + h)
                if right > left and top > bottom:
                    low = [min(low[0], left - x0 + dx), min(low[1], bottom - y0 + dy)]
                    high = [max(high[0], right - x0 + dx), max(high[1], top - y0 + dy)]
    return (*low, high[0] - low[0], high[1] - low[1])


def test_the_chase_put_together_from_its_sheets_has_its_true_size(sheets):
    lockup, paper, found = sheets
    expected = (lockup.chase.width * UNIT, lockup.chase.height * UNIT)
    assert near(joined(lockup, paper, found, expected)[2:], expected)


def test_every_piece_and_the_form_have_their_true_size_and_place_on_every_sheet(sheets):
    lockup, paper, found = sheets
    things = (*lockup.items, lockup.form)
    expected = (lockup.chase.width * UNIT, lockup.chase.height * UNIT)
    left, bottom, *_ = joined(lockup, paper, found, expected)
    for _, _, page, dx, dy in grid(lockup, paper, found):
        x0, y0, *_ = page.window
        drawn = [(x - x0 + dx - left, y - y0 + dy - bottom, w, h) for x, y, w, h in page.boxes]
        for thing in things:
            true = [size * UNIT for size in (thing.x, thing.y, thing.width, thing.height)]
            assert any(near(box, true) for box in drawn)


def test_sheets_overlap_by_15_mm_and_their_broken_lines_meet(sheets):
    """By what they show, not by their numbers: the same chase corner stands 15 mm less than a window further on."""
    lockup, paper, found = sheets
    cut = tiling(lockup, paper)
    at = {}
    for n, page in enumerate(found):
        x0, y0, w, h = page.window
        size = (lockup.chase.width * UNIT, lockup.chase.height * UNIT)
        (chase,) = {box for box in page.boxes if near(box[2:], size)}
        seams = [
            ((p[0][0] - chase[0], p[0][1] - chase[1]), (p[1][0] - chase[0], p[1][1] - chase[1])) for p in page.broken
        ]
        upright = sorted(p[0][0] for p in seams if abs(p[0][0] - p[1][0]) < 1e-6)
        level = sorted(p[0][1] for p in seams if abs(p[0][1] - p[1][1]) < 1e-6)
        at[divmod(n, cut.columns)] = (x0 - chase[0], y0 - chase[1], w, h, upright, level)
    for row in range(cut.rows):
        for (x, _, w, _, mine, _), (nx, *_, theirs, _) in pairwise(at[row, c] for c in range(cut.columns)):
            assert abs(x + w - nx - 15 * MM) <= CLOSE
            assert abs(mine[-1] - theirs[0]) <= CLOSE and abs(mine[-1] - nx - 7.5 * MM) <= CLOSE
    for column in range(cut.columns):
        for (_, y, _, _, _, mine), (_, ny, _, nh, _, theirs) in pairwise(at[r, column] for r in range(cut.rows)):
            assert abs(ny + nh - y - 15 * MM) <= CLOSE
            assert abs(mine[0] - theirs[-1]) <= CLOSE and abs(mine[0] - y - 7.5 * MM) <= CLOSE
    assert len(at[0, 0][4]) == (cut.columns > 1) and len(at[0, 0][5]) == (cut.rows > 1)


def test_a_large_chase_takes_several_rows_and_columns(lockups):
    cut = tiling(lockups[600, 400], "A4")
    assert cut.rows > 1 and cut.columns > 1


# --- words on paper -----------------------------------------------------------------------------------------


def extents(figure, texts):
    canvas = FigureCanvasAgg(figure)
    figure.set_dpi(300)  # fine enough that hinting hardly matters
    renderer = canvas.get_renderer()
    scale = 72 / 300
    boxes = [(t.get_text(), t.get_window_extent(renderer)) for t in texts if t.get_text() and t.get_visible()]
    return [(words, tuple(scale * v for v in box.extents)) for words, box in boxes]


def overlapping(boxes):
    return [
        (a, b)
        for n, (a, (x, y, r, t)) in enumerate(boxes)
        for b, (x2, y2, r2, t2) in boxes[:n]
        if min(r, r2) - max(x, x2) > 0.05 and min(t, t2) - max(y, y2) > 0.05
    ]


def outside(boxes, figure, edge):
    width, height = 72 * figure.get_size_inches()
    return [w for w, (x, y, r, t) in boxes if x < edge or y < edge or r > width - edge or t > height - edge]


def crowded(lockup, pieces):
    """The same lockup with so many pieces: its outermost wood split into strips, or its inner wood left out."""
    wood, quoins = list(lockup.wood), [item for item in lockup.items if item.kind == "quoin"]
    while len(wood) + len(quoins) > pieces:
        wood.pop()
    n = 0
    while len(wood) + len(quoins) < pieces:
        piece, n = wood[n % len(lockup.wood)], n + 1
        wood.append(
            replace(piece, order=piece.order + 20 + n, thickness=piece.thickness + n, length=piece.length + n / 4)
        )
    return replace(lockup, items=(*wood, *quoins))


@pytest.mark.parametrize("paper", SIZES)
@pytest.mark.parametrize("pieces", [8, 16, 24])
@pytest.mark.parametrize("tall", [False, True])
def test_everything_on_the_stone_sheet_fits_and_nothing_meets(lockup, breakwater, paper, pieces, tall):
    lockup = crowded(turned(lockup) if tall else lockup, pieces)
    assert len(lockup.items) == pieces
    figure = sheet_figure(lockup, breakwater, paper)
    boxes = extents(figure, figure.texts)
    (plan,) = figure.axes
    size = 72 * figure.get_size_inches()
    place = plan.get_position().extents * [*size, *size]
    assert len(boxes) > pieces + 30
    assert outside(boxes, figure, 28) == []
    assert overlapping([*boxes, ("the plan", tuple(place))]) == []
    assert min(text.get_fontsize() for text in figure.texts) >= 5.5
    assert outside(extents(figure, plan.texts), figure, 20) == []
    assert (size[0] > size[1]) == tall


@pytest.mark.parametrize("paper", SIZES)
@pytest.mark.parametrize("size", FORMS)
def test_words_of_the_full_size_plan_fit_and_never_meet(lockups, breakwater, size, paper):
    lockup, view = lockups[size], FullSizeView()
    cut, named = tiling(lockup, paper), set()
    for row in range(cut.rows):
        for column in range(cut.columns):
            view.draw(lockup, breakwater, cut, row, column)
            boxes = extents(view.figure, view.axes.texts)
            assert outside(boxes, view.figure, 20) == []
            assert overlapping(boxes) == []
            said = {words for words, _ in boxes}
            assert any(w.startswith(f"Row {row + 1} of {cut.rows}, column {column + 1} of {cut.columns}") for w in said)
            measures = [w for w in said if w.startswith("Measure this: it must be ")]
            assert {int(re.search(r"(\d+) picas", w)[1]) for w in measures} == set(cut.rulers)
            named |= said
    for number, item in enumerate(lockup.placing_order(), 1):
        what = "quoin" if item.kind == "quoin" else f"{in_picas(item.thickness)} × {in_picas(item.length)}"
        assert f"{number}: {what}" in named
    assert "HEAD" in named


def test_names_with_dollars_and_of_any_length_stand_as_they_are(sound, small_shop):
    named = replace(sound, chase=Chase("$a$ " + "very long " * 20, sound.chase.width, sound.chase.height))
    figure = sheet_figure(named, small_shop, "A4")
    title, *_ = boxes = extents(figure, figure.texts)
    assert "$a$ very" in title[0]
    assert outside(boxes, figure, 28) == []
    assert full_size_plan(named, small_shop)


# --- lists --------------------------------------------------------------------------------------------------

asked = st.sampled_from([*FORMS])


@settings(max_examples=12)
@given(
    size=asked,
    corner=st.sampled_from([("bottom", "left"), ("bottom", "right"), ("top", "left"), ("top", "right")]),
    quoin=st.sampled_from(["medium wedge", "small wedge"]),
)
def test_the_lists_hold_exactly_the_pieces_of_the_lockup(size, corner, quoin):
    shop = Shop.load(ROOT / "lessons" / "breakwater.shop.toml")
    lockup = choose_lockup(Form(*size), shop.chase(FORMS[size]), shop, solid=corner, quoin=quoin)
    assert set(lockup.quoin_sides) == {opposite(side) for side in corner}
    assert judge(lockup, shop) == [] or all(f.severity == "caution" for f in judge(lockup, shop))
    placed = [line.split(": ", 1) for line in pieces_to_place(lockup, shop)]
    assert [int(number) for number, _ in placed] == [*range(1, len(lockup.items) + 1)]
    for (_, words), item in zip(placed, lockup.placing_order(), strict=True):
        kind, rest = words.split(" ", 1)
        assert kind == item.kind
        if item.kind == "quoin":
            assert rest.startswith(f"{in_picas(item.length)} long, {item.side}, open ")
        else:
            at = next(place for place in cabinet_places(shop) if place.material == item.material)
            size = f"{in_picas(item.thickness)} × {in_picas(item.length)}"
            assert rest == f"{size}, {item.side} ({at.row}/{at.place})"
    away, walked = Counter(), []
    for line in pieces_to_put_away(lockup, shop):
        count, words = line.split(" of ", 1)
        name, _, where = words.partition(", row ")
        assert name not in away
        away[name] = int(count)
        walked.append(where)
    places = cabinet_places(shop)
    at = [(f"{p.kind} {in_picas(p.material.thickness)} × {in_picas(p.material.length)}", p) for p in places]
    assert [where for where in walked if where] == [f"{p.row}, place {p.place}" for name, p in at if away[name]]
    expected = Counter(f"{i.kind} {in_picas(i.thickness)} × {in_picas(i.length)}" for i in lockup.wood)
    expected[f"quoin, {quoin}"] = len(lockup.items) - len(lockup.wood)
    assert away == expected
    kinds = [name.split()[0].strip(",") for name in away]
    assert kinds == sorted(kinds, key=("furniture", "reglet", "quoin").index)


def test_what_is_in_a_block_is_listed_first_and_put_away_in_the_walk(built, breakwater):
    assert pieces_to_place(built["5 × 8"], breakwater)[:3] == [
        "a: metal 3 × 20, block (2/8)",
        "b: metal 2 × 20, block (1/8)",
        "1: furniture 10 × 20, bottom (7/3)",
    ]
    away = pieces_to_put_away(built["5 × 8"], breakwater)
    assert away[-3:-1] == ["1 of metal 2 × 20, row 1, place 8", "1 of metal 3 × 20, row 2, place 8"]
    assert away[-1].startswith("2 of quoin")
    cards = built["8 × 12"]
    assert pieces_to_place(cards, breakwater)[0] == "a: lead 3 pt × 11, block (cut it)"
    assert "1 of lead 1.5 pt, to its rack" in pieces_to_put_away(cards, breakwater)
    assert "6 of slug 12 pt, to its rack" in pieces_to_put_away(built["6 × 9"], breakwater)
    for lockup in built.values():
        pulled = len(pieces_to_place(lockup, breakwater))
        assert pulled == len(lockup.block.pieces) + len(lockup.items)
        assert sum(int(line.split(" of ")[0]) for line in pieces_to_put_away(lockup, breakwater)) == pulled


@pytest.mark.parametrize("paper", SIZES)
@pytest.mark.parametrize("name", ["5 × 8", "6 × 9", "8 × 12", "10 × 15"])
def test_blocks_fit_on_their_sheets_too(built, breakwater, name, paper):
    figure = sheet_figure(built[name], breakwater, paper)
    boxes = extents(figure, figure.texts)
    assert boxes[0][0].startswith("Block ")
    assert outside(boxes, figure, 28) == [] and overlapping(boxes) == []
    lockup, view = built[name], FullSizeView()
    cut, said = tiling(lockup, paper), set()
    for row in range(cut.rows):
        for column in range(cut.columns):
            view.draw(lockup, breakwater, cut, row, column)
            boxes = extents(view.figure, view.axes.texts)
            assert outside(boxes, view.figure, 20) == [] and overlapping(boxes) == []
            said |= {words for words, _ in boxes}
    for n, piece in enumerate(lockup.block.pieces):
        assert f"{letter(n)}: {piece_name(piece)}" in said


def test_a_block_and_its_forms_have_their_true_size_on_paper(built, breakwater):
    lockup = built["5 × 8"]
    (page,) = pages(plain(full_size_plan, lockup, breakwater, "A4"))
    for thing in (*lockup.block.content, lockup.form):
        size = thing.width * UNIT, thing.height * UNIT
        assert any(near(box[2:], size) for box in page.boxes)


def test_the_sheet_prints_its_lists_the_card_and_the_cautions(lockup, breakwater):
    figure = sheet_figure(lockup, breakwater)
    said = " ".join(text.get_text() for text in figure.texts if text.get_text() not in ("☐", "–"))
    for words in (*pieces_to_place(lockup, breakwater), *pieces_to_put_away(lockup, breakwater), *CAUTIONS):
        assert words in said
    assert said.startswith("Form 30 picas × 18 picas, chase 8 × 12, Breakwater evening school")
    # Local rules and the instructor come before all other cautions.
    assert said.index(CAUTIONS[0]) < said.index("lead") < said.index("heavy") < said.index("wedges under load")
    assert "A round: top, left one; top, right one; right, the only one." in said
    assert "Before the lift" in said and "WOULD NOT HOLD" not in said and "NOT FINISHED" not in said
    assert " ".join(card_of(lockup, breakwater).steps) in said
    assert lockup_weight_words(lockup, breakwater) in said and "to lift: type" in said


def words_of(figure):
    return " ".join(text.get_text() for text in figure.texts if text.get_text() not in ("☐", "–"))


TIGHTENING = ("A round:", "small turn", "Before the lift", "trial lift dropped nothing", "Before you tighten")


def through_the_iron(lockup):
    """Return a lockup whose first stick at the bottom reaches 20 points into the chase's rail."""
    first, *others = lockup.on("bottom")
    kept = [item for item in lockup.items if item.side != "bottom"]
    return replace(lockup, items=(replace(first, x=-20.0), *others, *kept))


@pytest.mark.parametrize("paper", SIZES)
@pytest.mark.parametrize(
    ("spoilt", "mark", "reason"),
    [
        (through_the_iron, "WOULD NOT HOLD", "It reaches 1 pica 8 pt beyond the chase's inner edge"),
        (lambda it: replace(it, items=it.wood), "NOT FINISHED", "Still quoins to lay on two sides that meet."),
        (lambda it: replace(it, items=()), "NOT FINISHED", "to fill on the bottom."),
    ],
    ids=["through the iron", "no quoins", "the form alone"],
)
def test_what_would_not_hold_says_so_across_its_head_and_not_how_to_tighten_it(
    lockup, breakwater, spoilt, mark, reason, paper
):
    bad = spoilt(lockup)
    figure = sheet_figure(bad, breakwater, paper)
    said = words_of(figure)
    assert mark in said and reason in said
    assert not any(words in said for words in TIGHTENING)
    (largest,) = [text for text in figure.texts if text.get_text() == mark]
    assert largest.get_fontsize() == max(text.get_fontsize() for text in figure.texts) >= 18
    boxes = extents(figure, figure.texts)
    assert outside(boxes, figure, 28) == [] and overlapping(boxes) == []
    (page, *_) = pages(plain(full_size_plan, bad, breakwater, paper))
    assert page
    assert full_size_words(bad, breakwater, paper).startswith("This ")
    view, cut = FullSizeView(), tiling(bad, paper)
    long = replace(bad, chase=replace(bad.chase, name="a chase with a very long name of its own"))
    view.draw(long, breakwater, cut, 0, 0)
    boxes = extents(view.figure, view.axes.texts)
    assert mark in [words for words, _ in boxes] and outside(boxes, view.figure, 20) == []
    head = [box for box in boxes if box[0] == mark or box[0].startswith("Row ")]
    assert len(head) == 2 and overlapping(head) == []


def test_quoins_without_room_for_the_rounds_are_told_of_in_their_place(lockup, breakwater):
    medium, *others = breakwater.quoins
    shop = replace(breakwater, quoins=(replace(medium, travel=4.5, reserve=1.0), *others))
    said = words_of(sheet_figure(lockup, shop))
    assert "Before you tighten" in said and "Put in more wood, so that they start thinner." in said
    assert "A round:" not in said and "Before the lift" not in said


# --- files --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("paper", SIZES)
def test_the_stone_sheet_is_one_page_of_its_paper(lockup, breakwater, paper):
    (page,) = pages(plain(stone_sheet, lockup, breakwater, paper))
    assert page.size == pytest.approx(SIZES[paper], abs=1e-6)
    (page,) = pages(plain(stone_sheet, turned(lockup), breakwater, paper))
    assert page.size == pytest.approx(SIZES[paper][::-1], abs=1e-6)


def test_a_setting_that_crops_figures_crops_no_page(lockup, breakwater):
    with matplotlib.rc_context({"savefig.bbox": "tight"}):
        cropped = full_size_plan(lockup, breakwater), stone_sheet(lockup, breakwater)
    assert cropped == (full_size_plan(lockup, breakwater), stone_sheet(lockup, breakwater))


def test_two_runs_give_the_same_bytes():
    """In another process, whose hashes and clock differ; neither a date nor a maker is in the file."""
    ask = (
        "import sys; from hashlib import sha256; sys.path.insert(0, 'tests')\n"
        "from conftest import sound_lockup, Shop; from stonework.drawing.stone_sheet import *\n"
        "shop = Shop('s', (), {}, ())\n"
        "print(sha256(stone_sheet(sound_lockup(), shop) + full_size_plan(sound_lockup(), shop)).hexdigest())"
    )
    runs = {
        subprocess.run([sys.executable, "-c", ask], cwd=ROOT, capture_output=True, text=True, check=True).stdout
        for _ in range(2)
    }
    assert len(runs) == 1 and len(runs.pop()) == 65
    shop = Shop("s", (), {}, ())
    for pdf in (stone_sheet(sound_lockup(), shop), full_size_plan(sound_lockup(), shop)):
        assert not re.search(rb"/(CreationDate|ModDate|Producer|Creator)\b|atplotlib", pdf)


@pytest.mark.parametrize("make", [full_size_plan, full_size_words, stone_sheet])
def test_unknown_paper_is_refused_in_one_sentence(sound, small_shop, make):
    with pytest.raises(ValueError, match=r"^The paper was read as 'A5'; A4 or Letter was expected\.$"):
        make(sound, small_shop, "A5")


def test_too_many_pieces_for_a_page_are_refused_in_one_sentence(lockup, breakwater):
    with pytest.raises(ValueError, match=r"^The sheet was given \d+ entries, too many for a page; use fewer pieces\.$"):
        sheet_figure(crowded(lockup, 200), breakwater)
