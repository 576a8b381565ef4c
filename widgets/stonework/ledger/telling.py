"""Who holds what a lockup takes, and what frees it, in sentences."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from stonework.ledger.holding import Form, held_by, short_of
from stonework.lockup import Lockup
from stonework.rules.geometry import size_words
from stonework.shop import Shop

_MOST = 6  # sentences; whoever lacks more than that reads no further


def held_words(lockup: Lockup, shop: Shop, forms: Sequence[Form]) -> list[str]:
    """Say of everything that a lockup takes and other forms hold who has it; nothing if all is left."""
    short, said = short_of(lockup, shop, forms), []
    holding = [(form, held_by(form.lockup, shop)) for form in forms]
    for name in short.chases:
        whose = [form for form, held in holding if held.chases[name]]
        said.append(f"The {name} chase is in use for {_listed(whose)}; {_freed(whose)}.")
    for name, lacking in short.quoins.items():
        whose = [form for form, held in holding if held.quoins[name]]
        said.append(
            f"{_count(lacking, 'quoin')} too few ({name}): the others are in {_listed(whose)}; {_freed(whose)}."
        )
    for size, lacking in sorted(short.pieces.items()):
        whose = [form for form, held in holding if held.pieces[size]]
        said.append(f"{lacking} too few of {size_words(size)}: the others are in {_listed(whose)}; {_freed(whose)}.")
    if len(said) > _MOST:
        said[_MOST:] = [f"And {len(said) - _MOST} sizes more."]
    return said


def _listed(forms: Iterable[Form]) -> str:
    told = [f"{form.words} (since {form.since})" for form in forms]
    return told[0] if len(told) == 1 else f"{', '.join(told[:-1])} and {told[-1]}"


def _freed(forms: Sequence[Form]) -> str:
    """Say what frees it."""
    return f"free when {'that form is' if len(forms) == 1 else 'one of them is'} put away"


def _count(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"
