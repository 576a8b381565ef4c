"""The plan view's facts in words: a sentence, tables, and the pieces to pull in the order they go in."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence
from html import escape

from stonework.lockup import SIDES, SLACK, Filling, Item, Lockup, Side, as_read, letter, pattern_of
from stonework.placing import printed_margins
from stonework.readiness import already_wrong, in_words, still_to_do
from stonework.rounds import rounds
from stonework.rules import Finding, rule_names, rules, strip_kind
from stonework.shop import Material, Quoin, Shop
from stonework.units import PICA, write_length


def in_picas(points: float) -> str:
    """Return a length as short as a label wants it: whole and half picas bare (27, ½, 1½), others as 12p3.7 or 3 pt."""
    picas, left = divmod(round(points, 2), PICA)
    if left in (0, 6):
        return f"{picas or '':.0f}½" if left and picas else "½" if left else f"{picas:.0f}"
    return f"{picas:.0f}p{round(left, 2):g}" if picas else in_points(round(left, 2))


def in_points(points: float) -> str:
    """Return a length in points alone, to six figures: 6 pt, 7.5 pt."""
    return f"{points:g} pt"


def strip_name(thickness: float) -> str:
    """Return what a strip so thick is called, with its thickness in points: lead 2 pt, slug 6 pt."""
    return f"{strip_kind(thickness)} {in_points(thickness)}"


def piece_name(piece: Filling | Item | Material) -> str:
    """Return what a piece of wood, metal or lead is called, in picas but for the thickness of leads."""
    if piece.kind == "lead":
        return f"{strip_name(piece.thickness)} × {in_picas(piece.length)}"
    return f"{piece.kind} {in_picas(piece.thickness)} × {in_picas(piece.length)}"


def sized(piece: Filling | Item) -> str:
    """Return a piece's thickness and length in picas, as a label wants it."""
    return f"{in_picas(piece.thickness)} × {in_picas(piece.length)}"


def name_of_size(material: Material) -> str:
    """Return what a size is called in full: furniture 2 picas × 20 picas, slug 6 pt × 20 picas."""
    kind = piece_name(material).partition(" ")[0]
    return f"{kind} {write_length(material.thickness)} × {write_length(round(material.length, 2))}"


def _inside(lockup: Lockup) -> str:
    """Say what is in the block, if the form is one."""
    if lockup.block is None:
        return ""
    forms = ", ".join(f"{_written(form.width)} × {_written(form.height)}" for form in lockup.block.forms)
    pieces = ", ".join(f"{letter(n)}: {piece_name(piece)}" for n, piece in enumerate(lockup.block.pieces))
    made = f" The form is a block: {forms}"
    return f"{made}, made up with {pieces}." if pieces else f"{made}."


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
    turned = "" if lockup.head == "top" else f", its head to the {lockup.head},"
    wide, high = as_read(form, lockup.head)
    parts = [
        f"A form {_written(wide)} wide and {_written(high)} high{turned} in the {chase.name} chase, "
        f"{_written(form.x)} from the left of the chase and {_written(form.y)} from its bottom.{_inside(lockup)}"
    ]
    for side in SIDES:
        here = [item for item in items if item.side == side]
        wood = [item for item in here if item.kind != "quoin"]
        quoins = len(here) - len(wood)
        if not here:
            parts.append(f"{side.capitalize()}: nothing yet.")
            continue
        what = ", ".join(
            " and ".join(piece_name(item) for item in layer) + " end to end" * (len(layer) > 1)
            for layer in _layers(wood)
        )
        if quoins:
            opening = openings(lockup, shop).get(side)
            open_by = "" if opening is None else f" open {_written(opening)}"
            which = f" ({lockup.quoins(side)[0].pattern})" if _differ(lockup) else ""
            what += f", and {quoins} quoin{'s' * (quoins > 1)}{which}{open_by}"
        parts.append(f"{side.capitalize()}: {what.removeprefix(', and ')}.")
    return " ".join(parts)


def _differ(lockup: Lockup) -> bool:
    """Say whether quoins of more than one pattern lie in a lockup."""
    return len({item.pattern for item in lockup.items if item.kind == "quoin"}) > 1


