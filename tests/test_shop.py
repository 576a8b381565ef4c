"""The shop file: the trade's sizes, every kind of mistake in it, and mistakes nobody has thought of."""

from __future__ import annotations

import itertools
import re
import tomllib
from dataclasses import asdict
from pathlib import Path

import pytest
from conftest import ROOT
from hypothesis import example, given
from hypothesis import strategies as st
from stonework.shop import Body, Chase, Material, Placing, Quoin, Shop, ShopFileError

PICA = 12.0
INCH = 1 / 0.013837  # A. A. Stewart, Typesetting, 1919, p. 15: the point is .013837 inch
TEXT = (ROOT / "lessons" / "breakwater.shop.toml").read_text(encoding="utf-8")

WIDTHS = (2, 3, 4, 5, 6, 8, 10)
LENGTHS = (10, 15, 20, 25, 30, 40, 50, 60)


def sizes(shop: Shop, kind: str) -> list[Material]:
    return [material for material in shop.stock if material.kind == kind]


def picas(points) -> set[float]:
    return {length / PICA for length in points}


# --- the Breakwater shop ----------------------------------------------------------------------------------


def test_furniture_is_as_wide_as_the_trade_makes_it(breakwater):
    # Australian trade notes on furniture (web; grade B): widths of 2, 3, 4, 5, 6, 8 and 10 picas.
    assert picas(m.thickness for m in sizes(breakwater, "furniture")) == set(WIDTHS)


def test_furniture_is_as_long_as_the_trade_cuts_it(breakwater):
    # A printers' forum (grade C): labour-saving lengths of 10 to 60 picas. S. J. Vaughn, Printing and
    # Bookbinding for Schools, 1912, p. 31 (grade A), has it cut in steps of "5 to 10 ems".
    assert picas(m.length for m in sizes(breakwater, "furniture")) == set(LENGTHS)
    steps = {longer - shorter for shorter, longer in itertools.pairwise(LENGTHS)}
    assert steps == {5, 10}


def test_every_width_comes_in_every_length(breakwater):
    furniture = sizes(breakwater, "furniture")
    assert len(furniture) == len(WIDTHS) * len(LENGTHS)
    assert {(m.thickness / PICA, m.length / PICA) for m in furniture} == {(w, n) for w in WIDTHS for n in LENGTHS}


def test_reglet_is_as_thick_as_the_trade_makes_it(breakwater):
    # A. A. Stewart, Typesetting, 1919, p. 21 (grade A): reglet of 6, 12 and 18 points; this shop has the thinner two.
    assert {m.thickness for m in sizes(breakwater, "reglet")} == {6.0, 12.0} < {6.0, 12.0, 18.0}


def test_reglet_comes_in_every_whole_pica(breakwater):
    for thickness in (6.0, 12.0):
        lengths = [m.length for m in sizes(breakwater, "reglet") if m.thickness == thickness]
        assert sorted(lengths) == [n * PICA for n in range(10, 61)]


def test_a_chase_has_the_size_of_its_press_inside(breakwater):
    # Vaughn 1912, p. 29 (grade A): a 10 × 15 press takes a chase that measures 10 × 15 inches inside.
    chase = breakwater.chase("10 × 15")
    assert (chase.width, chase.height) == pytest.approx((15 * INCH, 10 * INCH), rel=1e-12)
    assert {chase.name for chase in breakwater.chases} == {"5 × 8", "6 × 9", "8 × 12", "10 × 15"}
    for chase in breakwater.chases:
        short, long = map(int, chase.name.split(" × "))
        assert (chase.height, chase.width) == pytest.approx((short * INCH, long * INCH), rel=1e-12)


def test_chase_sides_in_picas(breakwater):
    # Derived from the American point: 5, 6, 8, 9, 10, 12 and 15 inches in picas.
    sides = {round(side / PICA, 2) for chase in breakwater.chases for side in (chase.width, chase.height)}
    assert sides == {30.11, 36.14, 48.18, 54.2, 60.23, 72.27, 90.34}


def in_points(written: str) -> float:
    """Read a length in whole picas or in points, the only ones this file's wood and quoins have."""
    number, unit = written.split()
    return float(number) * {"pt": 1.0, "pica": PICA, "picas": PICA}[unit]


def test_the_furniture_counts_are_those_of_the_file(breakwater):
    table = tomllib.loads(TEXT)["furniture"]
    for width, counts in table["counts"].items():
        for length, count in zip(table["lengths"], counts, strict=True):
            assert breakwater.stock[Material("furniture", in_points(width), in_points(length))] == count


def test_the_reglet_counts_are_those_of_the_file(breakwater):
    for thickness, counts in tomllib.loads(TEXT)["reglet"].items():
        for span, count in counts.items():
            first, last = map(int, re.fullmatch("([0-9]+) to ([0-9]+) picas", span).groups())
            for picas_long in range(first, last + 1):
                assert breakwater.stock[Material("reglet", in_points(thickness), picas_long * PICA)] == count


