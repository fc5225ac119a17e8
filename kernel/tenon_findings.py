"""What can be wrong with tongues and tenons?

The facts of the codes J281 to J288; `dryfit.lang.messages` holds the words. Lengths are mm, angles
degrees. `place` is what gets underlined, and each `…_place` a second place involved.
"""

from __future__ import annotations

from fractions import Fraction
from typing import ClassVar

from .board import Axis
from .finding import Finding, Place, facts


@facts
class ShortLip(Finding):
    """Beside a tongue's groove a lip of short grain is left, `lip` mm where `least` is wanted.

    `mended` is the thickness of a tongue that leaves `least`, None where none does; `value_place`
    is where the thickness is written. `one_sided` when both shoulders are off one face already.
    """

    code: ClassVar[str] = "J281"
    board: str
    mate: str
    axis: Axis
    lip: Fraction
    least: Fraction
    thick: Fraction
    mended: Fraction | None
    one_sided: bool = False
    value_place: Place | None = None
    board_place: Place | None = None


@facts
class TiltNotFlat(Finding):
    """A board leans over its own faces or mates: no flat cut makes the shoulders or the mortise.

    `lean` is the axis of the board that it is turned about, `wanted` the one it may be.
    """

    code: ClassVar[str] = "J282"
    board: str
    mate: str
    family: str
    degrees: float
    lean: Axis
    wanted: Axis
    board_place: Place | None = None


@facts
class LeansTooFar(Finding):
    """Leaning by `degrees`, a board `width` wide leaves no tenon `depth` deep."""

    code: ClassVar[str] = "J283"
    board: str
    mate: str
    degrees: float
    width: Fraction
    depth: float
    shoulders: Fraction
    board_place: Place | None = None


@facts
class NotWhereItLeans(Finding):
    """An option, or the word `value` of it, that a leaning tenon cannot be cut with; the word
    `instead` will do."""

    code: ClassVar[str] = "J284"
    option: str
    value: str | None
    board: str
    degrees: float
    instead: str | None = None
    value_place: Place | None = None


@facts
class HaunchAmiss(Finding):
    """A haunch needs a shoulder on an edge and a tenon deeper than itself: `shoulder` and `depth`
    are what there is."""

    code: ClassVar[str] = "J285"
    board: str
    haunch: Fraction
    shoulder: Fraction
    depth: Fraction
    value_place: Place | None = None


@facts
class WedgesNeedThrough(Finding):
    """Wedges are driven from B's far side, and the tenon ends `short` before it."""

    code: ClassVar[str] = "J286"
    board: str
    mate: str
    axis: Axis
    short: Fraction
    board_place: Place | None = None


@facts
class WedgesSplit(Finding):
    """Wedges that spread the tenon across the grain of the board it is in."""

    code: ClassVar[str] = "J287"
    board: str
    mate: str
    axis: Axis


@facts
class PegMissesTenon(Finding):
    """A peg's hole does not lie in the tenon with wood all round: along the tenon's "length"
    or "width" there are `room` mm for it and `needed` are wanted. Along "draw" `needed` is the draw
    asked for and `room` the most there may be."""

    code: ClassVar[str] = "J288"
    board: str
    diameter: Fraction
    along: str
    room: Fraction
    needed: Fraction
    value_place: Place | None = None
