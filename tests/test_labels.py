"""The lettering of the plan: a hundred lockups of four shops, measured with matplotlib's own extents."""

from __future__ import annotations

import contextlib
import random
import re
from dataclasses import replace
from itertools import combinations
from typing import NamedTuple

import pytest
from conftest import ROOT
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from shapely import LineString, Point, Polygon, box
from stonework.building import build_block, least_side, one_below_another, side_by_side
from stonework.choosing import ANY, QUICK, best_lockup
from stonework.drawing import PlanView
from stonework.drawing.arranging import arrange
from stonework.drawing.labels import Asked, Ground, crosses, high, meet, wide
from stonework.drawing.picture import PAPER, Segment
from stonework.drawing.plan import RAIL
from stonework.form import Form
from stonework.lockup import SIDES, Block, Item, Lockup, letter
from stonework.shop import Chase, Shop
from stonework.units import PICA

SHOPS = [*sorted((ROOT / "tests" / "shops").glob("*.shop.toml")), ROOT / "lessons" / "breakwater.shop.toml"]
EACH = 25  # questions for a shop
SPACE = (700, 500)  # CSS pixels that a plan has in a window of 1280 × 720
LEAST = {False: 10, True: 12}  # CSS pixels
HAIR = 0.5  # points of the picture


class Case(NamedTuple):
    """A lockup to draw, and which of its pieces are marked as wrong."""

    name: str
    lockup: Lockup
    shop: Shop
    wrong: tuple[Item, ...]


def drawn_form(draw: random.Random, width: float, height: float, least: int) -> Form:
    """Half picas at random, up to that size."""
    return Form(*(PICA / 2 * draw.randint(least, max(least, int(2 * size / PICA))) for size in (width, height)))


def asked(draw: random.Random, chase: Chase, shop: Shop, n: int) -> Form | Block:
    """As in the benchmark, forms up to 10 picas less than the chase; of five, one is built up and one repeats."""
    width, height = chase.width - 10 * PICA, chase.height - 10 * PICA
    if n % 5 == 0:
        least = 24 + min(least_side(quoin) for quoin in shop.quoins)
        return build_block(drawn_form(draw, width / 3, height / 4, 4), shop, least=(least, least))
    if n % 5 == 1:
        make, count = draw.choice((side_by_side, one_below_another)), draw.choice((2, 3))
        gutter = min(size.thickness for size in shop.stock if size.kind == "furniture")
        size = (width / count - 20, height) if make is side_by_side else (width, height / count - 20)
        return make([drawn_form(draw, *size, 6)] * count, shop, gutter)
    return drawn_form(draw, width, height, 16)


@pytest.fixture(scope="module")
def cases() -> list[Case]:
    found = []
    for path in SHOPS:
        shop, draw = Shop.load(path), random.Random(5)
        for n in range(EACH):
            chase = draw.choice(shop.chases)
            with contextlib.suppress(ValueError):
                lockup = best_lockup(asked(draw, chase, shop, n), chase, shop, quoin=ANY, effort=QUICK).lockup
                if n % 3 == 0:
                    lockup = replace(lockup, head=draw.choice(SIDES))
                wrong = lockup.items if n % 4 == 3 else ()
                found.append(Case(f"{path.name} {n}", lockup, shop, wrong))
    return found


class Said(NamedTuple):
    """Words in a picture, and what they cover of what is drawn: left, foot, right, head."""

    words: str
    left: float
    foot: float
    right: float
    head: float
    size: float
    label: bool  # it has paper behind it
    on_iron: bool  # it is written in paper's colour

    @property
    def box(self) -> Polygon:
        return box(self.left, self.foot, self.right, self.head)

    def overlaps(self, other: Said, hair: float) -> bool:
        across = min(self.right, other.right) - max(self.left, other.left)
        return across > hair and min(self.head, other.head) - max(self.foot, other.foot) > hair


