"""The tightening card as a page to read at the stone."""

from __future__ import annotations

from html import escape

from stonework.tightening import Advice, Card


def card_page(card: Card, advice: Advice) -> str:
    """Return a card's steps, the turns of one round on one line, with the reason and the cautions, as HTML."""
    rounds: dict[int, list[str]] = {}
    before: list[str] = []
    after: list[str] = []
    for step in card.steps:
        if step.round is not None and step.quoin is not None:
            rounds.setdefault(step.round, []).append(card.quoins[step.quoin])
        else:
            (after if rounds else before).append(step.words)
    turns = [f"Round {number}, a quarter turn each: {'; '.join(quoins)}." for number, quoins in rounds.items()]
    steps = "".join(f"<li>{escape(words)}</li>" for words in (*before, *turns, *after))
    cautions = "".join(f"<li>{escape(words)}</li>" for words in card.cautions)
    return (
        f'<ol class="stonework-steps">{steps}</ol><p>{escape(advice.reason)}</p>'
        f'<p><strong>Care.</strong></p><ul class="stonework-findings">{cautions}</ul>'
    )
