"""How does a body look along a direction, and what do facets of two bodies share in that picture?

In: a body as plain triangles. Out: its `View`, the facets that face along the direction and those
that face back, each a flat triangle with a height; and `Pieces`, where facets of two layers lie
over each other, with the height between them. Plain arrays throughout, all pairs at once.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from .thresholds import LEAST_TOUCH

Floats: TypeAlias = NDArray[np.float64]
Indices: TypeAlias = NDArray[np.int64]
Booleans: TypeAlias = NDArray[np.bool_]
Vector: TypeAlias = tuple[float, float, float]

ROWS_TIMES_COLUMNS = 4_000_000
"""How many pairs of facets are compared at a time."""

LAST_RUN = 16_384
"""How many pairs are worked out at a time at most; see `growing`."""


@dataclass(frozen=True, slots=True)
class Faces:
    """A body as (m, 3, 3) triangle corners, mm, counter-clockwise from outside.

    `cut` (m,) says which cut of its board made a triangle, -1 for the blank's own faces. `inset`
    is how far the body stands inside the wood it stands for, mm.
    """

    corners: Floats
    cut: Indices
    inset: float = 0.0


def faces(corners: ArrayLike, cut: ArrayLike | None = None, inset: float = 0.0) -> Faces:
    """Triangles of any source as a body; without `cut` all of them are the blank's own."""
    triangles = np.asarray(corners, dtype=np.float64).reshape(-1, 3, 3)
    made_by = np.full(len(triangles), -1) if cut is None else np.asarray(cut)
    return Faces(triangles, made_by.astype(np.int64), inset)


def vector(point: Floats) -> Vector:
    """Three coordinates out of an array."""
    x, y, z = (float(c) for c in point)
    return x, y, z


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

    def __getitem__(self, rows: Booleans) -> Layer:
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
    if np.count_nonzero(frame) == 3:  # axes exchanged: take the numbers themselves
        columns = np.argmax(np.abs(frame), axis=1)
        seen = body.corners[:, :, columns] * frame[range(3), columns]
    else:
        seen = (body.corners.reshape(-1, 3) @ frame.T).reshape(-1, 3, 3)
    flat, height = seen[:, :, :2], seen[:, :, 2]
    one, other = flat[:, 1] - flat[:, 0], flat[:, 2] - flat[:, 0]
    area = (one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]) / 2
    rows = _wide(area, flat)
    # Large facets come first: they are the likeliest to prove a contact.
    rows = rows[np.argsort(-np.abs(area[rows]), kind="stable")]
    return View(
        body,
        frame,
        layer(flat, height, rows[area[rows] > 0]),
        layer(flat[:, ::-1], height[:, ::-1], rows[area[rows] < 0]),
    )


def _wide(area: Floats, flat: Floats) -> Indices:
    """The facets to keep: those left out are together no wider than a quarter of the least touch.
    Walls along the direction are among them."""
    rows = np.flatnonzero(area)
    side = _following(flat[rows]) - flat[rows]
    long = np.sqrt(side[:, :, 0] ** 2 + side[:, :, 1] ** 2)
    width = _width(np.abs(area[rows]), long[:, 0] + long[:, 1] + long[:, 2])
    wide: Indices = rows[width > LEAST_TOUCH / 4 / max(1, len(rows))]
    return wide


def _width(area: Floats, perimeter: Floats) -> Floats:
    """No convex piece is wider than this: width <= 3 inradius <= 6 area / perimeter."""
    width: Floats = np.divide(6 * area, perimeter, out=np.zeros_like(area), where=perimeter > 0)
    return width


def _following(corners: Floats) -> Floats:
    """What is given at each corner (m, n, ...), of the next one round (soon: not `roll`)."""
    return np.concatenate((corners[:, 1:], corners[:, :1]), axis=1)


def _area_and_perimeter(flat: Floats) -> tuple[Floats, Floats]:
    """Signed areas and perimeters of (m, n, 2) polygons."""
    start = flat - flat[:, :1]  # near its own corner, so that far coordinates cost no digits
    end = _following(start)
    area = (start[:, :, 0] * end[:, :, 1] - start[:, :, 1] * end[:, :, 0]).sum(axis=1) / 2
    step = end - start
    return area, np.hypot(step[:, :, 0], step[:, :, 1]).sum(axis=1)


def layer(flat: Floats, height: Floats, rows: Indices) -> Layer:
    """Facets by row: corners (n, 3, 2) in a picture and heights (n, 3) of all are given."""
    flat, height = flat[rows], height[rows]
    return Layer(
        flat,
        height,
        _of_three(np.minimum, flat),
        _of_three(np.maximum, flat),
        _of_three(np.minimum, height),
        _of_three(np.maximum, height),
        rows,
    )


def _of_three(better: np.ufunc, corners: Floats) -> Floats:
    """The least or greatest over each facet's corners, (n, 3, ...) to (n, ...): numpy takes eight
    times as long to reduce so short an axis."""
    best: Floats = better(better(corners[:, 0], corners[:, 1]), corners[:, 2])
    return best


# ---- pairs of facets -----------------------------------------------------------------------------


def growing(count: int, first: int) -> Iterator[slice]:
    """Runs of so many pairs, four times as long each: most answers lie in the first."""
    start, size = 0, first
    while start < count:
        yield slice(start, min(count, start + size))
        start, size = start + size, min(4 * size, LAST_RUN)


# ---- pieces of overlap ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Pieces:
    """Overlaps of pairs of facets: `flat` (k, n, 2) polygons, short ones with their last corner
    again; `gap` (k, n) the height of the second facet over the first at each corner; `width` a
    bound on the piece's width."""

    rows: Indices
    columns: Indices
    flat: Floats
    gap: Floats
    width: Floats

    @property
    def is_proof(self) -> Booleans:
        """Wide enough to be contact by itself."""
        return self.width > 6 * LEAST_TOUCH / 2

    @property
    def is_ahead(self) -> Booleans:
        """Where the second facet is over the first one. Of bodies that share no wood it is so all
        over a piece or nowhere, but both may begin at one edge where they touch."""
        ahead: Booleans = self.gap.max(axis=1) + self.gap.min(axis=1) >= -LEAST_TOUCH
        return ahead

    def __getitem__(self, rows: Booleans) -> Pieces:
        return Pieces(
            self.rows[rows], self.columns[rows], self.flat[rows], self.gap[rows], self.width[rows]
        )


def pieces(one: Layer, other: Layer, rows: Indices, columns: Indices) -> Pieces:
    """What each pair of facets shares in the picture, where that has any area."""
    flat = _clipped(one.flat[rows], other.flat[columns])
    area, round_ = _area_and_perimeter(flat)
    width = _width(np.maximum(area, 0.0), round_)
    some = width > 0.0
    rows, columns, flat, width = rows[some], columns[some], flat[some], width[some]
    gap = height_over(other, columns, flat) - height_over(one, rows, flat)
    return Pieces(rows, columns, flat, gap, width)


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
    following, inside_next = _following(polygon), _following(inside)
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


def height_over(layer: Layer, rows: Indices, flat: Floats) -> Floats:
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
