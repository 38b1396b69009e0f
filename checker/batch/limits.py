"""How much of what comes from outside is read: a class of two thousand passes, a hostile file costs its own row.

Every number is a choice of this project; the reason stands beside it.
"""

from __future__ import annotations

MOST_BYTES = 1_000_000
"""Bytes of one list: the longest list that ships has two thousand; a megabyte is no list any more."""

MOST_ARCHIVE_BYTES = 200_000_000
"""Bytes of an archive or a spreadsheet as a file."""

MOST_UNPACKED_BYTES = 500_000_000
"""Bytes that are unpacked of one archive in all, then the rest is left alone."""

MOST_ENTRIES = 20_000
"""Entries of one archive: each person's folder holds a few."""

MOST_DIRECTORY_BYTES = 400 * MOST_ENTRIES
"""Bytes of an archive's table of contents: an entry takes 46 and its name."""

MOST_RATIO = 200
"""How many times smaller than its content an entry may be packed: text packs 3 to 20 times, only repetition more."""

MOST_CELL = MOST_BYTES
"""Characters of one cell of a table."""

MOST_COLUMNS = 1000
"""Columns of a table that are looked at."""

SAMPLE_ROWS = 50
"""Rows of a table from which its columns are told apart."""

MOST_COMPARED = 20_000
"""Different lists among which alike ones are looked for: each costs a kilobyte while the class is written up."""

MOST_NAMED = 2_000
"""Different parts, by name and kind, that are counted over a class."""
