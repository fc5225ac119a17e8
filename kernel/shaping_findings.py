"""What can be wrong with a cut that belongs to one board: its words, its place, its figures?

The facts of the codes B2xx; `dryfit.lang.messages` holds the words. Lengths are mm, exact, in the
board's own coordinates. `cut` is the name of the kind of cut, such as `bore`. `place` is what gets
underlined, None where the design was made without text.
"""

from __future__ import annotations

from enum import Enum
from fractions import Fraction
from typing import ClassVar

from .board import Axis
from .finding import Finding, Place, facts


class Sides(Enum):
    """Which sides of a board a kind of cut can be made from."""

    ANY = "any"
    OUTLINE = "outline"  # edges and ends: it shapes the outline
    FACES = "faces"


class Placing(Enum):
    """What a cut takes along one axis after `at`."""

    POINTS = "points"
    STRETCH = "stretch"
    NOTHING = "nothing"


class Bound(Enum):
    """What a figure of a cut is held against."""

    HALF_THE_WIDTH = "half the width"  # of an arch or a hollow
    HOLE = "hole"  # of a counterbore, under its seat
    SEAT = "seat"
    LENGTH = "length"  # of a slot
    ROOM = "room"  # along an edge
    BIT = "bit"  # its size
    THICKNESS = "thickness"  # of the wood at the edge


@facts
class UnknownCut(Finding):
    """`is_joint` when a joint of that name exists, which needs a second board."""

    code: ClassVar[str] = "B201"
    cut: str
    nearest: str | None
    known: tuple[str, ...]
    is_joint: bool


@facts
class WrongSide(Finding):
    """The cut cannot be made from this side, or with the edge that an option names.

    `side` is as written, `x.lo`; `could` are the sides that would do; `option` names the option
    that gave the side, None for the one after `from`.
    """

    code: ClassVar[str] = "B202"
    cut: str
    board: str
    side: str
    sides: Sides
    option: str | None
    could: tuple[str, ...]


@facts
class PlaceAmiss(Finding):
    """After `at`, something else stands along `axis` than the cut takes there.

    `across` when the axis runs into the side, so that nothing can be placed along it; `missing`
    when nothing is written and something must be.
    """

    code: ClassVar[str] = "B203"
    cut: str
    side: str
    axis: Axis
    takes: Placing
    across: bool
    missing: bool


@facts
class BreaksOut(Finding):
    """The cut runs from `lo` to `hi` along `axis`, the board from `board_lo` to `board_hi`."""

    code: ClassVar[str] = "B204"
    cut: str
    board: str
    axis: Axis
    lo: Fraction
    hi: Fraction
    board_lo: Fraction
    board_hi: Fraction
    board_place: Place | None = None

    @property
    def past(self) -> Fraction:
        """How far beyond the board the cut goes at the worse end."""
        return max(self.board_lo - self.lo, self.hi - self.board_hi)


@facts
class DeeperThanBoard(Finding):
    """The cut leaves no wood under it: the board is `size` along `axis`.

    `can_go_through` for a cut that goes through when `deep` is left out.
    """

    code: ClassVar[str] = "B205"
    cut: str
    board: str
    axis: Axis
    option: str
    deep: Fraction
    size: Fraction
    can_go_through: bool
    board_place: Place | None = None


@facts
class TakesNothing(Finding):
    """All of the cut lies beside the board: it ends at `at` along `axis`, the board at `end`."""

    code: ClassVar[str] = "B206"
    cut: str
    board: str
    axis: Axis
    at: Fraction
    end: Fraction
    board_place: Place | None = None


@facts
class FiguresClash(Finding):
    """`option` must be `limit` or less (more, with `is_least`), which `bound` gives.

    `exactly` when it must be just that.
    """

    code: ClassVar[str] = "B207"
    cut: str
    option: str
    value: Fraction
    bound: Bound
    limit: Fraction
    is_least: bool = False
    exactly: bool = False
