"""The judge, rule by rule: lockups that are sound but for one thing, and each side of every limit.

All lengths are points. Every broken lockup is the small sound one of ``conftest`` with pieces moved, resized,
taken away or added; its shop owns just the wood that lies in it, unless a test says otherwise.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from itertools import pairwise

import pytest
import shapely
from conftest import sound_lockup
from hypothesis import given
from hypothesis import strategies as st
from sources import CLAIMS, cited
from stonework.lockup import KINDS, SIDES, SLACK, Block, Filling, Intent, Item, Job, Kind, Lockup, PlacedForm, Side, lay
from stonework.rules import COMMON, OWN, Finding, balance, judge, rule_names, rules
from stonework.rules import sound as is_sound
from stonework.shop import Chase, Material, Press, Quoin, Shop
from stonework.units import write_length

FAULTS = (
    "inside the chase",
    "one place, one piece",
    "backed to its ends",
    "no gap from form to chase",
    "true to size",
    "metal against quoin or chase",
    "free ends",
    "quoins on two sides that meet",
    "quoin within its travel",
    "in balance",
    "quoins on wood all along",
    "what the cabinet holds",
    "in its place",
    "within what the press prints",
)
CAUTIONS = (
    "longer outward",
    "reglet against a quoin",
    "ends that rub",
    "fewest pieces",
    "no towers",
    "no joint over a joint",
    "quoins enough",
    "no reglet over a hollow",
)

# --- changing a lockup ------------------------------------------------------------------------------------


def placed(lockup: Lockup, side: Side, order: int) -> Item:
    (item,) = (item for item in lockup.on(side) if item.order == order)
    return item


def with_items(lockup: Lockup, items: Iterable[Item]) -> Lockup:
    return replace(lockup, items=tuple(items))


def changed(lockup: Lockup, side: Side, order: int, **changes) -> Lockup:
    """Return the lockup with one item laid afresh: other ``low``, ``near``, ``length``, ``thickness`` or ``kind``."""
    item = placed(lockup, side, order)
    seen = lockup.seen_from(side, item)
    laid = {"low": seen.low, "near": seen.near, "length": item.length, "thickness": item.thickness}
    laid |= {"kind": item.kind} | changes
    fresh = lay(lockup.form, side, order, laid.pop("kind"), **laid)
    return with_items(lockup, (fresh if one is item else one for one in lockup.items))


def written(lockup: Lockup, side: Side, order: int, **sizes: float) -> Lockup:
    """Return the lockup with an item's written sizes changed, and where it lies left alone."""
    item = placed(lockup, side, order)
    return with_items(lockup, (replace(one, **sizes) if one is item else one for one in lockup.items))


def without(lockup: Lockup, side: Side, *orders: int) -> Lockup:
    return with_items(lockup, (i for i in lockup.items if i.side != side or i.order not in orders))


def plus(lockup: Lockup, side: Side, order: int, kind: Kind, **laid) -> Lockup:
    return with_items(lockup, (*lockup.items, lay(lockup.form, side, order, kind, **laid)))


def shifted(lockup: Lockup, side: Side, order: int, by: float) -> Lockup:
    """Return the lockup with one item moved along its side."""
    return changed(lockup, side, order, low=lockup.seen_from(side, placed(lockup, side, order)).low + by)


def opened(lockup: Lockup, opening: float) -> Lockup:
    """Return the lockup with the top quoin opened so far, and the top furniture cut to match."""
    quoin, wood = placed(lockup, "top", 3), placed(lockup, "top", 1)
    more = 18.0 + opening - quoin.thickness
    lockup = changed(lockup, "top", 1, thickness=wood.thickness - more)
    lockup = changed(lockup, "top", 2, near=wood.thickness - more)
    return changed(lockup, "top", 3, near=wood.thickness - more + 6, thickness=18.0 + opening)


def through_at_the_top(lockup: Lockup, ends: tuple[Side, ...] = ("left", "right")) -> Lockup:
    """Return the lockup with the pieces of the left or right, or both, run up past the top quoins."""
    for side in ends:
        for item in lockup.on(side):
            if item.kind != "quoin":
                low = lockup.seen_from(side, item).low
                lockup = changed(lockup, side, item.order, length=173.0 - low)
    if "right" in ends:
        for order in (1, 2, 4):
            lockup = changed(lockup, "top", order, length=138.0)
    return lockup


def owns(lockup: Lockup, shop: Shop) -> Shop:
    """Return the shop with just the wood of this lockup, its own quoins and any other length that lies here."""
    stock = Counter(item.material for item in lockup.wood)
    return replace(shop, stock=dict(stock))


# --- the sound one ----------------------------------------------------------------------------------------


def test_the_sound_lockup_has_no_finding_at_all(sound, small_shop):
    assert judge(sound, small_shop) == []
    assert is_sound([])


def test_what_the_fixture_says_of_itself(sound):
    # Its pieces are laid as their sides demand, and fill the chase exactly.
    for side in SIDES:
        reached = 0.0
        for item in sound.on(side):
            seen = sound.seen_from(side, item)
            assert (seen.near, seen.far) == (reached, reached + item.thickness)
            assert seen.high - seen.low == item.length
            reached = seen.far
        assert reached == sound.gap(side)


def test_these_are_the_rules():
    assert rule_names() == (*FAULTS, *CAUTIONS)


# --- one thing wrong --------------------------------------------------------------------------------------


def two_quoins(lockup: Lockup, apart: float) -> Lockup:
    """Return the lockup with two quoins on top, so far from each other."""
    lockup = changed(lockup, "top", 3, low=36.0 - apart / 2)
    return plus(lockup, "top", 3, "quoin", thickness=21, length=36, low=72.0 + apart / 2, near=30)


def quoins_under(lockup: Lockup) -> Lockup:
    """Return the lockup with a quoin at the bottom too."""
    lockup = changed(lockup, "bottom", 1, thickness=16)
    lockup = plus(lockup, "bottom", 2, "reglet", thickness=6, length=144, low=-3, near=16)
    lockup = plus(lockup, "bottom", 3, "quoin", thickness=20, length=36, low=54, near=22)
    return plus(lockup, "bottom", 4, "reglet", thickness=6, length=144, low=-3, near=42)


def solid(lockup: Lockup, side: Side) -> Lockup:
    """Return the lockup with furniture where a side's quoin lies."""
    seen = lockup.seen_from(side, lockup.quoins(side)[0])
    beside = placed(lockup, side, 2)
    low = lockup.seen_from(side, beside).low
    return changed(lockup, side, 3, kind="furniture", length=beside.length, low=low, near=seen.near)


def quoin_at_the_chase(lockup: Lockup) -> Lockup:
    """Return the lockup with the right quoin and the reglet outside it exchanged."""
    lockup = changed(lockup, "right", 4, near=42.0)
    return changed(lockup, "right", 3, near=48.0)


def moved_inward(lockup: Lockup) -> Lockup:
    """Return the lockup with the reglet at the right of the chase moved off it, against the quoin, 2 too thin."""
    lockup = changed(lockup, "right", 3, thickness=20)
    return changed(lockup, "right", 4, near=62.0)


def ends_at_the_bottom(lockup: Lockup, ends: tuple[float, float], over: float | None = None) -> Lockup:
    """Return the lockup with three layers at the bottom, of which the outer two are each of two ends.

    With ``over`` the outermost is a whole piece so long instead, and the middle one alone is of two ends.
    """
    lockup = changed(lockup, "bottom", 1, thickness=24)
    near, low = 24.0, -3.0
    for order, whole in ((2, None), (3, over)):
        if whole is not None:
            lockup = plus(lockup, "bottom", order, "furniture", thickness=12, length=whole, low=129 - whole, near=near)
            continue
        for length in ends:
            lockup = plus(lockup, "bottom", order, "furniture", thickness=12, length=length, low=low, near=near)
            low += length
        near, low = near + 12, -3.0
    return lockup


