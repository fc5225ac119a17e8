"""What do the parts really measure? The figures that `expect` asks for.

In: the bodies of a plan and names of boards. Out: figures read off the cut boards, never off what
a joint says about itself. Usable from Python alone:

    bodies = Bodies(plan)
    volume(bodies, "left"), fit(bodies, "back", "left")

Every function gives None for what cannot be measured: a board that is not in the plan, a fit
between boards that no joint fits into one another.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from . import solids, walls
from .board import Axis
from .cuts import Cut, Mating, Side
from .ends import Ends
from .facing import boards_facing, glued
from .frames import pose_matrix
from .kept import Table
from .nearest import nearest_points
from .plan import BoardPlan
from .shadows import Vector, vector
from .sliding import blocked
from .solids import Bodies
from .species import densities
from .thresholds import GLUE_GAP, LEAST_TONGUE, TWIN_INSET


@dataclass(frozen=True, slots=True)
class Found:
    """A figure and where in the finished piece it was measured, if it is of one place; from where
    to where, if it is a length, and between which boards, if it was asked of more than those."""

    value: float
    at: Vector | None = None
    ends: Ends | None = None
    boards: tuple[str, ...] = ()


def boards_of(bodies: Bodies, name: str) -> tuple[int, ...]:
    """The boards that a name stands for, by index: a board's own, or all of an assembly put down
    under it (`drawer[1]`), or of all that share it with an index (`drawer`)."""
    index = bodies.index(name)
    if index is not None:
        return (index,)
    within = (f"{name}.", f"{name}[")
    boards = enumerate(bodies.plan.boards)
    return tuple(i for i, one in boards if one.board.name.startswith(within))


def volume(bodies: Bodies, name: str) -> float | None:
    """The wood left of a board once it is cut, mm3; of all boards of an assembly."""
    boards = boards_of(bodies, name)
    return sum(bodies.volume(i) for i in boards) if boards else None


def mass(bodies: Bodies, name: str) -> float | None:
    """What a board or an assembly weighs as cut, kg, by the density of its species; None where a
    stock names no species, or one whose density is not known: see `unknown_wood`."""
    boards = boards_of(bodies, name)
    if not boards or unknown_wood(bodies, name):
        return None
    return sum(bodies.volume(i) * (_density(bodies, i) or 0.0) for i in boards)


def unknown_wood(bodies: Bodies, name: str) -> tuple[str, ...]:
    """The stocks of a board or an assembly whose density is not known."""
    stocks = (
        bodies.plan.boards[i].board.stock
        for i in boards_of(bodies, name)
        if _density(bodies, i) is None
    )
    return tuple(dict.fromkeys(stocks))


def _density(bodies: Bodies, index: int) -> float | None:
    """kg/mm3."""
    name = bodies.plan.boards[index].board.stock
    stock = next(stock for stock in bodies.plan.design.stocks if stock.name == name)
    known = densities().get(stock.species or "")
    return None if known is None else known * 1e-9


def length(bodies: Bodies, name: str) -> Fraction | None:
    """The blank's size along the grain, exact mm."""
    board = _board(bodies, name)
    return None if board is None else board.board.box[board.run.length].size


def width(bodies: Bodies, name: str) -> Fraction | None:
    """The blank's size across the grain, exact mm."""
    board = _board(bodies, name)
    return None if board is None else board.board.box[board.run.width].size


def thick(bodies: Bodies, name: str) -> Fraction | None:
    """The blank's thickness as drawn, exact mm."""
    board = _board(bodies, name)
    return None if board is None else board.board.box[board.run.thick].size


