"""What the quoins do to a form: how hard they press, what stays loose, how crooked it sits, whether it lifts.

The form is a rigid block seen from above. Wood on the two solid sides is a bed of springs, and each quoin is one
spring; all of them push, none pulls, nothing rubs. So the form lies where the energy is least. It is a model to
learn from: which way things go, and which of two ways of working is better. Forces and points are good to a factor
of two or three, because the joints' give is a guess. No figure here says what a chase, a quoin or a hand can bear.

Lengths are points, forces newtons, stiffnesses N/mm, moduli N/mm² (MPa), moments N·mm. Places along a side count
from its middle, to the right or up. Every function raises ``ValueError``, its text a sentence, for a figure that
can't be.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, fields
from functools import cached_property
from numbers import Real
from typing import NamedTuple

from stonework.form import Form
from stonework.lockup import SIDES, Lockup, Side, along_x, opposite, pattern_of
from stonework.shop import Quoin
from stonework.units import PICA, POINTS_PER_INCH

MM = 25.4 / POINTS_PER_INCH
"""Millimetres in a point."""

_NEWTONS_PER_POUND = 4.4482216
_LARGE, _SMALL = 1e9, 1e-6  # beyond all reason, and as good as nothing, in any unit used here
_NOTHING = 1e-100  # newtons; keeps a division by no push at all from failing
_ROUNDING = 1e-9  # points
_FIRM = 1e-9  # what presses less than this share of the whole push is loose


def _number(what: str, value: float, unit: str = "", low: float = -_LARGE, high: float = _LARGE) -> float:
    if not (isinstance(value, Real) and low <= value <= high):
        raise ValueError(f"{what} was read as {value!r}{unit}; it must be a number from {low:g} to {high:g}.")
    return float(value)


@dataclass(frozen=True, slots=True)
class Assumptions:
    """What the model takes for granted, each with its source or the word “assumed”. Replace what you can measure."""

    across_grain: float = 1200.0
    """Modulus of wood pressed across the grain, MPa. Assumed, between sugar maple's 819 tangential and 1663 radial:
    0.065 and 0.132 (*Wood Handbook*, FPL-GTR-190, Table 5-1) of 12 600 (its Table 5-3, by way of a database)."""
    furniture_height: float = 0.625 * POINTS_PER_INCH
    """How high wood stands from the stone: 5/8 inch (W. Savage, *Dictionary*, 1841, “Furniture”)."""
    type_height: float = 0.918 * POINTS_PER_INCH
    """Height to paper: 0.918 inch (A. A. Stewart, *Type*, 1918, p. 7)."""
    joint_give: float = 0.04
    """How far one joint in the wood closes, mm for each MPa. Assumed; anything from 0.02 to 0.1 is as likely."""
    form_give: float = 0.003
    """How far one pica of the form closes, joints and all, mm for each MPa. Assumed."""
    rail_stiffness: float = 4500.0
    """Push on a rail of the chase that bows its middle by a millimetre, N/mm; lumped in as if the whole rail gave
    way alike. Assumed: ``chase_frame``'s figure for the longer rail of an 8 × 12 chase of 3/4-inch iron bars."""
    friction: float = 0.2
    """Friction that holds the form at its sides. Assumed; chestnut on steel was measured at 0.19 dry and 0.50 damp
    (*Forests* 13:1078, 2022)."""
    margin: float = 3.0
    """How many times its own weight a form or a line should be held by. Assumed."""
    line_stiffness: float = 546.0
    """Stiffness of a line of type pressed end to end, N/mm. Assumed."""
    line_short: float = 0.1
    """How far a well-set line may fall short of the fullest and must still be held, in points. Assumed."""

    def __post_init__(self) -> None:
        for each in fields(self):
            low = 0.0 if each.name in ("joint_give", "form_give", "friction") else _SMALL
            _number(f"The assumption “{each.name.replace('_', ' ')}”", getattr(self, each.name), low=low)


ASSUMED = Assumptions()


# --- the form between its beds and quoins -----------------------------------------------------------------


class Bed(NamedTuple):
    """The wood of a solid side; ``modulus`` is newtons for each mm of side and each mm it is pressed in."""

    side: Side
    modulus: float


class Spring(NamedTuple):
    """One quoin with its wood; ``at`` is how far its middle lies from the middle of the side, in points.

    It bears evenly along its ``length``, or at one place if that is nothing. ``room`` is how far it can still open
    before the end of its travel.
    """

    side: Side
    at: float
    stiffness: float
    length: float = 0.0
    room: float = math.inf


