"""A plan of a class in sentences and tables: who has what, how sure that is, what is short, and what would help."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from html import escape
from typing import Any

from stonework.drawing.words import name_of_size, strip_name
from stonework.planning import Advice, Given, Plan, Thing
from stonework.shop import Material, Shop
from stonework.units import write_length

COUNTED = (
    "Counted are wood, metal and leads, in blocks too. Quoins aren't; but one that its side asks for and that is "
    "missing counts as a piece."
)
CARE = (
    "Metal holds lead: no food or drink at the stone, hands washed on leaving it. A form in its chase is heavy: slide "
    "it, and never lift alone what you can't hold with ease. Your shop's rules and a trained instructor come first."
)


def thing_name(thing: Thing) -> str:
    """Return what a thing is called."""
    if thing.kind in ("chase", "quoin"):
        return f"{thing.name} {thing.kind}"
    kind: Any = thing.kind
    return name_of_size(Material(kind, thing.thickness, thing.length))


def in_order(things: Iterable[Thing]) -> list[Thing]:
    """Return things with chases first, then quoins, then pieces."""
    return sorted(things, key=lambda thing: (thing.piece, thing.kind != "chase", thing))


def outcome(plan: Plan) -> str:
    """Say what a plan comes to, and how sure it is."""
    people, shifts = len(plan.given), plan.score.shifts
    if people == 1:
        words = "One student works alone."
    elif shifts == 1:
        words = "Both work at once." if people == 2 else f"All {people} work at once."
    else:
        sizes = Counter(one.shift for one in plan.given)
        words = f"{people} students in {shifts} shifts: {_and([str(sizes[n]) for n in range(shifts)])}."
    most = f"Nobody handles more than {plan.score.largest} pieces; together it is {plan.score.pieces}."
    return f"{words} {most} {sure(plan)}"


def sure(plan: Plan) -> str:
    """Say whether a plan is proved the best, or by how much it may be off."""
    score, bound = plan.score, plan.bound
    if plan.proved:
        return "It is proved: no plan is better."
    if score == bound:
        return "No better plan was found, but it isn't proved that a job needs its leads cut, or its worn wood."
    if bound.shifts < score.shifts:
        return f"It isn't proved the best: {_number(bound.shifts, 'shift')} may do."
    if bound.largest < score.largest:
        return f"It isn't proved the best: nobody may need more than {bound.largest}."
    off = (score.pieces - bound.pieces) / score.pieces
    return f"It isn't proved the best: {bound.pieces} pieces may do together, {100 * off:.1f} % fewer."


def time_words(plan: Plan, evening: float, shift: float) -> str:
    """Say how many shifts fit into an evening, and whether that is enough."""
    shifts, fit = plan.score.shifts, int(evening // shift)
    said = f"{evening:g} minutes have room for {_number(fit, 'shift')} of {shift:g}"
    if fit >= shifts:
        return f"{said}: that is enough."
    if fit == 0:
        return f"{said}: a shift doesn't fit at all."
    return f"{said}, and {shifts} are needed: that takes {math.ceil(shifts / fit)} evenings."


def advice_words(advice: Advice, plan: Plan) -> list[str]:
    """Say what would let all work at once, or in fewer shifts."""
    told = []
    borrow, change = advice.borrow, advice.change
    if borrow is not None:
        if borrow.borrowed:
            more = [f"{thing_name(thing)} ({borrow.borrowed[thing]})" for thing in in_order(borrow.borrowed)]
            told.append(f"All work at once if so many more are borrowed or bought: {_and(more)}. {_fewest(borrow)}")
        else:
            told.append("All can work at once with what there is.")
    if change is not None:
        made = changes_of(change)
        shifts = "All work at once" if change.score.shifts == 1 else f"It goes in {change.score.shifts} shifts"
        if made and change.score.shifts < plan.score.shifts:
            told.append(f"{shifts} with {_number(len(made), 'change')}: {'; '.join(made)}. {_fewest(change)}")
        elif change.bound.shifts >= plan.score.shifts:
            told.append("No turned form, other chase or cut lead makes the shifts fewer: that is proved.")
        else:
            told.append("No turned form, other chase or cut lead was found that makes the shifts fewer.")
    return told


def changes_of(plan: Plan) -> list[str]:
    """Return the changes that a plan makes: whose job, and what is changed in it."""
    return [f"{one.task.name} ({one.task.job}) {one.way.words}" for one in plan.given if one.way.change]


def ready_words(plan: Plan, shop: Shop) -> list[str]:
    """Say what to have ready besides what lies in the cabinet: strips to be cut, and keys that are shared."""
    listed = {(m.thickness, round(m.length, 2)) for m in shop.strips}
    cut: Counter[tuple[float, float]] = Counter(
        (lead.thickness, round(lead.length, 2)) for one in plan.given for lead in one.lockup.leads
    )
    strips = [
        f"{n} {strip_name(thickness)} × {write_length(length)}"
        for (thickness, length), n in sorted(cut.items())
        if (thickness, length) not in listed
    ]
    told = [f"Cut these beforehand: {_and(strips)}."] if strips else []
    for quoin in shop.quoins:
        for shift in range(plan.score.shifts if quoin.keys else 0):
            users = sum(
                any(item.kind == "quoin" and item.pattern == quoin.name for item in one.lockup.items)
                for one in plan.given
                if one.shift == shift
            )
            if users > (quoin.keys or 0):
                when = f"In shift {shift + 1} " if plan.score.shifts > 1 else ""
                told.append(f"{when}{users} students share {_number(quoin.keys or 0, 'key')} of {quoin.name}.")
    return told


def _fewest(plan: Plan) -> str:
    if plan.score == plan.bound:
        return "Fewer won't do."
    return f"It isn't proved that fewer won't do; {plan.bound.extra} may." if plan.bound.extra else "Fewer may do."


def quoins_of(given: Given) -> str:
    """Say which quoins a lockup takes."""
    patterns = Counter(item.pattern or "" for item in given.lockup.items if item.kind == "quoin")
    return ", ".join(f"{n} {name}" for name, n in patterns.items())


def last_of(given: Given, plan: Plan) -> list[Thing]:
    """Return the sizes of which a person has the last, or one of the last: none is left over in that shift."""
    scarce = plan.scarce(given.shift)
    return sorted(thing for thing in given.uses if thing in scarce and thing.piece)


def lies(given: Given) -> str:
    """Say how a form lies where that isn't as usual: its chase, its head, its block."""
    told = [given.lockup.chase.name]
    if given.lockup.head != "top":
        told.append(f"head to the {given.lockup.head}")
    if given.lockup.block:
        told.append("built up")
    return ", ".join(told)