def tower_at_the_bottom(lockup: Lockup) -> Lockup:
    """Return the lockup with a whole piece at the bottom and two short sticks outside it, 4 picas deep in all."""
    lockup = changed(lockup, "bottom", 1, thickness=16)
    lockup = plus(lockup, "bottom", 2, "reglet", thickness=16, length=23, low=60, near=16)
    return plus(lockup, "bottom", 3, "reglet", thickness=16, length=23, low=60, near=32)


def with_a_lead(lockup: Lockup) -> Lockup:
    """Return the lockup with a lead against the form at the top, and the furniture there as much thinner."""
    lockup = changed(lockup, "top", 1, thickness=22, near=2)
    return plus(lockup, "top", 1, "lead", thickness=2, length=144, low=3, near=0)


@dataclass(frozen=True)
class Break:
    """A way to break one rule and no other, and what the finding must name."""

    rule: str
    where: str
    change: Callable[[Lockup], Lockup]
    why: str = ""
    shop: Callable[[Shop], Shop] = lambda shop: shop
    found: int = 1
    also: str = ""


BREAKS = {
    "a reglet runs into the iron": Break(
        "inside the chase",
        "right 4, reglet 6 pt × 14 picas 2 pt",
        lambda it: changed(it, "right", 4, length=170, low=-53),
        "5 pt beyond",
    ),
    "pieces over each other at a corner": Break(
        "one place, one piece",
        "bottom 1, furniture 4 picas × 12 picas and left 1",
        lambda it: changed(changed(it, "left", 1, low=-10, length=130), "left", 2, low=-10, length=133),
        "3 pt",
    ),
    "a piece too short at its upper end": Break(
        "backed to its ends", "left side", lambda it: changed(it, "left", 1, length=108), "9 pt"
    ),
    "a piece too short at its lower end": Break(
        "backed to its ends", "left side", lambda it: changed(it, "left", 1, length=112, low=11), "11 pt"
    ),
    "two pieces with a hole between": Break(
        "backed to its ends",
        "left side",
        lambda it: plus(
            changed(it, "left", 1, length=50), "left", 1, "furniture", thickness=36, length=60, low=63, near=0
        ),
        "10 pt",
    ),
    "nothing against the form": Break(
        "no gap from form to chase", "left side, inside left 2", lambda it: without(it, "left", 1), "3 picas"
    ),
    "a reglet left out of the middle": Break(
        "no gap from form to chase",
        "right side, outside right 1",
        lambda it: without(it, "right", 2),
        "the chase is 2 picas 10 pt off",
    ),
    "a quoin not opened far enough": Break(
        "no gap from form to chase",
        "right side, outside right quoin",
        lambda it: changed(it, "right", 3, thickness=20),
        "8 pt",
    ),
    "room left at the chase": Break("no gap from form to chase", "right side, outside right 4", moved_inward, "2 pt"),
    "a whole side empty": Break(
        "no gap from form to chase", "left side", lambda it: without(it, "left", 1, 2), "5 picas is empty"
    ),
    "quoins that touch in their row": Break(
        "metal against quoin or chase", "top quoin and top quoin", lambda it: two_quoins(it, 0.0), "bruises"
    ),
    "a quoin against the iron": Break(
        "metal against quoin or chase", "right quoin and the chase", quoin_at_the_chase, "bruises"
    ),
    "a piece that reaches under the top furniture": Break(
        "free ends", "end of right 1", lambda it: shifted(it, "right", 1, 2.0), "1 pt is left"
    ),
    "a piece that touches the top furniture": Break(
        "free ends", "end of right 1", lambda it: shifted(it, "right", 1, 3.0), "and no room is left: it would bind"
    ),
    "a piece that reaches under the right furniture": Break(
        "free ends", "end of bottom 1", lambda it: shifted(it, "bottom", 1, 1.0), "2 pt is left"
    ),
    "one side of quoins": Break(
        "quoins on two sides that meet", "quoins on the right", lambda it: solid(it, "top"), "one each way"
    ),
    "no quoins": Break(
        "quoins on two sides that meet", "no quoins yet", lambda it: solid(solid(it, "top"), "right"), "one each way"
    ),
    "quoins on opposite sides": Break(
        "quoins on two sides that meet", "quoins on the bottom and top", lambda it: solid(quoins_under(it), "right")
    ),
    "quoins on three sides": Break(
        "quoins on two sides that meet", "quoins on the bottom and top and right", quoins_under
    ),
    "a quoin that would have to be closed further": Break(
        "quoin within its travel", "top quoin", lambda it: opened(it, -2.0), "2 pt less than the quoin takes up"
    ),
    "a quoin in its reserve": Break(
        "quoin within its travel", "top quoin", lambda it: opened(it, 9.0), "less than its reserve of 4 pt is left"
    ),
    "a quoin opened past its travel": Break(
        "quoin within its travel", "top quoin", lambda it: opened(it, 14.0), "its travel ends at 1 pica"
    ),
    "a quoin of nobody's": Break(
        "quoin within its travel", "top quoin", lambda it: changed(it, "top", 3, length=40), "no quoin 3 picas 4 pt"
    ),
    "a quoin near the end of its side": Break(
        "in balance", "top quoins", lambda it: shifted(it, "top", 3, 44.0), "4 picas and 8 picas from the form's left"
    ),
    "a quoin near the lower end": Break(
        "in balance", "right quoins", lambda it: shifted(it, "right", 3, -40.0), "from the form's lower end"
    ),
    "a stick held on a pica at one end": Break(
        "in balance",
        "left 2, furniture",
        lambda it: changed(it, "left", 2, low=108, length=60),
        "It lies beside the push and would tilt",
        also="longer outward",
    ),
    "two ends that meet near one end": Break(
        "in balance",
        "bottom 3, furniture 1 pica × 2 picas",
        lambda it: ends_at_the_bottom(it, (120.0, 24.0), over=24.0),
        "It lies beside the push and would tilt",
        also="longer outward",
    ),
    "a tower of square sticks": Break(
        "no towers", "bottom side", lambda it: tower_at_the_bottom(it), "3 layers make a stack 4 picas deep"
    ),
    "a joint right over a joint": Break(
        "no joint over a joint",
        "bottom 3, furniture 1 pica × 6 picas over bottom 2, furniture 1 pica × 6 picas",
        lambda it: ends_at_the_bottom(it, (72.0, 72.0)),
        "right over the joint",
    ),
    "one quoin where two are asked": Break(
        "quoins enough",
        "top quoins",
        lambda it: it,
        "The side is 12 picas long, and the shop lets this one serve 10 picas 10 pt",
        lambda shop: replace(shop, quoins=(replace(shop.quoins[0], span=130),)),
    ),
    "a reglet over a hollow": Break(
        "no reglet over a hollow",
        "top 2, reglet 6 pt × 12 picas and top quoin",
        lambda it: plus(
            changed(it, "top", 1, length=50), "top", 1, "furniture", thickness=24, length=50, low=97, near=0
        ),
        "thin reglet bends into the hollow",
        also="backed to its ends",
    ),
    "type beyond what the press prints": Break(
        "within what the press prints",
        "left of the form",
        lambda it: replace(it, job=Job(press="hand press")),
        "1 pica beyond what the hand press prints",
        lambda shop: replace(shop, presses=(Press("hand press", ("small",), usable=(130.0, 200.0)),)),
        found=2,
    ),
    "a piece in a round corner": Break(
        "inside the chase",
        "left 2, furniture",
        lambda it: replace(changed(it, "left", 2, low=-46, length=168), chase=replace(it.chase, clear_corners=4.0)),
        "round there",
        also="one place, one piece",
    ),
    "two quoins where the shop has one": Break(
        "what the cabinet holds",
        "quoins, wedge",
        lambda it: it,
        "takes 2 of these; the shop has 1",
        lambda shop: replace(shop, quoins=(replace(shop.quoins[0], count=1),)),
    ),
    "a lead of a length that isn't there": Break(
        "what the cabinet holds",
        "lead 2 pt × 12 picas",
        with_a_lead,
        "takes 1 of these; the rack holds 0",
        lambda shop: replace(shop, strips={Material("lead", 2.0, 120.0): 4}),
    ),
    "metal furniture at the chase": Break(
        "metal against quoin or chase",
        "left 2, metal 2 picas × 11 picas and the chase",
        lambda it: changed(it, "left", 2, kind="metal"),
        "bruises",
        lambda shop: replace(shop, metal={Material("metal", 24.0, 132.0): 1}),
    ),
    "a slug at a quoin": Break(
        "metal against quoin or chase",
        "top 2, slug 6 pt × 12 picas and top quoin",
        lambda it: changed(it, "top", 2, kind="lead"),
        "bruises",
        lambda shop: replace(shop, slugs=(6.0,)),
    ),
    "a reglet that leaves a quoin's end bare": Break(
        "quoins on wood all along",
        "top quoin",
        lambda it: changed(it, "top", 4, low=it.seen_from("top", it.quoins("top")[0]).low + 24, length=100),
        "2 picas of its outer face",
    ),
    "one reglet more than the cabinet has": Break(
        "what the cabinet holds",
        "reglet 6 pt × 12 picas",
        lambda it: it,
        "takes 2 of these; the cabinet holds 1",
        lambda shop: replace(shop, stock={**shop.stock, Material("reglet", 6.0, 144.0): 1}),
    ),
    "a size the cabinet doesn't have": Break(
        "what the cabinet holds",
        "furniture 4 picas × 12 picas",
        lambda it: it,
        "takes 1 of these; the cabinet holds 0",
        lambda shop: replace(shop, stock={m: n for m, n in shop.stock.items() if m.thickness != 48.0}),
    ),
    "too far right": Break(
        "in its place", "the form", lambda it: replace(it, intent=Intent(50, 48, 6)), "10 pt too far right"
    ),
    "too far left": Break("in its place", "the form", lambda it: replace(it, intent=Intent(67, 48, 6)), "too far left"),
    "too high": Break("in its place", "the form", lambda it: replace(it, intent=Intent(60, 40, 6)), "8 pt too high"),
    "too low": Break("in its place", "the form", lambda it: replace(it, intent=Intent(60, 60, 6)), "1 pica too low"),
    "a piece said to be shorter than it lies": Break(
        "true to size",
        "left 2, furniture 2 picas × 10 picas 10 pt",
        lambda it: written(it, "left", 2, length=130),
        "2 picas × 11 picas, which isn't its size",
    ),
    "a quoin said to be wider open than it lies": Break(
        "true to size", "top quoin", lambda it: written(it, "top", 3, thickness=25), "3 picas × 1 pica 9 pt"
    ),
    "furniture shorter than what it backs": Break(
        "longer outward", "left 2, furniture", lambda it: changed(it, "left", 2, length=115), "shorter than left 1"
    ),
    "furniture inside a quoin": Break(
        "reglet against a quoin",
        "top quoin and top 2, furniture",
        lambda it: changed(it, "top", 2, kind="furniture"),
        "bruises the furniture",
    ),
    "furniture outside a quoin": Break(
        "reglet against a quoin",
        "right quoin and right 4, furniture",
        lambda it: changed(it, "right", 4, kind="furniture"),
        "bruises the furniture",
    ),
    "an end that rubs on what stands still": Break(
        "ends that rub",
        "end of top 1",
        lambda it: changed(
            changed(changed(it, "left", 1, length=114), "left", 2, length=144), "top", 1, low=-36, length=183
        ),
        "left 2",
    ),
    "an end that rubs on the rail at the right": Break(
        "ends that rub", "end of top 1", lambda it: changed(it, "top", 1, length=211), "the chase"
    ),
    "an end that rubs on the rail at the bottom": Break(
        "ends that rub", "end of right 1", lambda it: changed(it, "right", 1, length=165, low=-48), "the chase"
    ),
    "two pieces where one would do": Break(
        "fewest pieces",
        "left side",
        lambda it: it,
        "2 pieces lie where 1 would do",
        lambda shop: replace(shop, stock={**shop.stock, Material("furniture", 60.0, 126.0): 1}),
    ),
    "two pieces inside the quoins where one would do": Break(
        "fewest pieces",
        "right side",
        lambda it: plus(
            changed(it, "right", 1, thickness=20), "right", 1, "furniture", thickness=16, length=120, low=-3, near=20
        ),
        "2 pieces lie where 1 would do",
        lambda shop: replace(shop, stock={**shop.stock, Material("furniture", 36.0, 120.0): 2}),
    ),
}


