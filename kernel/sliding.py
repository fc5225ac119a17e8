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
from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from .thresholds import LEAST_TOUCH

Floats: TypeAlias = NDArray[np.float64]
Indices: TypeAlias = NDArray[np.int64]
Vector: TypeAlias = tuple[float, float, float]

ROWS_TIMES_COLUMNS = 4_000_000
"""How many pairs of facets are compared at a time."""

FIRST_CHUNK, LAST_CHUNK = 256, 65_536
"""How many pairs of facets are clipped at a time, at first and at most."""


@dataclass(frozen=True, slots=True)
class Faces:
    """A body as (m, 3, 3) triangle corners, mm, counter-clockwise from outside.

    `cut` (m,) says which cut of its board made a triangle, -1 for the blank's own faces. `inset`
    is how far the body stands inside the wood it stands for, mm.
    """

    corners: Floats
    cut: Indices
    inset: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """Where a moving body first meets a still one.

    `place` lies in the middle of the first touch on the still body, which stays where it is;
    `distance` is how far the wood moves freely until then, mm. The cuts are those that made the
    touching faces, by index among their board's, -1 for a face of the blank.
    """

    place: Vector
    distance: float
    moving_cut: int
    still_cut: int


def faces(corners: ArrayLike, cut: ArrayLike | None = None, inset: float = 0.0) -> Faces:
    """Triangles of any source as a body; without `cut` all of them are the blank's own."""
    triangles = np.asarray(corners, dtype=np.float64).reshape(-1, 3, 3)
    made_by = np.full(len(triangles), -1) if cut is None else np.asarray(cut)
    return Faces(triangles, made_by.astype(np.int64), inset)


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


# ---- looking along a direction -------------------------------------------------------------------


def sight(direction: Sequence[float]) -> Floats:
    """Rows u, v, e: a right-handed frame with e along the direction.

    Along an axis of the coordinates it only exchanges axes and signs, so nothing is rounded.
    """
    e = np.asarray(direction, dtype=np.float64)
    e = e / np.linalg.norm(e)
    axis = int(np.argmax(np.abs(e)))
    if np.count_nonzero(e) == 1:
        u, v = np.eye(3)[(axis + 1) % 3], np.eye(3)[(axis + 2) % 3]
        return np.stack((u, v, e) if e[axis] > 0 else (v, u, e))
    u = np.cross(np.eye(3)[int(np.argmin(np.abs(e)))], e)
    u /= np.linalg.norm(u)
    return np.stack((u, np.cross(e, u), e))


@dataclass(frozen=True, slots=True)
class Layer:
    """Facets of one facing in the picture, wound counter-clockwise: `flat` (m, 3, 2), `height`
    (m, 3), the boxes round them, and `source`, their numbers among the body's triangles."""

    flat: Floats
    height: Floats
    low: Floats
    high: Floats
    nearest: Floats
    farthest: Floats
    source: Indices

    def __getitem__(self, rows: NDArray[np.bool_]) -> Layer:
        return Layer(
            self.flat[rows],
            self.height[rows],
            self.low[rows],
            self.high[rows],
            self.nearest[rows],
            self.farthest[rows],
            self.source[rows],
        )

    def __len__(self) -> int:
        return len(self.source)


@dataclass(frozen=True, slots=True)
class View:
    """A body looked at along a direction: the facets facing along it, and those facing back."""

    body: Faces
    frame: Floats
    forward: Layer
    back: Layer


def view(body: Faces, frame: Floats) -> View:
    """The body in the picture of `frame` (see `sight`); a caller may keep it for many pairs."""
    seen = body.corners @ frame.T
    if np.count_nonzero(frame) == 3:  # axes exchanged: take the numbers themselves
        columns = np.argmax(np.abs(frame), axis=1)
        seen = body.corners[:, :, columns] * frame[range(3), columns]
    flat, height = seen[:, :, :2], seen[:, :, 2]
    area, round_ = _area_and_perimeter(flat)
    wide = _wide(np.abs(area), round_)
    return View(
        body,
        frame,
        _layer(flat, height, _largest_first(area, wide & (area > 0))),
        _layer(flat[:, ::-1], height[:, ::-1], _largest_first(-area, wide & (area < 0))),
    )


