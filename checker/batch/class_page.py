"""The class page: what a class got right and wrong, for the projector. No person is named on it.

Input: the tally of a class. Output: one HTML document. The order is that of Monday's lesson: how it came out, what to teach
again, then the counts behind that.
"""

from __future__ import annotations

from collections.abc import Sequence
from difflib import SequenceMatcher

from checker.batch.frame import bar, document, section
from checker.batch.model import NOT_CHECKED
from checker.batch.tally import ClassTally, Mistake
from checker.batch.words import ALIKE, PLAIN_VERDICTS, counted, first_sentence, meaning, verdicts_in_words
from checker.markup import Child, Element, tag
from checker.rules import explain
from checker.rules.base import Explanation
from checker.rules.headings import heading as heading_of

LESSONS = 3
MOST_MISTAKES, MOST_PARTS = 12, 10
EFFECTS = ("expectation-missed",)
"""What something else causes: counted, but no lesson of its own."""

_ORDER = ("clear", "look-first", "will-not-work", "do-not-power", "unreadable", NOT_CHECKED)
"""Verdicts from good to bad, as the bar shows them."""


def class_page(tally: ClassTally, title: str = "") -> str:
    """The page; ``title`` is what the lists are of, where most of them do not say so themselves."""
    what = tally.title or title
    heading = counted(tally.lists, "list") + (f": {what}" if what else "")
    return document(heading, tag("h1", heading), _how_it_came_out(tally), _to_teach_again(tally), _mistakes(tally),
                    _parts(tally), _marks(tally), _alike(tally), class_="class")


# ── how it came out ───────────────────────────────────────────────────────────────────────────────────────────────


def _how_it_came_out(tally: ClassTally) -> Element:
    counts = [(verdict, tally.verdicts.get(verdict, 0)) for verdict in _ORDER]
    shown = [(verdict, count) for verdict, count in counts if count]
    whole = max(tally.lists, 1)
    said = verdicts_in_words(shown, tally.another)
    tiles = [tag("li", tag("b", str(count), class_=verdict),
                 tag("span", PLAIN_VERDICTS[verdict], tag("br"), _percent(count, whole)), class_="tile")
             for verdict, count in shown]
    return section("How it came out", bar([(verdict, count / whole) for verdict, count in shown], said or "no lists"),
                   tag("ul", tiles, class_="tiles"), _another(tally), _expected(tally), _absent(tally))


def _percent(count: int, whole: int) -> str:
    return f"{100 * count / whole:.0f} %"


def _another(tally: ClassTally) -> Element | None:
    if not tally.another:
        return None
    return tag("p", f"{tally.another} of those that are clear {'is' if tally.another == 1 else 'are'} another circuit than the "
                    "one asked for.")


def _expected(tally: ClassTally) -> Element | None:
    if not tally.expected:
        return None
    return tag("p", f"{tally.met} of {counted(tally.expected, 'expectation')} "
                    f"{'is' if tally.met == 1 else 'are'} met ({_percent(tally.met, tally.expected)}).")


def _absent(tally: ClassTally) -> Element | None:
    if not tally.missing:
        return None
    return tag("p", f"Nothing was handed in by {counted(tally.missing, 'person', 'people')} on the roster.")


# ── lessons ───────────────────────────────────────────────────────────────────────────────────────────────────────


def _to_teach_again(tally: ClassTally) -> Element | None:
    chosen = [mistake for mistake in tally.mistakes if mistake.rule not in EFFECTS][:LESSONS]
    if not chosen:
        return section("To teach again", tag("p", "Nothing: no list has a mistake."))
    return section("To teach again", tag("div", [_lesson(mistake, tally) for mistake in chosen], class_="lessons"),
                   _not_taught(tally, chosen))


def _not_taught(tally: ClassTally, chosen: Sequence[Mistake]) -> Element | None:
    """How many kinds of mistake are left out, and whether they are any rarer."""
    rest = [mistake for mistake in tally.mistakes if mistake not in chosen and mistake.rule not in EFFECTS]
    if not rest:
        return None
    as_many = sum(mistake.lists == chosen[-1].lists for mistake in rest)
    said = f"{counted(len(rest), 'other kind')} of mistake {'stands' if len(rest) == 1 else 'stand'} in the table below"
    which = f"{as_many} of them" if as_many < len(rest) else "each of them" if as_many > 1 else "it"
    more = f"; {which} {'are' if 1 < as_many < len(rest) else 'is'} as frequent as the last of these" if as_many else ""
    return tag("p", f"{said}{more}.", class_="aside")


