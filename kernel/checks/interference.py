"""Where do two boards claim the same wood, and which cut is to blame?

Pairs that come near (broad phase) are tried on their eroded twins: twins meet exactly when wood
overlaps deeper than twice the inset. Only such pairs are then measured on the true bodies. Wood in
a joint is traced to the cut that was drawn sharp there and that the round bit could not clear.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from .. import thresholds
from ..board import Axis, Board
from ..broad import board_pairs
from ..cuts import Cut
from ..design import BoardRef
from ..finding import Finding, Place
from ..frames import pose_matrix
from ..plan import BoardPlan, CutPlan, Joint
from ..region import bounds as region_bounds
from ..region import contains
from ..solids import Bodies, Solid, bounds, centroid, depth_range, lumps, meet
from .findings import (
    Corner,
    LeftoverWood,
    Lump,
    StillOverlap,
    Uncleared,
    UnresolvedOverlap,
    Vector,
)


@dataclass(frozen=True, slots=True)
class Piece:
    """A lump of wood that two boards claim, and the middle of it."""

    lump: Lump
    middle: Vector


@dataclass(frozen=True, slots=True)
class Overlap:
    """Two boards of a plan, by index, that overlap as cut, and the wood both claim."""

    first: int
    second: int
    pieces: tuple[Piece, ...]

    @property
    def volume(self) -> float:
        """Cubic mm."""
        return sum(piece.lump.volume for piece in self.pieces)


def overlaps(bodies: Bodies) -> tuple[Overlap, ...]:
    """Every pair that overlaps, in the order of the boards, but for pairs of a failed joint."""
    boards = bodies.plan.boards
    failed = {_pair(j.first, j.second) for j in bodies.plan.joints if j.failed}
    found = []
    for i, j in board_pairs([b.board for b in boards], 2 * thresholds.TWIN_INSET):
        names = frozenset((boards[i].board.name, boards[j].board.name))
        if names not in failed and meet(bodies.twin(i), bodies.twin(j)):
            found.append(Overlap(i, j, _pieces(bodies, i, j)))
    return tuple(found)


def _pair(first: BoardRef, second: BoardRef) -> frozenset[str]:
    return frozenset((first.name, second.name))


def _pieces(bodies: Bodies, i: int, j: int) -> tuple[Piece, ...]:
    """The lumps worth telling of, and always the greatest: the twins decided that it counts."""
    found = lumps(bodies, i, j)
    return tuple(
        Piece(_lump(solid, volume), centroid(solid))
        for index, (solid, volume) in enumerate(found)
        if index == 0 or volume >= thresholds.LEAST_LUMP
    )


def _lump(solid: Solid, volume: float) -> Lump:
    (x0, y0, z0), (x1, y1, z1) = bounds(solid)
    hair = thresholds.LUMP_INSET
    return Lump(volume, (x0 - hair, y0 - hair, z0 - hair), (x1 + hair, y1 + hair, z1 + hair))


def interference(
    plan: CutPlan, found: tuple[Overlap, ...], explained: frozenset[str]
) -> tuple[Finding, ...]:
    """A finding for each overlap, but where another finding explains a joint of the pair."""
    joints: dict[frozenset[str], list[Joint]] = {}
    for joint in plan.joints:
        joints.setdefault(_pair(joint.first, joint.second), []).append(joint)
    findings: list[Finding] = []
    for overlap in found:
        first, second = plan.boards[overlap.first], plan.boards[overlap.second]
        between = joints.get(frozenset((first.board.name, second.board.name)), [])
        if not between:
            findings.append(_unresolved(first.board, second.board, overlap))
        elif not any(joint.name in explained for joint in between):
            findings.append(_in_joint(plan, first, second, between, overlap))
    return tuple(findings)


def _unresolved(first: Board, second: Board, overlap: Overlap) -> Finding:
    return UnresolvedOverlap(
        place=second.place,
        first=first.name,
        second=second.name,
        first_place=first.place,
        lumps=tuple(piece.lump for piece in overlap.pieces),
    )


def _in_joint(
    plan: CutPlan, first: BoardPlan, second: BoardPlan, between: list[Joint], overlap: Overlap
) -> Finding:
    """Wood left in corners if every lump is traced to one; else an overlap the joint leaves."""
    groups: dict[tuple[str, str, str], list[tuple[Piece, BoardPlan, Cut]]] = {}
    for piece in overlap.pieces:
        cause = _culprit(first, second, piece)
        if cause is None:
            groups.clear()
            break
        groups.setdefault((cause[1].board, cause[1].joint, cause[1].bit), []).append(
            (piece, *cause)
        )
    if not groups:
        return StillOverlap(
            place=_join_place(between[0]),
            first=first.board.name,
            second=second.board.name,
            first_place=first.board.place,
            second_place=second.board.place,
            joints=tuple(joint.name for joint in between),
            lumps=tuple(piece.lump for piece in overlap.pieces),
        )
    left = tuple(_uncleared(plan, group) for group in groups.values())
    joint = next((j for j in between if j.name == left[0].joint), between[0])
    return LeftoverWood(
        place=_join_place(joint),
        first=first.board.name,
        second=second.board.name,
        left=left,
        relief_place=_option_place(joint, "relief"),
    )


def _join_place(joint: Joint) -> Place | None:
    return joint.join.place


def _option_place(joint: Joint, name: str) -> Place | None:
    return next((o.place for o in joint.join.options if o.name == name), None)


def _uncleared(plan: CutPlan, group: list[tuple[Piece, BoardPlan, Cut]]) -> Uncleared:
    _, board, cut = group[0]
    bit = next((b for b in plan.design.bits if b.name == cut.bit), None)
    corners = {_corner(board, cut, piece): None for piece, board, cut in group}
    mate = cut.mate or ""
    return Uncleared(
        board=board.board.name,
        mate=mate,
        joint=cut.joint,
        bit=cut.bit,
        bit_place=bit.place if bit else None,
        radius=float(bit.radius) if bit else 0.0,
        corners=tuple(sorted(corners, key=lambda c: c.ends)),
        lumps=tuple(piece.lump for piece, _, _ in group),
    )


def _culprit(first: BoardPlan, second: BoardPlan, piece: Piece) -> tuple[BoardPlan, Cut] | None:
    """The cut that asked for the middle of the lump and did not clear it."""
    for board, mate in ((first, second), (second, first)):
        point = _own(board.board, piece.middle)
        for cut in board.cuts:
            if cut.mate == mate.board.name and _left_by(board.board, cut, point):
                return board, cut
    return None


def _own(board: Board, point: Vector) -> Vector:
    """A point of the finished piece in the board's own coordinates."""
    if not board.pose:
        return point
    x, y, z, _ = np.linalg.solve(pose_matrix(board.pose), np.array((*point, 1.0)))
    return float(x), float(y), float(z)


def _left_by(board: Board, cut: Cut, point: Vector) -> bool:
    lo, hi = depth_range(board, cut)
    u, v = cut.side.plane
    flat = (point[u], point[v])
    return (
        lo <= point[cut.side.axis] <= hi
        and contains(cut.asked, flat)
        and not contains(cut.region, flat)
    )


def _corner(board: BoardPlan, cut: Cut, piece: Piece) -> Corner:
    """Which corner of the asked region the lump lies nearest to."""
    point = _own(board.board, piece.middle)
    u0, v0, u1, v1 = region_bounds(cut.asked)
    u, v = cut.side.plane
    ends: Iterator[tuple[Axis, bool]] = (
        (axis, point[axis] > (lo + hi) / 2) for axis, lo, hi in ((u, u0, u1), (v, v0, v1))
    )
    return Corner((next(ends), next(ends)))
