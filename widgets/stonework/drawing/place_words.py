"""A form's place in words: where it stands, what the guides do, the margins, and what lesson 3 asks for."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from stonework.drawing.mirror import guides_words
from stonework.drawing.words import in_picas
from stonework.exchanging import Exchange
from stonework.lockup import Lockup, Side, opposite
from stonework.placing import Place, gripped
from stonework.shop import Placing
from stonework.units import write_length


def place_words(place: Place, custom: Placing) -> str:
    """Say where the form stands, and warn if a gripper would come down on type."""
    told = (
        f"The form stands {_written(place.form.x)} from the left of the chase and {_written(place.form.y)} from its "
        "foot."
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
        ("Right of the middle, in points", _signed(off[0])),
        ("Above the middle, in points", _signed(off[1])),
        ("How far off the wood may set it", _written(place.tolerance)),
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
        guides_words(custom),
        f"So the {' and '.join(custom.guides)} of the lockup are its solid sides: whatever the quoins do, the form "
        "keeps its distance from the guides.",
        "The guides stay where they are; the form goes where this sheet wants it."
        if stays
        else "The form stands where this shop's file has it; the guides are set to suit.",
    ]
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


def _signed(points: float) -> str:
    return f"{round(points, 1) + 0.0:g}"


WAYS: dict[str, Side] = {
    "to the left": "left",
    "to the right": "right",
    "toward the head": "bottom",
    "toward the foot": "top",
}
"""Ways to move what is printed, as the sheet is read, each with the side of the form that must grow for it.

To the left on the sheet is to the right on the stone, away from more wood on the left. Head and foot don't change.
"""

_ONTO = {"left": "to the right", "right": "to the left", "bottom": "toward the head", "top": "toward the foot"}


def exchange_words(found: Exchange, grows: Side) -> str:
    """Say which way the form goes on the stone, and what is exchanged for it; sizes in picas."""
    if not found.handled:
        return "The form stays where it is."
    told = [f"On the stone the form goes {_ONTO[grows]}."]
    for side, out, in_ in (
        (opposite(grows), found.out_there, found.in_there),
        (grows, found.out_here, found.in_here),
    ):
        taken = f"take out {_picas(out)}" if out else ""
        put = f"put in {_picas(in_)}" if in_ else ""
        told.append(f"At the {side}, {' and '.join(filter(None, (taken, put)))}.")
    return f"{' '.join(told)} Pieces handled: {found.handled}."


def stacks_words(lockup: Lockup, grows: Side, here: Sequence[float], there: Sequence[float]) -> str:
    """Say what lies on the two sides, the reglets at the quoins and all outside them left out."""
    form, chase = lockup.form, lockup.chase
    return (
        f"A form {write_length(form.width)} wide and {write_length(form.height)} high in the {chase.name} chase. At "
        f"the {grows} lie {_picas(here)}; at the {opposite(grows)} {_picas(there)}, not counting the reglets at the "
        "quoins. Thicknesses in picas; the pieces put in are as long as those beside them."
    )


def _picas(thicknesses: Sequence[float]) -> str:
    return " + ".join(map(in_picas, thicknesses)) or "nothing"
