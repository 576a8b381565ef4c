"""A shop in words and tables, to compare with what stands in the room."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from stonework.drawing.cabinet import cabinet_rows
from stonework.drawing.words import in_points
from stonework.shop import MaterialKind, Note, Placing, Shop
from stonework.units import POINTS_PER_INCH, write_length, write_weight


def notes_list(notes: Sequence[Note]) -> str:
    """Return mistakes or questions as an HTML list, each with its line."""
    items = "".join(f"<li>{escape(f'Line {n.line}: ' if n.line else '')}{escape(n.sentence)}</li>" for n in notes)
    return f'<ul class="stonework-findings">{items}</ul>'


def shop_summary(shop: Shop) -> str:
    """Return what a shop owns as HTML tables: presses, chases, quoins, wood and metal by row, type and spacing."""
    return "".join(
        (
            f"<p>{escape(str(shop))}</p>",
            _table(
                "Chases, by their inside",
                ("Name", "How many", "Wide", "High", "Weight", "Corners kept clear"),
                (
                    (
                        chase.name,
                        "a bed" if chase.bed else str(chase.count),
                        _both(chase.width),
                        _both(chase.height),
                        write_weight(chase.weight) if chase.weight else "not weighed",
                        write_length(round(chase.clear_corners, 1)) if chase.clear_corners else "none",
                    )
                    for chase in shop.chases
                ),
            ),
            _table(
                "Presses",
                ("Name", "Takes", "Prints at most", "A form stands", "Guides", "Grippers", "May be off"),
                (
                    (
                        press.name,
                        ", ".join(press.chases) or "nothing yet",
                        " × ".join(map(_inches, press.usable)) if press.usable else "not measured",
                        *_custom(press.placing),
                    )
                    for press in shop.presses
                ),
            ),
            ""
            if shop.presses
            else _table(
                "Where forms stand",
                ("A form stands", "Guides", "Grippers", "May be off"),
                [_custom(shop.placing)],
            ),
            _table(
                "Quoins",
                ("Pattern", "How many", "Keys", "Long", "Shut", "Opens", "Kept for tightening", "A quarter turn"),
                (
                    (
                        f"{quoin.name}, {quoin.kind}",
                        _counted(quoin.count),
                        _counted(quoin.keys),
                        write_length(round(quoin.length, 1)),
                        write_length(round(quoin.closed, 1)),
                        in_points(round(quoin.travel, 1)),
                        in_points(round(quoin.reserve, 1)),
                        in_points(round(quoin.turn, 2)) if quoin.turn else "not measured",
                    )
                    for quoin in shop.quoins
                ),
            ),
            *(_rows(shop, kind, words) for kind, words in _KINDS),
            _table(
                "Cuts and bases",
                ("Name", "How many", "Size"),
                (
                    (one.name, str(one.count), f"{write_length(one.width)} × {write_length(one.height)}")
                    for one in (*shop.cuts, *shop.bases)
                ),
            ),
            _table(
                "Type, and what spaces it",
                ("What", "Points"),
                (
                    *((f"body {in_points(round(body.size, 2))}, spaces", _listed(body.spaces)) for body in shop.bodies),
                    ("leads, cut from strips", _listed(shop.leads)),
                    ("slugs, cut from strips", _listed(shop.slugs)),
                    ("thins", _listed(shop.thins)),
                ),
            ),
        )
    )


_KINDS: tuple[tuple[MaterialKind, str], ...] = (
    ("furniture", "Furniture"),
    ("reglet", "Reglet"),
    ("metal", "Metal furniture"),
    ("lead", "Leads and slugs by length"),
)


def _rows(shop: Shop, kind: MaterialKind, words: str) -> str:
    rows = []
    for _, name, places in cabinet_rows(shop, kind):
        many = sum(place.count * len(place.lengths) + sum(n for _, n, _ in place.worn) for place in places)
        rows.append((name, str(many), "; ".join(f"{place.words}: {place.held}" for place in places)))
    return _table(f"{words}; lengths in picas, and how many of each", ("Row", "Pieces", "Lengths"), rows)


def _custom(custom: Placing) -> tuple[str, ...]:
    off = [
        f"{write_length(abs(round(by, 1)))} {more if by > 0 else less} the middle"
        for by, more, less in ((custom.right, "right of", "left of"), (custom.up, "above", "below"))
        if by
    ]
    takes = f"{' and '.join(custom.grippers)}, {_inches(custom.bite)}" if custom.grippers else "none"
    return (
        " and ".join(off) if off else "in the middle",
        " and ".join(custom.guides),
        takes,
        write_length(round(custom.tolerance, 1)),
    )


def _both(points: float) -> str:
    return f"{write_length(round(points, 1))} ({_inches(points)})"


def _inches(points: float) -> str:
    return f"{points / POINTS_PER_INCH:.2f} in"


def _counted(number: int | None) -> str:
    return "not counted" if number is None else str(number)


def _listed(sizes: Sequence[float]) -> str:
    return ", ".join(f"{round(size, 2):g}" for size in sizes) or "none"


def _table(caption: str, heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return a table with a caption; nothing if it has no rows."""
    cells = "".join(
        f'<tr><th scope="row">{escape(first)}</th>{"".join(f"<td>{escape(cell)}</td>" for cell in rest)}</tr>'
        for first, *rest in rows
    )
    if not cells:
        return ""
    head = "".join(f'<th scope="col">{escape(word)}</th>' for word in heads)
    return (
        f'<table class="stonework-table"><caption><strong>{escape(caption)}</strong></caption>'
        f"<thead><tr>{head}</tr></thead><tbody>{cells}</tbody></table>"
    )
