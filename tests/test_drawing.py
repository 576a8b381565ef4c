"""The plan view and its words: the picture holds what the record holds, and both say the same."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest
from draw_images import PICTURES
from matplotlib.backends.backend_agg import FigureCanvasAgg
from stonework.choosing import ARRANGEMENTS, choose_lockup
from stonework.drawing import PlanView
from stonework.drawing.away import put_away_table
from stonework.drawing.picture import corners
from stonework.drawing.words import cabinet, facts, in_picas, openings, pull_list, sentence, table, verdict
from stonework.form import Form
from stonework.lockup import SIDES, letter
from stonework.putting_away import put_away
from stonework.rules import judge, rule_names

ROOT = Path(__file__).resolve().parent.parent
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def lockup(breakwater):
    return choose_lockup(Form(360, 216), breakwater.chase("8 × 12"), breakwater)


def texts(svg):
    return ["".join(text.itertext()).strip() for text in ET.fromstring(svg).iter(f"{SVG}text")]


def test_every_piece_is_labelled_with_its_number_and_size(lockup, breakwater):
    view = PlanView()
    view.draw(lockup, breakwater)
    said = texts(view.svg())
    for number, item in enumerate(lockup.placing_order(), 1):
        label = str(number)
        if item.kind != "quoin":
            label += f": {in_picas(item.thickness)} × {in_picas(item.length)}"
        assert label in said
    assert "HEAD" in said and "30 picas × 18 picas" in said


def test_each_rail_names_its_gap_and_what_closes_it(lockup, breakwater):
    view = PlanView()
    view.draw(lockup, breakwater)
    said = texts(view.svg())
    opening = openings(lockup, breakwater)
    assert set(opening) == {"top", "right"}
    for side in SIDES:
        (rail,) = [words for words in said if words.startswith(f"{side} gap")]
        assert ("quoins open" in rail) == (side in opening)
        assert rail.endswith("solid") == (side not in opening)


def test_the_picture_describes_itself_in_the_words_beside_it(lockup, breakwater):
    view = PlanView()
    view.draw(lockup, breakwater)
    root = ET.fromstring(view.svg())
    assert root.get("role") == "img"
    assert root.get("aria-label") == sentence(lockup, breakwater, lockup.placing_order())
    assert "width" not in root.attrib and "viewBox" in root.attrib


def test_redrawing_gives_the_same_picture_as_drawing_afresh(lockup, breakwater):
    """Artists are reused: nothing of an earlier lockup may be left behind."""
    other = choose_lockup(Form(240, 144), breakwater.chase("5 × 8"), breakwater)
    reused, fresh = PlanView(), PlanView()
    for each in (other, lockup, other, lockup):
        reused.draw(each, breakwater)
    fresh.draw(lockup, breakwater)
    assert reused.svg() == fresh.svg()


def test_stepping_shows_only_what_is_laid(lockup, breakwater):
    view = PlanView()
    numbers = []
    for placed in range(len(lockup.items) + 1):
        view.draw(lockup, breakwater, placed=placed)
        numbers.append(sum(bool(re.match(r"\d+(:|$)", words)) for words in piece_labels(view)))
    assert numbers == list(range(len(lockup.items) + 1))


def piece_labels(view):
    """Labels with paper behind them: the ruler's bare numbers have none."""
    return [text.get_text() for text in view.axes.texts if text.get_visible() and text.get_bbox_patch()]


@pytest.mark.parametrize("name", ["5 × 8", "6 × 9", "8 × 12", "10 × 15"])
@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
def test_it_fits_any_chase_and_arrangement(name, arrangement, breakwater):
    chase = breakwater.chase(name)
    lockup = choose_lockup(Form(249, 189), chase, breakwater, arrangement=arrangement)
    view = PlanView()
    view.draw(lockup, breakwater)
    svg = view.svg()
    _, _, width, height = map(float, ET.fromstring(svg).get("viewBox").split())
    for text in ET.fromstring(svg).iter(f"{SVG}text"):
        moves = re.findall(r"translate\(([-\d.]+) ([-\d.]+)\)", text.get("transform", ""))
        for x, y in moves:
            assert 0 <= float(x) <= width and 0 <= float(y) <= height


