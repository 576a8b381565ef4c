"""Lengths against published figures, pint's own definitions, bad input and properties."""

import math
import re
from fractions import Fraction

import pint
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from stonework import units
from stonework.units import PICA, POINTS_PER_INCH, read_length, read_weight, write_length

UNDERSTOOD = ["27 picas 6 pt", "27p6", "18 pt", "4 1/2 in", "114 mm", "20 ciceros"]
"""Every refusal names at least one of these; ``test_every_example_in_a_refusal_is_understood`` reads them."""


@pytest.fixture(scope="module")
def plain_pint():
    """A registry that our module has never touched."""
    return pint.UnitRegistry()


def each(texts):
    """Return the texts of a list written with bars between them."""
    return texts.replace(" | ", "|").split("|")


def inches(text):
    return read_length(text) / POINTS_PER_INCH


# --- published figures ------------------------------------------------------------------------------------


def test_the_american_point_and_pica():
    # A. A. Stewart, Typesetting (UTA No. 16), 1919, p. 15: the point is .013837 inch; pica 12, nonpareil 6.
    assert inches("1 pt") == pytest.approx(0.013837, rel=1e-12)
    assert read_length("1 pica") == PICA == 12.0
    assert type(PICA) is float
    assert read_length("1/2 pica") == 6.0
    # NBS Circular 570 (1956), by way of Knuth 1986, p. 58 (seen second-hand): exactly .013837 inch.
    assert pytest.approx(1 / 0.013837, rel=1e-15) == POINTS_PER_INCH


def test_ems_of_rule_or_lead_are_picas():
    # Stewart 1919, p. 14: "ems" of lead or rule are pica ems, whatever the size of the type.
    assert read_length("20 ems") == read_length("20 pica ems") == read_length("20 picas") == 240.0


IN_POINTS = {"1/8": 9.034, "1/4": 18.068, "3/8": 27.101, "1/2": 36.135, "5/8": 45.169, "3/4": 54.203}


@pytest.mark.parametrize("inch", IN_POINTS)
def test_inches_to_points_as_printed(inch):
    # Graphic Design Reference & Specification Book, chapter 1: the table of inches, points and picas.
    assert read_length(f"{inch} in") == pytest.approx(IN_POINTS[inch], abs=0.0005)


@pytest.mark.parametrize(("text", "picas"), [("1/2 in", 3.011), ("5/8 in", 3.764), ("3/4 in", 4.517)])
def test_inches_to_picas_as_printed(text, picas):
    # The same table.
    assert read_length(text) / PICA == pytest.approx(picas, abs=0.0005)


def test_the_misprint_at_a_sixteenth_of_an_inch():
    # The same table prints 4.513 points at 1/16 inch; half of its own row for 1/8 inch is 4.517.
    sixteenth = read_length("1/16 in")
    assert sixteenth == pytest.approx(9.034 / 2, abs=0.0005)
    assert sixteenth != pytest.approx(4.513, abs=0.003)


def test_three_quarters_of_an_inch_in_millimetres():
    # The same table: 3/4 inch is 19.05 mm.
    assert read_length("3/4 in") == pytest.approx(read_length("19.05 mm"), rel=1e-12)


def test_six_picas_fall_short_of_an_inch():
    # "Introduction to letterpress printing" (handout): six picas are 0.996264 inch.
    assert inches("6 picas") == pytest.approx(0.996264, abs=5e-7)


def test_72_picas_fall_short_of_a_foot():
    # The same handout says by 3 points; derived from the point above, 3.24.
    short = read_length("12 in") - read_length("72 picas")
    assert short == pytest.approx(3.24, abs=0.005)
    assert write_length(short) == "3.24 pt"


