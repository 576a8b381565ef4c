"""Job tickets: what is to be printed, from its copy to its paper, and how far a job has come.

The jobs are those of the Breakwater evening school, and invented, the tides among them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import NamedTuple

from stonework.form import Content, Cut, Form, Lines, Strip
from stonework.lockup import SLACK, Lockup
from stonework.placing import REGISTER, Margins, Sheet, margins_from, printed_margins
from stonework.readiness import readiness
from stonework.records import open_lockup, record_path
from stonework.shop import Material, Shop
from stonework.units import PICA, write_length

_NEAR = 1.0  # points: how near a size must come to the ticket's; this workbook's own figure


@dataclass(frozen=True)
class Ticket:
    """A job: its lockup is saved under ``name``. Lengths are points.

    ``content`` is one form, and ``abreast`` how many alike lie side by side with a ``gutter`` between. ``left`` and
    ``head`` are the margins of all that is printed. ``after`` names the job whose guides stay, for a second colour.
    ``out`` is the wood that other jobs hold: all of a kind from a length on, but for ``kept``.
    """

    name: str
    told: str
    copy: tuple[str, ...]
    content: Content
    sheet: Sheet
    left: float
    head: float
    chase: str
    pulls: int
    abreast: int = 1
    gutter: float = 0.0
    after: str | None = None
    out: tuple[str, float] | None = None
    kept: tuple[tuple[Material, int], ...] = ()

    @property
    def form(self) -> Form:
        """One form of the job."""
        return Form(self.content.measure, self.content.depth)

    @property
    def printed(self) -> Form:
        """The size of all that is printed on one sheet."""
        return Form(self.abreast * self.form.width + (self.abreast - 1) * self.gutter, self.form.height)

    @property
    def margins(self) -> Margins:
        """The margins of the sheet."""
        return margins_from(self.sheet, self.printed, self.left, self.head)

    def cabinet(self, shop: Shop) -> Shop:
        """Return the shop with the wood that other jobs leave."""
        if self.out is None:
            return shop
        kind, shortest = self.out
        kept = dict(self.kept)
        stock = {
            material: kept.get(material, 0) if material.kind == kind and material.length >= shortest else count
            for material, count in shop.stock.items()
        }
        return replace(shop, stock=stock)


def _picas(n: float) -> float:
    return n * PICA


TICKETS: dict[str, Ticket] = {
    ticket.name: ticket
    for ticket in (
        Ticket(
            name="tide card",
            told="A pocket card with the week's tides, for the harbour office. Two are printed side by side on one "
            "sheet, which is then cut. The two forms are set alike.",
            copy=(
                "High water at Breakwater",
                "Monday 4.10 and 16.35",
                "Tuesday 4.55 and 17.20",
                "Wednesday 5.40 and 18.05",
                "Thursday 6.25 and 18.50",
                "Friday 7.15 and 19.40",
                "Saturday 8.10 and 20.35",
                "Sunday 9.10 and 21.40",
                "Not for finding your way at sea.",
            ),
            content=Content(
                _picas(18), (Lines(1, 12), Strip(6), Lines(7, 10, lead=2), Strip(12), Lines(1, 8), Strip(12))
            ),
            sheet=Sheet(_picas(50), _picas(18)),
            left=_picas(4),
            head=_picas(3),
            chase="8 × 12",
            pulls=150,
            abreast=2,
            gutter=_picas(6),
        ),
        Ticket(
            name="ferry notice",
            told="A notice for the ferry's waiting room. Another class's poster stands locked up in the rack, and "
            "holds all reglet of 24 picas and longer.",
            copy=(
                "The last ferry leaves the slip",
                "at a quarter past ten",
                "From the first of November the last ferry leaves at a quarter past ten, and not at eleven.",
                "Whoever comes later waits for the six o'clock boat, in this room, where the stove is lit.",
                "Bicycles and handcarts go on last and come off first.",
                "Dogs travel with their people.",
                "After a storm, ask at the slip before you buy your ticket.",
                "Printed at the Breakwater evening school.",
            ),
            content=Content(_picas(50), (Lines(2, 18), Strip(12), Lines(6, 12, lead=2), Strip(2))),
            sheet=Sheet(_picas(62), _picas(23)),
            left=_picas(6),
            head=_picas(5),
            chase="10 × 15",
            pulls=40,
            out=("reglet", _picas(24)),
        ),
        Ticket(
            name="bookplate black",
            told="A bookplate for the school's library, in black, with room left for a line in red.",
            copy=(
                "(a cut of an anchor, 9 × 8 picas)",
                "From the library of",
                "Breakwater school",
                "(two lines left empty for the red)",
                "Please bring it back",
            ),
            content=Content(
                _picas(15),
                (
                    *(Cut(_picas(9), _picas(8)), Strip(24), Lines(1, 12), Lines(1, 18), Strip(24)),
                    *(Lines(2, 12, quads=True), Strip(6), Lines(1, 12)),
                ),
            ),
            sheet=Sheet(_picas(23), _picas(26)),
            left=_picas(4),
            head=_picas(4),
            chase="6 × 9",
            pulls=60,
        ),
        Ticket(
            name="bookplate red",
            told="The same bookplate's line in red: one line in the room that the black form leaves. It goes onto the "
            "sheets that are printed in black already.",
            copy=("From calm water",),
            content=Content(_picas(12), (Lines(1, 12),)),
            sheet=Sheet(_picas(23), _picas(26)),
            left=_picas(5.5),
            head=_picas(19),  # in the middle of the two empty lines
            chase="6 × 9",
            pulls=60,
            after="bookplate black",
        ),
    )
}
"""Every ticket by its name."""


class Step(NamedTuple):
    """One thing that a job needs, whether it is done, and in words what was found."""

    done: bool
    words: str


def steps(ticket: Ticket, shop: Shop, folder: str | Path = ".") -> list[Step]:
    """Return how far the lockup saved under a ticket's name has come; the first step not done is the next one."""
    if not record_path(ticket.name, folder).is_file():
        return [Step(False, f"Nothing is saved as “{ticket.name}” yet: place the form, and save it under that name.")]
    try:
        lockup = open_lockup(ticket.name, folder)
    except ValueError as error:
        return [Step(False, str(error))]
    return list(_steps(ticket, lockup, ticket.cabinet(shop), folder))


