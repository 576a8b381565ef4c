"""How each station of a job stands: done or not, and in words what was found or what is wanted."""

from __future__ import annotations

from typing import NamedTuple

from stonework.building import least_side
from stonework.carrying.state import BY_HAND, State, Station
from stonework.form import Edges
from stonework.jobs import Ticket, on_its_sheet
from stonework.lockup import SIDES, Lockup
from stonework.readiness import readiness
from stonework.rounds import rounds
from stonework.shop import Shop
from stonework.units import write_length

_NEAR = 1.0  # points: how near the form must come to the ticket's; this workbook's own figure
_WANTED: dict[Station, str] = {
    "lift": "Prop an edge at the stone, and press the type. Say so when nothing drops.",
    "press": "It's printed at the press, by someone who has been shown how. Say so when all sheets are done.",
    "put away": "Loosen, and put every piece back. Say so when the stone is empty.",
}
_DONE: dict[Station, str] = {
    "lift": "It was lifted at the stone, and nothing dropped.",
    "press": "It is printed.",
    "put away": "Everything is back in its place.",
}


class Standing(NamedTuple):
    """Whether a station is done, and the words for it."""

    done: bool
    words: str


def standing(station: Station, state: State, ticket: Ticket, shop: Shop) -> Standing:
    """Say how a station of a job stands."""
    if station in BY_HAND:
        done = station in state.ticked
        if not done and station != "put away" and not standing("quoins", state, ticket, shop).done:
            return Standing(False, "Nothing is locked up yet.")
        return Standing(done, (_DONE if done else _WANTED)[station])
    if station == "ticket":
        return Standing(True, f"The job is “{ticket.name}”.")
    if station == "measure":
        return _measured(state, ticket)
    if state.lockup is None:
        return Standing(False, "Place the form first." if station != "place" else "Say where the form prints.")
    return {"place": _placed, "block": _built, "wood": _backed, "quoins": _held, "tighten": _tightened}[station](
        state, state.lockup, ticket, shop
    )


def _measured(state: State, ticket: Ticket) -> Standing:
    if state.edges is None:
        return Standing(False, "Measure the form along its four edges.")
    edges = Edges(*state.edges)
    if not edges.square:
        return Standing(False, f"The form is {write_length(round(edges.out_of_square, 2))} out of square.")
    width, height = edges.head, edges.left
    words = f"The form is {_size(width, height)}, and square"
    if max(abs(width - ticket.form.width), abs(height - ticket.form.height)) > _NEAR:
        asked = _size(ticket.form.width, ticket.form.height)
        return Standing(True, f"{words}. But the ticket asks for {asked}: measure again, or change the jobs file.")
    return Standing(True, f"{words}.")


def _placed(_state: State, lockup: Lockup, ticket: Ticket, _shop: Shop) -> Standing:
    if ticket.chase not in ("", lockup.chase.name):
        return Standing(False, f"It lies in the {lockup.chase.name} chase, and the ticket asks for the {ticket.chase}.")
    return Standing(*on_its_sheet(ticket, lockup))


def _built(_state: State, lockup: Lockup, ticket: Ticket, shop: Shop) -> Standing:
    forms = len(lockup.block.forms) if lockup.block else 1
    if forms < ticket.abreast:
        return Standing(False, f"Its {ticket.abreast} forms aren't made into one block yet.")
    area, wanted = lockup.type_area, ticket.printed
    if lockup.block and max(abs(area.width - wanted.width), abs(area.height - wanted.height)) > _NEAR:
        asked = _size(wanted.width, wanted.height)
        return Standing(False, f"What prints is {_size(area.width, area.height)}; the ticket asks for {asked}.")
    if lockup.block:
        many = f"{forms} forms make" if forms > 1 else "The form is built up to"
        return Standing(True, f"{many} a block of {_size(lockup.form.width, lockup.form.height)}.")
    if min(lockup.form.width, lockup.form.height) < min(map(least_side, shop.quoins)):
        return Standing(False, "The form is too small for any quoin of the shop: build it up.")
    return Standing(True, "It needs no block.")


def _backed(_state: State, lockup: Lockup, ticket: Ticket, shop: Shop) -> Standing:
    bare = [side for side in SIDES if not any(item.kind != "quoin" for item in lockup.on(side))]
    if bare:
        return Standing(False, f"No wood lies on the {' and '.join(bare)} yet.")
    found = readiness(lockup, ticket.cabinet(shop))
    if found.mark == "WOULD NOT HOLD":
        return Standing(False, found.words)
    return Standing(True, f"{len(lockup.pieces)} pieces lie round it.")


def _held(_state: State, lockup: Lockup, ticket: Ticket, shop: Shop) -> Standing:
    if not lockup.quoin_sides:
        return Standing(False, "No quoins lie there yet.")
    unready = readiness(lockup, ticket.cabinet(shop)).words
    return Standing(not unready, unready or "It would hold, by every rule.")


def _tightened(state: State, lockup: Lockup, ticket: Ticket, shop: Shop) -> Standing:
    if readiness(lockup, ticket.cabinet(shop)).mark:
        return Standing(False, "It isn't ready to be tightened.")
    found = rounds(lockup, shop)
    if found.refusal:
        return Standing(False, found.refusal)
    given = [sum(by for quoin, by in state.turns if quoin == n) for n in range(len(found.room))]
    least, most = min(given, default=0), max(given, default=0)
    if most > least + 1:
        words = f"One quoin has had {_turns(most)} and another {least}: the form sits cocked. Even them out."
    elif least < found.wanted:
        words = f"Every quoin wants about {_turns(found.wanted)}; the one with the fewest has had {least}."
    else:
        return Standing(True, f"Every quoin has had {_turns(least)}: by the model it's time to try the lift.")
    return Standing(False, words)


def _turns(number: int) -> str:
    return "1 small turn" if number == 1 else f"{number} small turns"


def _size(width: float, height: float) -> str:
    return f"{write_length(round(width, 1))} × {write_length(round(height, 1))}"
