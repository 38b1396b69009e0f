"""A part on one card: how it looks, which leg is which, what it can take, and where each of these facts is from.

Input: the parts library and a name or some words. Output: a ``Card`` or a ``Listing``, and both as text for people.
"""

from __future__ import annotations

from checker.cards.card import Card, card_of
from checker.cards.listing import Families, Listing, families, search
from checker.cards.terminal import card_in_words, families_in_words, listing_in_words

__all__ = ["Card", "Families", "Listing", "card_in_words", "card_of", "families", "families_in_words", "listing_in_words",
           "search"]