def broken(sound: Lockup, small_shop: Shop, name: str) -> tuple[Lockup, Shop]:
    way = BREAKS[name]
    lockup = way.change(sound)
    return lockup, way.shop(owns(lockup, small_shop))


@pytest.mark.parametrize("name", BREAKS)
def test_one_thing_wrong_is_the_one_thing_found(sound, small_shop, name):
    way = BREAKS[name]
    findings = [finding for finding in judge(*broken(sound, small_shop, name)) if finding.rule != way.also]
    assert [finding.rule for finding in findings] == [way.rule] * way.found
    finding = findings[0]
    assert finding.severity == ("caution" if way.rule in CAUTIONS else "fault")
    assert is_sound(findings) == (way.rule in CAUTIONS)
    assert way.where in finding.where
    assert way.why in finding.why


def test_every_rule_is_broken_here():
    assert {way.rule for way in BREAKS.values()} == set(rule_names())


# What a form, a quoin or a chase can bear is for the shop's own rules and trained practice to say, never for us.
COMPUTED_LIMITS = re.compile(
    r"stress|safe|strength|\bmax|limit|\bload|\bkN\b|\bN\b|[kM]?Pa\b|\bpsi\b|\bton(ne)?s?\b|newton|pound|\blbf?\b|\bkg\b",
    re.IGNORECASE,
)


@pytest.mark.parametrize("name", BREAKS)
def test_a_finding_is_said_in_plain_sentences(sound, small_shop, name):
    for finding in judge(*broken(sound, small_shop, name)):
        for words in (finding.why, finding.cure):
            assert words[0].isupper() or words[0].isdigit()
            assert words.endswith(".")
        for words in (finding.where, finding.why, finding.cure, finding.source):
            assert words.strip() == words != ""
            assert words.isprintable()
            assert not COMPUTED_LIMITS.search(words)
            assert not re.search(r"[_{}<>]|\d\.\d{3}|nan|inf\b|None", words)


def test_every_source_of_a_rule_is_on_the_list():
    for rule in rules():
        books = cited(rule.source)
        assert set(books) <= set(CLAIMS), rule
        assert books or rule.source in (COMMON, OWN) or "statics" in rule.source, rule
    # A page that the books don't have for it would be seen.
    assert cited("Vaughn p. 99") == [("Vaughn", "99")] and ("Vaughn", "99") not in CLAIMS


def test_every_rule_says_what_it_means():
    assert tuple(rule.name for rule in rules()) == rule_names()
    for rule in rules():
        assert rule.meaning.isprintable()
        assert len(rule.meaning.split()) > 3
        assert not COMPUTED_LIMITS.search(rule.meaning)
        assert rule.severity == ("caution" if rule.name in CAUTIONS else "fault")
        assert rule.source


