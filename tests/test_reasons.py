"""Why there is no lockup: what is said to stand in the way does, and what is said to help does when it's tried."""

from __future__ import annotations

import random
import re
from collections import Counter
from dataclasses import replace

import pytest
import stonework.choosing.asking
from any_questions import INCH, PICA, PLENTY, Question, questions, small
from hypothesis import given, settings
from small_shops import small as small_shop
from small_shops import tight
from stonework.building import build_block
from stonework.choosing import ANY, ARRANGEMENTS, NoLockup, Stopped, best_lockup, choose_lockup, lock_up
from stonework.form import Form
from stonework.rules import judge
from stonework.shop import Chase, Material, Quoin, Shop
from stonework.units import read_length

PAGE = Form(18 * PICA, 30 * PICA)


def why_not(form: Form, chase: Chase, shop: Shop, **options) -> tuple[str, ...]:
    with pytest.raises(NoLockup) as caught:
        choose_lockup(form, chase, shop, **options)
    reasons = caught.value.reasons
    assert reasons and str(caught.value) == " ".join(reasons)
    for words in reasons:
        assert words[0].isupper() and words.endswith(".") and words.isprintable()
    return reasons


# --- how they come ----------------------------------------------------------------------------------------------


def test_reasons_are_found_only_when_read_and_one_by_one(breakwater, monkeypatch):
    asked = []
    found = stonework.choosing.asking.reasons
    monkeypatch.setattr("stonework.choosing.asking.reasons", lambda *args: asked.append(1) or found(*args))
    with pytest.raises(NoLockup) as caught:
        choose_lockup(Form(600, 600), breakwater.chases[0], breakwater)
    assert asked == [] and isinstance(caught.value, ValueError)
    first = next(iter(caught.value.why()))
    assert "too large" in first and caught.value.reasons[0] == first
    assert caught.value.reasons == caught.value.reasons and asked == [1, 1]


def test_whoever_asked_can_stop_the_answer_and_the_reasons(breakwater):
    with pytest.raises(Stopped):
        choose_lockup(PAGE, breakwater.chases[2], breakwater, stop=lambda: True)
    with pytest.raises(NoLockup) as caught:
        choose_lockup(Form(600, 600), breakwater.chases[0], breakwater)
    coming = caught.value.why(lambda: True)
    assert "too large" in next(coming)  # what is reckoned needs no search
    with pytest.raises(Stopped):
        list(coming)


def test_what_stands_in_the_way_is_certain_however_little_was_looked_at(breakwater):
    for form, chase in ((Form(600, 600), "5 × 8"), (Form(240, 12), "6 × 9")):
        with pytest.raises(NoLockup) as caught:
            choose_lockup(form, breakwater.chase(chase), breakwater, quoin="medium wedge", effort=0)
        assert caught.value.certain
    with pytest.raises(NoLockup) as caught:
        choose_lockup(PAGE, breakwater.chases[2], breakwater, effort=0)
    assert not caught.value.certain and "there may be one" in next(iter(caught.value.why()))


@settings(max_examples=40)
@given(questions())
def test_nothing_is_said_to_stand_in_the_way_of_what_is_found(question):
    with pytest.raises(NoLockup) as caught:
        choose_lockup(question.form, question.chase, question.shop, effort=0, **question.options)
    assert question.answer() is None or not caught.value.certain


# --- what stands in the way -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("width", "height"), [(600.0, 100.0), (100.0, 600.0), (8 * INCH, 100.0), (100.0, 5 * INCH), (600.0, 600.0)]
)
def test_a_form_too_large_for_the_chase(breakwater, width, height):
    first = why_not(Form(width, height), breakwater.chase("5 × 8"), breakwater)[0]
    assert "is too large for the 5 × 8 chase, 48 picas 2.16 pt × 30 picas 1.35 pt inside" in first
    assert first.endswith("it needs a larger chase.")


def test_a_form_too_large_for_every_chase(breakwater):
    first, *others = why_not(Form(1200, 600), breakwater.chase("8 × 12"), breakwater)
    assert first.endswith("inside: and no chase of this shop is large enough.") and others == []


@pytest.mark.parametrize(("free", "short"), [(40.0, "4 pt"), (30.0, "9 pt"), (47.0, "0.5 pt")])
def test_a_gap_too_small_for_quoins(free, short):
    # A quoin of 18 and two reglets of 6 take 30. The middle leaves half of what is free to the top; the form may
    # stand 6 lower: 20 + 6 is 4 short of 30, 15 + 6 is 9. With 47 free, 23.5 + 6 is half a point short.
    reasons = why_not(Form(120, 120), Chase("close", 300.0, 120.0 + free), small(PLENTY))
    assert f"The top gap is {short} too small for wood, quoin and wood." in reasons[0]
    assert not any(words.startswith("The right gap") for words in reasons)


