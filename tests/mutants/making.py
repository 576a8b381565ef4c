"""Makes every mutant of a module, by mutmut's operators."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import libcst as cst
from libcst.metadata import MetadataWrapper, ParentNodeProvider, PositionProvider
from mutant import Mutant
from mutmut.mutation.file_mutation import MutationVisitor
from mutmut.mutation.mutators import mutation_operators
from mutmut.mutation.pragma_handling import IgnoredCode

SHOWN = 40
"""How many letters of what stays as it is are shown on either side of a change."""

KINDS = {
    "Call": "what a function is given",
    "SimpleString": "words and names",
    "Integer": "numbers",
    "Float": "numbers",
    "BinaryOperation": "sums",
    "AugAssign": "sums",
    "UnaryOperation": "signs and nots",
    "ComparisonTarget": "comparisons",
    "BooleanOperation": "and, or",
    "IfExp": "one or the other",
    "Assign": "what is kept",
    "AnnAssign": "what is kept",
}
"""What is changed, by libcst's names; all else is the rest."""


class _Visitor(MutationVisitor):
    """mutmut's own, but it goes into what is decorated too: mutmut can't, as it keeps all versions in one module."""

    def _skip_node_and_children(self, node: cst.CSTNode) -> bool:
        if isinstance(node, cst.FunctionDef) and node.decorators:
            return False
        if (
            isinstance(node, cst.Assign)
            and isinstance(to := node.targets[0].target, cst.Name)
            and to.value == "__all__"
        ):
            return True  # only a star import reads it
        if isinstance(node, cst.Subscript) and isinstance(node.value, cst.Name) and node.value.value == "Literal":
            return True  # a type, as annotations are
        return super()._skip_node_and_children(node)


def mutants(path: Path, package: Path) -> list[Mutant]:
    """Return every mutant of the module at ``path``."""
    wrapper = MetadataWrapper(cst.parse_module(path.read_text(encoding="utf-8")))
    module = wrapper.module
    visitor = _Visitor(mutation_operators, IgnoredCode(set(), set(), set()))
    wrapper.visit(visitor)
    positions, parents = wrapper.resolve(PositionProvider), wrapper.resolve(ParentNodeProvider)
    made = []
    for number, mutation in enumerate(visitor.mutations):
        old, new = mutation.original_node, mutation.mutated_node
        above = [old]
        while above[-1] in parents:
            above.append(parents[above[-1]])
        statement = next(a for a in above if isinstance(a, (cst.BaseSmallStatement, cst.BaseCompoundStatement)))
        places = [a.name.value for a in above[1:] if isinstance(a, (cst.FunctionDef, cst.ClassDef))]
        where = next(positions[a] for a in above if a in positions)
        before, after = _shown(module.code_for_node(old), module.code_for_node(new))
        made.append(
            Mutant(
                module=path.relative_to(package).as_posix(),
                number=number,
                place=".".join(reversed(places)),
                kind=KINDS.get(type(old).__name__, "the rest"),
                before=before,
                after=after,
                lines=range(where.start.line, where.end.line + 1),
                statement=positions[statement].start.line,
                source=partial(_changed, module, old, new),
            )
        )
    return made


def _changed(module: cst.Module, old: cst.CSTNode, new: cst.CSTNode) -> str:
    return module.deep_replace(old, new).code


def _shown(before: str, after: str) -> tuple[str, str]:
    """Return both on one line, and of what is the same in both only what is near the change."""
    before, after = " ".join(before.split()), " ".join(after.split())
    shorter = min(len(before), len(after))
    same = next((n for n in range(shorter) if before[n] != after[n]), shorter)
    alike = next((n for n in range(shorter - same) if before[-1 - n] != after[-1 - n]), shorter - same)
    left, right = max(0, same - SHOWN), max(0, alike - SHOWN)

    def near(text: str) -> str:
        return ("…" if left else "") + text[left : len(text) - right] + ("…" if right else "")

    return near(before), near(after)