@pytest.mark.parametrize("name", BREAKS)
def test_a_finding_holds_the_pieces_it_names(sound, small_shop, name):
    lockup, shop = broken(sound, small_shop, name)
    for finding in judge(lockup, shop):
        for item in finding.items:
            assert any(item is one for one in lockup.items)
            assert (f"{item.side} quoin" if item.kind == "quoin" else f"{item.side} {item.order}, ") in finding.where
        named = re.findall(r"(bottom|left|top|right) (\d+), ", finding.where)
        assert {(item.side, str(item.order)) for item in finding.items} >= set(named)


def test_faults_come_before_cautions(sound, small_shop):
    lockup = shifted(changed(sound, "left", 2, length=115), "top", 3, 44.0)
    findings = judge(lockup, owns(lockup, small_shop))
    assert [(finding.rule, finding.severity) for finding in findings] == [
        ("in balance", "fault"),
        ("longer outward", "caution"),
    ]
    assert not is_sound(findings)
    assert is_sound(findings[1:])


# --- each side of a limit ---------------------------------------------------------------------------------
# A difference of less than the 0.05 points that no hand can set counts as none.


def rules_found(lockup: Lockup, shop: Shop, **options) -> set[str]:
    return {finding.rule for finding in judge(lockup, owns(lockup, shop), **options)}


@pytest.mark.parametrize(("over", "found"), [(-3.0, False), (0.0, False), (0.04, False), (0.06, True), (3.0, True)])
def test_how_far_a_piece_may_reach_beyond_the_chase(sound, small_shop, over, found):
    low_end = changed(sound, "right", 4, length=165 + over, low=-48 - over)
    high_end = changed(sound, "top", 4, length=211 + over)
    for lockup in (low_end, high_end):
        assert ("inside the chase" in rules_found(lockup, small_shop)) == found


@pytest.mark.parametrize(("over", "found"), [(-1.0, False), (0.0, False), (0.04, False), (0.06, True), (1.0, True)])
def test_how_far_pieces_may_lie_over_each_other(sound, small_shop, over, found):
    lockup = changed(sound, "left", 1, low=-over)
    assert ("one place, one piece" in rules_found(lockup, small_shop)) == found


@pytest.mark.parametrize(("bare", "found"), [(5.0, False), (6.0, False), (6.04, False), (6.06, True), (7.0, True)])
@pytest.mark.parametrize("end", ["low", "high", "middle"])
def test_how_much_of_a_side_may_go_without_wood(sound, small_shop, bare, found, end):
    if end == "low":
        lockup = changed(sound, "left", 1, low=bare, length=120 - bare)
    elif end == "high":
        lockup = changed(sound, "left", 1, low=3, length=117 - bare)
    else:
        lockup = changed(sound, "left", 1, low=3, length=50)
        lockup = plus(lockup, "left", 1, "furniture", thickness=36, length=67 - bare, low=53 + bare, near=0)
    assert rules_found(lockup, small_shop) == ({"backed to its ends"} if found else set())


@pytest.mark.parametrize(("room", "found"), [(0.0, False), (0.04, False), (0.06, True), (1.0, True)])
def test_how_much_room_is_a_gap(sound, small_shop, room, found):
    for lockup in (
        changed(sound, "right", 3, thickness=22 - room),  # between quoin and reglet
        changed(sound, "bottom", 1, thickness=48 - room),  # at the chase
        changed(sound, "bottom", 1, thickness=48 - room, near=room),  # at the form
    ):
        assert rules_found(lockup, small_shop) == ({"no gap from form to chase"} if found else set())


@pytest.mark.parametrize(("apart", "found"), [(0.0, True), (0.04, True), (0.06, False), (12.0, False)])
def test_how_near_metal_may_come_to_metal(sound, small_shop, apart, found):
    assert rules_found(two_quoins(sound, apart), small_shop) == ({"metal against quoin or chase"} if found else set())


def test_metal_that_meets_only_at_a_corner_does_not_slip(sound, small_shop):
    lockup = changed(sound, "top", 3, low=36)
    lockup = plus(lockup, "top", 4, "quoin", thickness=5, length=36, low=72, near=51)
    assert "metal against quoin or chase" not in rules_found(lockup, small_shop)
    assert "metal against quoin or chase" in rules_found(shifted(lockup, "top", 3, 1.0), small_shop)


def test_a_quoin_against_the_form_is_metal_against_metal(sound, small_shop):
    lockup = changed(without(sound, "top", 1, 2), "top", 3, near=0, thickness=51)
    assert "metal against quoin or chase" in rules_found(lockup, small_shop)


def test_a_form_against_the_chase_is_metal_against_metal(sound, small_shop):
    lockup = replace(without(sound, "bottom", 1), form=replace(sound.form, y=0.0, height=168.0))
    findings = judge(lockup, owns(lockup, small_shop))
    assert "the form and the chase" in {f.where for f in findings if f.rule == "metal against quoin or chase"}


@pytest.mark.parametrize(("room", "found"), [(4.0, False), (3.0, False), (2.96, False), (2.94, True), (0.0, True)])
def test_how_much_room_an_end_needs_where_pieces_close(sound, small_shop, room, found):
    for lockup in (shifted(sound, "right", 1, 3.0 - room), shifted(sound, "bottom", 1, 3.0 - room)):
        assert rules_found(lockup, small_shop) == ({"free ends"} if found else set())


def test_an_end_needs_no_such_room_where_nothing_moves(sound, small_shop):
    # At the corner of the two solid sides pieces stand still: a point of room is enough there.
    assert rules_found(shifted(sound, "left", 1, -2.0), small_shop) == set()


@pytest.mark.parametrize(
    ("opening", "found"),
    [
        (-1.0, True),
        (-0.06, True),
        (-0.04, False),
        (0.0, False),
        (3.0, False),
        (8.0, False),
        (8.04, False),
        (8.06, True),
    ],
)
def test_how_far_a_quoin_may_open(sound, small_shop, opening, found):
    # The fixture's quoin travels 12 points and keeps 4 in reserve.
    assert rules_found(opened(sound, opening), small_shop) == ({"quoin within its travel"} if found else set())


@pytest.mark.parametrize(("opening", "words"), [(12.04, "its reserve of"), (12.06, "its travel ends")])
def test_the_reserve_and_the_end_of_the_travel_are_told_apart(sound, small_shop, opening, words):
    lockup = opened(sound, opening)
    finding = judge(lockup, owns(lockup, small_shop))[0]
    assert words in finding.why and [item.kind for item in finding.items] == ["quoin"]


def test_a_quoin_may_be_any_of_the_shops_patterns_of_its_length(sound, small_shop):
    thicker = Quoin("thicker", length=36, closed=30, travel=12, reserve=4, rest=3, gap=12, span=144)
    shop = replace(small_shop, quoins=(*small_shop.quoins, thicker))
    for opening, found in ((3.0, False), (9.0, True), (15.0, False), (21.0, True)):
        assert rules_found(opened(sound, opening), shop) == ({"quoin within its travel"} if found else set())


@pytest.mark.parametrize(("side", "sixth"), [("top", 24.0), ("right", 20.0)])
@pytest.mark.parametrize("way", [-1, 1])
def test_how_far_quoins_may_be_from_the_middle(sound, small_shop, side, sixth, way):
    # The middle third reaches a sixth of the side from its middle, either way, and a quoin 36 long may press with
    # either end.
    most = sixth + 18
    for by, found in ((sixth, False), (most - 1, False), (most, False), (most + 0.04, False), (most + 0.06, True)):
        lockup = shifted(sound, side, 3, way * by)
        assert rules_found(lockup, small_shop) - {"quoins on wood all along"} == ({"in balance"} if found else set())


def test_a_row_is_judged_by_its_own_middle(sound, small_shop):
    lockup = two_quoins(sound, 40.0)  # each is 38 from the middle, and the row is in it
    assert rules_found(lockup, small_shop) == set()
    both = with_items(
        lockup, (replace(i, x=i.x + 43) if i.side == "top" and i.kind == "quoin" else i for i in lockup.items)
    )
    assert rules_found(both, small_shop) - {"quoins on wood all along", "no reglet over a hollow"} == {"in balance"}