def size_ends(bodies: Bodies, name: str, size: str) -> Ends | None:
    """From side to side of a blank, through its middle: along its `length`, `width` or `thick`;
    None for what is no size, and for a board that is not there."""
    board = _board(bodies, name)
    if board is None or size not in ("length", "width", "thick"):
        return None
    run, box = board.run, board.board.box
    axis = {"length": run.length, "width": run.width, "thick": run.thick}[size]
    middle = [float(box[a].lo + box[a].hi) / 2 for a in Axis]
    matrix = pose_matrix(board.board.pose)
    sides = []
    for side in (box[axis].lo, box[axis].hi):
        at = [float(side) if a == axis else middle[a] for a in Axis]
        sides.append(vector(matrix[:3, :3] @ at + matrix[:3, 3]))
    return Ends(sides[0], sides[1], vector(matrix[:3, axis]))


def sides_cut(bodies: Bodies, name: str) -> int | None:
    """From how many of its six sides a board is cut on the machine: how often it is put down.

    What goes right through is cut from either side, and from one that is cut anyway. Hand work does
    not count, nor does the outline.
    """
    board = _board(bodies, name)
    if board is None:
        return None
    cuts = [cut for cut in board.cuts if not cut.by_hand]
    sides = {cut.side for cut in cuts if not _goes_through(board, cut)}
    through = {cut.side.axis for cut in cuts if _goes_through(board, cut)}
    left = [axis for axis in through if not sides & {Side(axis, True), Side(axis, False)}]
    return len(sides) + len(left)


def _goes_through(board: BoardPlan, cut: Cut) -> bool:
    size = float(board.board.box[cut.side.axis].size)
    return cut.floor is None and (cut.depth is None or cut.depth >= size)


def _board(bodies: Bodies, name: str) -> BoardPlan | None:
    index = bodies.index(name)
    return None if index is None else bodies.plan.boards[index]


def overlap(bodies: Bodies, a: str, b: str) -> float | None:
    """The wood that both boards claim as cut, mm3; exactly 0 when their twins stay clear."""
    found = overlap_found(bodies, a, b)
    return None if found is None else found.value


def overlap_found(bodies: Bodies, a: str, b: str) -> Found | None:
    """The same, and where the greatest lump of it lies."""
    i, j = bodies.index(a), bodies.index(b)
    if i is None or j is None:
        return None
    if i == j:
        return Found(solids.volume(bodies.true(i)))
    if not bodies.meet(i, j):
        return Found(0.0)
    shared = solids.lumps(bodies, min(i, j), max(i, j))
    return Found(sum(volume for _, volume in shared), _middle(shared[0][0]))


def _middle(lump: solids.Solid) -> Vector:
    x, y, z = ((low + high) / 2 for low, high in zip(*solids.bounds(lump), strict=True))
    return x, y, z


def clearance(bodies: Bodies, a: str, b: str) -> float | None:
    """The least distance between two boards or assemblies, mm; 0 where they touch or overlap."""
    found = clearance_found(bodies, a, b)
    return None if found is None else found.value


def clearance_found(bodies: Bodies, a: str, b: str) -> Found | None:
    """The same, and the middle between the two points that are nearest to each other."""
    best: Found | None = None
    for apart, i, j in _pairs_by_distance(bodies, a, b):
        if best is not None and (apart >= best.value or best.value == 0.0):
            break
        found = _apart(bodies, i, j)
        if best is None or found.value < best.value:
            best = replace(found, boards=_names(bodies, i, j))
    return best


def _pairs_by_distance(bodies: Bodies, a: str, b: str) -> list[tuple[float, int, int]]:
    """Pairs of a board of each, with a bound on their distance, nearest first."""
    boxes = bodies.boxes
    found = []
    for i in boards_of(bodies, a):
        for j in boards_of(bodies, b):
            gaps = (
                max(float(boxes[j, 0, k] - boxes[i, 1, k]), float(boxes[i, 0, k] - boxes[j, 1, k]))
                for k in range(3)
            )
            found.append((math.hypot(*(max(gap, 0.0) for gap in gaps)), i, j))
    return sorted(found)


def _names(bodies: Bodies, i: int, j: int) -> tuple[str, str]:
    return bodies.plan.boards[i].board.name, bodies.plan.boards[j].board.name


