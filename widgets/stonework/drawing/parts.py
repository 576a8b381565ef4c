"""Still drawings for the lessons: the parts of a lockup, its corners, a bind, a sprung form and the trial lift.

Each function draws one picture, the same each time, and returns it with a description in its ``words``.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from matplotlib.path import Path

from stonework.drawing import picture as ink
from stonework.drawing.picture import Corner, Picture, corners, rounded_box, shapes, strokes
from stonework.drawing.plan import RAIL
from stonework.drawing.still import (
    BROKEN,
    NAME,
    NOTE,
    TITLE,
    WIDE,
    StillPlan,
    arrow,
    draw,
    draw_piece,
    lead_to,
    name_part,
    note,
    show,
    smooth,
    turned,
)
from stonework.lockup import CLEAR, SIDES, Item, Lockup, PlacedForm, along_x, lay
from stonework.pressing import ASSUMED
from stonework.shop import Quoin
from stonework.units import POINTS_PER_INCH

HIGH, LOW = 0.7 * POINTS_PER_INCH, 0.5 * POINTS_PER_INCH
"""The two heights of furniture in the picture of a sprung form, in points."""

REGLETS = (12.0, 12.0)
"""The reglets that prop the chase in the picture of the trial lift: how thick they are, in points."""

# What lies across the chase of the trial lift, from the edge that stays down: what, and how thick, in points.
_ACROSS = (
    *(("rail", RAIL), ("furniture", 72.0), ("furniture", 60.0), ("line", 24.0), ("line", 24.0), ("fallen", 24.0)),
    *(*[("line", 24.0)] * 4, ("furniture", 96.0), ("reglet", 6.0), ("quoin", 25.6), ("reglet", 6.0), ("rail", RAIL)),
)


class BindingCorner(NamedTuple):
    """The form's upper right corner: the top's wood runs on through it, the right's piece stops there."""

    form: PlacedForm
    top: Item
    right: Item

    @property
    def at_the_end(self) -> float:
        """Points between the end of the piece on the right and the wood that closes in on it."""
        return self.top.y - (self.right.y + self.right.height)

    @property
    def at_the_form(self) -> float:
        """Points between the form's head and the wood that closes in on it."""
        return self.top.y - (self.form.y + self.form.height)


def binding_corner(past: float, at: Corner = (0.0, 0.0)) -> BindingCorner:
    """Return a corner, pushed home, where the piece on the right ends so many points past the head; less than 0, short.

    ``at`` is where the form's corner lies. All in points.
    """
    form, long = PlacedForm(at[0] - 34, at[1] - 30, 34.0, 30.0), 40.0  # no larger than the picture shows
    right = lay(form, "right", 1, "furniture", thickness=24, length=long, low=form.height + past - long, near=0)
    top = lay(form, "top", 1, "furniture", thickness=24, length=64, low=CLEAR, near=max(0.0, past))
    return BindingCorner(form, top, right)


# --- from above --------------------------------------------------------------------------------------------


def parts_of_a_lockup(lockup: Lockup, quoins: Sequence[Quoin]) -> Picture:
    """Name the parts of a lockup; its form should leave clear stone at the chase's four corners.

    ``quoins`` are the shop's patterns.
    """
    view = StillPlan("parts-of-a-lockup")
    form, wide, high = lockup.form, lockup.chase.width, lockup.chase.height
    right, top = form.x + form.width, form.y + form.height
    show(view, -RAIL - 156, -RAIL - 68, wide + RAIL + 156, high + RAIL + 68, ink.STONE)
    draw(view, rounded_box(-RAIL, -RAIL, wide + 2 * RAIL, high + 2 * RAIL, RAIL / 3), ink.IRON, ink.IRON_EDGE, 1.5, 1)
    draw(view, shapes([corners(0, 0, wide, high)]), ink.STONE, ink.IRON_EDGE, 1.5, 2)
    view.lie([form], lockup.items, quoins)
    arm, middle = 0.25 * form.height, form.x + 0.27 * form.width
    corner = Path([(form.x, form.y + arm), (form.x, form.y), (form.x + arm, form.y)])
    draw(view, corner, "none", ink.PAPER, 8, 7, capstyle="butt", joinstyle="miter")
    draw(view, corner, "none", ink.NOW, 4.5, 8, joinstyle="miter")

    block = next(item for item in lockup.on("left") if item.kind == "furniture")
    strips = [item for item in lockup.on("right") if item.kind == "reglet"]
    (above, *_), (beside, *_) = lockup.quoins("top"), lockup.quoins("right")
    on_wedge = (above.x + 0.8 * above.width, above.y + 0.5 * above.height)
    on_other = (beside.x + 0.5 * beside.width, beside.y + 0.8 * beside.height)
    on_block = (block.x + 0.5 * block.width, form.y + 0.57 * form.height)
    out, left, between, deep = RAIL + 80, 0.48 * form.x, (right + strips[0].x) / 2, 0.36 * form.y
    to_strips = [((between + 50, 62), (strip.x + strip.width / 2, strip.y + 14)) for strip in strips]
    to_quoins = ((right + 18, high - 40), on_wedge), ((strips[0].x - 36, high - 80), on_other)
    frame, bar = (wide + 32, high + 32), (wide + RAIL / 2, form.y + 10)
    name_part(view, wide + out, high + 16, "chase", "the iron frame", ((wide + out - 38, high + 26), frame))
    name_part(view, wide + out, form.y, "rail", "one of its\nfour bars", ((wide + out - 28, form.y + 10), bar))
    name_part(view, -out, on_block[1] - 12, "furniture", "blocks of wood", ((58 - out, on_block[1]), on_block))
    name_part(view, left, high - 45, "form", "the type itself", ((left + 68, high - 66), (form.x + 22, top - 24)))
    name_part(view, between + 8, high - 50, "quoins", "pairs of wedges", *to_quoins)
    name_part(view, between, 48, "reglet", "thin strips", *to_strips)
    name_part(view, left, deep, "solid corner", "wood alone", ((left + 26, deep + 24), (form.x, form.y)))
    name_part(view, middle, high + out - 46, "head", "upper end of the form", ((middle, high + 54), (middle, top - 3)))
    name_part(view, middle, -out + 42, "foot", "lower end of the form", ((middle, -RAIL - 12), (middle, form.y + 3)))
    view.finish(
        "A small lockup seen from above, its parts named: in an iron chase of four rails lies a form of type with its "
        "head and foot marked; furniture fills the left and the bottom up to the rails and makes the solid corner; at "
        "the top and on the right stand quoins between strips of reglet."
    )
    return view


