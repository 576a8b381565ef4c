"""A put-away list as a page to walk along the cabinet with."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from stonework.drawing.words import piece_name, strip_name
from stonework.putting_away import LOOSENING, STORING, Place, PutAway


def put_away_table(away: PutAway) -> str:
    """Return what goes back where, in the order of one walk, as an HTML table."""
    rows = "".join(
        f'<tr><th scope="row">{count} × {piece_name(place.material)}</th><td>{place.kind}</td>{_where(place)}</tr>'
        for place, count in (*away.wood, *away.metal)
    )
    rows += "".join(
        f'<tr><th scope="row">{count} × {strip_name(thickness)}</th><td colspan="3">the rack of leads and slugs</td>'
        "</tr>"
        for thickness, count in away.leads
    )
    rows += "".join(
        f'<tr><th scope="row">{count} × {piece_name(material)}</th><td colspan="3">has no place in this cabinet: ask '
        "whose it is</td></tr>"
        for material, count in away.homeless
    )
    rows += "".join(
        f'<tr><th scope="row">{count} × quoin, {escape(name)}</th><td colspan="3">the quoins\' drawer</td></tr>'
        for name, count in away.quoins
    )
    head = "".join(f'<th scope="col">{name}</th>' for name in ("What", "Cabinet", "Row", "Place"))
    return (
        '<table class="stonework-table"><caption>Back to the cabinet, in one walk. Sizes in picas; rows from the '
        "thinnest, places from the shortest</caption>"
        f"<thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"
    )


def _where(place: Place) -> str:
    """Return a place's row and number, or the shop's own name for it, as cells of the table."""
    if place.label:
        return f'<td colspan="2">{escape(place.label)}</td>'
    return f"<td>{place.row}</td><td>{place.place}</td>"


def loosening_page() -> str:
    """Return how to unlock and how to store, as HTML."""
    return f"<p><strong>Unlock.</strong></p>{_steps(LOOSENING)}<p><strong>Store.</strong></p>{_steps(STORING)}"


def _steps(steps: Sequence[str]) -> str:
    return f'<ol class="stonework-steps">{"".join(f"<li>{escape(step)}</li>" for step in steps)}</ol>'