class Drawn(NamedTuple):
    """A picture: its words, the lines from labels, how many of its points a point is, and its size in them."""

    case: Case
    said: list[Said]
    lines: dict[str, Segment]
    scale: float
    size: list[float]


def measured(view: PlanView) -> list[Said]:
    """All words that show, with the paper behind them."""
    renderer = FigureCanvasAgg(view.figure).get_renderer()
    to_points = view.axes.transData.inverted()
    found = []
    for text in view.axes.texts:
        if text.get_visible() and text.get_text().strip():
            text.update_bbox_position_size(renderer)
            paper = text.get_bbox_patch()
            extent = to_points.transform((paper or text).get_window_extent(renderer).get_points()).ravel()
            looks = text.get_fontsize(), paper is not None, text.get_color() == PAPER
            found.append(Said(text.get_text(), *extent, *looks))
    return found


@pytest.fixture(scope="module", params=[False, True], ids=["usual", "large"])
def pictures(cases: list[Case], request: pytest.FixtureRequest) -> tuple[bool, list[Drawn]]:
    """Whether the letters are large, and every picture."""
    view, found = PlanView(), []
    for case in cases:
        view.draw(case.lockup, case.shop, wrong=case.wrong, large=request.param)
        found.append(Drawn(case, measured(view), view.lines, view.scale, list(72 * view.figure.get_size_inches())))
    return request.param, found


def test_nearly_all_of_a_hundred_were_drawn_blocks_and_turned_heads_among_them(cases):
    assert len(SHOPS) == 4 and len(cases) >= 92, len(cases)
    assert sum(case.lockup.block is not None for case in cases) >= 30
    assert {case.lockup.head for case in cases} == set(SIDES)


def test_no_label_lies_on_another_or_on_the_iron(pictures):
    for case, said, _, scale, _ in pictures[1]:
        hair, chase = HAIR / scale, case.lockup.chase
        lying = [(one.words, other.words) for one, other in combinations(said, 2) if one.overlaps(other, hair)]
        assert lying == [], case.name
        iron = box(-RAIL, -RAIL, chase.width + RAIL, chase.height + RAIL)
        stone = box(0, 0, chase.width, chase.height)
        for one in said:
            covers = one.box.buffer(-hair)
            if one.on_iron:  # the rails' own words
                assert iron.contains(covers) and not stone.intersects(covers), (case.name, one.words)
            else:
                assert stone.contains(covers) if one.label else not iron.intersects(covers), (case.name, one.words)


def test_every_letter_is_large_enough_in_a_small_window(pictures):
    large, drawn = pictures
    for case, said, _, _, size in drawn:
        shown = min(pixels / points for pixels, points in zip(SPACE, size, strict=True))
        assert min(one.size for one in said) * shown >= LEAST[large], case.name


def test_every_piece_has_its_number_or_letter_on_it_or_led_to_it(pictures):
    drawn_lines = 0
    for case, said, lines, scale, _ in pictures[1]:
        lockup, named = case.lockup, {}
        for one in said:
            if one.label and (name := re.match(r"(\d+|[a-z]{1,2})(:| ✗|$)", one.words)):
                assert name[1] not in named, case.name
                named[name[1]] = one
        pieces = {str(n): item for n, item in enumerate(lockup.placing_order(), 1)}
        assert all("✗" in named[n].words for n, item in pieces.items() if item in case.wrong), case.name
        pieces |= {letter(n): piece for n, piece in enumerate(lockup.block.pieces if lockup.block else ())}
        assert named.keys() == pieces.keys(), case.name
        led = {words.removesuffix(" ✗"): LineString(line) for words, line in lines.items()}
        assert not any(one.intersects(other) for one, other in combinations(led.values(), 2)), case.name
        on_others = [(a, b) for a, line in led.items() for b in named if a != b and line.intersects(named[b].box)]
        assert on_others == [], case.name
        drawn_lines += len(led)
        for name, piece in pieces.items():
            one, about = named[name], box(piece.x, piece.y, piece.x + piece.width, piece.y + piece.height)
            if name in led:
                assert about.covers(Point(led[name].coords[-1])), (case.name, one.words)
            else:  # on its piece, or just past its end: what is kept free round words is a little more than they are
                near = 2 + 6 / scale + 0.05 * max(one.right - one.left, one.head - one.foot)
                assert about.distance(one.box) <= near, (case.name, one.words)
    assert drawn_lines  # some had to stand off


