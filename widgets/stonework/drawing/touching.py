"""What can be touched in a picture: places laid over it that a pointer or the keyboard reaches.

The page's plug-in tells the kernel of a touch; without it these places aren't shown.
"""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from typing import NamedTuple

from stonework.drawing.picture import Picture

LEAST = 14.0  # points of the picture: what is smaller can't be hit


class Touch(NamedTuple):
    """A place in a picture: ``words`` for the kernel, a ``label`` for the reader, where it lies, whether it slides.

    ``left``, ``foot``, ``width`` and ``height`` are points of what is drawn.
    """

    words: str
    label: str
    left: float
    foot: float
    width: float
    height: float
    slides: bool = False


def touchable(picture: Picture, touches: Iterable[Touch]) -> str:
    """Return a picture as SVG with places laid over it, in their order."""
    svg, places = picture.svg(), "".join(_place(picture, touch) for touch in touches)
    if not places:
        return svg
    # What holds controls is no image to a screen reader, but a group of them; its words say all that is lettered.
    svg = svg.replace(' role="img"', ' role="group"', 1).replace(">", '><g aria-hidden="true">', 1)
    return f'{svg[: svg.rindex("</svg>")]}</g><g class="stonework-touches">{places}</g></svg>'


def _place(picture: Picture, touch: Touch) -> str:
    (left, _), (_, top) = picture.axes.get_xlim(), picture.axes.get_ylim()
    scale = picture.scale
    x, y = (touch.left - left) * scale, (top - touch.foot - touch.height) * scale
    width, height = max(touch.width * scale, LEAST), max(touch.height * scale, LEAST)
    x, y = x - (width - touch.width * scale) / 2, y - (height - touch.height * scale) / 2
    slides = ' data-stonework-slides=""' if touch.slides else ""
    return (
        f'<rect class="stonework-place" x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}" '
        f'fill="transparent" tabindex="0" role="button" aria-label="{escape(touch.label)}" '
        f'data-stonework-touch="{escape(touch.words)}"{slides}><title>{escape(touch.label)}</title></rect>'
    )
