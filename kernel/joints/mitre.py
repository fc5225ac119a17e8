"""Mitre and splined mitre: `A to B with mitre`, `A to B with splined_mitre`.

Two boards meet at a corner, each cut off along the plane from the inside edge to the outside edge
of the corner. Boards of one thickness make a true mitre at half the angle, others a plane that
leaves both faces whole. Both boards run to the outer face of the other.

A v bit of just the included angle cuts it on the machine, from the inside face; else it is a step
at the saw, by hand. A splined mitre has a slot in each slanting face, square to it and a third of
the way from the inside edge, for a strip across the joint: cut on the saw too, with the board or
the blade at the slant.

Defaults. `fit` 0: the faces close. A spline `thick` 4 mm, as wide as the thinner board is thick,
with its slots `fit` 0.1 mm wider than it (common practice), and `gap` 0.5 mm deeper at each end for
glue.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from ..board import Axis
from ..crossing_findings import BitMissesMitre, SlotBreaksOut, StandsProud
from ..cuts import Cut, Hardware, Side, Ware, Work
from ..cutter import Bit, BitKind
from ..design import Verb
from ..finding import Finding, Outcome
from ..region import Point2, Region
from ..thresholds import LEAST_TONGUE, OVERSHOOT, SAME
from .bits import of_kind
from .box import Corner, corner_of
from .drawn import SAW, Tool, drawn_cut, in_plane, polygon
from .family import Family, JointCuts
from .meeting import Meeting, Part, at
from .options import NamedBit, Reading, above_zero, bit_named, length, written_at

FIT = length("fit", Fraction(0), "0mm", "room left between the two slanting faces")
BIT = bit_named("bit", "the v bit that cuts the slant; without one that suits it is sawn by hand")
SLOT_FIT = length("fit", Fraction(1, 10), "0.1mm", "width of the slots less the spline's thickness")
THICK = above_zero("thick", Fraction(4), "4mm", "how thick the spline is")
WIDTH = above_zero("width", None, "the thinner board's thickness", "how wide the spline is")
GAP = length("gap", Fraction(1, 2), "0.5mm", "room left in each slot under the spline's edge")


@dataclass(frozen=True, slots=True)
class Mitre:
    fit: Fraction
    bit: NamedBit | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Splined:
    """Lengths in mm."""

    fit: Fraction
    thick: Fraction
    width: Fraction | None
    gap: Fraction
    bit: NamedBit | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Slant:
    """One board's part of a corner, in the plane `side`: the board's length runs along `run`.

    `inner` and `outer` are the points of the corner's inside and outside edge, `end` where the
    board ends, `away` 1 where it goes off towards higher `run`.
    """

    host: Part
    side: Side
    run: Axis
    inner: Point2
    outer: Point2
    end: float
    away: float

    @property
    def along(self) -> Point2:
        """The direction of length 1 from the inside edge to the outside edge."""
        (x0, y0), (x1, y1) = self.inner, self.outer
        size = math.dist(self.inner, self.outer)
        return ((x1 - x0) / size, (y1 - y0) / size)

    @property
    def into(self) -> Point2:
        """The direction of length 1 square to the slant, into the wood that stays."""
        x, y = self.along
        return (-y, x) if -y * self.away > 0 else (y, -x)

    @property
    def size(self) -> float:
        return math.dist(self.inner, self.outer)

    @property
    def degrees(self) -> float:
        """How far the slant leans off the square through the board."""
        return math.degrees(math.atan2(abs(self.along[0]), abs(self.along[1])))


def _cut_mitre(meeting: Meeting, options: Mitre) -> Outcome[JointCuts]:
    slants = slants_of(meeting)
    if isinstance(slants, Finding):
        return Outcome(None, (slants,))
    cuts = []
    used: Bit | None = None
    for slant in slants:
        bit = _bit(meeting, slant, options.bit)
        if isinstance(bit, Finding):
            return Outcome(None, (bit,))
        used = bit or used
        tool = SAW if bit is None else Tool(bit.name, bit.by_hand)
        cuts.append(_bevel(meeting, slant, options.fit, tool))
    name = None if used is None else used.name
    return Outcome(JointCuts(cuts=tuple(cuts), bit=name, bit_chosen=options.bit is None))


def _cut_splined(meeting: Meeting, options: Splined) -> Outcome[JointCuts]:
    mitred = _cut_mitre(meeting, Mitre(Fraction(0), options.bit))
    slants = slants_of(meeting)
    if mitred.value is None or isinstance(slants, Finding):
        return mitred
    width = options.width or min(meeting.a.stock.thick, meeting.b.stock.thick)
    for slant in slants:
        wrong = _breaks_out(meeting, slant, options, width)
        if wrong is not None:
            return Outcome(None, (wrong,))
    slots = tuple(_spline_slot(meeting, slant, options, width) for slant in slants)
    long = meeting.overlap[slants[0].side.axis].size
    spline = Hardware(
        ware=Ware.SPLINE, sizes=(options.thick, width, long), count=1, joint=meeting.name
    )
    return Outcome(
        JointCuts(
            cuts=(*mitred.value.cuts, *slots),
            hardware=(spline,),
            bit=mitred.value.bit,
            bit_chosen=mitred.value.bit_chosen,
        )
    )


def slants_of(meeting: Meeting) -> tuple[Slant, Slant] | Finding:
    """A's and B's part of the corner; neither stands proud of the other."""
    corner = corner_of(meeting)
    if isinstance(corner, Finding):
        return corner
    a, b = meeting.a, meeting.b
    for part, mate, away in ((a, b, corner.a_away), (b, a, corner.b_away)):
        proud = part.beyond(away.opposite, mate)
        if proud > SAME:
            return _proud(meeting, part, mate, away, proud)
    return _slant(meeting, a, corner.a_away, corner), _slant(meeting, b, corner.b_away, corner)


def _slant(meeting: Meeting, host: Part, away: Side, corner: Corner) -> Slant:
    """The corner's inside edge lies where both boards go away to, the outside edge opposite."""
    side = Side(corner.along, True)
    shared = meeting.overlap
    inner = {s.axis: float(at(shared, s)) for s in (corner.a_away, corner.b_away)}
    outer = {s.axis: float(at(shared, s.opposite)) for s in (corner.a_away, corner.b_away)}
    u, v = side.plane

    def turned(point: dict[Axis, float]) -> Point2:
        """With the board's length first, whatever the plane's order."""
        return (point[u], point[v]) if u == away.axis else (point[v], point[u])

    return Slant(
        host=host,
        side=side,
        run=away.axis,
        inner=turned(inner),
        outer=turned(outer),
        end=float(host.face(away.opposite)),
        away=1.0 if away.positive else -1.0,
    )


