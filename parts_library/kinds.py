"""What kind of part a line is about: a part number first, then a kind, then a value.

Input: the tokens of a line, the part's name, the library. Output: a ``Kind``: the entry (values not yet filled in), the
words that were used for it, and the problem if there is none or more than one. Kinds are entries of the library like all
others (``resistor``, ``red-led``, ``9v-block``); words beside them (``red``, ``active``, ``common-cathode``) narrow them
down in any order.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import permutations
from typing import TYPE_CHECKING, TypeVar

from msgspec import Struct

from grammar.suggestions import nearest
from parts_library.letters import agrees, begins_like_a_resistor, called, claims, letters_of, stands_for
from parts_library.lookup import squeezed
from parts_library.markings import is_preferred
from parts_library.schema import AnyEntry, Bipolar, Capacitor, Entry, Inductor, Jfet, Mosfet, Regulator, Resistor
from parts_library.vocabulary import LIKELY_KINDS, NOISE, OTHER_WORDS, PLAIN_WORDS, POLARITIES
from parts_library.words import Token, WordProblem, two_values

if TYPE_CHECKING:
    from parts_library.loader import Library


class Kind(Struct, frozen=True):
    """``entry`` without values, or None with ``problem``. ``used`` are the indexes of the words that name it; ``how`` says
    whether a part number or kind was ``said``, or the ``value`` alone told."""

    entry: AnyEntry | None
    used: frozenset[int] = frozenset()
    how: str = "said"
    word: str | None = None
    problem: WordProblem | None = None


_Form = TypeVar("_Form", bound=Entry)


def find_kind(tokens: Sequence[Token], name: str, library: Library) -> Kind:
    """The entry that the line is about, before its values are filled in."""
    for search in (_part_number_in_full, _said_together, _said_in_a_word, _described, _part_number_in_part,
                   _told_by_value):
        kind = search(tokens, name, library)
        if kind is not None:
            return kind
    return Kind(None, problem=_unknown(tokens, name, library))


def generic(library: Library, form: type[_Form], **wanted: object) -> _Form | None:
    """The first entry of a family that has no value of its own yet and the ``wanted`` field values."""
    value = {Resistor: "ohms", Capacitor: "farads", Inductor: "henries"}.get(form, "")
    for entry in library.families.get(form, ()):
        if (isinstance(entry, form) and getattr(entry, value, None) is None
                and all(getattr(entry, field) == asked for field, asked in wanted.items())):
            return entry
    return None


def _said_together(tokens: Sequence[Token], name: str, library: Library, holding: Token | None = None) -> Kind | None:
    """Two or three words that are one name, in any order: ``red led``, ``relay 5V``; with ``holding``, only those that
    contain that word (``ULN2003 board``)."""
    for size in (3, 2):
        for some in permutations(tokens[:6], size):
            if holding is not None and holding not in some:
                continue
            entries = library.index.exactly("-".join(token.text for token in some))
            if not entries:
                continue
            used = frozenset(token.index for token in some)
            left = [token for token in tokens if token.index not in used]
            return _narrowed(entries, used, left, "-".join(token.lowered for token in some), library)
    return None


def _part_number_in_full(tokens: Sequence[Token], name: str, library: Library) -> Kind | None:
    """A word that is a part number as it stands; a bare number only where the name does not speak against it."""
    found: list[tuple[int, Token, tuple[AnyEntry, ...]]] = []
    for token in tokens:
        entries = tuple(entry for entry in library.index.exactly(token.text) if not _is_kind(entry))
        if entries and not (token.is_digits and _rather_a_value(token, name, entries)):
            found.append((len(entries), token, entries))
    if not found:
        return None
    _, token, entries = min(found, key=lambda one: one[0])
    if whole := _said_together(tokens, name, library, holding=token):
        return whole
    return _narrowed(entries, frozenset({token.index}), _all_but(token, tokens), token.text, library)


def _said_in_a_word(tokens: Sequence[Token], name: str, library: Library) -> Kind | None:
    """A word that names a kind: ``led``, ``motor``, ``9v-block``; the plainest names before adjectives (``DC``)."""
    for token in sorted(tokens, key=lambda token: token.lowered in NOISE):
        entries = _exactly(token, library)
        if entries and _is_kind(entries[0]):
            return _narrowed(entries, frozenset({token.index}), _all_but(token, tokens), token.text, library)
    return None


def _described(tokens: Sequence[Token], name: str, library: Library) -> Kind | None:
    """Words that only describe: ``transistor``, ``rgb-led``, ``regulator 5V``. Often more than one entry fits."""
    said = [token for token in tokens if token.quantity is None and token.lowered not in NOISE]
    if not said:
        return None
    others = [{entry.name for entry in library.index.described(token.lowered)} for token in said[1:]]
    entries = tuple(entry for entry in library.index.described(said[0].lowered)
                    if (_is_kind(entry) or isinstance(entry, Regulator)) and agrees(name, entry)
                    and all(entry.name in names for names in others))
    if not entries:
        return None
    left = [token for token in tokens if token not in said]
    return _narrowed(entries, frozenset(token.index for token in said), left, " ".join(token.text for token in said), library)


def _all_but(one: Token, tokens: Sequence[Token]) -> list[Token]:
    return [token for token in tokens if token.index != one.index]


def _rather_a_value(token: Token, name: str, entries: Sequence[AnyEntry]) -> bool:
    """Whether a bare number that is also a part number is taken as a value, or left to be asked back.

    Four digits are the part (7805, 4017) unless the name says resistor; three digits (555, 324) need a name that says
    chip, or whatever the part is."""
    if claims(name, Resistor):
        return True
    return len(token.text) < 4 and not _letters_want(name, entries)


def _narrowed(entries: tuple[AnyEntry, ...], used: frozenset[int], left: Sequence[Token], word: str, library: Library) -> Kind:
    """The entry among ``entries`` (or their own family) that the remaining words describe."""
    for token in left:
        if token.quantity is not None or token.lowered in NOISE:
            continue
        if contrary := _other_polarity(entries, token, word):
            return Kind(None, used, word=word, problem=contrary)
        told = tuple(entry for entry in library.index.described(token.lowered) if entry in entries)
        if not told and all(_is_kind(entry) for entry in entries):
            told = _relatives(entries, token.lowered, library)
        same_family = _named_in_family(entries, token, library)
        if told:
            entries, used = told, used | {token.index}
        elif same_family and (token.lowered in PLAIN_WORDS or word.lower() in PLAIN_WORDS):
            entries = entries if token.lowered in PLAIN_WORDS else same_family
            used = used | {token.index}
        elif other := _another_kind(entries, token, library):
            return Kind(None, used, word=word, problem=_two_kinds(token, word, other))
    entries = _with_values(entries, left)
    if len(entries) > 1:
        first = min(used)
        plainest = _plainest(entries, word)
        if plainest is None:
            return Kind(None, used, word=word, problem=_ambiguous(first, word, entries))
        entries = (plainest,)
    return Kind(entries[0], used, word=word)


def _other_polarity(entries: Sequence[AnyEntry], token: Token, word: str) -> WordProblem | None:
    """Where ``npn`` is said beside a PNP transistor."""
    said = POLARITIES.get(token.lowered)
    polarities = {entry.polarity for entry in entries if isinstance(entry, (Bipolar, Mosfet, Jfet))}
    if said is None or not polarities or said in polarities:
        return None
    right = next(name for name, polarity in POLARITIES.items() if polarity in polarities)
    return WordProblem(token.index, "ambiguous-part", f"{word} is {right}, and {token.text} is written beside it", right)


def _plainest(entries: Sequence[AnyEntry], word: str) -> AnyEntry | None:
    """The entry whose name says the word and nothing that the others do not say too: ``led red`` for red, not ``led red
    low-current``; None where two are equally plain."""
    said = set(word.lower().split())
    named = [(set(re.split(r"[\s-]+", entry.name.lower())), entry) for entry in entries]
    named = [(words, entry) for words, entry in named if said <= words or squeezed(entry.name) == squeezed(word)]
    least = [entry for words, entry in named if all(words <= others for others, _ in named)]
    return least[0] if len(least) == 1 else None


def _named_in_family(entries: Sequence[AnyEntry], token: Token, library: Library) -> tuple[AnyEntry, ...]:
    """The kinds of the same family that a further word names: ``electrolytic`` beside ``cap``, ``pump`` beside ``motor``."""
    forms = {type(entry) for entry in entries}
    return tuple(entry for entry in _exactly(token, library) if type(entry) in forms)


def _exactly(token: Token, library: Library) -> tuple[AnyEntry, ...]:
    return library.index.exactly(token.text) or library.index.exactly(OTHER_WORDS.get(token.lowered, ""))


def _relatives(entries: tuple[AnyEntry, ...], word: str, library: Library) -> tuple[AnyEntry, ...]:
    """Generic entries of the same family that a further word describes: ``led`` and ``red``, ``buzzer`` and ``active``."""
    forms = {type(entry) for entry in entries}
    types = {getattr(entry, "type", None) for entry in entries}
    return tuple(entry for entry in library.index.described(word)
                 if type(entry) in forms and getattr(entry, "type", None) in types and _is_kind(entry))


def _another_kind(entries: Sequence[AnyEntry], token: Token, library: Library) -> AnyEntry | None:
    """The entry that a further word names beside ``entries``: a second part number, or a kind of another family."""
    named = _exactly(token, library)
    forms = {type(entry) for entry in entries}
    if named and any(type(entry) in forms for entry in named) and token.lowered in PLAIN_WORDS:
        return None
    return named[0] if named else None


def _two_kinds(token: Token, word: str, other: AnyEntry) -> WordProblem:
    return WordProblem(token.index, "ambiguous-part", f"{word} and {token.text} are two kinds of part: write only one of them",
                       other.name)


def _is_kind(entry: AnyEntry) -> bool:
    """Whether an entry is a kind (``led red``, ``9v-block``) rather than a part number: kinds are in lower case."""
    return entry.name == entry.name.lower() and bool(re.search(r"[a-z]", entry.name))


def _with_values(entries: tuple[AnyEntry, ...], left: Sequence[Token]) -> tuple[AnyEntry, ...]:
    """Of several entries those whose voltage is the one stated, if any: ``regulator 5V``, ``relay 12V``."""
    if len(entries) == 1:
        return entries
    volts = [token.quantity.value for token in left if token.quantity is not None and token.quantity.unit == "V"]
    told = tuple(entry for entry in entries
                 if any(value in (getattr(entry, "voltage", None), getattr(entry, "output", None)) for value in volts))
    return told or entries


def _part_number_in_part(tokens: Sequence[Token], name: str, library: Library) -> Kind | None:
    """A part number with letters missing or added: ``2222``, ``LM7805CV``."""
    for token in tokens:
        if token.quantity is not None and not token.is_digits and not _like_a_part_number(token, name):
            continue
        if token.lowered in NOISE or not re.search(r"\d", token.text):
            continue
        if token.is_digits and claims(name, Resistor) and _is_usual(token):
            continue
        match = library.index.match(token.text)
        if not match.entries:
            continue
        entries = match.entries
        if token.is_digits:
            if (claims(name, Resistor) or begins_like_a_resistor(name)) and (not match.exact or _is_usual(token)):
                continue
            entries = tuple(entry for entry in entries if _letters_want(name, (entry,)))
            if not entries and len(token.text) < 4 and claims(name, Capacitor):
                continue
            if not entries:
                problem = _number_alone(token, name, match.entries)
                return Kind(None, frozenset({token.index}), problem=problem)
        return _narrowed(entries, frozenset({token.index}), _all_but(token, tokens), token.text, library)
    return None


def _is_usual(token: Token) -> bool:
    """Whether a bare number is a resistance that is sold."""
    value = token.quantity.value if token.quantity else 0.0
    return is_preferred(value, "E24") or is_preferred(value, "E96")


def _letters_want(name: str, entries: Iterable[AnyEntry]) -> bool:
    return stands_for(name) is not None and all(agrees(name, entry) for entry in entries)


def _told_by_value(tokens: Sequence[Token], name: str, library: Library) -> Kind | None:
    """No kind is said: the first quantity tells resistor, capacitor or coil."""
    for token in tokens:
        if token.quantity is None:
            if token.failure is None and token.lowered not in NOISE:
                return None
            continue
        form = _form_of(token)
        if form is None or _like_a_part_number(token, name):
            continue
        entry = generic(library, form)
        return Kind(entry, frozenset(), how="value", word=None) if entry is not None else None
    return None


def _like_a_part_number(token: Token, name: str) -> bool:
    """``4N33`` is no 4.33 nF, ``2N222A`` no 2.222 nA: capitals, and a value that nobody sells; a name that says capacitor settles
    it."""
    if token.quantity is None or not re.fullmatch(r"\d[NP]\d+A?", token.text) or claims(name, Capacitor):
        return False
    return not is_preferred(token.quantity.value, "E24")


def _form_of(token: Token) -> type[Resistor | Capacitor | Inductor] | None:
    assert token.quantity is not None
    unit = token.quantity.unit
    if unit == "F" or (unit == "" and token.prefix.lower()[:1] in ("p", "n", "u") and token.prefix):
        return Capacitor
    if unit == "H":
        return Inductor
    return Resistor if unit in ("ohm", "") else None


def _ambiguous(index: int, word: str, entries: Sequence[AnyEntry]) -> WordProblem:
    names = [entry.name for entry in entries]
    listed = f"{', '.join(names[:-1])} or {names[-1]}"
    if len(names) > 6:
        listed = f"{', '.join(names[:5])} or one of {len(names) - 5} more"
    return WordProblem(index, "ambiguous-part", f"{word} can be {listed}: write the one that is printed on the part", names[0])


def _number_alone(token: Token, name: str, entries: Sequence[AnyEntry]) -> WordProblem:
    first = entries[0]
    names = " or ".join(f"{entry.name} ({called(entry)})" for entry in entries[:3])
    written = next((alias for alias in first.aliases if not alias.isdigit()), "") if first.name.isdigit() else first.name
    return WordProblem(token.index, "ambiguous-part",
                       f"{token.text} alone can be {names}, or {token.text} ohm: write {written or 'its full name'}, or "
                       f"{token.text}ohm", f"{token.text}ohm" if claims(name, Resistor) else written or None)


def _unknown(tokens: Sequence[Token], name: str, library: Library) -> WordProblem:
    for token in tokens:
        if (token.quantity is not None and not _like_a_part_number(token, "")) or token.lowered in NOISE:
            continue
        if both := two_values(token):
            return both
        near = _near(token.text, library)
        if token.failure is not None and not near:
            return unreadable(token)
        return _not_called(token, near)
    if not tokens:
        return WordProblem(0, "unknown-part", "no kind or value is given", None)
    first = tokens[0]
    if any(_is_kind(entry) for entry in library.index.exactly(name)):
        return WordProblem(-1, "unknown-part", f"{name} is a kind of part, and a name comes first", f"{_letters(name)}1 {name}",
                           of="name")
    kind = LIKELY_KINDS.get(letters_of(name) or "")
    hint = f": write {kind} {first.text}, if it is one" if kind else ""
    return WordProblem(first.index, "unknown-part", f"{first.text} says a value but no kind of part{hint}",
                       f"{kind} {first.text}" if kind else None)


def _letters(kind: str) -> str:
    """The letters that names of such a part usually have."""
    return next((letters for letters, likely in LIKELY_KINDS.items() if likely == kind.lower()), kind[0].upper())


def _near(text: str, library: Library) -> tuple[str, ...]:
    """What a word that names nothing may be: a part number with O for 0 or l for 1 set right, which settles it, else all that
    are spelled alike, once each."""
    for mended in (re.sub(r"(?<=\d)[oO]|[oO](?=\d)", "0", text), re.sub(r"(?<=\d)[lI]|\b[lI](?=\d)", "1", text)):
        if mended != text and library.index.match(mended).entries:
            return (mended,)
    near = library.find(text).near or tuple(OTHER_WORDS[word] for word in nearest(text, tuple(OTHER_WORDS)))
    return tuple(dict.fromkeys(near))


def _not_called(token: Token, near: tuple[str, ...]) -> WordProblem:
    """One near name is offered; several are asked back, as they may be parts that do harm in each other's place."""
    message = f"no part or kind is called {token.text}"
    if len(near) > 1:
        return WordProblem(token.index, "unknown-part",
                           f"{message}; look at the part: is it {', '.join(near[:-1])} or {near[-1]}?")
    return WordProblem(token.index, "unknown-part", f"{message}: nearest is {near[0]}" if near else message,
                       near[0] if near else None)


def unreadable(token: Token) -> WordProblem:
    """The problem of a word that begins like a quantity and is none."""
    failure = token.failure
    if failure is None:
        return WordProblem(token.index, "bad-value", f"{token.text} is no value and no kind of part")
    hint = f": write {failure.suggestion}" if failure.suggestion else ""
    return WordProblem(token.index, "bad-value", f"{token.text} {failure.reason}{hint}", failure.suggestion)