def test_the_quoins_are_those_of_the_file(breakwater):
    written = tomllib.loads(TEXT)["quoin"]
    assert breakwater.name == tomllib.loads(TEXT)["name"] == "Breakwater evening school"
    assert len(breakwater.quoins) == len(written) > 1
    words = ("name", "kind", "bears_on")
    for quoin, table in zip(breakwater.quoins, written, strict=True):
        said = {key: value for key, value in asdict(quoin).items() if key not in ("count", "keys")}
        assert said == {key: text if key in words else in_points(text) for key, text in table.items()}
        assert quoin.most_open == quoin.travel - quoin.reserve > quoin.rest


def test_the_spaces_are_those_of_the_trade(breakwater):
    # A. A. Stewart, Typesetting, 1919, p. 18 (grade A): the point-system spaces, from the thinnest to the em.
    stewart = {
        6: (1, 1.5, 2, 2.5, 3, 6),
        8: (1, 1.5, 2, 2.5, 3, 4, 8),
        10: (1.5, 2, 2.5, 3, 4, 5, 10),
        12: (2, 2.5, 3, 4, 5, 6, 12),
    }
    kept = {body.size: tuple(body.spaces) for body in breakwater.bodies}
    assert {size: kept[size] for size in stewart} == {size: pytest.approx(spaces) for size, spaces in stewart.items()}
    # An 18-point em in fractions, from a page on type (grade B): en 9, 3-em 6, 4-em 4 1/2, 5-em 3.6.
    assert kept[18] == pytest.approx((3.6, 4.5, 6, 9, 18))


def test_leads_slugs_and_thins_are_those_of_the_trade(breakwater):
    # Stewart 1919, p. 21 (grade A): leads of 1, 1 1/2, 2 and 3 points, slugs of 6, 12, 18 and 24; p. 20: the
    # copper thin is half a point, the brass one a point.
    assert breakwater.leads == pytest.approx((1, 1.5, 2, 3))
    assert set(breakwater.slugs) < {6.0, 12.0, 18.0, 24.0}
    assert breakwater.thins == pytest.approx((0.5, 1))


def test_the_file_says_of_every_table_what_is_a_book_s_and_what_is_invented():
    # Nobody has published counts, chase sizes beyond the 10 × 15, or a quoin's travel: the file has to say so.
    tables = TEXT.split("\n# --- ")[1:]
    assert [table.split()[0].strip(":,") for table in tables] == [
        *("Chases", "Furniture", "Reglet", "Metal", "Quoins", "Where", "Type")
    ]
    for table in tables:
        remarks = " ".join(line.lstrip("# ") for line in table.splitlines() if line.startswith("#"))
        assert re.search(r"[Pp]ages? \d+", remarks) and "invented" in remarks, table
    assert "no published ones were found" in TEXT and "measure your own" in TEXT


def test_a_chase_may_be_weighed_and_a_quoin_s_key_measured(tmp_path, breakwater):
    # Derived: rails of 0.999 and 1.251 inches round an inside of 10.12 by 15.06, 0.565 inch thick (one chase, a
    # published measurement), at 0.284 lb to the cubic inch of steel (from memory).
    iron = (17.055 * 12.625 - 15.06 * 10.12) * 0.565 * 0.284
    assert breakwater.chase("10 × 15").weight == pytest.approx(iron, abs=0.3)
    older = re.sub(r"(?m)^(weight|kind|turn|bears_on) = .*\n", "", TEXT)
    path = tmp_path / "older.shop.toml"
    path.write_text(older, encoding="utf-8")
    shop = Shop.load(path)
    assert shop.chases == breakwater.chases and all(chase.weight is None for chase in shop.chases)
    assert {(quoin.kind, quoin.turn, quoin.bears_on) for quoin in shop.quoins} == {("two wedges", None, "reglet")}


def test_what_a_quoin_allows(breakwater):
    for quoin in breakwater.quoins:
        assert quoin.rest < quoin.most_open < quoin.most_tight == quoin.travel - 1
        quoin.allow(quoin.travel)
        with pytest.raises(ValueError, match=f"The {quoin.name} would have to open .* put in more wood"):
            quoin.allow(quoin.travel + 0.1)


def test_shop_says_what_it_holds(breakwater):
    furniture = sum(n for m, n in breakwater.stock.items() if m.kind == "furniture")
    reglet = sum(n for m, n in breakwater.stock.items() if m.kind == "reglet")
    words = str(breakwater)
    for expected in ("Breakwater evening school", "4 chases", f"{furniture} pieces", f"{reglet} of reglet", "3 patt"):
        assert expected in words


def test_metal_furniture_is_of_the_sizes_that_were_cast(breakwater):
    # T. MacKellar, The American Printer, 1893, p. 384: 48 to 240 points long, 24 to 48 wide.
    assert breakwater.metal and all(m.kind == "metal" for m in breakwater.metal)
    lengths, widths = {m.length for m in breakwater.metal}, {m.thickness for m in breakwater.metal}
    assert (min(lengths), max(lengths)) == (48, 240) and (min(widths), max(widths)) == (24, 48)
    assert len(breakwater.metal) == len(lengths) * len(widths) and min(breakwater.metal.values()) > 0
    assert not any(m.kind == "metal" for m in breakwater.stock)
    assert f"{sum(breakwater.metal.values())} of metal" in str(breakwater)


