"""The cuts of a laid-out tenon: mortises in B, shoulders, spaces and haunch on A."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from ..board import Box
from ..cuts import Cut, Mating, Side
from ..finding import Finding
from ..relief import Relief
from .bits import Picked, pick
from .carve import Bench, Socket, Step, demand, dug, plays, rounded, stepped
from .meeting import Meeting, at, both_sides, moved, with_face
from .shoulders import cheeks_off
from .tenon_layout import (
    Layout,
    Root,
    Tenon,
    foot_rooms,
    haunch_groove,
    mouths,
    spaces,
)


def picked_for(
    meeting: Meeting, layout: Layout, sockets: tuple[Socket, ...], options: Tenon
) -> Picked | Finding:
    """The bit that goes into every mortise and between the tenons."""
    asked = demand(*sockets)
    between = [
        span.size for axis in (layout.wide, meeting.a.thick) for span in spaces(layout, axis)
    ]
    narrowest = min([*between, *([] if asked.narrowest is None else [asked.narrowest])])
    return pick(meeting, options.bit, options.relief, replace(asked, narrowest=narrowest))


def all_cut(
    bench: Bench, layout: Layout, sockets: tuple[Socket, ...], options: Tenon
) -> tuple[Cut, ...] | Finding:
    """Every cut of the joint: B's hollows, then A's."""
    meeting, radius = bench.meeting, bench.picked.bit.radius
    groove = haunch_groove(meeting, layout, options.fit)
    hollows: list[Cut] = []
    for socket in sockets:
        cut = dug(bench, socket)
        if isinstance(cut, Finding):
            return cut
        hollows.append(cut)
    shallow = mouths(meeting, layout, options, radius)
    for socket in (*(() if groove is None else (groove,)), *shallow):
        cut = dug(_sharp(bench), socket)
        if isinstance(cut, Finding):
            return cut
        hollows.append(cut)
    own = (
        *cheeks_off(bench, meeting.a, meeting.b, layout.entry, layout.cheeks),
        *_edges_off(bench, layout, options.root),
        *_between(bench, layout, options.root),
    )
    return (*hollows, *own, *_rounds(bench, layout, sockets, options.root))


def _sharp(bench: Bench) -> Bench:
    """The bench for corners that no roundover of the mate reaches and no lengthening clears."""
    round_mortise = bench.relief in (Relief.LONG, Relief.HALF_ROUND)
    return replace(bench, relief=Relief.CORNER) if round_mortise else bench


def _foot(bench: Bench, root: Root) -> Bench:
    """The bench for the corners at a tenon's foot."""
    return replace(bench, relief=Relief.NONE) if root is Root.FILLET else _sharp(bench)


def _end(meeting: Meeting, layout: Layout) -> Box:
    """A from its end to the plane of B's face."""
    return with_face(meeting.a.box, layout.entry, meeting.b.face(layout.entry))


def _edges_off(bench: Bench, layout: Layout, root: Root) -> tuple[Cut, ...]:
    """A notch for each shoulder on an edge; beside the haunch it begins at the haunch's end."""
    meeting = bench.meeting
    end, cuts = _end(meeting, layout), []
    for side, off in zip(both_sides(layout.wide), layout.edges, strict=True):
        if not off:
            continue
        box = moved(with_face(end, side.opposite, at(end, side)), side.opposite, off)
        own = _foot(bench, root)
        if side == layout.haunch_edge and layout.haunch is not None:
            box = with_face(box, layout.entry, at(layout.haunch, layout.entry.opposite))
            own = _sharp(bench)
        cuts.append(stepped(own, _from_face(meeting, layout, box)))
    return tuple(cuts)


def _between(bench: Bench, layout: Layout, root: Root) -> tuple[Cut, ...]:
    """The spaces of a row, right through A's thickness, then those of twins, from A's end."""
    meeting, a = bench.meeting, bench.meeting.a
    end, cuts = _end(meeting, layout), []
    low, high = both_sides(layout.wide)
    for span in spaces(layout, layout.wide):
        box = with_face(with_face(end, low, span.lo), high, span.hi)
        cuts.append(stepped(_foot(bench, root), _from_face(meeting, layout, box)))
    low, high = both_sides(a.thick)
    for span in spaces(layout, a.thick):
        box = with_face(with_face(end, low, span.lo), high, span.hi)
        step = Step(
            host=a, mate=meeting.b, side=layout.entry.opposite, box=box, run=layout.entry.axis
        )
        cuts.append(stepped(replace(bench, relief=Relief.NONE), step))
    return tuple(cuts)


def _from_face(meeting: Meeting, layout: Layout, box: Box) -> Step:
    face = Side(meeting.a.thick, True)
    return Step(host=meeting.a, mate=meeting.b, side=face, box=box, run=layout.entry.axis)


def _rounds(
    bench: Bench, layout: Layout, sockets: tuple[Socket, ...], root: Root
) -> tuple[Cut, ...]:
    """The roundovers on the tenons' long edges. Beside the haunch they end at it, and before a
    fillet at the foot: there the mortise's mouth is wide enough for square edges."""
    cuts: list[Cut] = []
    for socket in sockets:
        ends = _ends_early(bench, layout, socket.wood, root)
        for corner, cut in zip(socket.corners, rounded(bench, socket), strict=False):
            short = max(ends.get(wall.side, Fraction(0)) for wall in corner)
            if cut.depth is not None and cut.depth > short:
                cuts.append(replace(cut, depth=cut.depth - float(short)))
    return tuple(cuts)


def _ends_early(bench: Bench, layout: Layout, wood: Box, root: Root) -> dict[Side, Fraction]:
    """How far from B's face the roundovers on the edges of one tenon end."""
    ends: dict[Side, Fraction] = {}
    if root is Root.FILLET:
        ends = {side: bench.picked.bit.radius for side, _ in foot_rooms(layout, wood)}
    edge = layout.haunch_edge
    if edge is not None and layout.haunch is not None and at(wood, edge) == at(layout.whole, edge):
        ends[edge] = layout.haunch[layout.entry.axis].size
    return ends


def fits(
    meeting: Meeting, layout: Layout, sockets: tuple[Socket, ...], options: Tenon
) -> tuple[Mating, ...]:
    """Each play once; along a run that is lengthened there is none to speak of."""
    found = dict.fromkeys(
        mating for socket in sockets for mating in plays(meeting, socket, options.fit)
    )
    if options.relief.relief is not Relief.LONG:
        return tuple(found)
    run = {meeting.a.own.axis(socket.run)[0] for socket in sockets}
    return tuple(mating for mating in found if mating.axis not in run)
