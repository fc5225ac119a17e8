"""What can be wrong with joints that turn a corner: box and blind box, step, tongued, drawer lock?

The facts of the codes J241 to J246; `dryfit.lang.messages` holds the words. Lengths are mm. `place`
is what gets underlined, and each `…_place` a second place involved.
"""

from __future__ import annotations

from fractions import Fraction
from typing import ClassVar

from .board import Axis
from .finding import Finding, Place, facts


@facts
class SliverPin(Finding):
    """A pin of `board` is `width` wide along `axis` where `least` is wanted; `outer` at an end.

    `count` or `size` of pins that are all wide enough, where the one or the other was written;
    None where neither would do it. `value_place` is that of what was written.
    """

    code: ClassVar[str] = "J241"
    board: str
    mate: str
    axis: Axis
    width: Fraction
    least: Fraction
    outer: bool
    count: int | None
    size: Fraction | None
    value_place: Place | None = None
    board_place: Place | None = None


@facts
class EvenPins(Finding):
    """An even count of pins asked to be symmetric: `board` has the one end, `mate` the other."""

    code: ClassVar[str] = "J242"
    board: str
    mate: str
    count: int
    value_place: Place | None = None


@facts
class SkinTooThick(Finding):
    """A skin of `cover` leaves fingers `left` long on a board `thick` thick, negative for none.

    `mended` is a skin that leaves fingers to glue.
    """

    code: ClassVar[str] = "J243"
    board: str
    cover: Fraction
    thick: Fraction
    mended: Fraction
    value_place: Place | None = None

    @property
    def left(self) -> Fraction:
        return self.thick - self.cover


@facts
class StepsCrowd(Finding):
    """The steps of a staircase are `size` wide on `board`, and each needs `room`.

    `bit` is the one whose fillets or reliefs need it, None where a step would be too fine for any;
    `most` steps have room, None where not even two have.
    """

    code: ClassVar[str] = "J244"
    board: str
    mate: str
    steps: int
    size: Fraction
    room: float
    bit: str | None
    radius: Fraction | None
    most: int | None
    value_place: Place | None = None
    bit_place: Place | None = None


@facts
class PegPastPin(Finding):
    """A square recess is wider or deeper than a pin of `board` leaves room for: `asked` where
    `most` will do, of the `has` mm there are."""

    code: ClassVar[str] = "J245"
    board: str
    mate: str
    option: str
    asked: Fraction
    most: Fraction
    has: Fraction
    value_place: Place | None = None


@facts
class NoLip(Finding):
    """The side of a drawer ends `past` beyond the outer face of its front, at `axis = face`, or
    flush with it: the front has no lip left to cover its end. `lip` is one that would do."""

    code: ClassVar[str] = "J246"
    board: str
    mate: str
    axis: Axis
    face: Fraction
    past: Fraction
    lip: Fraction
    board_place: Place | None = None
