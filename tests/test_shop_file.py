"""The shop file beyond the school's: where its mistakes stand, TOML's own, likely slips, and three irregular shops."""

from __future__ import annotations

import os
import tomllib
from pathlib import Path

import pytest
from conftest import ROOT
from hypothesis import given
from hypothesis import strategies as st
from stonework.shop import VERSION, Chase, Material, Mount, Shop, ShopFileError, read_file
from stonework.shop.lines import lines_of
from stonework.units import PICA, POINTS_PER_INCH

SCHOOL = (ROOT / "lessons" / "breakwater.shop.toml").read_text(encoding="utf-8")
LOFT = (ROOT / "tests" / "shops" / "loft.shop.toml").read_text(encoding="utf-8")
CELLAR = (ROOT / "tests" / "shops" / "cellar.shop.toml").read_text(encoding="utf-8")


def read(folder: Path, text: str):
    path = folder / "my.shop.toml"
    path.write_text(text, encoding="utf-8")
    return read_file(path)


def changed(text: str, *changes: tuple[str, str]) -> str:
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


def line_of(text: str, what: str) -> int:
    return text[: text.index(what)].count("\n") + 1


# --- where a value stands -----------------------------------------------------------------------------------

keys = st.sampled_from(["a", "b-1", "c_d", '"2 picas"', '"x × y"', "'[q]'", '"a.b"', r'"\u00e9"'])
scalars = st.sampled_from(
    ["1", "1.5", "-2e3", "true", '"t"', "'l'", '"]"', '"#"', r'"\""', "1979-05-27 07:32:00", '"""m\nn"""']
)
values = st.recursive(
    scalars,
    lambda inner: (
        st.lists(inner, max_size=3).map(lambda items: "[" + ", # a remark\n".join(items) + "\n]")
        | st.dictionaries(keys, inner, max_size=2).map(
            lambda table: "{" + ", ".join(f"{k} = {v}" for k, v in table.items()) + "}"
        )
    ),
    max_leaves=6,
)
headers = st.tuples(st.sampled_from(["[{}]", "[[{}]]"]), st.lists(keys, min_size=1, max_size=2)).map(
    lambda pair: pair[0].format(".".join(pair[1]))
)
documents = st.lists(
    st.one_of(headers, st.tuples(keys, values).map(" = ".join), st.just("# [no] = 1"), st.just("")), max_size=12
).map("\n".join)


def paths(value, path=()):
    """Every way into a value, with what is there."""
    if path:
        yield path, value
    for key, inner in value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ():
        yield from paths(inner, (*path, key))


@given(documents)
def test_every_value_of_a_sound_file_has_its_line(text):
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    lines, written = lines_of(text), text.split("\n")
    reached = dict(paths(table))
    # A [[list]] of tables has no line of its own; its tables have.
    assert {p for p in reached if not (isinstance(reached[p], list) and (*p, 0) in lines)} <= set(lines)
    assert set(lines) <= set(reached)
    for path, line in lines.items():
        last = path[-1]
        if isinstance(last, str) and last.isascii() and last.isidentifier():
            assert last in written[line - 1]
        if isinstance(reached[path], bool | int) and isinstance(last, int):
            assert str(reached[path]).lower() in written[line - 1]


# --- all mistakes at once -----------------------------------------------------------------------------------


def test_every_mistake_comes_out_at_once_with_its_line(tmp_path):
    slips = (
        ('inside_width = "9 in"', 'inside_width = "9 feet"'),
        ("[12, 12, 12, 12, 12, 8", "[12, -12, 12, 12, 12, 8"),
        ('travel = "10 pt"', "travel = 10"),
        ('guides = ["bottom", "left"]', 'guides = ["bottom", "top"]'),
        ('thins = ["1/2 pt", "1 pt"]', 'thins = ["1 pt", "1/2 pt"]'),
    )
    text = changed(SCHOOL, *slips)
    file = read(tmp_path, text)
    assert file.shop is None
    assert [note.line for note in file.mistakes] == sorted(line_of(text, new) for _, new in slips)
    told = [note.sentence for note in file.mistakes]
    for part, sentence in zip(("9 feet", "-12 was read", "10 was read", "two sides", "thicker"), told, strict=True):
        assert part in sentence and sentence.endswith(".")
    with pytest.raises(ShopFileError, match="holds 5 mistakes") as caught:
        Shop.load(tmp_path / "my.shop.toml")
    assert all(str(note) in str(caught.value) for note in caught.value.mistakes)


