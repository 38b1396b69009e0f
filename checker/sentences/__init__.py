"""The one layer that turns meaning into sentences: what every format prints."""

from __future__ import annotations

from checker.sentences.advice import advice_for, headline_for
from checker.sentences.findings import message_of, why_of

__all__ = ["advice_for", "headline_for", "message_of", "why_of"]