class BedPressure(NamedTuple):
    """How a solid side is pressed: N for each mm of it at its left or lower end, and at its right or upper end.

    Between them it runs straight, over ``contact`` points; ``loose`` says that the rest has lifted off.
    """

    side: Side
    low: float
    high: float
    contact: float
    loose: bool


@dataclass(frozen=True, slots=True)
class State:
    """How a form lies under some openings of its quoins; ``forces`` are one a quoin, ``energy`` is N·mm.

    ``moved`` is how far its middle went right and up, in points, and ``turned`` how far it turned anticlockwise, in
    radians. ``skew`` is the turn in points over the form's longer side: how far it sits cocked. That stands here
    for lines out of square, which a rigid block can't show.
    """

    openings: tuple[float, ...]
    forces: tuple[float, ...]
    beds: tuple[BedPressure, ...]
    moved: tuple[float, float]
    turned: float
    skew: float
    energy: float

    @property
    def loose_quoins(self) -> tuple[int, ...]:
        """Which quoins push nothing."""
        return tuple(n for n, force in enumerate(self.forces) if force <= _FIRM * sum(self.forces))

    @property
    def loose(self) -> bool:
        """Say whether a quoin pushes nothing, or part of a solid side has lifted off."""
        return bool(self.loose_quoins) or any(bed.loose for bed in self.beds)


class _Contact(NamedTuple):
    """Where wood meets the form: from ``start`` to ``stop`` along a side, in mm; they may be one place.

    At s along it, it closes in by its opening + ``sign`` × (u if ``axis`` is 0, v if 1) + ``lever`` × w × s.
    """

    axis: int
    sign: float
    lever: float
    start: float
    stop: float
    modulus: float


class _Pressed(NamedTuple):
    """How far a contact closes in at its two ends, over how long a part it touches (mm), and its whole force."""

    low: float = 0.0
    high: float = 0.0
    span: float = 0.0
    force: float = 0.0


class _Balance(NamedTuple):
    """The energy, its slopes along u, v, w, its curvatures uu and vv, uw and vw, and ww, and each contact's part."""

    energy: float
    slopes: list[float]
    direct: list[float]
    mixed: list[float]
    turning: float
    pressed: list[_Pressed]

    @property
    def off(self) -> float:
        """How far it is from rest: the steepest slope as a share of all pushes."""
        return max(map(abs, self.slopes)) / (sum(part.force for part in self.pressed) + _NOTHING)

    def newton(self) -> tuple[float, float, float]:
        """Return Newton's step; where nothing resists, it stays. u and v meet only through w."""
        (u, v, w), (uw, vw) = self.slopes, self.mixed
        uu, vv = self.direct[0] or 1.0, self.direct[1] or 1.0
        resisting = max(self.turning - uw**2 / uu - vw**2 / vv, 1e-12 * self.turning) or 1.0
        turn = (u * uw / uu + v * vw / vv - w) / resisting
        return -(u + uw * turn) / uu, -(v + vw * turn) / vv, turn


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
        _number("The form's width", self.width, " pt", 1.0)
        _number("The form's height", self.height, " pt", 1.0)
        solid = [bed.side for bed in self.beds]
        if len(solid) != 2 or {along_x(side) for side in solid if side in SIDES} != {True, False}:
            raise ValueError(f"The solid sides were read as {solid}; they must be two that meet, as bottom and left.")
        for bed in self.beds:
            _number(f"The {bed.side} bed's modulus", bed.modulus, " N/mm²", _SMALL)
        for quoin in self.quoins:
            if quoin.side not in map(opposite, solid):
                raise ValueError(f"A quoin was read on the {quoin.side}; it must lie across from a solid side.")
            half = self._length(quoin.side) / 2
            _number(f"A {quoin.side} quoin's place from the middle of its side", quoin.at, " pt", -half, half)
            _number(f"A {quoin.side} quoin's stiffness", quoin.stiffness, " N/mm", _SMALL)
            _number(f"A {quoin.side} quoin's length", quoin.length, " pt", 0)
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
            tuple(_bed(lockup, opposite(side), assumed) for side in sides),
            tuple(spring for side in sides for spring in _springs(lockup, side, assumed, quoins)),
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
        openings = tuple(_number(f"Opening {n}", opening, " pt") for n, opening in enumerate(openings, 1))
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
            loose = contact < self._length(side) * (1 - _FIRM)
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
    def _contacts(self) -> tuple[_Contact, ...]:
        """The two beds, then the quoins."""
        contacts = []
        whole = [(side, 0.0, self._length(side), modulus) for side, modulus in self.beds]
        each = [(q.side, q.at, q.length, q.stiffness / (q.length * MM or 1)) for q in self.quoins]
        for side, middle, length, modulus in (*whole, *each):
            sign = 1.0 if side in ("top", "right") else -1.0
            lever = (sign if along_x(side) else -sign) / self._radius
            start, stop = (middle - length / 2) * MM, (middle + length / 2) * MM
            contacts.append(_Contact(int(along_x(side)), sign, lever, start, stop, modulus))
        return tuple(contacts)

    def _balance(self, openings: Sequence[float], place: Sequence[float]) -> _Balance:
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
                pressed.append(_Pressed())
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
            pressed.append(_Pressed(low, high, span, force))
        return _Balance(energy, slopes, direct, mixed, turning, pressed)

    def _settle(self, openings: Sequence[float]) -> tuple[tuple[float, ...], _Balance]:
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


