"""A form drawn from its four edges, what is out of square shown many times larger than it is."""

from __future__ import annotations

from stonework.drawing.picture import INK, LABEL, LEAD, NOW, STONE, TYPE, WRONG, Picture, corners, shapes, strokes
from stonework.form import Edges
from stonework.units import write_length

_MOST = (9.6, 5.6)  # the most the picture takes, in inches
_SHOWN = 0.11  # how much of the form's longer side the largest difference is drawn as
_MOST_TIMES = 40.0


class SquareView(Picture):
    """The four edges of a form against a true rectangle, and where the furniture would leave it loose."""

    def __init__(self, name: str = "square") -> None:
        super().__init__(name)
        self._stone = self.area(STONE, "none", 0, 1)
        self._loose = self.area("none", WRONG, 0.8, 2, hatch="xxx")
        self._form = self.area(LEAD, INK, 1.6, 3)
        self._type = self.area("none", TYPE, 2.4, 4)
        self._true = self.area("none", NOW, 1.6, 5, linestyle=(0, (5, 3)))

    def draw(self, edges: Edges) -> None:
        """Draw the form and the furniture that its longer edges keep off it."""
        width, height = max(edges.head, edges.foot), max(edges.left, edges.right)
        times = exaggeration(edges)
        foot = width - times * max(0.0, edges.wider_at_head)
        head = width - times * max(0.0, -edges.wider_at_head)
        right = height - times * max(0.0, edges.taller_at_left)
        left = height - times * max(0.0, -edges.taller_at_left)
        room = 0.6 * max(width, height)
        edge = 0.14 * max(width, height)
        self.frame(-room, -edge, width + room, height + edge, _MOST)
        self._stone.set_path(shapes([corners(-room, -edge, width + 2 * room, height + 2 * edge)]))
        form = [(0.0, 0.0), (foot, 0.0), (head, right), (0.0, left)]
        self._loose.set_path(shapes([corners(0, 0, width, height)]) if not edges.square else strokes([]))
        self._form.set_path(shapes([form]))
        self._true.set_path(shapes([corners(0, 0, width, height)]))
        lines = 9
        self._type.set_path(
            strokes(
                (
                    (0.05 * foot, left * n / (lines + 1)),
                    (foot + (head - foot) * n / (lines + 1) - 0.05 * foot, right * n / (lines + 1)),
                )
                for n in range(1, lines + 1)
            )
        )
        gap = 8 / self.scale
        self.write(width / 2, height + gap, f"head {write_length(edges.head)}", LABEL, va="bottom")
        self.write(width / 2, -gap, f"foot {write_length(edges.foot)}", LABEL, va="top")
        self.write(-gap, height / 2, f"left\n{write_length(edges.left)}", LABEL, ha="right")
        self.write(width + gap, height / 2, f"right\n{write_length(edges.right)}", LABEL, ha="left")
        if not edges.square:
            told = f"what is out of square is drawn {times:.0f} times larger"
            self.write(width / 2, -edge + gap, told, LABEL, va="bottom", weight="bold")
        self.finish(square_words(edges))


def exaggeration(edges: Edges) -> float:
    """Return how many times larger the picture draws what is out of square."""
    longest = max(edges.head, edges.foot, edges.left, edges.right)
    return min(_MOST_TIMES, max(1.0, _SHOWN * longest / edges.out_of_square)) if not edges.square else 1.0


def square_words(edges: Edges) -> str:
    """Say how square a form is, and which edges would be loose."""
    told = (
        f"A form {write_length(edges.head)} wide at the head and {write_length(edges.foot)} at the foot, "
        f"{write_length(edges.left)} high at the left and {write_length(edges.right)} at the right. "
    )
    if edges.square:
        return told + "Opposite edges agree to within half a point: it is square."
    faults = []
    for difference, more, less in (
        (edges.wider_at_head, "head", "foot"),
        (edges.taller_at_left, "left", "right"),
    ):
        if abs(difference) > 0:
            long, short = (more, less) if difference > 0 else (less, more)
            faults.append(f"the {short} is {write_length(abs(difference))} shorter than the {long}")
    return told + f"{' and '.join(faults).capitalize()}: a gap the wood can't press on."
