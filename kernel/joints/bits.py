"""Which bit is a joint cut with?

A bit named in the join is taken at its word. Else it is the largest straight bit on the machine
that goes into the narrowest socket and whose flute is as long as the deepest cut; where no flute is
long enough, the longest of those that go in (the check of the plan tells of the flute).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from ..cutter import Bit, BitKind
from ..finding import Finding
from ..findings import (
    NamedBitOfWrongKind,
    NoBitOfKind,
    NoCompanion,
    NoStraightBit,
    SocketNarrowerThanBit,
    UnknownBit,
)
from ..joint_findings import RoundoverMismatch
from ..near import nearest
from ..relief import Relief
from .meeting import Occasion
from .options import NamedBit, ReliefAsked


@dataclass(frozen=True, slots=True)
class Picked:
    """The cutter of a joint; `chosen` when the join did not name it. `companion` is the roundover
    for the mate's edges, for `half_round` alone."""

    bit: Bit
    chosen: bool
    companion: Bit | None = None

    @property
    def radius(self) -> float:
        return float(self.bit.radius)


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """What a joint asks of its bit, mm: the width of the narrowest socket (None when all are open
    to one side), the depth of the deepest cut, and how far walls stand off the part at a corner.
    """

    narrowest: Fraction | None
    deepest: Fraction
    clearances: tuple[Fraction, Fraction] = (Fraction(0), Fraction(0))


def pick(
    meeting: Occasion, named: NamedBit | None, relief: ReliefAsked, demand: Demand
) -> Picked | Finding:
    """The bit, and the companion that the relief asks for, or the finding that there is none."""
    companion = _named_companion(meeting, relief)
    if isinstance(companion, Finding):
        return companion
    wanted = None if companion is None else companion.radius
    cutter = _largest(meeting, demand, wanted) if named is None else _taken(meeting, named, demand)
    if isinstance(cutter, Finding):
        return cutter
    if relief.relief is not Relief.HALF_ROUND:
        return Picked(cutter, named is None)
    if companion is None:
        companion = _roundover(meeting, cutter.radius)
    if companion is None:
        return NoCompanion(
            place=relief.place or meeting.join.place,
            joint=meeting.name,
            bit=cutter.name,
            radius=cutter.radius,
        )
    if companion.radius != cutter.radius:
        return _mismatch(meeting, relief, cutter, companion, demand)
    return Picked(cutter, named is None, companion)


def _taken(meeting: Occasion, named: NamedBit, demand: Demand) -> Bit | Finding:
    bit = _declared(meeting, named, BitKind.STRAIGHT)
    if isinstance(bit, Finding):
        return bit
    if bit.by_hand:
        return NamedBitOfWrongKind(
            place=named.place,
            bit=bit.name,
            kind=bit.kind.value,
            wanted=BitKind.STRAIGHT.value,
            by_hand=True,
            bit_place=bit.place,
        )
    if demand.narrowest is not None and bit.diameter > demand.narrowest:
        return _too_wide(meeting, bit, demand, demand.narrowest, named)
    return bit


def _largest(meeting: Occasion, demand: Demand, radius: Fraction | None) -> Bit | Finding:
    """The largest bit that goes in; with a companion's `radius`, of that radius if there is one."""
    straight = [b for b in meeting.bits if b.kind is BitKind.STRAIGHT and not b.by_hand]
    if not straight:
        return NoStraightBit(
            place=meeting.join.family_place or meeting.join.place,
            joint=meeting.name,
            family=meeting.join.family,
            widest=demand.narrowest,
        )
    narrowest = demand.narrowest
    fitting = [b for b in straight if narrowest is None or b.diameter <= narrowest]
    if narrowest is not None and not fitting:
        return _too_wide(meeting, min(straight, key=lambda b: b.radius), demand, narrowest, None)
    fitting = [b for b in fitting if b.radius == radius] or fitting
    reaching = [b for b in fitting if b.flute is None or b.flute >= demand.deepest]
    if reaching:
        return max(reaching, key=lambda b: b.radius)
    return max(fitting, key=lambda b: (b.flute or Fraction(0), b.radius))


