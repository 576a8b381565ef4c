"""Mending a loose line: published tables, trying every way there is, and CP-SAT (OR-tools) as a second solver.

Stewart = A. A. Stewart, *Typesetting*, 1919. Vaughn = S. J. Vaughn, *Printing and Bookbinding for Schools*, 1912.
"""

from __future__ import annotations

import itertools
import math
import random
from collections import Counter

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model
from stonework.spacing import FEW_SLIPS, make_width, mend_line, widths_below_em

# Stewart p. 18: the spaces of the point system, thinnest first, in points.
SIX_TO_EM = {6: 1, 8: 1, 10: 1.5, 12: 2}
FIVE_TO_EM = {8: 1.5, 10: 2, 12: 2.5}
FOUR_TO_EM = {6: 1.5, 8: 2, 10: 2.5, 12: 3}
THREE_TO_EM = {6: 2, 8: 2.5, 10: 3, 12: 4}
PATENT = {6: 2.5, 8: 3, 10: 4, 12: 5}
EN = {6: 3, 8: 4, 10: 5, 12: 6}
EM = {6: 6, 8: 8, 10: 10, 12: 12}
COLUMNS = (SIX_TO_EM, FIVE_TO_EM, FOUR_TO_EM, THREE_TO_EM, PATENT, EN, EM)
SPACES = {body: tuple(column[body] for column in COLUMNS if body in column) for body in EM}

# Stewart p. 20: thins of copper and of brass, in points.
COPPER, BRASS = 0.5, 1
THINS = (COPPER, BRASS)

# Fractions of the em as they are, not brought to half points: what the worked readings below are reckoned in.
TRUE_12 = (2.4, 3, 4, 6, 12)
TRUE_10 = (2, 2.5, 10 / 3, 5, 10)


def ours(body, standing, shortfall, **more):
    """Mend a line with the point system's spaces and both thins."""
    return mend_line(body, standing, shortfall, SPACES[body], THINS, **more)


def hundredths(points):
    return round(points * 100)


def widths(mending):
    """Return the width of each word space without slips, in hundredths."""
    return [sum(hundredths(p.width) for p in space if p.kind != "slip") for space in mending.spaces]


def put_in(mending):
    return sum(piece.kind != "slip" for exchange in mending.exchanges for piece in exchange.put_in)


def slips(mending):
    return [piece for space in mending.spaces for piece in space if piece.kind == "slip"]


# --- published tables -------------------------------------------------------------------------------------


def test_four_spaces_make_just_the_twenty_four_widths_of_stewarts_list():
    # Stewart p. 17: the widths below the em from the en, 3-, 4- and 5-to-em spaces, in 60ths of the em.
    listed = (12, 15, 20, 24, 27, 30, 32, 35, 36, 39, 40, 42, 44, 45, 47, 48, 50, 51, 52, 54, 55, 56, 57, 59)
    assert len(listed) == 24
    assert widths_below_em(60, (30, 20, 15, 12)) == listed
    assert widths_below_em(60, (60, 30, 20, 15, 12)) == listed


def test_the_same_widths_in_points():
    # Derived from the list above: a 60th of 12 points is 0.2.
    sixtieths = widths_below_em(60, (30, 20, 15, 12))
    assert widths_below_em(12, (6, 4, 3, 2.4)) == pytest.approx([width / 5 for width in sixtieths])


@pytest.mark.parametrize(
    ("width", "pieces"),
    [
        # Derived from Stewart p. 17: the parts of a 12-point em.
        (2.4, (2.4,)),
        (3, (3,)),
        (4, (4,)),
        (5.4, (3, 2.4)),
        (6.4, (4, 2.4)),
        (7, (4, 3)),
        (9.4, (4, 3, 2.4)),
    ],
)
def test_worked_readings_in_12_point(width, pieces):
    assert make_width(width, TRUE_12) == pieces