def test_a_shop_file_without_metal_is_a_shop_without_metal(tmp_path):
    path = tmp_path / "my.shop.toml"
    path.write_text(TEXT[: TEXT.index("[metal]")] + TEXT[TEXT.index("# --- Quoins") :], encoding="utf-8")
    shop = Shop.load(path)
    assert shop.metal == {} and "metal" not in str(shop)


def test_asking_for_a_name(breakwater):
    assert breakwater.chase("8 × 12") is breakwater.chases[2]
    assert breakwater.quoin("small wedge") is breakwater.quoins[1]
    with pytest.raises(KeyError) as caught:
        breakwater.chase("9 × 13")
    (words,) = caught.value.args
    assert words == "This shop has no chase called “9 × 13”; it has “5 × 8”, “6 × 9”, “8 × 12”, “10 × 15”."
    with pytest.raises(KeyError, match=r"no quoin called “8 × 12”.*“medium wedge”, “small wedge”"):
        breakwater.quoin("8 × 12")
    with pytest.raises(KeyError, match="it has none at all"):
        Shop("bare", (), {}, ()).chase("8 × 12")


# --- mistakes ---------------------------------------------------------------------------------------------


def refusal(folder: Path, content: str | bytes) -> str:
    """Return why a file's content is refused: one plain line that names the file."""
    path = folder / "my.shop.toml"
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    before = path.read_bytes()
    with pytest.raises(ShopFileError) as caught:
        Shop.load(path)
    assert path.read_bytes() == before
    words = str(caught.value)
    assert words.startswith("my.shop.toml")
    assert words.endswith(".")
    assert "\n" not in words
    return words


def edited(*changes: tuple[str, str]) -> str:
    """Return the Breakwater file with its first ``old`` changed to ``new``, for each pair."""
    text = TEXT
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return text


def line(what: str, below: int = 0) -> str:
    """Name the first line of the Breakwater file that holds something, or one so many lines below it."""
    return f"line {TEXT[: TEXT.index(what)].count(chr(10)) + 1 + below},"