def _largest_first(area: Floats, chosen: NDArray[np.bool_]) -> Indices:
    """Large facets are the likeliest to prove a contact."""
    rows = np.flatnonzero(chosen)
    return rows[np.argsort(-area[rows], kind="stable")]


def _wide(area: Floats, perimeter: Floats) -> NDArray[np.bool_]:
    """Which facets to keep: the narrowest go, together no more than a quarter of the least touch
    wide. Walls along the direction are among them."""
    width = _width(area, perimeter)
    order = np.argsort(width, kind="stable")
    keep = np.ones(len(width), dtype=bool)
    keep[order[np.cumsum(width[order]) <= LEAST_TOUCH / 4]] = False
    return keep


def _width(area: Floats, perimeter: Floats) -> Floats:
    """No convex piece is wider than this: width <= 3 inradius <= 6 area / perimeter."""
    width: Floats = np.divide(6 * area, perimeter, out=np.zeros_like(area), where=perimeter > 0)
    return width


def _area_and_perimeter(flat: Floats) -> tuple[Floats, Floats]:
    """Signed areas and perimeters of (m, n, 2) polygons."""
    start = flat - flat[:, :1]  # near its own corner, so that far coordinates cost no digits
    end = np.roll(start, -1, axis=1)
    area = (start[:, :, 0] * end[:, :, 1] - start[:, :, 1] * end[:, :, 0]).sum(axis=1) / 2
    step = end - start
    return area, np.hypot(step[:, :, 0], step[:, :, 1]).sum(axis=1)


def _layer(flat: Floats, height: Floats, rows: Indices) -> Layer:
    flat, height = flat[rows], height[rows]
    return Layer(
        flat,
        height,
        flat.min(axis=1),
        flat.max(axis=1),
        height.min(axis=1),
        height.max(axis=1),
        rows,
    )


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
        for chosen in _growing(len(rows)):
            pieces = _pieces(behind, ahead, rows[chosen], columns[chosen])
            over = pieces.gap.max(axis=1, initial=-inf) >= -LEAST_TOUCH
            if (over & pieces.is_proof).any():
                return True
            left_over += float(pieces.width[over].sum())
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
        for run in _growing(len(order)):
            chosen = order[run]
            if least[chosen[0]] >= best.gap:
                break
            chosen = chosen[least[chosen] < best.gap]
            best.take(_pieces(front, ahead, rows[chosen], columns[chosen]))
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


def _reaches(one: Layer, other: Layer) -> NDArray[np.bool_]:
    low, high = other.low.min(axis=0), other.high.max(axis=0)
    reaches: NDArray[np.bool_] = ((one.low < high) & (one.high > low)).all(axis=1)
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


def _growing(count: int) -> Iterator[slice]:
    """Runs that grow: most answers lie in the first."""
    start, size = 0, FIRST_CHUNK
    while start < count:
        yield slice(start, start + size)
        start, size = start + size, min(4 * size, LAST_CHUNK)


# ---- pieces of overlap ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Pieces:
    """Overlaps of pairs of facets: `flat` (k, n, 2) polygons, short ones with their last corner
    again; `gap` (k, n) the height of the second facet over the first at each corner; `width` a
    bound on the piece's width."""

    rows: Indices
    columns: Indices
    flat: Floats
    gap: Floats
    width: Floats

    @property
    def is_proof(self) -> NDArray[np.bool_]:
        """Wide enough to be contact by itself."""
        return self.width > 6 * LEAST_TOUCH / 2

    def __getitem__(self, rows: NDArray[np.bool_]) -> _Pieces:
        return _Pieces(
            self.rows[rows], self.columns[rows], self.flat[rows], self.gap[rows], self.width[rows]
        )


