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

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from operator import or_
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

    @staticmethod
    def _within(
        graph: Graph, back: Sequence[int], whole: int, gone: int, more: Closures
    ) -> dict[int, int]:
        """Where nothing was held through nodes that are gone alone, closures lose just these; else
        those that lost any are found anew."""
        if gone.bit_count() <= FEW and _is_led_round(graph.hits, back, whole, gone):
            return {node: more[node] & whole for node in members(whole)}
        kept = {node: c for node in members(whole) if not (c := more[node]) & ~whole}
        return _closures(graph.hits, back, whole, kept)


def _turned_round(hits: Sequence[int]) -> tuple[int, ...]:
    back = [0] * len(hits)
    for i, hit in enumerate(hits):
        for j in members(hit):
            back[j] |= 1 << i
    return tuple(back)


def _union(sets: Iterable[int]) -> int:
    return reduce(or_, sets, 0)


def _closures(
    hits: Sequence[int], back: Sequence[int], whole: int, known: dict[int, int]
) -> dict[int, int]:
    """The closures within `whole`, some of which are known, with all that they hold.

    Nodes that hit each other round and round share theirs: they are found by two searches
    (Kosaraju and Sharir, 1981), and come before all that hits them.
    """
    found = dict(known)
    left = whole & ~_union(set(known.values()))
    rings = []
    order, todo = _finished(hits, left), left
    for node in reversed(order):
        if todo >> node & 1:
            ring = _reached(back, node, todo)
            todo &= ~ring
            rings.append(ring)
    for ring in reversed(rings):
        nodes = [*members(ring)]
        closure, ahead = ring, _union(hits[node] for node in nodes) & whole & ~ring
        while ahead:
            closure |= found[(ahead & -ahead).bit_length() - 1]
            ahead &= ~closure
        for node in nodes:
            found[node] = closure
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


def _is_led_round(hits: Sequence[int], back: Sequence[int], whole: int, gone: int) -> bool:
    """Whether every node that hits some that are gone still leads to all that these hit."""
    onward = _union(hits[node] for node in members(gone)) & whole
    if not onward:
        return True
    into = _union(back[node] for node in members(gone)) & whole
    return not any(
        onward & ~hits[node] and onward & ~_reached(hits, node, whole, onward)
        for node in members(into)
    )


def _reached(hits: Sequence[int], start: int, among: int, enough: int = -1) -> int:
    """The nodes of `among` that arcs lead to from one of them, itself included: all of them, or so
    many that `enough` are among them."""
    reached, fresh = 0, 1 << start
    while fresh and enough & ~reached:
        reached |= fresh
        fresh = _union(hits[node] for node in members(fresh)) & among & ~reached
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
        ways = _ways(closures, whole)
        if not ways:
            return Locked(whole)
        moving = _fewest_ties(ways, tied, whole)
        out = [g.direction for g, c in zip(made, closures, strict=True) if moving in c.values()]
        split = _split(moving, whole & ~moving, out, taste)
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


def _ways(closures: Sequence[Closures], whole: int) -> dict[int, int]:
    """The sets that may go, each with the number of its first direction."""
    found: dict[int, int] = {}
    for at in reversed(range(len(closures))):
        found.update(dict.fromkeys(closures[at].values(), at))
    found.pop(whole, None)
    return found


def _fewest_ties(ways: Mapping[int, int], tied: Mapping[int, int], whole: int) -> int:
    """The smallest closures first, so that the first without ties is the best of all."""
    size = whole.bit_count()

    best, fewest, weighed = 0, size * size, 0
    for closure in _smallest_first(ways, size):
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


def _smallest_first(ways: Mapping[int, int], size: int) -> Iterator[int]:
    """Sorted a side's size at a time: of a large piece most are never looked at."""
    alike: dict[int, list[int]] = {}
    for closure in ways:
        count = closure.bit_count()
        alike.setdefault(min(count, size - count), []).append(closure)
    for side in sorted(alike):
        yield from sorted(alike[side], key=lambda c: (c.bit_count(), ways[c], -c))


def _split(moving: int, staying: int, directions: Sequence[Vector], taste: Taste) -> Split:
    def rank(nodes: int) -> tuple[int, float]:
        weights = taste.weights
        weight = sum(weights[node] for node in members(nodes)) if weights else 0.0
        return nodes.bit_count(), weight

    if rank(moving) > rank(staying):
        moving, staying = staying, moving
        directions = [reverse(direction) for direction in directions]
    if len(directions) == 1:
        return Split(moving, staying, directions[0])
    out = min(directions, key=lambda way: round(taste.travel(moving, staying, way), 1))
    return Split(moving, staying, out)
