"""What can be wrong with blanks, and with the bit a joint is cut with?

The facts of the codes B and C1xx (those of J are in `joint_findings.py`); `dryfit.lang.messages`
holds the words. Lengths are mm, exact where the design's own figures are meant. Names are full
paths; `place` is what gets underlined, and each `…_place` a second place involved, None where the
design was made without text.
"""

from __future__ import annotations

from enum import Enum
from fractions import Fraction
from typing import ClassVar

from .board import Axis
from .finding import Finding, Place, facts


class Thing(Enum):
    """What a name stands for."""

    BOARD = "board"
    STOCK = "stock"
    BIT = "bit"
    JOIN = "join"
    CUT = "cut"


# --- B: boards and stock ---------------------------------------------------------------------


@facts
class ThicknessMatchesNoSpan(Finding):
    """None of a board's three sizes is its stock's thickness."""

    code: ClassVar[str] = "B101"
    board: str
    sizes: tuple[Fraction, Fraction, Fraction]
    stock: str
    thick: Fraction
    stock_place: Place | None = None


@facts
class SpanNotPositive(Finding):
    """A board has no extent along `axis`, or runs backwards."""

    code: ClassVar[str] = "B102"
    board: str
    axis: Axis
    lo: Fraction
    hi: Fraction


@facts
class NameTakenTwice(Finding):
    """Two boards, stocks, bits, joins or cuts have one name."""

    code: ClassVar[str] = "B103"
    thing: Thing
    name: str
    first_place: Place | None = None


@facts
class UnknownStock(Finding):
    """A board is made of a stock that the design does not declare."""

    code: ClassVar[str] = "B104"
    board: str
    stock: str
    nearest: str | None
    known: tuple[str, ...]


@facts
class GrainThroughThickness(Finding):
    """The grain written runs along the only span that equals the stock's thickness."""

    code: ClassVar[str] = "B105"
    board: str
    axis: Axis
    thick: Fraction
    stock: str


@facts
class StockThicknessAmiss(Finding):
    """A stock's thickness is not above zero, or the delivered range is not, or runs backwards."""

    code: ClassVar[str] = "B106"
    stock: str
    thick: Fraction
    lo: Fraction
    hi: Fraction


# --- C1xx: the bit a joint is cut with ---------------------------------------------------------


@facts
class NoStraightBit(Finding):
    """The design declares no straight bit that a machine could cut the joint with."""

    code: ClassVar[str] = "C101"
    joint: str
    family: str
    widest: Fraction | None


@facts
class SocketNarrowerThanBit(Finding):
    """`width` is the narrowest socket; `bit` the bit named, or the smallest declared.

    `most_pins` is the largest odd pin count whose sockets would take the bit, for a box joint. A
    cut of one board alone is not `of_joint`.
    """

    code: ClassVar[str] = "C102"
    joint: str
    family: str
    width: Fraction
    bit: str
    diameter: Fraction
    named: bool
    most_pins: int | None = None
    pins_place: Place | None = None
    of_joint: bool = True
    bit_place: Place | None = None


@facts
class UnknownBit(Finding):
    code: ClassVar[str] = "C103"
    bit: str
    nearest: str | None
    known: tuple[str, ...]


@facts
class NamedBitOfWrongKind(Finding):
    """`wanted` and `kind` are the words of bit kinds; `by_hand` when that is what is wrong."""

    code: ClassVar[str] = "C104"
    bit: str
    kind: str
    wanted: str
    by_hand: bool = False
    bit_place: Place | None = None


@facts
class NoCompanion(Finding):
    """`half_round` without a roundover of the cutter's radius among the declared bits."""

    code: ClassVar[str] = "C105"
    joint: str
    bit: str
    radius: Fraction


@facts
class NoRoomToSweep(Finding):
    """A swept relief needs more wall than `corners` corners of a board's cuts have; they got a
    corner relief instead."""

    code: ClassVar[str] = "C106"
    joint: str
    board: str
    corners: int
    bit: str
    radius: Fraction


@facts
class NoBitOfKind(Finding):
    """The design declares no bit of the kind that a joint is cut with; `kind` is its word."""

    code: ClassVar[str] = "C107"
    joint: str
    family: str
    kind: str