def test_the_founders_83_picas_in_35_centimetres():
    # T. MacKellar, The American Printer, 18th ed. 1893, p. 52: 83 picas are 35 cm. Derived: at 0.013837 inch
    # to the point they come to 350.054 mm, about a seventh of a point more.
    founding, ours = read_length("35 cm"), read_length("83 picas")
    assert ours == 996.0
    assert ours - founding == pytest.approx(0.154, abs=0.0005)
    assert ours / read_length("1 mm") == pytest.approx(350.054, abs=0.0005)
    assert founding / POINTS_PER_INCH / 996 == pytest.approx(0.0138349, abs=5e-8)


@pytest.mark.parametrize(
    ("side", "picas"),
    [(8, 48.18), (10, 60.23), (11, 66.25), (12, 72.27), (15, 90.34), (16, 96.36), (18, 108.41)],
)
def test_chase_sides_in_picas(side, picas):
    # Derived from the point of Stewart 1919, p. 15.
    assert read_length(f"{side} in") / PICA == pytest.approx(picas, abs=0.005)


def test_the_didot_point_and_the_cicero():
    # The modern metric statement (popai.com glossary; de.zxc.wiki): 2660 Didot points to the metre, one is
    # 0.376 mm, and twelve, a cicero, 4.51 mm.
    assert read_length("2660 didot points") == pytest.approx(read_length("100 cm"), rel=1e-12)
    assert read_length("1 didot") / read_length("1 mm") == pytest.approx(0.376, abs=0.0005)
    assert read_length("1 cicero") == pytest.approx(read_length("12 didot"), rel=1e-12)
    assert read_length("1 cicero") / read_length("1 mm") == pytest.approx(4.51, abs=0.005)
    # The Alexander Lawson archive, on point systems: the European point is 0.0148 inch.
    assert inches("1 didot point") == pytest.approx(0.0148, abs=0.00005)


def test_height_to_paper():
    # A. A. Stewart, Type (UTA No. 1), 1918, p. 7: 0.918 inch. MacKellar 1893, p. 55: 2 1/3 cm, which is
    # 0.91864 inch: they agree to a thousandth of an inch, and not to a ten-thousandth.
    assert read_length("0.918 in") == pytest.approx(66.34, abs=0.005)
    assert inches("2 1/3 cm") == pytest.approx(0.91864, abs=5e-6)
    assert 0.0001 < inches("2 1/3 cm") - inches("0,918 in") < 0.001


# --- pint's own definitions -------------------------------------------------------------------------------


def test_tex_agrees(plain_pint):
    # pint's tex_point, an inch / 72.27, is the nearest thing outside to the American point.
    tex_points = plain_pint.Quantity(12, "inch").m_as("tex_point")
    assert read_length("12 in") == pytest.approx(tex_points, abs=1e-4)
    assert read_length("12 in") != tex_points


@pytest.mark.parametrize("name", ["point", "printers_point"])
def test_the_trap_in_pints_own_point(plain_pint, name):
    # pint's names mean 1/72 inch. We leave them so, and over a 12-inch chase they are 3.2 points wrong.
    for registry in (plain_pint, units._registry):
        assert registry.Quantity(72, name).m_as("inch") == pytest.approx(1, rel=1e-12)
    wrong = plain_pint.Quantity(12, "inch").m_as(name)
    assert read_length("12 in") - wrong == pytest.approx(3.24, abs=0.005)


@pytest.mark.parametrize("name", ["pica", "printers_pica"])
def test_the_trap_in_pints_own_pica(plain_pint, name):
    for registry in (plain_pint, units._registry):
        assert registry.Quantity(6, name).m_as("inch") == pytest.approx(1, rel=1e-12)
    assert PICA * plain_pint.Quantity(12, "inch").m_as(name) == pytest.approx(864)
    assert read_length("72 picas") == 864.0
    assert inches("72 picas") < 11.956


def test_the_trap_in_pints_own_pt(plain_pint):
    # To pint "pt" is a pint, a volume; here it's the American point.
    assert plain_pint.Quantity(1, "pt").check("[length]**3")
    assert read_length("1 pt") == read_length("1 point") == 1.0