def _steps(ticket: Ticket, lockup: Lockup, shop: Shop, folder: str | Path) -> Iterator[Step]:
    area, wanted = lockup.type_area, ticket.printed
    size = f"{write_length(round(area.width, 1))} × {write_length(round(area.height, 1))}"
    right = abs(area.width - wanted.width) <= _NEAR and abs(area.height - wanted.height) <= _NEAR
    yield Step(right, f"What prints is {size}" + ("." if right else f"; the ticket's copy makes {_size(wanted)}."))
    in_chase = lockup.chase.name == ticket.chase
    yield Step(
        in_chase, f"It lies in the {lockup.chase.name} chase" + ("." if in_chase else f", not the {ticket.chase}.")
    )
    yield _on_its_sheet(ticket, lockup)
    if ticket.after is not None:
        yield _in_register(ticket, lockup, folder)
    if ticket.abreast > 1:
        forms = len(lockup.block.forms) if lockup.block else 1
        both = forms == ticket.abreast
        yield Step(
            both, f"Its {ticket.abreast} forms {'make one block' if both else 'are not made into one block yet'}."
        )
    yield _holds(lockup, shop)


def _on_its_sheet(ticket: Ticket, lockup: Lockup) -> Step:
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


def _in_register(ticket: Ticket, lockup: Lockup, folder: str | Path) -> Step:
    """Say how far a second colour prints from where it belongs on the first; the guides stay as they were."""
    first_ticket = TICKETS[ticket.after or ""]
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
