"""What can be wrong with parts once they are cut? The facts of C2xx and F findings.

Lengths are float mm as cut, volumes mm3; boxes are in the finished piece's coordinates. No
sentence stands here: `lang/messages/` words them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ..board import Axis
from ..ends import Ends, Vector
from ..finding import Finding, Place, facts


@dataclass(frozen=True, slots=True)
class Lump:
    """One piece of wood that two boards both claim: its volume and the box round it."""

    volume: float
    low: Vector
    high: Vector


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of a cut in its board's own coordinates: for each axis of the side's plane, whether
    the corner lies at its high end."""

    ends: tuple[tuple[Axis, bool], tuple[Axis, bool]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Uncleared:
    """Wood that `cuts` cuts in `board` leave in the way of `mate` because `bit` is round.

    `corners` are those of one cut or another, each named once.
    """

    board: str
    mate: str
    joint: str
    bit: str
    bit_place: Place | None
    radius: float
    cuts: int
    corners: tuple[Corner, ...]
    volume: float


# F1xx: two boards, one place


@facts
class LeftoverWood(Finding):
    """A joint's cut is drawn sharp, the round bit leaves wood in its corners, the mate is there.

    `relief_place` is the join's written relief, if any.
    """

    code: ClassVar[str] = "F101"
    first: str
    second: str
    left: tuple[Uncleared, ...]
    lumps: tuple[Lump, ...]
    relief_place: Place | None


@facts
class UnresolvedOverlap(Finding):
    """Two boards share space, and no join says which gives way.

    `joints` are those between the two that leave it all the same: cut, but not of all their wood.
    """

    code: ClassVar[str] = "F102"
    first: str
    second: str
    first_place: Place | None
    joints: tuple[str, ...]
    lumps: tuple[Lump, ...]


# F2xx: how tightly the parts of a joint fit


@dataclass(frozen=True, slots=True, kw_only=True)
class DeliveredStock:
    """A stock whose delivered thickness decides a fit: the thickness at which it does."""

    name: str
    place: Place | None
    nominal: float
    thick: float


@facts
class FitFinding(Finding):
    """The worst fit of a joint: socket less part, with the delivered thicknesses that give it.

    `stocks` is empty when the fit is already wrong as drawn. `suits` is the fit to ask for that
    mends it at every thickness delivered, None where the stock varies by more than a fit may.
    `axis` is the part's own along which it is measured. `fit_place` is the written `fit`.
    """

    joint: str
    part: str
    socket: str
    axis: Axis
    part_size: float
    socket_size: float
    fit: float
    asked: float
    limit: float
    spread: float
    suits: float | None
    stocks: tuple[DeliveredStock, ...]
    fit_place: Place | None


@facts
class FitTooTight(FitFinding):
    """The part is larger than its socket."""

    code: ClassVar[str] = "F201"


@facts
class FitTooLoose(FitFinding):
    """The socket is larger than its part by more than a joint may have."""

    code: ClassVar[str] = "F202"


# F3xx: wood left thin


@facts
class ThinWood(Finding):
    """Wood left thinner than `least` beside or under a cut of `joint` in `board`.

    `beside` is the other joint that bounds it, None for the board's own face, edge or end.
    `thick` is the delivered thickness it was found at, None when the thickness plays no part.
    `ends` lie on either side of it in the finished piece, as drawn.
    """

    board: str
    board_place: Place | None
    joint: str
    beside: str | None
    left: float
    least: float
    thick: float | None
    ends: Ends


@facts
class ThinSkin(ThinWood):
    """The wood between a cut's floor and the far face, or the floor of a cut from there."""

    code: ClassVar[str] = "F301"
    depth: float


@facts
class ThinWall(ThinWood):
    """The wood between the sides of a cut and an edge, an end or another cut.

    `across_grain` tells that the grain runs across the wall, so that it is short in it.
    """

    code: ClassVar[str] = "F302"
    along: Axis
    across_grain: bool
    length: float
    height: float


@facts
class ThinPin(ThinWood):
    """What a joint cuts free to enter its mate: a pin, a tenon, a tongue."""

    code: ClassVar[str] = "F303"


@facts
class HitsJoint(Finding):
    """A cut of a board's own takes wood that a joint of the board holds by.

    `wood` is what the joint leaves to the board where it meets `mate`, `taken` what the cut takes
    of it; volumes.
    """

    code: ClassVar[str] = "F304"
    board: str
    cut: str
    joint: str
    mate: str
    wood: float
    taken: float
    joint_place: Place | None


# C2xx: what the bit, the sheet and the machine can do


@facts
class BitTooShort(Finding):
    """A cut goes deeper than its bit can: `can` is the flute (C201) or the reach (C202)."""

    joint: str
    board: str
    bit: str
    bit_place: Place | None
    depth: float
    can: float


@facts
class DeeperThanFlute(BitTooShort):
    code: ClassVar[str] = "C201"


@facts
class DeeperThanReach(BitTooShort):
    code: ClassVar[str] = "C202"


@facts
class LargerThanSheet(Finding):
    """A blank does not fit on its sheet with the grain as asked.

    `fits_across` tells that it would with the grain turned.
    """

    code: ClassVar[str] = "C203"
    board: str
    stock: str
    stock_place: Place | None
    length: float
    width: float
    sheet_length: float
    sheet_width: float
    fits_across: bool


@facts
class LargerThanLumber(Finding):
    """A blank is wider or longer than the lumber comes; a limit not stated is None."""

    code: ClassVar[str] = "C204"
    board: str
    stock: str
    stock_place: Place | None
    length: float
    width: float
    longest: float | None
    widest: float | None


@dataclass(frozen=True, slots=True)
class TravelShort:
    """A machine that cannot make a board, and where it is short: (axis letter, needed, has)."""

    machine: str
    place: Place | None
    short: tuple[tuple[str, float, float], ...]


@facts
class BeyondTravel(Finding):
    """No declared machine has the travel for a board's blank; each says where it falls short."""

    code: ClassVar[str] = "C205"
    board: str
    length: float
    width: float
    thick: float
    lift: float
    machines: tuple[TravelShort, ...]
