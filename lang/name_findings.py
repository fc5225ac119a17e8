"""What can be wrong with a name, or with a file that is used? The facts of every N code.

`nearest` is the known name that was probably meant, None when none is near; `known` lists what may
stand there, in the order a person would list it.
"""

from __future__ import annotations

from enum import Enum
from typing import ClassVar

from ..kernel.finding import Finding, Place, facts


class Where(Enum):
    """In what a statement stands."""

    TOP = "top"
    BRANCH = "branch"  # the braces of an `if`
    LOOP = "loop"
    ASSEMBLY = "assembly"
    TEST = "test"
    USED = "used"  # the top of a file that another one uses


class Escape(Enum):
    """Why a used path is refused."""

    EMPTY = "empty"
    ABSOLUTE = "absolute"
    BACKSLASH = "backslash"
    UNFIT = "unfit"  # control characters, a drive letter, a home sign
    CLIMBS = "climbs"
    LINK = "link"
    ENDING = "ending"


@facts
class ToldOnce(Finding):
    """The base of what is told of the first of several places that one slip most likely explains;
    `elsewhere` counts the others."""

    elsewhere: int = 0


@facts
class MissingName(ToldOnce):
    """The base of what is told of a name that is missing."""

    name: str


@facts
class UnknownName(MissingName):
    """A name that nothing visible has; `is_called` where it is a function or a measure, which want
    parentheses."""

    code: ClassVar[str] = "N101"
    nearest: str | None = None
    is_called: bool = False


@facts
class DeclaredLater(MissingName):
    """A name used above the line that declares it."""

    code: ClassVar[str] = "N102"
    other: Place


@facts
class DeclaredTwice(Finding):
    """A name given to two things; `other` is the first."""

    code: ClassVar[str] = "N103"
    name: str
    other: Place | None


@facts
class NeedsIndex(Finding):
    """A plain name declared on every turn of a loop over `variable`."""

    code: ClassVar[str] = "N104"
    name: str
    variable: str


@facts
class UnknownStock(MissingName):
    """A board of a stock that does not exist."""

    code: ClassVar[str] = "N105"
    nearest: str | None
    known: tuple[str, ...]


@facts
class UnknownFunction(MissingName):
    """A call of what is no function; `assembly` is where an assembly of that name is declared."""

    code: ClassVar[str] = "N106"
    nearest: str | None = None
    assembly: Place | None = None


@facts
class UnknownAssembly(MissingName):
    """A `place` of an assembly that does not exist."""

    code: ClassVar[str] = "N107"
    nearest: str | None = None


@facts
class UnknownMember(Finding):
    """`of.name` where `of` has no such part."""

    code: ClassVar[str] = "N108"
    name: str
    of: str
    nearest: str | None
    known: tuple[str, ...]


@facts
class UnknownIndex(Finding):
    """`of[index]` that was never declared; `known` are the first and last index, None for none."""

    code: ClassVar[str] = "N109"
    of: str
    index: str
    known: tuple[str, str] | None


@facts
class UnknownProperty(Finding):
    """A word in the braces of a stock, bit or machine that is none of its properties."""

    code: ClassVar[str] = "N110"
    word: str
    keyword: str
    nearest: str | None
    known: tuple[str, ...]


@facts
class MissingProperty(Finding):
    """A stock, bit or machine without a property it cannot do without; any of `missing` will do."""

    code: ClassVar[str] = "N111"
    keyword: str
    name: str
    missing: tuple[str, ...]


@facts
class PropertyTwice(Finding):
    """A property given twice, or two that exclude each other; `other` is the first."""

    code: ClassVar[str] = "N112"
    word: str
    first: str
    other: Place


@facts
class UnknownArgument(Finding):
    """`name: value` where the function or assembly has no such parameter."""

    code: ClassVar[str] = "N113"
    name: str
    callee: str
    nearest: str | None
    known: tuple[str, ...]


@facts
class ArgumentTwice(Finding):
    """One parameter given two values."""

    code: ClassVar[str] = "N114"
    name: str
    other: Place


@facts
class MissingArguments(Finding):
    """Parameters without a default and without a value; `other` is where the callee stands."""

    code: ClassVar[str] = "N115"
    callee: str
    missing: tuple[str, ...]
    other: Place | None = None


@facts
class TooManyArguments(Finding):
    """More values than the callee has parameters."""

    code: ClassVar[str] = "N116"
    callee: str
    most: int
    given: int


@facts
class UnknownSetting(Finding):
    """A value set from outside for a param that does not exist."""

    code: ClassVar[str] = "N117"
    name: str
    nearest: str | None
    known: tuple[str, ...]


@facts
class UnknownKind(Finding):
    """A parameter of a kind that does not exist."""

    code: ClassVar[str] = "N118"
    name: str
    nearest: str | None
    known: tuple[str, ...]


@facts
class Misplaced(Finding):
    """A statement where it cannot stand."""

    code: ClassVar[str] = "N119"
    keyword: str
    where: Where


@facts
class UnknownClaim(Finding):
    """`expect` of bare words that are no claim."""

    code: ClassVar[str] = "N120"
    words: str
    nearest: str | None
    known: tuple[str, ...]


@facts
class NameTaken(Finding):
    """A function named like one of the language's own functions or measures."""

    code: ClassVar[str] = "N121"
    name: str


@facts
class MeasureOutsideTest(Finding):
    """A figure that is only known once the piece is cut, asked for while it is laid out."""

    code: ClassVar[str] = "N122"
    name: str


@facts
class UseNotFound(Finding):
    """A used file that is not there."""

    code: ClassVar[str] = "N201"
    path: str
    nearest: str | None


@facts
class UseRefused(Finding):
    """A used path that is absolute, leaves the design's folder, or is no `.dry` file."""

    code: ClassVar[str] = "N202"
    path: str
    why: Escape


@facts
class UseCycle(Finding):
    """A file that uses itself, at once or by way of others; `chain` are the files on the way."""

    code: ClassVar[str] = "N203"
    chain: tuple[str, ...]
