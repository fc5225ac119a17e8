"""The words of L codes: what is too much of a good thing, and how to raise the bound."""

from __future__ import annotations

from collections.abc import Mapping

from ...kernel.figures import figure
from ...kernel.finding import Finding
from ..findings import (
    FileTooLarge,
    NestedTooDeep,
    NumberTooLong,
    StatementTooLong,
    TooManyMistakes,
    TooManyStatements,
)
from ..value_findings import (
    CallsTooDeep,
    TooFine,
    TooLarge,
    TooManyBoards,
    TooManyFiles,
    TooManyItems,
    TooManyTurns,
    TooMuchWork,
    UseTooDeep,
    WorkedTooDeep,
)
from . import Wording
from .words import Help, Words


def raise_it(limit: str, value: int) -> Help:
    """The way out that raises a limit, for a design that is meant to be that large."""
    return Help(f"if the design is meant to be that large: `--limit {limit}={value}`")


# ---- L1: while a text is read --------------------------------------------------------------------


def _file(finding: FileTooLarge) -> Words:
    return Words(
        title=f"this file has {finding.size} bytes; only files up to {finding.most} are read",
        help=(raise_it("file_size", finding.size),),
    )


def _nested(finding: NestedTooDeep) -> Words:
    return Words(
        title=f"blocks, brackets or operators go over {finding.most} deep",
        label="deeper from here on",
        help=(
            Help("give parts of it names of their own with `let`"),
            raise_it("nesting", 2 * finding.most),
        ),
    )


def _statements(finding: TooManyStatements) -> Words:
    return Words(
        title=f"this file has more than {finding.most} statements and comments",
        label="read no further than this",
        help=(raise_it("statements", 2 * finding.most),),
    )


def _statement(finding: StatementTooLong) -> Words:
    return Words(
        title=f"this statement has more than {finding.most} words, numbers and signs",
        label="read no further than this",
        help=(raise_it("statement_words", 2 * finding.most),),
    )


def _number(finding: NumberTooLong) -> Words:
    return Words(
        title=f"this number has {finding.digits} digits; {finding.most} are read",
        label="far longer than anything that is measured",
        help=(raise_it("number_digits", finding.digits),),
    )


def _mistakes(finding: TooManyMistakes) -> Words:
    return Words(
        title=f"this is mistake {finding.most} of the file: the rest is not read",
        label="read as far as this",
        help=(raise_it("mistakes", 2 * finding.most),),
    )


# ---- L2: while a design is worked out ------------------------------------------------------------


def _turns(finding: TooManyTurns) -> Words:
    return Words(
        title=f"all loops together may turn {finding.limit} times, and this makes {finding.turns}",
        label="this loop goes beyond it",
        help=(raise_it("loop_rounds", finding.turns),),
    )


def _boards(finding: TooManyBoards) -> Words:
    return Words(
        title=f"a design may have {finding.limit} boards",
        label="this would be one more",
        help=(raise_it("boards", 2 * finding.limit),),
    )


def _calls(finding: CallsTooDeep) -> Words:
    return Words(
        title=f"`{finding.name}` is called within itself or others {finding.limit} deep",
        label="this call goes deeper",
        help=(
            Help("see that it comes to an end: `if … then … else …`"),
            raise_it("call_depth", 2 * finding.limit),
        ),
    )


def _work(finding: TooMuchWork) -> Words:
    return Words(
        title=f"more than {finding.limit} expressions are to be worked out",
        label="the design was given up here",
        notes=("functions that call each other twice or more can take endless work",),
        help=(raise_it("evaluations", 2 * finding.limit),),
    )


def _fine(finding: TooFine) -> Words:
    return Words(
        title=f"the exact fraction of this value needs more than {finding.limit} digits",
        label="values are kept exactly, and this one has grown too long",
        help=(
            Help("round it on the way: `round(…, 0.01mm)`"),
            raise_it("exact_digits", 2 * finding.limit),
        ),
    )


def _large(finding: TooLarge) -> Words:
    return Words(
        title=f"this value is larger than {figure(finding.limit)} of its unit",
        label="far beyond any piece of furniture",
        help=(raise_it("magnitude", 1000 * finding.limit),),
    )


def _use_depth(finding: UseTooDeep) -> Words:
    return Words(
        title=f"files use files {finding.limit} deep",
        label="this file would be one deeper",
        help=(raise_it("use_depth", 2 * finding.limit),),
    )


def _files(finding: TooManyFiles) -> Words:
    return Words(
        title=f"a design may use {finding.limit} files",
        label="this would be one more",
        help=(raise_it("used_files", 2 * finding.limit),),
    )


def _depth(finding: WorkedTooDeep) -> Words:
    return Words(
        title=f"expressions, blocks and calls stand in each other more than {finding.limit} deep",
        label="this one goes deeper",
        help=(Help("give parts of it names of their own with `let` or `fn`"),),
    )


def _items(finding: TooManyItems) -> Words:
    return Words(
        title=f"a list may have {finding.limit} items, those of lists in it counted too",
        label="this one has more",
        help=(raise_it("loop_rounds", 2 * finding.limit),),
    )


WORDS: Mapping[type[Finding], Wording] = {
    FileTooLarge: _file,
    NestedTooDeep: _nested,
    TooManyStatements: _statements,
    StatementTooLong: _statement,
    NumberTooLong: _number,
    TooManyMistakes: _mistakes,
    TooManyTurns: _turns,
    TooManyBoards: _boards,
    CallsTooDeep: _calls,
    TooMuchWork: _work,
    TooFine: _fine,
    TooLarge: _large,
    UseTooDeep: _use_depth,
    TooManyFiles: _files,
    WorkedTooDeep: _depth,
    TooManyItems: _items,
}
