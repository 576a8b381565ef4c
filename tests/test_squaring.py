"""Squaring a form: which edge is short, what may be missing there, and every way of making up a length."""

from __future__ import annotations

import dataclasses
import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from stonework.form import SQUARE, Edges, Form
from stonework.moving import Mending, chases_for, make_up, mend
from stonework.shop import Body, Chase, Shop
from stonework.units import PICA, read_length

INCH = 1 / 0.013837  # A. A. Stewart, Typesetting, 1919, p. 15: the point is .013837 inch

# Stewart 1919, p. 18: the point-system spaces, in points. From the fifth to the em down, then the patent space, the en
# and the em; 6-point has no 5-to-em space.
SPACES = {
    6: (1, 1.5, 2, 2.5, 3, 6),
    8: (1, 1.5, 2, 2.5, 3, 4, 8),
    10: (1.5, 2, 2.5, 3, 4, 5, 10),
    12: (2, 2.5, 3, 4, 5, 6, 12),
}
LEADS = (1.0, 1.5, 2.0, 3.0)  # Stewart 1919, p. 21
THINS = (0.5, 1.0)  # Stewart 1919, p. 20: a copper and a brass
SLUGS = (6.0, 12.0)  # Stewart 1919, p. 21

TEN = Body(10, SPACES[10])


def shop_with(leads=LEADS, thins=THINS, chases=()):
    return Shop("Stewart's", tuple(chases), {}, (), (TEN,), leads, SLUGS, thins)


STEWART = shop_with()
WIDTH, HEIGHT = 18 * PICA, 30 * PICA
TRUE = Edges(WIDTH, WIDTH, HEIGHT, HEIGHT)
ACROSS = {"head": "foot", "foot": "head", "left": "right", "right": "left"}
LEADED_EDGES = ("left", "right")


def short_by(**points):
    """Return the true page with some edges short by so many points."""
    return dataclasses.replace(TRUE, **{edge: getattr(TRUE, edge) - short for edge, short in points.items()})


def mended(edges, found):
    """Return the edges with all the pieces put in."""
    return dataclasses.replace(edges, **{m.edge: getattr(edges, m.edge) + sum(m.pieces) for m in found})


# --- which edge is short -----------------------------------------------------------------------------------


@pytest.mark.parametrize("short", [0, 0.25, 0.5])
@pytest.mark.parametrize("edge", ACROSS)
def test_what_is_less_than_a_copper_is_square(edge, short):
    # That half a point, a copper, counts as square is the workbook's own figure.
    edges = short_by(**{edge: short})
    assert edges.square
    assert mend(edges, STEWART, TEN) == []


@pytest.mark.parametrize("edge", ACROSS)
def test_just_more_than_a_copper_is_not(edge):
    edges = short_by(**{edge: 0.51})
    assert not edges.square
    (found,) = mend(edges, STEWART, TEN)
    assert found.edge == edge
    assert found.short == pytest.approx(0.51)
    assert found.pieces == ((1.0,) if edge in LEADED_EDGES else (0.5,))  # there's no lead of half a point


def test_half_a_point_is_square_wherever_it_stands():
    # As floats these two differ by a little more than half a point.
    edges = Edges(read_length("256.04 pt"), read_length("255.54 pt"), HEIGHT, HEIGHT)
    assert edges.out_of_square > 0.5
    assert edges.square
    assert mend(edges, STEWART, TEN) == []


def test_both_ways_at_once_by_hand():
    # 5.5 points of the 10-point lines: two pieces, such as 4 and 1 1/2. 4 points of the depth: two leads, whichever.
    across, down = mend(short_by(head=5.5, right=4), STEWART, TEN)
    assert (across.edge, across.short, across.leads) == ("head", 5.5, False)
    assert (sum(across.pieces), len(across.pieces)) == (5.5, 2)
    assert (down.edge, down.short, down.leads, sum(down.pieces), len(down.pieces)) == ("right", 4, True, 4, 2)


def test_the_thins_go_between_letters_and_never_between_lines():
    # Common practice; Stewart 1919, p. 20, has the coppers and brasses among the spaces.
    only_thins = shop_with(leads=(3.0,))
    foot, right = mend(short_by(foot=1, right=1), only_thins, Body(12, SPACES[12]))
    assert foot == Mending("foot", 1, False, (1.0,))
    assert right == Mending("right", 1, True, ())


def test_leads_never_go_into_lines():
    # A 12-point body whose narrowest space is 2 points, and no thins: nothing there makes up a point.
    foot, right = mend(short_by(foot=1, right=1), shop_with(thins=()), Body(12, SPACES[12]))
    assert foot == Mending("foot", 1, False, ())
    assert right == Mending("right", 1, True, (1.0,))