# --- springs from the pieces in a lockup ------------------------------------------------------------------


def _stack_give(lockup: Lockup, side: Side, assumed: Assumptions) -> float:
    """Return how far all that lies on a side closes, mm for each MPa: its layers and the joints round them in a row."""
    layers = {item.order: item for item in lockup.on(side)}.values()
    wood = sum(layer.thickness for layer in layers if layer.kind != "quoin")
    return wood * MM / assumed.across_grain + (len(layers) + 1) * assumed.joint_give


def _bed(lockup: Lockup, side: Side, assumed: Assumptions) -> Bed:
    if not lockup.on(side):
        raise ValueError(f"No wood was read on the {side}; a solid side needs wood from the form to the chase.")
    length, across = lockup.side_length(side), lockup.side_length("left" if along_x(side) else "bottom")
    give = _stack_give(lockup, side, assumed) + assumed.form_give * across / PICA
    return Bed(side, 1 / (give / (assumed.furniture_height * MM) + length * MM / assumed.rail_stiffness))


def _springs(lockup: Lockup, side: Side, assumed: Assumptions, patterns: Sequence[Quoin]) -> list[Spring]:
    """Return a side's quoins, each pressing on wood of its own length; together they bow the one rail."""
    row = sorted(((lockup.seen_from(side, quoin), quoin) for quoin in lockup.quoins(side)), key=lambda one: one[0].low)
    springs = []
    for seen, quoin in row:
        length = _number(f"A {side} quoin's length", seen.high - seen.low, " pt", _SMALL)
        face = length * assumed.furniture_height * MM**2
        give = _stack_give(lockup, side, assumed) / face + len(row) / assumed.rail_stiffness
        pattern, room = pattern_of(quoin, patterns), math.inf
        if pattern is not None:
            opening = quoin.thickness - pattern.closed
            pattern.allow(opening)
            room = pattern.travel - opening
        springs.append(Spring(side, (seen.low + seen.high - lockup.side_length(side)) / 2, 1 / give, length, room))
    return springs


# --- lifting and springing --------------------------------------------------------------------------------


def weight_of_type(width: float, height: float) -> float:
    """Return the most that type and leads of an outline can weigh, in newtons: that of one block of their metal."""
    form = Form(_number("The width", width, " pt", _SMALL), _number("The height", height, " pt", _SMALL))
    return form.solid_metal * _NEWTONS_PER_POUND


class Lift(NamedTuple):
    """What friction can hold at the form's four sides, and what is wanted, in newtons.

    ``enough`` is what the sum says. Lines and letters drop, not forms, so only a trial lift will tell.
    """

    hold: float
    wanted: float
    enough: bool


def lift(forces: Sequence[float], weight: float, assumed: Assumptions = ASSUMED) -> Lift:
    """Weigh the friction under all quoins' forces against the form's weight in newtons: 2µΣN ≥ margin × W."""
    hold = 2 * assumed.friction * sum(_number("A quoin's force", force, " N", 0) for force in forces)
    wanted = assumed.margin * _number("The weight", weight, " N", 0)
    return Lift(hold, wanted, hold >= wanted)


class Lines(NamedTuple):
    """The force on the ends of each line, in newtons, and which lines it doesn't hold."""

    forces: tuple[float, ...]
    dropped: tuple[int, ...]


