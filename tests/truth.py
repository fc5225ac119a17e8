"""Does one board leave the other? Told by brute force, and compared with what the kernel says.

`Poses` is the other opinion: it puts one board into many places on its way and asks a collision
library, the Flexible Collision Library by its Python binding, whether the meshes meet there. It
knows nothing of how the kernel answers. It reads the same eroded bodies, so that boards that merely
touch do not count as met.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from math import cos, inf, sin, tau
from typing import Any

import fcl
import numpy as np
from dryfit.kernel.directions import axes_of, suggested
from dryfit.kernel.insertion import Way, ways
from dryfit.kernel.shadows import Faces, Floats, Vector, sight, view
from dryfit.kernel.sliding import leaves
from dryfit.kernel.turning import Hinge, Touch, first_touch
from random_pairs import Pair, pair_of

NEAR = (1e-6, 1e-5, 1e-4, 1e-3, 0.01, 0.03, 0.1, 0.3, 1.0)
"""Steps in mm, or hundredths of a radian, past a contact at which the meshes must really meet."""


class Poses:
    """Two meshes, the first of which can be put elsewhere."""

    def __init__(self, moving: Any, still: Any) -> None:
        self._moving, self._still = moving, still

    def meet(self, shift: Floats, turn: Floats | None = None) -> bool:
        """Whether the two meet once the first is turned and then shifted."""
        place = fcl.Transform(np.eye(3) if turn is None else turn, shift)
        one = fcl.CollisionObject(self._moving, place)
        other = fcl.CollisionObject(self._still, fcl.Transform())
        request, result = fcl.CollisionRequest(), fcl.CollisionResult()
        return bool(fcl.collide(one, other, request, result))


def mesh_of(body: Faces) -> Any:
    """A body as the collision library takes it."""
    points, triangles = np.unique(body.corners.reshape(-1, 3), axis=0, return_inverse=True)
    mesh = fcl.BVHModel()
    mesh.beginModel(len(points), len(body.corners))
    mesh.addSubModel(points, triangles.reshape(-1, 3))
    mesh.endModel()
    return mesh


# ---- how the two opinions compare ----------------------------------------------------------------


@dataclass(slots=True)
class Tally:
    """What was compared: directions in all and of them free; those told free that the poses refute;
    contacts that poses met before; contacts that no pose near them confirms."""

    pairs: dict[str, int] = field(default_factory=dict)
    directions: int = 0
    free: int = 0
    locked: int = 0
    refuted: list[str] = field(default_factory=list)
    late: list[str] = field(default_factory=list)
    unconfirmed: list[str] = field(default_factory=list)

    def add(self, other: Tally) -> None:
        for kind, count in other.pairs.items():
            self.pairs[kind] = self.pairs.get(kind, 0) + count
        self.directions += other.directions
        self.free += other.free
        self.locked += other.locked
        self.refuted += other.refuted
        self.late += other.late
        self.unconfirmed += other.unconfirmed


def compared(seed: int, samples: int) -> Tally:
    """One pair, every direction worth trying and some that are not, `samples` poses on each."""
    dice = random.Random(seed)  # noqa: S311 - repeatable, not secret
    return compared_pair(pair_of(dice), samples, dice, f"seed {seed}")


def compared_pair(pair: Pair, samples: int, dice: random.Random, name: str) -> Tally:
    """The same for a pair there is."""
    tally = Tally(pairs={pair.kind: 1})
    poses = Poses(mesh_of(pair.part), mesh_of(pair.mate))
    # To the mesh, not to the wood that it stands in by its inset.
    part, mate = replace(pair.part, inset=0.0), replace(pair.mate, inset=0.0)
    found = ways(part, mate, _directions(pair, dice))
    tally.locked = int(all(way.contact is not None for way in found))
    room = float(np.ptp(np.concatenate((_corners(pair.part), _corners(pair.mate))), axis=0).sum())
    for way in found:
        tally.directions += 1
        tally.free += way.contact is None
        _compare(way, poses, _stops(room, samples, dice), f"{name}, {pair.kind}", tally)
        frame = sight(way.direction)
        sooner = leaves(view(pair.part, frame), view(pair.mate, frame))
        assert sooner == (way.contact is None)
    return tally


def _compare(way: Way, poses: Poses, stops: Sequence[float], name: str, tally: Tally) -> None:
    e = np.array(way.direction)
    met = next((s for s in stops if s < way.free and poses.meet(s * e)), None)
    told = f"{name}, along {way.direction}: told {way.free:.6g}"
    if met is not None:
        (tally.refuted if way.free == inf else tally.late).append(f"{told}, met at {met:.6g}")
    elif way.free < inf and not any(poses.meet((way.free + past) * e) for past in NEAR):
        tally.unconfirmed.append(told)


def compared_turning(seed: int, samples: int) -> Tally:
    """One pair, half of the time drawn apart, the part turned about three lines near the boards or
    square to them."""
    dice = random.Random(seed)  # noqa: S311 - repeatable, not secret
    pair = pair_of(dice)
    axes = axes_of(pair.plan.boards[0].board.pose)
    out = [way.direction for way in ways(pair.part, pair.mate, axes) if way.contact is None]
    if out and dice.random() < 0.5:
        shift = dice.uniform(0.5, 60) * np.array(dice.choice(out))
        pair = replace(pair, part=replace(pair.part, corners=pair.part.corners + shift))
    tally = Tally(pairs={pair.kind: 1})
    poses = Poses(mesh_of(pair.part), mesh_of(pair.mate))
    corners = np.concatenate((_corners(pair.part), _corners(pair.mate)))
    middle, room = corners.mean(axis=0), np.ptp(corners, axis=0)
    for _ in range(3):
        hinge = Hinge(_vector(np.array(dice.choice(corners.tolist()))), dice.choice(axes))
        if dice.random() < 0.5:
            axis = np.array([dice.gauss(0, 1) for _ in "xyz"])
            at = middle + room * [dice.uniform(-1, 1) for _ in "xyz"]
            hinge = Hinge(_vector(at), _vector(axis / np.linalg.norm(axis)))
        angle = dice.choice((1, -1)) * dice.uniform(0.1, tau)
        stops = [share * abs(angle) for share in _stops(1.0, samples, dice)]
        touch = first_touch(pair.part, pair.mate, hinge, angle)
        name = f"seed {seed}, {pair.kind}, about {hinge} by {angle:.6g}"
        _compare_turn(touch, _Turning(poses, hinge, angle), stops, name, tally)
    return tally


@dataclass(frozen=True, slots=True)
class _Turning:
    poses: Poses
    hinge: Hinge
    angle: float

    def meet(self, by: float) -> bool:
        """Whether the two meet once the part has turned so far, the way it turns."""
        turn, at = _turn(self.hinge.axis, by if self.angle > 0 else -by), np.array(self.hinge.at)
        return self.poses.meet(at - turn @ at, turn)


def _compare_turn(
    touch: Touch | None, turning: _Turning, stops: Sequence[float], name: str, tally: Tally
) -> None:
    free = abs(turning.angle) if touch is None else touch.angle
    tally.directions += 1
    tally.free += touch is None
    early = next((stop for stop in stops if stop < free and turning.meet(stop)), None)
    told = f"{name}: told {free:.6g}"
    if early is not None:
        (tally.refuted if touch is None else tally.late).append(f"{told}, met at {early:.6g}")
    elif touch is not None and not any(turning.meet(free + past / 100) for past in NEAR):
        tally.unconfirmed.append(told)


def _turn(axis: Vector, angle: float) -> Floats:
    """The matrix of a turn, by the formula of Rodrigues."""
    x, y, z = axis
    cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    turn: Floats = np.eye(3) + sin(angle) * cross + (1 - cos(angle)) * cross @ cross
    return turn


def _corners(body: Faces) -> Floats:
    corners: Floats = body.corners.reshape(-1, 3)
    return corners


def _stops(room: float, samples: int, dice: random.Random) -> list[float]:
    """How far along the way the poses lie: dense near home, then even with a random start."""
    step = room / samples
    near = [step * 0.5**n for n in range(1, 14)]
    return sorted([*near, *(step * (n + dice.random()) for n in range(samples))])


def _directions(pair: Pair, dice: random.Random) -> tuple[Vector, ...]:
    pose = pair.plan.boards[0].board.pose
    axes = axes_of(pose)
    some = list(suggested(pair.part, pair.mate))
    dice.shuffle(some)
    slanted = []
    for size in (1e-3, 0.02, 1.0):
        e = np.array(dice.choice(axes)) + size * np.array([dice.gauss(0, 1) for _ in range(3)])
        slanted.append(_vector(e / np.linalg.norm(e)))
    return tuple(dict.fromkeys((*axes, *some[:4], *slanted)))


def _vector(values: Floats) -> Vector:
    x, y, z = (float(v) for v in values)
    return x, y, z
