"""The questions of lesson 7: unlocking, storing, every stick in its place, and what damp does to wood."""

from __future__ import annotations

from stonework.exercises.numbers import Numbers
from stonework.exercises.question import Choice, Count, Length, Misreading, Variant, of_lesson
from stonework.pressing import WOODS, moisture_growth
from stonework.putting_away import cabinet_places
from stonework.shop import Shop
from stonework.units import PICA, write_length

LESSON, VERSION = "07-unlock-store-put-away", 3

_UNLOCKING = (
    Misreading(
        "each quoin all the way, one after the other",
        "While one is slack the others still hold: the type is forced to one side, and lines are pushed out of their "
        "place.",
        "slackened each all the way",
    ),
    Misreading(
        "the top all the way, then the sides",
        "That is the order of tightening, and too much at once. In unlocking the sides come first, and no quoin goes "
        "slack while others hold.",
        "began at the top",
    ),
    Misreading(
        "knock out the wood first; then the quoins are loose by themselves",
        "Wood under load flies, and so does type. The quoins go first, with their key, a little at a time.",
        "knocked the wood out first",
    ),
)


def _how_to_unlock(numbers: Numbers, shop: Shop) -> Variant:
    quoins, pulls = numbers.whole(2, 4), 50 * numbers.whole(2, 20)
    right = "a little at the sides, a little at the top, and round again until all are finger-tight"
    return Variant(
        task=f"The {pulls} sheets are printed. The form lies on the stone again, locked at the top and the right, with "
        f"{quoins} quoins on each of the two. How do you unlock it?",
        reader=Choice(numbers.shuffled((right, *(road.answer for road in _UNLOCKING)))),
        right=right,
        why="What was tightened in turn is loosened in turn: then nothing pushes the type aside.",
        hints=(
            "How did you tighten it? Now think of it backwards.",
            "What happens to the type if one side lets go while the other still pushes?",
        ),
        solution=f"{right.capitalize()}. Sides before top and bottom, the other way about from tightening.",
        misreadings=_UNLOCKING,
        facts={"quoins": quoins},
    )


_STORING = (
    Misreading(
        "locked up in its chase, standing in a corner",
        "Wood shrinks as it dries, and lines may drop; it swells when it is damp, and the form rises. In a rack, for a "
        "day or two, it can be done. But the next job wants that chase.",
        "left it in its chase",
    ),
    Misreading(
        "on the stone, where it is, under a cloth",
        "The stone is for the next form. Type left there is knocked over, or mixed up with another.",
        "left it on the stone",
    ),
    Misreading(
        "taken apart at once, letter by letter, whatever it is",
        "What will be printed again is kept standing. But kept tied, on a galley, and named.",
        "took it apart at once",
    ),
)


def _how_to_store(numbers: Numbers, shop: Shop) -> Variant:
    weeks = numbers.whole(2, 9)
    what = numbers.one_of(("the tide table", "the ferry notice", "a bookplate", "the school's letterhead"))
    right = "unlocked: tied, slid onto a galley, with a slip that says what it is"
    return Variant(
        task=f"In {weeks} weeks {what} will be printed again. How do you keep the form till then?",
        reader=Choice(numbers.shuffled((right, *(road.answer for road in _STORING)))),
        right=right,
        why="Type that is tied and named can wait. Wood under a squeeze gives and swells, and the next job wants the "
        "chase.",
        hints=(
            "What does wood do in weeks of dry and damp weather?",
            "Who else needs the chase, the wood and the stone? And who will know what it is?",
        ),
        solution="Unlock it, tie it round, slide it onto a galley, and lay a slip with it: what, whose, and the date.",
        misreadings=_STORING,
        facts={"weeks": weeks},
    )