def _too_wide(
    meeting: Occasion, bit: Bit, demand: Demand, width: Fraction, named: NamedBit | None
) -> Finding:
    place = named.place if named is not None else meeting.join.family_place
    return SocketNarrowerThanBit(
        place=place or meeting.join.place,
        joint=meeting.name,
        family=meeting.join.family,
        width=width,
        bit=bit.name,
        diameter=bit.diameter,
        named=named is not None,
        bit_place=bit.place,
    )


def of_kind(meeting: Occasion, named: NamedBit | None, kind: BitKind) -> tuple[Bit, ...] | Finding:
    """The bit named, which must be of that kind; else all declared ones, the largest first."""
    if named is not None:
        bit = _declared(meeting, named, kind)
        return bit if isinstance(bit, Finding) else (bit,)
    found = sorted((b for b in meeting.bits if b.kind is kind), key=lambda bit: -bit.radius)
    if found:
        return tuple(found)
    return NoBitOfKind(
        place=meeting.join.family_place or meeting.join.place,
        joint=meeting.name,
        family=meeting.join.family,
        kind=kind.value,
    )


def drilling(
    meeting: Occasion, named: NamedBit | None, hole: Fraction, deepest: Fraction
) -> Picked | Finding:
    """What makes a round hole: a drill of just its diameter, else a straight bit no wider that goes
    round in it."""
    kinds = {bit.name: bit.kind for bit in meeting.bits}
    if named is not None and kinds.get(named.name) is BitKind.DRILL:
        bit = _declared(meeting, named, BitKind.DRILL)
        if isinstance(bit, Finding) or bit.diameter == hole:
            return bit if isinstance(bit, Finding) else Picked(bit, False)
        need = Demand(narrowest=hole, deepest=deepest)
        return _too_wide(meeting, bit, need, hole, named)
    drills = (b for b in meeting.bits if b.kind is BitKind.DRILL and b.diameter == hole)
    drill = next(drills, None) if named is None else None
    if drill is not None:
        return Picked(drill, True)
    need = Demand(narrowest=hole, deepest=deepest)
    return pick(meeting, named, ReliefAsked(Relief.NONE), need)


def _declared(meeting: Occasion, named: NamedBit, kind: BitKind) -> Bit | Finding:
    names = tuple(bit.name for bit in meeting.bits)
    bit = next((bit for bit in meeting.bits if bit.name == named.name), None)
    if bit is None:
        fitting = tuple(b.name for b in meeting.bits if b.kind is kind)
        return UnknownBit(
            place=named.place, bit=named.name, nearest=nearest(named.name, names), known=fitting
        )
    if bit.kind is not kind:
        return NamedBitOfWrongKind(
            place=named.place,
            bit=bit.name,
            kind=bit.kind.value,
            wanted=kind.value,
            bit_place=bit.place,
        )
    return bit


def _named_companion(meeting: Occasion, relief: ReliefAsked) -> Bit | Finding | None:
    if relief.companion is None:
        return None
    return _declared(meeting, relief.companion, BitKind.ROUNDOVER)


def _roundover(meeting: Occasion, radius: Fraction) -> Bit | None:
    """The first declared roundover of just this radius."""
    for bit in meeting.bits:
        if bit.kind is BitKind.ROUNDOVER and bit.radius == radius:
            return bit
    return None


def _mismatch(
    meeting: Occasion, relief: ReliefAsked, cutter: Bit, companion: Bit, demand: Demand
) -> Finding:
    matching = _roundover(meeting, cutter.radius)
    place = relief.companion.place if relief.companion is not None else relief.place
    return RoundoverMismatch(
        place=place or meeting.join.place,
        companion=companion.name,
        companion_radius=companion.radius,
        bit=cutter.name,
        radius=cutter.radius,
        gap=corner_gap(float(cutter.radius), float(companion.radius), demand.clearances),
        matching=None if matching is None else matching.name,
    )


def corner_gap(fillet: float, round_: float, clearances: tuple[Fraction, Fraction]) -> float:
    """Room from the rounded edge to the fillet, along the corner's bisector; negative for overlap.

    The fillet's centre lies `fillet` off both walls, the edge's centre its own radius plus the
    clearance. With no clearance this is (sqrt 2 - 1)(round - fillet).
    """
    half = math.sqrt(0.5)
    du, dv = (float(c) + round_ - fillet - round_ * half for c in clearances)
    along, across = (du + dv) * half, (du - dv) * half
    return along + math.sqrt(max(fillet**2 - across**2, 0.0))