def _apart(bodies: Bodies, i: int, j: int) -> Found:
    if i == j or bodies.meet(min(i, j), max(i, j)):
        return Found(0.0)
    near = nearest_points(bodies.faces(i, inset=0.0), bodies.faces(j, inset=0.0))
    return Found(near.distance, near.middle, near.ends)


def gap(bodies: Bodies, a: str, b: str) -> float | None:
    """How far apart two boards or assemblies stand, straight from face to face, mm; 0 where faces
    lie on each other, below 0 how deep wood lies in wood.

    Faces look at each other when both are square to an axis of either board and one lies over the
    other. None where no face of the one looks at one of the other.
    """
    found = gap_found(bodies, a, b)
    return None if found is None else found.value


def gap_found(bodies: Bodies, a: str, b: str) -> Found | None:
    """The same, and where on the face of `b` it was measured."""
    found = [
        replace(measured, boards=_names(bodies, i, j))
        for i in boards_of(bodies, a)
        for j in boards_of(bodies, b)
        if i != j and (measured := _straight(bodies, i, j)) is not None
    ]
    return min(found, key=lambda measured: measured.value, default=None)


def _straight(bodies: Bodies, i: int, j: int) -> Found | None:
    if bodies.meet(min(i, j), max(i, j)):
        lump, _ = solids.lumps(bodies, min(i, j), max(i, j))[0]
        ends = _through(lump)
        return Found(-math.dist(ends.one, ends.other), _middle(lump), ends)
    one, other = bodies.faces(i), bodies.faces(j)
    ways = {own_axis(bodies, k, axis): None for k in (i, j) for axis in Axis}
    found = [
        pair
        for x, y, z in ways
        for way in ((x, y, z), (-x, -y, -z))
        for pair in walls.wall_pairs(one, other, way, 2 * TWIN_INSET)[:1]
    ]
    least = min(found, key=lambda pair: pair.gap, default=None)
    return None if least is None else Found(max(least.gap, 0.0), least.ends.other, least.ends)


def _through(lump: solids.Solid) -> Ends:
    """Through the middle of the box round a lump, the way it is thinnest."""
    low, high = solids.bounds(lump)
    thin = min(Axis, key=lambda axis: high[axis] - low[axis])
    middle = _middle(lump)
    one, other = (
        tuple(end[axis] if axis == thin else middle[axis] for axis in Axis) for end in (low, high)
    )
    x, y, z = (float(axis == thin) for axis in Axis)
    return Ends((one[0], one[1], one[2]), (other[0], other[1], other[2]), (x, y, z))


def glue_area(bodies: Bodies, a: str, b: str) -> float | None:
    """The area between two boards that glue holds, mm2: long grain on long grain (faces and edges,
    no ends) no farther apart than `GLUE_GAP`."""
    i, j = bodies.index(a), bodies.index(b)
    if i is None or j is None:
        return None
    return glued(bodies, i, j, boards_facing(bodies, i, j, GLUE_GAP)).long_grain


def joint_glue_area(bodies: Bodies, name: str) -> float | None:
    """The same of all boards that a joint of that name joins; None where there is no such joint."""
    pairs = [
        (joint.first.name, joint.second.name)
        for joint in bodies.plan.joints
        if name in (joint.name, joint.join.name)
    ]
    if not pairs:
        return None
    return sum(glue_area(bodies, a, b) or 0.0 for a, b in dict.fromkeys(pairs))


def fit(bodies: Bodies, a: str, b: str) -> float | None:
    """The least play between two boards along the axes their joints fit them on, mm.

    Play is how far the part can move one way plus how far the other way until face meets face,
    negative where the part is larger than its socket; see `play`.
    """
    found = fit_found(bodies, a, b)
    return None if found is None else found.value