def test_a_gap_too_small_for_quoins_is_large_enough_with_that_much_more():
    # Turned to the side: 4 points more beyond the right, with the form wanted where it was, is enough.
    form, shop = Form(120, 120), small({**PLENTY, Material("reglet", 14.0, 120.0): 9})
    reasons = why_not(form, Chase("close", 160.0, 300.0), shop, target=(20.0, 90.0), tolerance=6.0)
    assert "The right gap is 4 pt too small" in reasons[0]
    assert choose_lockup(form, Chase("close", 164.0, 300.0), shop, target=(20.0, 90.0), tolerance=6.0)


def test_moving_the_form_and_a_larger_chase_are_offered_only_if_they_help():
    # Free in all: 60, enough for a 6-point solid side and 30 for the quoins.
    chase, shop = Chase("close", 300.0, 180.0), small(PLENTY)
    first, *others = why_not(Form(120, 120), chase, shop, target=(90.0, 55.0))
    assert first == "The top gap is 1 pica 7 pt too small for wood, quoin and wood."
    moved = [words for words in others if "moved" in words]
    assert len(moved) == 1 and " down" in moved[0]
    # Free in all: 30, not enough for both; and this shop has no other chase.
    reasons = why_not(Form(120, 120), Chase("close", 300.0, 150.0), shop)
    assert reasons[0].startswith("The top gap is") and not any("moved" in one or "chase" in one for one in reasons[1:])


def test_a_solid_gap_too_small_for_any_wood():
    reasons = why_not(Form(120, 120), Chase("any", 300.0, 300.0), small(PLENTY), target=(90.0, -4.0), tolerance=6.0)
    assert "The bottom gap, 0 pt, is too small for any wood." in reasons
    assert any("moved" in words and " up" in words for words in reasons)


def test_a_side_too_short_for_a_quoin_and_another_quoin_that_does():
    sizes = [(kind, float(n), 60.0) for kind in ("reglet", "furniture") for n in (6, 12, 24)]
    shop = small({Material(*size): 99 for size in sizes}, length=96)
    form, chase = Form(60, 60), Chase("any", 240.0, 240.0)
    first = why_not(form, chase, shop)[0]
    assert re.match(r"The (top|right) side, 5 picas, is too short for the wedge quoin, 8 picas long", first)
    two = replace(shop, quoins=(*shop.quoins, replace(shop.quoins[0], name="short", length=36.0)))
    assert "It works with the short quoin." in why_not(form, chase, two, quoin="wedge")
    # Not asked for one of them, the other is taken at once.
    assert choose_lockup(form, chase, two).quoins("top")[0].length == 36.0


def test_too_few_quoins_and_none(breakwater):
    one = replace(breakwater, quoins=(replace(breakwater.quoins[0], count=1),))
    first = why_not(PAGE, breakwater.chases[2], one)[0]
    assert first == "The shop has 1 of the medium wedge; two sides need a quoin each."


def test_a_cabinet_without_reglet(breakwater):
    stock = {material: n for material, n in breakwater.stock.items() if material.kind == "furniture"}
    shop = replace(breakwater, stock=stock)
    first, *others = why_not(PAGE, breakwater.chases[2], shop, quoin="medium wedge")
    assert first == "The cabinet lists no reglet; the quoins need some on both faces."
    assert "It works with the long one-piece quoin." in others
    assert choose_lockup(PAGE, breakwater.chases[2], shop, quoin="long one-piece")


def test_an_empty_cabinet(breakwater):
    for stock in ({}, dict.fromkeys(breakwater.stock, 0)):
        first = why_not(PAGE, breakwater.chases[2], replace(breakwater, stock=stock, metal={}))[0]
        assert first == "The cabinet lists no wood; the quoins need some on both faces."


def test_nothing_is_of_a_length_that_may_lie_there():
    # A form of 120 wants 108 at least; the cabinet has nothing between 40 and 240 points, and 40 and 40 come to 80.
    stock = {Material(kind, 6.0, length): 40 for kind in ("furniture", "reglet") for length in (40.0, 240.0)}
    first = why_not(Form(120, 120), Chase("any", 220.0, 220.0), small(stock))[0]
    shortest, longest = re.search(r"must be from (.+) to (.+) long, with no joint near", first).groups()
    assert read_length(shortest) == 108 and 108 < read_length(longest) < 240


def test_the_block_that_is_named_can_be_built_and_locked_up(breakwater):
    words = why_not(Form(20 * PICA, 1 * PICA), breakwater.chase("6 × 9"), breakwater, quoin="medium wedge")
    assert words[0].endswith(
        "is too short for the medium wedge quoin, 6 picas long: one half as long again as its side, and more, rocks."
    )
    width, height = re.search(r"built up to a block of (.+) × (.+) first", words[-1]).groups()
    block = build_block(Form(20 * PICA, PICA), breakwater, least=(read_length(width), read_length(height)))
    assert lock_up(block, breakwater.chase("6 × 9"), breakwater, quoin="medium wedge")