# --- blocks -------------------------------------------------------------------------------------------------


BLOCKS = ["5 × 8", "6 × 9", "8 × 12", "10 × 15"]


@pytest.mark.parametrize("name", BLOCKS)
def test_every_piece_of_a_block_has_its_letter_and_no_label_lies_on_another(built, breakwater, name):
    view = PlanView()
    view.draw(built[name], breakwater)
    labels = [text for text in view.axes.texts if text.get_visible() and re.match(r"[a-z](:|$)", text.get_text())]
    block = built[name].block
    assert [text.get_text()[0] for text in labels] == [letter(n) for n in range(len(block.pieces))]
    renderer = FigureCanvasAgg(view.figure).get_renderer()
    to_points = view.axes.transData.inverted()
    for text, piece in zip(labels, block.pieces, strict=True):
        _, (x, y) = view.lines.get(text.get_text(), (None, text.get_position()))
        assert piece.x < x < piece.x + piece.width and piece.y < y < piece.y + piece.height
        if ":" in text.get_text():
            assert text.get_text().endswith(f"{in_picas(piece.thickness)} × {in_picas(piece.length)}")
            box = to_points.transform(text.get_window_extent(renderer).get_points())
            assert piece.x < box[0][0] < box[1][0] < piece.x + piece.width
    words = [text for text in view.axes.texts if text.get_visible() and text.get_text().strip()]
    boxes = [(text.get_text(), text.get_window_extent(renderer)) for text in words]
    assert [(a, b) for (a, one), (b, other) in combinations(boxes, 2) if one.overlaps(other)] == []


@pytest.mark.parametrize("name", BLOCKS)
def test_what_is_in_a_block_is_drawn_by_its_kind(built, breakwater, name):
    view, block = PlanView(), built[name].block
    view.draw(built[name], breakwater)
    # What lies above the pieces are the lines from labels.
    patches = [patch for patch in view.axes.patches if patch.get_visible() and patch.get_zorder() < 8]
    drawn = [patch.get_path().vertices.tolist() for patch in patches]
    for one in block.content:
        outline = [list(corner) for corner in corners(one.x, one.y, one.width, one.height)]
        assert any(outline == path[n : n + 4] for path in drawn for n in range(0, len(path), 5))
    # Metal has dots; wood has none.
    shapes = [path[n : n + 4] for path in drawn for n in range(0, len(path), 5)]
    spots = [
        shape[1] for shape in shapes if len(shape) == 4 and 0 < max(x for x, _ in shape) - min(x for x, _ in shape) < 2
    ]
    for piece in block.pieces:
        dotted = any(piece.x < x < piece.x + piece.width and piece.y < y < piece.y + piece.height for x, y in spots)
        assert dotted == (piece.kind == "metal")


def test_nothing_of_a_block_stays_in_the_picture(built, lockup, breakwater):
    reused, fresh = PlanView(), PlanView()
    for each in (built["6 × 9"], lockup, built["5 × 8"], lockup):
        reused.draw(each, breakwater)
    fresh.draw(lockup, breakwater)
    assert reused.svg() == fresh.svg()
    reused.draw(built["8 × 12"], breakwater)
    fresh.draw(built["8 × 12"], breakwater)
    assert reused.svg() == fresh.svg()


