"""What can be wrong with a value, or be too much of it? The facts of the U codes and of the L codes
that are found while a design is worked out (L2xx; those found while it is read are L1xx).
"""

from __future__ import annotations

from fractions import Fraction
from typing import ClassVar

from ..kernel.board import Axis
from ..kernel.finding import Finding, Place, facts
from ..kernel.quantity import Quantity
from .name_findings import ToldOnce
from .values import Kind


@facts
class UnknownUnit(Finding):
    """A unit word that does not exist; `place` is the whole number with its unit."""

    code: ClassVar[str] = "U101"
    unit: str
    nearest: str | None


@facts
class MixedDimensions(Finding):
    """Two measures of different dimensions added, subtracted, compared or made a range of. The
    kinds are always told, the figures only where they are known before the piece is cut."""

    code: ClassVar[str] = "U102"
    op: str
    left: Kind
    right: Kind
    left_figure: Quantity | None
    right_figure: Quantity | None
    left_place: Place
    right_place: Place


@facts
class WrongKind(Finding):
    """A value of the wrong sort; `figure` is its measure where it is one. `other` is the place that
    says what is wanted, such as a parameter."""

    code: ClassVar[str] = "U103"
    wanted: tuple[Kind, ...]
    found: Kind
    figure: Quantity | None = None
    other: Place | None = None


@facts
class DividedByNought(Finding):
    """A division by what comes out as zero."""

    code: ClassVar[str] = "U104"


@facts
class NotWhole(Finding):
    """A count that must be whole and is not."""

    code: ClassVar[str] = "U105"
    figure: Quantity


@facts
class OutOfBounds(Finding):
    """A param whose value lies outside its `within lo..hi`, which stands at `other`."""

    code: ClassVar[str] = "U106"
    name: str
    value: Quantity
    lo: Quantity
    hi: Quantity
    other: Place


@facts
class BackwardRange(Finding):
    """A range of bounds whose lower end lies above its upper."""

    code: ClassVar[str] = "U107"
    lo: Quantity
    hi: Quantity


@facts
class EmptySpan(ToldOnce):
    """A board that fills no space along an axis: `lo` is not below `hi`, mm. Other boards with the
    same span are counted: it comes from the same figures."""

    code: ClassVar[str] = "U108"
    board: str
    axis: Axis
    lo: Fraction
    hi: Fraction


@facts
class NotPositive(Finding):
    """A size of a stock, bit or machine (`word`) that is zero or below."""

    code: ClassVar[str] = "U109"
    word: str
    figure: Quantity


@facts
class AxisTwice(Finding):
    """An axis given twice in one line; `other` is the first."""

    code: ClassVar[str] = "U110"
    axis: Axis
    other: Place


@facts
class NoClaim(Finding):
    """`expect` of something that is neither true nor false."""

    code: ClassVar[str] = "U111"
    found: Kind


@facts
class MeasuredLogic(Finding):
    """A measured figure under `or`, `not`, `if` or in a list, where no single claim comes out."""

    code: ClassVar[str] = "U112"
    op: str


@facts
class NotComparable(Finding):
    """Two values that cannot be put side by side with `op`."""

    code: ClassVar[str] = "U113"
    op: str
    left: Kind
    right: Kind


@facts
class NothingGiven(Finding):
    """The least or greatest of nothing, a sum of nothing."""

    code: ClassVar[str] = "U114"
    function: str


@facts
class NotOneBoard(Finding):
    """A measure asked of several boards or of none, where it takes just one a place."""

    code: ClassVar[str] = "U115"
    measure: str
    count: int


@facts
class PropertyAmiss(Finding):
    """A property whose figures are not as many or not parted as they must be; `example` is one
    written well."""

    code: ClassVar[str] = "U116"
    word: str
    example: str


@facts
class TooManyTurns(Finding):
    """A loop that would turn more often than all loops together may."""

    code: ClassVar[str] = "L201"
    turns: int
    limit: int


@facts
class TooManyBoards(Finding):
    code: ClassVar[str] = "L202"
    limit: int


@facts
class CallsTooDeep(Finding):
    """A function or assembly that calls or places itself, or others, without an end in sight."""

    code: ClassVar[str] = "L203"
    name: str
    limit: int


@facts
class TooMuchWork(Finding):
    """More than `limit` expressions to work out, most likely by functions that call each other."""

    code: ClassVar[str] = "L204"
    limit: int


@facts
class TooFine(Finding):
    """An exact value whose fraction needs more than `limit` digits."""

    code: ClassVar[str] = "L205"
    limit: int


@facts
class UseTooDeep(Finding):
    """A file used by a file used by … more often than allowed."""

    code: ClassVar[str] = "L206"
    limit: int


@facts
class TooManyFiles(Finding):
    """More than `limit` files used by one design."""

    code: ClassVar[str] = "L207"
    limit: int


@facts
class TooLarge(Finding):
    """A value further from nought than `limit`, in its base unit."""

    code: ClassVar[str] = "L208"
    limit: int


@facts
class WorkedTooDeep(Finding):
    """Calls and expressions within each other, more than `limit` deep when worked out."""

    code: ClassVar[str] = "L209"
    limit: int


@facts
class TooManyItems(Finding):
    """A list of more than `limit` items, those of lists in it counted too."""

    code: ClassVar[str] = "L210"
    limit: int
