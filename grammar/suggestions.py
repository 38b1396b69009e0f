"""The nearest right spelling of a word that is not known.

Input: the word and the spellings that would be right. Output: the best of them, at most three, or none: a far-fetched
suggestion is worse than none. Order of preference: the same but for case and separators; then the fewest slips of the
hand (a letter missing, added, exchanged, or two swapped: optimal string alignment).
"""

from __future__ import annotations

from collections.abc import Iterable

_MOST_SUGGESTIONS = 3
_LONGEST_WORD = 40
_SEPARATORS = str.maketrans("", "", "-_ ./")


def nearest(word: str, candidates: Iterable[str]) -> tuple[str, ...]:
    """The candidates nearest to ``word``, best first, at most three.

    A candidate that differs in case or separators only wins outright. Otherwise at most ``max(1, len(word) // 3)``
    slips are allowed, and only the candidates with the fewest slips are returned, in the order given.
    """
    if not word or len(word) > _LONGEST_WORD:
        return ()
    pool = tuple(dict.fromkeys(candidates))
    plain = _plain(word)
    if same := tuple(candidate for candidate in pool if _plain(candidate) == plain):
        return same[:_MOST_SUGGESTIONS]
    limit = max(1, len(word) // 3)
    near = [
        (slips(plain, other), candidate)
        for candidate, other in ((candidate, _plain(candidate)) for candidate in pool)
        if abs(len(other) - len(plain)) <= limit
    ]
    fewest = min((count for count, _ in near), default=limit + 1)
    if fewest > limit:
        return ()
    return tuple(candidate for count, candidate in near if count == fewest)[:_MOST_SUGGESTIONS]


def correction(word: str, candidates: Iterable[str]) -> str | None:
    """The nearest other spelling of a word that may be misspelt; None for a word that is itself one of them."""
    pool = tuple(candidates)
    if word.casefold() in (candidate.casefold() for candidate in pool):
        return None
    return next(iter(nearest(word, pool)), None)


def slips(one: str, other: str) -> int:
    """How many slips turn one word into the other: letters missing, added, exchanged, neighbours swapped.

    The optimal string alignment distance (Damerau 1964, with each pair of letters swapped at most once).
    """
    before_last: list[int] = []
    last = list(range(len(other) + 1))
    for row, letter in enumerate(one, start=1):
        current = [row]
        for column, other_letter in enumerate(other, start=1):
            best = min(last[column] + 1, current[-1] + 1, last[column - 1] + (letter != other_letter))
            if row > 1 and column > 1 and letter == other[column - 2] and one[row - 2] == other_letter:
                best = min(best, before_last[column - 2] + 1)
            current.append(best)
        before_last, last = last, current
    return last[-1]


def _plain(word: str) -> str:
    return word.casefold().translate(_SEPARATORS)