def _proud(meeting: Meeting, part: Part, mate: Part, away: Side, proud: Fraction) -> Finding:
    own = part.own_side(away.opposite)
    end = at(part.board.box, own)
    return StandsProud(
        place=part.ref.place or meeting.place,
        board=part.name,
        mate=mate.name,
        family=meeting.join.family,
        axis=own.axis,
        face=end - proud if own.positive else end + proud,
        proud=proud,
        board_place=part.board.place,
    )


def _bit(meeting: Meeting, slant: Slant, named: NamedBit | None) -> Bit | Finding | None:
    """The v bit named, which must suit; else a declared one that does; None for the saw.

    Flat on the machine with its inside face up, the board's slant leans like the flank of a v bit
    of twice the angle; the bit's point goes through the board's thickness.
    """
    wanted = 2 * slant.degrees
    thick = slant.host.box[slant.host.thick].size
    if named is None:
        suits = (b for b in meeting.bits if b.kind is BitKind.V and _suits(b, wanted, thick))
        return next(suits, None)
    bit = of_kind(meeting, named, BitKind.V)
    if isinstance(bit, Finding) or _suits(bit, wanted, thick):
        return bit
    right = bit.angle is not None and abs(float(bit.angle) - wanted) <= LEAN_AGREES
    return BitMissesMitre(
        place=named.place or meeting.place,
        bit=bit.name,
        angle=bit.angle,
        wanted=wanted,
        thick=thick,
        covers=_covers(bit) if right else None,
        bit_place=bit.place,
    )


LEAN_AGREES = 0.01
"""Included angles that agree within this, degrees, are one: 0.002 mm over 18 mm of thickness."""


def _suits(bit: Bit, wanted: float, thick: Fraction) -> bool:
    if bit.angle is None or abs(float(bit.angle) - wanted) > LEAN_AGREES:
        return False
    return _covers(bit) >= float(thick) - SAME


def _covers(bit: Bit) -> float:
    """How thick a board the bit's flank cuts, mm."""
    height = float(bit.radius) / math.tan(math.radians(float(bit.angle or 0)) / 2)
    return height if bit.flute is None else min(height, float(bit.flute))


