"""Do drawers, doors and lids move as the design says, clear of everything else?

In: the bodies of a plan and a `travel` or `swing` of its design. Out: the first contact, with how
far the boards came, and how much room they have on the way. Boards that move together are one; each
of them is tried against each board that stays. Faces that slide on each other do not touch
(`sliding.py`, `turning.py`). Boards that overlap where they start are left out: other findings tell
of those.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, degrees, radians
from typing import TypeAlias, assert_never

import numpy as np
from numpy.typing import NDArray

from . import thresholds
from .design import Motion, Swing, Travel
from .directions import axes_of, snapped
from .frames import pose_matrix
from .passing import room_beside
from .shadows import Vector, vector
from .sliding import blocked
from .solids import Bodies, gap, moved
from .thresholds import PASSING_NEAR
from .turning import Hinge, Touch, first_touch, turn_about

Boxes: TypeAlias = NDArray[np.float64]

ARC_STEP = 5.0
"""At most how many degrees a chord of a swing's path spans: it looks round."""

SWING_STEP = 1.0
"""At most how many degrees lie between two places at which the room beside a swing is measured."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """What a motion runs into: `moving` and `still` are boards of the plan, by index.

    `after` is how far it came, in mm for a travel and degrees for a swing. `path` is the way of the
    point that meets the still board, in the finished piece: from where it is at home to where they
    meet, straight from point to point. The cuts are those that made the faces, by index among their
    board's, -1 for the blank's own.
    """

    moving: int
    still: int
    after: float
    path: tuple[Vector, ...]
    moving_cut: int
    still_cut: int

    @property
    def place(self) -> Vector:
        """Where they meet, on the still board."""
        return self.path[-1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """The least room beside a motion: between which boards, by index, and how much, mm."""

    moving: int
    still: int
    gap: float


def stop_of(bodies: Bodies, motion: Motion) -> Stop | None:
    """The first contact on the way; None when the motion is free.

    Boards that the plan left out count for nothing. Of contacts at one point of the way the first
    pair, by index, is told.
    """
    moving = moving_boards(bodies, motion)
    match motion:
        case Travel():
            return _travel_stop(bodies, motion, moving)
        case Swing():
            return _swing_stop(bodies, motion, moving)
        case _:
            assert_never(motion)


def room_of(bodies: Bodies, motion: Motion) -> Room | None:
    """The least room beside a free motion; None when nothing is near.

    Beside a travel it is that between what passes and what is passed, looking along the way, to a
    hundredth of a mm, and never more than there is: a face counts as passed when any part of it
    is. Beside a swing it is the least distance measured at home and at each of even steps of
    `SWING_STEP` degrees at most.
    """
    match motion:
        case Travel():
            return _travel_room(bodies, motion)
        case Swing():
            return _swing_room(bodies, motion)
        case _:
            assert_never(motion)


def moving_boards(bodies: Bodies, motion: Motion) -> tuple[int, ...]:
    """The boards that move, by index, each once, in the plan's order."""
    found = {bodies.index(ref.name) for ref in motion.boards}
    return tuple(sorted(index for index in found if index is not None))


def direction_of(bodies: Bodies, travel: Travel) -> Vector:
    """The way of a travel in the finished piece, length 1.

    One written a hair off an axis of the piece it stands in, of the whole or of a board that moves
    means that axis.
    """
    turn = pose_matrix(travel.pose)[:3, :3]
    written = turn @ np.array([float(c) for c in travel.along])
    boards = bodies.plan.boards
    poses = [boards[i].board.pose for i in moving_boards(bodies, travel)]
    return snapped(tuple(written), axes_of(travel.pose, (), *dict.fromkeys(poses)))


def hinge_of(swing: Swing) -> Hinge:
    """The line of a swing in the finished piece."""
    matrix = pose_matrix(swing.pose)
    at = matrix[:3, :3] @ np.array([float(c) for c in swing.at]) + matrix[:3, 3]
    axis = matrix[:3, swing.about]
    return Hinge(vector(at), vector(axis))


# ---- travels -------------------------------------------------------------------------------------


def _travel_stop(bodies: Bodies, travel: Travel, moving: tuple[int, ...]) -> Stop | None:
    direction, left = direction_of(bodies, travel), float(travel.distance)
    boxes = bodies.boxes
    first: Stop | None = None
    for i in moving:
        way = np.array(direction) * left
        swept = np.stack((boxes[i, 0] + np.minimum(way, 0), boxes[i, 1] + np.maximum(way, 0)))
        for j in _in_reach(boxes, swept, moving):
            if bodies.meet(min(i, j), max(i, j)):
                continue
            contact = blocked(bodies.faces(i), bodies.faces(j), direction, left)
            if contact is None or (first is not None and contact.distance >= first.after):
                continue
            first = Stop(
                moving=i,
                still=j,
                after=contact.distance,
                path=(contact.start, contact.place),
                moving_cut=contact.moving_cut,
                still_cut=contact.still_cut,
            )
            left = contact.distance + 2 * thresholds.TWIN_INSET
    return first


