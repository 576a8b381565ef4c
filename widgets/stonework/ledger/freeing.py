"""Which form to put away, so that another can be locked up."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from stonework.ledger.holding import Form, left
from stonework.ledger.telling import held_words
from stonework.lockup import Lockup
from stonework.shop import Shop


def freeing(find: Callable[[Shop], Lockup | None], shop: Shop, forms: Sequence[Form]) -> Iterator[str]:
    """Say, as it's found, what a form that finds no lockup in what is left could have if others were put away.

    ``find`` returns a lockup in what a shop has, its chases among it, or ``None``. First it's tried with the whole
    shop: if there is none even there, nothing is said, for nobody else stands in its way.
    """
    wish = find(shop)
    if wish is None:
        return
    enough: list[Form] = []
    for one in forms:
        found = find(left(shop, [form for form in forms if form is not one]))
        if found is not None:
            wish = wish if enough else found
            enough.append(one)
    lacks = " ".join(held_words(wish, shop, forms))
    if enough:
        which = " or ".join(form.words for form in enough)
        yield f"Others hold what it takes. {lacks} It goes as soon as {which} is put away."
    else:
        yield f"Others hold what it takes. {lacks} It goes when two of these forms or more are put away."