def test_a_block_is_told_in_words(built, breakwater):
    line = built["5 × 8"]
    said = sentence(line, breakwater, line.placing_order())
    assert "The form is a block: 20 picas × 2 picas, made up with a: metal 3 × 20, b: metal 2 × 20." in said
    rows = ET.fromstring(table(line, breakwater, line.placing_order())).find("tbody")
    assert [row[0].text for row in rows][:3] == ["a", "b", "1"] and len(rows) == 2 + len(line.items)
    assert rows[0][2].text == "metal" and rows[0][3].text == "3 × 20"
    assert "<li>1 × metal 3 × 20</li>" in pull_list(line)
    cards = built["8 × 12"]
    for words in ("1 × lead 1.5 pt × 11", "2 × furniture 3 × 50", "2 × furniture 6 × 10"):
        assert f"<li>{words}</li>" in pull_list(cards)
    assert "6 × slug 12 pt × 2" in pull_list(built["6 × 9"])
    assert "<strong>metal 3</strong>: 4 to 6: 12 each; 8: 12; 10: 12; 12: 8; 15: 8; 20: 7" in cabinet(breakwater, line)
    assert "metal" not in cabinet(breakwater, replace(line, block=None))
    away = put_away_table(put_away(built["6 × 9"], breakwater))
    assert "6 × slug 12 pt" in away and "the rack of leads and slugs" in away and "1 × metal 3 × 8" in away


def test_the_table_has_a_row_for_each_item_with_heads(lockup, breakwater):
    made = table(lockup, breakwater, lockup.placing_order())
    root = ET.fromstring(made)
    assert root.find("caption").text
    assert all(head.get("scope") == "col" for head in root.find("thead").iter("th"))
    assert len(root.find("tbody")) == len(lockup.items)


def test_the_list_to_pull_counts_every_piece(lockup):
    counts = [int(n) for n in re.findall(r"<li>(\d+) × (?:furniture|reglet)", pull_list(lockup))]
    assert sum(counts) == len(lockup.wood)
    quoins = len(lockup.items) - len(lockup.wood)
    assert f"<li>{quoins} × quoin, medium wedge, with its key</li>" in pull_list(lockup)


def test_quoins_of_two_patterns_are_told_apart(breakwater):
    lockup = choose_lockup(Form(27 * 12, 17 * 12), breakwater.chase("5 × 8"), breakwater, quoin="")
    rows = {side: lockup.quoins(side) for side in lockup.quoin_sides}
    mixed = replace(
        lockup, items=tuple(replace(i, pattern="a third kind") if i in rows["right"] else i for i in lockup.items)
    )
    for side, name in (("top", rows["top"][0].pattern), ("right", "a third kind")):
        count = len(rows[side])
        assert f"<li>{count} × quoin, {name}, with its key</li>" in pull_list(mixed)
        assert f"{count} quoin{'s' * (count > 1)} ({name})" in sentence(mixed, breakwater, mixed.items)


def test_the_verdict_names_every_rule(lockup, breakwater):
    html = verdict(judge(lockup, breakwater))
    assert all(name in html for name in rule_names())
    assert f"{len(rule_names())} of {len(rule_names())} rules hold" in html


def test_names_from_a_shop_file_are_escaped(lockup, breakwater):
    odd = replace(lockup, chase=replace(lockup.chase, name='<b>"8 & 12"</b>'))
    assert "<b>" not in facts(odd, breakwater, [])
    view = PlanView()
    view.draw(odd, breakwater)
    assert '<b>"8 & 12"</b>' in ET.fromstring(view.svg()).get("aria-label")


@pytest.mark.parametrize(
    ("points", "label"), [(6, "½"), (12, "1"), (18, "1½"), (3, "3 pt"), (324, "27"), (100, "8p4"), (0, "0")]
)
def test_labels_are_short(points, label):
    assert in_picas(points) == label


@pytest.mark.parametrize("name", PICTURES)
def test_the_shipped_pictures_are_what_the_code_draws(name):
    shipped = (ROOT / "images" / name).read_text(encoding="utf-8")
    drawn = ET.fromstring(PICTURES[name]())
    assert ET.fromstring(shipped).get("aria-label") == drawn.get("aria-label")
    # Places may differ in a last digit from one machine to another; words and shapes may not.
    assert [element.tag for element in ET.fromstring(shipped).iter()] == [element.tag for element in drawn.iter()]
    assert texts(shipped) == texts(ET.tostring(drawn, encoding="unicode"))
