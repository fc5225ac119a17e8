"""Two boards of a joint that are turned against each other about an axis they share.

A `TiltedMeeting` thinks in the first board's own coordinates: along `axis` as square boards do, in
the plane across it with flat points. Each board is a `Leaf`: its blank's four corners in that
plane, its span along the axis, and the way from the plane to the board's own sides. So a family
works out lines and polygons once, in one plane, and each cut is drawn on the side that faces along
the shared axis, where a straight bit can follow any outline.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ..board import Axis, Span
from ..cuts import Cut, Side, Work
from ..cutter import Bit
from ..design import Join
from ..finding import Place
from ..region import Point2, Region, moved
from ..tilt import Carry, Tilt
from .meeting import Part

SAME_PLANE = Carry()


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """One board of a tilted meeting. `part` is in the board's own coordinates. `axis` is its own
    axis along the shared direction: the meeting's coordinate there is `sign * own + along`. `here`
    leads from the plane of `axis` on the board to the meeting's plane."""

    part: Part
    axis: Axis
    sign: int = 1
    along: Fraction = Fraction(0)
    here: Carry = SAME_PLANE

    @property
    def name(self) -> str:
        return self.part.name

    @property
    def span(self) -> Span:
        """The blank's run along the shared axis, in the meeting's coordinates."""
        own = self.part.box[self.axis]
        ends = sorted((self.sign * own.lo + self.along, self.sign * own.hi + self.along))
        return Span(ends[0], ends[1])

    @property
    def side(self) -> Side:
        """The board's own side that faces up the shared axis."""
        return Side(self.axis, self.sign > 0)

    @property
    def outline(self) -> tuple[Point2, Point2, Point2, Point2]:
        """The blank's corners in the meeting's plane, counterclockwise."""
        u, v = (self.part.box[axis] for axis in self.side.plane)
        corners = [(u.lo, v.lo), (u.hi, v.lo), (u.hi, v.hi), (u.lo, v.hi)]
        seen = [self.here.point((float(x), float(y))) for x, y in corners]
        one, two, three, four = reversed(seen) if self.here.mirrors else seen
        return one, two, three, four

    def facing(self, axis: Axis) -> Point2:
        """The direction in the meeting's plane that one of the board's other axes runs in."""
        first = self.side.plane[0] == axis
        return self.here.of_u if first else self.here.of_v

    def own_span(self, span: Span) -> Span:
        """A stretch along the shared axis in the board's own coordinates."""
        ends = sorted(self.sign * (end - self.along) for end in (span.lo, span.hi))
        return Span(ends[0], ends[1])

    def own_region(self, region: Region) -> Region:
        """A region of the meeting's plane in the plane of the board's own side."""
        return moved(region, self.here.back.point, mirrored=self.here.mirrors)

    @property
    def limits(self) -> tuple[float, float, float, float]:
        """The blank's bounds in the plane of its own side: least u, least v, greatest u, v."""
        u, v = (self.part.box[axis] for axis in self.side.plane)
        return (float(u.lo), float(v.lo), float(u.hi), float(v.hi))


@dataclass(frozen=True, slots=True, kw_only=True)
class TiltedMeeting:
    """Two boards under one join, turned `degrees` from square about the first's own `axis`."""

    name: str
    join: Join
    a: Leaf
    b: Leaf
    degrees: float
    bits: tuple[Bit, ...]

    @property
    def axis(self) -> Axis:
        return self.a.axis

    @property
    def place(self) -> Place | None:
        """Where the join names its first board of this pair."""
        return self.a.part.ref.place or self.join.place

    def option_place(self, name: str) -> Place | None:
        """Where an option of the join is written; the pair's place where it is not."""
        written = (option.place for option in self.join.options if option.name == name)
        return next(written, self.place)

    def mate(self, leaf: Leaf) -> Leaf:
        """The other board."""
        return self.b if leaf is self.a else self.a


def leaves(a: Part, b: Part, between: Tilt) -> tuple[Leaf, Leaf]:
    """Both boards of a pair, `between` leading from the second's coordinates to the first's."""
    first = Leaf(part=a, axis=between.a_axis)
    second = Leaf(
        part=b,
        axis=between.b_axis,
        sign=between.sign,
        along=between.along,
        here=between.carry,
    )
    return first, second


def tilted_cut(
    meeting: TiltedMeeting,
    leaf: Leaf,
    *,
    asked: Region,
    region: Region,
    bit: Bit,
    depth: Fraction | None = None,
) -> Cut:
    """A cut straight into the board's side facing up the shared axis, right through without a
    `depth`; both regions in the plane of that side."""
    return Cut(
        board=leaf.name,
        side=leaf.side,
        work=Work.THROUGH if depth is None else Work.POCKET,
        region=region,
        asked=asked,
        depth=None if depth is None else float(depth),
        bit=bit.name,
        joint=meeting.name,
        mate=meeting.mate(leaf).name,
        place=meeting.join.place,
    )