def two_ways_at_the_corners() -> Picture:
    """Set the pinwheel beside the run-through corners: which ends stop, and which run on."""
    view = StillPlan("two-ways-at-the-corners")
    show(view, 0, 0, WIDE, 384, ink.STONE)
    wide, high, thick, short = 164.0, 120.0, 40.0, 7.0
    stops, through, before, after = (short, -short), (-thick, thick), (-thick, -short), (short, thick)
    # Where the two ends of each side's piece lie beyond the form's corners, in the order of SIDES.
    turning, straight = (before, after, after, before), (through, stops, through, stops)
    forms, pieces, running, stopping = [], [], [arrow((66, 22), (96, 22), 7)], [corners(388, 11, 5, 22)]
    for middle, ends in ((180.0, turning), (540.0, straight)):
        form = PlacedForm(middle - wide / 2, 160, wide, high)
        forms.append(form)
        for side, (low, past) in zip(SIDES, ends, strict=True):
            long = (wide if along_x(side) else high) + past - low
            pieces.append(lay(form, side, 1, "furniture", thickness=thick, length=long, low=low, near=0))
            for way, on in ((-1, low < 0), (1, past > 0)):
                (running if on else stopping).append(_end_mark(pieces[-1], way, on))
        view.write(middle, 220, "form", NAME, weight="bold", pill=True)
    view.lie(forms, pieces)
    draw(view, shapes(running), ink.INK, ink.PALE, 1.0, 8)
    draw(view, shapes(stopping), ink.INK, ink.PALE, 1.0, 8)
    view.write(180, 356, "Pinwheel, or chaser", TITLE, weight="bold")
    note(view, (180, 80), "Each piece stops at one corner\nand runs on at the next:\nit suits a form of any size.")
    view.write(540, 356, "Run through", TITLE, weight="bold")
    told = "Top and bottom run on at both ends.\nLeft and right stop at both ends, so they\n"
    note(view, (540, 80), f"{told}must be a little shorter than the form.")
    note(view, (106, 22), "this end runs on through the corner", ha="left")
    note(view, (404, 22), "this end stops short; the gap is drawn large", ha="left")
    view.finish(
        "Two plans of a form with one piece of wood on each side: on the left a pinwheel, where each piece stops short "
        "at one corner and runs on through the next; on the right the pieces at top and bottom run on through all four "
        "corners, and those at left and right stop short at both ends."
    )
    return view


def _end_mark(piece: Item, way: int, on: bool) -> list[Corner]:
    """Return the mark at the low (-1) or high (1) end of a piece: an arrow if it runs on, a bar across if it stops."""
    at = (piece.x + piece.width / 2, piece.y + piece.height / 2)
    end, turn = way * piece.length / 2, 0 if along_x(piece.side) else math.pi / 2
    mark = arrow((end - 36 * way, 0), (end - 6 * way, 0), 7) if on else corners(end - 7 * way - 2.5, -11, 5, 22)
    return turned(mark, turn, at)


