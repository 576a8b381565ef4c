"""What a form measures, in sentences and tables: its depth added up, its squareness, its weight."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from stonework.drawing.page import part_words
from stonework.drawing.squareness import square_words
from stonework.form import LEADED, Content, Cut, Edges, Form, Lines, Strip, ems_in_a_square_inch
from stonework.shop import Shop
from stonework.squaring import Mending, chases_for
from stonework.units import write_length, write_weight


def page_sum(content: Content, shop: Shop) -> str:
    """Return a form's depth added up part by part, and how much text it holds, as HTML."""
    rows = "".join(
        f'<tr><th scope="row">{escape(part_words(part))}</th><td>{_reckoned(part)}</td><td>{part.depth:g}</td></tr>'
        for part in content.parts
    )
    total = f'<tr><th scope="row">together</th><td>{write_length(content.depth)}</td><td>{content.depth:g}</td></tr>'
    head = "".join(f'<th scope="col">{name}</th>' for name in ("From head to foot", "Reckoned", "Points"))
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
        f"<thead><tr>{head}</tr></thead><tbody>{rows}{total}</tbody></table>{text}<p>The type weighs about "
        f"{write_weight(form.weight(leaded=content.leaded))}. {escape(_chases(form, shop))}</p>"
    )


def _reckoned(part: Lines | Strip | Cut) -> str:
    if not isinstance(part, Lines) or part.number == 1:
        return ""
    lines = f"{part.number} × {part.body:g}"
    return f"{lines} + {part.number - 1} × {part.lead:g}" if part.lead else lines


def square_outcome(edges: Edges, mendings: Sequence[Mending]) -> str:
    """Say whether a form is square, and if not, what it wants."""
    if not mendings:
        return "Opposite edges agree to within half a point: this form is square."
    return " ".join(f"The {m.edge} is {write_length(m.short)} short: {_wanted(m)}." for m in mendings)


def _wanted(mending: Mending) -> str:
    what = "leads or slugs between the lines there" if mending.leads else "spaces or thins in the lines there"
    if not mending.pieces:
        have = "leads" if mending.leads else "spaces"
        return f"this shop's {have} don't make that up, so look for dirt or a slip"
    return f"{what}, {' + '.join(f'{piece:g}' for piece in mending.pieces)} pt"


def square_facts(edges: Edges, mendings: Sequence[Mending], shop: Shop) -> str:
    """Return how square a form is, the size that the lockup goes by, and the chases that take it, as HTML."""
    form = Form.from_edges(edges)
    told = [square_words(edges)]
    if mendings:
        told.append(
            "Look first whether a lead has slipped, type stands off its feet, or dirt lies between: then put that "
            "right and fill in nothing."
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


def weight_facts(form: Form, *, leaded: bool, shop: Shop) -> str:
    """Return how a form's weight was reckoned, what it can't exceed, and the cautions, as HTML."""
    area = f"{form.square_inches:.1f} square inches"
    off = f", less a quarter for the leads ({LEADED:g} of it)" if leaded else ""
    weight = write_weight(form.weight(leaded=leaded))
    share = form.weight(leaded=leaded) / form.solid_metal
    told = (
        f"The trade's rule: {area} ÷ 4, in pounds{off}: {weight}.",
        f"A solid block of type metal as large and as high would weigh {write_weight(form.solid_metal)}: no form of "
        f"this size can weigh more. Type has hollows and low spaces; by the rule it comes to {share:.0%} of the block.",
        "Chase, furniture and quoins come on top, and an iron chase alone may weigh as much as a small form.",
        _chases(form, shop),
    )
    care = (
        "<strong>Care.</strong> Slide a chase rather than carry it. Lift with a straight back, and lift a large one "
        "with a friend. Your shop's rules and your instructor come first."
    )
    return "".join(f"<p>{escape(words)}</p>" for words in told) + f"<p>{care}</p>"