@pytest.mark.parametrize(
    ("width", "pieces"),
    # Stewart p. 17 for the parts of a 10-point em; the last is derived.
    [(2, (2,)), (2.5, (2.5,)), (3.33, (3.33,)), (5, (5,)), (5.83, (3.33, 2.5))],
)
def test_worked_readings_in_10_point(width, pieces):
    assert make_width(width, TRUE_10) == pieces


@pytest.mark.parametrize(("width", "pieces"), [(1, (BRASS,)), (0.5, (COPPER,)), (1.5, (BRASS, COPPER))])
def test_what_is_thinner_than_any_space_is_made_of_thins(width, pieces):
    # Derived from Stewart p. 20.
    assert make_width(width, (*TRUE_12, *THINS)) == pieces


@pytest.mark.parametrize(("number", "column"), [(2, FOUR_TO_EM), (3, FOUR_TO_EM), (3, FIVE_TO_EM), (4, FIVE_TO_EM)])
def test_thicker_spaces_replace_several_thin(number, column):
    # Stewart p. 31: two 4-to-em spaces are an en; not three of them, nor three or four 5-to-em, where fewer do.
    for body, space in column.items():
        pieces = make_width(number * space, SPACES[body])
        assert sum(pieces) == number * space
        assert len(pieces) < number


@pytest.mark.parametrize("body", SPACES)
def test_two_four_to_em_spaces_become_an_en(body):
    # Stewart p. 31.
    en, four = float(EN[body]), FOUR_TO_EM[body]
    mending = ours(body, [[en], [four, four]], 0)
    assert mending.spaces == (((en, "space"),), ((en, "space"),))
    assert [exchange.after for exchange in mending.exchanges] == [2]


@pytest.mark.parametrize("body", SPACES)
def test_the_variation_allowed_is_an_en_less_a_3_to_em(body):
    # Vaughn p. 25, in the spaces of Stewart p. 18; 2 points in 12-point, derived.
    mending = ours(body, [[THREE_TO_EM[body]], [EN[body]]], 0)
    assert mending.most_variation == EN[body] - THREE_TO_EM[body]
    assert ours(12, [[4]], 0).most_variation == 2


def test_more_variation_than_allowed_is_reported():
    # No even pair of spaces makes 4 + 12; invented line, limit from Vaughn p. 25.
    mending = mend_line(12, [[4], [4]], 8, (4, 12))
    assert sorted(widths(mending)) == [400, 1200]
    assert not mending.even
    assert mending.variation == 8
    assert mending.sentences()[-1] == (
        "Its word spaces vary by 8 pt; they should by no more than 2 pt, an en less a 3-to-em space."
    )
    assert ours(12, [[4], [6]], 0, even_first=True).even


def test_just_the_variation_allowed_is_even():
    mending = mend_line(12, [[4], [4]], 2, (4, 6))
    assert (mending.variation, mending.even) == (2, True)
    assert not any("vary" in sentence for sentence in mending.sentences())


def test_even_first_takes_a_thin_rather_than_vary_too_much():
    # The fewest pieces for two 3-to-em spaces half a point short leave 2½ beside 6.
    fewest, evenest = (ours(12, [[4], [4]], 0.5, even_first=first) for first in (False, True))
    assert (fewest.pieces, fewest.variation, fewest.even) == (2, 3.5, False)
    assert (evenest.pieces, evenest.variation, evenest.even) == (3, 0.5, True)
    assert evenest.sentences()[0] in {f"Put in a 0.5-point thin after word {n}." for n in (1, 2)}


# --- what is said -----------------------------------------------------------------------------------------


def test_one_exchange_in_a_sentence():
    mending = ours(10, [[5], [3]], 2)
    assert mending.sentences() == [
        "Take out the 3-point space after word 2 and put in a 5-point space.",
        "The line is then full.",
    ]


def test_nothing_to_do_is_said():
    assert ours(10, [[3], [3]], 0).sentences() == ["Leave every space as it is.", "The line is then full."]


