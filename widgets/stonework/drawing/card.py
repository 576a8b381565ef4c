"""The tightening card as a page to read at the stone."""

from __future__ import annotations

from html import escape

from stonework.tightening import Advice, Card


def card_page(card: Card, advice: Advice) -> str:
    """Return a card's steps with the reason and the cautions, as HTML."""
    steps = "".join(f"<li>{escape(words)}</li>" for words in card.steps)
    cautions = "".join(f"<li>{escape(words)}</li>" for words in card.cautions)
    return (
        f'<ol class="stonework-steps">{steps}</ol><p>{escape(advice.reason)}</p>'
        f'<p><strong>Care.</strong></p><ul class="stonework-findings">{cautions}</ul>'
    )