# What was done to the file, then what the sentence must name: the key or the line, what was read, what was expected.
MISTAKES = {
    "a quotation mark left out": (
        [('inside_width = "8 in"', 'inside_width = "8 in')],
        [line("inside_width = "), "a quotation mark opens here and isn't closed"],
    ),
    "a bracket left out": ([("[[chase]]\n", "[chase\n")], [line("[[chase]]")]),
    "a key twice": ([('name = "6 × 9"', 'name = "6 × 9"\nname = "6 × 9"')], [line('name = "6 × 9"', below=1)]),
    "the shop's name left out": ([('name = "Breakwater evening school"\n', "")], ["name is missing", "a name"]),
    "a chase's width left out": (
        [('inside_width = "9 in"\n', "")],
        ["chase 2.inside_width is missing", "a length with its unit"],
    ),
    "a quoin's travel left out": (
        [('travel = "12 pt"\n', "")],
        ["quoin 1.travel is missing", "a length with its unit"],
    ),
    "a quoin's name left out": ([('name = "small wedge"\n', "")], ["quoin 2.name is missing", "a name was expected"]),
    "the lengths left out": ([("lengths = [", "# [")], ["furniture.lengths is missing", "a list of lengths"]),
    "the counts left out": (
        [("[furniture.counts]", "[other.counts]")],
        ["other isn't a key this file knows", "name, chase, press, furniture, reglet, metal, quoin"],
    ),
    "an unknown key in a chase": (
        [("inside_width =", 'colour = "black"\ninside_width =')],
        ["chase 1.colour isn't a key this file knows", "name, inside_width, inside_height"],
    ),
    "a misspelt key in a quoin": ([("reserve =", "reserved =")], ["quoin 1.reserved isn't a key", "reserve"]),
    "an unknown key in the furniture": (
        [("[furniture]\n", "[furniture]\nwidths = []\n")],
        ["furniture.widths isn't a key", "lengths, counts"],
    ),
    "a bare number": (
        [('inside_width = "8 in"', "inside_width = 8")],
        ["chase 1.inside_width", "8 was read", "in quotation marks was expected"],
    ),
    "a bare number for a quoin": (
        [('closed = "2 picas"', "closed = 24.0")],
        ["quoin 1.closed", "24.0 was read", "a length with its unit"],
    ),
    "a bare number among the lengths": (
        [('lengths = ["10 picas"', "lengths = [10")],
        ["furniture.lengths, entry 1", "10 was read", "in quotation marks was expected"],
    ),
    "a number in quotation marks without a unit": (
        [('inside_width = "8 in"', 'inside_width = "8"')],
        ["chase 1.inside_width", "“8” has no unit", "27 picas"],
    ),
    "an unknown unit": (
        [('inside_width = "8 in"', 'inside_width = "8 feet"')],
        ["chase 1.inside_width", "“8 feet” can't be read as a length", "4 1/2 in"],
    ),
    "an unknown unit for a furniture width": (
        [('"3 picas"  =', '"3 widths"  =')],
        ['furniture.counts."3 widths"', "“3 widths” can't be read as a length"],
    ),
    "an unknown unit in a range of reglet": (
        [('"10 to 40 picas" =', '"10 to 40 feet" =')],
        ['reglet."6 pt"."10 to 40 feet"', "“10 feet” can't be read as a length"],
    ),
    "a length of nothing": (
        [('inside_width = "8 in"', 'inside_width = "0 in"')],
        ["chase 1.inside_width", "'0 in' was read", "more than nothing"],
    ),
    "a length below nothing": (
        [('span = "20 picas"', 'span = "-20 picas"')],
        ["quoin 1.span", "“-20 picas” is less than nothing"],
    ),
    "a negative count": (
        [("[12, 12, 12, 12, 12, 8", "[12, -12, 12, 12, 12, 8")],
        ['furniture.counts."2 picas", entry 2', "-12 was read", "a whole number of pieces"],
    ),
    "more of a size than any shop has": (
        [("[12, 12, 12, 12, 12, 8", "[12, 100001, 12, 12, 12, 8")],
        ['furniture.counts."2 picas", entry 2', "100001 was read"],
    ),
    "half a piece": (
        [("[12, 12, 12, 12, 12, 8", "[12, 12, 12.5, 12, 12, 8")],
        ['furniture.counts."2 picas", entry 3', "12.5 was read", "a whole number of pieces"],
    ),
    "a yes for a count": (
        [("[12, 12, 12, 12, 12, 8", "[true, 12, 12, 12, 12, 8")],
        ['furniture.counts."2 picas", entry 1', "True was read", "a whole number of pieces"],
    ),
    "a negative count of reglet": (
        [('"10 to 40 picas" = 6', '"10 to 40 picas" = -6')],
        ['reglet."6 pt"."10 to 40 picas"', "-6 was read", "a whole number of pieces"],
    ),
    "a count in quotation marks": (
        [('"10 to 40 picas" = 6', '"10 to 40 picas" = "6"')],
        ['reglet."6 pt"."10 to 40 picas"', "'6' was read", "a whole number of pieces"],
    ),
    "a count too few": (
        [('"3 picas"  = [12, ', '"3 picas"  = [')],
        ['furniture.counts."3 picas"', "[12, 12, 12, 12, 8, 6, 4] was read", "a list of 8 counts"],
    ),
    "a count too many": (
        [('"3 picas"  = [12, ', '"3 picas"  = [12, 12, ')],
        ['furniture.counts."3 picas"', "was read", "a list of 8 counts"],
    ),
    "one count for a whole row": (
        [('"3 picas"  = [12, 12, 12, 12, 12, 8, 6, 4]', '"3 picas"  = 12')],
        ['furniture.counts."3 picas"', "12 was read", "a list of 8 counts"],
    ),
    "no lengths": (
        [(TEXT[TEXT.index("lengths = [") : TEXT.index("\n\n[furniture.counts]")], "lengths = []")],
        ["furniture.lengths", "[] was read", "a list of lengths"],
    ),
    "a width under two names": (
        [('"3 picas"  =', '"24 pt"  =')],
        ['furniture.counts."24 pt", entry 1', "2 picas × 10 picas is counted twice", "one count for each size"],
    ),
    "a length under two names": (
        [('"15 picas", "20 picas"', '"15 picas", "180 pt"')],
        ['furniture.counts."2 picas", entry 3', "2 picas × 15 picas is counted twice"],
    ),
    "ranges of reglet that share a length": (
        [('"41 to 60 picas"', '"40 to 60 picas"')],
        ['reglet."6 pt"."40 to 60 picas"', "6 pt × 40 picas is counted twice", "one count for each size"],
    ),
    "a range backwards": (
        [('"10 to 40 picas" =', '"40 to 10 picas" =')],
        ['reglet."6 pt"."40 to 10 picas"', "“10 to 60 picas” was expected", "smaller number first"],
    ),
    "a range of one": (
        [('"10 to 40 picas" =', '"40 to 40 picas" =')],
        ['reglet."6 pt"."40 to 40 picas"', "“10 to 60 picas” was expected"],
    ),
    "a range of halves": (
        [('"10 to 40 picas" =', '"10 1/2 to 40 picas" =')],
        ['reglet."6 pt"."10 1/2 to 40 picas"', "“10 to 60 picas” was expected"],
    ),
    "a range without a unit": (
        [('"10 to 40 picas" =', '"10 to 40" =')],
        ['reglet."6 pt"."10 to 40"', "“10” has no unit"],
    ),
    "a reserve of more than the travel": (
        [('reserve = "5 pt"', 'reserve = "13 pt"')],
        ["quoin 1.reserve", "1 pica 1 pt is more than the whole travel of 1 pica", "a part of the travel was expected"],
    ),
    "a rest that uses up the reserve": (
        [('rest = "3 pt"', 'rest = "7.5 pt"')],
        ["quoin 1.rest", "7.5 pt leaves less than the reserve", "at most 7 pt was expected"],
    ),
    "two chases of one name": (
        [('name = "6 × 9"', 'name = "5 × 8"')],
        ["chase 2.name", "“5 × 8” is used twice", "each chase needs its own name"],
    ),
    "two quoins of one name": (
        [('name = "small wedge"', 'name = "medium wedge"')],
        ["quoin 2.name", "“medium wedge” is used twice", "each quoin needs its own name"],
    ),
    "no type": (
        [(TEXT[TEXT.index("[[type]]") : TEXT.index("[spacing]")], "")],
        ["type is missing", "at least one [[type]] table was expected"],
    ),
    "leads in disorder": (
        [('leads = ["1 pt", "1 1/2 pt"', 'leads = ["2 pt", "1 1/2 pt"')],
        ["spacing.leads", "each thicker than the one before was expected"],
    ),
    "leads in no list": (
        [('leads = ["1 pt", "1 1/2 pt", "2 pt", "3 pt"]', 'leads = "2 pt"')],
        ["spacing.leads: '2 pt' was read", 'a list of thicknesses such as ["1 pt", "2 pt"], thinnest first'],
    ),
    "a lead twice": (
        [('leads = ["1 pt", "1 1/2 pt"', 'leads = ["1 pt", "1 pt"')],
        ["spacing.leads", "each thicker than the one before was expected"],
    ),
    "a lead of no thickness": (
        [('leads = ["1 pt"', 'leads = ["0 pt"')],
        ["spacing.leads, entry 1", "more than nothing was expected"],
    ),
    "spaces without the em": (
        [('"5 pt", "10 pt"]', '"5 pt"]')],
        ["type 3.spaces", "the widest was read as 5 pt", "the em, as wide as the body's 10 pt, was expected last"],
    ),
    "two bodies of one size": (
        [
            (
                'body = "8 pt"\nspaces = ["1 pt", "1 1/2 pt", "2 pt", "2 1/2 pt", "3 pt", "4 pt", "8 pt"]',
                'body = "6 pt"\nspaces = ["6 pt"]',
            )
        ],
        ["type 2.body", "“6 pt” is used twice", "each type needs its own name"],
    ),
    "an unknown strip": (
        [('thins = ["1/2 pt"', 'papers = ["1/4 pt"')],
        ["spacing.papers isn't a key this file knows", "leads, slugs, thins"],
    ),
    "a placing without a guide at a side": (
        [('guides = ["bottom", "left"]', 'guides = ["bottom", "top"]')],
        ["placing.guides: ['bottom', 'top'] was read", "two sides that meet were expected"],
    ),
    "a word that is no side": (
        [('guides = ["bottom", "left"]', 'guides = ["foot", "left"]')],
        ["placing.guides", "a list of some of bottom, top, left, right, each once, was expected"],
    ),
    "a chase of no weight": ([('weight = "7 lb"', 'weight = "0 lb"')], ["chase 3.weight", "more than nothing"]),
    "a weight without its unit": ([('weight = "7 lb"', 'weight = "7"')], ["chase 3.weight", "has no unit"]),
    "a weight that is no text": ([('weight = "7 lb"', "weight = 7")], ["chase 3.weight", "7 was read", "a weight wi"]),
    "an unknown kind of quoin": (
        [('kind = "one piece"', 'kind = "cam"')],
        ["quoin 3.kind: 'cam' was read", '"two wedges" or "one piece"'],
    ),
    "a quoin that bears on nothing known": (
        [('bears_on = "any wood"', 'bears_on = "wood"')],
        ["quoin 3.bears_on: 'wood' was read", '"reglet" or "any wood"'],
    ),
    "a key that opens nothing": ([('turn = "1 pt"', 'turn = "0 pt"')], ["quoin 3.turn", "more than nothing"]),
    "grippers in no list": (
        [('grippers = ["left", "right"]', 'grippers = "left"')],
        ["placing.grippers: 'left' was read", "a list of some of left, right"],
    ),
    "a place with no way": (
        [('across = "middle"', 'across = "2 picas"')],
        ["placing.across: '2 picas' was read", '"2 picas left"'],
    ),
    "a place the wrong way": (
        [('up = "middle"', 'up = "2 picas left"')],
        ["placing.up: '2 picas left' was read", '"2 picas below"'],
    ),
    "a place left out": (
        [('up = "middle"\n', "")],
        ["placing.up is missing", '"middle", or a length and which way, such as "2 picas below"'],
    ),
    "guides left out": (
        [('guides = ["bottom", "left"]\n', "")],
        ["placing.guides is missing", "a list of some of bottom, top, left, right was expected"],
    ),
    "a gripper twice": (
        [('grippers = ["left", "right"]', 'grippers = ["left", "left"]')],
        ["placing.grippers: ['left', 'left'] was read", "a list of some of left, right, each once, was expected"],
    ),
    "an unknown key in a base": (
        [("[metal]\n", '[[base]]\nname = "iron"\nwidth = "4 in"\nheight = "3 in"\ncolour = "red"\n\n[metal]\n')],
        ["base 1.colour isn't a key this file knows", "name, width, height, count"],
    ),
    "no list of chases at all": (
        [(TEXT[TEXT.index("[[chase]]") : TEXT.index("# --- Furniture")], 'chase = "8 × 12"\n')],
        ["chase: '8 × 12' was read", "[[chase]] tables were expected"],
    ),
    "a list of no chases": (
        [(TEXT[TEXT.index("[[chase]]") : TEXT.index("# --- Furniture")], "chase = []\n")],
        ["chase: [] was read; one or more [[chase]] tables were expected"],
    ),
    "single lines in no list": (
        [("[furniture]\n", '[furniture]\npieces = "3 of 6 picas × 9 picas"\n')],
        ["furniture.pieces: '3 of 6 picas × 9 picas' was read", "a list of lines such as"],
    ),
    "a place that is a number": (
        [('across = "middle"', "across = 12")],
        ["placing.across: 12 was read", '"middle", or a length and which way'],
    ),
    "a bite without a unit": (
        [('bite = "1/2 in"', 'bite = "2"')],
        ["placing.bite", "has no unit"],
    ),
    "an unknown custom": (
        [('bite = "1/2 in"', 'bit = "1/2 in"')],
        ["placing.bit isn't a key this file knows", "across, up, guides, grippers, bite, tolerance"],
    ),
    "an empty name": (
        [('name = "6 × 9"', 'name = " "')],
        ["chase 2.name", "' ' was read", "a name in quotation marks"],
    ),
    "a number for a name": (
        [('name = "6 × 9"', "name = 6")],
        ["chase 2.name", "6 was read", "a name in quotation marks"],
    ),
    "a single chase table": (
        [(TEXT[TEXT.index("[[chase]]") : TEXT.index("# --- Furniture")], '[chase]\nname = "one"\n')],
        ["chase:", "[[chase]] tables were expected"],
    ),
    "no quoins": (
        [(TEXT[TEXT.index("[[quoin]]") :], "")],
        ["quoin is missing", "at least one [[quoin]] table was expected"],
    ),
    "no furniture": (
        [(TEXT[TEXT.index("[furniture]") : TEXT.index("# --- Reglet")], "")],
        ["furniture is missing", "a table was expected"],
    ),
    "metal without its lengths": (
        [(TEXT[TEXT.index('lengths = ["4 picas"') : TEXT.index("\n\n[metal.counts]")], "")],
        ["metal.lengths is missing", "a list of lengths"],
    ),
    "metal without its counts": (
        [("[metal.counts]", "[metal.widths]")],
        ["metal.widths isn't a key", "lengths, counts"],
    ),
    "a count of metal too few": (
        [("[8, 8, 8, 8, 8, 6, 6, 6]", "[8, 8, 8, 8, 8, 6, 6]")],
        ['metal.counts."4 picas"', "[8, 8, 8, 8, 8, 6, 6] was read", "a list of 8 counts", "each of metal.lengths"],
    ),
    "half a piece of metal": (
        [("[8, 8, 8, 8, 8, 6, 6, 6]", "[8, 8, 8, 8.5, 8, 6, 6, 6]")],
        ['metal.counts."4 picas", entry 4', "8.5 was read", "a whole number of pieces"],
    ),
    "reglet without a thickness": (
        [('[reglet."6 pt"]', "[reglet]")],
        ['reglet."10 to 40 picas"', "can't be read as a length"],
    ),
}