def test_no_unit_can_be_redefined_unnoticed():
    with pytest.raises(pint.RedefinitionError):
        units._registry.define("american_point = 1 / 72 * inch")


# --- as people write them ---------------------------------------------------------------------------------

WHOLE_PICAS = each(
    "27 picas | 27 PICAS | 27picas |  27   Picas  | 27p | 27 ems | 27 em | 27 pica ems | 27.0 picas"
    "|27,0 picas|27\u00a0picas|27\u202fpicas\n|54/2 picas"
)
PICAS_AND_POINTS = each(
    "27 picas 6 points | 27 picas, 6 pt | 27 picas,6pt | 27 picas and 6 points | 27p6 | 27P6 | 27 p 6 | 27 p6"
    "|27p 6 pt | 27 1/2 picas | 27½ picas | 27-1/2 picas | 27.5 picas | 27,5 picas | 27½p | 330 pt | 330 pts."
    "|27\u00a0picas\u00a06\u00a0pt | 27 picas 6 pt. | 26 picas 18 pt"
)
PARTS_OF_A_POINT = each("1 pica 0.5 pt | 1 pica .5 pt | 1p½ | 1p1/2 | 1p0,5 | 12½ pt | 1 em 1/2 point")
NOTHING = each("0 pt | 0 in | 0p0 | -0 pt | 0/4 in")
ALIKE = {324: WHOLE_PICAS, 330: PICAS_AND_POINTS, 12.5: PARTS_OF_A_POINT, 0: NOTHING}


@pytest.mark.parametrize(("text", "points"), [(text, points) for points in ALIKE for text in ALIKE[points]])
def test_picas_and_points_as_people_write_them(text, points):
    length = read_length(text)
    assert type(length) is float
    assert length == points


INCHES = each(
    "4 1/2 in | 4 1/2 in. | 4 1/2 ins | 4 1⁄2 in | 4 1 / 2 in | 4-1/2 inches | 4‑1/2 inches | 4–1/2 INCHES"
    "|4½ in | 4½in | 4 ½ in | 4-½ in | 4\u2009½\u2009in | 4\u00a01/2\u00a0in | 9/2 in | 4,5 in | 4.50 inch"
    "|4.5\" | 4½\" | 4.5″ | 4.5” | 4.5“ | 4.5'' | 4.5′′ | 4.5’’"
)


@pytest.mark.parametrize("text", INCHES)
def test_four_and_a_half_inches(text):
    assert read_length(text) == pytest.approx(4.5 / 0.013837, rel=1e-12)


@pytest.mark.parametrize("text", each("114 mm | 11.4 cm | 11,4 cm | 11 cm 4 mm | 114 millimetres | 11.4 CENTIMETERS"))
def test_a_hundred_and_fourteen_millimetres(text):
    assert inches(text) * 25.4 == pytest.approx(114, rel=1e-12)


@pytest.mark.parametrize(
    "text", each("20 ciceros 3 didot points | 20 ciceros 3 didot | 20 ciceros, 3 Didot pts | 243 didot")
)
def test_ciceros_and_didot_points(text):
    assert inches(text) * 25.4 == pytest.approx(243 * 1000 / 2660, rel=1e-12)


FRACTIONS = dict(
    text.split("=")
    for text in each(
        "¼=1/4 | ½=1/2 | ¾=3/4 | ⅐=1/7 | ⅑=1/9 | ⅒=1/10 | ⅓=1/3 | ⅔=2/3 | ⅕=1/5 | ⅖=2/5 | ⅗=3/5 | ⅘=4/5"
        "|⅙=1/6 | ⅚=5/6 | ⅛=1/8 | ⅜=3/8 | ⅝=5/8 | ⅞=7/8"
    )
)


@pytest.mark.parametrize("character", FRACTIONS)
def test_fractions_of_one_character(character):
    value = float(Fraction(FRACTIONS[character]))
    assert read_length(f"{character} pica") == pytest.approx(12 * value)
    assert read_length(f"11{character} picas") == pytest.approx(12 * (11 + value))


