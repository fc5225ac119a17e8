"""How wide are the pins of a corner joint, and which board has which?

Pins of A and of B take turns across the width that the boards share. `pins N` counts the pins of
both boards together (an odd number makes both ends alike); `pin_size S` asks for the odd number
whose pins come nearest to S; a list gives each pin's width from the low end. `first` says which of
the two boards has the pin at the low end.

`layout symmetric` lays the pins out from the middle: a list then runs from the low end to the
middle pin and is mirrored, `pin_size` is kept to the letter and the two outer pins take what is
left. A pin narrower than a third of its length is a sliver, which is told: it splits along its
grain when the joint is driven home (common practice).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from itertools import accumulate, pairwise

from ..board import Box
from ..corner_findings import EvenPins, SliverPin
from ..finding import Finding
from ..findings import SocketNarrowerThanBit
from ..joint_findings import PinsMissTheWidth, WrongSize
from ..relief import Relief
from ..thresholds import LEAST_TONGUE, SAME, SLIVER_SHARE
from .bits import Demand, pick
from .carve import Socket, Wall
from .corner import Corner
from .meeting import Meeting, Part, both_sides, moved, with_face
from .options import (
    NamedBit,
    Reading,
    ReliefAsked,
    above_zero,
    bit_named,
    choice,
    length,
    relief,
    written_at,
)
from .options import pins as pins_option


class First(Enum):
    """Which of the joined boards has the pin at the low end."""

    FIRST = "first"
    SECOND = "second"


class Arrangement(Enum):
    """From where pins are laid out."""

    EVEN = "even"
    SYMMETRIC = "symmetric"


PINS = pins_option(
    "pins", "how many pins both boards have together, or a list of widths", "from the pin size"
)
PIN_SIZE = above_zero(
    "pin_size", None, "the thicker board's thickness", "about how wide each pin is"
)
LAYOUT = choice("layout", Arrangement.EVEN, "`even`, or `symmetric` from the middle outwards")
FIRST = choice("first", First.FIRST, "which board has the pin at the low end")
FIT = length("fit", Fraction(1, 10), "0.1mm", "width of each socket less that of its pin")
RELIEF = relief(Relief.CORNER, tuple(kind for kind in Relief if kind is not Relief.LONG))
BIT = bit_named("bit", "the straight bit that cuts the sockets")

WIDTHS = (PINS, PIN_SIZE, LAYOUT, FIRST)
"""The options that say which pins there are."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fingers:
    """`pins`: a count, the widths, or None for the default size; lengths in mm."""

    pins: int | tuple[Fraction, ...] | None
    pin_size: Fraction | None
    layout: Arrangement
    first: First
    fit: Fraction
    relief: ReliefAsked
    bit: NamedBit | None


