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
    yield f"With all that the shop has it would go. {' '.join(held_words(wish, shop, forms))}".rstrip()
    if len(forms) == 1:
        return
    enough = [one.words for one in forms if find(left(shop, [form for form in forms if form is not one])) is not None]
    if enough:
        yield f"It goes as soon as {'one of these' if len(enough) > 1 else 'this'} is put away: {', '.join(enough)}."
    else:
        yield "No one form that is put away would do; it takes two or more of them."
