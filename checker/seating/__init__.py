"""Legs into holes: boards, orientation, readings."""
