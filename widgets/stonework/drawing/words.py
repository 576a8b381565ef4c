"""The plan view's facts in words: a sentence, tables, and the pieces to pull in the order they go in."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence
from html import escape

from stonework.lockup import SIDES, Item, Lockup, Side, pattern_of
from stonework.rules import Finding, rule_names
from stonework.shop import Shop
from stonework.units import PICA, write_length

_FRACTIONS = {0.25: "¼", 0.5: "½", 0.75: "¾"}


def in_picas(points: float) -> str:
    """Return a length as a bare number of picas, short enough for a label: 27, ½, 1½, 12.31."""
    picas = round(points / PICA, 2)
    whole, part = int(picas), round(picas % 1, 2)
    if part in _FRACTIONS:
        return f"{whole or ''}{_FRACTIONS[part]}"
    return f"{picas:g}"


def openings(lockup: Lockup, shop: Shop) -> dict[Side, float]:
    """Return how far the quoins of each quoin side stand open, in points; sides with unknown quoins left out."""
    found: dict[Side, float] = {}
    for side in lockup.quoin_sides:
        item = lockup.quoins(side)[0]
        if quoin := pattern_of(item, shop.quoins):
            found[side] = item.thickness - quoin.closed
    return found


def sentence(lockup: Lockup, shop: Shop, items: Sequence[Item]) -> str:
    """Say in one or two sentences what the plan shows; ``items`` are those laid so far."""
    form, chase = lockup.form, lockup.chase
    parts = [
        f"A form {_written(form.width)} wide and {_written(form.height)} high in the {chase.name} chase, "
        f"{_written(form.x)} from its left and {_written(form.y)} from its foot."
    ]
    for side in SIDES:
        here = [item for item in items if item.side == side]
        wood = [item for item in here if item.kind != "quoin"]
        quoins = len(here) - len(wood)
        if not here:
            parts.append(f"{side.capitalize()}: nothing yet.")
            continue
        what = ", ".join(f"{item.kind} {in_picas(item.thickness)} × {in_picas(item.length)}" for item in wood)
        if quoins:
            opening = openings(lockup, shop).get(side)
            open_by = "" if opening is None else f" open {_written(opening)}"
            what += f", and {quoins} quoin{'s' * (quoins > 1)}{open_by}"
        parts.append(f"{side.capitalize()}: {what.removeprefix(', and ')}.")
    return " ".join(parts)


def table(lockup: Lockup, shop: Shop, items: Sequence[Item]) -> str:
    """Return the pieces as an HTML table, numbered in the order they go in."""
    rows = "".join(
        f'<tr><th scope="row">{number}</th><td>{item.side}</td><td>{item.kind}</td>'
        f"<td>{_size(item, lockup, shop)}</td><td>{item.order}</td></tr>"
        for number, item in enumerate(items, 1)
    )
    head = "".join(f'<th scope="col">{name}</th>' for name in ("No.", "Side", "What", "Size", "From the form"))
    return (
        '<table class="stonework-table"><caption>Every piece, in the order it goes in (sizes in picas)</caption>'
        f"<thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"
    )


def pull_list(lockup: Lockup) -> str:
    """Return what to fetch from the cabinet as an HTML list, equal sizes together."""
    wood = Counter(item.material for item in lockup.placing_order() if item.kind != "quoin")
    lines = [
        f"<li>{count} × {material.kind} {in_picas(material.thickness)} × {in_picas(material.length)}</li>"
        for material, count in wood.items()
    ]
    quoins = sum(item.kind == "quoin" for item in lockup.items)
    lines.append(f"<li>{quoins} quoins, and their key</li>")
    return (
        '<div class="stonework-pull"><p>Pull from the cabinet, in this order '
        f"({sum(wood.values())} pieces of wood; sizes in picas):</p><ol>{''.join(lines)}</ol></div>"
    )


def _written(points: float) -> str:
    return write_length(round(points, 1))


def _size(item: Item, lockup: Lockup, shop: Shop) -> str:
    if item.kind != "quoin":
        return f"{in_picas(item.thickness)} × {in_picas(item.length)}"
    opening = openings(lockup, shop).get(item.side)
    return f"{in_picas(item.length)} long" + ("" if opening is None else f", open {escape(_written(opening))}")


def arrangement_words(name: str) -> str:
    """Return an arrangement's name as a phrase."""
    return name.replace("-", " ")


