"""What an editor shows of a list: findings, cards of parts, completion, checked fixes, definitions, new names.

``answers`` are functions on a text and know no protocol; ``server`` speaks the Language Server Protocol through an existing
library (the extra ``editor``).
"""