@pytest.mark.parametrize("mistake", MISTAKES)
def test_a_mistake_is_named(tmp_path, mistake):
    changes, expected = MISTAKES[mistake]
    words = refusal(tmp_path, edited(*changes))
    for part in expected:
        assert part in words, words


def test_several_mistakes_are_counted_and_numbered_from_one(tmp_path):
    words = refusal(tmp_path, edited(('travel = "12 pt"', "travel = 12"), ('bite = "1/2 in"', "bite = 2")))
    assert re.fullmatch(r"my\.shop\.toml holds 2 mistakes\. \(1\) .*quoin 1\.travel.* \(2\) .*placing\.bite.*", words)


def test_every_mistake_is_one_change_to_a_file_that_loads(tmp_path):
    path = tmp_path / "my.shop.toml"
    path.write_text(TEXT, encoding="utf-8")
    assert Shop.load(path) == Shop.load(str(path))
    assert all(edited(*changes) != TEXT for changes, _ in MISTAKES.values())


def test_an_empty_file(tmp_path):
    words = refusal(tmp_path, "")
    assert "chase is missing; at least one [[chase]] table was expected" in words


@pytest.mark.parametrize("content", [TEXT.encode("utf-16"), TEXT.encode("latin-1"), b'name = "\xff"'])
def test_a_file_that_is_not_utf_8(tmp_path, content):
    assert "isn't plain UTF-8 text; save it as plain text" in refusal(tmp_path, content)


