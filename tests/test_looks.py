"""What words and lines stand out from their ground: WCAG 2.2, 1.4.3 (4.5 to 1 for words) and 1.4.11 (3 to 1 for lines).

The formula of relative luminance is that of WCAG 2.2's glossary.
"""

from __future__ import annotations

import re

import pytest
from stonework.drawing import picture as ink
from stonework.panels.style import STYLE

WHITE = "#fff"
RULES = re.findall(r"([^{}]+)\{([^{}]*)\}", re.sub(r"@media[^{]*\{|<[^>]*>", "", STYLE))


def luminance(colour: str) -> float:
    whole = colour.lstrip("#")
    whole = "".join(c * 2 for c in whole) if len(whole) == 3 else whole
    shares = [int(whole[n : n + 2], 16) / 255 for n in (0, 2, 4)]
    red, green, blue = (s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def declared(name: str) -> list[tuple[str, str, str]]:
    """Every rule that says a colour of words, with its ground: its own, that of an earlier rule of its class, white."""
    grounds: dict[str, str] = {}
    found = []
    for selector, body in RULES:
        key = selector.strip().split(" ")[-1]
        ground = re.search(r"background: (#[0-9a-f]{3,6})", body)
        if ground:
            grounds[key] = ground[1]
        colour = re.search(rf"(?:^|[;{{\s]){name}: (#[0-9a-f]{{3,6}})", body)
        if colour:
            found.append((selector.strip(), colour[1], ground[1] if ground else grounds.get(key, WHITE)))
    return found


def test_black_on_white_is_21_to_1_as_the_standard_has_it():
    assert contrast("#000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", WHITE) == pytest.approx(4.54, abs=0.01)  # the well-known last grey that passes


@pytest.mark.parametrize(("selector", "colour", "ground"), declared("color"))
def test_words_of_panels_stand_out(selector, colour, ground):
    assert contrast(colour, ground) >= 4.5


def test_there_are_words_to_look_at():
    assert len(declared("color")) >= 6


@pytest.mark.parametrize("words", [ink.INK, ink.NOW])
@pytest.mark.parametrize("ground", [ink.PAPER, ink.STONE, ink.LEAD, ink.PALE])
def test_words_of_pictures_stand_out(words, ground):
    assert contrast(words, ground) >= 4.5


def test_words_on_the_iron_stand_out():
    assert contrast(ink.PAPER, ink.IRON) >= 4.5


@pytest.mark.parametrize(
    ("line", "ground"),
    [
        *((ink.WRONG, ground) for ground in (ink.STONE, ink.LEAD, ink.PALE, ink.PAPER)),
        *((ink.SAWN, ground) for ground in (ink.MAPLE, ink.PALE, ink.STONE)),
        *((ink.BRASS_EDGE, ground) for ground in (ink.BRASS, ink.STONE)),
        (ink.TYPE, ink.LEAD),
        (ink.NOW, ink.STONE),
    ],
)
def test_what_tells_pieces_apart_stands_out(line, ground):
    assert contrast(line, ground) >= 3


def test_the_ring_round_what_has_the_keyboard_stands_out_on_white_and_black_grounds():
    (ring,) = {colour for colour in re.findall(r"outline: 3px solid (#[0-9a-f]+)", STYLE)}
    assert contrast(ring, WHITE) >= 3  # and white stands round it, for any other ground