def test_taking_out_alone_and_several_pieces_at_once():
    said = mend_line(18, [[9, 2, 2], [9, 1], [18]], 13, (9, 11, 18), (1,)).sentences()
    assert said[:2] == [
        "Take out the 9-point space and the 2-point space and the 2-point space after word 1 and put in an "
        "18-point space.",
        "Take out the 9-point space and the 1-point thin after word 2 and put in an 18-point space.",
    ]
    assert mend_line(18, [[9, 2]], -0.0, (9, 11)).sentences()[0].endswith("and put in an 11-point space.")
    # A 2-point piece isn't among those given here, so it can't stay; what it filled is left open.
    assert mend_line(18, [[9, 2]], 0, (9,), tolerance=2).sentences() == [
        "Take out the 2-point space after word 1.",
        "The line is then 2 pt short.",
    ]


def test_only_what_is_taken_out_and_put_in_is_named():
    mending = mend_line(12, [[6, 3]], 1, (3, 4, 6), ())
    (exchange,) = mending.exchanges
    assert str(exchange) == "Take out the 3-point space after word 1 and put in a 4-point space."


def test_of_lines_as_even_as_each_other_the_one_with_least_change_is_chosen():
    # Three word spaces of 12 points in all: 2 + 5 + 5 and 3 + 3 + 6 both vary by 3.
    assert widths(mend_line(6, [[3], [3], [5]], 1, (2, 3, 5, 6))) == [300, 300, 600]
    assert widths(mend_line(6, [[5], [5], [1]], 1, (2, 3, 5, 6))) == [500, 500, 200]


# --- slips ------------------------------------------------------------------------------------------------

CARD, PAPER = 0.3, 0.1  # invented thicknesses, in points


def test_a_slip_is_the_last_resort_and_is_named_as_one():
    # Stewart p. 20.
    mending = ours(12, [[4], [5]], 0.3, slips=(CARD, PAPER))
    assert [(piece.width, piece.kind) for piece in slips(mending)] == [(CARD, "slip")]
    assert mending.left == 0
    assert mending.sentences() == [
        "Put in a 0.3-point slip after word 1.",
        "The line is then full.",
        "Slips of card or paper are a last resort: without them the line can't be filled.",
    ]


def test_no_slip_where_spaces_and_thins_fill_the_line_or_the_tolerance_allows_the_rest():
    assert not slips(ours(12, [[4], [5]], 1.5, slips=(0.75, CARD, PAPER)))
    near = ours(12, [[4], [5]], 0.3, slips=(CARD, PAPER), tolerance=0.3)
    assert (slips(near), near.left) == ([], 0.3)
    assert near.sentences()[-1] == "The line is then 0.3 pt short."


def test_a_few_slips_at_most():
    # Stewart p. 20: a few. How many is ours to say.
    assert len(slips(ours(12, [[4]], FEW_SLIPS * 0.1, slips=(PAPER,)))) == FEW_SLIPS
    with pytest.raises(ValueError, match="can't be filled"):
        ours(12, [[4]], (FEW_SLIPS + 1) * 0.1, slips=(PAPER,))
    with pytest.raises(ValueError, match="can't be filled"):
        ours(12, [[4]], 0.1, slips=(PAPER,), most_slips=0)


def test_of_as_many_slips_those_that_fill_the_line_best_with_the_fewest_pieces_are_chosen():
    near = ours(12, [[4], [5]], 0.9, slips=(CARD, PAPER), tolerance=0.3)
    assert ([piece.width for piece in slips(near)], near.left) == ([CARD], 0.1)
    # 5 and 0.3, rather than 4 and a copper thin and 0.8.
    few = ours(12, [[4]], 1.3, slips=(0.8, CARD))
    assert few.spaces == (((5.0, "space"), (CARD, "slip")),)


def test_a_slip_that_stands_is_taken_out_when_metal_fills_the_line():
    mending = ours(12, [[4, CARD], [4, CARD]], 0.4, slips=(CARD,))
    assert not slips(mending)
    assert all(any(piece.kind == "slip" for piece in exchange.taken_out) for exchange in mending.exchanges)


# --- what can't be done -----------------------------------------------------------------------------------

