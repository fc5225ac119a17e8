"""Does a piece come apart by straight moves at all, and if not, what holds what?

In: bodies, no two of which share wood. Out: nothing where it comes apart, else the smallest set of
boards that lock each other (none can be left out), and along each direction the shortest ring in
it: a board that meets the next, that meets the next, and the last the first.

Only whether it comes apart is asked here, so that much is told sooner than an order would be: lots
that a plane parts are looked at alone, those of one shape once, and what leaves by itself, an
assembly put down or a board, is taken away before anything is asked of whole sets.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from .blocking import Blocking, Graph, members, reverse, without_shifts
from .board import Move, Point
from .directions import axes_of, distinct, suggested
from .groups import clusters, declared
from .insertion import pairs_that_touch
from .kept import Table
from .order import Locked, parted
from .shadows import Vector
from .sliding import Contact, first_contact
from .solids import Bodies

UP: Vector = (0.0, 0.0, 1.0)

Alike: TypeAlias = tuple[tuple[int, tuple[Move, ...], Point], ...]


@dataclass(frozen=True, slots=True)
class Grip:
    """A board, by index, that meets another when it moves, and where first."""

    moving: int
    still: int
    contact: Contact


@dataclass(frozen=True, slots=True)
class Ring:
    """Along `direction` each board meets the next, and the last one the first: so they do the
    other way round, against it."""

    direction: Vector
    grips: tuple[Grip, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lock:
    """Boards, by index, that lock each other, and why, along axes first. `tried` counts the
    directions: some are told by others, where they are opposite or the same ring holds."""

    boards: tuple[int, ...]
    rings: tuple[Ring, ...]
    tried: int


def lock_of(bodies: Bodies) -> Lock | None:
    """The first lock there is; None when everything comes apart."""
    sound: Table[Alike, None] = bodies.kept.table("lots that come apart", 0)
    for lot in clusters(bodies.boxes):
        kind = _kind(bodies, lot)
        if kind in sound:
            continue
        lock = _lock(bodies, lot)
        if lock is not None:
            return lock
        sound[kind] = None
    return None


def first_tried(bodies: Bodies, boards: Sequence[int]) -> tuple[Vector, ...]:
    """Up, so that a board drops in where it can, the axes of the piece, then those of boards."""
    poses = dict.fromkeys(bodies.plan.boards[i].board.pose for i in boards)
    axes = axes_of((), *poses)
    return distinct(np.array(direction) for direction in (UP, *axes))


def then_tried(bodies: Bodies, boards: Sequence[int]) -> tuple[Vector, ...]:
    """What the faces of boards that touch suggest."""
    among = frozenset(boards)
    found: dict[Vector, None] = {}
    for i, j in pairs_that_touch(bodies.plan):
        if i in among and j in among:
            found.update(dict.fromkeys(suggested(bodies.faces(i), bodies.faces(j))))
    return distinct(np.array(d) for direction in found for d in (direction, reverse(direction)))


def _kind(bodies: Bodies, lot: Sequence[int]) -> Alike:
    """All that decides whether a lot comes apart: shapes, and how they lie to the first."""
    boards = bodies.plan.boards
    poses = [without_shifts(boards[i].board.pose) for i in lot]
    first = poses[0][1]
    return tuple(
        (bodies.kind(i), turns, (x - first[0], y - first[1], z - first[2]))
        for i, (turns, (x, y, z)) in zip(lot, poses, strict=True)
    )


def _lock(bodies: Bodies, lot: Sequence[int]) -> Lock | None:
    if len(lot) < 2:
        return None
    blocking = Blocking(bodies, lot)
    directions = first_tried(bodies, lot)
    names = [bodies.plan.boards[i].board.name for i in lot]
    for left in _left(blocking, directions, tuple(declared(names).values())):
        graphs = [blocking.graph(direction, left) for direction in directions]
        found = parted(graphs, left)
        if isinstance(found, Locked):
            stuck = [blocking.boards[node] for node in members(found.nodes)]
            more = [d for d in then_tried(bodies, stuck) if d not in directions]
            graphs += [blocking.graph(direction, left) for direction in more]
            found = parted(graphs, left)
        if isinstance(found, Locked):
            return lock_from(blocking, graphs, found.nodes)
    return None


# ---- what leaves by itself -----------------------------------------------------------------------


def _left(
    blocking: Blocking, directions: tuple[Vector, ...], assemblies: Sequence[int]
) -> Iterator[int]:
    """Sets of boards none of which, and no assembly of which, leaves by itself.

    Assemblies alike, such as the drawers of a row, are looked at once.
    """
    boards = tuple(1 << i for i in range(len(blocking.boards)))
    sound: Table[tuple[Alike, tuple[Vector, ...]], None] = blocking.bodies.kept.table(
        "sets that come apart along", 0
    )
    waiting = [blocking.everything]
    while waiting:
        left = waiting.pop()
        kind = _kind(blocking.bodies, [blocking.boards[i] for i in members(left)])
        if (kind, directions) in sound:
            continue
        held = len(waiting)
        units = [unit for unit in (*assemblies, *boards) if unit & left == unit != left]
        gone = True
        while gone:
            gone = False
            for unit in units:
                if unit & left != unit or unit == left:
                    continue
                if any(blocking.frees(unit, left & ~unit, d) for d in directions):
                    left, gone = left & ~unit, True
                    if unit.bit_count() > 1:
                        waiting.append(unit)
        if left.bit_count() > 1:
            yield left
        if len(waiting) == held:  # it came apart, and no assembly in it is still to be looked at
            sound[kind, directions] = None


# ---- what holds ----------------------------------------------------------------------------------


def least_locked(graphs: Sequence[Graph], locked: int) -> int:
    """A locked set none of whose nodes can be left out, from a locked set.

    What holds a locked set locks it, so halves may be left out at a time: Junker's QuickXplain
    ("QUICKXPLAIN: preferred explanations and relaxations for over-constrained problems", 2004).
    """

    def is_locked(nodes: int) -> bool:
        return nodes.bit_count() > 1 and isinstance(parted(graphs, nodes), Locked)

    def needed(sure: int, grew: bool, open_: tuple[int, ...]) -> int:
        """Of `open_`, what must come to `sure` for it to be locked."""
        if grew and is_locked(sure):
            return 0
        if len(open_) == 1:
            return 1 << open_[0]
        half = len(open_) // 2
        one, other = open_[:half], open_[half:]
        rest = sum(1 << node for node in one)
        second = needed(sure | rest, True, other)
        first = needed(sure | second, second != 0, one)
        return first | second

    return needed(0, False, tuple(members(locked)))


def ring(graph: Graph, among: int) -> tuple[int, ...]:
    """The shortest way from a node through the arcs back to itself; of equal ones the one from
    the lowest node. Within a locked set there always is one."""
    best: tuple[int, ...] = ()
    for start in members(among):
        found = _round(graph, among, start)
        if found and (not best or len(found) < len(best)):
            best = found
    return best


def _round(graph: Graph, among: int, start: int) -> tuple[int, ...]:
    """Breadth first, so that the way back that is found first is the shortest."""
    came_from: dict[int, int] = {}
    fresh = [start]
    while fresh:
        following = []
        for node in fresh:
            for ahead in members(graph.hits[node] & among):
                if ahead == start:
                    return _way(came_from, start, node)
                if ahead not in came_from:
                    came_from[ahead] = node
                    following.append(ahead)
        fresh = following
    return ()


def _way(came_from: dict[int, int], start: int, end: int) -> tuple[int, ...]:
    way = [end]
    while way[-1] != start:
        way.append(came_from[way[-1]])
    return tuple(reversed(way))


def lock_from(blocking: Blocking, graphs: Sequence[Graph], locked: int) -> Lock:
    """Why a set of boards, by number among the chosen ones, is locked."""
    core = least_locked(graphs, locked)
    rings: list[Ring] = []
    for graph in graphs:
        nodes = ring(graph, core)
        if not any(r.direction == reverse(graph.direction) for r in rings):
            rings.append(Ring(graph.direction, _grips(blocking, graph.direction, nodes)))
    boards = tuple(blocking.boards[node] for node in members(core))
    return Lock(boards=boards, rings=tuple(rings), tried=len(graphs))


def _grips(blocking: Blocking, direction: Vector, nodes: Sequence[int]) -> tuple[Grip, ...]:
    grips = []
    for node, following in zip(nodes, (*nodes[1:], nodes[0]), strict=True):
        contact = first_contact(blocking.view(node, direction), blocking.view(following, direction))
        if contact is not None:
            grips.append(Grip(blocking.boards[node], blocking.boards[following], contact))
    return tuple(grips)