def _bevel(meeting: Meeting, slant: Slant, fit: Fraction, tool: Tool) -> Cut:
    """All of the board beyond the slant, half the fit farther in."""
    back = (slant.into[0] * float(fit) / 2, slant.into[1] * float(fit) / 2)
    low, high = (_where(slant, v, back) for v in _faces(slant))
    beyond = min(slant.end * slant.away, low * slant.away, high * slant.away) - OVERSHOOT
    far = beyond * slant.away
    first, second = _faces(slant)
    points = ((low, first), (high, second), (far, second), (far, first))
    return drawn_cut(
        meeting,
        slant.host,
        slant.side,
        _on_side(slant, points),
        depth=None,
        tool=tool,
        work=Work.BEVEL,
    )


def _faces(slant: Slant) -> tuple[float, float]:
    """The board's faces along its thickness, each with air."""
    span = slant.host.box[slant.host.thick]
    return float(span.lo) - OVERSHOOT, float(span.hi) + OVERSHOOT


def _where(slant: Slant, across: float, back: Point2) -> float:
    """Where along the board the slant lies at `across`, moved by `back`."""
    (x, y), (dx, dy) = slant.inner, slant.along
    return x + back[0] + (across - y - back[1]) * dx / dy


def _on_side(slant: Slant, points: tuple[Point2, ...]) -> Region:
    return polygon(tuple(in_plane(slant.side, slant.run, p[0], p[1]) for p in points))


# --- the spline's slots --------------------------------------------------------------------------

SPLINE_AT = 1 / 3
"""Where the slot lies from the inside edge of the slant, where the wood behind it is thickest
(common practice)."""


def _slot_corners(
    slant: Slant, options: Splined, width: Fraction, mouth: float
) -> tuple[Point2, ...]:
    """Round the slot in order, from `mouth` before the slanting face to its floor."""
    half = float(options.thick + options.fit) / 2
    deep = float(width / 2 + options.gap)
    middle = SPLINE_AT * slant.size

    def point(along: float, into: float) -> Point2:
        return tuple(
            slant.inner[i] + along * slant.along[i] + into * slant.into[i] for i in range(2)
        )  # type: ignore[return-value]

    ends = ((middle - half, mouth), (middle - half, deep), (middle + half, deep))
    return tuple(point(*where) for where in (*ends, (middle + half, mouth)))


def _spline_slot(meeting: Meeting, slant: Slant, options: Splined, width: Fraction) -> Cut:
    points = _slot_corners(slant, options, width, -OVERSHOOT)
    region = _on_side(slant, points)
    return drawn_cut(meeting, slant.host, slant.side, region, depth=None, tool=SAW, work=Work.SLOT)


def _breaks_out(
    meeting: Meeting, slant: Slant, options: Splined, width: Fraction
) -> Finding | None:
    """The slot must leave skin to both faces: to the inner one at its mouth, to the outer one at
    its floor."""
    span = slant.host.box[slant.host.thick]
    corners = _slot_corners(slant, options, width, 0.0)
    left = min(min(v - float(span.lo), float(span.hi) - v) for _, v in corners)
    if left >= LEAST_TONGUE - SAME:
        return None
    narrower = 2 * (LEAST_TONGUE - left) / abs(slant.into[1])
    most = float(width) - narrower
    return SlotBreaksOut(
        place=meeting.option_place(WIDTH.name),
        board=slant.host.name,
        mate=(meeting.b if slant.host is meeting.a else meeting.a).name,
        width=width,
        left=left,
        least=LEAST_TONGUE,
        most=most if most > float(options.thick) else None,
        value_place=written_at(meeting.join, WIDTH.name),
    )


def _read_mitre(reading: Reading) -> Mitre:
    return Mitre(reading.take(FIT), reading.take(BIT))


def _read_splined(reading: Reading) -> Splined:
    return Splined(
        fit=reading.take(SLOT_FIT),
        thick=reading.take(THICK),
        width=reading.take(WIDTH),
        gap=reading.take(GAP),
        bit=reading.take(BIT),
    )


MITRE = Family(
    name="mitre",
    title="mitre",
    words="both boards end on one slanting plane, nothing shows but a line",
    verbs=(Verb.TO,),
    options=(FIT, BIT),
    read=_read_mitre,
    cut=_cut_mitre,
)
SPLINED_MITRE = Family(
    name="splined_mitre",
    title="splined mitre",
    words="a mitre with a strip across it in two slots",
    verbs=(Verb.TO,),
    options=(SLOT_FIT, THICK, WIDTH, GAP, BIT),
    read=_read_splined,
    cut=_cut_splined,
)
