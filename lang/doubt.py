"""After a slip of the pen: what in a tree is but a guess?

The reader mends what it can, so that the rest of a file makes sense. Where it had to guess, the
statement is not relied on: it has its message, and whatever it declares is not known. Names that
are declared somewhere in such a file but are not in sight are not spoken of either: a brace gone
astray may have moved them.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from typing import Final

from ..kernel.finding import Finding
from . import syntax
from .findings import (
    CommaInNumber,
    CurvedQuotes,
    OtherComment,
    TwoOnALine,
    UnitApart,
)
from .names import base_name
from .run import Run

MENDED_SURELY: Final = (
    CommaInNumber,
    CurvedQuotes,
    OtherComment,
    TwoOnALine,
    UnitApart,
)
"""Slips after which there is no doubt what was meant."""


def heed(file: str, findings: tuple[Finding, ...], run: Run) -> None:
    """Note where the text of a file holds slips."""
    places = [finding.place for finding in findings if finding.place is not None]
    run.slips.update(places)
    unsure = [f.place for f in findings if f.place and not isinstance(f, MENDED_SURELY)]
    if unsure:
        run.doubts[file] = tuple(sorted(place.start for place in unsure))


def is_doubtful(statement: syntax.Stmt, run: Run) -> bool:
    """Whether a slip lies in a statement; of a block, in what stands before its braces."""
    place = statement.place
    starts = run.doubts.get(place.file)
    if starts is None:
        return False
    at = bisect_left(starts, place.start - 1)  # a word may be missing right before it
    return at < len(starts) and starts[at] <= _head_end(statement)


def _head_end(statement: syntax.Stmt) -> int:
    match statement:
        case syntax.For() | syntax.Assembly() | syntax.TestBlock():
            body = statement.body
        case syntax.If():
            body = statement.yes or statement.no
        case _:
            body = ()
    return body[0].place.start - 2 if body else statement.place.end


def names_in(statements: tuple[syntax.Stmt, ...]) -> Iterator[str]:
    """Every name that statements declare, at any depth."""
    for statement in statements:
        match statement:
            case syntax.Param() | syntax.Let() | syntax.Declaration():
                yield statement.name.text
            case syntax.BoardLine() | syntax.PlaceLine():
                yield base_name(statement.name).text
            case syntax.Fn():
                yield statement.name.text
                yield from (parameter.name.text for parameter in statement.parameters)
            case syntax.Assembly():
                yield statement.name.text
                yield from (parameter.name.text for parameter in statement.parameters)
                yield from names_in(statement.body)
            case syntax.For():
                yield statement.variable.text
                yield from names_in(statement.body)
            case syntax.If():
                yield from names_in(statement.yes + statement.no)
            case syntax.TestBlock():
                yield from names_in(statement.body)
            case syntax.Broken():
                yield from (name.text for name in statement.names)
            case _:
                continue
