"""Does a piece come apart? Told by trying every set of its boards, and held against the kernel.

`comes_apart` knows nothing of blocking graphs, closures or orders: it takes each set of boards and
each direction in turn, and whatever parts, again. What it asks is whether one board meets another
on its way, and that the collision library of `truth.py` answers, pose by pose, or for bars the
counting of cubes.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from functools import cache

import numpy as np
from bars import cubes, leaving
from dryfit.kernel.assembly import assembly
from dryfit.kernel.blocking import Blocking, members, reverse
from dryfit.kernel.directions import axes_of
from dryfit.kernel.locked import Lock, lock_of
from dryfit.kernel.shadows import Vector, sight, view
from dryfit.kernel.sliding import first_contact
from dryfit.kernel.solids import Bodies
from dryfit.kernel.steps import Assembly
from random_pieces import Piece, piece_of
from truth import NEAR, Poses, mesh_of

Leaves = Callable[[int, int, Vector], bool]
"""Whether a set of boards leaves another along a direction."""


@dataclass(slots=True)
class PieceTally:
    """What was compared: pieces by kind, sets of boards along directions, steps followed; what was
    told to go and does not (`refuted`), and what was told not to go and does (`refused`)."""

    pieces: dict[str, int] = field(default_factory=dict)
    sets: int = 0
    freed: int = 0
    steps: int = 0
    apart: int = 0
    locked: int = 0
    refuted: list[str] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)

    def add(self, other: PieceTally) -> None:
        for kind, count in other.pieces.items():
            self.pieces[kind] = self.pieces.get(kind, 0) + count
        self.sets += other.sets
        self.freed += other.freed
        self.steps += other.steps
        self.apart += other.apart
        self.locked += other.locked
        self.refuted += other.refuted
        self.refused += other.refused


def compared_piece(seed: int, samples: int) -> PieceTally:
    """One piece: every set of boards along every axis, the lock, and each step of its assembly."""
    dice = random.Random(seed)  # noqa: S311 - repeatable, not secret
    piece = piece_of(dice)
    tally = PieceTally(pieces={_sort(piece): 1})
    name, tried = f"seed {seed}, {piece.kind}", _Tried(piece.bodies, samples, dice)
    boards = piece.bodies.plan.boards
    axes = axes_of(boards[0].board.pose)
    _compare_sets(piece.bodies, tried, axes, name, tally)
    goes = comes_apart((1 << len(boards)) - 1, axes, tried.leaves)
    if piece.bars:
        assert goes == bars_come_apart(piece), name
    lock, found = lock_of(piece.bodies), assembly(piece.bodies)
    tally.apart += lock is None
    tally.locked += lock is not None
    if (lock is None) != isinstance(found, Assembly):
        tally.refuted.append(f"{name}: the lock and the steps say different things")
    if isinstance(found, Assembly):
        _follow(piece.bodies, found, tried, name, tally)
        if not goes and all(step.direction in axes for step in found.steps):
            tally.refuted.append(f"{name}: told to come apart along axes")
    if lock is not None:
        _compare_lock(lock, tried, axes, name, tally)
        if goes:
            tally.refused.append(f"{name}: told to be locked, {lock.boards}")
    return tally


def comes_apart(everything: int, directions: tuple[Vector, ...], leaves: Leaves) -> bool:
    """Whether a set of boards can be taken apart into single ones, by trying all there is."""

    @cache
    def apart(whole: int) -> bool:
        if whole.bit_count() < 2:
            return True
        return any(
            apart(moving) and apart(whole & ~moving)
            for moving in _parts(whole)
            for direction in directions
            if leaves(moving, whole & ~moving, direction)
        )

    return apart(everything)


def bars_come_apart(piece: Piece) -> bool:
    """The same for bars, counting cubes."""
    lumps = [cubes(bar) for bar in piece.bars]

    @cache
    def apart(whole: int) -> bool:
        if whole.bit_count() < 2:
            return True
        return any(apart(moving) and apart(whole & ~moving) for moving, _ in leaving(lumps, whole))

    return apart((1 << len(lumps)) - 1)


def _parts(whole: int) -> Iterator[int]:
    """Every set of some of a set's boards, but not all."""
    part = (whole - 1) & whole
    while part:
        yield part
        part = (part - 1) & whole


def _sort(piece: Piece) -> str:
    count, kind = len(piece.bodies.plan.boards), piece.kind.partition(",")[0].split()[1:]
    return f"{count} {' '.join(kind)}"


