"""The choice of a block stated once more, for the CP-SAT solver of OR-tools: a proof to test against.

Written from the description in ``stonework.building`` and not from its code. Lengths are whole hundredths of a point.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from ortools.sat.python import cp_model
from stonework.shop import Shop

PICA = 1200
UNBACKED, CLEAR, APART, BEYOND, MOST_IN_A_ROW = 600, 300, PICA, 12 * PICA, 6
FAR = 100 * PICA


def hundredths(points: float) -> int:
    return round(100 * points)


@dataclass
class Band:
    """One band: how thick it is, how many pieces it has, and whether there is wood in it, or a joint."""

    thickness: cp_model.LinearExprT = 0
    pieces: cp_model.LinearExprT = 0
    wood: list[cp_model.IntVar] = field(default_factory=list)
    joints: list[cp_model.IntVar] = field(default_factory=list)


class Model:
    """What all blocks share: bands of layers, and one cabinet; ``layers`` is the most that a band is given."""

    def __init__(self, shop: Shop, layers: int) -> None:
        self.cp = cp_model.CpModel()
        self.layers = layers
        sizes = [*shop.stock.items(), *shop.metal.items()]
        self.sizes = [(m.kind, hundredths(m.thickness), hundredths(m.length), n) for m, n in sizes if n]
        self.leads = [hundredths(one) for one in (*shop.leads, *shop.slugs)]
        self.used: list[list[cp_model.LinearExprT]] = [[] for _ in self.sizes]
        self.pieces: list[cp_model.LinearExprT] = []
        self.uneven: list[cp_model.LinearExprT] = []

    def band(self, side: cp_model.LinearExprT, most: int) -> Band:
        """Return a band along a side: layers, of which each is nothing, a lead, a piece of wood or a row of metal."""
        cp, band = self.cp, Band()
        last = None
        for _ in range(self.layers):
            thickness, pieces = cp.new_int_var(0, most, ""), cp.new_int_var(0, MOST_IN_A_ROW, "")
            nothing = cp.new_bool_var("")
            cp.add(thickness == 0).only_enforce_if(nothing)
            cp.add(pieces == 0).only_enforce_if(nothing)
            kinds = [nothing]
            for lead in self.leads:
                kinds.append(chosen := cp.new_bool_var(""))
                cp.add(thickness == lead).only_enforce_if(chosen)
                cp.add(pieces == 1).only_enforce_if(chosen)
            metal: dict[int, list[tuple[int, cp_model.IntVar]]] = {}
            for i, (kind, thick, length, there) in enumerate(self.sizes):
                if kind == "metal":
                    metal.setdefault(thick, []).append((length, n := cp.new_int_var(0, min(there, MOST_IN_A_ROW), "")))
                    self.used[i].append(n)
                    continue
                kinds.append(chosen := cp.new_bool_var(""))
                self.used[i].append(chosen)
                band.wood.append(chosen)
                cp.add(thickness == thick).only_enforce_if(chosen)
                cp.add(pieces == 1).only_enforce_if(chosen)
                cp.add(side - 2 * UNBACKED <= length).only_enforce_if(chosen)
                cp.add(side - CLEAR >= length).only_enforce_if(chosen)
            for thick, row in metal.items():
                kinds.append(chosen := cp.new_bool_var(""))
                cp.add(thickness == thick).only_enforce_if(chosen)
                cp.add(pieces == sum(n for _, n in row)).only_enforce_if(chosen)
                cp.add(side == sum(length * n for length, n in row)).only_enforce_if(chosen)
                for _, n in row:
                    cp.add(n == 0).only_enforce_if(~chosen)
            cp.add_exactly_one(kinds)
            joint = cp.new_bool_var("")
            cp.add(pieces >= 2).only_enforce_if(joint)
            cp.add(pieces <= 1).only_enforce_if(~joint)
            band.joints.append(joint)
            if last is not None:
                cp.add(last >= thickness)  # layers may lie in any order: try one
            last = thickness
            band.thickness += thickness
            band.pieces += pieces
        cp.add(band.thickness <= most)
        self.pieces.append(band.pieces)
        return band

    def pair(self, side: cp_model.LinearExprT, most: int, apart: int) -> tuple[Band, Band]:
        """Return two bands on opposite sides; which is the thicker doesn't matter."""
        one, other = self.band(side, most), self.band(side, most)
        uneven = one.thickness - other.thickness
        self.cp.add(uneven >= 0)
        self.cp.add(uneven <= apart)
        self.uneven.append(uneven)
        return one, other

    def no_joints_over(self, below: Sequence[Band], above: Sequence[Band]) -> None:
        """Forbid joints in bands that lie over the ends of wood."""
        for wood in (wood for band in below for wood in band.wood):
            for joint in (joint for band in above for joint in band.joints):
                self.cp.add_implication(wood, ~joint)

    def best(self, size: cp_model.LinearExprT) -> tuple[int, int, int] | None:
        """Return the fewest pieces, then the least size, then by how much pairs differ; ``None`` if there's no way."""
        for (*_, there), used in zip(self.sizes, self.used, strict=True):
            self.cp.add(sum(used) <= there)
        found = []
        for objective in (sum(self.pieces), size, sum(self.uneven)):
            self.cp.minimize(objective)
            solver = cp_model.CpSolver()
            solver.parameters.num_workers, solver.parameters.random_seed = 1, 1
            status = solver.solve(self.cp)
            if status == cp_model.INFEASIBLE:
                return None
            assert status == cp_model.OPTIMAL, solver.status_name(status)
            found.append(round(solver.objective_value))
            self.cp.add(objective == found[-1])
        return tuple(found)


