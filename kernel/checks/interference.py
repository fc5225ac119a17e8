"""Where do two boards claim the same wood, and which cut is to blame?

Pairs that come near (broad phase) are tried on their eroded twins: twins meet exactly when wood
overlaps deeper than twice the inset. Only such pairs are then measured on the true bodies. Wood in
a joint is traced to the cut that was drawn sharp there and that the round bit could not clear.
"""

from __future__ import annotations

from dataclasses import dataclass

from .. import thresholds
from ..board import Board
from ..broad import board_pairs
from ..cuts import Cut
from ..design import BoardRef
from ..finding import Finding
from ..plan import BoardPlan, CutPlan, Joint
from ..planar import difference
from ..region import Region, area
from ..region import bounds as region_bounds
from ..solids import Bodies, Solid, bounds, lumps, sound, swept, without
from ..solids import volume as solid_volume
from .findings import Corner, LeftoverWood, Lump, Uncleared, UnresolvedOverlap


@dataclass(frozen=True, slots=True)
class Overlap:
    """Two boards of a plan, by index, that overlap as cut, and the wood both claim."""

    first: int
    second: int
    lumps: tuple[Lump, ...]

    @property
    def volume(self) -> float:
        """Cubic mm."""
        return sum(lump.volume for lump in self.lumps)


def overlaps(bodies: Bodies) -> tuple[Overlap, ...]:
    """Every pair that overlaps, in the order of the boards, but for pairs of a failed joint."""
    boards = bodies.plan.boards
    failed = {_pair(j.first, j.second) for j in bodies.plan.joints if j.failed}
    found = []
    for i, j in board_pairs([b.board for b in boards], 2 * thresholds.TWIN_INSET):
        names = frozenset((boards[i].board.name, boards[j].board.name))
        if names not in failed and bodies.meet(i, j):
            found.append(Overlap(i, j, _lumps(bodies, i, j)))
    return tuple(found)


def _pair(first: BoardRef, second: BoardRef) -> frozenset[str]:
    return frozenset((first.name, second.name))


def _lumps(bodies: Bodies, i: int, j: int) -> tuple[Lump, ...]:
    """The lumps worth telling of, and always the greatest: the twins decided that it counts."""
    found = lumps(bodies, i, j)
    return tuple(
        _lump(solid, volume)
        for index, (solid, volume) in enumerate(found)
        if index == 0 or volume >= thresholds.LEAST_LUMP
    )


def _lump(solid: Solid, volume: float) -> Lump:
    (x0, y0, z0), (x1, y1, z1) = bounds(solid)
    hair = thresholds.LUMP_INSET
    return Lump(volume, (x0 - hair, y0 - hair, z0 - hair), (x1 + hair, y1 + hair, z1 + hair))


def interference(
    bodies: Bodies, found: tuple[Overlap, ...], explained: frozenset[str]
) -> tuple[Finding, ...]:
    """A finding for each overlap, but where another finding explains a joint of the pair."""
    plan = bodies.plan
    joints: dict[frozenset[str], list[Joint]] = {}
    for joint in plan.joints:
        joints.setdefault(_pair(joint.first, joint.second), []).append(joint)
    findings: list[Finding] = []
    for overlap in found:
        first, second = plan.boards[overlap.first], plan.boards[overlap.second]
        between = joints.get(frozenset((first.board.name, second.board.name)), [])
        if not between:
            findings.append(_unresolved(first.board, second.board, between, overlap))
        elif not any(joint.name in explained for joint in between):
            findings.append(_in_joint(bodies, between, overlap))
    return tuple(findings)


def _unresolved(first: Board, second: Board, between: list[Joint], overlap: Overlap) -> Finding:
    return UnresolvedOverlap(
        place=between[0].join.place if between else second.place,
        first=first.name,
        second=second.name,
        first_place=first.place,
        joints=tuple(joint.name for joint in between),
        lumps=overlap.lumps,
    )


def _in_joint(bodies: Bodies, between: list[Joint], overlap: Overlap) -> Finding:
    """Wood left in corners if that is all there is; else an overlap that the joint leaves.

    Tried on the twins: they lie a good deal further inside than chords lie off their arcs.
    """
    first, second = bodies.plan.boards[overlap.first], bodies.plan.boards[overlap.second]
    left = [
        *corners_left(bodies, overlap, first, second.board.name),
        *corners_left(bodies, overlap, second, first.board.name),
    ]
    shared = bodies.twin(overlap.first) ^ bodies.twin(overlap.second)
    if not sound(without(shared, [corner.room for corner in left])).is_empty():
        return _unresolved(first.board, second.board, between, overlap)
    groups: dict[tuple[str, str, str], list[CornerLeft]] = {}
    for corner in left:
        key = (corner.cut.board, corner.cut.joint, corner.cut.bit)
        groups.setdefault(key, []).append(corner)
    told = sorted((_uncleared(bodies.plan, g) for g in groups.values()), key=lambda u: -u.volume)
    joint = next((j for j in between if j.name == told[0].joint), between[0])
    return LeftoverWood(
        place=joint.join.place,
        first=first.board.name,
        second=second.board.name,
        left=tuple(told),
        lumps=overlap.lumps,
        relief_place=next((o.whole for o in joint.join.options if o.name == "relief"), None),
    )


@dataclass(frozen=True, slots=True)
class CornerLeft:
    """A corner that a cut was asked for and did not clear: the room it takes in the finished piece
    and how much of the mate's wood lies in it."""

    cut: Cut
    corner: Corner
    room: Solid
    volume: float


def corners_left(bodies: Bodies, overlap: Overlap, board: BoardPlan, mate: str) -> list[CornerLeft]:
    """The corners of a board's cuts for its mate that wood of both is left in."""
    shared = bodies.true(overlap.first) ^ bodies.true(overlap.second)
    found = []
    for cut in board.cuts:
        if cut.mate != mate or cut.work.runs_along or cut.floor is not None:
            continue
        for loop in difference(cut.asked, cut.region).loops:
            piece = Region((loop,))
            if area(piece) <= 0.0:
                continue
            room = swept(board.board, cut, piece, thresholds.CHECK_CHORD)
            volume = solid_volume(shared ^ room)
            if volume >= thresholds.LEAST_LUMP:
                found.append(CornerLeft(cut, _corner(cut, piece), room, volume))
    return found


def _corner(cut: Cut, piece: Region) -> Corner:
    """Which corner of the asked region the piece lies nearest to."""
    u0, v0, u1, v1 = region_bounds(cut.asked)
    p0, q0, p1, q1 = region_bounds(piece)
    u, v = cut.side.plane
    return Corner(((u, p0 + p1 > u0 + u1), (v, q0 + q1 > v0 + v1)))


def _uncleared(plan: CutPlan, group: list[CornerLeft]) -> Uncleared:
    cut = group[0].cut
    bit = next((b for b in plan.design.bits if b.name == cut.bit), None)
    corners = {found.corner: None for found in group}
    return Uncleared(
        board=cut.board,
        mate=cut.mate or "",
        joint=cut.joint,
        bit=cut.bit,
        bit_place=bit.place if bit else None,
        radius=float(bit.radius) if bit else 0.0,
        cuts=len({id(found.cut) for found in group}),
        corners=tuple(sorted(corners, key=lambda c: c.ends)),
        volume=sum(found.volume for found in group),
    )