def fit_found(bodies: Bodies, a: str, b: str) -> Found | None:
    """The same, and where the walls lie that stop the part."""
    return _least_play(
        bodies,
        (
            mating
            for joint in bodies.plan.joints
            for mating in joint.matings
            if {mating.part, mating.socket} == {a, b}
        ),
    )


def fit_along(bodies: Bodies, joint: str, part: str, axis: Axis) -> Found | None:
    """The play that one joint leaves its part along an axis of the part, and where."""
    return _least_play(
        bodies,
        (
            mating
            for each in bodies.plan.joints
            if each.name == joint
            for mating in each.matings
            if (mating.part, mating.axis) == (part, axis)
        ),
    )


def _least_play(bodies: Bodies, matings: Iterable[Mating]) -> Found | None:
    found = (_mating_found(bodies, mating) for mating in matings)
    known = (measured for measured in found if measured is not None)
    return min(known, key=lambda measured: measured.value, default=None)


def mating_fit(bodies: Bodies, mating: Mating) -> float | None:
    """The play of one mating, measured from wall to wall of the boards as cut, mm.

    Where it leans it is how far the part slides one way plus how far the other.
    """
    found = _mating_found(bodies, mating)
    return None if found is None else found.value


def _mating_found(bodies: Bodies, mating: Mating) -> Found | None:
    part, socket = bodies.index(mating.part), bodies.index(mating.socket)
    if part is None or socket is None:
        return None
    if mating.leans:
        return _leaning_found(bodies, part, socket, mating.axis)
    # Beyond half a part, or a pin that just holds, begins the outside of another wall.
    deepest = min(_narrowest(bodies, mating) / 2, LEAST_TONGUE)
    poses = (bodies.plan.boards[i].board.pose for i in (part, socket))
    known: Table[tuple[object, ...], Found | None] = bodies.kept.table("play", 2)
    key = (bodies.kind(part), bodies.kind(socket), *poses, mating.axis, deepest)
    if key not in known:
        way = own_axis(bodies, part, mating.axis)
        stops = walls.play(bodies.faces(part), bodies.faces(socket), way, deepest)
        total, pair = stops.total, stops.telling
        found = None if total is None or pair is None else Found(total, pair.ends.other, pair.ends)
        known[key] = found
    return known[key]


def _narrowest(bodies: Bodies, mating: Mating) -> float:
    """The least size of what the joint fits into one another along the mating's axis, mm."""
    alike = (
        other.part_size
        for joint in bodies.plan.joints
        if joint.name == mating.joint
        for other in joint.matings
        if (other.part, other.socket, other.axis)
        in (
            (mating.part, mating.socket, mating.axis),
            (mating.socket, mating.part, mating.socket_axis),
        )
    )
    return min(alike, default=mating.part_size)


def leaning_play(bodies: Bodies, part: int, socket: int, axis: Axis) -> float | None:
    """Free travel along an axis of the part, out and back together, mm; None when nothing stands
    in the way."""
    found = _leaning_found(bodies, part, socket, axis)
    return None if found is None else found.value


def _leaning_found(bodies: Bodies, part: int, socket: int, axis: Axis) -> Found | None:
    """The same, and where it goes farther of the two ways: from its place to where it meets."""
    moving, still = bodies.faces(part, inset=0.0), bodies.faces(socket, inset=0.0)
    x, y, z = own_axis(bodies, part, axis)
    stops = []
    for way in ((x, y, z), (-x, -y, -z)):
        contact = blocked(moving, still, way)
        if contact is None:
            return None
        stops.append((contact, way))
    far, way = max(stops, key=lambda stop: stop[0].distance)
    total = sum(contact.distance for contact, _ in stops)
    return Found(total, far.place, Ends(far.start, far.place, way))


def own_axis(bodies: Bodies, index: int, axis: int) -> Vector:
    """The way along an axis of a board in the finished piece, of length 1."""
    x, y, z = (float(c) for c in pose_matrix(bodies.plan.boards[index].board.pose)[:3, axis])
    return x, y, z