def test_a_shop_with_nothing_still_names_the_short_edge():
    foot, left = mend(short_by(foot=2, left=3), shop_with(leads=(), thins=()), Body(10, ()))
    assert foot == Mending("foot", 2, False, ())
    assert left == Mending("left", 3, True, ())


def test_the_breakwater_shop_mends_a_page_that_hangs(breakwater):
    body = next(body for body in breakwater.bodies if body.size == 12)
    assert mend(TRUE, breakwater, body) == []
    for lead in breakwater.leads:
        assert mend(short_by(left=lead), breakwater, body) == [Mending("left", lead, True, (lead,))]
    assert mend(short_by(head=0.75), breakwater, body)[0].pieces == (0.5,)


# Edges to the hundredth of a point, either of two the longer by up to 8 points.
off = st.integers(-800, 800).map(lambda hundredths: hundredths / 100)
crooked = st.builds(lambda a, b: Edges(WIDTH + a, WIDTH, HEIGHT + b, HEIGHT), off, off)
bodies = st.sampled_from([Body(size, spaces) for size, spaces in SPACES.items()])


@given(crooked, bodies)
def test_the_short_edge_is_the_one_named(edges, body):
    found = {m.edge: m for m in mend(edges, STEWART, body)}
    for edge, opposite in ACROSS.items():
        short = getattr(edges, opposite) - getattr(edges, edge)
        assert (edge in found) == (short > SQUARE + 1e-6)
        if edge in found:
            assert found[edge].short == short
            assert found[edge].leads == (edge in LEADED_EDGES)
    assert (found == {}) == edges.square


@given(crooked, bodies)
def test_a_form_is_square_once_it_is_mended(edges, body):
    found = mend(edges, STEWART, body)
    after = mended(edges, found)
    assert after.out_of_square <= SQUARE + 1e-9
    for m in found:
        assert abs(sum(m.pieces) - m.short) <= SQUARE + 1e-9
        assert set(m.pieces) <= set((*LEADS, *STEWART.slugs) if m.leads else (*body.spaces, *THINS))
        assert list(m.pieces) == sorted(m.pieces, reverse=True)


@given(crooked, bodies)
def test_a_mirrored_form_is_mended_on_the_other_side(edges, body):
    ours = mend(edges, STEWART, body)
    turned = Edges(edges.foot, edges.head, edges.right, edges.left)
    assert mend(turned, STEWART, body) == [dataclasses.replace(m, edge=ACROSS[m.edge]) for m in ours]
    left_for_right = Edges(edges.head, edges.foot, edges.right, edges.left)
    assert mend(left_for_right, STEWART, body) == [
        dataclasses.replace(m, edge=ACROSS[m.edge]) if m.leads else m for m in ours
    ]


@given(crooked, bodies, st.integers(1, 2000))
def test_the_size_of_the_form_does_not_matter(edges, body, more):
    larger = Edges(edges.head + more, edges.foot + more, edges.left + more, edges.right + more)

    def wanted(of):
        return [(m.edge, m.leads, m.pieces) for m in mend(of, STEWART, body)]

    if all(abs(abs(d) - SQUARE) > 1e-6 for d in (edges.wider_at_head, edges.taller_at_left)):
        assert wanted(larger) == wanted(edges)


# --- the fewest pieces ------------------------------------------------------------------------------------

# Stewart 1919, p. 17, in sixtieths of an em: the 24 widths that his four spaces make.
SIXTIETHS = {"5-to-em": 12, "4-to-em": 15, "3-to-em": 20, "en": 30}
MADE = (12, 15, 20, 24, 27, 30, 32, 35, 36, 39, 40, 42, 44, 45, 47, 48, 50, 51, 52, 54, 55, 56, 57, 59)


def test_the_24_widths_of_stewart():
    made = {width: make_up(width, tuple(SIXTIETHS.values())) for width in range(1, 60)}
    assert [width for width, pieces in made.items() if pieces] == list(MADE)
    assert all(sum(made[width]) == width for width in MADE)


def test_thicker_spaces_rather_than_more():
    # Stewart 1919, p. 31: an en rather than two 4-to-em; and never three of the 4-to-em.
    spaces = tuple(SIXTIETHS.values())
    assert make_up(15 + 15, spaces) == (30,)
    assert make_up(3 * 15, spaces) == (30, 15)
    assert make_up(20 + 20, spaces) == (20, 20)


# Derived from Stewart 1919, p. 17: the spaces of a 12-point em, 2.4, 3, 4 and 6 points, with a brass and a copper.
TWELVE = (0.5, 1, 2.4, 3, 4, 6, 12)