GOOD = {"body": 12, "standing": [[4], [4]], "shortfall": 1, "spaces": SPACES[12], "thins": THINS}


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"shortfall": -1}, "A shortfall was given as -1 pt; it must be nothing or more."),
        ({"shortfall": math.nan}, "A shortfall was given as nan pt; it must be nothing or more."),
        ({"shortfall": math.inf}, "A shortfall was given as inf pt; it must be nothing or more."),
        ({"tolerance": math.nan}, "A tolerance was given as nan pt; it must be nothing or more."),
        ({"body": 0}, "A body was given as 0 pt; it must be more than nothing."),
        ({"body": 1e300}, "A body was given as 1e+300 pt, larger than any metal type; give 144 pt at most."),
        ({"spaces": ()}, "No space was given to work with; give the width of one or more."),
        ({"spaces": (4, -3)}, "A space was given as -3 pt; it must be more than nothing."),
        ({"thins": (0.001,)}, "A piece was given as 0.001 pt; it must be more than nothing."),
        ({"slips": (math.inf,)}, "A slip was given as inf pt; it must be more than nothing."),
        ({"standing": [[4], [0]]}, "A piece in the line was given as 0 pt; it must be more than nothing."),
        (
            {"standing": []},
            "The line has no word space, and spacing goes between words; set another word into it.",
        ),
        (
            {"shortfall": 16.5},
            "With a shortfall of 1 pica 4.5 pt there are 2 picas 0.5 pt to fill between the words, and their spaces "
            "make 4 pt, all the thinnest, to 2 picas, all an em; measure the line again, or set it with a word more "
            "or less.",
        ),
        (
            {"standing": [[1], [1]]},
            "With a shortfall of 1 pt there are 3 pt to fill between the words, and their spaces make 4 pt, all the "
            "thinnest, to 2 picas, all an em; measure the line again, or set it with a word more or less.",
        ),
        (
            {"shortfall": 0.7, "tolerance": 0.1},
            "A shortfall of 0.7 pt can't be filled to within 0.1 pt; give thinner pieces, or allow the 0.2 pt that "
            "these leave at best.",
        ),
    ],
)
def test_what_cannot_be_done_is_a_sentence(change, said):
    assert mend_line(**GOOD).left == 0
    with pytest.raises(ValueError) as error:
        mend_line(**GOOD | change)
    assert str(error.value) == said


def test_a_shortfall_beyond_all_reason():
    with pytest.raises(ValueError, match=r"^With a shortfall of"):
        ours(12, [[4], [4]], 1e300, tolerance=1000)
    with pytest.raises(ValueError, match="all an em"):
        mend_line(12, [[4]], 1, (13,))


def test_as_much_as_the_word_spaces_take_and_no_more():
    assert widths(ours(12, [[4], [4]], 16)) == [1200, 1200]
    with pytest.raises(ValueError, match="all an em"):
        ours(12, [[4], [4]], 16.01)


def test_what_an_error_allows_is_enough():
    with pytest.raises(ValueError, match=r"allow the 0\.2 pt"):
        ours(12, [[4], [4]], 0.7)
    assert ours(12, [[4], [4]], 0.7, tolerance=0.2).left == 0.2


def test_a_width_that_cannot_be_made_names_its_neighbours():
    with pytest.raises(ValueError) as error:
        make_width(5.6, TRUE_12)
    assert str(error.value) == (
        "A width of 5.6 pt can't be made of these pieces; the nearest they make is 5.4 pt or 6 pt."
    )
    with pytest.raises(ValueError, match=r"the nearest they make is 2\.4 pt\.$"):
        make_width(1, TRUE_12)
    with pytest.raises(ValueError, match="A width was given as nan pt"):
        make_width(math.nan, TRUE_12)
    with pytest.raises(ValueError, match="No piece was given"):
        make_width(1, ())


# --- properties -------------------------------------------------------------------------------------------


@st.composite
def lines(draw, most=12):
    """A line in the point system's spaces: body, standing pieces, shortfall in points."""
    body = draw(st.sampled_from(sorted(SPACES)))
    pieces = st.sampled_from(SPACES[body][:-1]) | st.sampled_from([*SPACES[body][:-1], *THINS])
    space = st.tuples(pieces) | st.lists(pieces, min_size=1, max_size=3).map(tuple)
    standing = draw(st.lists(space, min_size=1, max_size=most))
    room = len(standing) * body - sum(map(sum, standing))
    assume(room >= 0)
    return body, standing, draw(st.integers(0, int(2 * room))) / 2


