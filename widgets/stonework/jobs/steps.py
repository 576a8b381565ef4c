"""How far a job has come: its lockup, as it is saved, beside what its ticket asks for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import NamedTuple

from stonework.form import Form
from stonework.jobs.ticket import Ticket
from stonework.lockup import SLACK, Lockup
from stonework.placing import REGISTER, Sheet, printed_margins
from stonework.readiness import readiness
from stonework.records import open_lockup, record_path
from stonework.shop import Shop
from stonework.units import write_length

_NEAR = 1.0  # points: how near a size must come to the ticket's; this workbook's own figure


class Step(NamedTuple):
    """One thing that a job needs, whether it is done, and in words what was found."""

    done: bool
    words: str


def steps(ticket: Ticket, jobs: Mapping[str, Ticket], shop: Shop, folder: str | Path | None = None) -> list[Step]:
    """Return how far the lockup saved under a ticket's name has come; the first step not done is the next one.

    ``jobs`` are all of the shop's, by their names: a second colour asks for its first. ``folder`` is where lockups are
    kept, that of whoever works here if none is given.
    """
    if not record_path(ticket.name, folder).is_file():
        return [Step(False, f"Nothing is saved as “{ticket.name}” yet: place the form, and save it under that name.")]
    try:
        lockup = open_lockup(ticket.name, folder)
    except ValueError as error:
        return [Step(False, str(error))]
    return list(_steps(ticket, lockup, jobs, ticket.cabinet(shop), folder))


def _steps(
    ticket: Ticket, lockup: Lockup, jobs: Mapping[str, Ticket], shop: Shop, folder: str | Path | None
) -> Iterator[Step]:
    area, wanted = lockup.type_area, ticket.printed
    size = f"{write_length(round(area.width, 1))} × {write_length(round(area.height, 1))}"
    right = abs(area.width - wanted.width) <= _NEAR and abs(area.height - wanted.height) <= _NEAR
    yield Step(right, f"What prints is {size}" + ("." if right else f"; the ticket asks for {_size(wanted)}."))
    in_chase = lockup.chase.name == ticket.chase or not ticket.chase
    yield Step(
        in_chase, f"It lies in the {lockup.chase.name} chase" + ("." if in_chase else f", not the {ticket.chase}.")
    )
    yield on_its_sheet(ticket, lockup)
    if ticket.after is not None:
        yield _in_register(ticket, jobs[ticket.after], lockup, folder)
    if ticket.abreast > 1:
        forms = len(lockup.block.forms) if lockup.block else 1
        both = forms == ticket.abreast
        yield Step(
            both, f"Its {ticket.abreast} forms {'make one block' if both else 'are not made into one block yet'}."
        )
    yield _holds(lockup, shop)


def on_its_sheet(ticket: Ticket, lockup: Lockup) -> Step:
    """Say whether what prints lies on its sheet as the ticket asks."""
    wish = lockup.intent
    if wish is None or wish.sheet is None:
        return Step(False, "Where its paper lies isn't said yet: place it for its sheet.")
    paper = wish.sheet
    if abs(paper.width - ticket.sheet.width) > _NEAR or abs(paper.height - ticket.sheet.height) > _NEAR:
        return Step(
            False, f"The paper is {_size(Form(paper.width, paper.height))}; the ticket says {_size(ticket.sheet)}."
        )
    found = printed_margins(lockup.type_area, paper)
    told = ", ".join(f"{name} {_written(margin)}" for name, margin in found._asdict().items())
    if ticket.after is not None:  # what counts is where the first colour prints
        return Step(True, f"Its margins are {told}.")
    # Where it lies is the wood's doing; within the tolerance that is near enough.
    off = max(abs(one - other) for one, other in zip(found, ticket.margins, strict=True))
    if off <= wish.tolerance + SLACK:
        room = f" The wood may set it {_written(wish.tolerance)} off." if off > _NEAR else ""
        return Step(True, f"Its margins are {told}.{room}")
    asked = ", ".join(f"{name} {_written(margin)}" for name, margin in ticket.margins._asdict().items())
    return Step(False, f"Its margins are {told}; the ticket asks for {asked}.")


def _in_register(ticket: Ticket, first_ticket: Ticket, lockup: Lockup, folder: str | Path | None) -> Step:
    """Say how far a second colour prints from where it belongs on the first; the guides stay as they were."""
    try:
        first = open_lockup(first_ticket.name, folder)
    except ValueError as error:
        return Step(False, f"Its guides are those of “{first_ticket.name}”. {error}")
    if first.intent is None or first.intent.sheet is None or lockup.intent is None or lockup.intent.sheet is None:
        return Step(False, f"Its guides are those of “{first_ticket.name}”, which don't say where the paper lies.")
    guides, paper = first.intent.sheet, lockup.intent.sheet
    if max(abs(paper.x - guides.x), abs(paper.y - guides.y)) > SLACK:
        return Step(
            False,
            f"The paper doesn't lie as for “{first_ticket.name}”: place this form with the guides of that one.",
        )
    one, other = first.type_area, lockup.type_area
    # Seen on the stone: the sheet's right lies at the left, so what stands too far right prints too far left.
    across = other.x - one.x - (ticket.margins.right - first_ticket.margins.right)
    up = other.y - one.y - (ticket.margins.foot - first_ticket.margins.foot)
    told = [
        f"{_written(abs(by))} too far to the {more if by > 0 else less}"
        for by, more, less in ((across, "left", "right"), (up, "head", "foot"))
        if abs(by) >= SLACK
    ]
    if not told:
        return Step(True, f"It prints on “{first_ticket.name}” just where it belongs.")
    if max(abs(across), abs(up)) <= REGISTER + SLACK:
        return Step(True, f"In register within a point: on “{first_ticket.name}” it prints {' and '.join(told)}.")
    return Step(
        False,
        f"Not in register: on “{first_ticket.name}” it prints {' and '.join(told)}. Place it again with “Paper as for "
        "that lockup” and choose its wood anew; or move it at the stone, by leads or card out of one side and into the "
        "other.",
    )


def _holds(lockup: Lockup, shop: Shop) -> Step:
    if not lockup.items:
        return Step(False, "No wood lies round it yet.")
    unready = readiness(lockup, shop).words
    return Step(not unready, unready or "It would hold, by every rule.")


def _size(of: Form | Sheet) -> str:
    return f"{_written(of.width)} × {_written(of.height)}"


def _written(points: float) -> str:
    return write_length(max(0.0, round(points, 1)))