def summary(lockup: Lockup, findings: Sequence[Finding]) -> str:
    """Return in short how many pieces there are, how arranged, and how they were judged."""
    faults = sum(finding.severity == "fault" for finding in findings)
    cautions = len(findings) - faults
    judged = f"{faults} fault{'s' * (faults != 1)}" if faults else f"sound by all {len(rule_names())} rules"
    if cautions:
        judged = f"{judged if faults else 'no fault'}, {cautions} caution{'s' * (cautions != 1)}"
    quoins = len(lockup.items) - len(lockup.wood)
    arranged = arrangement_words(lockup.arrangement)
    return f"{len(lockup.wood)} pieces of wood and {quoins} quoins, {arranged}; {judged}"


def laid_words(lockup: Lockup, placed: int) -> str:
    """Say which piece was just laid, when a lockup is stepped through."""
    items = lockup.placing_order()
    if placed == 0:
        return f"The form alone in its chase. {len(items)} pieces are to come."
    item = items[placed - 1]
    what = "a quoin" if item.kind == "quoin" else f"{item.kind} {in_picas(item.thickness)} × {in_picas(item.length)}"
    return f"Piece {placed} of {len(items)}: {what} on the {item.side}, number {item.order} outward from the form."


def verdict(findings: Sequence[Finding], waiting: Collection[str] = ()) -> str:
    """Return every rule and how it came out, as HTML; what was found comes first, with why and what to do.

    Rules in ``waiting`` can't be said to hold yet.
    """
    found = {finding.rule for finding in findings} | set(waiting)
    told = "".join(
        f"<li><strong>{finding.severity.capitalize()}: {escape(finding.rule)}</strong>, {escape(finding.where)}. "
        f"{escape(finding.why)} {escape(finding.cure)} <small>({escape(finding.source)})</small></li>"
        for finding in findings
    )
    held = [name for name in rule_names() if name not in found]
    parts = [f'<ul class="stonework-findings">{told}</ul>' if told else ""]
    if held:
        names = "".join(f"<li>{escape(name)}: holds</li>" for name in held)
        parts.append(
            f"<details><summary>{len(held)} of {len(rule_names())} rules hold</summary>"
            f'<ul class="stonework-findings">{names}</ul></details>'
        )
    return "".join(parts)


def facts(lockup: Lockup, shop: Shop, findings: Sequence[Finding], placed: int | None = None) -> str:
    """Return everything the plan shows, in words, as HTML; ``placed`` leaves out what isn't laid yet."""
    items = lockup.placing_order()[:placed]
    return (
        f'<p class="stonework-sentence">{escape(sentence(lockup, shop, items))}</p>'
        + (verdict(findings) if placed is None else "")
        + pull_list(lockup)
        + f"<details><summary>The same as a table</summary>{table(lockup, shop, items)}</details>"
    )


# While a side is unfinished these only say that it is; they count once quoins and wood are all there.
_UNFINISHED = frozenset({"no gap from form to chase", "quoins on two sides that meet", "backed to its ends"})


def hand_words(done: str, lockup: Lockup, findings: Sequence[Finding]) -> tuple[str, bool]:
    """Say what was just done by hand and how the lockup stands; and whether there is a fault in it."""
    faults = [f for f in findings if f.severity == "fault" and f.rule not in _UNFINISHED]
    if faults:
        return f"{done} Look again: {faults[0].where}. {faults[0].why} {faults[0].cure}", True
    if any(finding.rule in _UNFINISHED for finding in findings):
        return f"{done} Nothing wrong so far; not finished yet.", False
    return f"{done} {summary(lockup, findings)}.", False


def hand_facts(lockup: Lockup, shop: Shop, findings: Sequence[Finding]) -> str:
    """Return the facts of a lockup being laid by hand, as HTML: what is wrong apart from what is still to do."""
    wrong = [finding for finding in findings if finding.rule not in _UNFINISHED]
    todo = [finding for finding in findings if finding.rule in _UNFINISHED]
    items = lockup.placing_order()
    still = "".join(f"<li>{escape(finding.where)}: {escape(finding.cure)}</li>" for finding in todo)
    return (
        f'<p class="stonework-sentence">{escape(sentence(lockup, shop, items))}</p>'
        + (verdict(wrong, [finding.rule for finding in todo]) if items else "")
        + (f'<p><strong>Still to do</strong></p><ul class="stonework-findings">{still}</ul>' if todo else "")
        + f"<details><summary>The same as a table</summary>{table(lockup, shop, items)}</details>"
    )
