"""What is said about a whole file: how many findings, or what was looked at when there are none?"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..report import Checked

MOST_ALSO = 3
"""How many findings like the one told are told by their titles."""

NOTHING_WRITTEN = "nothing was written: mend the errors first"


NOT_TRIED = "the design could not be made out, so its tests were not tried"


def no_such_test(asked: str) -> str:
    """Nothing was tried: most likely a slip in the title."""
    return f'no test has a title that holds "{asked}"'


def failed_test(file: str, title: str) -> str:
    """The line for a test that does not hold."""
    return f'{file}: fails: "{title}"'


def tests(number: int, failed: int, design_holds: bool) -> str:
    """How the tests of a file came out, on one line."""
    ways = counted(number, "test")
    held = f"{ways} hold" if number != 1 else f"{ways} holds"
    if failed:
        held = f"{failed} of {ways} fail" if failed != 1 else f"1 of {ways} fails"
    return held if design_holds else f"{held}; findings stand against the design itself"


def counted(number: int, thing: str) -> str:
    """A number with its noun: `1 board`, `2 boards`.

    >>> counted(1, "board"), counted(0, "finding")
    ('1 board', '0 findings')
    """
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"


def clean(checked: Checked) -> str:
    """What was checked and is in order, on one line."""
    if not checked.boards:
        return "has no boards: there is nothing to check"
    counts = [
        counted(checked.boards, "board"),
        counted(checked.joints, "joint"),
        *([counted(checked.cuts, "cut")] if checked.cuts else []),
        *([counted(checked.motions, "motion")] if checked.motions else []),
        counted(checked.tests, "test"),
    ]
    return f"goes together: {', '.join(counts)}{picked(checked)}"


def picked(checked: Checked) -> str:
    """Which bits were picked, how many times; nothing when each joint and cut named its own."""
    if not checked.picked:
        return ""
    bits = ", ".join(f"{bit} {counted(times, 'time')}" for bit, times in checked.picked)
    return f"; bit picked where none was named: {bits}"


def totals(errors: int, warnings: int) -> str:
    """`2 errors, 1 warning`, leaving out what there is none of."""
    parts = [counted(errors, "error")] if errors else []
    parts += [counted(warnings, "warning")] if warnings else []
    return ", ".join(parts)


def also_said(titles: tuple[str, ...]) -> tuple[str, ...]:
    """Notes for findings like the one told, at the same place."""
    notes = tuple(f"also, {title}" for title in titles[:MOST_ALSO])
    more = len(titles) - MOST_ALSO
    return (*notes, f"and {more} more of the kind") if more > 0 else notes


def left_out(number: int) -> str:
    """Stands for the findings that are not drawn."""
    return f"and {counted(number, 'more finding')}: mend these first"


def retired(code: str, summary: str) -> str:
    """Stands for the page of a code that is no longer given."""
    return f"{code} is retired: no version from now on gives it. It said: {summary}.\n"
