"""Why there is no lockup: what is said to stand in the way does, and what is said to help does when it's tried."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace

import pytest
from any_questions import INCH, PICA, PLENTY, Question, questions, small
from hypothesis import given, settings
from stonework.choosing import ARRANGEMENTS, NoLockup, choose_lockup
from stonework.form import Form
from stonework.rules import judge
from stonework.shop import Chase, Material, Shop
from stonework.units import read_length

# --- why not ----------------------------------------------------------------------------------------------


def why_not(form: Form, chase: Chase, shop: Shop, **options) -> tuple[str, ...]:
    with pytest.raises(NoLockup) as caught:
        choose_lockup(form, chase, shop, **options)
    reasons = caught.value.reasons
    assert reasons
    for words in reasons:
        assert words[0].isupper()
        assert words.endswith(".")
        assert words.isprintable()
    assert str(caught.value) == " ".join(reasons)
    return reasons


def test_reasons_are_found_only_when_read(breakwater, monkeypatch):
    asked = []
    found = stonework.choosing._reasons
    monkeypatch.setattr(stonework.choosing, "_reasons", lambda question: asked.append(1) or found(question))
    with pytest.raises(NoLockup) as caught:
        choose_lockup(Form(600, 600), breakwater.chases[0], breakwater)
    assert asked == []
    assert caught.value.reasons == caught.value.reasons
    assert asked == [1]
    assert isinstance(caught.value, ValueError)


@pytest.mark.parametrize(
    ("width", "height"), [(600.0, 100.0), (100.0, 600.0), (8 * INCH, 100.0), (100.0, 5 * INCH), (600.0, 600.0)]
)
def test_a_form_too_large_for_the_chase(breakwater, width, height):
    first = why_not(Form(width, height), breakwater.chase("5 × 8"), breakwater)[0]
    assert "is too large for the 5 × 8 chase, 48 picas 2.16 pt × 30 picas 1.35 pt inside" in first
    assert first.endswith("it needs a larger chase.")


@pytest.mark.parametrize(("free", "short"), [(40.0, "4 pt"), (30.0, "9 pt"), (47.0, "6 pt")])
def test_a_gap_too_small_for_quoins(free, short):
    # A quoin of 18 and two reglets of 6 take 30. The middle leaves half of what is free to the top; the form may
    # stand 6 lower: 20 + 6 is 4 short of 30, 15 + 6 is 9. With 47 free, 23.5 + 6 is half a point short.
    short = {"6 pt": "0.5 pt"}.get(short, short)
    reasons = why_not(Form(120, 120), Chase("close", 300.0, 120.0 + free), small(PLENTY))
    assert f"The top gap is {short} too small for wood, quoin and reglet: take a larger chase" in reasons[0]
    assert not any(words.startswith("The right gap") for words in reasons)


def test_a_gap_too_small_for_quoins_is_large_enough_with_that_much_more():
    # Turned to the side: 4 points more beyond the right, with the form wanted where it was, is enough.
    form, shop = Form(120, 120), small({**PLENTY, Material("reglet", 14.0, 120.0): 9})
    reasons = why_not(form, Chase("close", 160.0, 300.0), shop, target=(20.0, 90.0), tolerance=6.0)
    assert "The right gap is 4 pt too small" in reasons[0]
    assert choose_lockup(form, Chase("close", 164.0, 300.0), shop, target=(20.0, 90.0), tolerance=6.0)


def test_whether_moving_the_form_is_offered():
    # Free in all: 60, enough for a 6-point solid side and 30 for the quoins. Then moving down is worth a try.
    chase, shop = Chase("close", 300.0, 180.0), small(PLENTY)
    first = why_not(Form(120, 120), chase, shop, target=(90.0, 55.0))[0]
    assert (
        first
        == "The top gap is 1 pica 7 pt too small for wood, quoin and reglet: take a larger chase or move the form down."
    )
    assert choose_lockup(Form(120, 120), chase, shop, target=(90.0, 24.0))
    # Free in all: 30, not enough for both.
    first = why_not(Form(120, 120), Chase("close", 300.0, 150.0), shop)[0]
    assert first.endswith("take a larger chase.")


def test_a_solid_gap_too_small_for_any_wood():
    reasons = why_not(Form(120, 120), Chase("any", 300.0, 300.0), small(PLENTY), target=(90.0, -4.0), tolerance=6.0)
    assert "The bottom gap, 0 pt, is too small for any wood: move the form up." in reasons


def test_a_side_too_short_for_a_quoin():
    sizes = [(kind, float(n), 60.0) for kind in ("reglet", "furniture") for n in (6, 12, 24)]
    shop = small({Material(*size): 99 for size in sizes}, length=96)
    form, chase = Form(60, 60), Chase("any", 240.0, 240.0)
    first = why_not(form, chase, shop)[0]
    assert re.fullmatch(r"The (top|right) side, 5 picas, is too short for the wedge quoin, 8 picas long\.", first)
    two = replace(shop, quoins=(*shop.quoins, replace(shop.quoins[0], name="short", length=36.0)))
    assert "It works with the short quoin." in why_not(form, chase, two)
    assert choose_lockup(form, chase, two, quoin="short")


@pytest.mark.parametrize(
    ("arrangement", "length", "works"),
    [
        # A side of 144 with one corner blocked: the row may start 3 from there and shift a sixth of the side, 24.
        ("pinwheel-clockwise", 186.0, True),
        ("pinwheel-clockwise", 186.02, False),
        # With both blocked it has 144 less 3 at each end; with none, it may run past both.
        ("left-and-right-through", 138.0, True),
        ("left-and-right-through", 138.01, False),
    ],
)
def test_how_long_a_side_a_quoin_needs(arrangement, length, works):
    stock = {Material(kind, n, long): 40 for kind, n in (("reglet", 6.0), ("furniture", 24.0)) for long in (138, 192)}
    shop = small(stock, length=length)
    question = Question(Form(144, 144), Chase("any", 384.0, 384.0), shop, {"arrangement": arrangement})
    lockup = question.answer()
    assert (lockup is not None) == works
    if lockup:
        assert judge(lockup, shop) == []
    else:
        first = why_not(question.form, question.chase, shop, arrangement=arrangement)[0]
        assert re.match("The (top|right) side, 12 picas, is too short for the wedge quoin", first)


def test_a_cabinet_without_reglet(breakwater):
    stock = {material: n for material, n in breakwater.stock.items() if material.kind == "furniture"}
    reasons = why_not(PAGE, breakwater.chases[2], replace(breakwater, stock=stock))
    assert reasons == ("The cabinet lists no reglet; the quoins need one on each face.",)


def test_an_empty_cabinet(breakwater):
    for stock in ({}, dict.fromkeys(breakwater.stock, 0)):
        reasons = why_not(PAGE, breakwater.chases[2], replace(breakwater, stock=stock))
        assert "The cabinet l" in reasons[0]  # lists no reglet; lacks


NUMBERS = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"]
PIECES = re.compile(r"(\w+) (reglet|piece of furniture|pieces of furniture|reglets) (.+?) × (.+)")


def lacking(words: str) -> Counter[Material]:
    """Read the pieces back from “The cabinet lacks two reglets 6 pt × 20 picas and one …”."""
    listed = re.fullmatch(r"The cabinet lacks (.+)\.", words)[1]
    pieces: Counter[Material] = Counter()
    for part in re.split(r", | and ", listed):
        number, kind, thickness, length = PIECES.fullmatch(part).groups()
        n = NUMBERS.index(number) if number in NUMBERS else int(number)
        assert (n == 1) == (kind in ("reglet", "piece of furniture"))
        kind = "reglet" if "reglet" in kind else "furniture"
        pieces[Material(kind, read_length(thickness), read_length(length))] += n
    return pieces


def test_the_pieces_a_cabinet_lacks_would_do(breakwater):
    # The reglets that a plan's sides could use are gone.
    chase = breakwater.chases[2]
    plan = choose_lockup(PAGE, chase, breakwater)
    reglets = [item for item in plan.wood if item.kind == "reglet"]
    stock = {m: n for m, n in breakwater.stock.items() if m.kind == "furniture" or m.length > 42 * PICA}
    assert reglets
    poorer = replace(breakwater, stock=stock)
    reasons = why_not(PAGE, chase, poorer)
    # No reglet of their length is listed any more, so the sentence can't name one.
    assert not any("lacks" in words for words in reasons)
    none_left = replace(breakwater, stock={m: n if m in stock else 0 for m, n in breakwater.stock.items()})
    pieces = lacking(why_not(PAGE, chase, none_left)[0])
    assert {material.kind for material in pieces} == {"reglet"}
    assert pieces.total() >= 2
    assert choose_lockup(PAGE, chase, replace(breakwater, stock=Counter(none_left.stock) + pieces))
    for material in pieces:
        fewer = Counter(none_left.stock) + pieces - Counter([material])
        assert Question(PAGE, chase, replace(breakwater, stock=fewer)).answer() is None


def test_the_one_reglet_a_cabinet_lacks():
    stock = {Material("furniture", 24.0, 120.0): 9, Material("reglet", 6.0, 120.0): 3}
    form, chase = Form(120, 120), Chase("any", 200.0, 200.0)
    first = why_not(form, chase, small(stock), target=(24.0, 24.0))[0]
    assert first == "The cabinet lacks one reglet 6 pt × 10 picas."
    stock[Material("reglet", 6.0, 120.0)] = 4
    assert choose_lockup(form, chase, small(stock), target=(24.0, 24.0))


# --- every remedy it names works --------------------------------------------------------------------------


def try_remedy(question: Question, words: str) -> str | None:
    """Try what one sentence says, and say which kind of sentence it was; None for one that can't be tried."""
    if found := re.search(r"from ([^.]+(?:\.\d+[^.]*)?) to (.+)\. The cabinet lists no such length\.", words):
        # The range is written to a tenth of a point.
        shortest, longest = (read_length(length) for length in found.groups())
        lengths = {material.length for material, n in question.shop.stock.items()}
        assert not any(shortest + 0.1 < length < longest - 0.1 for length in lengths), words
        return "lengths"
    if "lacks" in words:
        stock = Counter(question.shop.stock) + lacking(words)
        assert replace(question, shop=replace(question.shop, stock=stock)).answer(), words
        return "pieces"
    if not words.startswith("It works "):
        return None
    if found := re.fullmatch(r"It works in the (.+) chase\.", words):
        # The form keeps its place relative to the middle of the chase.
        chase = question.shop.chase(found[1])
        x, y = (
            target + (there - here) / 2
            for target, there, here in zip(
                question.target,
                (chase.width, chase.height),
                (question.chase.width, question.chase.height),
                strict=True,
            )
        )
        assert replace(question, chase=chase).but(target=(x, y)).answer(), words
        return "chase"
    if found := re.fullmatch(r"It works with the (.+) quoin\.", words):
        assert question.but(quoin=question.shop.quoin(found[1])).answer(), words
        return "quoin"
    if found := re.fullmatch(r"It works with the corners arranged as (.+)\.", words):
        assert question.but(arrangement=found[1].replace(" ", "-")).answer(), words
        return "arrangement"
    moved = re.fullmatch(r"It works with the form moved (.+) from where it was wanted\.", words)[1]
    x, y = question.target
    for part in moved.split(" and "):
        length, way = re.fullmatch(r"(.+?) (?:to the )?(left|right|up|down)", part).groups()
        by = read_length(length) * (1 if way in ("right", "up") else -1)
        x, y = (x + by, y) if way in ("left", "right") else (x, y + by)
    tolerance = question.options.get("tolerance", 6.0) + ROUNDING
    assert question.but(target=(x, y), tolerance=tolerance).answer(), words
    return "move"


