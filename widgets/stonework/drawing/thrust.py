"""A form from the side: where furniture of some height pushes against the type, and the middle third."""

from __future__ import annotations

from stonework.drawing.picture import (
    INK,
    LABEL,
    LEAD,
    MAPLE,
    NOW,
    SAWN,
    STONE,
    WRONG,
    Picture,
    Segment,
    arrow,
    corners,
    shapes,
    strokes,
)
from stonework.pressing import ASSUMED, line_of_thrust
from stonework.units import POINTS_PER_INCH

_MOST = (9.6, 4.2)  # the most the picture takes, in inches
_PIECES = 9


class ThrustView(Picture):
    """Type between two pieces of furniture, seen along the stone; bowed, many times enlarged, if pushed too low."""

    def __init__(self, name: str = "thrust") -> None:
        super().__init__(name)
        self._stone = self.area(STONE, INK, 1.0, 1)
        self._wood = self.area(MAPLE, SAWN, 1.2, 2)
        self._type = self.area(LEAD, INK, 1.0, 2)
        self._third = self.area(NOW, "none", 0, 3, alpha=0.18)
        self._push = self.area(NOW, NOW, 1.0, 4)
        self._open = self.area("none", WRONG, 1.6, 4)

    def draw(self, furniture: float) -> None:
        """Draw furniture so many points high against type of full height."""
        body, broad, thick = ASSUMED.type_height, 150.0, 46.0
        self.frame(-thick - 40, -22, broad + thick + 110, body + 26, _MOST)
        self._stone.set_path(shapes([corners(-thick - 40, -22, broad + 2 * thick + 150, 22)]))
        self._wood.set_path(shapes([corners(-thick, 0, thick, furniture), corners(broad, 0, thick, furniture)]))
        wide = broad / _PIECES
        self._type.set_path(shapes(corners(n * wide, 0, wide, body) for n in range(_PIECES)))
        self._third.set_path(shapes([corners(0, body / 3, broad, body / 3)]))
        middle = furniture / 2
        self._push.set_path(shapes([arrow(-28, middle, 27, 4), arrow(broad + 28, middle, -27, 4)]))
        parted: list[Segment] = []
        if line_of_thrust(furniture) > 1:
            parted = [((n * wide, 0.62 * body), (n * wide, body + 5)) for n in range(1, _PIECES)]
        self._open.set_path(strokes(parted))
        x = broad + thick + 8
        self.write(x, body / 2, "middle third\nof the type", LABEL, ha="left")
        self.write(-thick / 2, furniture + 5, "furniture", LABEL, va="bottom")
        self.write(broad / 2, body + 8, "heads part" if parted else "type", LABEL, va="bottom")
        self.write(broad / 2, -11, "the stone", LABEL)
        self.finish(thrust_words(furniture))


def thrust_words(furniture: float) -> str:
    """Say where the push meets the type."""
    body, share = ASSUMED.type_height, line_of_thrust(furniture)
    below = (body - furniture) / 2 / POINTS_PER_INCH
    told = (
        f"Furniture {furniture / POINTS_PER_INCH:.3g} inch high pushes {below:.3f} inch below the middle of type "
        f"{body / POINTS_PER_INCH:.3f} inch high: {share:.0%} of the way to the edge of the middle third."
    )
    if share > 1:
        return (
            f"{told} That is below the middle third: by the model the feet are squeezed and the heads part a little, "
            "and such a form rises sooner. Forms are locked up with such furniture all the same: tighten no more than "
            "the lift asks for, and look under the form. The trial lift decides."
        )
    return f"{told} It keeps within it: feet and heads are both pressed, the feet more."
