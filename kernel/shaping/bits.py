"""Which bit is a cut on a board made with?

A bit named is taken at its word, when it is of the right kind and goes in. Else: for shapes the
largest straight bit that goes in and is long enough, for holes a drill of just their diameter or
else such a straight bit, for engraved lines the smallest straight bit; for edges a bit of fitting
shape, and where none is declared the work is done by hand.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from ..cutter import Bit, BitKind
from ..finding import Finding
from ..findings import NamedBitOfWrongKind, NoStraightBit, SocketNarrowerThanBit, UnknownBit
from ..joints.options import NamedBit
from ..near import nearest
from ..shaping_findings import Bound, FiguresClash
from .workpiece import Workpiece

HAND_TOOLS = {"roundover": "rasp", "ease": "sandpaper", "chamfer": "plane"}
"""What an edge is worked with by hand, by kind of cut."""

RIGHT_ANGLE = Fraction(90)
"""The included angle of the v bit that cuts a chamfer of 45 degrees."""


@dataclass(frozen=True, slots=True)
class Picked:
    """The name of the bit or tool, and whether it was picked for want of a named one."""

    bit: str
    radius: float
    chosen: bool
    by_hand: bool = False


def straight(
    piece: Workpiece, named: NamedBit | None, narrowest: Fraction | None, deepest: Fraction
) -> Picked | Finding:
    """The bit for a shape with walls `narrowest` apart, None where it is open; mm."""
    if named is not None:
        return _taken(piece, named, narrowest)
    found = _largest(piece, narrowest, deepest)
    return found if isinstance(found, Finding) else _picked(found, None)


def drilling(
    piece: Workpiece,
    named: NamedBit | None,
    diameter: Fraction,
    deepest: Fraction,
    option: str = "diameter",
) -> Picked | Finding:
    """The drill of just this diameter, which `option` gives, or the straight bit that goes round in
    the hole."""
    if named is not None:
        bit = declared(piece, named, (BitKind.DRILL, BitKind.STRAIGHT))
        if isinstance(bit, Finding) or bit.kind is BitKind.STRAIGHT:
            return _taken(piece, named, diameter)
        return (
            _picked(bit, named)
            if bit.diameter == diameter
            else _other_size(piece, bit, diameter, option)
        )
    drills = [b for b in piece.bits if b.kind is BitKind.DRILL and b.diameter == diameter]
    if drills:
        return _picked(_longest(drills, deepest), None)
    found = _largest(piece, diameter, deepest)
    return found if isinstance(found, Finding) else _picked(found, None)


def finest(piece: Workpiece, named: NamedBit | None) -> Picked | Finding:
    """The smallest straight bit."""
    if named is not None:
        return _taken(piece, named, None)
    found = _on_machine(piece)
    if not found:
        return _none(piece, None)
    return _picked(min(found, key=lambda b: b.radius), None)


def for_edge(
    piece: Workpiece, named: NamedBit | None, kind: BitKind, size: Fraction, by_hand: bool
) -> Picked | Finding:
    """The roundover of this radius, or the v bit of a right angle wide enough; else a hand tool.

    A v bit named may be of another angle.
    """
    if named is not None:
        bit = declared(piece, named, (kind,))
        if isinstance(bit, Finding):
            return bit
        fits = bit.radius == size if kind is BitKind.ROUNDOVER else bit.radius >= size
        if not fits:
            option = "radius" if kind is BitKind.ROUNDOVER else "size"
            return _other_size(piece, bit, size, option)
        return Picked(bit.name, float(bit.radius), False, by_hand or bit.by_hand)
    fitting = [b for b in piece.bits if b.kind is kind and _fits_edge(b, size)]
    if by_hand:
        fitting = [b for b in fitting if b.by_hand]
    if fitting:
        return Picked(fitting[0].name, float(size), True, fitting[0].by_hand)
    return Picked(HAND_TOOLS[piece.kind], float(size), False, True)


def _fits_edge(bit: Bit, size: Fraction) -> bool:
    if bit.kind is BitKind.ROUNDOVER:
        return bit.radius == size
    return bit.angle == RIGHT_ANGLE and bit.radius >= size


def declared(piece: Workpiece, named: NamedBit, kinds: tuple[BitKind, ...]) -> Bit | Finding:
    """The bit of that name, which must be of one of the kinds."""
    bit = next((bit for bit in piece.bits if bit.name == named.name), None)
    if bit is None:
        return UnknownBit(
            place=named.place,
            bit=named.name,
            nearest=nearest(named.name, [b.name for b in piece.bits]),
            known=tuple(b.name for b in piece.bits if b.kind in kinds),
        )
    if bit.kind in kinds:
        return bit
    return NamedBitOfWrongKind(
        place=named.place,
        bit=bit.name,
        kind=bit.kind.value,
        wanted=kinds[0].value,
        bit_place=bit.place,
    )


def _taken(piece: Workpiece, named: NamedBit, narrowest: Fraction | None) -> Picked | Finding:
    bit = declared(piece, named, (BitKind.STRAIGHT,))
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
    if narrowest is not None and bit.diameter > narrowest:
        return _too_wide(piece, bit, narrowest, named)
    return _picked(bit, named)


def _largest(piece: Workpiece, narrowest: Fraction | None, deepest: Fraction) -> Bit | Finding:
    """The largest straight bit that goes in; among these, long enough comes first."""
    found = _on_machine(piece)
    if not found:
        return _none(piece, narrowest)
    fitting = [b for b in found if narrowest is None or b.diameter <= narrowest]
    if not fitting and narrowest is not None:
        return _too_wide(piece, min(found, key=lambda b: b.radius), narrowest, None)
    return _longest(fitting, deepest)


def _longest(bits: Iterable[Bit], deepest: Fraction) -> Bit:
    """The largest of those long enough; else the longest."""
    found = tuple(bits)
    reaching = [b for b in found if b.flute is None or b.flute >= deepest]
    if reaching:
        return max(reaching, key=lambda b: b.radius)
    return max(found, key=lambda b: (b.flute or Fraction(0), b.radius))


def _on_machine(piece: Workpiece) -> list[Bit]:
    return [b for b in piece.bits if b.kind is BitKind.STRAIGHT and not b.by_hand]


def _picked(bit: Bit, named: NamedBit | None) -> Picked:
    return Picked(bit.name, float(bit.radius), named is None, bit.by_hand)


def _none(piece: Workpiece, narrowest: Fraction | None) -> Finding:
    return NoStraightBit(
        place=piece.shaping.family_place or piece.shaping.place,
        joint=piece.name,
        family=piece.kind,
        widest=narrowest,
    )


def _too_wide(piece: Workpiece, bit: Bit, width: Fraction, named: NamedBit | None) -> Finding:
    place = named.place if named is not None else piece.shaping.family_place
    return SocketNarrowerThanBit(
        place=place or piece.shaping.place,
        joint=piece.name,
        family=piece.kind,
        width=width,
        bit=bit.name,
        diameter=bit.diameter,
        named=named is not None,
        bit_place=bit.place,
        of_joint=False,
    )


def _other_size(piece: Workpiece, bit: Bit, value: Fraction, option: str) -> Finding:
    """A bit named whose size is not the one asked for beside it."""
    limit = bit.diameter if bit.kind is BitKind.DRILL else bit.radius
    return FiguresClash(
        place=piece.option_place(option),
        cut=piece.kind,
        option=option,
        value=value,
        bound=Bound.BIT,
        limit=limit,
        exactly=bit.kind is not BitKind.V,
    )