def test_a_notebook_shows_a_broken_file_s_sentence_and_no_traceback(tmp_path):
    path = tmp_path / "my.shop.toml"
    path.write_text(changed(SCHOOL, ('travel = "10 pt"', "travel = 10")), encoding="utf-8")
    with pytest.raises(ShopFileError) as caught:
        Shop.load(path)
    shown = "\n".join(caught.value._render_traceback_())
    assert shown == str(caught.value) and "Traceback" not in shown and "quoin 2.travel" in shown


# What was written, and what the sentence must say; then the lines of those that aren't wrong in their first.
BROKEN = {
    "no comma": ('x = ["10 picas" "15 picas"]', 'a comma is missing before “"15 picas"]”'),
    "no comma at a line's end": ('x = [\n"a",\n"b"\n"c"]', "a comma is missing before"),
    "no comma in numbers": ("x = [12, 12 12]", "a comma is missing before “12]”"),
    "an inch mark": ('w = "8""', 'an inch mark inside the quotation marks ends the text too early; write in: "8 in"'),
    "an inch mark and a unit": ('w = "8 1/2" in"', "an inch mark"),
    "inch marks in a list": ('w = ["8"", "9""]', "an inch mark"),
    "curly quotes": ("w = “8 in”", "curly quotation marks were read; plain ones"),
    "a curly one at the end": ('w = "8 in”', "curly quotation marks were read"),
    "a table twice": ("[a]\nx = 1\n[a]\ny = 2", "the table “a” stands in the file already"),
    "one of several as a table": ("[[q]]\nx = 1\n[q]\ny = 1", "write it in double brackets [[ ]] above each"),
    "a key twice": ("a = 1\na = 2", "“a” was given a value already"),
    "a width twice": ('[c]\n"2 picas" = [1]\n"2 picas" = [2]', '“"2 picas"” was given a value already'),
    "a bare length": ("w = 8 in", 'a length without quotation marks was read; write it as in "8 in"'),
    "a bare fraction": ("w = 8 1/2", "a length without quotation marks"),
    "a bare key of two words": ("2 picas = 4", "quotation marks round a key of two words"),
    "a list left open": ('x = ["a", "b"\ny = 2', "a list begins here with [ and isn't closed with ]"),
    "a bracket left out": ("[[chase]\nx = 1", "a bracket is missing"),
    "a comma too many": ("x = { a = 1, }", "nothing may follow the last comma between { and }"),
    "no value": ("x = \ny = 1", "nothing stands after “x” =; a value was expected"),
    "a word": ("x = yes", "“yes” was read; text in quotation marks"),
    "two values": ('x = "a" # b\ny = 1 z', "nothing after it on its line but a # remark: “z”"),
}


LINES = {
    "no comma at a line's end": 4,
    "a table twice": 3,
    "one of several as a table": 3,
    "a key twice": 2,
    "a width twice": 3,
    "two values": 2,
}


@pytest.mark.parametrize("what", BROKEN)
def test_toml_s_own_mistakes_are_sentences(tmp_path, what):
    text, said = BROKEN[what]
    file = read(tmp_path, f"{text}\n")
    (note,) = file.mistakes
    assert file.shop is None and said in note.sentence, note
    assert note.line == LINES.get(what, 1)


# --- likely slips -------------------------------------------------------------------------------------------

SLIPS = {
    "a quoin 29 inches thick": (SCHOOL, ('closed = "2 picas"', 'closed = "29 in"'), "very thick for a quoin"),
    "a reglet thicker than furniture": (
        SCHOOL,
        ('[reglet."12 pt"]', '[reglet."12 picas"]'),
        "thicker than the thinnest",
    ),
    "furniture longer than any chase": (SCHOOL, ('"60 picas"]', '"600 picas"]'), "longer than any chase is inside"),
    "a chase higher than wide": (
        SCHOOL,
        ('inside_width = "8 in"\ninside_height = "5 in"', 'inside_width = "5 in"\ninside_height = "8 in"'),
        "higher than wide",
    ),
    "reglet in inches": (SCHOOL, ('"41 to 60 picas" = 4', '"1 to 9 in" = 4'), "Are picas meant?"),
    "nothing said of placing": (
        SCHOOL,
        (SCHOOL[SCHOOL.index("[placing]") : SCHOOL.index("# --- Type")], ""),
        "nothing is said of where forms stand",
    ),
    "a worn stick of another width": (LOFT, ('measures = "35.3 pt"', 'measures = "25.3 pt"'), "more than worn"),
    "a stick wider than long": (CELLAR, ('"4 of 10 picas × 13 picas"', '"4 of 10 picas × 3 picas"'), "wider than long"),
    "a great many": (CELLAR, ('"6 of 2 picas × 9 picas"', '"6000 of 2 picas × 9 picas"'), "a great many"),
    "a chase that no press takes": (LOFT, ('chases = ["9 × 13", "12 × 18"]', 'chases = ["9 × 13"]'), "no press takes"),
    "a bite of four inches": (CELLAR, ('bite = "3/8 in"', 'bite = "3 1/8 in"'), "over the sheet take much"),
    "a chase of feathers": (LOFT, ('weight = "19 lb"', 'weight = "1 oz"'), "odd for a chase of that size"),
    "a press that prints beyond its chase": (
        LOFT,
        ('usable_width = "10 1/2 in"', 'usable_width = "14 in"'),
        "more than",
    ),
}