class _Tried:
    """Boards moved off each other, pose by pose."""

    def __init__(self, bodies: Bodies, samples: int, dice: random.Random) -> None:
        self._bodies = bodies
        count = len(bodies.plan.boards)
        faces = [bodies.faces(i) for i in range(count)]
        corners = np.concatenate([body.corners.reshape(-1, 3) for body in faces])
        room = float(np.ptp(corners, axis=0).sum())
        step = room / samples
        self._stops = [
            *(step * 0.5**n for n in range(12, 0, -1)),
            *(step * (n + dice.random()) for n in range(samples)),
        ]
        self._meshes = [mesh_of(body) for body in faces]
        self._met: dict[tuple[int, int, Vector], bool] = {}

    def meets(self, i: int, j: int, direction: Vector) -> bool:
        """Whether one board meets another on its way: at any stop, or just past where the kernel
        says that it would."""
        back = reverse(direction)
        if back < direction:
            return self.meets(j, i, back)
        if (i, j, direction) not in self._met:
            self._met[i, j, direction] = self._hits(i, j, direction)
        return self._met[i, j, direction]

    def _hits(self, i: int, j: int, direction: Vector) -> bool:
        e, poses = np.array(direction), Poses(self._meshes[i], self._meshes[j])
        if any(poses.meet(stop * e) for stop in self._stops):
            return True
        frame = sight(direction)
        # To the mesh, not to the wood that it stands in by its inset.
        one, other = (view(replace(self._bodies.faces(k), inset=0.0), frame) for k in (i, j))
        contact = first_contact(one, other)
        if contact is None:
            return False
        return any(poses.meet((contact.distance + past) * e) for past in NEAR)

    def leaves(self, moving: int, staying: int, direction: Vector) -> bool:
        return not any(
            self.meets(i, j, direction) for i in members(moving) for j in members(staying)
        )


def _compare_sets(
    bodies: Bodies, tried: _Tried, axes: tuple[Vector, ...], name: str, tally: PieceTally
) -> None:
    blocking = Blocking(bodies, range(len(bodies.plan.boards)))
    for direction in axes:
        for moving in _parts(blocking.everything):
            staying = blocking.everything & ~moving
            told = blocking.frees(moving, staying, direction)
            goes = tried.leaves(moving, staying, direction)
            tally.sets += 1
            tally.freed += told
            if told != goes:
                which = tuple(members(moving))
                line = f"{name}: {which} along {direction}, told {'free' if told else 'blocked'}"
                (tally.refuted if told else tally.refused).append(line)


def _follow(bodies: Bodies, found: Assembly, tried: _Tried, name: str, tally: PieceTally) -> None:
    """Each step backwards: what moves leaves what stands, and both stood together by then."""
    number = {one.board.name: i for i, one in enumerate(bodies.plan.boards)}
    together = {1 << i for i in number.values()}
    for step in found.steps:
        moving, into = (sum(1 << number[n] for n in names) for names in (step.moving, step.into))
        if not {moving, into} <= together:
            tally.refuted.append(f"{name}: {step.moving} and {step.into} do not stand by then")
        together = (together - {moving, into}) | {moving | into}
        tally.steps += 1
        if not tried.leaves(moving, into, reverse(step.direction)):
            tally.refuted.append(f"{name}: {step.moving} into {step.into} along {step.direction}")
    if len(together) != 1:
        tally.refuted.append(f"{name}: the steps leave {len(together)} things")


def _compare_lock(
    lock: Lock, tried: _Tried, axes: tuple[Vector, ...], name: str, tally: PieceTally
) -> None:
    """No part of what is told to be locked leaves the rest of it, and each board met is met; with
    any one board gone the others come apart, along axes at least where no slant is needed."""
    core = sum(1 << i for i in lock.boards)
    if any(tried.leaves(part, core & ~part, axis) for part in _parts(core) for axis in axes):
        tally.refused.append(f"{name}: some of {lock.boards} leave the others")
    for ring in lock.rings:
        for grip in ring.grips:
            if not tried.meets(grip.moving, grip.still, ring.direction):
                tally.refused.append(f"{name}: {grip.moving} does not meet {grip.still}")
    for i in lock.boards:
        if len(lock.boards) > 2 and not comes_apart(core & ~(1 << i), axes, tried.leaves):
            tally.refuted.append(f"{name}: {lock.boards} are locked without {i}")