def remedies(question: Question) -> dict[str | None, str]:
    """Return the sentences of a question without an answer, by what they say, each one tried."""
    reasons = why_not(question.form, question.chase, question.shop, **question.options)
    return {try_remedy(question, words): words for words in reasons}


def test_what_it_says_would_work_does():
    tried: Counter[str | None] = Counter()

    @settings(max_examples=30)
    @given(questions())
    def on_each(question):
        larger = Chase("large", 15 * INCH, 10 * INCH)
        question = replace(question, shop=replace(question.shop, chases=(question.chase, larger)))
        if question.answer() is None:
            tried.update(remedies(question).keys())

    on_each()
    assert tried["pieces"] > 3
    assert tried["arrangement"] + tried["chase"] + tried["move"] + tried["quoin"] > 3


def test_it_works_in_a_larger_chase(breakwater):
    form, chase = Form(36 * PICA, 26 * PICA), breakwater.chase("5 × 8")
    words = remedies(Question(form, chase, breakwater))["chase"]
    name = re.fullmatch(r"It works in the (.+) chase\.", words)[1]
    assert choose_lockup(form, breakwater.chase(name), breakwater)
    # It is the smallest that does.
    for chase in breakwater.chases:
        if chase.width * chase.height < breakwater.chase(name).width * breakwater.chase(name).height:
            assert Question(form, chase, breakwater).answer() is None