# Where another line is pointed at than the one that was changed.
STANDS = {
    "a reglet thicker than furniture": '"10 to 40 picas"',
    "furniture longer than any chase": '"2 picas"',
    "a chase higher than wide": 'inside_height = "8 in"',
    "a chase that no press takes": 'name = "12 × 18"',
}


@pytest.mark.parametrize("slip", SLIPS)
def test_likely_slips_are_asked_about_with_their_line(tmp_path, slip):
    text, change, said = SLIPS[slip]
    file = read(tmp_path, changed(text, change))
    assert file.shop is not None and not file.mistakes
    before = {note.sentence for note in read(tmp_path, text).questions}
    asked = [note for note in file.questions if note.sentence not in before]
    assert asked and all(said in note.sentence and note.sentence.endswith("?") for note in asked), file.questions
    lines = changed(text, change).split("\n")
    expected = STANDS.get(slip, change[1].partition("\n")[0])
    assert slip == "nothing said of placing" or expected in lines[asked[0].line - 1]


def test_the_school_s_file_asks_nothing(tmp_path):
    assert read(tmp_path, SCHOOL).questions == ()


# --- three shops unlike the school and each other -----------------------------------------------------------


def test_worn_wood_is_counted_by_what_it_measures_and_lies_where_it_was_cut_for(irregular):
    loft = irregular["loft"]
    worn = Material("furniture", 35.3, 26 * PICA)
    assert loft.stock[worn] == 3 and worn in loft.keep
    assert loft.kept_as[worn] == Material("furniture", 36.0, 26 * PICA)
    assert loft.labels[worn] == loft.labels[loft.kept_as[worn]] == "Sprat, place 5"
    assert irregular["cellar"].labels[Material("furniture", 47.1, 52 * PICA)] == "the box under the stone"


def test_presses_have_customs_of_their_own(irregular):
    cellar = irregular["cellar"]
    assert cellar.custom() == cellar.placing and cellar.custom("no such press") == cellar.placing
    small, proof = cellar.custom("small press"), cellar.custom("proof press")
    assert small.right == pytest.approx(-POINTS_PER_INCH / 2) and small.up == cellar.placing.up == -PICA
    assert (proof.guides, proof.grippers, proof.tolerance) == (("top", "left"), (), PICA)
    assert [chase.name for chase in cellar.chases_of("proof press")] == ["bed of the proof press"]
    assert cellar.chase("bed of the proof press").bed and not cellar.chase("small one").bed
    assert cellar.press("small press").usable == pytest.approx((7.5 * POINTS_PER_INCH, 5.25 * POINTS_PER_INCH))
    assert cellar.chases_of() == tuple(cellar.chases)
    with pytest.raises(KeyError, match=r"no press called “x”; it has “small press”, “proof press”"):
        cellar.press("x")


def test_a_shop_says_how_many_chases_quoins_and_keys_it_has(irregular):
    cellar = irregular["cellar"]
    chase, quoin = cellar.chase("small one"), cellar.quoin("the long one")  # called “long one” after an article
    assert (chase.count, chase.clear_corners, chase.weight) == (2, 2.0, pytest.approx(4.125))
    assert (quoin.count, quoin.keys) == (5, 1)
    assert cellar.cuts == (Mount("anchor", 14 * PICA, 17 * PICA + 3, 1),)
    assert irregular["loft"].bases == (Mount("steel base", 20 * PICA, 25 * PICA, 1),)
    assert "2 presses, 2 chases" in str(cellar) and "1 pattern of quoin" in str(cellar)


def test_leads_and_slugs_lie_by_length_or_are_cut(irregular):
    loft = irregular["loft"]
    assert loft.strips[Material("lead", 6.0, 34 * PICA)] == 10 and loft.leads == (1.0, 2.0)
    assert sum(loft.strips.values()) == 78 and loft.pieces.keys() >= loft.strips.keys() | loft.metal.keys()
    assert not irregular["cellar"].strips


