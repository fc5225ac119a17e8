"""Does one body, moved straight along a direction, run into another, and where first?

In: two bodies as plain triangles, a direction. Out: the first contact, or that there is none. No
swept solid is made. Both bodies are looked at along the direction: every facet lies in the picture
as a triangle with a height, faces forward (along the direction) or back. A line of sight leaves a
body through a forward facet and enters one through a facet facing back, so the moving body runs
into the other exactly where a forward facet of the first and a back facet of the second overlap in
the picture with the second ahead; the least such height difference is the free travel. Walls
parallel to the direction have no width in the picture: sliding contact is silent.

Two bodies must not share wood where they start. On eroded twins (`Faces.inset` above 0), whose
faces stand apart where the wood touches, the answer is exact up to the inset: contact that takes
less than twice the inset of wood is none.

What is too narrow to count: a piece of overlap is proof of contact when its area is more than
`LEAST_TOUCH / 2` of its perimeter. Narrower pieces are left over, and they are harmless together
when their widths add up to less than `LEAST_TOUCH`: a disc covered by planks is no wider than all
of them together (Bang's theorem, 1951). Otherwise they count as contact, so `None` is no guess.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf

import numpy as np

from .shadows import (
    ROWS_TIMES_COLUMNS,
    Booleans,
    Faces,
    Floats,
    Indices,
    Layer,
    Pieces,
    Vector,
    View,
    growing,
    height_over,
    pieces,
    sight,
    vector,
    view,
)
from .thresholds import LEAST_TOUCH

FIRST_RUN = 256
"""How many pairs of facets are clipped at first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """Where a moving body first meets a still one.

    `place` lies in the middle of the first touch on the still body, which stays where it is;
    `start` is the point of the moving one, before it moves, that comes there; `distance` is how far
    the wood moves freely until then, mm. The cuts are those that made the
    touching faces, by index among their board's, -1 for a face of the blank.
    """

    place: Vector
    start: Vector
    distance: float
    moving_cut: int
    still_cut: int


def blocked(
    moving: Faces, still: Faces, direction: Sequence[float], travel: float = inf
) -> Contact | None:
    """The first contact of `moving` on its way along `direction` for `travel` mm, if any."""
    frame = sight(direction)
    return first_contact(view(moving, frame), view(still, frame), travel)


def free_travel(moving: Faces, still: Faces, direction: Sequence[float]) -> float:
    """How far `moving` goes along `direction` before it touches, mm; infinite without contact."""
    contact = blocked(moving, still, direction)
    return inf if contact is None else contact.distance


# ---- two bodies ----------------------------------------------------------------------------------


def leaves(moving: View, still: View) -> bool:
    """Whether `moving` goes off without ever touching: `first_contact` is None, told sooner."""
    return not _any_overlap(*_facing_each_other(moving.forward, still.back))


def shares_line(moving: View, still: View) -> bool:
    """Whether `moving` would touch on its way, or shares wood with `still` where it starts.

    It pairs the far sides, back facets of the moving body and forward ones of the other, and so
    holds for bodies that overlap too, but takes longer where the answer is no.
    """
    return _any_overlap(*_facing_each_other(moving.back, still.forward))


def _any_overlap(behind: Layer, ahead: Layer) -> bool:
    """Whether a facet of the first layer has one of the second above it."""
    left_over = 0.0
    for rows, columns in _pairs(behind, ahead):
        for chosen in growing(len(rows), FIRST_RUN):
            found = pieces(behind, ahead, rows[chosen], columns[chosen])
            over = found.is_ahead
            if (over & found.is_proof).any():
                return True
            left_over += float(found.width[over].sum())
            if left_over > LEAST_TOUCH / 2:
                return True
    return False


def first_contact(moving: View, still: View, travel: float = inf) -> Contact | None:
    """The first contact on the way along the views' direction, if it comes within `travel` mm."""
    front, ahead = _facing_each_other(moving.forward, still.back)
    best = _Best(travel)
    for rows, columns in _pairs(front, ahead, travel):
        least = np.maximum(ahead.nearest[columns] - front.farthest[rows], 0.0)
        order = np.argsort(least, kind="stable")
        for run in growing(len(order), FIRST_RUN):
            chosen = order[run]
            if least[chosen[0]] >= best.gap:
                break
            chosen = chosen[least[chosen] < best.gap]
            best.take(pieces(front, ahead, rows[chosen], columns[chosen]))
    found = best.found()
    return None if found is None else _contact(moving, still, front, ahead, found)