def _pieces(one: Layer, other: Layer, rows: Indices, columns: Indices) -> _Pieces:
    """What each pair of facets shares in the picture, where that has any area."""
    flat = _clipped(one.flat[rows], other.flat[columns])
    area, round_ = _area_and_perimeter(flat)
    width = _width(np.maximum(area, 0.0), round_)
    some = width > 0.0
    rows, columns, flat, width = rows[some], columns[some], flat[some], width[some]
    gap = _height(other, columns, flat) - _height(one, rows, flat)
    return _Pieces(rows, columns, flat, gap, width)


def _clipped(polygon: Floats, triangle: Floats) -> Floats:
    """Each (k, n, 2) convex polygon within its triangle: half-plane by half-plane, all at once."""
    for corner in range(3):
        if not len(polygon):
            break
        start, end = triangle[:, corner, None], triangle[:, (corner + 1) % 3, None]
        along, from_start = end - start, polygon - start
        inside = along[:, :, 0] * from_start[:, :, 1] - along[:, :, 1] * from_start[:, :, 0]
        polygon = _half(polygon, inside)
    return polygon


def _half(polygon: Floats, inside: Floats) -> Floats:
    """The parts of convex polygons where `inside`, given at their corners, is not negative."""
    following, inside_next = np.roll(polygon, -1, axis=1), np.roll(inside, -1, axis=1)
    is_in, crosses = inside >= 0, (inside >= 0) != (inside_next >= 0)
    share = np.divide(inside, inside - inside_next, out=np.zeros_like(inside), where=crosses)
    met = polygon + share[:, :, None] * (following - polygon)
    count, corners = inside.shape
    points = np.stack((polygon, met), axis=2).reshape(count, 2 * corners, 2)
    kept = np.stack((is_in, crosses), axis=2).reshape(count, 2 * corners)
    number = kept.sum(axis=1)
    order = np.argsort(~kept, axis=1, kind="stable")[:, : max(1, int(number.max()))]
    # Behind the last corner it is repeated; of a polygon that is gone one point is left.
    order = np.take_along_axis(
        order,
        np.minimum(np.arange(order.shape[1])[None, :], np.maximum(number - 1, 0)[:, None]),
        axis=1,
    )
    half: Floats = np.take_along_axis(points, order[:, :, None], axis=1)
    return half


def _height(layer: Layer, rows: Indices, flat: Floats) -> Floats:
    """The height of each facet over the points (k, n, 2) in the picture."""
    corner, top = layer.flat[rows], layer.height[rows]
    one, other = corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]
    area = one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]
    rise_one, rise_other = top[:, 1] - top[:, 0], top[:, 2] - top[:, 0]
    slope_u = (rise_one * other[:, 1] - rise_other * one[:, 1]) / area
    slope_v = (rise_other * one[:, 0] - rise_one * other[:, 0]) / area
    off = flat - corner[:, :1]
    height = top[:, :1] + slope_u[:, None] * off[:, :, 0] + slope_v[:, None] * off[:, :, 1]
    # Steep facets multiply the rounding of a point; none leaves its own facet's heights.
    kept: Floats = np.clip(height, layer.nearest[rows, None], layer.farthest[rows, None])
    return kept


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

    def take(self, pieces: _Pieces) -> None:
        """Pieces behind the moving facet are none of its business."""
        ahead = pieces[pieces.gap.max(axis=1) >= -LEAST_TOUCH]
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


def _found(pieces: _Pieces, at: int, gap: float) -> _Found:
    touching = pieces.gap[at] <= max(gap, float(pieces.gap[at].min())) + LEAST_TOUCH
    return _Found(gap, int(pieces.rows[at]), int(pieces.columns[at]), pieces.flat[at][touching])


def _contact(moving: View, still: View, front: Layer, ahead: Layer, found: _Found) -> Contact:
    column = np.array([found.column])
    middle = (found.flat.min(axis=0) + found.flat.max(axis=0)) / 2
    height = _height(ahead, column, middle[None, None])[0, 0]
    x, y, z = np.array([middle[0], middle[1], height]) @ still.frame
    source, target = int(front.source[found.row]), int(ahead.source[found.column])
    skin = _skin(moving, source) + _skin(still, target)
    return Contact(
        place=(float(x), float(y), float(z)),
        distance=max(0.0, found.gap - skin),
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