@pytest.mark.parametrize(("held", "found"), [(0, True), (1, True), (2, False), (3, False)])
def test_how_many_the_cabinet_must_hold(sound, small_shop, held, found):
    shop = replace(small_shop, stock={**small_shop.stock, Material("reglet", 6.0, 144.0): held})
    assert {finding.rule for finding in judge(sound, shop)} == ({"what the cabinet holds"} if found else set())


def test_sizes_from_two_files_are_compared_to_the_hundredth_of_a_point(sound, small_shop):
    for less in (1e-9, 0.004):
        stock = {Material(m.kind, m.thickness + less, m.length - less): n for m, n in small_shop.stock.items()}
        assert judge(sound, replace(small_shop, stock=stock)) == []
    stock = {Material(m.kind, m.thickness + 0.02, m.length): n for m, n in small_shop.stock.items()}
    assert {finding.rule for finding in judge(sound, replace(small_shop, stock=stock))} == {"what the cabinet holds"}


@pytest.mark.parametrize(("off", "found"), [(0.0, False), (6.0, False), (6.04, False), (6.06, True), (40.0, True)])
@pytest.mark.parametrize("way", [(1, 0), (-1, 0), (0, 1), (0, -1)])
def test_how_far_the_form_may_be_from_its_place(sound, small_shop, off, found, way):
    target = (60 - way[0] * off, 48 - way[1] * off)
    expected = {"in its place"} if found else set()
    assert rules_found(sound, small_shop, target=target) == expected
    assert rules_found(replace(sound, intent=Intent(*target, 6.0)), small_shop) == expected
    words = {(1, 0): "too far right", (-1, 0): "too far left", (0, 1): "too high", (0, -1): "too low"}[way]
    assert all(words in finding.why for finding in judge(sound, small_shop, target=target))


def test_how_far_off_is_the_askers_choice(sound, small_shop):
    assert rules_found(sound, small_shop, target=(58.0, 48.0), tolerance=1.0) == {"in its place"}
    assert rules_found(sound, small_shop, target=(58.0, 48.0), tolerance=2.0) == set()
    assert rules_found(sound, small_shop, target=(10.0, 10.0), tolerance=50.0) == set()


def test_a_lockup_without_a_wish_belongs_in_the_middle_of_its_chase(sound, small_shop):
    # The sound form stands 5 left of the middle and 4.5 below it.
    nobody = replace(sound, intent=None)
    assert rules_found(nobody, small_shop) == set()
    assert rules_found(nobody, small_shop, tolerance=4.9) == {"in its place"}
    (finding,) = judge(nobody, small_shop, tolerance=4.9)
    assert finding.why == "It stands 5 pt too far left."
    assert len(judge(nobody, small_shop, tolerance=4.0)) == 2


@pytest.mark.parametrize(("more", "found"), [(-1.0, True), (-0.06, True), (-0.04, False), (0.04, False), (0.06, True)])
@pytest.mark.parametrize("size", ["thickness", "length"])
def test_how_far_a_piece_may_be_from_its_written_size(sound, small_shop, size, more, found):
    item = placed(sound, "bottom", 1)
    lockup = written(sound, "bottom", 1, **{size: getattr(item, size) + more})
    assert rules_found(lockup, small_shop) == ({"true to size"} if found else set())


def test_a_quoin_on_its_side_is_not_true_to_size(sound, small_shop):
    # Its 36 points of length fill the gap outward, where 21 of thickness are written.
    lockup = changed(sound, "top", 1, thickness=9)
    lockup = changed(lockup, "top", 2, near=9)
    lockup = written(lockup, "top", 3, x=121.5, y=183.0, width=21.0, height=36.0)
    assert rules_found(lockup, small_shop) != set()


@pytest.mark.parametrize(("shorter", "found"), [(-12.0, False), (0.0, False), (0.04, False), (0.06, True), (5.0, True)])
def test_how_much_shorter_an_outer_piece_may_be(sound, small_shop, shorter, found):
    lockup = changed(sound, "left", 2, length=120 - shorter)
    assert rules_found(lockup, small_shop) == ({"longer outward"} if found else set())


@pytest.mark.parametrize(("room", "found"), [(0.0, True), (0.04, True), (0.06, False), (3.0, False)])
def test_how_near_the_ends_of_moving_wood_may_come(sound, small_shop, room, found):
    for lockup in (
        changed(sound, "top", 1, length=211 - room),
        changed(sound, "right", 1, length=165 - room, low=room - 48),
    ):
        assert rules_found(lockup, small_shop) == ({"ends that rub"} if found else set())


def test_the_ends_of_wood_that_stands_still_may_touch(sound, small_shop):
    # A dry stick doesn't grow lengthwise, and nothing moves it: at the solid corner, at the rails, beyond the quoins.
    for lockup in (
        shifted(sound, "left", 1, -3.0),
        changed(sound, "bottom", 1, length=201, low=-60),
        changed(sound, "top", 4, length=211),
        changed(sound, "left", 2, length=174),
    ):
        assert rules_found(lockup, small_shop) == set()


def test_a_quoin_that_may_bear_on_any_wood_needs_no_reglet(sound, small_shop):
    lockup = changed(changed(sound, "top", 2, kind="furniture"), "right", 4, kind="furniture")
    shop = owns(lockup, small_shop)
    assert rules_found(lockup, shop) == {"reglet against a quoin"}
    bears = tuple(replace(quoin, bears_on="any wood") for quoin in shop.quoins)
    assert rules_found(lockup, replace(shop, quoins=bears)) == set()


@pytest.mark.parametrize(
    ("length", "found"), [(119.9, False), (119.96, True), (126.0, True), (132.04, True), (132.1, False)]
)
def test_which_lengths_may_take_the_place_of_two_pieces(sound, small_shop, length, found):
    # The left side's pieces are 120 and 132 long: a single piece between them in length would do.
    shop = replace(small_shop, stock={**small_shop.stock, Material("furniture", 60.0, length): 1})
    findings = judge(sound, shop)
    assert [(finding.rule, finding.cure) for finding in findings] == [("fewest pieces", "Use 5 picas instead.")] * found


def test_a_piece_used_elsewhere_cannot_take_the_place_of_two(sound, small_shop):
    # A 60-point piece is in the shop, but lies at the bottom.
    lockup = replace(sound, form=replace(sound.form, y=60.0), chase=replace(sound.chase, height=237.0))
    lockup = with_items(lockup, (i if i.side == "bottom" else replace(i, y=i.y + 12) for i in lockup.items))
    lockup = replace(changed(lockup, "bottom", 1, thickness=60, length=132, low=6, near=0), intent=None)
    shop = owns(lockup, small_shop)
    assert judge(lockup, shop) == []
    more = replace(shop, stock={**shop.stock, Material("furniture", 60.0, 132.0): 2})
    assert [finding.rule for finding in judge(lockup, more)] == ["fewest pieces"]


def test_the_reglet_that_bears_on_the_quoins_is_not_one_piece_too_many(sound, small_shop):
    # 30 points in one piece would take the place of the top's 24 and its bearing reglet of 6: it may not.
    shop = replace(small_shop, stock={**small_shop.stock, Material("furniture", 30.0, 144.0): 3})
    assert judge(sound, shop) == []


@pytest.mark.parametrize(("bare", "found"), [(-3.0, False), (0.0, False), (0.04, False), (0.06, True), (5.0, True)])
@pytest.mark.parametrize("order", [2, 4])
def test_how_much_of_a_quoin_may_go_without_wood(sound, small_shop, order, bare, found):
    # The top quoin lies from 54 to 90.
    for lockup in (
        changed(sound, "top", order, length=87 - bare),
        changed(sound, "top", order, low=54 + bare, length=90),
    ):
        assert rules_found(lockup, small_shop) == ({"quoins on wood all along"} if found else set())


