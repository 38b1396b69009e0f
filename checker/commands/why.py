"""``legwise why RULE``: what a rule means, why it matters, an example, how to check it, its source."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from checker.commands.shared import CLEAR, Misuse, nearest, page


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("rule", nargs="?", metavar="RULE", help="as a report names it; without a rule all are listed")


def run(arguments: Namespace) -> int:
    """Print the explanation of the rule, or the names of all; the exit status."""
    from checker import rules
    from checker.report.explanation import in_words

    known = rules.slugs()
    if arguments.rule is None:
        print("\n".join(known))
        return CLEAR
    slug = arguments.rule.strip("[]").lower()
    if slug not in known:
        raise Misuse(f"no rule '{slug}'. {nearest(slug, known)}")
    print(in_words(slug, rules.explain(slug), page()), end="")
    return CLEAR
