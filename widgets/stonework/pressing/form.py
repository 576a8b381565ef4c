"""The form between the beds of two solid sides and its quoins."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from stonework.lockup import SIDES, Lockup, Side, along_x, opposite
from stonework.pressing.assuming import ASSUMED, LITTLE, MM, Assumptions, number
from stonework.pressing.balance import Balance, Contact, Pressed
from stonework.pressing.springs import Bed, Spring, bed_of, springs_of
from stonework.pressing.state import FIRM, BedPressure, State
from stonework.shop import Quoin

_ROUNDING = 1e-9  # points


@dataclass(frozen=True)
class PressedForm:
    """A form, in points, on the beds of two solid sides that meet, with one or more quoins on each other side.

    A side's quoins are numbered from left to right, or from the bottom up.
    """

    width: float
    height: float
    beds: tuple[Bed, ...]
    quoins: tuple[Spring, ...]

    def __post_init__(self) -> None:
        number("The form's width", self.width, " pt", 1.0)
        number("The form's height", self.height, " pt", 1.0)
        solid = [bed.side for bed in self.beds]
        if len(solid) != 2 or {along_x(side) for side in solid if side in SIDES} != {True, False}:
            raise ValueError(f"The solid sides were read as {solid}; they must be two that meet, as bottom and left.")
        for bed in self.beds:
            number(f"The {bed.side} bed's modulus", bed.modulus, " N/mm²", LITTLE)
        for quoin in self.quoins:
            if quoin.side not in map(opposite, solid):
                raise ValueError(f"A quoin was read on the {quoin.side}; it must lie across from a solid side.")
            half = self._length(quoin.side) / 2
            number(f"A {quoin.side} quoin's place from the middle of its side", quoin.at, " pt", -half, half)
            number(f"A {quoin.side} quoin's stiffness", quoin.stiffness, " N/mm", LITTLE)
            number(f"A {quoin.side} quoin's length", quoin.length, " pt", 0)
        for side in map(opposite, solid):
            places = [quoin.at for quoin in self.quoins if quoin.side == side]
            if not places:
                raise ValueError(f"No quoin was read on the {side}; each side across from a solid one needs a quoin.")
            if places != sorted(places):
                raise ValueError(f"The {side} quoins were read at {places}; number them from left or bottom on.")

    @classmethod
    def of(cls, lockup: Lockup, assumed: Assumptions = ASSUMED, quoins: Sequence[Quoin] = ()) -> PressedForm:
        """Return the model of a lockup, its springs reckoned from the pieces that lie in it.

        Quoins are numbered side by side, in the order of ``lockup.quoin_sides``. ``quoins`` are the shop's patterns:
        they say how far each can still open. ``ValueError`` for one that is open past its travel already.
        """
        sides = lockup.quoin_sides
        if len(sides) != 2 or along_x(sides[0]) == along_x(sides[1]):
            raise ValueError(f"Quoins were read on {list(sides)}; they must lie on two sides that meet.")
        return cls(
            lockup.form.width,
            lockup.form.height,
            tuple(bed_of(lockup, opposite(side), assumed) for side in sides),
            tuple(spring for side in sides for spring in springs_of(lockup, side, assumed, quoins)),
        )

    @property
    def sides(self) -> tuple[Side, ...]:
        """The side that each quoin lies on."""
        return tuple(quoin.side for quoin in self.quoins)

    def off_middle(self, side: Side) -> float:
        """Return how far the middle of a side's quoins stands from the middle of that side, to the right or up."""
        row = [quoin.at for quoin in self.quoins if quoin.side == side]
        return math.fsum(row) / len(row)

    def state(self, openings: Sequence[float]) -> State:
        """Return how the form lies with each quoin opened so many points beyond touching; less than 0 falls short."""
        if len(openings) != len(self.quoins):
            raise ValueError(f"{len(openings)} openings were read; give {len(self.quoins)}, one for each quoin.")
        openings = tuple(number(f"Opening {n}", opening, " pt") for n, opening in enumerate(openings, 1))
        for quoin, opening in zip(self.quoins, openings, strict=True):
            if opening > quoin.room + _ROUNDING:
                raise ValueError(
                    f"A {quoin.side} quoin would open {opening:g} pt more, and its travel has {quoin.room:g} pt left: "
                    "put in more wood, so that it starts thinner."
                )
        place, here = self._settle([0.0, 0.0, *(opening * MM for opening in openings)])
        beds = []
        for (side, modulus), (low, high, span, force) in zip(self.beds, here.pressed[:2], strict=True):
            contact = span / MM if force else 0.0
            loose = contact < self._length(side) * (1 - FIRM)
            beds.append(BedPressure(side, modulus * low, modulus * high, contact, loose))
        turned = place[2] / self._radius
        return State(
            openings,
            tuple(part.force for part in here.pressed[2:]),
            tuple(beds),
            (place[0] / MM, place[1] / MM),
            turned,
            turned * max(self.width, self.height),
            here.energy,
        )

    def _length(self, side: Side) -> float:
        return self.width if along_x(side) else self.height

    # Below, lengths are millimetres. The form's place is u to the right, v up, and w: its turn anticlockwise times
    # ``_radius``, so that all three are lengths of one size.

    @cached_property
    def _radius(self) -> float:
        return max(self.width, self.height) * MM / 2

    @cached_property
    def _contacts(self) -> tuple[Contact, ...]:
        """The two beds, then the quoins."""
        contacts = []
        whole = [(side, 0.0, self._length(side), modulus) for side, modulus in self.beds]
        each = [(q.side, q.at, q.length, q.stiffness / (q.length * MM or 1)) for q in self.quoins]
        for side, middle, length, modulus in (*whole, *each):
            sign = 1.0 if side in ("top", "right") else -1.0
            lever = (sign if along_x(side) else -sign) / self._radius
            start, stop = (middle - length / 2) * MM, (middle + length / 2) * MM
            contacts.append(Contact(int(along_x(side)), sign, lever, start, stop, modulus))
        return tuple(contacts)

    def _balance(self, openings: Sequence[float], place: Sequence[float]) -> Balance:
        """Add up ½∫κz² over what is in touch, its slopes and curvatures, in closed form.

        What just touches counts as in touch, so the first step from rest is exact unless something lifts off.
        """
        energy = turning = 0.0
        slopes, direct, mixed = [0.0, 0.0, 0.0], [0.0, 0.0], [0.0, 0.0]
        pressed = []
        for opening, (axis, sign, lever, start, stop, modulus) in zip(openings, self._contacts, strict=True):
            middle, tilt = opening + sign * place[axis], lever * place[2]
            low, high = middle + tilt * start, middle + tilt * stop
            if low < 0 > high:
                pressed.append(Pressed())
                continue
            first, last = (start if low >= 0 else -middle / tilt), (stop if high >= 0 else -middle / tilt)
            low, high = max(0.0, low), max(0.0, high)
            span, centre = last - first, (first + last) / 2
            one = modulus * span if start < stop else modulus  # ∫κ ds, and with s and s² in it:
            two, three = one * centre, one * (centre**2 + span**2 / 12)
            force = one * (low + high) / 2
            energy += one * (low**2 + low * high + high**2) / 6
            slopes[axis] += sign * force
            slopes[2] += lever * (force * centre + one * span * (high - low) / 12)
            direct[axis] += one
            mixed[axis] += sign * lever * two
            turning += lever**2 * three
            pressed.append(Pressed(low, high, span, force))
        return Balance(energy, slopes, direct, mixed, turning, pressed)

    def _settle(self, openings: Sequence[float]) -> tuple[tuple[float, ...], Balance]:
        """Return the place of least energy, and how it is there: Newton's steps from rest, halved until they gain."""
        place = (0.0, 0.0, 0.0)
        here = self._balance(openings, place)
        for _ in range(50):
            if here.off <= 1e-12:
                break
            step = here.newton()
            gain = sum(slope * by for slope, by in zip(here.slopes, step, strict=True))
            for share in (0.5**halvings for halvings in range(30)):
                there = tuple(at + share * by for at, by in zip(place, step, strict=True))
                after = self._balance(openings, there)
                if after.energy <= here.energy * (1 + 1e-14) + 1e-4 * share * gain:  # as far as rounding can tell
                    break
            place, here = there, after
        if not here.off <= 1e-6:
            points = [opening / MM for opening in openings[2:]]
            raise ValueError(f"Openings of {points} pt find no balance; look for one, or a stiffness, far from likely.")
        return place, here