def _facing_each_other(one: Layer, other: Layer) -> tuple[Layer, Layer]:
    """Those facets of two layers that can overlap in the picture with the second one ahead."""
    for _ in range(2):
        if not len(one) or not len(other):
            break
        one = one[_reaches(one, other) & (one.nearest <= other.farthest.max() + LEAST_TOUCH)]
        if len(one):
            other = other[
                _reaches(other, one) & (other.farthest >= one.nearest.min() - LEAST_TOUCH)
            ]
    return one, other


def _reaches(one: Layer, other: Layer) -> Booleans:
    low, high = other.low.min(axis=0), other.high.max(axis=0)
    reaches: Booleans = ((one.low < high) & (one.high > low)).all(axis=1)
    return reaches


def _pairs(one: Layer, other: Layer, travel: float = inf) -> Iterator[tuple[Indices, Indices]]:
    """Pairs of facets whose boxes overlap, the second ahead by less than `travel` somewhere."""
    if not len(one) or not len(other):
        return
    step = max(1, ROWS_TIMES_COLUMNS // len(other))
    for start in range(0, len(one), step):
        part = slice(start, start + step)
        meet = other.farthest[None, :] >= one.nearest[part, None] - LEAST_TOUCH
        if travel < inf:
            meet &= other.nearest[None, :] - one.farthest[part, None] < travel
        for axis in (0, 1):
            meet &= one.low[part, None, axis] < other.high[None, :, axis]
            meet &= one.high[part, None, axis] > other.low[None, :, axis]
        rows, columns = np.nonzero(meet)
        if len(rows):
            yield rows + start, columns


@dataclass(frozen=True, slots=True)
class _Found:
    """One piece of overlap: its facets and the (n, 2) corners where it is touched first."""

    gap: float
    row: int
    column: int
    flat: Floats


class _Best:
    """The nearest contact so far, and what was too narrow to be one."""

    def __init__(self, travel: float) -> None:
        self.gap = travel
        self._best: _Found | None = None
        self._narrow: list[tuple[_Found, float]] = []

    def take(self, found: Pieces) -> None:
        """Pieces behind the moving facet are none of its business."""
        ahead = found[found.is_ahead]
        least = np.maximum(ahead.gap.min(axis=1), 0.0)
        nearest = np.where(ahead.is_proof, least, inf)
        if len(nearest) and (at := int(np.argmin(nearest))) >= 0 and nearest[at] < self.gap:
            self._best, self.gap = _found(ahead, at, float(nearest[at])), float(nearest[at])
        for narrow in np.flatnonzero(~ahead.is_proof & (least < self.gap)).tolist():
            self._narrow.append(
                (_found(ahead, narrow, float(least[narrow])), float(ahead.width[narrow]))
            )

    def found(self) -> _Found | None:
        """The first contact; narrow pieces before it count when together they are wide."""
        before = sorted(
            (n for n in self._narrow if n[0].gap < self.gap), key=lambda n: (n[0].gap, n[0].row)
        )
        if sum(width for _, width in before) > LEAST_TOUCH / 2:
            return before[0][0]
        return self._best


def _found(some: Pieces, at: int, gap: float) -> _Found:
    touching = some.gap[at] <= max(gap, float(some.gap[at].min())) + LEAST_TOUCH
    return _Found(gap, int(some.rows[at]), int(some.columns[at]), some.flat[at][touching])


def _contact(moving: View, still: View, front: Layer, ahead: Layer, found: _Found) -> Contact:
    column = np.array([found.column])
    middle = (found.flat.min(axis=0) + found.flat.max(axis=0)) / 2
    height = height_over(ahead, column, middle[None, None])[0, 0]
    source, target = int(front.source[found.row]), int(ahead.source[found.column])
    distance = max(0.0, found.gap - _skin(moving, source) - _skin(still, target))
    flat = float(middle[0]), float(middle[1])
    start, place = np.array([[*flat, height - distance], [*flat, height]]) @ still.frame
    return Contact(
        place=vector(place),
        start=vector(start),
        distance=distance,
        moving_cut=int(moving.body.cut[source]),
        still_cut=int(still.body.cut[target]),
    )


def _skin(seen: View, triangle: int) -> float:
    """How much farther along the direction the wood reaches than the inset facet, mm."""
    if seen.body.inset == 0.0:
        return 0.0
    a, b, c = seen.body.corners[triangle]
    normal = np.cross(b - a, c - a)
    share = abs(float(normal @ seen.frame[2])) / float(np.linalg.norm(normal))
    return seen.body.inset / share