@pytest.mark.parametrize(("side", "order"), [("top", 2), ("right", 2), ("top", 4), ("right", 4)])
def test_a_quoin_bears_on_wood_for_all_its_length(sound, small_shop, side, order):
    # The reglet covers a third of the quoin.
    quoin = sound.seen_from(side, sound.quoins(side)[0])
    lockup = changed(sound, side, order, low=quoin.low + 24, length=quoin.high - quoin.low - 24)
    assert rules_found(lockup, small_shop) != set()


# --- blocks -----------------------------------------------------------------------------------------------


def sound_block() -> Block:
    """Return a block for the sound lockup's form: two forms with metal between, wood below, a slug and metal above."""
    return Block(
        (PlacedForm(60.0, 72.0, 60.0, 72.0), PlacedForm(144.0, 72.0, 60.0, 72.0)),
        (
            Filling("furniture", 24.0, 136.0, 64.0, 48.0, 136.0, 24.0),
            Filling("metal", 24.0, 72.0, 120.0, 72.0, 24.0, 72.0),
            Filling("lead", 6.0, 144.0, 60.0, 144.0, 144.0, 6.0),
            Filling("metal", 18.0, 72.0, 60.0, 150.0, 72.0, 18.0),
            Filling("metal", 18.0, 72.0, 132.0, 150.0, 72.0, 18.0),
        ),
    )


def piece(block: Block, n: int, **changes) -> Block:
    return replace(block, pieces=tuple(replace(p, **changes) if i == n else p for i, p in enumerate(block.pieces)))


def form(block: Block, n: int, **changes) -> Block:
    return replace(block, forms=tuple(replace(f, **changes) if i == n else f for i, f in enumerate(block.forms)))


def wood(block: Block, length: float, low: float) -> Block:
    """Return the block with wood of another length below, its end so far from the block's."""
    return piece(block, 0, length=length, width=length, x=60.0 + low)


def over_a_hollow(block: Block, *cuts: float) -> Block:
    """Return the block with wood for its gutter, 3 short at each end, and its slug cut at these places."""
    block = piece(block, 1, kind="furniture", length=66.0, y=75.0, height=66.0)
    slug, ends = block.pieces[2], (0.0, *cuts, 144.0)
    parts = (replace(slug, length=b - a, width=b - a, x=60.0 + a) for a, b in pairwise(ends))
    return replace(block, pieces=(*block.pieces[:2], *block.pieces[3:], *parts))


def with_block(lockup: Lockup, shop: Shop, block: Block) -> tuple[Lockup, Shop]:
    """Return the lockup with the block for its form, and the shop with all that lies in both."""
    used = Counter(block.materials)
    metal = {m: n for m, n in used.items() if m.kind == "metal"}
    stock = Counter(item.material for item in lockup.wood) + Counter({m: n for m, n in used.items() if m not in metal})
    return replace(lockup, block=block), replace(shop, stock=stock, metal=metal, slugs=(6.0,))


def in_block(lockup: Lockup, shop: Shop, block: Block) -> set[str]:
    return {finding.rule for finding in judge(*with_block(lockup, shop, block))}


def test_the_sound_block_has_no_finding_at_all(sound, small_shop):
    assert sound_block().outline == sound.form
    assert judge(*with_block(sound, small_shop, sound_block())) == []
    assert judge(*with_block(sound, small_shop, over_a_hollow(sound_block()))) == []


# What is done to the sound block, the one rule that finds it, and what it names and says.
BLOCK_BREAKS = {
    "two slugs in one place": (
        lambda b: replace(b, pieces=(*b.pieces, replace(b.pieces[2]))),
        "one place, one piece", "c of the block, lead 6 pt × 12 picas and f of the block", "6 pt",
    ),
    "a slug too long": (
        lambda b: piece(b, 2, length=150, width=150), "one place, one piece", "c of the block, lead", "6 pt beyond",
    ),
    "wood too short": (lambda b: wood(b, 130, 7), "backed to its ends", "bottom side of form 1", "7 pt"),
    "a slug in pieces, one of them over a hollow": (
        lambda b: over_a_hollow(b, 60, 84), "no gap from form to chase", "bottom face of f", "Nothing touches it",
    ),
    "a slug cut beside a hollow": (
        lambda b: over_a_hollow(b, 50, 84), "no gap from form to chase", "bottom face of f", "would tilt",
    ),
    "wood wedged in": (lambda b: wood(b, 142, 1), "free ends", "ends of a of the block", "only 2 pt"),
    "wood wedged fast": (lambda b: wood(b, 144, 0), "free ends", "ends of a of the block", "and no room is left: it"),
    "a piece not of its size": (lambda b: piece(b, 1, length=70), "true to size", "b of the block, metal", "its size"),
}  # fmt: skip


@pytest.mark.parametrize("name", BLOCK_BREAKS)
def test_one_thing_wrong_in_a_block_is_the_one_thing_found(sound, small_shop, name):
    change, rule, where, why = BLOCK_BREAKS[name]
    findings = judge(*with_block(sound, small_shop, change(sound_block())))
    assert {finding.rule for finding in findings} == {rule}
    assert all(finding.severity == "fault" for finding in findings)
    assert where in findings[0].where and why in findings[0].why
    for finding in findings:
        assert finding.why.endswith(".") and finding.cure.endswith(".") and not COMPUTED_LIMITS.search(finding.why)


def test_the_cabinet_holds_what_block_and_lockup_take_together(sound, small_shop):
    lockup, shop = with_block(sound, small_shop, piece(wood(sound_block(), 144, 0), 0, thickness=24))
    # The sound lockup has a piece of 24 × 144 on top, and the block now one more.
    size = Material("furniture", 24.0, 144.0)
    assert shop.stock[size] == 2 and "what the cabinet holds" not in {f.rule for f in judge(lockup, shop)}
    scarce = replace(shop, stock={**shop.stock, size: 1})
    (found,) = [f for f in judge(lockup, scarce) if f.rule == "what the cabinet holds"]
    assert (
        found.where == "furniture 2 picas × 12 picas"
        and found.why == "The lockup takes 2 of these; the cabinet holds 1."
    )


def test_metal_is_counted_and_leads_must_be_of_the_shops_own_thickness(sound, small_shop):
    lockup, shop = with_block(sound, small_shop, sound_block())
    for other, where in (
        (replace(shop, metal={**shop.metal, Material("metal", 18.0, 72.0): 1}), "metal 1 pica 6 pt × 6 picas"),
        (replace(shop, metal={}), "metal"),
        (replace(shop, slugs=()), "slug 6 pt × 12 picas"),
        (replace(shop, slugs=(6.02,)), "slug 6 pt × 12 picas"),
    ):
        findings = judge(lockup, other)
        assert {f.rule for f in findings} == {"what the cabinet holds"} and where in findings[0].where
    assert judge(lockup, replace(shop, slugs=(), leads=(6.001,))) == []


def test_a_block_smaller_than_its_outline_is_found(sound, small_shop):
    block = piece(piece(sound_block(), 3, thickness=17, height=17), 4, thickness=17, height=17)
    findings = judge(*with_block(sound, small_shop, block))
    assert {f.rule for f in findings} == {"true to size", "no gap from form to chase"}
    assert "1 pt inside its edge" in " ".join(f.why for f in findings)
    assert all(f.cure.endswith(".") for f in findings)
    assert "true to size" in {f.rule for f in judge(*with_block(sound, small_shop, Block((), ())))}


