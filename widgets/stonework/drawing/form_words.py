"""What a form measures, in sentences and tables: its depth added up, its squareness, its weight and a lockup's."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from stonework.drawing.page import part_words
from stonework.drawing.squareness import square_words
from stonework.form import Content, Cut, Edges, Form, Lines, Strip, ems_in_a_square_inch
from stonework.lockup import Lockup
from stonework.moving import Mending, chases_for
from stonework.readiness import still_to_do
from stonework.shop import Shop
from stonework.units import write_length, write_weight
from stonework.weighing import Load, weigh

_BOUND = (
    "Type counts as one block of type metal, so it is lighter than that: letters have hollows, and spaces and leads "
    "are low. A plain page may be lighter by about a quarter. Only metal with more lead in it could be heavier, by "
    "about a tenth at most. Leads are as heavy as type, so a leaded form counts in full."
)
_CARE = (
    "<p><strong>Care.</strong> Slide a chase rather than carry it. Lift with a straight back, and lift a large one "
    "with a friend. Your shop's rules and your instructor come first.</p>"
)


def page_sum(content: Content, shop: Shop) -> str:
    """Return a form's depth added up part by part, and how much text it holds, as HTML."""
    rows = "".join(
        f'<tr><th scope="row">{escape(part_words(part))}</th><td>{_worked_out(part)}</td><td>{part.depth:g}</td></tr>'
        for part in content.parts
    )
    total = f'<tr><th scope="row">together</th><td>{write_length(content.depth)}</td><td>{content.depth:g}</td></tr>'
    head = "".join(f'<th scope="col">{name}</th>' for name in ("From head to foot", "Worked out", "Points"))
    printing = [part for part in content.parts if isinstance(part, Lines) and part.prints]
    body = printing[0].body if printing else 0.0
    text = (
        f"<p>The lines hold {content.ems:.0f} ems of their own body, room for about {content.words} words at three ems "
        f"a word. Set solid, a square inch holds {ems_in_a_square_inch(body):.1f} ems of {body:g} pt.</p>"
        if printing
        else ""
    )
    form = Form(content.measure, content.depth)
    return (
        '<table class="stonework-table"><caption>How deep the form is</caption>'
        f"<thead><tr>{head}</tr></thead><tbody>{rows}{total}</tbody></table>{text}<p>The form weighs at most "
        f"about {write_weight(form.solid_metal)}. {escape(_chases(form, shop))}</p>"
    )


def _worked_out(part: Lines | Strip | Cut) -> str:
    if not isinstance(part, Lines) or part.number == 1:
        return ""
    lines = f"{part.number} × {part.body:g}"
    return f"{lines} + {part.number - 1} × {part.lead:g}" if part.lead else lines


def square_outcome(edges: Edges, mendings: Sequence[Mending]) -> str:
    """Say whether a form is square, and if not, where to look."""
    if not mendings:
        return "Opposite edges agree to within half a point: this form is square."
    return " ".join(f"The {m.edge} is {write_length(m.short)} short: {_where(m)}." for m in mendings)


def _where(mending: Mending) -> str:
    """Say where to look for what an edge lacks, and how thick that is."""
    if mending.leads:
        look, have = f"look along the {mending.edge} edge for a lead that slipped or doesn't reach it", "leads"
    else:
        look, have = f"the lines at the {mending.edge} are loose, and want justifying again", "spaces"
    if not mending.pieces:
        return f"{look}; this shop's {have} don't come to that, so dirt or a slip is likelier"
    return f"{look}; what is missing is as thick as {' + '.join(f'{piece:g}' for piece in mending.pieces)} pt"


