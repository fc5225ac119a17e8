"""In what order does a set come apart, given what blocks what along each direction?

In: graphs. Out: `parted`, a set of nodes taken apart into two again and again, or the nodes that
are locked. Source: the non-directional blocking graph, Wilson and Latombe, "Geometric reasoning
about mechanical assembly" (1994).

A set leaves along a direction when no arc leads from it to the rest; what must come along with a
node is its *closure*, all that it hits, all that these hit, and so on. Taking away what can go
never hinders what stays, so nothing is tried twice: where no closure is smaller than the whole, no
set leaves, and the nodes are locked. Sets of nodes are whole numbers, bit `i` for node `i`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from heapq import nsmallest
from typing import TypeAlias

from .blocking import Graph, members, reverse
from .shadows import Vector

Closures: TypeAlias = Mapping[int, int]
"""What comes along when a node moves, itself included."""

Travel: TypeAlias = Callable[[int, int, Vector], float]
"""How far a set goes beside another along a direction until it is clear of it."""

MOST_WEIGHED = 500
"""How many nodes of closures are looked at to find the split that parts the fewest ties. Small
closures come first; every one of a piece with some twenty-five nodes is weighed."""


FEW = 8
"""Up to so many nodes that are gone are looked at for what they hit."""


@dataclass(frozen=True, slots=True)
class Split:
    """The set `moving` leaves the set `staying` along `out`."""

    moving: int
    staying: int
    out: Vector


@dataclass(frozen=True, slots=True)
class Locked:
    """Nodes of which none, and no several, leave the others along any direction."""

    nodes: int


class _Arcs:
    """The graphs of all directions, with the arcs the other way round."""

    def __init__(self, made: Sequence[Graph]) -> None:
        self.made = tuple(made)
        known = {graph.direction: graph.hits for graph in made}
        self.back = [known.get(reverse(g.direction)) or _turned_round(g.hits) for g in made]

    def closures(self, whole: int, gone: int, before: Sequence[Closures] | None) -> list[Closures]:
        """Of each graph within `whole`; `before` are those with the nodes `gone`, if known."""
        if before is None:
            return [_closures(g.hits, back, whole, {}) for g, back in self._both()]
        return [
            self._within(graph, back, whole, gone, more)
            for (graph, back), more in zip(self._both(), before, strict=True)
        ]

    def _both(self) -> Iterator[tuple[Graph, Sequence[int]]]:
        return zip(self.made, self.back, strict=True)

    def _within(
        self, graph: Graph, back: Sequence[int], whole: int, gone: int, more: Closures
    ) -> dict[int, int]:
        """Closures that hold nodes that are gone lose just these, where none of these hits what is
        left; else they are to be found anew."""
        if gone.bit_count() <= FEW and not any(graph.hits[i] & whole for i in members(gone)):
            return {node: c & whole for node, c in more.items() if whole >> node & 1}
        kept = {node: c for node, c in more.items() if whole >> node & 1 and not c & ~whole}
        return _closures(graph.hits, back, whole, kept)


def _turned_round(hits: Sequence[int]) -> tuple[int, ...]:
    return tuple(
        sum(1 << i for i, hit in enumerate(hits) if hit >> j & 1) for j in range(len(hits))
    )


def _closures(
    hits: Sequence[int], back: Sequence[int], whole: int, known: dict[int, int]
) -> dict[int, int]:
    """The closures within `whole`, some of which are known.

    Nodes that hit each other round and round share theirs: they are found by two searches
    (Kosaraju and Sharir, 1981), and come before all that hits them.
    """
    found = dict(known)
    left = whole & ~sum(1 << node for node in known)
    rings = []
    order, todo = _finished(hits, left), left
    for node in reversed(order):
        if todo >> node & 1:
            ring = _reached(back, node, todo)
            todo &= ~ring
            rings.append(ring)
    for ring in reversed(rings):
        closure, ahead = ring, 0
        for node in members(ring):
            ahead |= hits[node]
        ahead &= whole & ~ring
        while ahead:
            closure |= found[(ahead & -ahead).bit_length() - 1]
            ahead &= ~closure
        found.update(dict.fromkeys(members(ring), closure))
    return found


def _finished(hits: Sequence[int], left: int) -> list[int]:
    """The nodes in the order in which a search in depth leaves them."""
    order = []
    while left:
        path = [left & -left]
        left ^= path[0]
        while path:
            ahead = hits[path[-1].bit_length() - 1] & left
            if ahead:
                path.append(ahead & -ahead)
                left ^= path[-1]
            else:
                order.append(path.pop().bit_length() - 1)
    return order


def _reached(hits: Sequence[int], start: int, among: int) -> int:
    """All nodes of `among` that arcs lead to from one of them, itself included."""
    reached, fresh = 0, 1 << start
    while fresh:
        reached |= fresh
        ahead = 0
        for node in members(fresh):
            ahead |= hits[node]
        fresh = ahead & among & ~reached
    return reached


@dataclass(frozen=True, slots=True, kw_only=True)
class Taste:
    """Which split is liked best. `ties` are pairs of nodes better left together, `weights` tell
    which of two sides is the lighter one, `travel` which of several directions is short."""

    ties: Sequence[tuple[int, int]] = ()
    weights: Sequence[float] = ()
    travel: Travel = lambda moving, staying, out: 0.0


def parted(made: Sequence[Graph], among: int, taste: Taste = Taste()) -> tuple[Split, ...] | Locked:
    """The splits that take a set apart into single nodes, the first to be made first.

    Of all closures the one that parts the fewest ties goes, then the smaller side, the smaller
    closure (a drawer, not all else off it), the earlier direction, the later node, so that what was
    written first goes in first. It goes along the direction that clears it soonest. The side with
    fewer nodes is the one that moves, of two alike the lighter one.
    """
    arcs = _Arcs(made)
    tied = _neighbours(taste.ties)
    splits: list[Split] = []
    waiting: list[tuple[int, int, list[Closures] | None]] = [(among, 0, None)]
    while waiting:
        whole, gone, before = waiting.pop()
        if whole.bit_count() < 2:
            continue
        closures = arcs.closures(whole, gone, before)
        ways = _ways(arcs, closures, whole)
        if not ways:
            return Locked(whole)
        moving = _fewest_ties(ways, tied, whole)
        split = _split(moving, whole & ~moving, [made[at].direction for at in ways[moving]], taste)
        splits.append(split)
        moving, staying = split.moving, split.staying
        waiting += [(moving, staying, closures), (staying, moving, closures)]
    return tuple(splits)


def _neighbours(ties: Sequence[tuple[int, int]]) -> dict[int, int]:
    found: dict[int, int] = {}
    for i, j in ties:
        found[i] = found.get(i, 0) | 1 << j
        found[j] = found.get(j, 0) | 1 << i
    return found


def _ways(arcs: _Arcs, closures: Sequence[Closures], whole: int) -> dict[int, list[int]]:
    """The sets that may go, each with the numbers of its directions."""
    found: dict[int, list[int]] = {}
    for at in range(len(arcs.made)):
        for closure in dict.fromkeys(closures[at].values()):
            if closure != whole:
                found.setdefault(closure, []).append(at)
    return found


def _fewest_ties(ways: Mapping[int, list[int]], tied: Mapping[int, int], whole: int) -> int:
    """The smallest closures first, so that the first without ties is the best of all."""
    size = whole.bit_count()

    def smallest(closure: int) -> tuple[int, int, int, int]:
        count = closure.bit_count()
        return min(count, size - count), count, ways[closure][0], -closure

    ranked = nsmallest(MOST_WEIGHED, ways, key=smallest)
    best, fewest, weighed = ranked[0], size * size, 0
    for closure in ranked:
        side = min(closure, whole & ~closure, key=int.bit_count)
        other, cut, left = whole & ~side, 0, side
        while left and cut < fewest:  # `members` here would take half of the time of a large piece
            cut += (tied.get(left.bit_length() - 1, 0) & other).bit_count()
            left ^= 1 << (left.bit_length() - 1)
            weighed += 1
        if cut < fewest:
            best, fewest = closure, cut
        if not fewest or weighed > MOST_WEIGHED:
            break
    return best


def _split(moving: int, staying: int, directions: Sequence[Vector], taste: Taste) -> Split:
    def rank(nodes: int) -> tuple[int, float]:
        weights = taste.weights
        weight = sum(weights[node] for node in members(nodes)) if weights else 0.0
        return nodes.bit_count(), weight

    if rank(moving) > rank(staying):
        moving, staying = staying, moving
        directions = [reverse(direction) for direction in directions]
    out = min(directions, key=lambda way: round(taste.travel(moving, staying, way), 1))
    return Split(moving, staying, out)