def test_an_editor_may_sign_the_file_as_utf_8(tmp_path, breakwater):
    path = tmp_path / "my.shop.toml"
    path.write_text(TEXT, encoding="utf-8-sig")
    assert Shop.load(path) == breakwater


def test_the_ends_of_lines_may_be_those_of_another_system(tmp_path, breakwater):
    path = tmp_path / "my.shop.toml"
    path.write_bytes(TEXT.replace("\n", "\r\n").encode())
    assert Shop.load(path) == breakwater


def test_no_such_file(tmp_path):
    with pytest.raises(ShopFileError) as caught:
        Shop.load(tmp_path / "missing.toml")
    assert "missing.toml can't be opened: No such file" in str(caught.value)


def test_a_folder_is_no_shop_file(tmp_path):
    with pytest.raises(ShopFileError) as caught:
        Shop.load(tmp_path)
    assert f"{tmp_path} can't be opened" in str(caught.value)


def test_a_shop_file_error_is_a_value_error():
    assert issubclass(ShopFileError, ValueError)


def test_a_shop_in_use_outlives_a_file_spoilt_afterwards(tmp_path, breakwater):
    path = tmp_path / "my.shop.toml"
    path.write_text(TEXT, encoding="utf-8")
    shop = Shop.load(path)
    path.write_text(edited(('rest = "2 pt"', "rest = 2")), encoding="utf-8")
    with pytest.raises(ShopFileError):
        Shop.load(path)
    assert shop == breakwater