@pytest.mark.parametrize(
    ("short", "pieces"),
    [
        (2.4, (2.4,)),
        (3, (3,)),
        (4, (4,)),
        (5.4, (3, 2.4)),
        (6.4, (4, 2.4)),
        (7, (4, 3)),
        (9.4, (4, 3, 2.4)),
        (1, (1,)),
        (1.5, (1, 0.5)),
    ],
)
def test_readings_of_a_twelve_point_line(short, pieces):
    ours = make_up(short, TWELVE)
    assert sum(ours) == pytest.approx(short, abs=1e-9)
    assert len(ours) == len(pieces)


def test_a_third_of_an_em_is_kept_to_the_hundredth():
    # Stewart 1919, p. 17: the true 3-to-em of 10-point is 3 1/3. Lengths are reckoned in hundredths.
    assert make_up(10 / 3, (2, 2.5, 10 / 3, 5, 10)) == pytest.approx((10 / 3,), abs=0.005)


def every_total(sizes, most):
    """Return the fewest pieces for each total up to ``most``, by trying every choice; whole numbers in one unit."""
    found: dict[int, int] = {}
    for pieces in range(1, most // min(sizes) + 1):
        for chosen in itertools.combinations_with_replacement(sizes, pieces):
            if sum(chosen) <= most:
                found.setdefault(sum(chosen), pieces)
    return found


some_sizes = st.lists(
    st.sampled_from([50, 100, 150, 200, 250, 300, 360, 400, 450, 600]) | st.integers(60, 500),
    min_size=1,
    max_size=3,
    unique=True,
)


@settings(max_examples=150)
@given(some_sizes, st.integers(1, 500))
def test_make_up_against_trying_every_way(sizes, wanted):
    # To put nothing in is a way too.
    found = {0: 0} | every_total(sizes, wanted + 50)
    near = [(abs(total - wanted), pieces, total) for total, pieces in found.items() if abs(total - wanted) <= 50]
    ours = make_up(wanted / 100, [size / 100 for size in sizes])
    # Nothing comes nearer; no fewer pieces come as near; and of as many it's the looser.
    _, pieces, total = min(near, default=(0, 0, 0))
    assert (len(ours), round(sum(ours) * 100)) == (pieces, total)
    assert {round(piece * 100) for piece in ours} <= set(sizes)
    assert list(ours) == sorted(ours, reverse=True)


def test_fewest_leads_for_every_half_point_up_to_a_pica():
    # Derived from Stewart's leads: every half point from one up is a sum of them, of five at most.
    halves = every_total([round(lead * 2) for lead in LEADS], 24)
    assert sorted(halves) == list(range(2, 25))
    assert max(halves.values()) == halves[23] == 5
    for half, pieces in halves.items():
        ours = make_up(half / 2, LEADS)
        assert (sum(ours), len(ours)) == (half / 2, pieces)


def test_of_two_ways_as_near_the_one_with_fewer_pieces():
    # One lead of 3 points is as near to 2.75 as 1 1/2 and 1 are. Of one piece and another, the thinner.
    assert make_up(2.75, LEADS) == (3.0,)
    assert make_up(1.25, LEADS) == (1.0,)


def test_nothing_is_nearer_than_a_copper():
    assert make_up(0.2, (0.5,)) == ()
    assert make_up(0.3, (0.5,)) == (0.5,)
    assert make_up(0.5, (1,)) == ()


@given(st.floats(0.51, 30), st.lists(st.sampled_from(LEADS), min_size=1, unique=True))
def test_lengths_between_the_hundredths(length, sizes):
    pieces = make_up(length, sizes)
    if pieces:
        # Half a point, and the half of a hundredth by which the length itself is rounded.
        assert abs(sum(pieces) - length) <= 0.505 + 1e-9
    elif length < 12 * min(sizes):
        # None of this size alone comes near either.
        remainder = length % min(sizes)
        assert min(remainder, min(sizes) - remainder) > 0.495


@pytest.mark.parametrize("length", [0, -0.2, -3])
def test_nothing_makes_up_nothing(length):
    assert make_up(length, LEADS) == ()


def test_no_sizes_make_up_nothing():
    assert make_up(3, ()) == ()


def test_sizes_may_come_in_any_order():
    for order in itertools.permutations(LEADS):
        assert make_up(5.5, order) == make_up(5.5, LEADS)


# --- edges in any units -----------------------------------------------------------------------------------


def test_edges_in_mixed_units_want_what_edges_in_points_want():
    # 216 points are 75.9153168 mm and 214 are 2.961118 inches, by the point of Stewart 1919, p. 15.
    mixed = Edges(*map(read_length, ("75.9153168 mm", "2.961118 in", "30 picas", "357 pt")))
    plain = mend(Edges(216, 214, 360, 357), STEWART, TEN)
    ours = mend(mixed, STEWART, TEN)
    assert [(m.edge, m.leads, m.pieces) for m in ours] == [(m.edge, m.leads, m.pieces) for m in plain]
    assert [m.short for m in ours] == pytest.approx([2, 3], abs=1e-9)
    assert plain == [Mending("foot", 2, False, (2.0,)), Mending("right", 3, True, (3.0,))]


def test_one_length_in_two_units_is_square():
    edges = Edges(*map(read_length, ("3 in", "7.62 cm", "12 in", "304.8 mm")))
    assert edges.square
    assert mend(edges, STEWART, TEN) == []


# --- chases -----------------------------------------------------------------------------------------------


def names(chases):
    return [chase.name for chase in chases]


def in_inches(width, height):
    return Form(read_length(f"{width} in"), read_length(f"{height} in"))


# The chases of 5 × 8 to 8 × 12 are the school's own invention; that a 10 × 15 press takes a chase of 10 × 15 inches
# inside is S. J. Vaughn's, Printing and Bookbinding for Schools, 1912, p. 29.
def test_the_school_page_fits_every_chase(breakwater):
    # The 18 × 30 pica page, Vaughn p. 24, is 2.99 × 4.98 inches.
    assert names(chases_for(Form(WIDTH, HEIGHT), breakwater)) == ["5 × 8", "6 × 9", "8 × 12", "10 × 15"]


def test_room_around_the_page_in_the_8_by_12_chase(breakwater):
    # Derived from Vaughn p. 24 and the point: upright 54.27 and 18.18 picas are left, turned 42.27 and 30.18.
    chase = next(chase for chase in chases_for(Form(WIDTH, HEIGHT), breakwater) if chase.name == "8 × 12")
    assert (chase.width - WIDTH) / PICA == pytest.approx(54.27, abs=0.005)
    assert (chase.height - HEIGHT) / PICA == pytest.approx(18.18, abs=0.005)
    assert (chase.width - HEIGHT) / PICA == pytest.approx(42.27, abs=0.005)
    assert (chase.height - WIDTH) / PICA == pytest.approx(30.18, abs=0.005)


@pytest.mark.parametrize(
    ("width", "height", "fitting"),
    [
        (7, 4, ["5 × 8", "6 × 9", "8 × 12", "10 × 15"]),
        (4, 7, ["5 × 8", "6 × 9", "8 × 12", "10 × 15"]),  # turned
        (11, 7, ["8 × 12", "10 × 15"]),
        (7, 11, ["8 × 12", "10 × 15"]),
        (5.5, 8, ["6 × 9", "8 × 12", "10 × 15"]),
        (9, 9, ["10 × 15"]),
        (14.9, 9.9, ["10 × 15"]),
        (11, 16, []),  # the skeleton chase of Vaughn p. 29 is larger than any here
        (16, 1, []),
        (1, 16, []),
        (10.5, 10.5, []),
        (1000, 1000, []),
    ],
)
def test_chases_by_hand(breakwater, width, height, fitting):
    assert names(chases_for(in_inches(width, height), breakwater)) == fitting


def test_a_form_as_large_as_the_chase_does_not_fit(breakwater):
    # Common practice: there would be no room for a quoin.
    assert names(chases_for(in_inches(12, 7), breakwater)) == ["10 × 15"]


def test_a_form_as_large_as_the_chase_does_not_fit_in_centimetres_either(breakwater):
    # As floats, 30.48 cm are a hair less than the 12 inches of the chase.
    form = Form(read_length("30.48 cm"), read_length("7 in"))
    assert form.width < breakwater.chase("8 × 12").width
    assert names(chases_for(form, breakwater)) == names(chases_for(in_inches(12, 7), breakwater))


def test_a_shop_without_chases_has_none_that_fit():
    assert chases_for(Form(WIDTH, HEIGHT), STEWART) == []


# In tenths of a point: what fits by less than a twentieth doesn't count.
sides = st.integers(100, 12_000).map(lambda tenths: tenths / 10)


@given(sides, sides, st.lists(st.tuples(sides, sides), max_size=5))
def test_chases_against_laying_the_form_both_ways(width, height, insides):
    shop = shop_with(chases=[Chase(f"chase {n}", *inside) for n, inside in enumerate(insides)])
    ours = chases_for(Form(width, height), shop)
    assert sorted(names(ours)) == [
        chase.name
        for chase in shop.chases
        if (width < chase.width and height < chase.height) or (height < chase.width and width < chase.height)
    ]
    areas = [chase.width * chase.height for chase in ours]
    assert areas == sorted(areas)
    assert chases_for(Form(height, width), shop) == ours