def _layers(pieces: Sequence[Item]) -> list[list[Item]]:
    """Return the pieces of one side by layers: those of one order lie end to end."""
    layers: dict[int, list[Item]] = {}
    for item in pieces:
        layers.setdefault(item.order, []).append(item)
    return list(layers.values())


def table(lockup: Lockup, shop: Shop, items: Sequence[Item]) -> str:
    """Return the pieces as an HTML table, numbered in the order they go in."""
    inside = lockup.block.pieces if lockup.block else ()
    rows = "".join(
        f'<tr><th scope="row">{letter(n)}</th><td>in the block</td><td>{piece_name(piece).partition(" ")[0]}</td>'
        f"<td>{piece_name(piece).partition(' ')[2]}</td><td></td></tr>"
        for n, piece in enumerate(inside)
    )
    rows += "".join(
        f'<tr><th scope="row">{number}</th><td>{item.side}</td><td>{_what(item)}</td>'
        f"<td>{_size(item, lockup, shop)}</td><td>{item.order}</td></tr>"
        for number, item in enumerate(items, 1)
    )
    head = "".join(f'<th scope="col">{name}</th>' for name in ("No.", "Side", "What", "Size", "Layer"))
    return (
        '<table class="stonework-table"><caption>Every piece, in the order it goes in. '
        "Sizes in picas; layers counted outward from the "
        f"form</caption><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"
    )


def pull_list(lockup: Lockup) -> str:
    """Return what to fetch from the cabinet as an HTML list, equal sizes together."""
    wood = Counter(item.material for item in lockup.placing_order() if item.kind != "quoin")
    lines = [f"<li>{count} × {piece_name(material)}</li>" for material, count in wood.items()]
    quoins = Counter(item.pattern for item in lockup.items if item.kind == "quoin")
    lines += [
        f"<li>{count} × quoin, {escape(name)}, with its key</li>" if name else f"<li>{count} quoins, and their key</li>"
        for name, count in quoins.items()
    ]
    block = ""
    if lockup.block and lockup.block.pieces:
        names = Counter(piece_name(piece) for piece in lockup.block.pieces).items()
        block = (
            "<p>Pull first, to build the block; sizes in picas, leads and slugs cut from strips:</p>"
            f"<ol>{''.join(f'<li>{count} × {name}</li>' for name, count in names)}</ol>"
        )
    rest = f"<p>Pull from the cabinet, in this order ({_pieces_of(wood)}; sizes in picas):</p><ol>{''.join(lines)}</ol>"
    return f'<div class="stonework-pull">{block}{rest if lockup.items else ""}</div>'


def _pieces_of(pulled: Counter[Material]) -> str:
    """Say how many pieces are pulled, of wood and of metal."""
    wood = sum(count for material, count in pulled.items() if material.kind in ("furniture", "reglet"))
    metal = sum(pulled.values()) - wood
    return f"{wood} pieces of wood" + (f", {metal} of metal" if metal else "")


def cabinet(shop: Shop, lockup: Lockup) -> str:
    """Return what the cabinet has left beside a lockup, as an HTML list; lengths in picas, equal counts together."""
    used = Counter(lockup.materials)
    left: dict[tuple[str, float], dict[float, int]] = {}
    used += Counter(lockup.leads)
    metal = {**shop.metal, **shop.strips} if lockup.block or len(lockup.pieces) > len(lockup.wood) else {}
    for material, count in sorted([*shop.stock.items(), *metal.items()]):
        left.setdefault((material.kind, material.thickness), {})[material.length] = count - used[material]
    lines = "".join(
        f"<li><strong>{kind} {in_picas(thickness)}</strong>: {_runs(lengths) or 'none'}</li>"
        for (kind, thickness), lengths in left.items()
    )
    return (
        "<details><summary>What the cabinet has left</summary><p>Thicknesses in bold, then lengths, both in picas, "
        f'and how many of each.</p><ul class="stonework-findings">{lines}</ul></details>'
    )


