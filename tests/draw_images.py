"""Draw the pictures in images/ with the package's own drawings.

    python tests/draw_images.py

A test compares what this draws with what is shipped.
"""

from pathlib import Path

from stonework.choosing import choose_lockup
from stonework.drawing import PlanView, parts
from stonework.drawing.first_minutes import first_minutes
from stonework.drawing.pages import eight_pages
from stonework.drawing.picture import Picture
from stonework.form import Form
from stonework.lockup import Lockup
from stonework.shop import Shop
from stonework.units import read_length

ROOT = Path(__file__).resolve().parent.parent


def breakwater() -> Shop:
    """The Breakwater school's shop."""
    return Shop.load(ROOT / "lessons" / "breakwater.shop.toml")


def plan_of_a_page() -> str:
    """A page of 27 × 17 picas in the Breakwater school's 8 × 12 chase."""
    shop = breakwater()
    form = Form(read_length("27 picas"), read_length("17 picas"))
    view = PlanView()
    view.draw(choose_lockup(form, shop.chase("8 × 12"), shop), shop)
    return view.svg()


def small_lockup() -> Lockup:
    """A form of 20 × 14 picas in the Breakwater school's 6 × 9 chase."""
    shop = breakwater()
    return choose_lockup(Form(read_length("20 picas"), read_length("14 picas")), shop.chase("6 × 9"), shop)


def parts_of_a_lockup() -> Picture:
    """The parts of that small lockup, named."""
    return parts.parts_of_a_lockup(small_lockup(), breakwater().quoins)


STILLS = {
    "parts-of-a-lockup.svg": parts_of_a_lockup,
    "two-ways-at-the-corners.svg": parts.two_ways_at_the_corners,
    "binding.svg": parts.binding,
    "a-sprung-form.svg": parts.sprung_form,
    "the-trial-lift.svg": parts.trial_lift,
    "eight-pages.svg": eight_pages,
    "the-first-minutes.svg": first_minutes,
}
PICTURES = {
    "plan-of-a-page.svg": plan_of_a_page,
    **{name: lambda draw=draw: draw().svg() for name, draw in STILLS.items()},
}

if __name__ == "__main__":
    for name, draw in PICTURES.items():
        (ROOT / "images" / name).write_text(draw(), encoding="utf-8")
        print(f"drew images/{name}")
