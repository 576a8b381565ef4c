"""The questions of lesson 6: filling a short line, whose fault it is, a line too long, and a form that rises."""

from __future__ import annotations

import re
from dataclasses import dataclass

from stonework.exercises.numbers import Numbers
from stonework.exercises.question import Choice, Misreading, Variant, of_lesson
from stonework.lockup import SLACK
from stonework.saying import shown
from stonework.shop import Shop
from stonework.spacing import make_width
from stonework.units import read_length, write_length

LESSON, VERSION = "06-lift-and-loose-lines", 2


@dataclass(frozen=True, slots=True)
class Pieces:
    """Pieces that go into a line, such as ``3 + 1``; a bare number is points."""

    label: str = "Pieces in points, joined by +"

    def read(self, text: str) -> tuple[float, ...]:
        """Return the widths in points."""
        parts = [part.strip() for part in re.split(r"\+|;", text)]
        if not all(parts):
            raise ValueError(f"“{shown(text)}” has a + with nothing beside it; write pieces like 3 + 1/2.")
        bare = re.compile(r"[\d.,/½ ]+")
        return tuple(read_length(f"{part} pt" if bare.fullmatch(part) else part) for part in parts)

    def alike(self, one: tuple[float, ...], other: tuple[float, ...]) -> bool:
        """Say whether they come to the same."""
        return abs(sum(one) - sum(other)) <= SLACK

    def say(self, value: tuple[float, ...]) -> str:
        """Return the pieces and what they come to."""
        each = " + ".join(f"{width:g}" for width in value)
        return f"{each} pt" if len(value) == 1 else f"{each}, together {write_length(sum(value))}"


def _mend_a_line(numbers: Numbers, shop: Shop) -> Variant | None:
    bodies = [body for body in shop.bodies if body.size >= 8]
    if not bodies or not shop.thins:
        return None
    body = numbers.one_of(bodies)
    offered = sorted({*(space for space in body.spaces if space < body.size), *shop.thins})
    short = numbers.whole(3, 2 * int(body.size) - 2) / 2
    try:
        right = make_width(short, offered)
    except ValueError:
        return None
    if len(right) < 2:
        return None

    def sound(pieces: tuple[float, ...]) -> str:
        for width in pieces:
            if not any(abs(width - one) <= SLACK for one in offered):
                return f"There is no piece of {width:g} points here."
        over = sum(pieces) - short
        if over > SLACK:
            return (
                f"That is {write_length(over)} too much: the line would be too long, and keep the push from its "
                "neighbours."
            )
        if over < -SLACK:
            then = "it drops" if over < -0.5 - SLACK else "it may hold today, and drop at the hundredth pull"
            return f"That leaves {write_length(-over)}: {then}."
        return ""

    def remark(pieces: tuple[float, ...]) -> str:
        if len(pieces) <= len(right):
            return ""
        return f"It can be done with {len(right)}: a thick piece is firmer than several thin ones."

    written = " + ".join(f"{width:g}" for width in right)
    return Variant(
        task=f"A line of {body.size:g}-point type drops: it is {short:g} points short. All quoins are slack now. In "
        f"the case are spaces and thins of {', '.join(f'{width:g}' for width in offered)} points. Which do you put in?",
        reader=Pieces(),
        right=written,
        why="A line holds only if it is as full as its neighbours; and it is filled between the words, never at its "
        "end.",
        hints=(
            "Begin with the thickest piece that goes in. What is left then?",
            "The thins are for the last half point: copper is half a point thick, brass a whole one.",
        ),
        solution=f"{written} = {short:g} points, {len(right)} pieces. Put them between the words that stand closest.",
        misreadings=(
            Misreading(
                f"{right[0]:g}",
                f"That leaves {write_length(short - right[0])}: one piece alone doesn't fill the line.",
                "put in one piece only",
            ),
            Misreading(
                " + ".join(f"{width:g}" for width in (*right, shop.thins[0])),
                f"That is {shop.thins[0]:g} point too much. A line too long takes the squeeze from all the others.",
                "put in one thin too many",
            ),
        ),
        sound=sound,
        remark=remark,
        facts={"body": body.size},
    )


_SETTER, _LOCKER = "the one who set the type", "the one who locked it up"
_CAUSES = {
    "two lines drop, and they are shorter than the others by a thin space": (
        _SETTER,
        "Every line is justified in the composing stick, and tried there. The best lockup can't hold a short line.",
    ),
    "the lines beside a lead drop; the lead is longer than the measure": (
        _SETTER,
        "Leads are the setter's, and belong cut a little under the measure. A long one takes the squeeze from the "
        "lines beside it.",
    ),
    "letters at the ends of lines drop; they ride on the end of a lead": (
        _SETTER,
        "Type that rides on a lead was set so. No quoin presses on what doesn't stand on its feet.",
    ),
    "a line drops; paper was stuffed between its words, and has dried and shrunk": (
        _SETTER,
        "Paper and card are a last resort, a few slips at most. A line is filled with metal, in the composing stick.",
    ),
    "the end of one side drops; the stick beside it is a pica too short": (
        _LOCKER,
        "What presses on the type is chosen by whoever locks up: wood a little longer than the side it bears on.",
    ),
    "everything drops; a side stick stands with its end against the head stick": (
        _LOCKER,
        "Furniture that binds is laid so by whoever locks up. The lines may be perfect.",
    ),
    "one corner drops; its quoin was never turned": (
        _LOCKER,
        "The quoins are in the hand that holds the key. The lines may be perfect.",
    ),
    "the form rises in the middle; the quoins were driven as far as they go": (
        _LOCKER,
        "Too much of the key, not too little type. Slacken it, and it lies down again.",
    ),
}