def square_facts(edges: Edges, mendings: Sequence[Mending], shop: Shop) -> str:
    """Return how square a form is, the size that the lockup goes by, and the chases that take it, as HTML."""
    form = Form.from_edges(edges)
    told = [square_words(edges)]
    if mendings:
        told.append(
            "An edge may also seem short because the other is too long: dirt lies between the lines there, type "
            "leans, or a line is too full. What the form was set to, its measure and the sum of its parts, says which. "
            "Put that right, and fill in nothing: pieces of lead at one edge alone leave the lines beside them to lean."
        )
    told.append(
        f"The lockup goes by the longer of each two: {write_length(form.width)} wide and {write_length(form.height)} "
        "high. The furniture is straight and meets the longer edge first."
    )
    told.append(_chases(form, shop))
    return "".join(f"<p>{escape(words)}</p>" for words in told)


def _chases(form: Form, shop: Shop) -> str:
    chases = chases_for(form, shop)
    if not chases:
        return (
            "No chase of this shop takes so large a form, which must be smaller than the chase's inside: look again "
            "at the figures and units, or divide the form."
        )
    return f"The smallest chase larger than it is {chases[0].name}; wood and quoins want room besides."


def weight_facts(form: Form, shop: Shop) -> str:
    """Return how a form's weight was worked out, how far it may be off, what books say, and the cautions, as HTML."""
    area = f"{form.square_inches:.1f} square inches"
    told = (
        f"{area} of solid type metal, as high as type: {write_weight(form.solid_metal)}. {_BOUND}",
        f"Books have another figure: {area} ÷ 4, in pounds, is {write_weight(form.type_to_order)}. It says how much "
        "type to order for a plain page, not how much a form can weigh: don't lift by it.",
        "Chase, furniture and quoins come on top, and an iron chase alone may weigh as much as a small form.",
        _chases(form, shop),
    )
    return "".join(f"<p>{escape(words)}</p>" for words in told) + _CARE


def lockup_weight_words(lockup: Lockup, shop: Shop) -> str:
    """Say in a sentence or two what a whole lockup weighs at most, and what must be added, if anything must."""
    load = weigh(lockup, shop)
    more = " Wood and quoins that aren't laid yet come on top." if still_to_do(lockup) else ""
    parts = ", ".join(f"{name} {_in_pounds(pounds)}" for name, pounds in _parts(load))
    if load.chase is None:
        return (
            f"At most about {write_weight(load.total)} without its chase: {parts}. Weigh the empty chase and add it, "
            f"for the shop file doesn't say what it weighs.{more}"
        )
    return f"At most about {write_weight(load.total)} to lift: {parts}.{more}"


def _parts(load: Load) -> list[tuple[str, float]]:
    """Return the parts of a load that weigh anything, by name."""
    parts = {
        "type": load.type_metal,
        "metal round it": load.metal,
        "wood": load.wood,
        "quoins": load.quoins,
        "chase": load.chase or 0.0,
    }
    return [(name, pounds) for name, pounds in parts.items() if pounds]


def _in_pounds(pounds: float) -> str:
    """Return pounds alone, to a tenth; what is less is told as less."""
    return f"{round(pounds, 1):g} lb" if pounds >= 0.1 else "under 0.1 lb"


def load_facts(lockup: Lockup, shop: Shop) -> str:
    """Return what each part of a lockup weighs at most, how that was worked out, and the cautions, as HTML."""
    load = weigh(lockup, shop)
    rows = "".join(
        f'<tr><th scope="row">{escape(name)}</th><td>{write_weight(pounds)}</td></tr>' for name, pounds in _parts(load)
    )
    chase = (
        "The chase is not in the sum: the shop file doesn't say what it weighs. Weigh it empty, and add it."
        if load.chase is None
        else "The chase weighs what the shop file says: what it weighed empty."
    )
    told = (
        _BOUND,
        "Wood counts as maple 5/8 inch high, and quoins as solid steel of that height; both are likely to be lighter.",
        chase,
    )
    return (
        '<table class="stonework-table"><caption>At most, part by part</caption><thead><tr><th scope="col">Part</th>'
        f'<th scope="col">Weight</th></tr></thead><tbody>{rows}<tr><th scope="row">together</th>'
        f"<td>{write_weight(load.total)}</td></tr></tbody></table>"
        f"{''.join(f'<p>{escape(words)}</p>' for words in told)}{_CARE}"
    )