def mended(body, standing, shortfall, **more):
    """Mend a line, or drop the example if it can't be."""
    try:
        return ours(body, standing, shortfall, **more)
    except ValueError:
        assume(False)


@given(lines(), st.integers(0, 49), st.booleans())
def test_the_line_is_filled_as_it_says_and_never_too_full(line, over, even_first):
    body, standing, shortfall = line
    shortfall += over / 100
    mending = mended(body, standing, shortfall, tolerance=0.49, even_first=even_first)
    target = sum(hundredths(width) for space in standing for width in space) + hundredths(shortfall)
    # Half points are all that these pieces make, so what is over can't be filled.
    assert sum(widths(mending)) == target - over
    assert hundredths(mending.left) == over
    assert all(hundredths(SPACES[body][0]) <= width <= hundredths(body) for width in widths(mending))
    assert hundredths(mending.variation) == max(widths(mending)) - min(widths(mending))
    for space in mending.spaces:
        assert {piece.width for piece in space} <= {*SPACES[body], *THINS}
        assert list(space) == sorted(space, reverse=True)


@given(lines())
def test_the_exchanges_make_the_line(line):
    body, standing, shortfall = line
    mending = mended(body, standing, shortfall)
    hands = [Counter(map(float, space)) for space in standing]
    for exchange in mending.exchanges:
        out = Counter(piece.width for piece in exchange.taken_out)
        put = Counter(piece.width for piece in exchange.put_in)
        assert out <= hands[exchange.after - 1]
        assert not out & put
        hands[exchange.after - 1] += put
        hands[exchange.after - 1] -= out
    assert hands == [Counter(piece.width for piece in space) for space in mending.spaces]
    assert len(mending.sentences()) == max(1, len(mending.exchanges)) + 1 + (not mending.even)


@given(lines(), st.randoms(use_true_random=False), st.booleans())
def test_the_order_of_the_words_does_not_matter(line, shuffler, even_first):
    body, standing, shortfall = line
    mending = mended(body, standing, shortfall, even_first=even_first)
    other = ours(body, shuffler.sample(standing, len(standing)), shortfall, even_first=even_first)
    assert (mending.pieces, mending.variation, put_in(mending)) == (other.pieces, other.variation, put_in(other))


@given(lines(), st.integers(1, 60), st.booleans())
def test_one_more_kind_of_piece_never_takes_more_pieces(line, more, thin):
    body, standing, shortfall = line
    mending = mended(body, standing, shortfall)
    kind = (more / 5,)
    spaces, thins = (SPACES[body], THINS + kind) if thin else (SPACES[body] + kind, THINS)
    assert mend_line(body, standing, shortfall, spaces, thins).pieces <= mending.pieces


@given(lines())
def test_even_first_varies_too_much_only_where_every_way_does(line):
    mending = mended(*line)
    even = ours(*line, even_first=True)
    assert even.pieces >= mending.pieces
    if mending.even:
        assert even == mending
    elif not even.even:
        assert (even.pieces, even.variation) == (mending.pieces, mending.variation)


@given(lines())
def test_a_mended_line_needs_no_more_mending(line):
    mending = mended(*line)
    again = ours(line[0], [[piece.width for piece in space] for space in mending.spaces], 0)
    assert again.exchanges == ()


# --- against trying every way -----------------------------------------------------------------------------


