"""What can be wrong with a join: its words, its options, where its boards meet?

The facts of the J codes; `dryfit.lang.messages` holds the words. Lengths are mm, exact where the
design's own figures are meant. `place` is what gets underlined, and each `…_place` a second place
involved, None where the design was made without text.
"""

from __future__ import annotations

from enum import Enum
from fractions import Fraction
from typing import ClassVar

from .board import Axis
from .finding import Finding, Place, facts


class Form(Enum):
    """What kind of value an option takes."""

    LENGTH = "length"
    COUNT = "count"
    LENGTHS = "lengths"  # one length, or a list of them
    PINS = "pins"  # a count, or a list of lengths
    WORD = "word"
    BIT = "bit"
    RELIEF = "relief"  # a word, with a bit's name after `half_round`
    STOP = "stop"  # a length, with `lo`, `hi` or `both` before it
    SIDE = "side"  # a side of a board, `z.hi`
    SIDES = "sides"
    HAND = "hand"  # `by hand`
    BOARD = "board"


@facts
class UnknownFamily(Finding):
    code: ClassVar[str] = "J201"
    family: str
    nearest: str | None
    known: tuple[str, ...]


@facts
class WrongVerb(Finding):
    """`A to B with dado`: the family is written with another of to, into, across."""

    code: ClassVar[str] = "J202"
    family: str
    written: str
    allowed: tuple[str, ...]


@facts
class DoesNotReach(Finding):
    """A board of a join meets none of the boards on the other side.

    `axis`, `board_at` and `mate_at` are the two nearest faces, in the coordinates of the join's
    first board; None when the two are not square to each other. They are equal when the boards
    touch. `wants_touch` is set for a family whose boards touch and share no wood.
    """

    code: ClassVar[str] = "J203"
    board: str
    mate: str
    family: str
    wants_touch: bool
    axis: Axis | None
    board_at: Fraction | None
    mate_at: Fraction | None
    mate_place: Place | None = None
    board_place: Place | None = None


@facts
class UnknownOption(Finding):
    """`families` are the families that do have an option of this name."""

    code: ClassVar[str] = "J204"
    option: str
    family: str
    nearest: str | None
    known: tuple[str, ...]
    families: tuple[str, ...]


@facts
class OptionTwice(Finding):
    code: ClassVar[str] = "J205"
    option: str
    first_place: Place | None = None


@facts
class WrongKindOfValue(Finding):
    code: ClassVar[str] = "J206"
    option: str
    form: Form
    written: str


@facts
class ValueTooSmall(Finding):
    """`least` is the smallest value that will do; `above` when it must be larger than that."""

    code: ClassVar[str] = "J207"
    option: str
    form: Form
    value: Fraction
    least: Fraction
    above: bool = False


@facts
class OptionsContradict(Finding):
    """Two options of one join say two things about one figure."""

    code: ClassVar[str] = "J208"
    option: str
    other: str
    other_place: Place | None = None


@facts
class UnknownChoice(Finding):
    code: ClassVar[str] = "J209"
    option: str
    written: str
    nearest: str | None
    choices: tuple[str, ...]


@facts
class NotSquare(Finding):
    """The two boards meet at an angle, which the family cannot cut."""

    code: ClassVar[str] = "J210"
    board: str
    mate: str
    family: str


@facts
class ButtOverlaps(Finding):
    """Boards of a butt joint share wood, `depth` deep along `axis`."""

    code: ClassVar[str] = "J211"
    board: str
    mate: str
    axis: Axis
    depth: Fraction
    board_place: Place | None = None


@facts
class UnknownBoard(Finding):
    code: ClassVar[str] = "J212"
    board: str
    nearest: str | None


@facts
class NothingLeftUnder(Finding):
    """The board goes right through its mate where the family leaves wood under it.

    `depth` is that of the socket; `gap` the part of it that an option asks for under the board.
    """

    code: ClassVar[str] = "J213"
    board: str
    mate: str
    family: str
    axis: Axis
    depth: Fraction
    gap: Fraction = Fraction(0)
    board_place: Place | None = None


@facts
class NoWayIn(Finding):
    """The shared wood reaches no outer face of the mate from which it could be cut."""

    code: ClassVar[str] = "J214"
    board: str
    mate: str
    family: str


@facts
class OpensAtEdge(Finding):
    """The socket reaches an edge of the mate at `axis = at`, where the family needs a wall."""

    code: ClassVar[str] = "J215"
    board: str
    mate: str
    family: str
    axis: Axis
    at: Fraction
    board_place: Place | None = None


@facts
class NoStepAtEdge(Finding):
    """A rabbet's step has `walls` walls across it instead of one: 2 in mid-board, 0 over all."""

    code: ClassVar[str] = "J216"
    board: str
    mate: str
    walls: int


@facts
class LiesFlat(Finding):
    """The board would enter its mate with its face first."""

    code: ClassVar[str] = "J217"
    board: str
    mate: str
    family: str
    axis: Axis


@facts
class NoCorner(Finding):
    """The two boards do not form a corner: `board` goes on past `mate` both ways, or lies along."""

    code: ClassVar[str] = "J218"
    board: str
    mate: str
    family: str
    parallel: bool


@facts
class StopsShort(Finding):
    """At a corner, `board` ends `short` before the outer face of `mate`, at `axis = face`."""

    code: ClassVar[str] = "J219"
    board: str
    mate: str
    family: str
    axis: Axis
    end: Fraction
    face: Fraction
    board_place: Place | None = None

    @property
    def short(self) -> Fraction:
        return abs(self.face - self.end)


@facts
class PinsMissTheWidth(Finding):
    """A list of pins adds up to another width than the boards share."""

    code: ClassVar[str] = "J220"
    total: Fraction
    width: Fraction
    last: Fraction


@facts
class NoTenonLeft(Finding):
    """The shoulders take all of the board's size along `axis`, or more."""

    code: ClassVar[str] = "J221"
    option: str
    board: str
    size: Fraction
    shoulders: Fraction
    value_place: Place | None = None


@facts
class RunsOut(Finding):
    """A lengthened socket would run out of the board by `past`."""

    code: ClassVar[str] = "J222"
    board: str
    mate: str
    family: str
    axis: Axis
    extension: float
    past: float
    bit: str
    radius: Fraction
    relief_place: Place | None = None


@facts
class RoundoverMismatch(Finding):
    """A companion roundover of another radius than the cutter's.

    `gap` is what it leaves on the corner's bisector, mm; negative where wood meets wood.
    `matching` is a declared roundover that would fit the cutter.
    """

    code: ClassVar[str] = "J223"
    companion: str
    companion_radius: Fraction
    bit: str
    radius: Fraction
    gap: float
    matching: str | None


@facts
class JoinedToItself(Finding):
    code: ClassVar[str] = "J224"
    board: str


@facts
class StopTakesAll(Finding):
    """The stops leave no channel of a dado: `length` is what the boards share."""

    code: ClassVar[str] = "J225"
    stops: Fraction
    length: Fraction


@facts
class WrongSize(Finding):
    """A part asked larger than the board it is cut on: `size` is what there is."""

    code: ClassVar[str] = "J226"
    option: str
    board: str
    value: Fraction
    size: Fraction
    value_place: Place | None = None
