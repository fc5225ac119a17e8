"""What is said about a sweep: how each kind of variant came out, and how many pass?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from .summary import counted

if TYPE_CHECKING:
    from ..sweep import Outcome, Swept

MOST_CODES = 3
"""Codes told in a row of the table."""

NOT_TRIED = "not tried"


def outcome(told: Outcome) -> str:
    """An outcome in a few words, for a row."""
    from ..sweep import Kind

    match told.kind:
        case Kind.PASSES:
            return "passes"
        case Kind.FINDINGS:
            return _codes(told.codes)
        case Kind.DIED:
            return "its worker died"
        case Kind.MEMORY:
            return "out of memory"
        case Kind.TIMEOUT:
            return "took too long"
        case Kind.UNREADABLE:
            return "could not be read"
        case Kind.FAULT:
            return f"a fault of dryfit ({told.error})"


def _codes(codes: tuple[tuple[str, int], ...]) -> str:
    shown = [code if times == 1 else f"{code} x{times}" for code, times in codes[:MOST_CODES]]
    more = len(codes) - MOST_CODES
    return ", ".join(shown) + (f" and {counted(more, 'other code')}" if more > 0 else "")


def total(swept: Swept) -> str:
    """The last line: how many pass."""
    size = swept.family.size
    said = f"{swept.passing} of {counted(size, 'variant')} pass"
    left = size - swept.tried
    return f"{said}; {left} not tried: the sweep was cut short" if left else said


def reason(words: str, count: int, first: str, said: str) -> str:
    """What an outcome other than success was, once, with the variant that had it first."""
    told = f"{words}: {counted(count, 'variant')}, first with {first}"
    return f"{told}\n    {said}" if said else told


def rows_left_out(number: int) -> str:
    """Stands for the rows that are not shown."""
    return f"… and {counted(number, 'more row')}; `--format json` has every variant"


def reasons_left_out(number: int) -> str:
    return f"… and {counted(number, 'other outcome')}"


def look_closer(file: str, settings: str) -> str:
    """How to see the whole message of a variant."""
    return f"for the whole message: dryfit check {file} {settings}"


def progress(done: int, size: int, passing: int, width: int = 24) -> str:
    """A bar, and the numbers it stands for."""
    full = width * done // size
    bar = f"[{'#' * full}{'.' * (width - full)}] {done} of {size}"
    return f"{bar}, {done - passing} not passing" if done > passing else bar


def many(size: int) -> str:
    return f"{size} variants"
