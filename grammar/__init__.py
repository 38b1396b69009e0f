"""The language of wiring lists: ``read`` turns text into a tree, ``read_quantity`` reads 4k7 and 220mA.

Importing this package is cheap: the parser is made when the first line is read.
"""

from __future__ import annotations

from grammar.quantities import Quantity, QuantityError, is_quantity, read_quantity, show_quantity
from grammar.reader import read
from grammar.suggestions import nearest

__all__ = ["Quantity", "QuantityError", "is_quantity", "nearest", "read", "read_quantity", "show_quantity"]
