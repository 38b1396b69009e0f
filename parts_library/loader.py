"""Reads the parts library: TOML files in the form of ``schema``, checked against the laws, into one ``Library``.

Input: the files below ``data/`` and perhaps a user's own kit. Output: a Library of typed entries and packages. Every
error names the file, the entry and the field, what is allowed and what was found, in a sentence that its author can act
on. The shipped files are read from the table that ``parts_library.table`` makes of them, where that is in step.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from functools import cache, cached_property, lru_cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from msgspec import Struct

from parts_library.decoding import FieldError, decode_record
from parts_library.laws import broken_laws
from parts_library.lookup import Index, Match
from parts_library.schema import AnyEntry, Led, Package, SupplyKind
from parts_library.table import read_table

DATA = Path(__file__).parent / "data"


class LibraryError(Exception):
    """A parts file that cannot be used. ``message`` is the whole sentence; the other fields are its parts."""

    def __init__(self, file: str, entry: str, field: str, reason: str, *, allowed: str = "", found: str = "") -> None:
        where = ", ".join(word for word in (file, entry, f"field {field}" if field else "") if word)
        self.message = f"{where}: {reason}"
        super().__init__(self.message)
        self.file = file
        self.entry = entry
        self.field = field
        self.allowed = allowed
        self.found = found


class PartsFile(Struct, frozen=True):
    """One decoded file: its name, its entries and its packages, in the order written."""

    name: str
    entries: tuple[AnyEntry, ...]
    packages: tuple[Package, ...]


class Library:
    """All known parts and packages. ``overridden`` names the shipped entries that a kit replaced."""

    def __init__(self, entries: Mapping[str, AnyEntry], packages: Mapping[str, Package],
                 overridden: tuple[str, ...] = ()) -> None:
        self.entries = dict(entries)
        self.packages = dict(packages)
        self.overridden = overridden

    @cached_property
    def index(self) -> Index:
        """The entries by every spelling under which they are found."""
        return Index(self.entries.values())

    @cached_property
    def families(self) -> dict[type, tuple[AnyEntry, ...]]:
        """The entries of each type, in the order of the library."""
        found: dict[type, list[AnyEntry]] = {}
        for entry in self.entries.values():
            found.setdefault(type(entry), []).append(entry)
        return {form: tuple(entries) for form, entries in found.items()}

    @cached_property
    def supplies(self) -> Library:
        """The part of the library that can stand on a ``supply`` line."""
        supplies = {name: entry for name, entry in self.entries.items() if isinstance(entry, SupplyKind)}
        return Library(supplies, self.packages, self.overridden)

    def find(self, text: str) -> Match:
        """The part that ``text`` names: one entry, several that it could be, or none with near misses."""
        return self.index.find(text)


def load_library(kit: Path | None = None) -> Library:
    """The shipped library, made once a process; with ``kit`` (a TOML file of the same form) added on top of it, which is
    read at every call and made once as long as it says the same.

    Raises LibraryError for a file that cannot be read or breaks a law."""
    return _shipped() if kit is None else _with_kit(kit.name, _text_of(kit))


def decode_file(path: Path) -> PartsFile:
    """One TOML file with ``[[part]]`` and ``[[package]]`` tables. Raises LibraryError."""
    return _decoded(path.name, _text_of(path))


def _decoded(file: str, text: str) -> PartsFile:
    raw = _toml(file, text)
    for key in raw:
        if key not in ("part", "package"):
            raise LibraryError(file, "", "", f"[{key}] is no table of a parts file; it has [[part]] and [[package]]",
                               allowed="part, package", found=key)
    entries = tuple(_decode(file, "part", index, table, AnyEntry) for index, table in _tables(file, raw, "part"))
    packages = tuple(_decode(file, "package", index, table, Package) for index, table in _tables(file, raw, "package"))
    return PartsFile(file, entries, packages)


def build_library(files: Iterable[PartsFile], base: Library | None = None) -> Library:
    """Puts decoded files together and checks every law. Raises LibraryError at the first that is broken."""
    entries: dict[str, AnyEntry] = dict(base.entries) if base else {}
    packages: dict[str, Package] = dict(base.packages) if base else {}
    came_from: dict[str, str] = {}
    overridden: list[str] = []
    files = tuple(files)
    for file in files:
        _add_packages(file, packages, came_from)
    for file in files:
        for entry in file.entries:
            _check(file.name, entry, packages)
            if entry.name in came_from:
                raise LibraryError(file.name, f"part '{entry.name}'", "name", f"is given twice, first in {came_from[entry.name]}",
                                   allowed="one entry a name", found=entry.name)
            came_from[entry.name] = file.name
            if entry.name in entries:
                overridden.append(entry.name)
            entries[entry.name] = entry
    _check_names(entries, came_from)
    _check_members(entries, came_from)
    return Library(entries, packages, tuple(overridden))


@cache
def _shipped() -> Library:
    files = sorted(DATA.glob("*.toml"))
    ready = read_table(files)
    if ready is None:
        return library_from(files)
    return Library({entry.name: entry for entry in ready.entries}, {package.name: package for package in ready.packages})


def library_from(files: Iterable[Path]) -> Library:
    """The library of these TOML files, every law checked. Raises LibraryError."""
    return build_library(decode_file(path) for path in files)


def kit_template() -> str:
    """A kit to start from, with every field explained: TOML."""
    return (files("parts_library") / "kit_template.toml").read_text(encoding="utf-8")


@lru_cache(maxsize=4)
def _with_kit(file: str, text: str) -> Library:
    return build_library([_decoded(file, text)], base=_shipped())


def _text_of(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise LibraryError(path.name, "", "", f"cannot be read: {error.strerror or error}") from error
    except UnicodeDecodeError as error:
        raise LibraryError(path.name, "", "", "is not UTF-8 text; save it as UTF-8") from error


def _toml(file: str, text: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise LibraryError(file, "", "", f"is no TOML: {error}") from error


def _tables(file: str, raw: Mapping[str, Any], key: str) -> list[tuple[int, dict[str, Any]]]:
    tables = raw.get(key, [])
    if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
        raise LibraryError(file, "", "", f"[{key}] is written [[{key}]], once for each {key}", allowed=f"[[{key}]]",
                           found=f"[{key}]")
    return list(enumerate(tables, start=1))


def _decode(file: str, table_name: str, index: int, table: dict[str, Any], form: Any) -> Any:
    name = table.get("name")
    label = f"{table_name} '{name}'" if isinstance(name, str) and name else f"{table_name} number {index}"
    try:
        return decode_record(table, form)
    except FieldError as error:
        raise LibraryError(file, label, error.field, error.reason, allowed=error.allowed, found=error.found) from error


def _add_packages(file: PartsFile, packages: dict[str, Package], came_from: dict[str, str]) -> None:
    for package in file.packages:
        key = f"package {package.name}"
        if key in came_from:
            raise LibraryError(file.name, f"package '{package.name}'", "name", f"is given twice, first in {came_from[key]}",
                               allowed="one package a name", found=package.name)
        came_from[key] = file.name
        packages[package.name] = package


def _check(file: str, entry: AnyEntry, packages: Mapping[str, Package]) -> None:
    for broken in broken_laws(entry, packages):
        raise LibraryError(file, f"part '{entry.name}'", broken.field, broken.message, allowed=broken.allowed,
                           found=broken.found)


def _check_names(entries: Mapping[str, AnyEntry], came_from: Mapping[str, str]) -> None:
    """An alias may be shared inside a kind (the reader is then asked which), never with another entry's name."""
    owners: dict[str, AnyEntry] = {}
    names = {name.casefold(): entry for name, entry in entries.items()}
    for entry in entries.values():
        for alias in entry.aliases:
            key = alias.casefold()
            other = names.get(key)
            if other is not None and other.name != entry.name:
                raise _alias_error(entry, alias, f"is the name of part '{other.name}'", came_from)
            owner = owners.setdefault(key, entry)
            if type(owner) is not type(entry):
                raise _alias_error(entry, alias, f"is also an alias of '{owner.name}', which is another kind of part",
                                   came_from)


def _alias_error(entry: AnyEntry, alias: str, reason: str, came_from: Mapping[str, str]) -> LibraryError:
    return LibraryError(came_from.get(entry.name, "the shipped library"), f"part '{entry.name}'", "aliases",
                        f"'{alias}' {reason}", allowed="a name that no other part has", found=alias)


def _check_members(entries: Mapping[str, AnyEntry], came_from: Mapping[str, str]) -> None:
    """The LEDs of a group have the data of an LED entry."""
    for entry in entries.values():
        for index, member in enumerate(getattr(entry, "members", ())):
            like = entries.get(member.like)
            if not isinstance(like, Led):
                raise LibraryError(came_from.get(entry.name, "the shipped library"), f"part '{entry.name}'",
                                   f"members[{index}].like", f"'{member.like}' is no LED of the library",
                                   allowed="the name of an LED", found=member.like)
