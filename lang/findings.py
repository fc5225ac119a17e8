"""What can be wrong with a text, before any wood is concerned? The facts of each case.

S: bytes and syntax. N: names and `use`. U: units and values. L: limits. Each class states facts;
`messages/` has the words. A kept rule of the S findings: one slip of the pen, one finding.
"""

from __future__ import annotations

from typing import ClassVar

from ..kernel.finding import Finding, Place, facts

# ---- S0: the bytes of a file ---------------------------------------------------------------------


@facts
class NotUtf8(Finding):
    """`byte` counts from 0; `value` is what stands there; `encoding` what the file seems to be."""

    code: ClassVar[str] = "S001"
    byte: int
    value: int
    line: int
    encoding: str | None


@facts
class NulCharacter(Finding):
    """A character 0: the file is no text."""

    code: ClassVar[str] = "S002"
    byte: int
    line: int


@facts
class NothingWritten(Finding):
    """The design's own file holds no statement."""

    code: ClassVar[str] = "S003"


# ---- S1: words, signs and statements -------------------------------------------------------------
#
# `expected` holds keywords and signs as they are written (`of`, `..`) and, for what has no one
# spelling, a kind in angle brackets: <name>, <number>, <text>, <axis>, <value>, <end>.
# `statement` is the keyword of the statement concerned, "" where there is none.


@facts
class UnexpectedWord(Finding):
    """A word or sign that cannot stand where it stands; `after` is the one before it."""

    code: ClassVar[str] = "S101"
    found: str
    after: str
    expected: tuple[str, ...]
    statement: str


@facts
class EndsTooSoon(Finding):
    """The statement stops before it is complete; the place is its last word."""

    code: ClassVar[str] = "S102"
    after: str
    expected: tuple[str, ...]
    statement: str


@facts
class UnknownStatement(Finding):
    """The first word begins no statement; `near` is the keyword it resembles."""

    code: ClassVar[str] = "S103"
    found: str
    near: str | None


@facts
class UnclosedText(Finding):
    """A `"` without its partner on the line; `close` is the empty place where it may stand."""

    code: ClassVar[str] = "S104"
    close: Place


@facts
class Unclosed(Finding):
    """A bracket or brace never closed; `before` is where it was to be closed at the latest, and
    `indent` how far its line is indented."""

    code: ClassVar[str] = "S105"
    opener: str
    closer: str
    statement: str
    before: Place
    indent: int


@facts
class StrayCloser(Finding):
    """A closing bracket or brace that closes nothing."""

    code: ClassVar[str] = "S106"
    found: str


@facts
class StrayMark(Finding):
    """Characters that mean nothing in the language."""

    code: ClassVar[str] = "S107"
    found: str


@facts
class CurvedQuotes(Finding):
    """A text between quotation marks other than `"`."""

    code: ClassVar[str] = "S108"
    found: str
    meant: str


@facts
class UnitApart(Finding):
    """A blank between a number and its unit: `18 mm`."""

    code: ClassVar[str] = "S109"
    number: str
    unit: str


@facts
class CommaInNumber(Finding):
    """`1,5mm` where `1.5mm` is meant."""

    code: ClassVar[str] = "S110"
    found: str
    meant: str


@facts
class ReservedName(Finding):
    """A word of the language used as a name."""

    code: ClassVar[str] = "S111"
    word: str
    statement: str


@facts
class MissingWord(Finding):
    """One word or sign is left out; written into `gap`, the blanks between `after` and `found`, it
    makes the statement readable."""

    code: ClassVar[str] = "S112"
    missing: str
    after: str
    found: str
    gap: Place
    statement: str


@facts
class Misspelt(Finding):
    """A word inside a statement that is near the one needed there."""

    code: ClassVar[str] = "S113"
    found: str
    meant: str


@facts
class EqualsMixedUp(Finding):
    """`=` where two values are compared, or `==` where a name is given its value."""

    code: ClassVar[str] = "S114"
    found: str
    meant: str


@facts
class OtherSign(Finding):
    """A sign of mathematics or of another language, understood as `meant`."""

    code: ClassVar[str] = "S115"
    found: str
    meant: str


@facts
class OtherComment(Finding):
    """A comment begun with another sign than `#`."""

    code: ClassVar[str] = "S116"
    found: str


@facts
class BadNumber(Finding):
    """A number that is none, `1.2.3mm` or `3/0in`; `meant` is how it may be written."""

    code: ClassVar[str] = "S117"
    found: str
    meant: str | None


@facts
class TwoOnALine(Finding):
    """A statement that begins on the line of the one before."""

    code: ClassVar[str] = "S118"
    keyword: str
    statement: str


@facts
class ExtraWord(Finding):
    """A word or sign too many: without it the statement can be read."""

    code: ClassVar[str] = "S119"
    found: str
    after: str
    statement: str


@facts
class SpansAmiss(Finding):
    """A board without a span along each axis, or with two along one."""

    code: ClassVar[str] = "S120"
    board: str
    missing: tuple[str, ...]
    twice: tuple[str, ...]


@facts
class ChainedComparison(Finding):
    """`a < b < c`; `middle` is `b` as written."""

    code: ClassVar[str] = "S121"
    middle: str
    found: str


@facts
class NoBlock(Finding):
    """`for`, `if`, `assembly` or `test` without its `{`; the place is its last word."""

    code: ClassVar[str] = "S122"
    statement: str


@facts
class ElseAlone(Finding):
    """An `else` that follows no `if` block."""

    code: ClassVar[str] = "S123"


# ---- L1: limits of a text ------------------------------------------------------------------------


@facts
class FileTooLarge(Finding):
    """`size` and `most` in bytes."""

    code: ClassVar[str] = "L101"
    size: int
    most: int


@facts
class NestedTooDeep(Finding):
    """Blocks, brackets or operators one inside the other, more than `most` deep."""

    code: ClassVar[str] = "L102"
    most: int


@facts
class TooManyStatements(Finding):
    code: ClassVar[str] = "L103"
    most: int


@facts
class StatementTooLong(Finding):
    """More than `most` words, numbers and signs in one statement."""

    code: ClassVar[str] = "L104"
    most: int


@facts
class NumberTooLong(Finding):
    code: ClassVar[str] = "L105"
    digits: int
    most: int


@facts
class TooManyMistakes(Finding):
    """The file is read no further than the place."""

    code: ClassVar[str] = "L106"
    most: int
