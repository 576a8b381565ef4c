"""Puts a mutant's code into functions that are loaded already, so that nothing needs to be imported anew for it."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from types import CodeType, FunctionType

_AT_ONCE = ("<genexpr>", "<listcomp>", "<setcomp>", "<dictcomp>")
"""What is run where it stands, and is no function that could be called later."""


Loaded = dict[CodeType, list[FunctionType]]


def loaded() -> Loaded:
    """Return every function there is, by its code."""
    found: Loaded = {}
    for one in gc.get_objects():
        if type(one) is FunctionType:
            found.setdefault(one.__code__, []).append(one)
    return found


def swapped(functions: Loaded, path: str, old: str, new: str) -> bool:
    """Give every function of a module the code of another source; ``False``, and nothing done, if that can't do.

    It can't where the change is in what a module or a class does when it's imported: defaults, constants, decorators.
    """
    pairs = list(_functions(_compiled(old, path), _compiled(new, path)))
    if None in pairs:
        return False
    changed = [pair for pair in pairs if pair and pair[0] != pair[1]]
    if not all(before in functions and before.co_freevars == after.co_freevars for before, after in changed):
        return False
    for before, after in changed:
        for function in functions[before]:
            function.__code__ = after
    return bool(changed)


def _compiled(source: str, path: str) -> CodeType:
    return compile(source, path, "exec", dont_inherit=True)


def _functions(old: CodeType, new: CodeType) -> Iterator[tuple[CodeType, CodeType] | None]:
    """Yield every function of a module or a class in both versions, and ``None`` for a change outside of functions."""
    if _own(old) != _own(new):
        yield None
        return
    for before, after in zip(old.co_consts, new.co_consts, strict=True):
        if isinstance(before, CodeType):
            if before.co_flags & 0x1 and before.co_name not in _AT_ONCE:  # CO_OPTIMIZED: a function, not a class
                yield before, after
            elif before.co_name in _AT_ONCE:
                yield None if before != after else (before, before)
            else:
                yield from _functions(before, after)


def _own(code: CodeType) -> tuple:
    """Return what a module or a class does itself, apart from what is in its functions."""
    consts = tuple("code" if isinstance(one, CodeType) else (type(one), one) for one in code.co_consts)
    return code.co_code, code.co_names, consts
