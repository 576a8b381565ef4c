"""Draw the pictures in images/ with the package's own plan view.

    python tests/draw_images.py

A test compares what this draws with what is shipped.
"""

from pathlib import Path

from stonework.choosing import choose_lockup
from stonework.drawing import PlanView
from stonework.form import Form
from stonework.shop import Shop
from stonework.units import read_length

ROOT = Path(__file__).resolve().parent.parent


def plan_of_a_page() -> str:
    """A page of 27 × 17 picas in the Breakwater school's 8 × 12 chase."""
    shop = Shop.load(ROOT / "lessons" / "breakwater.shop.toml")
    form = Form(read_length("27 picas"), read_length("17 picas"))
    view = PlanView()
    view.draw(choose_lockup(form, shop.chase("8 × 12"), shop), shop)
    return view.svg()


PICTURES = {"plan-of-a-page.svg": plan_of_a_page}

if __name__ == "__main__":
    for name, draw in PICTURES.items():
        (ROOT / "images" / name).write_text(draw(), encoding="utf-8")
        print(f"drew images/{name}")