# --- what is lacking ----------------------------------------------------------------------------------------------

NUMBERS = ("no", "one", "two", "three")
PIECES = re.compile(r"(\w+) (reglet|piece of furniture|pieces of furniture|reglets) (.+?) × (.+)")


def lacking(words: str) -> Counter[Material]:
    """Read the pieces back from “It works with two reglets 6 pt × 20 picas and one … more than the cabinet has.”."""
    listed = re.fullmatch(r"It works with (.+) more than the cabinet has\.", words)[1]
    pieces: Counter[Material] = Counter()
    for part in re.split(r", | and ", listed):
        number, kind, thickness, length = PIECES.fullmatch(part).groups()
        n = NUMBERS.index(number)
        assert (n == 1) == (kind in ("reglet", "piece of furniture"))
        kind = "reglet" if "reglet" in kind else "furniture"
        pieces[Material(kind, read_length(thickness), read_length(length))] += n
    return pieces


def test_the_one_reglet_a_cabinet_lacks():
    stock = {Material("furniture", 24.0, 120.0): 9, Material("reglet", 6.0, 120.0): 3}
    form, chase = Form(120, 120), Chase("any", 200.0, 200.0)
    words = why_not(form, chase, small(stock), target=(24.0, 24.0))[-1]
    assert words == "It works with one reglet 6 pt × 10 picas more than the cabinet has."
    stock[Material("reglet", 6.0, 120.0)] = 4
    assert choose_lockup(form, chase, small(stock), target=(24.0, 24.0))


def test_the_one_piece_of_furniture_a_cabinet_lacks():
    form, chase, shop, target, tolerance, solid = tight(1)
    asked = {"target": target, "tolerance": tolerance, "solid": solid}
    words = why_not(form, chase, shop, **asked)[-1]
    assert words == "It works with one piece of furniture 1 pica × 9 picas 3.01 pt more than the cabinet has."
    more = Material("furniture", 12.0, 111.01)
    assert choose_lockup(form, chase, replace(shop, stock={**shop.stock, more: shop.stock.get(more, 0) + 1}), **asked)


def test_a_worn_size_is_never_to_be_bought():
    # The only thickness that would do is kept for last, and used up.
    worn = Material("furniture", 37.0, 120.0)
    stock = {Material("furniture", 24.0, 120.0): 9, Material("reglet", 6.0, 120.0): 9, worn: 0}
    shop = replace(small(stock, travel=4), keep=frozenset({worn}))
    reasons = why_not(Form(120, 120), Chase("any", 217.0, 217.0), shop, target=(49.0, 49.0), tolerance=0.0)
    assert not any("37" in words or "3 picas 1 pt" in words for words in reasons)


# --- every remedy it names works --------------------------------------------------------------------------------


def try_remedy(question: Question, words: str) -> str | None:
    """Try what one sentence says, and say which kind of sentence it was; None for one that can't be tried."""
    if not words.startswith("It works "):
        return None
    if words.endswith("more than the cabinet has."):
        pieces = lacking(words)
        assert 0 < pieces.total() <= 3 and not set(pieces) & set(question.shop.keep)
        stock = Counter(question.shop.stock) + pieces
        assert replace(question, shop=replace(question.shop, stock=stock)).whole(), words
        return "pieces"
    if found := re.fullmatch(r"It works in the (.+) chase\.", words):
        assert standing_in(question, question.form, question.shop.chase(found[1])).whole(), words
        return "chase"
    if found := re.fullmatch(r"It works with the form built up to a block of (.+) × (.+) first\.", words):
        block = build_block(question.form, question.shop, least=tuple(map(read_length, found.groups())))
        outline = Form(round(block.outline.width, 2), round(block.outline.height, 2))
        options = standing_in(question, outline, question.chase).options
        assert best_lockup(block, question.chase, question.shop, **options), words
        return "block"
    if words == "It works with the form turned a quarter.":
        turned = Form(question.form.height, question.form.width)
        assert standing_in(question, turned, question.chase).whole(), words
        return "turned"
    if words == "It works with whichever quoins are best.":
        assert question.but(quoin=ANY).whole(), words
        return "quoin"
    if found := re.fullmatch(r"It works with the (.+) quoin\.", words):
        assert question.but(quoin=question.shop.quoin(found[1])).whole(), words
        return "quoin"
    if found := re.fullmatch(r"It works with the corners arranged as (.+)\.", words):
        assert question.but(arrangement=found[1].replace(" ", "-")).whole(), words
        return "arrangement"
    moved = re.fullmatch(r"It works with the form moved (.+) from where it was wanted\.", words)[1]
    x, y = question.target
    for part in moved.split(" and "):
        length, way = re.fullmatch(r"(.+?) (?:to the )?(left|right|up|down)", part).groups()
        by = read_length(length) * (1 if way in ("right", "up") else -1)
        x, y = (x + by, y) if way in ("left", "right") else (x, y + by)
    assert question.but(target=(x, y)).whole(), words
    return "move"