def test_it_works_with_the_form_moved():
    # Pieces of 24 make 24 or 48 at the left, and 40 is wanted there.
    stock = {Material("furniture", 24.0, 120.0): 4, Material("reglet", 6.0, 120.0): 4}
    question = Question(Form(120, 120), Chase("any", 224.0, 200.0), small(stock, travel=40), {"target": (40.0, 24.0)})
    assert remedies(question)["move"] == ("It works with the form moved 8 pt to the right from where it was wanted.")


def test_it_works_with_other_corners(breakwater):
    # A form as high as the shortest piece: only pieces that run through a corner can stand beside it.
    form = Form(240, 120)
    for name in ARRANGEMENTS:
        question = Question(form, breakwater.chases[2], breakwater, {"arrangement": name})
        if question.answer() is None:
            assert "arrangement" in remedies(question)
            return
    raise AssertionError("every arrangement works")


def test_it_lists_no_such_length():
    # A form of 120 wants pieces of about as much; the cabinet has none between 60 and 240 points.
    stock = {Material(kind, 6.0, length): 40 for kind in ("furniture", "reglet") for length in (60.0, 240.0)}
    question = Question(Form(120, 120), Chase("any", 220.0, 220.0), small(stock))
    assert "lengths" in remedies(question)


def test_a_form_too_small_for_its_quoins_is_to_be_built_up(breakwater):
    with pytest.raises(NoLockup) as caught:
        choose_lockup(Form(20 * PICA, 1 * PICA), breakwater.chase("6 × 9"), breakwater)
    assert caught.value.reasons[0] == (
        "A side shorter than 6 picas 6 pt hardly has room for the medium wedge quoin: build the form up to a block "
        "first."
    )