def test_words_are_left_out_only_for_want_of_room(pictures):
    """In the school, where sizes are short, nearly every piece of wood says its own; nearly every form its head."""
    large, drawn = pictures
    school = [one for one in drawn if one.case.name.startswith("breakwater")]
    sizes = [sum(re.match(r"\d+:", one.words) is not None for one in picture.said) for picture in school]
    assert sum(sizes) / sum(len(picture.case.lockup.pieces) for picture in school) > (0.85 if large else 0.95)
    heads = [any("HEAD" in one.words for one in picture.said) for picture in school]
    assert sum(heads) / len(heads) > (0.8 if large else 0.9)


def test_width_and_height_are_those_of_the_words_and_their_paper_with_a_little_to_spare():
    figure = Figure()
    renderer = FigureCanvasAgg(figure).get_renderer()
    for size, weight in ((11, "normal"), (11, "bold"), (14, "normal")):
        for words in ("12: 1p2.23 × 18p11.62", "4: 1½ × 24 ✗", "24", "HEAD", "27 picas 6 pt ×\n18 picas"):
            text = figure.text(0.5, 0.5, words, size=size, weight=weight, family="sans-serif")
            text.set_bbox({"boxstyle": "round,pad=0.22"})
            text.update_bbox_position_size(renderer)
            extent = text.get_bbox_patch().get_window_extent(renderer)
            across, up = (72 / figure.dpi * points for points in (extent.width, extent.height))
            assert across - HAIR <= wide(words, size, weight == "bold") <= 1.1 * across + 1
            assert up - HAIR <= high(words, size) <= 1.1 * up + 1


@pytest.mark.parametrize("seed", range(40))
def test_lines_cross_what_another_library_says_they_do(seed):
    draw = random.Random(seed)
    one, other = (tuple((draw.uniform(0, 9), draw.uniform(0, 9)) for _ in range(2)) for _ in range(2))
    low, high_ = zip(*(sorted((draw.uniform(0, 9), draw.uniform(0, 9))) for _ in range(2)), strict=True)
    reach = (*low, *high_)
    assert crosses(one, reach) == LineString(one).intersects(box(*reach))
    assert meet(one, other) == LineString(one).intersects(LineString(other))


def test_where_there_is_no_room_at_all_no_number_is_left_out():
    ground = Ground(10, 1, (30, 20), [], 1.0)
    asked = [Asked((0, 0, 30, 20), True, (f"{n}: 1 × 2", str(n))) for n in range(1, 9)]
    spots, all_clear = arrange(asked, ground)
    assert [spot.words for spot in spots] == [str(n) for n in range(1, 9)] and not all_clear
    assert all(ground.holds(ground.reach(spot)) for spot in spots)
    spots, all_clear = arrange(asked, Ground(40, 1, (30, 20), [], 1.0))
    assert len(spots) == 8 and not all_clear
    spots, all_clear = arrange(asked[:1], ground)
    assert [spot.words for spot in spots] == ["1"] and all_clear


def test_how_much_a_label_hides_is_a_part_of_it():
    ground = Ground(10, 1, (100, 100), [(0, 0, 50, 50), (50, 0, 60, 50)], 1.0)
    assert ground.hidden((40, 0, 60, 10), own=(0, 0, 50, 50)) == pytest.approx(0.5)
    assert ground.hidden((40, 0, 60, 10), own=(0, 0, 1, 1)) == pytest.approx(1)
    assert ground.holds((0, 0, 100, 100)) and not ground.holds((-1, 0, 9, 9)) and not ground.holds((0, 0, 9, 101))