def standing_in(question: Question, form: Form, chase: Chase) -> Question:
    """Return the question of another form or chase; the form keeps its place relative to the middle."""
    sides = ((chase.width, form.width), (chase.height, form.height))
    own = ((question.chase.width, question.form.width), (question.chase.height, question.form.height))
    x, y = (
        target + (there - new) / 2 - (here - old) / 2
        for target, (there, new), (here, old) in zip(question.target, sides, own, strict=True)
    )
    return replace(question, form=form, chase=chase).but(target=(x, y))


def tried(question: Question) -> set[str | None]:
    """Return which kinds of sentence say why a question has no answer, each one tried."""
    reasons = why_not(question.form, question.chase, question.shop, **question.options)
    return {try_remedy(question, words) for words in reasons}


def test_what_it_says_would_work_does():
    kinds: Counter[str | None] = Counter()

    @settings(max_examples=40)
    @given(questions())
    def on_each(question):
        larger = Chase("large", 15 * INCH, 10 * INCH)
        question = replace(question, shop=replace(question.shop, chases=(question.chase, larger)))
        if question.answer() is None and question.whole() is None:
            kinds.update(tried(question))

    on_each()
    assert kinds[None] > 8 and len(kinds) > 3


@pytest.mark.parametrize("name", ["cellar", "loft", "metric"])
def test_what_it_says_would_work_does_in_irregular_shops(irregular, name):
    shop, draw, kinds = irregular[name], random.Random(3), Counter()
    # Their cabinets seldom fail whole: so half of each size is in use, and a pattern and corners are asked for.
    scarce = replace(shop, stock={m: n // 3 for m, n in shop.stock.items()}, metal={})
    for _ in range(8):
        chase = draw.choice(shop.chases)
        form = Form(*(float(draw.randint(60, int(side) - 60)) for side in (chase.width, chase.height)))
        options = {"quoin": draw.choice(shop.quoins), "arrangement": draw.choice(list(ARRANGEMENTS))}
        question = Question(form, chase, scarce, options)
        if question.whole() is None:
            kinds.update(tried(question))
    assert kinds[None] and len(kinds) > 1


def test_it_works_in_a_larger_chase_and_none_smaller(breakwater):
    form, chase = Form(36 * PICA, 26 * PICA), breakwater.chase("5 × 8")
    question = Question(form, chase, breakwater, {"quoin": "medium wedge", "arrangement": "stepped"})
    words = next(words for words in why_not(form, chase, breakwater, **question.options) if "chase." in words)
    name = re.fullmatch(r"It works in the (.+) chase\.", words)[1]
    for other in breakwater.chases:
        if other.width * other.height < breakwater.chase(name).width * breakwater.chase(name).height:
            assert standing_in(question, form, other).answer() is None


def test_it_works_with_the_form_moved():
    # Pieces of 24 make 24 or 48 at the left, and 40 is wanted there.
    stock = {Material("furniture", 24.0, 120.0): 4, Material("reglet", 6.0, 120.0): 4}
    question = Question(Form(120, 120), Chase("any", 224.0, 200.0), small(stock, travel=40), {"target": (40.0, 24.0)})
    reasons = why_not(question.form, question.chase, question.shop, **question.options)
    assert "It works with the form moved 8 pt to the right from where it was wanted." in reasons


def test_what_nothing_helps_is_said_without_a_remedy():
    wedge = Quoin("wedge", length=36, closed=18, travel=12, reserve=4, rest=3, gap=12, span=144)
    shop = Shop("bare", (Chase("only", 300.0, 300.0),), {Material("reglet", 6.0, 30.0): 1}, (wedge,))
    reasons = why_not(Form(200, 200), shop.chases[0], shop)
    assert not any(words.startswith("It works") for words in reasons)


@pytest.mark.parametrize("seed", range(30))
def test_in_small_odd_shops_too(seed):
    case = small_shop(seed)
    options = {"target": case.target, "tolerance": case.tolerance, "solid": case.solid, "quoin": ANY}
    question = Question(case.form, case.chase, case.shop, options)
    if (lockup := question.whole()) is None:
        tried(question)
    else:
        assert [finding for finding in judge(lockup, case.shop) if finding.severity == "fault"] == []
