"""Where do a tenon's parts lie: its shoulders, its row or twins, its haunch, and their sockets?

In: a meeting and the options that all tenons share. Out: a `Layout`, boxes in the meeting's
coordinates, before any bit is picked. `tenon_cuts.py` makes the cuts from it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from itertools import pairwise

from ..board import Axis, Box, Span
from ..cuts import Side
from ..finding import Finding
from ..joint_findings import LiesFlat, NothingLeftUnder, NoWayIn
from ..relief import Relief
from ..tenon_findings import HaunchAmiss
from ..thresholds import SAME
from .carve import Socket, Wall, closed_sides
from .channel import opens_at_edge
from .meeting import Meeting, at, both_sides, moved, other_axis, with_face
from .options import (
    NamedBit,
    OptionSpec,
    ReliefAsked,
    above_zero,
    bit_named,
    choice,
    length,
    pair_of_lengths,
    relief,
    whole_number,
    written_at,
)
from .shoulders import NO_SHOULDERS, Pair, in_the_middle, left_by, within


class Root(Enum):
    """What the corner between tenon and edge shoulder is like."""

    RELIEVED = "relieved"  # undercut, as the mortise's corners are
    FILLET = "fillet"  # as the bit leaves it; the mortise's mouth is widened


FIT = length("fit", Fraction(1, 10), "0.1mm", "size of the mortise less that of the tenon")
GAP = length("gap", Fraction(1), "1mm", "room left under a blind tenon's end")
CHEEKS = pair_of_lengths("cheeks", "shoulders on A's two faces, or a list of both")
EDGES = pair_of_lengths("edges", "shoulders on A's two edges, or a list of both")
THICK = above_zero("thick", None, "A's thickness", "thickness of a tenon in the middle")
WIDTH = above_zero("width", None, "A's width", "width of a tenon in the middle")
ROW = whole_number("row", 1, "1", "how many tenons side by side across A's width", least=1)
TWIN = whole_number("twin", 1, "1", "how many tenons through A's thickness", least=1)
HAUNCH = above_zero("haunch", None, "none", "how deep the shoulder nearer B's end enters too")
ROOT = choice("root", Root.RELIEVED, "corner at the tenon's foot: `relieved` or left a `fillet`")
RELIEF = relief(Relief.CORNER, tuple(Relief))
BIT = bit_named("bit", "the straight bit that cuts mortise and shoulders")


@dataclass(frozen=True, slots=True, kw_only=True)
class Tenon:
    """Lengths in mm; `cheeks` and `edges` None where `thick` and `width` decide, if anything."""

    fit: Fraction
    gap: Fraction
    cheeks: Pair | None
    edges: Pair | None
    thick: Fraction | None
    width: Fraction | None
    row: int
    twin: int
    haunch: Fraction | None
    root: Root
    relief: ReliefAsked
    bit: NamedBit | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """A comes into B by B's side `entry`. `whole` holds all of the tenons, `tenons` each of them.

    `cheeks` and `edges` are the shoulders on A's faces and edges. `haunch` is the wood of the
    shoulder on A's edge `haunch_edge` that enters too, to its own depth, the tenons' width
    included. `gap` is left under a blind end.
    """

    entry: Side
    wide: Axis
    cheeks: Pair
    edges: Pair
    whole: Box
    tenons: tuple[Box, ...]
    through: bool
    gap: Fraction
    haunch: Box | None = None
    haunch_edge: Side | None = None


def laid_out(meeting: Meeting, options: Tenon) -> Layout | Finding:
    """The tenon's parts, or the finding that they cannot be."""
    entry = entry_side(meeting)
    if isinstance(entry, Finding):
        return entry
    a, b = meeting.a, meeting.b
    wide = other_axis(entry.axis, a.thick)
    cheeks = _shoulders(meeting, a.thick, (options.cheeks, options.thick), (CHEEKS, THICK))
    edges = _shoulders(meeting, wide, (options.edges, options.width), (EDGES, WIDTH))
    if isinstance(cheeks, Finding):
        return cheeks
    if isinstance(edges, Finding):
        return edges
    whole = within(within(meeting.overlap, a.box, a.thick, cheeks), a.box, wide, edges)
    through = b.reaches(entry.opposite, whole)
    layout = Layout(
        entry=entry,
        wide=wide,
        cheeks=cheeks,
        edges=edges,
        whole=whole,
        tenons=tuple(
            box
            for row in shares(whole, wide, options.row)
            for box in shares(row, a.thick, options.twin)
        ),
        through=through,
        gap=options.gap,
    )
    return _haunched(meeting, layout, options.haunch) if options.haunch else layout


def entry_side(meeting: Meeting) -> Side | Finding:
    """The side of B that A comes in by: where A goes on farthest beyond B, its length first."""
    a, b = meeting.a, meeting.b

    def rank(side: Side) -> tuple[bool, Fraction, bool]:
        return (side.axis == a.length, a.beyond(side, b), side.positive)

    ways = [s for axis in Axis for s in both_sides(axis) if a.beyond(s, b) > SAME]
    ends = [side for side in ways if side.axis != a.thick]
    if ends:
        return max(ends, key=rank)
    place, family = meeting.place, meeting.join.family
    if not ways:
        return NoWayIn(place=place, board=a.name, mate=b.name, family=family)
    axis = a.own.axis(a.thick)[0]
    return LiesFlat(place=place, board=a.name, mate=b.name, family=family, axis=axis)


