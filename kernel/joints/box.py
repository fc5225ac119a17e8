"""Box joint (finger joint): `A to B with box`.

Two boards meet at a corner and share a block as thick as both. Pins of A and of B take turns across
their width; each board is cut through where the other's pin goes. `pins N` counts the pins of both
boards together (an odd number makes both ends alike); `pin_size S` asks for the odd number whose
pins come nearest to S; a list gives each pin's width from the low end. `first` says which of the
two boards has the pin at the low end. Where a board goes on beyond the corner its pins stand proud.

Fit. Every flank moves back by a quarter of `fit` on both boards, so that each socket is `fit` wider
than the pin in it, and with `fit 0mm` exactly as wide. Roots are flush: a pin's length is the
mate's thickness.

Defaults. Pins about as wide as the thicker board: half to one thickness is usual (common practice).
`fit` 0.1 mm a pin, of 0.05 to 0.15 (common practice). `relief corner` at the roots of the sockets.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from itertools import accumulate, pairwise

from ..board import Axis, Box
from ..cuts import Cut, Mating, Side
from ..design import Verb
from ..finding import Finding, Outcome
from ..findings import SocketNarrowerThanBit
from ..joint_findings import NoCorner, PinsMissTheWidth, StopsShort, WrongSize
from ..relief import Relief
from ..thresholds import SAME
from .bits import Demand, Picked, pick
from .carve import Bench, Socket, Wall, demand, dug, finished, plays, rounded
from .family import Family, JointCuts
from .meeting import Meeting, Part, both_sides, moved, other_axis, with_face
from .options import NamedBit, Reading, ReliefAsked, above_zero, bit_named, choice, length, relief
from .options import pins as pins_option


class First(Enum):
    """Which of the joined boards has the pin at the low end."""

    FIRST = "first"
    SECOND = "second"


PINS = pins_option(
    "pins", "how many pins both boards have together, or a list of widths", "from the pin size"
)
PIN_SIZE = above_zero(
    "pin_size", None, "the thicker board's thickness", "about how wide each pin is"
)
FIRST = choice("first", First.FIRST, "which board has the pin at the low end")
FIT = length("fit", Fraction(1, 10), "0.1mm", "width of each socket less that of its pin")
RELIEF = relief(Relief.CORNER, tuple(kind for kind in Relief if kind is not Relief.LONG))
BIT = bit_named("bit", "the straight bit that cuts the sockets")


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxJoint:
    """`pins`: a count, the widths, or None for the default size; lengths in mm."""

    pins: int | tuple[Fraction, ...] | None
    pin_size: Fraction | None
    first: First
    fit: Fraction
    relief: ReliefAsked
    bit: NamedBit | None


def read_box(reading: Reading) -> BoxJoint:
    """The options as written."""
    reading.not_both(PINS, PIN_SIZE)
    return BoxJoint(
        pins=reading.take(PINS),
        pin_size=reading.take(PIN_SIZE),
        first=reading.take(FIRST),
        fit=reading.take(FIT),
        relief=reading.take(RELIEF),
        bit=reading.take(BIT),
    )


@dataclass(frozen=True, slots=True)
class Corner:
    """Two boards at a corner: `along` is the pins' axis. A goes away from the corner on the side
    `a_away` and its sockets end at B's inner face there; B likewise."""

    along: Axis
    a_away: Side
    b_away: Side


def _cut(meeting: Meeting, options: BoxJoint) -> Outcome[JointCuts]:
    corner = corner_of(meeting)
    if isinstance(corner, Finding):
        return Outcome(None, (corner,))
    too_many = crowded(meeting, corner, options)
    if too_many is not None:
        return Outcome(None, (too_many,))
    bounds = pin_bounds(meeting, corner, options)
    if isinstance(bounds, Finding):
        return Outcome(None, (bounds,))
    sockets = sockets_of(meeting, corner, bounds, options)
    picked = pick(meeting, options.bit, options.relief, demand(*sockets))
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    return _all_cut(meeting, sockets, picked, options)