def test_a_file_with_the_least_in_it(tmp_path):
    path = tmp_path / "my.shop.toml"
    path.write_text(
        """
        name = "least"
        [[chase]]
        name = "only"
        inside_width = "100 pt"
        inside_height = "90 pt"
        [furniture]
        lengths = ["10 picas"]
        [furniture.counts]
        "2 picas" = [0]
        [reglet."6 pt"]
        "31 picas" = 3
        "33 to 35 picas" = 1
        [[quoin]]
        name = "wedge"
        length = "3 picas"
        closed = "1 pica"
        travel = "6 pt"
        reserve = "0 pt"
        rest = "6 pt"
        gap = "0 pt"
        span = "10 picas"
        [[type]]
        body = "10 pt"
        spaces = ["5 pt", "10 pt"]
        [spacing]
        leads = ["2 pt"]
        slugs = ["6 pt"]
        thins = ["1/2 pt"]
        """,
        encoding="utf-8",
    )
    reglet = {n * 12.0: (3 if n == 31 else 1) for n in (31, 33, 34, 35)}
    assert Shop.load(path) == Shop(
        "least",
        (Chase("only", 100.0, 90.0),),
        {Material("furniture", 24.0, 120.0): 0, **{Material("reglet", 6.0, n): count for n, count in reglet.items()}},
        (Quoin("wedge", 36.0, 12.0, 6.0, 0.0, 6.0, 0.0, 120.0),),
        (Body(10.0, (5.0, 10.0)),),
        (2.0,),
        (6.0,),
        (0.5,),
    )


def test_a_shop_s_custom_in_placing_is_read(tmp_path, breakwater):
    assert breakwater.placing == Placing(0.0, 0.0, ("bottom", "left"), ("left", "right"), 0.5 / 0.013837, 6.0)
    path = tmp_path / "shop.toml"
    custom = (
        TEXT.replace('across = "middle"', 'across = "1/2 in left"')
        .replace('up = "middle"', 'up = "3 picas above"')
        .replace('guides = ["bottom", "left"]', 'guides = ["right", "top"]')
        .replace('grippers = ["left", "right"]', "grippers = []")
    )
    path.write_text(custom, encoding="utf-8")
    placing = Shop.load(path).placing
    assert (placing.right, placing.up) == pytest.approx((-0.5 / 0.013837, 36))
    assert (placing.guides, placing.grippers) == (("top", "right"), ())


# --- mistakes nobody has thought of -----------------------------------------------------------------------

RAW = TEXT.encode()
scraps = st.one_of(
    st.sampled_from(['"', "'", "[", "]", "[[", "=", "\n", "#", ",", ".", " to ", "-", "\\", "0", '"""', "×"]),
    st.sampled_from(
        ["inf", "nan", "true", "1e999", "0x7f", "1979-05-27", "{}", "[]", "9" * 30, '"10 picas"', "[quoin]"]
    ),
    st.text(max_size=8),
).map(str.encode) | st.binary(max_size=4)


def load_or_refusal(folder: Path, content: bytes) -> Shop | str:
    path = folder / "my.shop.toml"
    path.write_bytes(content)
    try:
        shop = Shop.load(path)
    except ShopFileError as error:
        assert str(error).startswith("my.shop.toml")
        assert str(error).endswith(".")
        return str(error)
    assert shop.chases
    assert shop.quoins
    assert all(count >= 0 for count in shop.stock.values())
    return shop


@given(
    edits=st.lists(
        st.tuples(st.integers(0, len(RAW)), st.integers(0, 12) | st.integers(0, len(RAW)), scraps),
        min_size=1,
        max_size=3,
    )
)
@example(edits=[(0, len(RAW), b"")])
@example(edits=[(RAW.index(b"12, 12"), 2, b"0x7f")])
def test_any_edit_loads_or_is_refused(tmp_path_factory, edits):
    content = RAW
    for start, length, scrap in edits:
        content = content[:start] + scrap + content[start + length :]
    load_or_refusal(tmp_path_factory.getbasetemp(), content)


WORDS = sorted(set(re.findall(r'"[^"\n]*"|\w+|\[+|\]+|=|,', TEXT)))