def test_a_decimal_comma_where_it_cannot_part_thousands():
    assert read_length("0,918 in") == read_length("0.918 in")
    assert read_length("1234,125 pt") == 1234.125
    assert read_length("27,75 pt") == 27.75
    assert read_length("1,2505 pt") == 1.2505


# --- what is refused --------------------------------------------------------------------------------------


def refusal(text):
    """Return the sentence, having checked that it is one."""
    with pytest.raises(ValueError) as caught:
        read_length(text)
    sentence = str(caught.value)
    assert type(caught.value) is ValueError
    assert sentence.isprintable()
    assert sentence.endswith(".")
    assert ". " not in sentence.removeprefix(f"“{text}”")
    return sentence


NO_UNIT = each("27 | 4.5 | 27 1/2 | ½ | 0 | -27")
NEGATIVE = each("-4 in | −4 in | –4 in | - 4 in | -½ in | -0.5 pt | -1/4 pt | -27p6 | -27 picas 6 pt")
MIXED = each("4 in 3 mm | 4 in 3 in | 6 pt 2 picas | 2 picas 1 pica | 20 ciceros 3 pt | 27 picas 6 didot | 1 in 6 pt")
TOO_LONG = each("1000000000 in | 1201 in | 86725 pt | 7227 picas 1 pt | 99999999999999999999 mm")
BY_NOUGHT = each("1/0 in | 4 1/0 in | 0/0 pt | 27 picas 1/0 pt")
NONSENSE = each(
    "nan | nan in | inf | inf pt | infinity mm | 1e9 in | 1e999 in | a bit | in | 27 furlongs | 27 q | p6"
    "|picas 27 | 27 picas 6 | 27 6 pt | 27 picas -6 pt | 27 picas 6 pt 3 pt | 4 - 1/2 in | 4..5 in | 4.5.6 in"
    "|1,000,000 pt | 1 000 pt | 1/2/3 in | 1½½ in | ½½ in | 4² in | ٣ in | 4 in; 5 in"
    "|27 american_point | 27 pint | 27 in**2 | __import__('os')"
)


def whole_refusal(text):
    sentence = refusal(text)
    assert f"“{text}”" in sentence
    assert any(wanted in sentence for wanted in UNDERSTOOD)
    return sentence


@pytest.mark.parametrize("text", NO_UNIT)
def test_a_bare_number_is_refused(text):
    assert "no unit" in whole_refusal(text)


@pytest.mark.parametrize("text", NEGATIVE)
def test_less_than_nothing_is_refused(text):
    assert "less than nothing" in whole_refusal(text)


@pytest.mark.parametrize("text", MIXED)
def test_parts_that_do_not_belong_together_are_refused(text):
    assert "larger and then a smaller measure of one system" in whole_refusal(text)


@pytest.mark.parametrize("text", TOO_LONG)
def test_more_than_100_feet_is_refused(text):
    assert "more than 100 feet" in whole_refusal(text)


def test_100_feet_is_read():
    assert read_length("1200 in") == pytest.approx(1200 / 0.013837)


@pytest.mark.parametrize("text", BY_NOUGHT)
def test_division_by_nought_is_refused(text):
    assert "divides by nought" in whole_refusal(text)


@pytest.mark.parametrize("text", NONSENSE)
def test_nonsense_is_refused(text):
    assert "can't be read as a length" in whole_refusal(text)


@pytest.mark.parametrize("text", ["", " ", "\n\t", "\u00a0"])
def test_nothing_written_is_refused(text):
    sentence = refusal(text)
    assert "No length was written" in sentence
    assert "27 picas 6 pt" in sentence