def press_lines(push: float, shortfalls: Sequence[float], weight: float, assumed: Assumptions = ASSUMED) -> Lines:
    """Share the side quoins' whole push among lines of type, each some points short of the fullest.

    The lines are springs side by side between stiff sticks. One of this weight (N) drops if 2µN < margin × weight.
    """
    _number("The push", push, " N", 0)
    wanted = assumed.margin * _number("A line's weight", weight, " N", 0)
    gaps = [_number(f"Line {n}'s shortfall", gap, " pt", 0) * MM for n, gap in enumerate(shortfalls, 1)]
    if not gaps:
        raise ValueError("No lines were read; give the points by which each is short, 0 for a full one.")
    squeeze = math.inf
    for n, gap in enumerate(ordered := sorted(gaps), 1):  # the fullest take the push until the next one is met
        if gap < squeeze:
            squeeze = (push / assumed.line_stiffness + sum(ordered[:n])) / n
    forces = tuple(assumed.line_stiffness * max(0.0, squeeze - gap) for gap in gaps)
    return Lines(forces, tuple(n for n, force in enumerate(forces) if 2 * assumed.friction * force < wanted))


def line_of_thrust(
    furniture_height: float = ASSUMED.furniture_height, type_height: float = ASSUMED.type_height
) -> float:
    """Return how far below mid-height furniture on the stone presses the type, as a share of a sixth of its height.

    It presses at half its own height: (B − h)/2 below. Beyond 1 the thrust has left the middle third (footings: Das,
    *Principles of Foundation Engineering*, at second hand): feet are squeezed, heads part, and the form springs up in
    the middle.
    """
    wood = _number("The furniture's height", furniture_height, " pt", _SMALL)
    return 3 * (1 - wood / _number("The type's height", type_height, " pt", _SMALL))


def spring_rise(push: float, along: float, across: float, assumed: Assumptions = ASSUMED) -> float:
    """Return how far the middle of a form rises off the stone, in points, under a push along its ``along`` side.

    The push, in newtons, lies below the middle of the type and bends the form as a beam ``across`` wide: straight
    beam theory while the thrust keeps to the middle third, and beyond it with the heads parted. Lengths are points.
    A picture of which way it goes more than a figure: the form's own stiffness is assumed.
    """
    force = _number("The push", push, " N", 0)
    length, width = (_number("The form's side", side, " pt", 1) * MM for side in (along, across))
    body = assumed.type_height * MM
    modulus = PICA * MM / max(assumed.form_give, _SMALL)
    off = (assumed.type_height - assumed.furniture_height) * MM / 2
    if off <= body / 6:
        curvature = 12 * force * off / (modulus * width * body**3)
    else:
        curvature = 2 * force / (9 * max(body / 2 - off, _SMALL) ** 2 * modulus * width)
    return curvature * length**2 / 8 / MM if off > 0 else 0.0


# --- the wedge --------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Wedge:
    """A quoin of two wedges that a key's pinion drives past each other.

    ``taper`` is one wedge's rise over its run, ``pinion`` a radius in points: measure both. ``inner`` is the friction
    between the wedges and ``outer`` of each on the wood: assumed. The forces follow from the balance of one wedge.
    """

    taper: float
    inner: float = 0.15
    outer: float = 0.30
    pinion: float = 5.0 / MM

    def __post_init__(self) -> None:
        _number("The wedge's taper", self.taper, low=0.001, high=0.5)
        _number("The wedge's inner friction", self.inner, low=0, high=1)
        _number("The wedge's outer friction", self.outer, low=0, high=1)
        _number("The pinion's radius", self.pinion, " pt", _SMALL)

    def drive(self, push: float) -> float:
        """Return the force along each wedge, in newtons, that tightens the quoin against a push."""
        slope = math.tan(math.atan(self.taper) + math.atan(self.inner))
        return _number("The push", push, " N", 0) * (slope + self.outer)

    def back_out(self, push: float) -> float:
        """Return the force along each wedge, in newtons, that loosens it; below 0 it slips back by itself."""
        slope = math.tan(math.atan(self.taper) - math.atan(self.inner))
        return _number("The push", push, " N", 0) * (self.outer - slope)

    def torque(self, push: float) -> float:
        """Return the torque on the key, N·mm, that tightens the quoin against a push: both wedges at the pinion."""
        return 2 * self.pinion * MM * self.drive(push)

    @property
    def self_locking(self) -> bool:
        """Say whether it stays where the key leaves it: the taper's angle is within both angles of friction."""
        return math.atan(self.taper) <= math.atan(self.inner) + math.atan(self.outer)

    @property
    def quarter_turn(self) -> float:
        """How far a quarter turn of the key opens it, in points: each wedge runs a quarter of the pinion's round."""
        return math.pi * self.pinion * self.taper