def _which_place(numbers: Numbers, shop: Shop) -> Variant | None:
    furniture = [place for place in cabinet_places(shop) if place.kind == "furniture"]
    if not furniture:
        return None
    place = numbers.one_of(furniture)
    thickness, length = place.material.thickness, place.material.length
    rows = sorted({one.material.thickness for one in furniture})
    roads = {
        place.place: (
            "That is its place in the row, which goes by length. The row goes by thickness.",
            "gave the place in the row",
        ),
        round(thickness / PICA): (
            "That is its thickness in picas. Rows are counted: not every thickness has one.",
            "gave its thickness in picas",
        ),
        place.row + 1: ("That is the row below. Count the thinnest as row 1.", "went one row too far"),
    }
    if place.row in roads or len(roads) < 3:
        return None
    return Variant(
        task="The furniture cabinet has a row for each thickness, the thinnest on top: "
        f"{', '.join(map(write_length, rows))}. In its rows the lengths stand from the shortest to the longest. On "
        f"the stone lies a stick {write_length(thickness)} thick and {write_length(length)} long. Into which row does "
        "it go, counted from the top?",
        reader=Count("Row, from the top"),
        right=str(place.row),
        why="A stick in the wrong place is a stick lost: the next hand reaches for its size and takes another.",
        hints=(
            "Rows go by thickness. Which of the two figures is the thickness?",
            "Count the rows from the top until you come to that thickness.",
        ),
        solution=f"{write_length(thickness)} is thickness number {place.row} of those listed: row {place.row}. In "
        f"it, the length of {write_length(length)} is place {place.place}.",
        misreadings=tuple(Misreading(str(count), *told) for count, told in roads.items()),
        facts={"thickness": thickness},
    )


def _how_much_it_grows(numbers: Numbers, shop: Shop) -> Variant:
    name = numbers.one_of(tuple(WOODS))
    picas, change = numbers.whole(8, 36), numbers.whole(2, 6)
    coefficient = max(WOODS[name])
    thickness = PICA * picas
    growth = moisture_growth(thickness, coefficient, 7, 7 + change)
    return Variant(
        task=f"{picas} picas of {name} lie in a gap. For each 1 % of moisture that it takes up, this wood gains at "
        f"most {coefficient} of its thickness. Damp weather comes, and in time it takes up {change} %. How much "
        "thicker does the stack become, at most? Write it to a tenth of a point.",
        reader=Length(tolerance=0.1),
        right=f"{growth:.3f} pt",
        why="A form locked on a dry day is tighter on a wet one, and looser the other way about. Thick wood takes "
        "longer than a week to follow the air: so this is the most it can come to. Before you print, try the lift "
        "again.",
        hints=(
            f"How many points thick is the stack? {picas} picas, times twelve.",
            f"Of that it gains {coefficient} for 1 %. It takes up {change} %.",
        ),
        solution=f"{picas} × 12 = {thickness:g} points; × {coefficient} × {change} = {growth:.2f} points.",
        misreadings=(
            Misreading(
                f"{growth / change:.4f} pt",
                f"That is for 1 %. It takes up {change} %.",
                "reckoned for one per cent",
            ),
            Misreading(
                f"{growth / PICA:.4f} pt",
                "That takes picas for points. Turn the stack into points first: a pica is twelve.",
                "took picas for points",
            ),
            Misreading(
                f"{growth / thickness:.4f} pt",
                "That is which part of its thickness it gains. Take that part of the whole stack.",
                "gave the share, not points",
            ),
            Misreading(
                f"{thickness + growth:.3f} pt",
                "That is how thick the stack has become. The question is how much it has gained.",
                "gave the whole thickness",
            ),
        ),
        facts={"thickness": thickness, "change": change},
    )


STORING = of_lesson(
    LESSON,
    VERSION,
    ("how-to-unlock", "Unlock it", _how_to_unlock),
    ("how-to-store", "Keep it", _how_to_store),
    ("which-place", "Which place?", _which_place),
    ("how-much-it-grows", "Dry and damp", _how_much_it_grows),
)