def _runs(lengths: dict[float, int]) -> str:
    """Return lengths and counts in words, a run of lengths with one count as “10 to 40: 6 each”."""
    runs: list[tuple[list[float], int]] = []
    for length, count in lengths.items():
        if runs and runs[-1][1] == count and abs(length - runs[-1][0][-1] - PICA) <= SLACK:
            runs[-1][0].append(length)
        else:
            runs.append(([length], count))
    return "; ".join(
        f"{in_picas(run[0])} to {in_picas(run[-1])}: {count} each" if len(run) > 1 else f"{in_picas(run[0])}: {count}"
        for run, count in runs
        if count > 0
    )


def _written(points: float) -> str:
    return write_length(round(points, 1))


def _size(item: Item, lockup: Lockup, shop: Shop) -> str:
    if item.kind != "quoin":
        return piece_name(item).partition(" ")[2]
    opening = openings(lockup, shop).get(item.side)
    return f"{in_picas(item.length)} long" + ("" if opening is None else f", open {escape(_written(opening))}")


def _what(item: Item) -> str:
    """Return an item's kind, as one calls it."""
    return "quoin" if item.kind == "quoin" else piece_name(item).partition(" ")[0]


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
    quoins, metal = len(lockup.items) - len(lockup.pieces), len(lockup.pieces) - len(lockup.wood)
    arranged = arrangement_words(lockup.arrangement)
    wood = f"{len(lockup.wood)} pieces of wood{f', {metal} of metal' * bool(metal)}"
    return f"{wood} and {quoins} quoins, {arranged}; {judged}"


def outcome(lockup: Lockup, findings: Sequence[Finding]) -> str:
    """Say whether a finished lockup would hold, and why."""
    if any(finding.severity == "fault" for finding in findings):
        return f"This would not hold yet. {summary(lockup, findings)}."
    return (
        "This would hold: the quoins push the form into its solid corner, wood stands wherever they or the chase would "
        f"meet metal, and every end that must be free is free. {summary(lockup, findings)}."
    )


def off_target(lockup: Lockup) -> str:
    """Say how far the form stands from where it was wanted, if the wood can't set it there; else nothing."""
    if lockup.intent is None:
        return ""
    x, y = lockup.form.x - lockup.intent.x, lockup.form.y - lockup.intent.y
    off = [
        f"{_written(abs(by))} {more if by > 0 else less}"
        for by, more, less in ((x, "further right", "further left"), (y, "higher", "lower"))
        if abs(by) >= 0.05
    ]
    return f"The form stands {' and '.join(off)} than asked: as near as the fewest pieces allow." if off else ""


def margin_words(lockup: Lockup) -> str:
    """Say which margins the sheet will have, if it is known where the paper will lie; else nothing."""
    if lockup.intent is None or lockup.intent.sheet is None:
        return ""
    white = printed_margins(lockup.type_area, lockup.intent.sheet, lockup.head)
    told = ", ".join(f"{name} {_signed(margin)}" for name, margin in white._asdict().items())
    return f"On the sheet the margins will be {told}."


def _signed(points: float) -> str:
    return _written(max(0.0, points)) if points > -SLACK else f"{_written(-points)} over the edge"


def laid_words(lockup: Lockup, placed: int) -> str:
    """Say which piece was just laid, when a lockup is stepped through."""
    items = lockup.placing_order()
    if placed == 0:
        return f"The form alone in its chase. {len(items)} pieces are to come."
    item = items[placed - 1]
    what = "a quoin" if item.kind == "quoin" else piece_name(item)
    return f"Piece {placed} of {len(items)}: {what}, on the {item.side}."


def verdict(findings: Sequence[Finding], waiting: Collection[str] = ()) -> str:
    """Return every rule and how it came out, as HTML; what was found comes first, with why and what to do.

    Rules in ``waiting`` can't be said to hold yet.
    """
    found = {finding.rule for finding in findings} | set(waiting)
    told = "".join(
        f"<li><strong>{finding.severity.capitalize()}: {escape(finding.rule)}</strong>. {escape(in_words(finding))} "
        f"<small>({escape(finding.source)})</small></li>"
        for finding in told_once(findings)
    )
    held = [rule for rule in rules() if rule.name not in found]
    parts = [f'<ul class="stonework-findings">{told}</ul>' if told else ""]
    if held:
        names = "".join(f"<li><strong>{escape(rule.name)}</strong>: {escape(rule.meaning)}</li>" for rule in held)
        later = [rule.name for rule in rules() if rule.name in waiting]
        if later:
            names += f"<li>Not to be said yet: {escape(', '.join(later))}.</li>"
        parts.append(
            f"<details><summary>{len(held)} of {len(rules())} rules hold</summary>"
            f'<ul class="stonework-findings">{names}</ul></details>'
        )
    return "".join(parts)


