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
    from checker.rules.headings import heading

    known = rules.slugs()
    if arguments.rule is None:
        width = max(map(len, known)) + 2
        print("\n".join(f"{slug:{width}}{heading(slug)}" for slug in known))
        return CLEAR
    slug = arguments.rule.strip("[]").lower()
    if slug not in known:
        having = [each for each in known if slug and slug in each]
        said = f"Rules with {slug} in their name: {', '.join(having)}" if having else nearest(slug, known)
        raise Misuse(f"no rule '{slug}'. {said}")
    print(in_words(slug, rules.explain(slug), page()), end="")
    return CLEAR
