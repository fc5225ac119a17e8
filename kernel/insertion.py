"""Can a part travel home along a straight line, alone against its mate?

For a pair of boards: the directions along which the first leaves the second without touching, and
for the others where it touches first. A part goes in the way it comes out, turned round. Faces
that slide on each other at no clearance do not count as touching; the test and its exactness are
those of `sliding.py`, on the bodies as cut.

Pairs that lie alike (a row of equal drawers) are worked out once. At another thickness of the
stock a part may come home a little short of where it was drawn; see `still_leaves`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import inf
from typing import TypeAlias

import numpy as np

from . import thresholds
from .board import Move
from .broad import board_pairs
from .directions import axes_of, suggested
from .frames import pose_matrix, without_shared_end
from .kept import Table
from .plan import CutPlan
from .shadows import Faces, Floats, Vector, View, sight, view
from .sliding import Contact, first_contact, leaves, shares_line
from .solids import Bodies

Key: TypeAlias = tuple[int, int, tuple[Move, ...], tuple[Move, ...]]


@dataclass(frozen=True, slots=True)
class Way:
    """A direction out, of length 1, and what the part touches first along it; None when nothing.

    The place of the contact is on the mate, in the finished piece.
    """

    direction: Vector
    contact: Contact | None

    @property
    def free(self) -> float:
        """How far the part goes, mm; infinite when it leaves."""
        return inf if self.contact is None else self.contact.distance


@dataclass(frozen=True, slots=True, kw_only=True)
class Insertion:
    """Two boards of a plan, by index, and the ways to draw `part` out of `mate`, free or not."""

    part: int
    mate: int
    ways: tuple[Way, ...]

    @property
    def out(self) -> tuple[Vector, ...]:
        """The directions along which the part leaves."""
        return tuple(way.direction for way in self.ways if way.contact is None)

    @property
    def home(self) -> tuple[Vector, ...]:
        """The directions along which the part goes in."""
        return tuple((-x + 0.0, -y + 0.0, -z + 0.0) for x, y, z in self.out)


class Insertions:
    """The ways out of every pair of a plan, each made once, when first asked for."""

    def __init__(self, bodies: Bodies) -> None:
        self.bodies = bodies
        self._ways: Table[Key, tuple[Way, ...]] = bodies.kept.table("ways out", 2)
        self._leaves: Table[Key, Vector | None] = bodies.kept.table("first ways out", 2)

    def of(self, part: int, mate: int) -> Insertion:
        """The ways along the pair's axes, and those that their faces suggest where these are free.

        The two must not overlap as cut.
        """
        key, turn = self._key(part, mate)
        if key not in self._ways:
            one, other = self._faces(part, mate, key)
            axes = axes_of(key[2], key[3])
            more = [d for d in suggested(one, other) if d not in axes]
            free = [Way(d, None) for d in more if _leaves(one, other, d)]
            self._ways[key] = (*ways(one, other, axes), *free)
        return Insertion(
            part=part, mate=mate, ways=tuple(_turned(way, turn) for way in self._ways[key])
        )

    def leaves(self, part: int, mate: int) -> Vector | None:
        """The first direction along which the part leaves its mate; None when there is none."""
        key, turn = self._key(part, mate)
        if key not in self._leaves:
            one, other = self._faces(part, mate, key)
            self._leaves[key] = _first_out(one, other, key)
        found = self._leaves[key]
        return None if found is None else _turned(Way(found, None), turn).direction

    def _key(self, part: int, mate: int) -> tuple[Key, tuple[Move, ...]]:
        """What decides the answer, and the moves from there to the finished piece."""
        boards = self.bodies.plan.boards
        whole = boards[part].board.pose
        one, other = without_shared_end(whole, boards[mate].board.pose)
        key = (self.bodies.kind(part), self.bodies.kind(mate), one, other)
        return key, whole[len(one) :]

    def _faces(self, part: int, mate: int, key: Key) -> tuple[Faces, Faces]:
        return self.bodies.faces(part, key[2]), self.bodies.faces(mate, key[3])


def ways(part: Faces, mate: Faces, directions: Sequence[Vector]) -> tuple[Way, ...]:
    """Each direction tried: where the part, drawn out along it, first meets its mate."""
    found: dict[Vector, Contact | None] = {}
    for direction in directions:
        if direction in found:
            continue
        frame = sight(direction)
        one, other = view(part, frame), view(mate, frame)
        found[direction] = _met(one, other)
        back = _reversed(direction)
        if back in directions:
            found[back] = _seen_from_part(_met(other, one))
    return tuple(Way(direction, found[direction]) for direction in directions)


def _met(moving: View, still: View) -> Contact | None:
    return None if leaves(moving, still) else first_contact(moving, still)


def _reversed(direction: Vector) -> Vector:
    x, y, z = direction
    return -x + 0.0, -y + 0.0, -z + 0.0


def _seen_from_part(contact: Contact | None) -> Contact | None:
    """A mate that moves along a direction and a part that moves the other way touch alike."""
    if contact is None:
        return None
    return Contact(
        place=contact.start,
        start=contact.place,
        distance=contact.distance,
        moving_cut=contact.still_cut,
        still_cut=contact.moving_cut,
    )


def _first_out(part: Faces, mate: Faces, key: Key) -> Vector | None:
    """The axes first: most parts leave along one, and then no face is looked at."""
    axes = axes_of(key[2], key[3])
    return _leaving(part, mate, axes) or _leaving(part, mate, suggested(part, mate))


def _leaving(part: Faces, mate: Faces, directions: Sequence[Vector]) -> Vector | None:
    return next((d for d in directions if _leaves(part, mate, d)), None)


def _leaves(part: Faces, mate: Faces, direction: Vector) -> bool:
    frame = sight(direction)
    return leaves(view(part, frame), view(mate, frame))


def _turned(way: Way, moves: tuple[Move, ...]) -> Way:
    """The way in the finished piece, where these moves put both boards down."""
    if not moves:
        return way
    matrix = pose_matrix(moves)
    x, y, z = (float(c) for c in matrix[:3, :3] @ np.array(way.direction))
    contact = way.contact
    if contact is not None:
        place, start = (_put(matrix, point) for point in (contact.place, contact.start))
        contact = replace(contact, place=place, start=start)
    return Way((x, y, z), contact)


def _put(matrix: Floats, point: Vector) -> Vector:
    x, y, z = (float(c) for c in matrix[:3, :3] @ np.array(point) + matrix[:3, 3])
    return x, y, z


# ---- which pairs ---------------------------------------------------------------------------------


def pairs_that_touch(plan: CutPlan) -> tuple[tuple[int, int], ...]:
    """Pairs of boards whose blanks touch or share wood, the smaller index first."""
    return board_pairs([one.board for one in plan.boards], -thresholds.SAME)


def joined_pairs(bodies: Bodies) -> Iterator[tuple[int, int, tuple[str, ...]]]:
    """(part, mate, names of the joints) of each pair under a join, the part as written first.

    Pairs with a joint that failed are left out: a finding told why.
    """
    names: dict[tuple[int, int], list[str]] = {}
    failed: set[tuple[int, int]] = set()
    for joint in bodies.plan.joints:
        part, mate = bodies.index(joint.first.name), bodies.index(joint.second.name)
        if part is None or mate is None:
            continue
        pair = (mate, part) if (mate, part) in names else (part, mate)
        names.setdefault(pair, []).append(joint.name)
        if joint.failed:
            failed.add(pair)
    for (part, mate), joints in names.items():
        if (part, mate) not in failed:
            yield part, mate, tuple(joints)


# ---- other thicknesses ---------------------------------------------------------------------------


def still_leaves(
    drawn: Bodies, other: Bodies, part: int, mate: int, out: Sequence[Vector]
) -> Vector | None:
    """The first direction of `out` along which the part leaves its mate at another thickness.

    `drawn` and `other` are the bodies of one plan on different blanks. Wood may be pressed by
    `PRESSED`, and a part may come home short of its place by what the two blanks differ: it is
    tried from where it was drawn, and from as far out along a direction of `out`.
    """
    short = _differs(drawn, other, part) + _differs(drawn, other, mate)
    inset = thresholds.PRESSED / 2
    one, still = other.faces(part, inset=inset), other.faces(mate, inset=inset)
    starts = [np.zeros(3), *(short * np.array(direction) for direction in out)]
    for direction in out:
        frame = sight(direction)
        seen = view(still, frame)
        for start in starts if short else starts[:1]:
            moved = view(replace(one, corners=one.corners + start), frame)
            # From here the two may overlap, which only the second test sees.
            if leaves(moved, seen) and not shares_line(moved, seen):
                return direction
    return None


def _differs(drawn: Bodies, other: Bodies, index: int) -> float:
    axis = drawn.plan.boards[index].run.thick
    before, after = (bodies.plan.boards[index].board.box[axis].size for bodies in (drawn, other))
    return abs(float(after - before))
