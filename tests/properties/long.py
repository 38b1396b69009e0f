"""Many more examples of the same properties, by hand: ``python -m tests.properties.long --count 500``.

With ``--reported`` whole reports are compared, with ``--fixes`` the promises of fixes and of mending are put to the test.

Prints for each change the lists that it is wrong for, the first few in full, and ends with 1 where there is any.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from random import Random

from checker.checking import check
from tests.properties.judging import found_in, reported
from tests.properties.lists import LISTS, SMALL, slipped, statements_of, written
from tests.properties.test_fixes import broken_mending, broken_promises
from tests.properties.test_same_verdict import CHANGES, difference


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("--count", type=int, default=100, help="lists for each change")
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--only", choices=CHANGES, help="one change only")
    parser.add_argument("--reported", action="store_true", help="compare the reports with their causes, not what the rules find")
    parser.add_argument("--show", type=int, default=2, help="how many wrong lists of each change are printed in full")
    parser.add_argument("--fixes", action="store_true", help="apply every fix of small lists with a slip, and mend them")
    arguments = parser.parse_args()
    if arguments.fixes:
        return _fixes(arguments.count, arguments.seed)
    wrong: Counter[str] = Counter()
    for what in [arguments.only] if arguments.only else CHANGES:
        for number in range(arguments.count):
            told = _one(what, Random(arguments.seed + number), arguments.reported)
            wrong[what] += told is not None
            if told is not None and wrong[what] <= arguments.show:
                print(told)
        print(f"{what}: {wrong[what]} of {arguments.count} wrong", flush=True)
    return 1 if wrong.total() else 0


def _fixes(count: int, seed: int) -> int:
    """Prints each list of which a fix or the mending breaks a promise; 1 where there is any."""
    wrong = 0
    for number in range(seed, seed + count):
        chance = Random(number)
        text = slipped(SMALL[chance.choice(sorted(SMALL))], chance)
        if told := [*broken_promises(check(text)), *broken_mending(text)]:
            wrong += 1
            print(text, *told, sep="\n", end="\n\n", flush=True)
    print(f"fixes: {wrong} of {count} wrong")
    return 1 if wrong else 0


def _one(what: str, chance: Random, deep: bool) -> str | None:
    """What is wrong, or None."""
    lists = SMALL if deep else LISTS
    text = lists[chance.choice(sorted(lists))]
    text = slipped(text, chance) if deep or chance.random() < 0.7 else written(statements_of(text))
    return difference(text, what, chance.randrange(1000), reported if deep else found_in) or None


if __name__ == "__main__":
    sys.exit(main())
