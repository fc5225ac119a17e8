"""What can be wrong with laps, bridles, mitres, dovetails, dowels and puzzle joints?

The facts of the codes J261 to J271; `dryfit.lang.messages` holds the words. Lengths are mm, angles
degrees. `place` is what gets underlined, and each `…_place` a second place involved.
"""

from __future__ import annotations

from fractions import Fraction
from typing import ClassVar

from .board import Axis
from .finding import Finding, Place, facts


@facts
class LiesOtherwise(Finding):
    """The boards lie so that another family fits: face to face, or across each other on edge.

    `flat` says that their thicknesses run along one axis.
    """

    code: ClassVar[str] = "J261"
    board: str
    mate: str
    family: str
    other: str
    flat: bool


@facts
class LeavesNoWood(Finding):
    """A cut as deep as `depth` leaves nothing of a board that is `size` there.

    `half` is half of what the boards share; `written` when a depth was asked for.
    """

    code: ClassVar[str] = "J262"
    board: str
    mate: str
    family: str
    axis: Axis
    depth: Fraction
    size: Fraction
    half: Fraction
    written: bool
    value_place: Place | None = None


@facts
class NoEndToFork(Finding):
    """The board that is to be forked goes on past its mate both ways, or ends at neither."""

    code: ClassVar[str] = "J263"
    board: str
    mate: str
    board_place: Place | None = None


@facts
class DovetailTooDeep(Finding):
    """At the mouth of a slot `depth` deep nothing is left of the bit's neck, or of the tail."""

    code: ClassVar[str] = "J264"
    board: str
    mate: str
    bit: str
    angle: Fraction
    depth: Fraction
    most: float
    of_tail: bool
    bit_place: Place | None = None


@facts
class BoreBreaksOut(Finding):
    """A hole for hardware does not stay in its board: `asked` where `most` is what there is room
    for. `across` when it is too wide, else it is too deep. `value_place` is that of the option's
    value, of which `most` is the greatest that will do."""

    code: ClassVar[str] = "J265"
    board: str
    mate: str
    family: str
    option: str
    across: bool
    asked: Fraction
    most: Fraction
    board_place: Place | None = None
    value_place: Place | None = None


@facts
class PiecesCrowd(Finding):
    """More pieces than there is room for: `most` go in, `apart` from each other at least.
    `value_place` is that of the count written."""

    code: ClassVar[str] = "J266"
    family: str
    option: str
    count: int
    most: int
    room: Fraction
    apart: Fraction
    value_place: Place | None = None


@facts
class NoOpenEnd(Finding):
    """A sliding dovetail whose slot comes to neither edge of the board: nothing slides in."""

    code: ClassVar[str] = "J267"
    board: str
    mate: str
    board_place: Place | None = None


@facts
class BitMissesMitre(Finding):
    """The bit named for a mitre cuts at another slant, or is too small for the board.

    `wanted` is the included angle that the mitre asks for, `covers` how thick a board the bit cuts,
    None where that is not what is wrong.
    """

    code: ClassVar[str] = "J268"
    bit: str
    angle: Fraction | None
    wanted: float
    thick: Fraction
    covers: float | None
    bit_place: Place | None = None


@facts
class SlotBreaksOut(Finding):
    """The slot for a mitre's spline leaves `left` mm under the outer or inner face of a board;
    `most` is the widest spline that leaves `least`, None where none does."""

    code: ClassVar[str] = "J269"
    board: str
    mate: str
    width: Fraction
    left: float
    least: float
    most: float | None
    value_place: Place | None = None


@facts
class StandsProud(Finding):
    """At a mitre a board goes on `proud` past the outer face of its mate, at `axis = face`."""

    code: ClassVar[str] = "J270"
    board: str
    mate: str
    family: str
    axis: Axis
    face: Fraction
    proud: Fraction
    board_place: Place | None = None


@facts
class NotEndToEnd(Finding):
    """Boards of a puzzle joint are not flush with each other, end to end, with like faces."""

    code: ClassVar[str] = "J271"
    board: str
    mate: str
    family: str