@pytest.mark.parametrize("value", [None, 27, 4.5, math.nan, b"27 picas", ["27 picas"]])
def test_what_is_not_text_is_refused(value):
    sentence = refusal(value)
    assert f"“{value!r}” isn't text" in sentence
    assert "27 picas 6 pt" in sentence


@pytest.mark.parametrize(
    ("text", "small", "large"),
    [
        ("1,250 mm", "1.250 mm", "1250 mm"),
        ("12,500 didot", "12.500 didot", "12500 didot"),
        ("1p6,125", "1p6.125", "1p6125"),
    ],
)
def test_a_comma_that_could_part_thousands_is_refused_with_both_meanings(text, small, large):
    sentence = refusal(text)
    assert f"“{text}” could mean two lengths; write {small} or {large}, without the comma." == sentence
    assert read_length(small) < read_length(large)


@pytest.mark.parametrize("text", [*UNDERSTOOD, "20 ciceros 3 didot points", "11 cm 4 mm"])
def test_every_example_in_a_refusal_is_understood(text):
    assert 18 <= read_length(text) <= 400
    assert any(text in refusal(bad) for bad in ("27", "4 in 3 mm"))


def test_a_refusal_is_short_and_printable_whatever_was_written():
    assert len(refusal("x" * 100_000)) < 250
    assert "�" in refusal("27 \x00 \ud800 \u202e picas")
    assert "“27 pi cas”" in refusal("27\u2028pi\r\ncas")


# --- writing ----------------------------------------------------------------------------------------------

WRITTEN = {
    "0 pt": [0, -0.0, 0.004, -0.004],
    "0.01 pt": [0.006, 0.01, 0.014],
    "0.1 pt": [0.1],
    "6 pt": [6, 6.0, 5.999],
    "11.99 pt": [11.99, 11.994],
    "1 pica": [12, 11.999, 12.004],
    "1 pica 0.5 pt": [12.5],
    "1 pica 10 pt": [22],
    "2 picas": [24, 23.996],
    "2 picas 1.25 pt": [25.25],
    "27 picas": [324],
    "27 picas 6 pt": [330, 330.0],
    "100 picas": [1200],
    "83333333333 picas 11.5 pt": [1e12 + 7.5],
    "−0.01 pt": [-0.006],
    "−6 pt": [-6],
    "−1 pica": [-11.999],
    "−27 picas 6 pt": [-330],
}


@pytest.mark.parametrize(("text", "points"), [(text, points) for text in WRITTEN for points in WRITTEN[text]])
def test_a_length_is_written_in_picas_and_points(text, points):
    assert write_length(points) == text


@pytest.mark.parametrize("points", [math.nan, math.inf, -math.inf])
def test_a_length_that_is_not_finite_is_not_written(points):
    with pytest.raises(ValueError) as caught:
        write_length(points)
    assert str(points) in str(caught.value)
    assert str(caught.value).endswith(".")


# --- properties -------------------------------------------------------------------------------------------

lengths = st.floats(0, 5000)


@given(lengths)
@example(11.995)
@example(4999.995)
def test_what_is_written_reads_back_to_the_hundredth(points):
    text = write_length(points)
    # 0.005 is half of the hundredth that is written; the rest is a float's own rounding at 5000 points.
    assert abs(read_length(text) - points) <= 0.005 + 1e-12 * 5000
    assert write_length(read_length(text)) == text


@given(lengths)
def test_writing_has_one_form(points):
    form = r"(1 pica|[1-9]\d* picas)?( ?(\d|10|11)(\.\d?[1-9])? pt)?"
    text = write_length(points)
    assert text == text.strip() != ""
    assert re.fullmatch(form, text)
    assert text == "0 pt" or not re.search(r"\b0 pt", text)


@given(lengths.filter(lambda points: points > 0.005))
def test_a_difference_below_nothing_has_a_minus(points):
    assert write_length(-points) == "−" + write_length(points)