@pytest.mark.parametrize(("over", "found"), [(-0.04, False), (0.04, False), (0.06, True), (9.0, True)])
def test_how_far_things_in_a_block_may_lie_over_each_other(sound, small_shop, over, found):
    # A form that reaches over the gutter no longer ends where the gutter begins: more than one rule sees that.
    assert ("one place, one piece" in in_block(sound, small_shop, form(sound_block(), 0, width=60 + over))) == found
    longer = piece(sound_block(), 2, length=144 + over, width=144 + over)
    assert in_block(sound, small_shop, longer) == ({"one place, one piece"} if found else set())


@pytest.mark.parametrize(("bare", "found"), [(4.0, False), (6.04, False), (6.06, True)])
def test_how_much_of_a_form_in_a_block_may_be_bare(sound, small_shop, bare, found):
    block = wood(sound_block(), 144 - 2 * bare, bare)
    assert in_block(sound, small_shop, block) == ({"backed to its ends"} if found else set())


@pytest.mark.parametrize(("room", "found"), [(0.0, True), (2.94, True), (2.96, False), (3.0, False), (6.0, False)])
@pytest.mark.parametrize("share", [0.0, 0.5, 1.0])
def test_how_much_room_wood_in_a_block_needs_at_its_ends(sound, small_shop, room, found, share):
    block = wood(sound_block(), 144 - room, share * room)
    assert in_block(sound, small_shop, block) == ({"free ends"} if found else set())


@pytest.mark.parametrize("room", [0.0, 2.0, 3.0])
def test_a_wooden_gutter_is_wood_in_a_block_too(sound, small_shop, room):
    block = piece(sound_block(), 1, kind="furniture", length=72 - room, height=72 - room, y=72 + room / 2)
    assert in_block(sound, small_shop, block) == ({"free ends"} if room < 3 else set())


@pytest.mark.parametrize(("cut", "found"), [(35.0, False), (36.08, False), (36.12, True), (50.0, True)])
def test_a_piece_must_be_pressed_on_both_sides_of_its_middle(sound, small_shop, cut, found):
    # The hollow is from 60 to 84. The part of the slug from the cut to 84 is pressed up to 60: is that past its middle?
    expected = {"no gap from form to chase"} if found else set()
    assert in_block(sound, small_shop, over_a_hollow(sound_block(), cut, 84)) == expected


def test_a_square_piece_may_be_pressed_either_way(sound, small_shop):
    # Three squares of 24 for the gutter: they stand on each other, and between the forms.
    block = sound_block()
    squares = tuple(Filling("metal", 24.0, 24.0, 120.0, 72.0 + 24 * n, 24.0, 24.0) for n in range(3))
    squared = replace(block, pieces=(block.pieces[0], *squares, *block.pieces[2:]))
    assert in_block(sound, small_shop, squared) == set()
    # With one left out its neighbours still stand between the forms, which now are bare there.
    less = replace(squared, pieces=tuple(p for p in squared.pieces if p is not squares[1]))
    assert in_block(sound, small_shop, less) == {"backed to its ends"}


@pytest.mark.parametrize(("room", "found"), [(0.0, True), (2.94, True), (2.96, False), (6.0, False)])
def test_square_wood_in_a_block_needs_room_one_way_only(sound, small_shop, room, found):
    # A square of wood is the gutter, between the forms and as wide as high; it is pressed from left and right.
    first, other = sound_block().forms
    size = 72.0 - room
    block = replace(
        sound_block(),
        forms=(replace(first, width=(144 - size) / 2), replace(other, x=60 + (144 + size) / 2, width=(144 - size) / 2)),
    )
    at = {"x": 60 + (144 - size) / 2, "y": 72 + room / 2}
    block = piece(block, 1, kind="furniture", thickness=size, length=size, width=size, height=size, **at)
    assert in_block(sound, small_shop, block) == ({"free ends"} if found else set())


def test_metal_may_touch_type_inside_a_block_only(sound, small_shop):
    # The block has metal against type, and is sound; its edge against the iron or a quoin is not.
    lockup, shop = with_block(sound, small_shop, sound_block())
    assert judge(lockup, shop) == []
    moved = changed(lockup, "top", 3, near=0)
    assert "metal against quoin or chase" in {f.rule for f in judge(moved, shop)}


# --- mirrors ----------------------------------------------------------------------------------------------

MIRRORS: dict[str, dict[str, str]] = {
    "left to right": {"left": "right", "right": "left", "bottom": "bottom", "top": "top"},
    "top to bottom": {"left": "left", "right": "right", "bottom": "top", "top": "bottom"},
    "across the diagonal": {"left": "bottom", "bottom": "left", "right": "top", "top": "right"},
}


def mirrored(lockup: Lockup, mirror: str) -> Lockup:
    """Return the lockup as the mirror shows it, its chase, its form, its pieces and its wish."""
    chase = lockup.chase

    def place(x: float, y: float, width: float, height: float) -> dict[str, float]:
        if mirror == "left to right":
            x = chase.width - x - width
        elif mirror == "top to bottom":
            y = chase.height - y - height
        else:
            x, y, width, height = y, x, height, width
        return {"x": x, "y": y, "width": width, "height": height}

    def image(one):
        return replace(one, **place(one.x, one.y, one.width, one.height))

    form = image(lockup.form)
    items = tuple(replace(image(item), side=MIRRORS[mirror][item.side]) for item in lockup.items)
    there = place(lockup.intent.x, lockup.intent.y, lockup.form.width, lockup.form.height)
    intent = Intent(there["x"], there["y"], lockup.intent.tolerance)
    if mirror == "across the diagonal":
        chase = replace(chase, width=chase.height, height=chase.width)
    return Lockup(chase, form, lockup.arrangement, items, intent)


def seen_in(findings: list[Finding], mirror: str | None) -> Counter:
    """Return what was found, sides renamed, words in no particular order."""
    names = MIRRORS[mirror] if mirror else {side: side for side in SIDES}

    def words(where: str) -> tuple[str, ...]:
        return tuple(sorted(names.get(word, word) for word in re.findall(r"\w+|×", where)))

    return Counter((finding.rule, finding.severity, words(finding.where)) for finding in findings)


# Quarter points are exact, so that a limit falls the same way in the mirror.
quarters = st.integers(-48, 48).map(lambda n: n / 4)


@st.composite
def disturbances(draw):
    """What to do to a lockup: move, resize or take away some of its items, move its form or its wish."""
    return draw(
        st.lists(
            st.tuples(
                st.integers(0, 10),
                st.sampled_from(["along", "outward", "length", "thickness", "remove", "kind", "side"]),
                quarters,
                st.sampled_from(KINDS),
                st.sampled_from(SIDES),
            ),
            max_size=4,
        )
    )


def disturbed(lockup: Lockup, what) -> Lockup:
    items: list[Item | None] = list(lockup.items)
    for n, how, by, kind, other in what:
        item = items[n]
        if item is None:
            continue
        seen = lockup.seen_from(item.side, item)
        low, near, length, thickness = seen.low, seen.near, item.length, item.thickness
        side, order = item.side, item.order
        if how == "remove":
            items[n] = None
            continue
        low += by if how == "along" else 0
        near += by if how == "outward" else 0
        length = max(1.0, length + by) if how == "length" else length
        thickness = max(1.0, thickness + by) if how == "thickness" else thickness
        side = other if how == "side" else side
        kind = kind if how == "kind" else item.kind
        items[n] = lay(lockup.form, side, order, kind, thickness=thickness, length=length, low=low, near=near)
    return with_items(lockup, filter(None, items))


@pytest.mark.parametrize("mirror", MIRRORS)
@given(what=disturbances(), wish=st.tuples(quarters, quarters))
def test_a_mirror_changes_no_judgement(sound_and_shop, mirror, what, wish):
    lockup, shop = sound_and_shop
    lockup = replace(disturbed(lockup, what), intent=Intent(60 + wish[0], 48 + wish[1], 6.0))
    assert mirrored(mirrored(lockup, mirror), mirror) == lockup
    assert seen_in(judge(mirrored(lockup, mirror), shop), None) == seen_in(judge(lockup, shop), mirror)


