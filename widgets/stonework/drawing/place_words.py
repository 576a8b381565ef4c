"""A form's place in words: where it stands, what the guides do, the margins; and how a form is moved."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from stonework.drawing.mirror import guides_words
from stonework.form import ROUNDING
from stonework.lockup import SIDES, Lockup, Side, opposite
from stonework.moving import Moved, Strip
from stonework.placing import LEAST_BITE, Edge, Place, edge_over, gripped
from stonework.shop import Placing
from stonework.units import write_length


def place_words(place: Place, custom: Placing) -> str:
    """Say which margins there will be and where the form stands; warn if a gripper would come down on type."""
    margins = ", ".join(f"{name} {_written(margin)}" for name, margin in place.margins._asdict().items())
    told = (
        f"Margins: {margins}. The form stands {_written(place.form.x)} from the left of the chase and "
        f"{_written(place.form.y)} from its bottom."
    )
    under = gripped(place, custom)
    if under:
        edges = " and ".join(under)
        told += (
            f" Look again: at the sheet's {edges} a gripper covers {_written(custom.bite)} and would come down on "
            "type. Slide the gripper out of the way before anything moves, or leave more white there."
        )
    return told


def place_facts(place: Place, custom: Placing, *, stays: bool) -> str:
    """Return everything about a place as HTML; ``stays`` if the guides stay as another lockup has them."""
    chase, form, paper = place.chase, place.form, place.sheet
    off = (form.x - (chase.width - form.width) / 2, form.y - (chase.height - form.height) / 2)
    rows = (
        *(
            (f"{name.capitalize()} margin, as read", _written(margin))
            for name, margin in place.margins._asdict().items()
        ),
        ("Form, from the left of the chase", _written(form.x)),
        ("Form, from the foot of the chase", _written(form.y)),
        ("Off the middle, across", _off(off[0], "to the right", "to the left")),
        ("Off the middle, up and down", _off(off[1], "toward the head", "toward the foot")),
        ("How far off the wood may set it, each way", _written(place.tolerance)),
    )
    cells = "".join(f'<tr><th scope="row">{escape(name)}</th><td>{escape(value)}</td></tr>' for name, value in rows)
    over = [
        side
        for side, by in (
            ("left", -paper.x),
            ("right", paper.x + paper.width - chase.width),
            ("bottom", -paper.y),
            ("top", paper.y + paper.height - chase.height),
        )
        if by > 0.05
    ]
    notes = [
        guides_words(custom, place.head),
        f"So the {' and '.join(custom.guides)} of the lockup are its solid sides. The quoins press the form toward "
        "the guides, and the wood there gives only a little: a point or so, by this workbook's model.",
        "The guides stay where they are; the form goes where this sheet wants it."
        if stays
        else "The form stands where this shop's file has it; the guides are set to suit.",
    ]
    if custom.grippers and 0 < custom.bite < LEAST_BITE - ROUNDING:
        notes.append(
            f"By the shop's file the grippers hold {_written(custom.bite)} of the paper. Where grippers pull the sheet "
            "along, half an inch is the least: look at your press."
        )
    if over:
        notes.append(f"The paper reaches over the iron at the {' and '.join(over)}; see that your press carries it.")
    return (
        f'<table class="stonework-table"><caption>The place</caption><thead><tr><th scope="col">What</th>'
        f'<th scope="col">How much</th></tr></thead><tbody>{cells}</tbody></table>'
        + "".join(f"<p>{escape(note)}</p>" for note in notes)
    )


def _written(points: float) -> str:
    """Write a length that may be a hair below nothing."""
    return write_length(max(0.0, round(points, 1)))


def _off(points: float, more: str, less: str) -> str:
    """Write how far something stands off one way or the other."""
    by = round(points, 1)
    return f"{write_length(abs(by))} {more if by > 0 else less}" if by else "not at all"


WAYS: dict[str, Edge] = {
    "to the left": "left",
    "to the right": "right",
    "toward the head": "head",
    "toward the foot": "foot",
}
"""Ways to move what is printed, as the sheet is read, each with the edge that it moves to."""


def grows_for(way: str, head: Side = "top") -> Side:
    """Return the side of the form where there must be more wood, for what is printed to move that way.

    To the left on the sheet is to the right on the stone, away from more wood on the left. Head and foot stay as they
    are, wherever in the chase the head points.
    """
    return next(opposite(side) for side in SIDES if edge_over(side, head) == WAYS[way])


_ONTO: dict[Side, str] = {
    "left": "to the right",
    "right": "to the left",
    "bottom": "toward the top",
    "top": "toward the bottom",
}


def moved_words(moved: Moved, solid: Side, grows: Side, opening: float) -> str:
    """Say which way the form goes on the stone, what is exchanged for it, and how the quoins stand then.

    ``opening`` is how far they stood open before, in points.
    """
    card = f" {_card(moved.left_over, grows)}".rstrip()
    if not moved.handled and not card:
        return "The form stays where it is."
    told = [f"On the stone the form goes {_ONTO[grows]}."]
    sides = [
        (opposite(solid), moved.out_quoins, moved.in_quoins),
        (solid, moved.out_solid, moved.in_solid),
    ]
    # First what makes room, then what fills it.
    for side, out, into in sides if grows == solid else reversed(sides):
        taken = f"take out {_listed(out)}" if out else ""
        put = f"put in {_listed(into)}" if into else ""
        if taken or put:
            told.append(f"At the {side}, {' and '.join(filter(None, (taken, put)))}.")
    before, after = (write_length(round(max(0.0, points), 1)) for points in (opening, moved.opening))
    if before != after:
        told.append(f"The quoins at the {opposite(solid)} then stand open {after} when finger-tight, not {before}.")
    return f"{' '.join(told)}{card} Pieces handled: {moved.handled}."


def _card(points: float, grows: Side) -> str:
    """Say what paper or card is to make up, if that is something."""
    if points < 0.05:
        return ""
    return (
        f"{write_length(round(points, 2))} more, as you read it, is for paper or card: measure it, and put it in at "
        f"the {grows}."
    )


def strip_words(strips: Sequence[Strip]) -> str:
    """Say which strips turn a form until it prints straight, and where each goes."""
    told = "; ".join(
        f"at the {strip.side}, near its {strip.end} end, {write_length(round(strip.thickness, 2))}" for strip in strips
    )
    return (
        "First look for the cause: a chip under a stick, a line badly justified, the sheet not at its guides. If the "
        f"form itself stands crooked, slacken it and lay strips of lead, paper or card between form and wood: {told}."
    )


def stacks_words(lockup: Lockup, grows: Side, here: Sequence[float], there: Sequence[float]) -> str:
    """Say what lies on the two sides, the reglets at the quoins and all outside them left out, and what isn't asked."""
    form, chase = lockup.form, lockup.chase
    return (
        f"A form {write_length(form.width)} wide and {write_length(form.height)} high in the {chase.name} chase. At "
        f"the {grows} the wood is {_listed(here)} thick; at the {opposite(grows)} {_listed(there)}, not counting the "
        "reglets at the quoins. Lengths are only assumed to suit: the panel takes any free piece that is no shorter "
        "and no longer than those on these two sides. See for yourself that what you put in reaches as far as what "
        "you take out, and binds on nothing."
    )


def _listed(thicknesses: Sequence[float]) -> str:
    return " + ".join(map(write_length, thicknesses)) or "nothing"