@given(st.integers(0, 400), st.integers(0, 11), st.integers(0, 99))
def test_all_spellings_of_picas_and_points_agree(picas, points, hundredths):
    decimal = f"{points}.{hundredths:02}"
    expected = float(picas * 12 + points + Fraction(hundredths, 100))
    for text in (
        f"{picas} picas {decimal} points",
        f"{picas}p{decimal}",
        f"{picas} PICAS, {decimal.replace('.', ',')} pt",
        f"{picas * 12 + points}.{hundredths:02} pt",
    ):
        assert read_length(text) == pytest.approx(expected, abs=1e-9)


@given(st.integers(0, 90), st.integers(0, 63), st.sampled_from([2, 3, 4, 8, 16, 32, 64]))
def test_mixed_numbers_agree_with_exact_fractions(whole, top, bottom):
    exact = float((whole + Fraction(top, bottom)) / Fraction("0.013837"))
    for text in (
        f"{whole} {top}/{bottom} in",
        f'{whole}-{top}/{bottom}"',
        f"{whole * bottom + top}⁄{bottom} inch",
    ):
        assert read_length(text) == pytest.approx(exact, rel=1e-12)


scraps = st.sampled_from(
    [
        *"0123456789 .,/-–−p½¼\"'″’\u00a0\n",
        "9" * 400,
        *each("27 | 1/2 | picas | pt | points | in | mm | cm | em | ciceros | didot | and | e9 | nan | inf"),
    ]
)
near_lengths = st.lists(scraps, max_size=9).map("".join) | st.lists(scraps, max_size=9).map(" ".join)


@given(st.text() | near_lengths)
@example("9" * 400 + "/" + "9" * 400 + " in")
@example("9" * 5000 + " pt")
@example("İn 27")
@example("27 ſ")
def test_any_text_is_a_length_or_a_sentence(text):
    try:
        length = read_length(text)
    except ValueError as error:
        sentence = str(error)
        assert sentence.isprintable()
        assert sentence.endswith(".")
        assert "write" in sentence
    else:
        assert type(length) is float
        assert 0 <= length <= 100 * 12 * POINTS_PER_INCH


# By definition since 1959 an inch is 2.54 cm and a pound 453.59237 g.
SPELT = {
    ("in", "ins", "inch", "inches", '"', "''"): 1 / 0.013837,
    ("cm", "centimetre", "centimetres", "centimeter", "centimeters"): 1 / 2.54 / 0.013837,
    ("mm", "millimetre", "millimetres", "millimeter", "millimeters"): 0.1 / 2.54 / 0.013837,
    ("p", "pica", "picas", "em", "ems", "pica em", "pica ems"): 12.0,
    ("pt", "pts", "point", "points"): 1.0,
}
WEIGHED = {
    ("lb", "lbs", "pound", "pounds"): 1.0,
    ("oz", "ounce", "ounces"): 1 / 16,
    ("kg", "kilo", "kilos", "kilogram", "kilograms"): 1000 / 453.59237,
    ("g", "gram", "grams"): 1 / 453.59237,
}


@pytest.mark.parametrize(("word", "size"), [(word, size) for words, size in SPELT.items() for word in words])
def test_every_unit_of_length_is_understood_as_it_may_be_spelt(word, size):
    for written in (f"3 {word}", f" 3  {word.upper()} "):
        assert read_length(written) == pytest.approx(3 * size, rel=1e-4)


@pytest.mark.parametrize(("word", "size"), [(word, size) for words, size in WEIGHED.items() for word in words])
def test_every_unit_of_weight_is_understood_as_it_may_be_spelt(word, size):
    assert read_weight(f"3 {word}") == pytest.approx(3 * size, rel=1e-6)


@pytest.mark.parametrize("words", [("cicero", "ciceros"), ("didot", "didots", "didot pt", "didot points")])
def test_the_didot_words_are_one_unit(words):
    assert len({read_length(f"3 {word}") for word in words}) == 1
    assert read_length("3 ciceros") == pytest.approx(12 * read_length("3 didot points"))
