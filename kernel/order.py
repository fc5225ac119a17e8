"""Which boards of a piece can leave which others, and so in what order does it come apart?

In: bodies. Out: for each direction a graph with an arc from a board to each that it would hit, and
`parted`, a set of boards taken apart into two again and again. Source: the non-directional blocking
graph, Wilson and Latombe, "Geometric reasoning about mechanical assembly" (1994).

A set leaves along a direction when no arc leads from it to the rest. Taking away what can go never
hinders what stays, so nothing is tried twice: where no proper set leaves, the boards are locked.
Sets of boards are whole numbers, bit `i` for board `i`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from .directions import axes_of, distinct, suggested
from .insertion import Insertions, joined_pairs
from .shadows import Vector, sight, view
from .sliding import leaves
from .solids import Bodies
from .thresholds import LEAST_TOUCH


@dataclass(frozen=True, slots=True)
class Graph:
    """Along `direction`, of length 1, node `i` would hit every node of the set `hits[i]`."""

    direction: Vector
    hits: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Split:
    """The set `moving` leaves the set `staying` along `out`."""

    moving: int
    staying: int
    out: Vector


@dataclass(frozen=True, slots=True)
class Locked:
    """Boards of which none, and no several, leave the others along any direction."""

    boards: int


def members(boards: int) -> Iterator[int]:
    """The numbers in a set, ascending."""
    while boards:
        least = boards & -boards
        yield least.bit_length() - 1
        boards ^= least


def graphs(bodies: Bodies) -> tuple[Graph, ...]:
    """A graph for each direction worth trying; of two opposite ones, one is the other reversed."""
    made: list[Graph] = []
    for direction in _directions(bodies):
        back = next((g for g in made if np.allclose(g.direction, -np.array(direction))), None)
        hits = _hits(bodies, direction) if back is None else _reversed(back.hits)
        made.append(Graph(direction, hits))
    return tuple(made)


def _directions(bodies: Bodies) -> tuple[Vector, ...]:
    """Up first, the axes of the boards, then what faces of pairs that leave along none suggest."""
    boards = bodies.plan.boards
    axes = axes_of(*dict.fromkeys(one.board.pose for one in boards))
    wanted = [np.array((0.0, 0.0, 1.0)), *(np.array(axis) for axis in axes)]
    found = Insertions(bodies)
    for part, mate, _ in joined_pairs(bodies):
        if found.leaves(part, mate) in axes:
            continue
        wanted += [np.array(d) for d in suggested(bodies.faces(part), bodies.faces(mate))]
    return distinct(wanted)


def _hits(bodies: Bodies, direction: Vector) -> tuple[int, ...]:
    """Boxes in the picture decide first; facets only where they overlap with the other ahead."""
    frame = sight(direction)
    views = [view(bodies.faces(i), frame) for i in range(len(bodies.plan.boards))]
    seen = [one.body.corners.reshape(-1, 3) @ frame.T for one in views]
    low = np.array([points.min(axis=0) for points in seen])
    high = np.array([points.max(axis=0) for points in seen])
    found = []
    for i, moving in enumerate(views):
        near = ((low[i, :2] < high[:, :2]) & (high[i, :2] > low[:, :2])).all(axis=1)
        near &= high[:, 2] >= low[i, 2] - LEAST_TOUCH
        near[i] = False
        hit = (j for j in np.flatnonzero(near).tolist() if not leaves(moving, views[j]))
        found.append(sum(1 << j for j in hit))
    return tuple(found)


def _reversed(hits: Sequence[int]) -> tuple[int, ...]:
    return tuple(
        sum(1 << i for i, hit in enumerate(hits) if hit >> j & 1) for j in range(len(hits))
    )


def closure(graph: Graph, start: int, among: int) -> int:
    """What must come along when node `start` moves, of the set `among`: all it hits, and so on."""
    reached, fresh = 0, 1 << start
    while fresh:
        reached |= fresh
        ahead = 0
        for node in members(fresh):
            ahead |= graph.hits[node]
        fresh = ahead & among & ~reached
    return reached


def parted(
    made: Sequence[Graph], ties: Sequence[tuple[int, int]], among: int
) -> tuple[Split, ...] | Locked:
    """The splits that take a set apart into single nodes, the first to be made first.

    Of all closures the one that parts the fewest `ties` (joined pairs) goes, then the smaller side,
    the smaller closure (a drawer, not all else off it), the earlier direction, the lower node.
    """
    splits: list[Split] = []
    waiting = [among]
    while waiting:
        whole = waiting.pop()
        if whole.bit_count() < 2:
            continue
        split = _best(made, ties, whole)
        if split is None:
            return Locked(_least_locked(made, ties, whole))
        splits.append(split)
        waiting += [split.moving, split.staying]
    return tuple(splits)


def _best(made: Sequence[Graph], ties: Sequence[tuple[int, int]], whole: int) -> Split | None:
    found: dict[int, Vector] = {}
    for graph in made:
        for node in members(whole):
            moving = closure(graph, node, whole)
            if moving != whole:
                found.setdefault(moving, graph.direction)
    if not found:
        return None
    inside = [(i, j) for i, j in ties if whole >> i & whole >> j & 1]

    def cost(moving: int) -> tuple[int, int, int]:
        cut = sum((moving >> i ^ moving >> j) & 1 for i, j in inside)
        count = moving.bit_count()
        return cut, min(count, whole.bit_count() - count), count

    moving = min(found, key=cost)
    staying, (x, y, z) = whole & ~moving, found[moving]
    if moving.bit_count() <= staying.bit_count():
        return Split(moving, staying, (x, y, z))
    return Split(staying, moving, (-x + 0.0, -y + 0.0, -z + 0.0))


def _least_locked(made: Sequence[Graph], ties: Sequence[tuple[int, int]], whole: int) -> int:
    """The locked set without every board that it stays locked without."""
    for node in members(whole):
        fewer = whole & ~(1 << node)
        if fewer.bit_count() > 1 and isinstance(rest := parted(made, ties, fewer), Locked):
            return rest.boards
    return whole