# What a press prints lies as its chase does, and isn't mirrored with it.
@pytest.mark.parametrize("name", [name for name, way in BREAKS.items() if "press prints" not in way.rule])
@pytest.mark.parametrize("mirror", MIRRORS)
def test_a_mirror_changes_none_of_the_breaks(sound, small_shop, mirror, name):
    lockup, shop = broken(sound, small_shop, name)
    assert seen_in(judge(mirrored(lockup, mirror), shop), None) == seen_in(judge(lockup, shop), mirror)


@pytest.fixture(scope="module")
def sound_and_shop(request) -> tuple[Lockup, Shop]:
    """The sound lockup and a shop with some more than it needs, for Hypothesis: nothing changes them."""
    lockup = sound_lockup()
    stock = {Material(i.kind, i.thickness, i.length): 4 for i in lockup.wood}
    quoin = Quoin("wedge", length=36, closed=18, travel=12, reserve=4, rest=3, gap=12, span=144)
    return lockup, Shop("small", (lockup.chase,), stock | {Material("furniture", 60.0, 126.0): 1}, (quoin,))


# --- Shapely as outside reference -------------------------------------------------------------------------

grid = st.integers(0, 240).map(lambda n: n / 4)
grid_sizes = st.integers(1, 160).map(lambda n: n / 4)


@st.composite
def scattered(draw) -> Lockup:
    """Draw rectangles strewn in and about a chase of 60 × 50, each said to be of some side."""
    chase = Chase("any", 60.0, 50.0)
    form = PlacedForm(draw(grid) - 5, draw(grid) - 5, draw(grid_sizes), draw(grid_sizes))
    items = []
    for n in range(draw(st.integers(0, 6))):
        width, height = draw(grid_sizes), draw(grid_sizes)
        side = draw(st.sampled_from(SIDES))
        thickness, length = (height, width) if side in ("bottom", "top") else (width, height)
        kind = draw(st.sampled_from(KINDS))
        items.append(Item(side, n + 1, kind, thickness, length, draw(grid) - 5, draw(grid) - 5, width, height))
    return Lockup(chase, form, "by hand", tuple(items))


def box(rectangle) -> shapely.Polygon:
    return shapely.box(rectangle.x, rectangle.y, rectangle.x + rectangle.width, rectangle.y + rectangle.height)


BARE = Shop("bare", (), {}, ())


@given(scattered())
def test_inside_the_chase_is_what_shapely_covers(lockup):
    chase = shapely.box(0, 0, lockup.chase.width, lockup.chase.height)
    outside = [one for one in (lockup.form, *lockup.items) if not chase.covers(box(one))]
    found = [finding for finding in judge(lockup, BARE) if finding.rule == "inside the chase"]
    assert len(found) == len(outside)
    assert ("the form" in {finding.where for finding in found}) == (lockup.form in outside)


@given(scattered())
def test_one_place_one_piece_is_what_shapely_intersects(lockup):
    shapes = [box(one) for one in (lockup.form, *lockup.items)]
    over = sum(one.intersection(other).area > 0 for n, one in enumerate(shapes) for other in shapes[n + 1 :])
    assert sum(finding.rule == "one place, one piece" for finding in judge(lockup, BARE)) == over


@given(scattered())
def test_anything_at_all_is_judged_in_plain_words(lockup):
    findings = judge(lockup, BARE)
    assert {finding.rule for finding in findings} <= set(rule_names())
    assert all(finding.severity == ("caution" if finding.rule in CAUTIONS else "fault") for finding in findings)
    for finding in findings:
        assert finding.source
        assert finding.why.endswith(".")
        assert finding.cure.endswith(".")
        assert not COMPUTED_LIMITS.search(" ".join((finding.where, finding.why, finding.cure, finding.source)))


@pytest.mark.parametrize(("tolerance", "found"), [(None, False), (3.0, False), (1.0, True)])
def test_a_given_tolerance_counts_over_the_lockups_own(sound, small_shop, tolerance, found):
    lockup = replace(sound, intent=replace(sound.intent, x=sound.form.x - 2.0))
    assert bool(judge(lockup, small_shop, tolerance=tolerance)) == found


def hollow_behind(lockup: Lockup, reglet: float, end: float) -> Lockup:
    """Return the lockup with the wood behind its top quoin's reglet in two, the first as far as ``end``."""
    thickness = 30 - reglet
    lockup = changed(lockup, "top", 1, thickness=thickness, length=end - 3)
    lockup = changed(lockup, "top", 2, thickness=reglet, near=thickness)
    return plus(lockup, "top", 1, "furniture", thickness=thickness, length=47, low=97, near=0)


@pytest.mark.parametrize(("reglet", "found"), [(6.0, True), (12.0, True), (12.04, True), (12.06, False), (18.0, False)])
def test_how_thick_a_reglet_must_be_to_bridge_a_hollow(sound, small_shop, reglet, found):
    lockup = hollow_behind(sound, reglet, 53)
    assert ("no reglet over a hollow" in rules_found(lockup, small_shop)) == found


@pytest.mark.parametrize(("end", "found"), [(90, False), (72, False), (71.9, True), (54, True)])
def test_how_much_of_a_quoin_may_lie_over_a_hollow(sound, small_shop, end, found):
    # The quoin lies from 54 to 90 points along the form: half of it may have nothing behind its reglet.
    lockup = hollow_behind(sound, 6.0, end)
    assert ("no reglet over a hollow" in rules_found(lockup, small_shop)) == found


@pytest.mark.parametrize(("thick", "found"), [(1.0, True), (1.5, False), (1.75, True), (2.0, False), (2.004, False)])
def test_which_leads_can_be_cut(sound, small_shop, thick, found):
    lockup = changed(sound, "top", 1, thickness=24 - thick, near=thick)
    lockup = plus(lockup, "top", 1, "lead", thickness=thick, length=144, low=3, near=0)
    shop = replace(owns(lockup, small_shop), leads=(1.5, 2.0))
    assert ("what the cabinet holds" in {finding.rule for finding in judge(lockup, shop)}) == found


def test_a_long_row_may_press_anywhere_in_the_middle_third_through_layers_of_two(sound):
    # Two layers of two sticks each, and a quoin from 24 to 120 points along a form of 144: its third is from 48 to 96.
    lockup = with_items(
        sound, (replace(i, order=i.order + (i.side == "top")) for i in sound.items if i != sound.items[3])
    )
    for order, joint in ((1, 72), (2, 60)):
        for low, high in ((0, joint), (joint, 144)):
            near = 12 * (order - 1)
            lockup = plus(lockup, "top", order, "furniture", thickness=12, length=high - low, low=low, near=near)
    lockup = changed(lockup, "top", 4, length=96, low=24)
    found = balance(lockup, "top")
    assert found.holds and found.push == pytest.approx((48 - SLACK, 96 + SLACK))


def test_every_side_that_reaches_beyond_the_press_is_named(sound, small_shop):
    shop = replace(small_shop, presses=(Press("hand press", ("small",), usable=(130.0, 90.0)),))
    found = [f for f in judge(replace(sound, job=Job(press="hand press")), shop) if "prints" in f.rule]
    form, chase = sound.form, sound.chase
    beyond = {
        "left": chase.width / 2 - 65 - form.x,
        "right": form.x + form.width - chase.width / 2 - 65,
        "bottom": chase.height / 2 - 45 - form.y,
        "top": form.y + form.height - chase.height / 2 - 45,
    }
    assert {f.where: f.why for f in found} == {
        f"{side} of the form": f"It reaches {write_length(by)} beyond what the hand press prints."
        for side, by in beyond.items()
    }
    assert min(beyond.values()) > 0