def read_fingers(reading: Reading) -> Fingers:
    """The options as written."""
    reading.not_both(PINS, PIN_SIZE)
    return Fingers(
        pins=reading.take(PINS),
        pin_size=reading.take(PIN_SIZE),
        layout=reading.take(LAYOUT),
        first=reading.take(FIRST),
        fit=reading.take(FIT),
        relief=reading.take(RELIEF),
        bit=reading.take(BIT),
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
    return _most_odd(width, room) if room > 0 else None


def _most_odd(width: Fraction, each: Fraction) -> int | None:
    """The largest odd number of pins of that width or more; None below 3."""
    most = int(width / each)
    most -= 1 - most % 2
    return most if most >= 3 else None


def _width(meeting: Meeting, corner: Corner) -> Fraction:
    return meeting.overlap[corner.along].size


def _size(meeting: Meeting, options: Fingers) -> Fraction:
    return options.pin_size or max(meeting.a.stock.thick, meeting.b.stock.thick)


def _count(meeting: Meeting, corner: Corner, options: Fingers) -> int:
    """How many pins of equal width there are."""
    if isinstance(options.pins, int):
        return options.pins
    return odd_count(_width(meeting, corner), _size(meeting, options))


def _keeps_size(options: Fingers) -> bool:
    """Whether the pins are of just the size written, but for the outer ones."""
    return options.layout is Arrangement.SYMMETRIC and options.pin_size is not None


def _each(meeting: Meeting, corner: Corner, options: Fingers) -> Fraction:
    """The width of all pins but perhaps the outer ones, where no list tells it."""
    if _keeps_size(options):
        return _size(meeting, options)
    return _width(meeting, corner) / _count(meeting, corner, options)


def crowded(meeting: Meeting, corner: Corner, options: Fingers) -> Finding | None:
    """The finding that so many equal pins leave sockets too narrow for the bit.

    It is told before any pin is drawn: a slip of the pen may ask for a million.
    """
    if isinstance(options.pins, tuple):
        return None
    width, count = _width(meeting, corner), _count(meeting, corner, options)
    if count < 3:
        return None
    inner = Demand(narrowest=_each(meeting, corner, options) + options.fit / 2, deepest=Fraction(0))
    picked = pick(meeting, options.bit, options.relief, inner)
    if not isinstance(picked, SocketNarrowerThanBit):
        return None
    most = most_pins(width, picked.diameter, options.fit)
    return replace(picked, most_pins=most, pins_place=written_at(meeting.join, PINS.name))


def pin_bounds(
    meeting: Meeting, corner: Corner, options: Fingers
) -> tuple[Fraction, ...] | Finding:
    """Where one board's pin ends and the other's begins, from the low end to the high."""
    span = meeting.overlap[corner.along]
    widths = _widths(meeting, corner, options)
    if isinstance(widths, Finding):
        return widths
    return _too_loose(meeting, min(widths), options) or tuple(accumulate(widths, initial=span.lo))


def _widths(meeting: Meeting, corner: Corner, options: Fingers) -> tuple[Fraction, ...] | Finding:
    """The width of each pin from the low end."""
    width, count = _width(meeting, corner), _count(meeting, corner, options)
    symmetric = options.layout is Arrangement.SYMMETRIC
    if isinstance(options.pins, tuple):
        listed = options.pins
        widths = (*listed, *listed[-2::-1]) if symmetric else listed
        return _missed(meeting, width, listed, sum(widths, Fraction(0))) or widths
    each = _each(meeting, corner, options)
    loose = _too_loose(meeting, each, options)
    if loose is not None:
        return loose
    if _keeps_size(options):
        return _from_the_middle(width, each)
    if symmetric and count % 2 == 0:
        return EvenPins(
            place=meeting.option_place(PINS.name),
            count=count,
            board=(meeting.a if options.first is First.FIRST else meeting.b).name,
            mate=(meeting.b if options.first is First.FIRST else meeting.a).name,
            value_place=written_at(meeting.join, PINS.name),
        )
    return (each,) * count


def _missed(
    meeting: Meeting, width: Fraction, listed: tuple[Fraction, ...], total: Fraction
) -> Finding | None:
    """The finding that a list does not add up to the width; the last pin listed would mend it."""
    if total == width:
        return None
    return PinsMissTheWidth(
        place=meeting.option_place(PINS.name),
        total=total,
        width=width,
        last=width - total + listed[-1],
    )


def _from_the_middle(width: Fraction, size: Fraction) -> tuple[Fraction, ...]:
    """An odd number of pins of `size` round the middle, and at each end what is left, more than
    nothing and `size` at most."""
    inner = max(_inner(width, size), 1)
    outer = (width - inner * size) / 2
    if outer <= 0:
        return (width / 3,) * 3
    return (outer, *(size,) * inner, outer)


def _inner(width: Fraction, size: Fraction) -> int:
    """The largest odd number of pins of `size` that leaves something of the width."""
    most = math.ceil(width / size) - 1
    return most - (1 - most % 2)


def _too_loose(meeting: Meeting, narrowest: Fraction, options: Fingers) -> Finding | None:
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


# --- slivers -----------------------------------------------------------------------------------


def slivers(
    meeting: Meeting,
    corner: Corner,
    bounds: tuple[Fraction, ...],
    options: Fingers,
    cover: Fraction = Fraction(0),
) -> tuple[Finding, ...]:
    """A warning for the narrowest pin that is a sliver: a pin is as long as its mate is thick, less
    the `cover` of a skin.

    Pins so thin that they chip off under the bit are left to the check of walls.
    """
    owners = (meeting.a, meeting.b) if options.first is First.FIRST else (meeting.b, meeting.a)
    found = []
    for i, (lo, hi) in enumerate(pairwise(bounds)):
        board, mate = owners[i % 2], owners[1 - i % 2]
        least = SLIVER_SHARE * (mate.stock.thick - cover)
        as_cut = hi - lo - options.fit / (4 if i in (0, len(bounds) - 2) else 2)
        if as_cut >= LEAST_TONGUE and hi - lo < least - Fraction(SAME):
            found.append((hi - lo, i, board, mate, least))
    if not found:
        return ()
    width, i, board, mate, least = min(found, key=lambda one: one[:2])
    count, size = _wide_enough(meeting, corner, options, max(one[-1] for one in found))
    written = PINS if options.pins is not None else PIN_SIZE
    return (
        SliverPin(
            place=meeting.option_place(written.name),
            board=board.name,
            mate=mate.name,
            axis=board.own.axis(corner.along)[0],
            width=width,
            least=least,
            outer=i in (0, len(bounds) - 2),
            count=count,
            size=size,
            value_place=written_at(meeting.join, written.name),
            board_place=board.board.place,
        ),
    )


def _wide_enough(
    meeting: Meeting, corner: Corner, options: Fingers, least: Fraction
) -> tuple[int | None, Fraction | None]:
    """The count, or the size, whose pins are all `least` wide or more; None where there is none.

    A size that is kept to the letter grows until the outer pins are as wide as the others, to the
    next tenth of a mm.
    """
    width = _width(meeting, corner)
    most = _most_odd(width, least)
    if isinstance(options.pins, tuple) or most is None:
        return None, None
    if isinstance(options.pins, int):
        return most, None
    even = min(most, _inner(width, _size(meeting, options)))
    if not _keeps_size(options):
        return None, Fraction(round(width / most * 10), 10)
    return None, Fraction(math.ceil(width / even * 10), 10) if even >= 3 else None


# --- sockets -----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin:
    """One pin over the width of the corner. `is_lowest` and `is_highest` mark the outer ones,
    whose outer flanks are the boards' own edges."""

    lo: Fraction
    hi: Fraction
    is_lowest: bool
    is_highest: bool


def sockets_of(
    meeting: Meeting, corner: Corner, bounds: tuple[Fraction, ...], options: Fingers
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