def _all_cut(
    meeting: Meeting, sockets: tuple[Socket, ...], picked: Picked, options: BoxJoint
) -> Outcome[JointCuts]:
    bench = Bench(meeting, picked, options.relief.relief)
    cuts: list[Cut] = []
    for socket in sockets:
        cut = dug(bench, socket)
        if isinstance(cut, Finding):
            return Outcome(None, (cut,))
        cuts.append(cut)
    for socket in sockets:
        cuts.extend(rounded(bench, socket))
    matings = different(m for socket in sockets for m in plays(meeting, socket, options.fit))
    return finished(bench, cuts, matings)


def different(matings: Iterable[Mating]) -> tuple[Mating, ...]:
    """Each mating once: pins of one width all play alike."""
    return tuple(dict.fromkeys(matings))


def corner_of(meeting: Meeting) -> Corner | Finding:
    """How the two boards form a corner whose whole thicknesses they share, or why they do not."""
    a, b = meeting.a, meeting.b
    if a.thick == b.thick:
        return NoCorner(
            place=meeting.place,
            board=a.name,
            mate=b.name,
            family=meeting.join.family,
            parallel=True,
        )
    a_away = _away(meeting, a, b)
    if isinstance(a_away, Finding):
        return a_away
    b_away = _away(meeting, b, a)
    if isinstance(b_away, Finding):
        return b_away
    return Corner(other_axis(a.thick, b.thick), a_away, b_away)


def _away(meeting: Meeting, one: Part, other: Part) -> Side | Finding:
    """The side on which `one` leaves the corner, across the thickness of `other`.

    Its end must come to the other's outer face at least, and stand proud by no more than the
    other's thickness: farther, the boards cross.
    """
    low, high = both_sides(other.thick)
    away = high if one.beyond(high, other) > one.beyond(low, other) else low
    proud = one.beyond(away.opposite, other)
    place, family = one.ref.place or meeting.join.place, meeting.join.family
    if one.beyond(away, other) <= SAME or proud > other.box[other.thick].size:
        return NoCorner(place=place, board=one.name, mate=other.name, family=family, parallel=False)
    if proud >= -SAME:
        return away
    own_end = one.own_side(away.opposite)
    end = one.board.box[own_end.axis].hi if own_end.positive else one.board.box[own_end.axis].lo
    outer = end - proud if own_end.positive else end + proud
    return StopsShort(
        place=place,
        board=one.name,
        mate=other.name,
        family=family,
        axis=own_end.axis,
        end=end,
        face=outer,
        board_place=one.board.place,
    )


def odd_count(width: Fraction, size: Fraction) -> int:
    """The odd number of pins, at least 3, whose width comes nearest to `size`; the larger of two
    equally near.

    >>> odd_count(Fraction(200), Fraction(18)), odd_count(Fraction(20), Fraction(18))
    (11, 3)
    """
    below = int(width / size) // 2 * 2 - 1
    counts = [n for n in (below, below + 2, below + 4) if n >= 3] or [3]
    return min(counts, key=lambda n: (abs(width / n - size), -n))


def most_pins(width: Fraction, diameter: Fraction, fit: Fraction) -> int | None:
    """The largest odd number of pins whose sockets take a bit of `diameter`; None below 3.

    A socket is a pin and half of `fit` wide.
    """
    room = diameter - fit / 2
    if room <= 0:
        return None
    most = int(width / room)
    most -= 1 - most % 2
    return most if most >= 3 else None


def _count(meeting: Meeting, corner: Corner, options: BoxJoint) -> int:
    """How many pins of equal width there are."""
    if isinstance(options.pins, int):
        return options.pins
    size = options.pin_size or max(meeting.a.stock.thick, meeting.b.stock.thick)
    return odd_count(meeting.overlap[corner.along].size, size)


def crowded(meeting: Meeting, corner: Corner, options: BoxJoint) -> Finding | None:
    """The finding that so many equal pins leave sockets too narrow for the bit.

    It is told before any pin is drawn: a slip of the pen may ask for a million.
    """
    if isinstance(options.pins, tuple):
        return None
    width, count = meeting.overlap[corner.along].size, _count(meeting, corner, options)
    if count < 3:
        return None
    inner = Demand(narrowest=width / count + options.fit / 2, deepest=Fraction(0))
    picked = pick(meeting, options.bit, options.relief, inner)
    if not isinstance(picked, SocketNarrowerThanBit):
        return None
    return replace(picked, most_pins=most_pins(width, picked.diameter, options.fit))