def _lesson(mistake: Mistake, tally: ClassTally) -> Element:
    told = explain(mistake.rule)
    has, mended = changed_lines(told)
    return tag("article", tag("h3", heading_of(mistake.rule)),
               tag("p", f"{mistake.lists} of {counted(tally.checked, 'list')} checked", class_="big"),
               tag("p", _paragraph(told.means)), tag("p", first_sentence(told.matters)),
               [tag("p", "A line that has it:"), tag("pre", tag("code", "\n".join(has)), class_="has")] if has else None,
               [tag("p", "Mended:"), tag("pre", tag("code", "\n".join(mended)), class_="mended")] if mended else None,
               tag("p", tag("b", "With the meter: "), first_sentence(told.meter, 2)), class_="lesson")


def _paragraph(text: str) -> str:
    return " ".join(text.strip().split("\n\n")[0].split())


def changed_lines(told: Explanation) -> tuple[list[str], list[str]]:
    """The lines in which the two lists of an explanation differ: those that have the mistake, those that mend it."""
    bad, mended = told.bad_list.splitlines(), told.mended_list.splitlines()
    has: list[str] = []
    right: list[str] = []
    for kind, first, last, start, end in SequenceMatcher(None, bad, mended, autojunk=False).get_opcodes():
        if kind != "equal":
            has += bad[first:last]
            right += mended[start:end]
    return has, right


# ── counts ────────────────────────────────────────────────────────────────────────────────────────────────────────


def _mistakes(tally: ClassTally) -> Element | None:
    if not tally.mistakes:
        return None
    rows = [_counted_row(mistake.lists, max(tally.checked, 1), f"{mistake.lists} of {tally.checked} checked",
                         [tag("b", heading_of(mistake.rule)), ". ", meaning(mistake.rule), tag("br"),
                          tag("span", f"In one list: {mistake.message}.", class_="said")])
            for mistake in tally.mistakes[:MOST_MISTAKES]]
    rest = len(tally.mistakes) - MOST_MISTAKES
    return section("Commonest mistakes", _table(("Lists", "Mistake"), rows),
                   tag("p", f"And {counted(rest, 'other kind')}, each in fewer lists.", class_="aside") if rest > 0 else None)


def _parts(tally: ClassTally) -> Element | None:
    if not tally.parts:
        return None
    rows = [_counted_row(part.wrong, max(part.lists, 1), f"{part.wrong} of {part.lists} with it",
                         [tag("b", part.name or part.kind), f", {part.kind}" if part.name else None])
            for part in tally.parts[:MOST_PARTS]]
    return section("Parts most often wrong", _table(("Lists that have it", "Part"), rows))


def _table(heads: tuple[str, str], rows: Sequence[Element]) -> Element:
    return tag("table", tag("thead", tag("tr", [tag("th", head, scope="col") for head in heads])), tag("tbody", rows),
               class_="sheet counts")


def _counted_row(count: int, whole: int, said: str, words: Child) -> Element:
    share = count / whole
    return tag("tr", tag("td", said, bar([("amount", share), ("rest", 1 - share)], said, thin=True)), tag("td", words))


def _marks(tally: ClassTally) -> Element | None:
    if not tally.marks:
        return None
    most = max(tally.marks)
    rows = []
    for number, count in reversed(list(enumerate(tally.marks))):
        low, high = (tally.mark_most * end / len(tally.marks) for end in (number, number + 1))
        rows.append(_counted_row(count, most, counted(count, "list"), [f"{low:g} to {high:g} points"]))
    mean = tag("p", f"The mean is {tally.mark_mean:g} of {tally.mark_most:g}.")
    return section("Marks", mean, _table(("Lists", "Marks"), rows))


def _alike(tally: ClassTally) -> Element | None:
    if tally.alike_bounded:
        return section("Lists that are alike", tag("p", "There are too many lists to look for alike ones."))
    if not tally.alike:
        return None
    largest = max(len(group) for group in tally.alike)
    if 2 * largest > tally.checked:
        return section("Lists that are alike", tag("p", "Most lists are alike. They may all follow the same handout."))
    held = sum(len(group) for group in tally.alike)
    return section("Lists that are alike", tag("p", f"{held} lists, in {counted(len(tally.alike), 'group')}. {ALIKE}"),
                   tag("p", "Which ones stands on the page for the desk, lists.html.", class_="aside"))