def test_a_metric_shop_is_read_to_the_hundredth_of_a_point(irregular):
    # 0.35146 mm to the point, derived from 0.013837 inch.
    metric = irregular["metric"]
    upright = metric.chase("upright")
    assert (upright.width, upright.height) == pytest.approx((210 / 0.3514598, 297 / 0.3514598), rel=1e-6)
    assert metric.custom("cylinder").guides == ("bottom", "right")
    assert "behind the door" in metric.labels.values()


def test_older_files_open_and_newer_ones_are_refused(tmp_path):
    assert "version" not in tomllib.loads(SCHOOL)
    assert read(tmp_path, SCHOOL).shop == read(tmp_path, f"version = 1\n{SCHOOL}").shop
    newer = read(tmp_path, f"version = {VERSION + 1}\n{SCHOOL}")
    assert newer.shop is None and "for a newer workbook; open it there" in newer.mistakes[0].sentence
    assert "a whole number from 1" in read(tmp_path, f'version = "two"\n{SCHOOL}').mistakes[0].sentence


def test_no_two_of_the_shops_own_the_same(irregular, breakwater):
    shops = [*irregular.values(), breakwater]
    for n, one in enumerate(shops):
        for other in shops[n + 1 :]:
            assert len(one.stock.keys() & other.stock.keys()) < len(one.stock) / 2
    names = [quoin.name for shop in shops for quoin in shop.quoins]
    assert len(names) == len(set(names))
    assert all(isinstance(chase, Chase) for shop in shops for chase in shop.chases)


# A mistake in what only the newer files can say: what is changed, and what the sentence says.
NEWER = {
    "a line without a count": (('"4 of 3 picas × 9 picas"', '"some of 9 picas"'), 'a line such as "3 of 6 picas'),
    "a line that is no text": (('"4 of 3 picas × 9 picas"', "4"), "furniture.pieces, entry 8: 4 was read"),
    "keep in words": (("keep = true", 'keep = "yes"'), "'yes' was read; true or false, without quotation marks"),
    "a measure without a unit": (('measures = "47.1 pt"', 'measures = "47.1"'), "“47.1” has no unit"),
    "an unknown word beside a line": (("keep = true", "kept = true"), "kept isn't a key this file knows"),
    "a size twice": (('"5 of 2 picas × 13 picas"', '"5 of 2 picas × 9 picas"'), "2 picas × 9 picas is counted twice"),
    "a label of nothing": (('"3 picas" = "second drawer"', '"7 picas" = "x"'), "no such size is counted"),
    "a press of a chase that isn't there": (('chases = ["small one"]', 'chases = ["big one"]'), "press 1.chases"),
    "a press with nothing to lock up in": (('chases = ["small one"]', ""), "its bed's width and height, were expected"),
    "half a bed": (('bed_height = "10 1/4 in"', ""), "press 2.bed_height is missing"),
    "half a usable area": (('usable_height = "5 1/4 in"', ""), "press 1.usable_height is missing"),
    "a custom that is no side": (('guides = ["top", "left"]', 'guides = ["top", "bottom"]'), "press 2.guides"),
    "half a chase": (("count = 2", "count = 2.5"), "chase 1.count: 2.5 was read; a whole number of chases"),
    "a quoin less": (("count = 5", "count = -1"), "quoin 1.count: -1 was read; a whole number of quoins"),
    "a cut without a width": (('width = "14 picas"\n', ""), "cut 1.width is missing"),
    "two presses of a name": (('name = "proof press"', 'name = "small press"'), "“small press” is used twice"),
}


@pytest.mark.parametrize("mistake", NEWER)
def test_a_mistake_in_what_is_new_is_named(tmp_path, mistake):
    change, said = NEWER[mistake]
    file = read(tmp_path, changed(CELLAR, change))
    assert file.shop is None
    assert any(said in note.sentence for note in file.mistakes), file.mistakes
    assert all(note.line and note.sentence.endswith(".") for note in file.mistakes)


def test_what_is_no_plain_file_is_refused_at_once(tmp_path):
    if hasattr(os, "mkfifo"):
        os.mkfifo(tmp_path / "pipe.toml")
        with pytest.raises(ShopFileError, match="isn't a plain file"):
            Shop.load(tmp_path / "pipe.toml")
    big = tmp_path / "big.toml"
    big.write_bytes(b"#" * 2_000_000)
    with pytest.raises(ShopFileError, match="far larger than a shop file"):
        Shop.load(big)