def told_once(findings: Sequence[Finding]) -> list[Finding]:
    """Return findings without those that say in the same words what another says."""
    return list({(finding.rule, in_words(finding)): finding for finding in findings}.values())


def facts(lockup: Lockup, shop: Shop, findings: Sequence[Finding], placed: int | None = None) -> str:
    """Return everything the plan shows, in words, as HTML; ``placed`` leaves out what isn't laid yet."""
    items = lockup.placing_order()[:placed]
    return (
        f'<p class="stonework-sentence">{escape(sentence(lockup, shop, items))} {escape(off_target(lockup))} '
        f"{escape(margin_words(lockup))}</p>"
        + (verdict(findings) if placed is None else "")
        + pull_list(lockup)
        + f"<details><summary>The same as a table</summary>{table(lockup, shop, items)}</details>"
    )


def quoin_words(quoin: Quoin) -> str:
    """Say how a quoin measures."""
    return (
        f"The {quoin.name} is {_written(quoin.length)} long and {_written(quoin.closed)} thick when shut. Finger-tight "
        f"it may be open {_written(quoin.most_open)} of its {_written(quoin.travel)}; the rest is kept for tightening."
    )


def hand_words(done: str, lockup: Lockup, findings: Sequence[Finding]) -> str:
    """Say what was just done by hand, and how the lockup stands."""
    faults = [finding for finding in already_wrong(lockup, findings) if finding.severity == "fault"]
    if faults:
        numbers = _numbers(lockup, faults[0])
        return f"{done} Look again. {in_words(faults[0])}{numbers}"
    todo = still_to_do(lockup)
    if not todo:
        return f"{done} {outcome(lockup, findings)}"
    return f"{done} {'Good so far. ' if lockup.items else ''}Still {todo[0]}."


def _numbers(lockup: Lockup, finding: Finding) -> str:
    """Say how the pieces of a finding are numbered in the picture."""
    order = lockup.placing_order()
    numbers = [str(number) for number in sorted(order.index(item) + 1 for item in finding.items)]
    return f" (In the picture: {' and '.join(numbers)}.)" if numbers else ""


def _patterns(lockup: Lockup, shop: Shop) -> list[Quoin]:
    """Return the patterns of quoin that lie in a lockup; the shop's first if none does."""
    lying = dict.fromkeys(pattern_of(item, shop.quoins) for item in lockup.items if item.kind == "quoin")
    return [pattern for pattern in lying if pattern] or list(shop.quoins[:1])


def hand_facts(lockup: Lockup, shop: Shop, findings: Sequence[Finding]) -> str:
    """Return the facts of a lockup being laid by hand, as HTML: what is wrong apart from what is still to do."""
    wrong, todo = already_wrong(lockup, findings), still_to_do(lockup)
    items = lockup.placing_order()
    still = "".join(f"<li>{escape(words)}</li>" for words in todo)
    finished = items and not todo and not any(finding.severity == "fault" for finding in findings)
    askew = rounds(lockup, shop).askew if finished else ""
    return (
        f'<p class="stonework-sentence">{escape(sentence(lockup, shop, items))}</p>'
        + (verdict(wrong, {f.rule for f in findings} - {f.rule for f in wrong}) if items else "")
        + (f'<p><strong>Still to do</strong></p><ul class="stonework-findings">{still}</ul>' if todo else "")
        + (f"<p>{escape(askew)}</p>" if askew else "")
        + f"<p>{escape(' '.join(map(quoin_words, _patterns(lockup, shop))))}</p>"
        + f"<details><summary>The same as a table</summary>{table(lockup, shop, items)}</details>"
    )