def _whose_fault(numbers: Numbers, shop: Shop) -> Variant:
    cause = numbers.one_of(tuple(_CAUSES))
    right, reason = _CAUSES[cause]
    neither = "nobody: type settles by itself"
    wrong = _LOCKER if right == _SETTER else _SETTER
    return Variant(
        task=f"At the trial lift you see this: {cause}. Who has to put it right?",
        reader=Choice((_SETTER, _LOCKER, neither)),
        right=right,
        why=reason,
        hints=(
            "Was it made in the composing stick, or with wood and key?",
            "Lines, spaces and leads are set. Furniture and quoins are laid and turned.",
        ),
        solution=f"{right.capitalize()}. {reason}",
        misreadings=(
            Misreading(
                wrong,
                f"{reason} Lines and leads are made in the composing stick, the lockup on the stone.",
                "sent it to the wrong hand",
            ),
            Misreading(
                neither,
                "Type doesn't drop without a cause. Find it before the form goes to the press, or it falls there.",
                "thought type drops by itself",
            ),
        ),
        facts={"number": list(_CAUSES).index(cause) + 1},
    )


def _too_long(numbers: Numbers, shop: Shop) -> Variant:
    line, lines = numbers.whole(2, 9), numbers.whole(10, 14)
    over = numbers.one_of((1.0, 1.5, 2.0))
    first = f"to line {line} first; the others get what is left"
    alike = "to all lines alike: that is what sticks are for"
    rest = f"to the others first; line {line} gets what is left"
    return Variant(
        task=f"Of {lines} lines one, line {line}, is longer than all the others by {over:g} pt. You begin to tighten "
        "the quoins at the side. Where does the push go?",
        reader=Choice(numbers.shuffled((first, alike, rest))),
        right=first,
        why="The side stick is stiff and straight. What is longest takes the push, and what is shortest is the first "
        "to drop.",
        hints=(
            "The stick at the side is straight. Which line does it meet first?",
            "While it rests on that one line, how near has it come to the others?",
        ),
        solution=f"Line {line} holds the stick {over:g} pt off the others, until it is squeezed by as much. So it is "
        "pressed too hard, and the others too little, or not at all.",
        misreadings=(
            Misreading(
                alike,
                "So it would be if all were equally long. A straight stick meets the longest first.",
                "thought all lines share alike",
            ),
            Misreading(
                rest,
                "It stands out, so it is met first, not last.",
                "thought the long line comes last",
            ),
        ),
        facts={"lines": lines, "over": over},
    )


_RISES = (
    Misreading(
        "plane it down hard while it is locked",
        "Locked tight, type can't go down; the planer breaks its face. Slacken first.",
        "planed it while locked",
    ),
    Misreading(
        "turn every quoin a little tighter",
        "It has risen because it is too tight. More pushes it higher, and the chase bows.",
        "tightened it further",
    ),
    Misreading(
        "print it: the press pushes it flat",
        "The press pushes it flat at every pull and lets it spring back: letters work up and print black, and the "
        "chase may break.",
        "trusted the press to flatten it",
    ),
)


def _it_rises(numbers: Numbers, shop: Shop) -> Variant:
    quoins = numbers.whole(2, 6)
    corner = numbers.one_of(("left", "right"))
    right = "slacken all quoins, let it lie flat, plane lightly, tighten again, less"
    return Variant(
        task=f"The form is locked with {quoins} quoins. You press its {corner} corner at the head, and it rocks: the "
        "middle has risen off the stone. What do you do?",
        reader=Choice(numbers.shuffled((right, *(road.answer for road in _RISES)))),
        right=right,
        why="Wood is lower than type and pushes below its middle. Too much push, and the feet close and the heads "
        "part.",
        hints=(
            "Why did it rise: too much push, or too little?",
            "Before the form can lie down, the push must go. Then it is made flat, and only then tightened.",
        ),
        solution="Slacken every quoin, plane lightly, tighten again in small turns, and stop as soon as nothing drops.",
        misreadings=_RISES,
        facts={"quoins": quoins},
    )


LIFTING = of_lesson(
    LESSON,
    VERSION,
    ("mend-a-line", "Mend a line", _mend_a_line),
    ("whose-fault", "Whose fault?", _whose_fault),
    ("a-line-too-long", "A line too long", _too_long),
    ("it-rises", "It rises", _it_rises),
)
