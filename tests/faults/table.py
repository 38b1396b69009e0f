"""The table of the benchmark: one row a kind of fault, and the bars of DESIGN.md section 7, which hold for single faults.

A fault that the checker was not asked about does not count as dead.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from tests.faults.judge import Result

FOUND, NAMED, FIXED = 0.995, 0.95, 0.90

HEAD = f"{'kind of fault':28}{'harmful':>8}{'found':>7}{'named':>7}{'fixed':>7}{'cured':>7}{'dead':>7}{'found':>7}" \
       f"{'same':>7}{'near':>6}{'left out':>9}{'s each':>8}"


def is_found(result: Result) -> bool:
    """Harm wants ``do-not-power``; what no longer works wants at least ``will-not-work``."""
    return result.verdict == "do-not-power" or (result.truth == "dead" and result.verdict == "will-not-work")


def table(results: Sequence[Result]) -> tuple[str, bool]:
    """The table as text, and whether every bar is reached."""
    clear = [r for r in results if r.kind in ("correct", "harmless change")]
    faulty = [r for r in results if r not in clear and r.kind != "not covered"]
    rows = [HEAD]
    for kind in sorted({r.kind for r in faulty}):
        rows.append(_row(kind, [r for r in faulty if r.kind == kind]))
    rows.append(_row("all single faults", [r for r in faulty if r.kind != "two faults"]))
    harmful = [r for r in faulty if r.truth == "harmful" and r.kind != "two faults"]
    alarms = [r for r in clear if r.verdict != "clear"]
    crashes = [r for r in results if r.truth == "crash"]
    rows += ["", f"false alarms: {len(alarms)} of {len(clear)} ({sum(r.kind == 'correct' for r in clear)} correct lists), "
             f"crashes: {len(crashes)}, lists the oracle does not cover: {sum(r.kind == 'not covered' for r in results)}"]
    if harmful:
        rows.append(f"harmful found {_share(harmful, is_found):.2%} (bar {FOUND:.1%}), root cause first "
                    f"{_share(harmful, lambda r: r.named):.2%} (bar {NAMED:.0%}), checked fix "
                    f"{_share(harmful, lambda r: r.fix):.2%} (bar {FIXED:.0%})")
    good = not alarms and not crashes and (not harmful or (
        _share(harmful, is_found) >= FOUND and _share(harmful, lambda r: r.named) >= NAMED
        and _share(harmful, lambda r: r.fix) >= FIXED))
    return "\n".join(rows), good


def _share(results: Sequence[Result], holds: Callable[[Result], bool]) -> float:
    return sum(1 for r in results if holds(r)) / len(results)


def _row(kind: str, results: Sequence[Result]) -> str:
    harmful = [r for r in results if r.truth == "harmful"]
    dead = [r for r in results if r.truth == "dead" and r.verdict]
    asked = [r.seconds for r in results if r.seconds]
    counts = (len(harmful), sum(map(is_found, harmful)), sum(r.named for r in harmful), sum(r.fix for r in harmful),
              sum(r.fix and r.cured for r in harmful), len(dead), sum(map(is_found, dead)))
    return f"{kind:28}{counts[0]:8}" + "".join(f"{count:7}" for count in counts[1:]) + \
        f"{sum(r.truth == 'same' for r in results):7}{sum(r.truth == 'near' for r in results):6}" \
        f"{sum(r.truth in ('unknown', 'crash') for r in results):9}{sum(asked) / max(len(asked), 1):8.2f}"