def binding() -> Picture:
    """Show one corner twice, enlarged: an end three points short, and one three points too long."""
    view = StillPlan("binding")
    show(view, 0, 4, 147, 97, ink.STONE)
    places = ((32.0, 48.0), (106.0, 48.0))
    free, bound = binding_corner(-CLEAR, places[0]), binding_corner(CLEAR, places[1])
    view.lie([free.form, bound.form], [free.top, free.right, bound.top, bound.right])
    windows = Path.make_compound_path(*(rounded_box(x - 29, y - 25, 67, 64, 3) for x, y in places))
    around = Path([(-5, -5), (-5, 103), (152, 103), (152, -5), (-5, -5)], [1, 2, 2, 2, Path.CLOSEPOLY])
    # Paper covers what lies outside the two windows; their outlines run the other way round, so they stay open.
    draw(view, Path.make_compound_path(around, windows), ink.PAPER, "none", 0, 6)
    draw(view, windows, "none", ink.NOW, 2.6, 7)

    short = "The end stops three points short: the wood\nabove closes in until it meets the type."
    long = "The end is three points too long: the wood\nabove meets it first. The type stays loose."
    pushes = []
    for corner, (x, y), title, told, at_form, at_end in (
        (free, places[0], "✓ free", short, "pressed", "3 points\nfree"),
        (bound, places[1], "✗ binds", long, "loose", "meets\nthe end"),
    ):
        back, end = corner.top.y + corner.top.height, corner.right.y + corner.right.height
        pushes += [arrow((x + dx, back + 9), (x + dx, back), 2.2) for dx in (-20, -5, 10)]
        pushes += [arrow((x + 35.5, y - 20), (x + 24, y - 20), 2.2)]
        view.write(x + 4.5, y + 43.5, title, TITLE, weight="bold")
        note(view, (x + 4.5, y - 33), told)
        note(view, (x + 25, back + 5), "quoins push")
        view.write(x - 15, y - 9.5, at_form, NOTE, pill=True)
        lead_to(view, ((x - 15, y - 6.8), (x - 15, y + corner.at_the_form / 2)))
        note(view, (x + 31, y - 9.5), at_end, ((x + 26.5, y - 5.5), (x + 18, end + corner.at_the_end / 2)))
    draw(view, shapes(pushes), ink.NOW, ink.PAPER, 0.8, 7)
    (x, y), (far, _) = places
    draw(view, strokes([((x - 29, y), (x, y))]), "none", ink.NOW, 5, 5, capstyle="butt")
    meeting = strokes([((far, bound.top.y), (far + bound.right.width, bound.top.y))])
    draw(view, meeting, "none", ink.WRONG, 5, 5, capstyle="butt", linestyle=BROKEN)
    view.finish(
        "The upper right corner of a form, shown twice and enlarged, with arrows where quoins push the wood inward: on "
        "the left the piece beside the form stops three points short, so the wood above is free to press the type; on "
        "the right that piece is three points too long: the wood above meets its end, binds, and the type stays loose."
    )
    return view


# --- from the side -----------------------------------------------------------------------------------------


def sprung_form() -> Picture:
    """Show a form from the side, flat between high furniture, and bowed up off the stone between low."""
    view = Picture("a-sprung-form")
    show(view, 0, 0, WIDE, 472, ink.PAPER)
    for base, furniture, turn in ((276.0, HIGH, 0.0), (34.0, LOW, math.radians(2.6))):
        _row(view, base, furniture, turn)
    view.write(14, 452, "Flat", TITLE, weight="bold", ha="left")
    told = "The push meets the type within its middle third: feet and heads are both pressed."
    note(view, (96, 451), told, ha="left")
    view.write(14, 222, "Sprung", TITLE, weight="bold", ha="left")
    told = "Low furniture, locked too tight: the push lies too low. The bow is much exaggerated."
    note(view, (96, 221), told, ha="left")
    note(view, (176, 379), f"furniture\n{HIGH / POINTS_PER_INCH:.2g} inch")
    note(view, (360, 402), f"type {ASSUMED.type_height / POINTS_PER_INCH:.3f} inch high")
    note(view, (594, 386), "middle third\nof the type", ((548, 380), (492, 332)))
    note(view, (92, 132), f"furniture\n{LOW / POINTS_PER_INCH:.2g} inch", ((120, 114), (160, 86)))
    note(view, (622, 188), "heads part", ((582, 187), (492, 166)))
    note(view, (612, 15), "feet squeezed", ((562, 22), (483, 60)))
    note(view, (360, 50), "up off the stone")
    view.finish(
        "Two forms seen from the side, each a row of type between two pieces of furniture lower than the type: the "
        "upper one stands flat on the stone and is pushed within the middle third of its height; the lower one is "
        "pushed too low and has sprung, so that it bows up off the stone with its feet squeezed and its heads parted, "
        "the bow much exaggerated."
    )
    return view