HEADS = ("Shift", "Student", "Job", "Chase", "Quoins", "Pieces", "None left over of")


def who_rows(plan: Plan) -> list[tuple[str, ...]]:
    """Return who has what, a row for each person, shift by shift."""
    rows = []
    for one in sorted(plan.given, key=lambda given: given.shift):
        last = ", ".join(thing_name(thing) for thing in last_of(one, plan))
        rows.append(
            (str(one.shift + 1), one.task.name, one.task.job, lies(one), quoins_of(one), str(one.pieces), last or "–")
        )
    return rows


def who_table(plan: Plan) -> str:
    """Return who has what as an HTML table."""
    heads = "".join(f'<th scope="col">{name}</th>' for name in HEADS)
    rows = "".join(
        f'<tr><td>{escape(row[0])}</td><th scope="row">{escape(row[1])}</th>'
        f"{''.join(f'<td>{escape(cell)}</td>' for cell in row[2:])}</tr>"
        for row in who_rows(plan)
    )
    return (
        '<div class="stonework-wide"><table class="stonework-table"><caption>Who has what. '
        f"{escape(COUNTED)}</caption><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table></div>"
    )


def idle_words(plan_idle: Sequence[tuple[str, str, str]]) -> list[str]:
    """Say who can't be given a lockup here even alone, and why: name, job and reason of each."""
    return [
        f"{name}, {job}: it can't be locked up in this shop, even alone. {why}".rstrip() for name, job, why in plan_idle
    ]


def _number(n: int, what: str) -> str:
    return f"{n or 'no'} {what}{'s' * (n != 1)}"


def _and(parts: Sequence[str]) -> str:
    return " and ".join([", ".join(parts[:-1]), parts[-1]] if len(parts) > 1 else parts)
