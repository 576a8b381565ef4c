"""From tickets to tasks: what each person's form and place demand, and the ways in which that may be done."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from stonework.building import NoBlock, build_block, least_side, side_by_side
from stonework.choosing.building_up import blocks_round
from stonework.form import Form
from stonework.jobs.ticket import Ticket
from stonework.lockup import Block, Side, quarters_from
from stonework.placing import Place, gripped, lying_as, place_by_custom, place_by_sheet
from stonework.planning import Task, Way
from stonework.planning.task import Change
from stonework.shop import AS_GOOD_AS_SHUT, Chase, Material, Placing, Quoin, Shop

_TURNED: tuple[Side, ...] = ("left", "right")
_BLOCKS = 4  # different blocks that are offered for one job; this workbook's own figure


def tasks(named: Sequence[tuple[str, str]], jobs: Mapping[str, Ticket], shop: Shop) -> list[Task]:
    """Return a task for each person and the job that they have, by their names.

    A job for a second colour is placed by its first job's paper, as if that form stood just where it was wanted. Forms
    side by side, and those too small for any quoin, are made into blocks first: a few different ones are offered, so
    that not all take the same pieces. Other chases and a turned form are offered as changes, where the grippers would
    come down on no type.
    """
    several = {job: sum(one == job for _, one in named) for _, job in named}
    made = {job: _ways(jobs[job], jobs, shop, several[job]) for job in several}
    return [Task(name, job, *made[job], late=jobs[job].after is not None) for name, job in named]


def _ways(
    ticket: Ticket, jobs: Mapping[str, Ticket], shop: Shop, people: int
) -> tuple[tuple[Way, ...], frozenset[Material], str]:
    """Return the ways of one job, what is held elsewhere, and why there is no way, if there is none."""
    cabinet = ticket.cabinet(shop)
    held = frozenset(m for m, n in shop.pieces.items() if n and not cabinet.pieces[m])
    own = [chase for chase in shop.chases if ticket.chase in ("", chase.name)]
    try:
        blocks = _abreast(ticket, cabinet, people)
    except NoBlock as error:
        return (), held, str(error)
    found: list[Way] = []
    trouble = ""
    for chase, head, change in _offers(shop, own):
        press, custom = _press(shop, chase)
        try:
            place = _place(ticket, jobs, chase, custom, head)
        except ValueError as error:
            trouble = trouble or str(error)
            continue
        if (change or not ticket.chase) and gripped(place, custom):
            trouble = trouble or f"In the {chase.name} chase the grippers would come down on type."
            continue
        for block in blocks or _built(ticket.form, cabinet, chase, head, people):
            found.append(_way(block, ticket, place, chase, shop, press, custom, change))
    return tuple(found), held, "" if any(not way.change for way in found) else trouble


def _offers(shop: Shop, own: Sequence[Chase]) -> Iterator[tuple[Chase, Side, Change]]:
    """Yield in which chases a form may lie, and which way: as its ticket asks, then with one thing changed."""
    yield from ((chase, "top", "") for chase in own)
    yield from ((chase, head, "turned") for chase in own for head in _TURNED)
    yield from ((chase, "top", "chase") for chase in shop.chases if chase not in own)


def _press(shop: Shop, chase: Chase) -> tuple[str, Placing]:
    """Return the first press that takes a chase, and its custom: the shop's own if there is none."""
    press = next((one.name for one in shop.presses if chase.name in one.chases), "")
    return press, shop.custom(press)


def _place(ticket: Ticket, jobs: Mapping[str, Ticket], chase: Chase, custom: Placing, head: Side) -> Place:
    """Return where what prints is wanted; ``ValueError`` with a sentence if it doesn't go into the chase."""
    if ticket.after is None:
        return place_by_custom(ticket.printed, ticket.sheet, ticket.margins, chase, custom, head)
    first = jobs[ticket.after]
    before = _place(first, jobs, chase, custom, head)
    return place_by_sheet(ticket.printed, ticket.margins, before.sheet, chase, custom, head=head)


def _abreast(ticket: Ticket, cabinet: Shop, people: int) -> list[Block]:
    """Return blocks of forms side by side, each of other pieces; none for a form that stands alone."""
    if ticket.abreast == 1:
        return []
    forms, left, found = [ticket.form] * ticket.abreast, cabinet, []
    least = max(map(least_side, cabinet.quoins), default=0.0)
    while len(found) < min(people, _BLOCKS):
        try:
            block = side_by_side(forms, left, ticket.gutter)
            if min(block.width, block.height) < least:
                block = build_block(block, left, least=(max(block.width, least), max(block.height, least)))
        except NoBlock:
            if not found:
                raise
            break
        found.append(block)
        if not block.materials:
            break
        left = left.without(block.materials)
    return found


def _built(form: Form, cabinet: Shop, chase: Chase, head: Side, people: int) -> list[Form | Block]:
    """Return the form as it is, or the blocks it may be built up to if no quoin can press on it."""
    lying = lying_as(form, head)
    if not cabinet.quoins or min(lying.width, lying.height) >= min(map(least_side, cabinet.quoins)):
        return [lying]
    left, found = cabinet, list[Form | Block]()
    for _ in range(min(people, _BLOCKS)):
        blocks = list(blocks_round(lying, chase, left, cabinet.quoins))
        found += blocks
        used = [material for block in blocks for material in block.materials]
        if not used:
            break
        left = left.without(used)
    return found or [lying]


def _way(
    made: Form | Block,
    ticket: Ticket,
    place: Place,
    chase: Chase,
    shop: Shop,
    press: str,
    custom: Placing,
    change: Change,
) -> Way:
    """Return a way in which what prints lies at its place, whatever it is built up with."""
    target = place.target
    if isinstance(made, Block):
        if ticket.abreast > 1:
            made = made.turned(quarters_from("top", place.head))
        whole, prints = made.outline, _prints(made)
        target = (target[0] - (prints[0] - whole.x), target[1] - (prints[1] - whole.y))
    else:
        made = lying_as(ticket.printed, place.head)
    intent = replace(place, form=replace(place.form, x=target[0], y=target[1]))
    return Way(
        made,
        chase,
        intent.target,
        place.tolerance,
        custom.guides,
        tuple(map(_free_to_slacken, shop.quoins)),
        place.head,
        place.sheet,
        press,
        change,
    )


def _prints(block: Block) -> tuple[float, float]:
    """Return the lower left corner of all the type in a block."""
    return min(form.x for form in block.forms), min(form.y for form in block.forms)


def _free_to_slacken(quoin: Quoin) -> Quoin:
    """Return a quoin as if it were shut where it is open just enough to be slackened: so none lies tighter."""
    by = min(AS_GOOD_AS_SHUT, quoin.travel - quoin.reserve)
    return replace(quoin, closed=quoin.closed + by, travel=quoin.travel - by, rest=max(0.0, quoin.rest - by))