def _row(view: Picture, base: float, furniture: float, turn: float) -> None:
    """Draw type between furniture on the stone, each piece turned so far from its neighbour; 0 lies flat."""
    times, count = 1.7, 11
    body, wide, thick, high = ASSUMED.type_height * times, 15 * times, 48 * times, furniture * times
    row = [("furniture", thick, high), *[("line", wide, body)] * count, ("furniture", thick, high)]
    angles = [((count + 1) / 2 - n) * turn for n in range(count + 2)]
    span = sum(width * math.cos(angle) for (_, width, _), angle in zip(row, angles, strict=True))
    foot = ((WIDE - span) / 2, base)
    push: list[Corner] = []
    draw_piece(view, "stone", WIDE, 34, 0, (0, base - 34))
    for (kind, width, height), angle in zip(row, angles, strict=True):
        draw_piece(view, kind, width, height, angle, foot)
        if kind == "line":
            third = turned(corners(0, body / 3, width, body / 3), angle, foot)
            draw(view, shapes([third]), ink.NOW, ink.NOW, 0.6, 3, alpha=0.25)
        push += turned([(0, high / 2), (width, high / 2)], angle, foot)
        foot = (foot[0] + width * math.cos(angle), foot[1] + width * math.sin(angle))
    draw(view, Path(push), "none", ink.NOW, 1.8, 4, linestyle=(0, (5, 3)))
    (x, y), (far, level) = push[0], push[-1]
    arrows = [arrow((x - 52, y), (x, y), 9), arrow((far + 52, level), (far, level), 9)]
    draw(view, shapes(arrows), ink.NOW, ink.PAPER, 0.8, 5)
    note(view, (x - 58, y), "push", ha="right")
    note(view, (60, base - 18), "the stone")


def trial_lift() -> Picture:
    """Show a chase from the side, cut through and propped, a finger on its type, and a line that has dropped."""
    view = Picture("the-trial-lift")
    show(view, 0, 0, WIDE, 336, ink.PAPER)
    base, prop = (97.0, 62.0), 490.0  # the edge that stays down, and how far from it the reglets begin
    tilt = math.atan2(sum(REGLETS), prop)
    draw_piece(view, "stone", WIDE, base[1], 0, (0, 0))
    x = 0.0
    for kind, thick in _ACROSS:
        height = ASSUMED.type_height if kind in ("line", "fallen") else ASSUMED.furniture_height
        down = x * math.tan(tilt) if kind == "fallen" else 0  # as far as the stone
        draw_piece(view, kind, thick, height, tilt, turned([(x, -down)], tilt, base)[0])
        x += thick
    for n, thick in enumerate(REGLETS):
        draw_piece(view, "reglet", ASSUMED.furniture_height, thick, 0, (base[0] + prop, base[1] + sum(REGLETS[:n])))
    _finger(view, turned([(310, ASSUMED.type_height)], tilt, base)[0])
    note(view, (118, 126), "chase")
    note(view, (206, 134), "furniture")
    note(view, (222, 186), "one line has dropped", ((268, 176), (333, 129)))
    note(view, (330, 262), "a finger presses\non the type")
    note(view, (558, 152), "quoins")
    note(view, (674, 88), "two reglets,\nabout a\ncentimetre")
    note(view, (60, 42), "the stone")
    note(view, (360, 18), "Keep your hands from under it. Your shop's rules and your instructor come first.")
    view.finish(
        "A chase with a form of seven lines, cut through and seen from the side: one edge is propped up about a "
        "centimetre on two reglets, a finger presses on the type from above, and one line has dropped below the others "
        "as far as the stone."
    )
    return view


def _finger(view: Picture, tip: Corner, lean: float = -0.3) -> None:
    """Draw a hand that presses with the tip of one finger, leaning so far anticlockwise."""
    back = ((-30, 150), (-30, 118), (-22, 92), (-19, 70), (-20, 50), (-18, 26), (-15, 9), (-6, 0.6), (5, 0.4), (14, 8))
    palm = ((18, 26), (17, 48), (19, 66), (23, 78), (36, 74), (47, 84), (49, 98), (58, 104), (62, 120), (58, 150))
    nail, crease = ((-17.5, 27), (-11, 25), (-8, 14), (-12.5, 6)), ((16.5, 46), (11, 45.5), (7, 47))
    knuckle = ((23, 78), (25, 92), (34, 100), (49, 98))
    draw(view, smooth(turned((*back, *palm), lean, tip)), ink.PAPER, ink.INK, 1.6, 5)
    for line in (nail, crease, knuckle):
        draw(view, smooth(turned(line, lean, tip)), "none", ink.INK, 1.2, 6)
    draw(view, shapes([turned(corners(-37, 146, 102, 60), lean, tip)]), ink.NOW, ink.INK, 1.4, 6)