def pin_bounds(
    meeting: Meeting, corner: Corner, options: BoxJoint
) -> tuple[Fraction, ...] | Finding:
    """Where one board's pin ends and the other's begins, from the low end to the high."""
    span = meeting.overlap[corner.along]
    if isinstance(options.pins, tuple):
        widths = options.pins
        if sum(widths) != span.size:
            return PinsMissTheWidth(
                place=meeting.option_place(PINS.name),
                total=sum(widths, Fraction(0)),
                width=span.size,
                last=span.size - sum(widths[:-1]),
            )
        return _too_loose(meeting, min(widths), options) or _added_up(span.lo, widths)
    count = _count(meeting, corner, options)
    each = span.size / count
    return _too_loose(meeting, each, options) or _added_up(span.lo, (each,) * count)


def _too_loose(meeting: Meeting, narrowest: Fraction, options: BoxJoint) -> Finding | None:
    """The finding that the fit takes all of the narrowest pin: half of it comes off each."""
    if narrowest > options.fit / 2:
        return None
    return WrongSize(
        place=meeting.option_place(FIT.name),
        option=FIT.name,
        board=meeting.a.name,
        value=options.fit,
        size=2 * narrowest,
    )


def _added_up(start: Fraction, widths: tuple[Fraction, ...]) -> tuple[Fraction, ...]:
    return tuple(accumulate(widths, initial=start))


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin:
    """One pin over the width of the corner. `is_lowest` and `is_highest` mark the outer ones,
    whose outer flanks are the boards' own edges."""

    lo: Fraction
    hi: Fraction
    is_lowest: bool
    is_highest: bool


def sockets_of(
    meeting: Meeting, corner: Corner, bounds: tuple[Fraction, ...], options: BoxJoint
) -> tuple[Socket, ...]:
    """A's sockets from the low end, then B's."""
    last = len(bounds) - 2
    pins = [
        Pin(lo=lo, hi=hi, is_lowest=i == 0, is_highest=i == last)
        for i, (lo, hi) in enumerate(pairwise(bounds))
    ]
    a, b = meeting.a, meeting.b
    of_a, of_b = pins[0::2], pins[1::2]
    if options.first is First.SECOND:
        of_a, of_b = of_b, of_a
    mirrored = Corner(corner.along, a_away=corner.b_away, b_away=corner.a_away)
    wood = meeting.overlap
    return (
        *(_socket((a, b), corner, wood, pin, options.fit) for pin in of_b),
        *(_socket((b, a), mirrored, wood, pin, options.fit) for pin in of_a),
    )


def _socket(
    boards: tuple[Part, Part], corner: Corner, shared: Box, pin: Pin, fit: Fraction
) -> Socket:
    """The socket in the first board for a pin of the second, cut from the inside of the corner,
    which is seen with the first board as A."""
    host, guest = boards
    low, high = both_sides(corner.along)
    wood, walls = shared, [Wall(corner.a_away, Fraction(0))]
    for side, where, outer in ((low, pin.lo, pin.is_lowest), (high, pin.hi, pin.is_highest)):
        wood = with_face(wood, side, where)
        if not outer:
            wood = moved(wood, side, -fit / 4)
        if not (outer and host.reaches(side, wood)):
            walls.append(Wall(side, fit / 2))
    return Socket(
        host=host,
        guest=guest,
        side=corner.b_away,
        wood=wood,
        walls=tuple(walls),
        run=corner.a_away.axis,
        through=True,
    )


BOX = Family(
    name="box",
    title="box joint",
    words="pins of A and B take turns across a corner",
    verbs=(Verb.TO,),
    options=(PINS, PIN_SIZE, FIRST, FIT, RELIEF, BIT),
    read=read_box,
    cut=_cut,
)