# --- damp -------------------------------------------------------------------------------------------------

WOODS = {
    "sugar maple": (0.00165, 0.00353),
    "red maple": (0.00137, 0.00289),
    "black cherry": (0.00126, 0.00248),
    "American beech": (0.00190, 0.00431),
}
"""What a wood gains of its width for each 1 % of moisture, radially and tangentially: from 6 to 14 % (*Wood
Handbook*, FPL-GTR-190, Table 13-5). Furniture isn't sorted by the run of its rings."""


def moisture_growth(thickness: float, coefficient: float, before: float, after: float) -> float:
    """Return how many points some points of wood gain as their moisture goes from before to after, in per cent.

    ``coefficient`` is one of ``WOODS``, which hold from 6 to 14 %. In a lockup this acts, at most, like opening that
    side's quoins so far: wood under a push creeps.
    """
    _number("The stack's thickness", thickness, " pt", 0)
    _number("The coefficient", coefficient, low=0, high=0.1)
    change = _number("The moisture after", after, " %", 6, 14) - _number("The moisture before", before, " %", 6, 14)
    return thickness * coefficient * change


def equilibrium_moisture(celsius: float, humidity: float) -> float:
    """Return the moisture, in per cent, that wood comes to in air of some °C and per cent relative humidity.

    Hailwood and Horrobin's equation as W. T. Simpson gives it (FPL-RN-0268, 1998); coefficients from memory.
    """
    t, h = _number("The temperature", celsius, " °C", 0, 60), _number("The humidity", humidity, " %", 0, 100) / 100
    w = 349 + 1.29 * t + 0.0135 * t**2
    kh = (0.805 + 0.000736 * t - 0.00000273 * t**2) * h
    one = (6.27 - 0.00938 * t - 0.000303 * t**2) * kh
    two = one * (1.91 + 0.0407 * t - 0.000293 * t**2) * kh
    return 1800 / w * (kh / (1 - kh) + (one + 2 * two) / (1 + one + two))


# --- the chase --------------------------------------------------------------------------------------------


class Rail(NamedTuple):
    """A rail of the chase, pushed outward; its opposite is pushed alike.

    ``length`` is between the middles of the corners. Half the ``push`` bears at each of two places ``apart`` from
    each other about the rail's middle; or all of it is spread evenly, if that is ``None``.
    """

    length: float
    push: float
    apart: float | None = None

    def beam(self) -> tuple[float, float, float]:
        """Return its end moments if held fast, and its middle's moment (N·mm) and bow × EI (N·mm³) if free."""
        length = _number("A rail's length", self.length, " pt", 1) * MM
        push = _number("A rail's push", self.push, " N", 0)
        if self.apart is None:
            return push * length / 12, push * length / 8, push * length**3 * 5 / 384
        end = (length - _number("The distance between two pushes", self.apart, " pt", 0, self.length) * MM) / 2
        half = push / 2
        return half * end * (length - end) / length, half * end, half * end * (3 * length**2 - 4 * end**2) / 24


class Frame(NamedTuple):
    """The moments at the corners and at each rail's middle (N·mm), and how far each rail bows (points)."""

    corner: float
    middles: tuple[float, ...]
    bows: tuple[float, ...]


def chase_frame(one: Rail, other: Rail, rigidity: float) -> Frame:
    """Bend a chase as a closed frame of like bars: to rank lockups and to teach, never to say what a chase bears.

    ``rigidity`` is EI in N·mm²; for a plain bar, modulus × depth³ × thickness / 12, its depth as seen from above.
    A corner takes the mean of both rails' held-fast moments, weighed by length.
    """
    _number("The rigidity", rigidity, " N·mm²", 1, 1e15)
    bars = [(rail.length * MM, *rail.beam()) for rail in (one, other)]
    corner = sum(length * fast for length, fast, _, _ in bars) / sum(length for length, *_ in bars)
    bows = (sag - corner * length**2 / 8 for length, _, _, sag in bars)
    return Frame(corner, tuple(free - corner for _, _, free, _ in bars), tuple(bow / rigidity / MM for bow in bows))