def best_block(
    width: float, height: float, shop: Shop, least: tuple[float, float], layers: int
) -> tuple[int, int, int] | None:
    """Return pieces, area and unevenness of the best block round one form, by either order of the pairs."""
    sizes, wanted = (hundredths(width), hundredths(height)), [hundredths(one) for one in least]
    answers = []
    for inner in (0, 1):
        model, outer = Model(shop, layers), 1 - inner
        most = [max(0, wanted[axis] - sizes[axis]) // 2 + BEYOND for axis in (0, 1)]
        apart = [min(APART, sizes[axis]) for axis in (0, 1)]
        within = model.pair(sizes[outer], most[inner], apart[inner])
        grown = model.cp.new_int_var(wanted[inner], FAR, "")
        model.cp.add(grown == sizes[inner] + sum(band.thickness for band in within))
        around = model.pair(grown, most[outer], apart[outer])
        across = model.cp.new_int_var(wanted[outer], FAR, "")
        model.cp.add(across == sizes[outer] + sum(band.thickness for band in around))
        model.no_joints_over(within, around)
        area = model.cp.new_int_var(0, FAR * FAR, "")
        model.cp.add_multiplication_equality(area, [grown, across])
        answers.append(model.best(area))
    return min((answer for answer in answers if answer), default=None)


def best_row(
    forms: Sequence[tuple[float, float]], shop: Shop, gutter: float, layers: int
) -> tuple[int, int, int] | None:
    """Return pieces, height and unevenness of the best row of forms."""
    model, sizes = Model(shop, layers), [(hundredths(width), hundredths(height)) for width, height in forms]
    tallest = max(height for _, height in sizes)
    common = model.cp.new_int_var(tallest, tallest + BEYOND, "")
    made_up = []
    for width, height in sizes:
        pair = model.pair(width, tallest + BEYOND, min(APART, height))
        model.cp.add(height + sum(band.thickness for band in pair) == common)
        made_up += pair
    gutters = [model.band(common, hundredths(gutter)) for _ in sizes[1:]]
    for band in gutters:
        model.cp.add(band.thickness == hundredths(gutter))
    model.no_joints_over(made_up, gutters)
    return model.best(common)