def _shoulders(
    meeting: Meeting,
    axis: Axis,
    asked: tuple[Pair | None, Fraction | None],
    options: tuple[OptionSpec[Pair | None], OptionSpec[Fraction | None]],
) -> Pair | Finding:
    """The shoulders at A's low and high side along an axis."""
    whole, (pair, size) = meeting.a.box[axis].size, asked
    if size is not None:
        return in_the_middle(meeting, meeting.a, whole, size, options[1])
    return left_by(meeting, meeting.a, whole, pair or NO_SHOULDERS, options[0])


def shares(box: Box, axis: Axis, count: int) -> tuple[Box, ...]:
    """`count` boxes along an axis, each as wide as the spaces between them."""
    unit = box[axis].size / (2 * count - 1)
    low, high = both_sides(axis)
    return tuple(
        with_face(
            with_face(box, low, box[axis].lo + 2 * i * unit),
            high,
            box[axis].lo + (2 * i + 1) * unit,
        )
        for i in range(count)
    )


def _haunched(meeting: Meeting, layout: Layout, haunch: Fraction) -> Layout | Finding:
    """The layout with its haunch on the edge that lies nearer an end of B and has a shoulder."""
    a, b = meeting.a, meeting.b
    depth = layout.whole[layout.entry.axis].size
    low, high = both_sides(layout.wide)
    sides = [side for side, off in ((low, layout.edges[0]), (high, layout.edges[1])) if off]
    if not sides or haunch >= depth:
        return HaunchAmiss(
            place=meeting.option_place(HAUNCH.name),
            board=a.name,
            haunch=haunch,
            shoulder=sum(layout.edges, Fraction(0)),
            depth=depth,
            value_place=written_at(meeting.join, HAUNCH.name),
        )
    edge = max(sides, key=lambda side: a.beyond(side, b))
    floor = with_face(layout.whole, layout.entry.opposite, at(layout.whole, layout.entry))
    wood = moved(with_face(floor, edge, a.face(edge)), layout.entry.opposite, haunch)
    return replace(layout, haunch=wood, haunch_edge=edge)


def mortises(meeting: Meeting, layout: Layout, fit: Fraction) -> tuple[Socket, ...] | Finding:
    """The hollow for each tenon, with a wall on every side."""
    a, b = meeting.a, meeting.b
    closed = closed_sides(b, layout.entry, layout.whole)
    for axis in layout.entry.plane:
        for edge in both_sides(axis):
            if edge not in closed:
                return opens_at_edge(meeting, edge)
    sockets = tuple(
        Socket(
            host=b,
            guest=a,
            side=layout.entry,
            wood=wood,
            walls=tuple(Wall(edge, fit / 2) for edge in closed),
            run=max((layout.wide, a.thick), key=lambda axis: wood[axis].size),
            gap=Fraction(0) if layout.through else layout.gap,
            through=layout.through,
        )
        for wood in layout.tenons
    )
    depth = sockets[0].depth
    if not layout.through and depth >= b.box[layout.entry.axis].size:
        return NothingLeftUnder(
            place=meeting.option_place(GAP.name),
            board=a.name,
            mate=b.name,
            family=meeting.join.family,
            axis=b.own.axis(layout.entry.axis)[0],
            depth=depth,
            gap=layout.gap,
            board_place=a.board.place,
        )
    return sockets


def haunch_groove(meeting: Meeting, layout: Layout, fit: Fraction) -> Socket | None:
    """The shallow groove for the haunch: over the mortises, whose corners it shares, and on past
    them, out at B's end where the haunch comes to it."""
    if layout.haunch is None:
        return None
    a, b = meeting.a, meeting.b
    return Socket(
        host=b,
        guest=a,
        side=layout.entry,
        wood=layout.haunch,
        walls=tuple(Wall(edge, fit / 2) for edge in closed_sides(b, layout.entry, layout.haunch)),
        run=layout.wide,
    )


def mouths(
    meeting: Meeting, layout: Layout, options: Tenon, radius: Fraction
) -> tuple[Socket, ...]:
    """The widened mouths of the mortises, one radius deep and one wide on each edge where a fillet
    stands at the tenon's foot."""
    if options.root is not Root.FILLET:
        return ()
    a, b = meeting.a, meeting.b
    found = []
    for wood in layout.tenons:
        floor = with_face(wood, layout.entry.opposite, at(wood, layout.entry))
        mouth = moved(floor, layout.entry.opposite, min(radius, wood[layout.entry.axis].size))
        for side, off in foot_rooms(layout, wood):
            mouth = moved(mouth, side, min(radius, off))
        closed = closed_sides(b, layout.entry, mouth)
        walls = tuple(Wall(edge, options.fit / 2) for edge in closed)
        found.append(
            Socket(host=b, guest=a, side=layout.entry, wood=mouth, walls=walls, run=layout.wide)
        )
    return tuple(found)


def foot_rooms(layout: Layout, wood: Box) -> tuple[tuple[Side, Fraction], ...]:
    """The edges of one tenon that stand at a shoulder, and how wide that is."""
    found = []
    for side, off in zip(both_sides(layout.wide), layout.edges, strict=True):
        outer = at(wood, side) == at(layout.whole, side)
        room = off if outer else wood[layout.wide].size
        if room and side != (layout.haunch_edge if outer else None):
            found.append((side, room))
    return tuple(found)


def spaces(layout: Layout, axis: Axis) -> tuple[Span, ...]:
    """The spaces between tenons along an axis, from the low to the high."""
    spans = sorted({(box[axis].lo, box[axis].hi) for box in layout.tenons})
    return tuple(Span(one[1], other[0]) for one, other in pairwise(spans))
