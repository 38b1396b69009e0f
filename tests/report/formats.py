"""How the tests of the formats look at what was written: an HTML document as a tree, a SARIF log as its only run."""

from __future__ import annotations

import json
import warnings
from typing import Any
from xml.etree import ElementTree

import html5lib

from checker import rules
from checker.report import Page, render
from checker.report.explanation import sections_of
from checker.report.model import Report
from checker.report.page import Enclosure

RULES = {slug: sections_of(rules.explain(slug)) for slug in rules.slugs()}
EXPLAINED = Page(rules=RULES)
SEVERAL = Page(rules=RULES, several=True)
DRAWN = Enclosure(
    drawing='<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9" aria-labelledby="name"><title id="name">board</title>'
            '<defs><marker id="dot"><path d="M0 0h1" /></marker></defs><path d="M0 0h9" marker-end="url(#dot)" /></svg>',
    diagram='<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><g id="name" /><use href="#name" /></svg>',
    meter='<div><h1 id="name">Before power</h1><h2>Ohms</h2><table><tr><td>L+ to L-</td></tr></table></div>',
)


def html_of(*reports: Report, page: Page = EXPLAINED) -> ElementTree.Element:
    """The document as a browser's parser builds it, without namespaces; any parse error fails the test."""
    return parsed_html(render("html", reports, page))


def parsed_html(text: str) -> ElementTree.Element:
    """Held to the parsing rules of the HTML standard (html5lib, strict): what a browser would have to mend is an error."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        root = html5lib.HTMLParser(strict=True).parse(text)
    for element in root.iter():
        if isinstance(element.tag, str):
            element.tag = element.tag.rpartition("}")[2]
    found: ElementTree.Element = root
    return found


def words_of(element: ElementTree.Element | None) -> str:
    """The text as it is read, blanks run together."""
    assert element is not None

    return " ".join("".join(element.itertext()).split())


def by_class(root: ElementTree.Element, name: str) -> list[ElementTree.Element]:
    """The elements of a class, in order."""
    return [each for each in root.iter() if name in (each.get("class") or "").split()]


def sarif_of(*reports: Report, page: Page = EXPLAINED) -> Any:
    """The only run of the log."""
    (run,) = json.loads(render("sarif", reports, page))["runs"]
    return run
