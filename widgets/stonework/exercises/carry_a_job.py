"""The questions of lesson 8: two forms abreast, building up a small form, and what comes next."""

from __future__ import annotations

from stonework.drawing.words import in_points
from stonework.exercises.numbers import Numbers
from stonework.exercises.question import Choice, Length, Misreading, Variant, of_lesson
from stonework.lockup import CLEAR
from stonework.shop import Shop
from stonework.units import PICA, write_length

LESSON, VERSION = "08-from-ticket-to-press", 2


def _two_abreast(numbers: Numbers, shop: Shop) -> Variant | None:
    form, left, right = (PICA * numbers.whole(low, high) for low, high in ((12, 24), (2, 6), (2, 6)))
    what = numbers.one_of(("ferry tickets", "labels for the net store", "cards for the library", "tide cards"))
    if left == right:
        return None
    card, gutter = left + form + right, left + right
    return Variant(
        task=f"Two {what} are printed side by side and cut apart. Each card is {write_length(card)} wide, its type "
        f"{write_length(form)}; on the card the left margin is {write_length(left)} and the right "
        f"{write_length(right)}. How wide is the gutter between the two forms?",
        reader=Length(),
        right=write_length(gutter),
        why="In the gutter lie the margin of the one card and that of the other, and the knife goes between them.",
        hints=(
            "Draw the two cards side by side as they are read, and the cut between them.",
            "What lies between the type of the first and the cut? And between the cut and the type of the second?",
        ),
        solution=f"The right margin of one card, {write_length(right)}, and the left margin of the next, "
        f"{write_length(left)}: {write_length(gutter)}.",
        misreadings=(
            Misreading(
                write_length(left),
                "That is one card's margin. The other card's lies in the gutter too.",
                "gave the left margin alone",
            ),
            Misreading(
                write_length(right),
                "That is one margin only. Two cards meet at the cut, each with its own.",
                "gave the right margin alone",
            ),
            Misreading(
                write_length(2 * left),
                "That counts the left margin twice. At the cut a right one meets a left one.",
                "counted the left margin twice",
            ),
            Misreading(
                write_length(2 * right),
                "That counts the right margin twice. At the cut a right one meets a left one.",
                "counted the right margin twice",
            ),
            Misreading(
                write_length(card),
                "That is from the front of one form to the front of the next, type and all.",
                "measured from front to front",
            ),
        ),
        facts={"width": 2 * card},
    )


def _how_much_to_build_up(numbers: Numbers, shop: Shop) -> Variant | None:
    quoin = numbers.one_of(shop.quoins)
    lines, body = numbers.whole(1, 2), numbers.one_of(shop.bodies).size
    depth = lines * body
    least = quoin.length + 2 * CLEAR
    lacking = least - depth
    if lacking < 2 * PICA:
        return None
    what = (
        f"A line of {in_points(body)}"
        if lines == 1
        else f"Two lines of {in_points(body)}, together {in_points(depth)},"
    )
    return Variant(
        task=f"{what} is to be locked up with the {quoin.name}, "
        f"which is {write_length(quoin.length)} long. A side must be as long as the quoin, and {CLEAR:g} points "
        "more at each of its ends. You build up alike at the head and at the foot. How much must go in at the head, at "
        "the least?",
        reader=Length(tolerance=0.3),
        right=in_points(lacking / 2),
        why="A quoin that is longer than the side it presses hangs over its ends, and tilts. Build up first, then "
        "press.",
        hints=(
            "How long must the side be, at the least? The quoin, and room at both of its ends.",
            "Of that, the type makes up a part. The rest is shared between head and foot.",
        ),
        solution=f"{quoin.length:g} + 2 × {CLEAR:g} = {least:g} points are wanted; {depth:g} are there. {lacking:g} "
        f"are lacking, half of them at the head: {lacking / 2:g} points.",
        misreadings=(
            Misreading(
                in_points(lacking),
                "That is all that is lacking. Half of it goes in at the foot.",
                "gave both ends together",
            ),
            Misreading(
                in_points((quoin.length - depth) / 2),
                "That makes the side just as long as the quoin. It needs a little room at both ends as well.",
                "left no room beside the quoin",
            ),
            Misreading(
                in_points(least / 2),
                "That is half of the whole block. The type makes up a part of it: take that off before you halve.",
                "halved the whole block",
            ),
            Misreading(
                in_points((quoin.length + CLEAR - depth) / 2),
                f"That leaves room at one end of the quoin only. It needs {CLEAR:g} points at each.",
                "left room at one end only",
            ),
            Misreading(
                in_points(least),
                "That is how deep the whole block must be. The type makes up a part of it.",
                "gave the whole block",
            ),
        ),
        facts={"body": body},
    )


_CHAIN = (
    ("add up the copy, and set and measure the form", "", ""),
    (
        "place the form: paper, margins, guides",
        "Without its size you can't say where it stands.",
        "placed it before measuring",
    ),
    (
        "fill the two solid sides",
        "Without its place you don't know how wide the gaps are.",
        "filled sides before placing",
    ),
    (
        "lay wood and reglet on the other two, and slip the quoins in",
        "Quoins push against a solid corner. It must be there before they are.",
        "laid quoins before the solid sides",
    ),
    (
        "make the quoins finger-tight, and plane",
        "There is nothing yet that would hold the type while it's planed.",
        "planed before the quoins were in",
    ),
    (
        "tighten, a small turn to each quoin in turn",
        "A form that isn't flat and finger-tight all round is cocked by the first turn of the key.",
        "tightened before planing",
    ),
    (
        "prop up an edge and try the lift",
        "What isn't tightened yet drops at once, and tells you nothing.",
        "tried the lift before tightening",
    ),
    (
        "carry it to the press",
        "Not before you have tried. What drops on the way is hours of work, and lies on your foot.",
        "carried it off before the lift",
    ),
)


def _what_comes_next(numbers: Numbers, shop: Shop) -> Variant | None:
    now = numbers.whole(0, len(_CHAIN) - 3)
    right = _CHAIN[now + 1][0]
    later = numbers.shuffled(_CHAIN[now + 2 :])[:2]
    roads = [Misreading(*step) for step in later]
    if now:
        before = _CHAIN[numbers.whole(0, now - 1)][0]
        roads.append(
            Misreading(before, "That comes earlier: what you have just done rests on it.", "went back to what's done")
        )
    if len(roads) < 2:
        return None
    done = _CHAIN[now][0]
    job = numbers.one_of(("tide card", "ferry notice", "bookplate", "letterhead"))
    return Variant(
        task=f"With the {job} you have just come to the end of this: {done}. What comes next?",
        reader=Choice(numbers.shuffled((right, *(road.answer for road in roads)))),
        right=right,
        why="Each step rests on the one before. Skip one, and you do two of them again.",
        hints=(
            "What do you have in your hands or on the stone now, and what can be done with just that?",
            "Which of the steps offered needs nothing that you haven't got yet?",
        ),
        solution=f"After “{done}”: {right}.",
        misreadings=tuple(roads),
        facts={"step": now + 1},
    )


CARRYING = of_lesson(
    LESSON,
    VERSION,
    ("two-abreast", "Two abreast", _two_abreast),
    ("how-much-to-build-up", "How much to build up?", _how_much_to_build_up),
    ("what-comes-next", "What comes next?", _what_comes_next),
)