def _in_reach(boxes: Boxes, swept: Boxes, moving: tuple[int, ...]) -> list[int]:
    """The boards that stay and whose boxes share room with a swept one."""
    shared = np.minimum(boxes[:, 1], swept[1]) - np.maximum(boxes[:, 0], swept[0])
    near = (shared > thresholds.SAME).all(axis=1)
    near[list(moving)] = False
    return [int(j) for j in np.flatnonzero(near)]


def _beside(
    boxes: Boxes, moving: tuple[int, ...], direction: Vector, distance: float
) -> list[tuple[float, int, int]]:
    """Pairs of a moving and a still board, with a bound on the gap between them, least first."""
    found = []
    way = np.array(direction) * distance
    for i in moving:
        low, high = boxes[i, 0] + np.minimum(way, 0), boxes[i, 1] + np.maximum(way, 0)
        apart = np.maximum(np.maximum(boxes[:, 0] - high, low - boxes[:, 1]), 0.0)
        gaps = np.linalg.norm(apart, axis=1)
        gaps[list(moving)] = np.inf
        found += [(float(gaps[j]), i, int(j)) for j in np.flatnonzero(gaps < PASSING_NEAR)]
    return sorted(found)


def _travel_room(bodies: Bodies, travel: Travel) -> Room | None:
    moving = moving_boards(bodies, travel)
    direction, distance = direction_of(bodies, travel), float(travel.distance)
    boxes = bodies.boxes
    best: Room | None = None
    for apart, i, j in _beside(boxes, moving, direction, distance):
        most = PASSING_NEAR if best is None else best.gap
        if apart >= most:
            break
        found = room_beside(bodies.faces(i), bodies.faces(j), direction, distance, most)
        if found is not None:
            best = Room(moving=i, still=j, gap=found)
    return best


# ---- swings --------------------------------------------------------------------------------------


def _swing_stop(bodies: Bodies, swing: Swing, moving: tuple[int, ...]) -> Stop | None:
    hinge, angle = hinge_of(swing), radians(float(swing.degrees))
    sense = 1.0 if angle >= 0 else -1.0
    boxes = bodies.boxes
    first: Stop | None = None
    for i in moving:
        for j in _in_ring(boxes, i, hinge, moving):
            if bodies.meet(min(i, j), max(i, j)):
                continue
            touch = first_touch(bodies.faces(i), bodies.faces(j), hinge, angle)
            if touch is None or (first is not None and degrees(touch.angle) >= first.after):
                continue
            first = Stop(
                moving=i,
                still=j,
                after=degrees(touch.angle),
                path=_arc(hinge, touch, sense),
                moving_cut=touch.moving_cut,
                still_cut=touch.still_cut,
            )
            angle = sense * touch.angle
    return first


def _arc(hinge: Hinge, touch: Touch, sense: float) -> tuple[Vector, ...]:
    """The way of the point that touches, in chords of `ARC_STEP` degrees at most."""
    steps = max(1, ceil(degrees(touch.angle) / ARC_STEP))
    between = []
    for step in range(1, steps):
        turn = turn_about(hinge, sense * touch.angle * step / steps)
        between.append(vector(turn[:3, :3] @ np.array(touch.start) + turn[:3, 3]))
    return touch.start, *between, touch.place


def _swing_room(bodies: Bodies, swing: Swing) -> Room | None:
    moving, hinge = moving_boards(bodies, swing), hinge_of(swing)
    angle = float(swing.degrees)
    steps = ceil(abs(angle) / SWING_STEP)
    boxes = bodies.boxes
    pairs = [(i, j) for i in moving for j in _in_ring(boxes, i, hinge, moving, PASSING_NEAR)]
    best: Room | None = None
    for step in range(steps + 1):
        turn = turn_about(hinge, radians(angle * step / steps))
        for i, j in pairs:
            most = PASSING_NEAR if best is None else best.gap
            if most == 0.0:
                return best
            found = gap(moved(bodies.true(i), turn), bodies.true(j), most)
            if found < most:
                best = Room(moving=i, still=j, gap=found)
    return best


def _in_ring(
    boxes: Boxes, i: int, hinge: Hinge, moving: tuple[int, ...], within: float = 0.0
) -> list[int]:
    """The boards that stay and that board `i`, turned about the hinge, may come `within` mm of."""
    at, axis = np.array(hinge.at), np.array(hinge.axis)
    middle, half = boxes.mean(axis=1) - at, (boxes[:, 1] - boxes[:, 0]) / 2
    along, reach = middle @ axis, half @ np.abs(axis)
    away = np.linalg.norm(middle - along[:, None] * axis, axis=1)
    round_ = np.linalg.norm(half, axis=1)
    near = np.abs(along - along[i]) < reach + reach[i] + within
    near &= away - round_ < away[i] + round_[i] + within
    near &= away + round_ > away[i] - round_[i] - within
    near[list(moving)] = False
    return [int(j) for j in np.flatnonzero(near)]