@given(
    swaps=st.lists(st.tuples(st.integers(0, 10**6), st.sampled_from([*WORDS, ""])), min_size=1, max_size=3),
)
def test_any_word_exchanged_loads_or_is_refused(tmp_path_factory, swaps):
    pieces = re.split(r'("[^"\n]*"|\w+|\[+|\]+|=|,)', TEXT[TEXT.index("\nname =") :])
    for at, word in swaps:
        pieces[at % (len(pieces) // 2) * 2 + 1] = word
    load_or_refusal(tmp_path_factory.getbasetemp(), "".join(pieces).encode())


def test_the_edits_are_neither_all_harmless_nor_all_fatal(tmp_path):
    edits = [RAW[:n] + scrap + RAW[n + 1 :] for n in range(0, len(RAW), 97) for scrap in (b"", b"7", b'"')]
    outcomes = [load_or_refusal(tmp_path, content) for content in edits]
    refused = sum(isinstance(outcome, str) for outcome in outcomes)
    assert len(edits) / 4 < refused < len(edits) * 3 / 4


@pytest.mark.parametrize(
    "content",
    [
        edited(("[12, 12, 12", f"[{'1' * 5000}, 12, 12")),
        edited(('inside_width = "8 in"', f"inside_width = 0x{'f' * 5000}")),
        edited(('"10 to 40 picas" =', f'"10 to {"9" * 5000} picas" =')),
        TEXT + "\nx = " + "[" * 5000 + "]" * 5000,
    ],
    ids=["a count of 5000 figures", "a hexadecimal width", "a range without end", "brackets in brackets"],
)
def test_a_file_beyond_all_reason_is_refused(tmp_path, content):
    refusal(tmp_path, content)


def test_a_path_that_can_be_none_is_refused():
    with pytest.raises(ShopFileError):
        Shop.load("my\0shop.toml")


def test_a_strange_key_is_shown_on_one_line(tmp_path):
    assert "isn't a key this file knows" in refusal(tmp_path, edited(("inside_width =", '"inside\\nwidth" =')))


@pytest.mark.parametrize("old", ['"6 pt"]', 'span = "20 picas"'])
def test_a_size_below_the_hundredth_of_a_point_is_refused(tmp_path, old):
    refusal(tmp_path, edited((old, re.sub('"[^"]*"', '"0.001 pt"', old))))


def test_reglet_and_metal_have_their_words_in_the_cabinet_too(tmp_path):
    path = tmp_path / "my.shop.toml"
    shelves = '[reglet.labels]\n"6 pt" = "top shelf"\n\n[metal.labels]\n"2 picas x 5 picas" = "tin"\n\n[metal]'
    path.write_text(edited(("[metal]", shelves)), encoding="utf-8")
    shop = Shop.load(path)
    assert shop.labels[Material("reglet", 6.0, 12 * PICA)] == "top shelf, place 3"
    assert shop.labels[Material("metal", 2 * PICA, 5 * PICA)] == "tin"
    assert not any(material.thickness == 12 for material in shop.labels)


def test_a_range_of_two_lengths_is_a_range(tmp_path):
    path = tmp_path / "my.shop.toml"
    path.write_text(edited(('"10 to 40 picas" = 6', '"10 to 11 picas" = 6')), encoding="utf-8")
    reglet = [m.length / PICA for m in sizes(Shop.load(path), "reglet") if m.thickness == 6 and m.length < 41 * PICA]
    assert reglet == [10, 11]


def test_what_isn_t_there_may_be_left_out(tmp_path):
    path = tmp_path / "my.shop.toml"
    left_out = TEXT.replace('slugs = ["6 pt", "12 pt"]', "slugs = []")
    path.write_text(re.sub(r"(?m)^thins = .*\n", "", left_out), encoding="utf-8")
    shop = Shop.load(path)
    assert shop.slugs == shop.thins == () and shop.leads


# --- things themselves ----------------------------------------------------------------------------------------

PARTS = {"length": 36.0, "closed": 18.0, "travel": 12.0, "reserve": 4.0, "rest": 3.0, "gap": 12.0, "span": 144.0}
NEEDED = {
    "The chase “any”": (lambda **sizes: Chase("any", **{"width": 100.0, "height": 100.0} | sizes), ("width", "height")),
    "The quoin “any”": (lambda **sizes: Quoin("any", **PARTS | sizes), ("length", "closed", "span", "turn")),
}


@pytest.mark.parametrize(("what", "name"), [(what, name) for what, (_, names) in NEEDED.items() for name in names])
@pytest.mark.parametrize("value", [0.0, -1.0, float("nan"), float("inf")])
def test_a_thing_without_a_size_is_refused_by_its_name(what, name, value):
    with pytest.raises(ValueError, match=rf"^{what}.*\b{name}\b.*\.$"):
        NEEDED[what][0](**{name: value})


def test_there_is_one_of_a_chase_of_which_no_number_is_said():
    assert Chase("any", 100.0, 100.0).count == 1 and not Chase("any", 100.0, 100.0).bed


def test_only_a_thing_loses_the_article_before_its_name(shop_file, tmp_path):
    text = shop_file.read_text(encoding="utf-8").replace('name = "Breakwater', 'name = "the Breakwater', 1)
    (tmp_path / "my.shop.toml").write_text(text.replace('name = "5 × 8"', 'name = "the 5 × 8"'), encoding="utf-8")
    shop = Shop.load(tmp_path / "my.shop.toml")
    assert shop.name.startswith("the Breakwater") and shop.chase("5 × 8").name == "5 × 8"