def every_fill(kinds, low, high):
    """Return every choice of pieces whose sum lies from low to high, as Counters."""
    found = []
    for number in range(1, high // min(kinds) + 1):
        for chosen in itertools.combinations_with_replacement(kinds, number):
            if low <= sum(chosen) <= high:
                found.append(Counter(chosen))
    return found


def best_by_trying(em, standing, target, spaces, thins, paper, most_slips, slack, allowed):
    """Return the least (slips, varies more than allowed, left, pieces, variation, pieces put in).

    ``None`` if no way fills the line. Of a word space only its width, its pieces and what is put in matter, so
    each such choice is tried once, with the least put in.
    """
    options = []
    for space in standing:
        least: dict[tuple[int, int], int] = {}
        for fill in every_fill([*spaces, *thins], min(spaces), em):
            key = sum(fill.elements()), fill.total()
            least[key] = min((fill - Counter(space)).total(), least.get(key, 99))
        options.append([(width, pieces, put) for (width, pieces), put in least.items()])
    papers = [
        (sum(chosen), used)
        for used in range(most_slips + 1)
        for chosen in itertools.combinations_with_replacement(paper, used)
    ]
    ways = []
    for line in itertools.product(*options):
        made, pieces, put = (sum(values) for values in zip(*line, strict=True))
        variation = max(line)[0] - min(line)[0]
        for slipped, used in papers:
            left = target - made - slipped
            if 0 <= left <= slack:
                ways.append((used, variation > allowed, left, pieces + used, variation, put))
    return min(ways, default=None)


@st.composite
def tiny_lines(draw):
    """A small em in whole points, a few kinds of piece, and up to three word spaces."""
    grid = draw(st.sampled_from([1, 2, 3]))  # above 1, only slips fill what lies between
    em = draw(st.integers(4, 9))
    spaces = [grid * n for n in draw(st.lists(st.integers(1, em // grid), min_size=1, max_size=3, unique=True))]
    thins = [grid * n for n in draw(st.lists(st.integers(1, 3 // grid), max_size=1))]
    paper = draw(st.lists(st.integers(1, 3), max_size=2, unique=True).map(lambda p: [n for n in p if n not in thins]))
    paper = [n for n in paper if n not in spaces]
    piece = st.sampled_from([*spaces, *thins, *paper, *range(1, em)])
    standing = draw(st.lists(st.lists(piece, max_size=3), min_size=1, max_size=3))
    return em, standing, spaces, thins, paper, draw(st.integers(0, 2)), draw(st.sampled_from([0, 0, 1, 3]))


@settings(max_examples=400)
@given(tiny_lines(), st.integers(0, 27), st.booleans())
def test_the_best_line_against_trying_every_way(line, shortfall, even_first):
    em, standing, spaces, thins, paper, most_slips, slack = line
    target = sum(map(sum, standing)) + shortfall
    # With no word space wider than the em, none varies by more.
    allowed = em / 2 - min(spaces, key=lambda width: (abs(3 * width - em), -width)) if even_first else em
    best = best_by_trying(em, standing, target, spaces, thins, paper, most_slips, slack, max(0, allowed))
    more = {"slips": paper, "most_slips": most_slips, "tolerance": slack, "even_first": even_first}
    if best is None:
        with pytest.raises(ValueError, match=r"can't be filled|With a shortfall"):
            mend_line(em, standing, shortfall, spaces, thins, **more)
        return
    mending = mend_line(em, standing, shortfall, spaces, thins, **more)
    variation = (max(widths(mending)) - min(widths(mending))) / 100
    found = (len(slips(mending)), variation > max(0, allowed), mending.left, mending.pieces, variation, put_in(mending))
    assert found == best


# --- against CP-SAT ---------------------------------------------------------------------------------------


LINES = range(80)


def optimum(em, standing, target, spaces, thins, slack, most):
    """Return the least (left, pieces, variation, pieces put in) by CP-SAT, none varying more than ``most``.

    Whole hundredths of a point; ``None`` if no way fills the line.
    """
    kinds = sorted({*spaces, *thins})
    model = cp_model.CpModel()
    narrowest, widest = (model.new_int_var(min(spaces), em, name) for name in ("narrowest", "widest"))
    widths_of: dict[tuple[int, ...], list[cp_model.LinearExpr]] = {}
    pieces, put = [], []
    for space in standing:
        counts = [model.new_int_var(0, em // kind, "") for kind in kinds]
        width = sum(kind * n for kind, n in zip(kinds, counts, strict=True))
        model.add(width >= narrowest)
        model.add(width <= widest)
        for kind, n in zip(kinds, counts, strict=True):
            new = model.new_int_var(0, em // kind, "")
            model.add(new >= n - space.count(kind))
            put.append(new)
        alike = widths_of.setdefault(tuple(sorted(space)), [])
        if alike:  # of word spaces that stand alike, the later may be taken as the wider
            model.add(width >= alike[-1])
        alike.append(width)
        pieces += counts
    model.add(widest - narrowest <= most)
    left = model.new_int_var(0, slack, "left")
    model.add(sum(width for alike in widths_of.values() for width in alike) + left == target)
    least = []
    for objective in (left, sum(pieces), widest - narrowest, sum(put)):
        model.minimize(objective)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        status = solver.solve(model)
        if status == cp_model.INFEASIBLE:
            return None
        assert status == cp_model.OPTIMAL
        least.append(round(solver.objective_value))
        model.add(objective == least[-1])
    return tuple(least)


def random_line(seed):
    """Return a random line in points, and how it is to be mended; true fractions of the em stay few."""
    rng = random.Random(seed)
    body = rng.choice(sorted(SPACES))
    true = rng.random() < 0.4
    spaces = [body / n for n in rng.choice([(1, 2, 3, 4, 5), (1, 2, 3)])] if true else SPACES[body]
    thins = rng.choice([THINS, (), (COPPER,)])
    usual = min(spaces, key=lambda width: abs(width - body / 3))
    words = rng.randint(1, 2 if true else 4)
    standing = [[rng.choice([usual, usual, *spaces]) for _ in range(rng.choice([1, 1, 1, 2]))] for _ in range(words)]
    shortfall = rng.randrange(0, 8 * words) / 2 + rng.choice([0, 0, 0.1])
    return body, standing, shortfall, spaces, thins, rng.choice([0, 0.1, 0.5]), rng.random() < 0.5


@pytest.mark.parametrize("seed", LINES)
def test_cp_sat_agrees(seed):
    body, standing, shortfall, spaces, thins, tolerance, even_first = random_line(seed)
    em = hundredths(body)
    own, thinner = [hundredths(width) for width in spaces], [hundredths(width) for width in thins]
    now = [[hundredths(width) for width in space] for space in standing]
    target = sum(map(sum, now)) + hundredths(shortfall)
    allowed = em / 2 - min(own, key=lambda width: abs(width - em / 3))
    best = None
    for most in (math.floor(allowed), em) if even_first else (em,):
        best = best or optimum(em, now, target, own, thinner, hundredths(tolerance), most)
    try:
        mending = mend_line(body, standing, shortfall, spaces, thins, tolerance=tolerance, even_first=even_first)
    except ValueError:
        assert best is None
        return
    assert best == (hundredths(mending.left), mending.pieces, hundredths(mending.variation), put_in(mending))


def test_the_random_lines_are_of_every_sort():
    answers = Counter()
    for body, standing, shortfall, spaces, thins, tolerance, even_first in map(random_line, LINES):
        try:
            mending = mend_line(body, standing, shortfall, spaces, thins, tolerance=tolerance, even_first=even_first)
        except ValueError:
            answers["not to be filled"] += 1
        else:
            answers["full" if not mending.left else "nearly full"] += 1
            answers["even" if mending.even else "uneven"] += 1
            answers["more pieces than word spaces"] += mending.pieces > len(standing)
    assert len(answers) == 6
    assert min(answers.values()) >= 5, answers


@pytest.mark.parametrize(
    ("body", "spaces", "said"),
    [
        (0, (1, 2), "A body was given as 0 pt; it must be more than nothing."),
        (12, (0, 12), "A space was given as 0 pt; it must be more than nothing."),
        (12, (), "No space was given to work with; give the width of one or more."),
    ],
)
def test_widths_of_what_is_none_are_refused(body, spaces, said):
    with pytest.raises(ValueError) as caught:
        widths_below_em(body, spaces)
    assert str(caught.value) == said
