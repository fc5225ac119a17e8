"""What solid does a board's blank become once its cuts are made?

In: a `BoardPlan`. Out: the true body (blank minus cuts) or its eroded twin, as solids in the
board's own coordinates; `in_world` puts one down by the board's pose. This module alone touches
the solid library in 3D, and it checks a solid's status before every measure.

The twin answers "do these boards overlap?" without coincident faces: the blank is inset by `h` on
every side, every cut region grown by `h` and every floor lowered by `h`. A face of one twin then
never lies in a face of another, and two twins meet exactly when wood overlaps deeper than `2h`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TypeAlias

import manifold3d
import numpy as np
from numpy.typing import NDArray

from . import thresholds
from .board import Axis, Board, Box, Move
from .broad import Boxes, world_boxes
from .cuts import Cut, Side
from .faults import InternalError
from .frames import pose_matrix, without_shared_end
from .kept import Kept, Table
from .plan import BoardPlan, CutPlan
from .planar import grown_polygons, polygons
from .region import Region
from .ruled import ruled_polygons
from .shadows import Faces

Points: TypeAlias = NDArray[np.float64]
Indices: TypeAlias = NDArray[np.int64]
Solid: TypeAlias = manifold3d.Manifold
Bounds: TypeAlias = tuple[tuple[float, float, float], tuple[float, float, float]]


@dataclass(frozen=True, slots=True)
class Body:
    """A solid in the board's own coordinates, mm, and where its faces come from.

    `ids` are the library's numbers for the blank and then each cut of `plan`, in order. They come
    from a counter of the process and must never be written out: `Facets.cut` translates them.
    """

    plan: BoardPlan
    solid: Solid
    ids: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Facets:
    """Plain arrays of a body: `points` (n, 3) float mm, `triangles` (m, 3) indices counter-
    clockwise from outside, `cut` (m,) the index in the plan's cuts each triangle was made by,
    -1 for the blank's own faces."""

    points: Points
    triangles: Indices
    cut: Indices

    @property
    def corners(self) -> Points:
        """(m, 3, 3): the three corners of each triangle."""
        return self.points[self.triangles]


def true_body(plan: BoardPlan, chord: float = thresholds.CHECK_CHORD) -> Body:
    """The blank minus its cuts; arcs are replaced by chords at most `chord` mm off them."""
    return _body(plan, 0.0, chord)


def twin(
    plan: BoardPlan,
    inset: float = thresholds.TWIN_INSET,
    chord: float = thresholds.CHECK_CHORD,
) -> Body:
    """The body eroded by `inset` mm; see the module's own words."""
    return _body(plan, inset, chord)


def _body(plan: BoardPlan, inset: float, chord: float) -> Body:
    """One boolean a board, cuts in the plan's order: measuring in between would change the order
    of vertices, and with it the bytes of every exported mesh."""
    first = manifold3d.Manifold.reserve_ids(len(plan.cuts) + 1)
    ids = tuple(range(first, first + len(plan.cuts) + 1))
    blank = _blank(plan.board, inset, ids[0])
    tools = [_tool(plan.board, cut, inset, chord, ids[i + 1]) for i, cut in enumerate(plan.cuts)]
    parts = [blank, *(tool for tool in tools if tool is not None)]
    solid = manifold3d.Manifold.batch_boolean(parts, manifold3d.OpType.Subtract)
    return Body(plan, solid, ids)


def _blank(board: Board, inset: float, original: int) -> Solid:
    # A board thinner than two insets, such as a veneer, keeps half of itself.
    insets = [min(inset, float(board.box[a].size) / 4) for a in Axis]
    lo = [float(board.box[a].lo) + insets[a] for a in Axis]
    hi = [float(board.box[a].hi) - insets[a] for a in Axis]
    outline = np.array([(lo[0], lo[1]), (hi[0], lo[1]), (hi[0], hi[1]), (lo[0], hi[1])])
    return _prism([outline], Axis.Z, lo[2], hi[2], original)


def _tool(board: Board, cut: Cut, inset: float, chord: float, original: int) -> Solid | None:
    """What the cut removes, None when its region is empty."""
    if cut.region.is_empty:
        return None
    if cut.floor is not None and cut.depth is not None:
        return _ruled(board, cut, cut.floor, (inset, chord, original))
    loops = grown_polygons(cut.region, inset, chord) if inset else polygons(cut.region, chord)
    lo, hi = depth_range(board, cut, inset)
    return _prism(loops, cut.side.axis, lo, hi, original)


def depth_range(board: Board, cut: Cut, deeper: float = 0.0) -> tuple[float, float]:
    """The run of the side's axis that a cut clears, mm, going on past the blank by the overshoot
    where it leaves it. A floor that reaches the far face goes through."""
    span = board.box[cut.side.axis]
    lo, hi = float(span.lo), float(span.hi)
    outside = thresholds.OVERSHOOT
    if cut.depth is None or cut.depth >= hi - lo - thresholds.SAME:
        return lo - outside, hi + outside
    if cut.side.positive:
        return hi - cut.depth - deeper, hi + outside
    return lo - outside, lo + cut.depth + deeper


def _ruled(board: Board, cut: Cut, floor: Region, how: tuple[float, float, int]) -> Solid:
    """What a cut with slanting walls removes; `how` is inset, chord and original id.

    Moved out by the inset square to itself, a wall leaning by a moves inset / cos a in the plane of
    the side. All walls move as far as the steepest, then run on down to the deeper floor.
    """
    inset, chord, original = how
    depth = cut.depth or 0.0
    by = inset / math.cos(math.radians(cut.slant))
    mouths, floors = ruled_polygons(cut.region, floor, by, chord)
    share = inset / depth
    floors = tuple(q + share * (q - p) for p, q in zip(mouths, floors, strict=True))
    span = board.box[cut.side.axis]
    face, far = float(span.hi), float(span.lo)
    outward = 1.0
    if not cut.side.positive:
        face, far, outward = far, face, -1.0
    levels = [(face + outward * thresholds.OVERSHOOT, mouths), (face, mouths)]
    levels.append((face - outward * (depth + inset), floors))
    if depth >= abs(face - far) - thresholds.SAME:
        levels[-1] = (far, floors)
        levels.append((far - outward * thresholds.OVERSHOOT, floors))
    return _stack(sorted(levels, key=lambda level: level[0]), cut.side.axis, original)


def _prism(loops: Sequence[Points], axis: Axis, lo: float, hi: float, original: int) -> Solid:
    """The loops, drawn in the plane of `axis`, swept from `lo` to `hi` along it."""
    return _stack([(lo, loops), (hi, loops)], axis, original)


def _stack(levels: Sequence[tuple[float, Sequence[Points]]], axis: Axis, original: int) -> Solid:
    """The solid through loops drawn at rising levels of `axis`, each with as many vertices as the
    one below, joined vertex to vertex.

    Built vertex by vertex rather than by the library's extrusion, so that every coordinate is the
    double it was drawn with. The plane's axes follow `axis` in cyclic order, so (u, v, axis) is
    right-handed on every side.
    """
    lowest, highest = levels[0][1], levels[-1][1]
    n = sum(len(loop) for loop in lowest)
    points = np.empty((len(levels) * n, 3))
    u, v = (axis + 1) % 3, (axis + 2) % 3
    for i, (level, loops) in enumerate(levels):
        flat = np.concatenate(loops)
        here = slice(i * n, (i + 1) * n)
        points[here, u], points[here, v], points[here, axis] = flat[:, 0], flat[:, 1], level
    bottom = np.asarray(manifold3d.triangulate(list(lowest)), dtype=np.int64)
    top = bottom
    if highest is not lowest:
        top = np.asarray(manifold3d.triangulate(list(highest)), dtype=np.int64)
    walls = [_band(lowest, n, i * n) for i in range(len(levels) - 1)]
    caps = (bottom[:, ::-1], top + (len(levels) - 1) * n)
    triangles = np.concatenate((*caps, *walls)).astype(np.uint64)
    mesh = manifold3d.Mesh64(
        points,
        np.ascontiguousarray(triangles),
        run_index=np.array([0, triangles.size], dtype=np.uint64),
        run_original_id=np.array([original], dtype=np.uint32),
    )
    return manifold3d.Manifold(mesh)


def _band(loops: Sequence[Points], n: int, first: int) -> Indices:
    """The triangles between `n` vertices from index `first` on and the `n` after them."""
    start = np.arange(n)
    end = start + 1
    at = 0
    for loop in loops:
        at += len(loop)
        end[at - 1] = at - len(loop)
    pairs = (np.stack((start, end, end + n), 1), np.stack((start, end + n, start + n), 1))
    band: Indices = np.concatenate(pairs) + first
    return band


def placed(solid: Solid, pose: tuple[Move, ...]) -> Solid:
    """The solid after the moves of a pose."""
    if not pose:
        return solid
    return solid.transform(np.ascontiguousarray(pose_matrix(pose)[:3, :]))


def in_world(board: Board, solid: Solid) -> Solid:
    """The solid of a board, put down in the finished piece."""
    return placed(solid, board.pose)


def sound(solid: Solid) -> Solid:
    """The solid itself once its status is known to be good; InternalError otherwise.

    A broken solid measures as volume 0 and passes its fault on to all that is made of it.
    """
    status = solid.status()
    if status != manifold3d.Error.NoError:
        raise InternalError(f"the solid of a board came out broken: {status.name}")
    return solid


def volume(solid: Solid) -> float:
    """Cubic mm."""
    return float(sound(solid).volume())


def bounds(solid: Solid) -> Bounds:
    """(least corner, greatest corner) of the box round a solid that is not empty, mm."""
    x0, y0, z0, x1, y1, z1 = sound(solid).bounding_box()
    return (x0, y0, z0), (x1, y1, z1)


def meet(a: Solid, b: Solid) -> bool:
    """Whether two twins share any space."""
    return not sound(a ^ b).is_empty()


def gap(a: Solid, b: Solid, most: float) -> float:
    """The least distance between two solids, mm; `most` when they are farther apart."""
    return float(sound(a).min_gap(sound(b), most))


def moved(solid: Solid, matrix: Points) -> Solid:
    """The solid turned and shifted by a 4x4 matrix."""
    return solid.transform(np.ascontiguousarray(matrix[:3, :]))


def swept(board: Board, cut: Cut, region: Region, chord: float) -> Solid:
    """A region drawn on the side of a cut, taken as deep as the cut goes, put down, mm."""
    lo, hi = depth_range(board, cut)
    loops = polygons(region, chord)
    original = manifold3d.Manifold.reserve_ids(1)
    return in_world(board, _prism(loops, cut.side.axis, lo, hi, original))


def silhouette(solid: Solid, above: float) -> tuple[Points, ...]:
    """What the part of a solid with z from `above` on covers, looked at along z: loops of (n, 2),
    outer ones counterclockwise, holes clockwise; none where nothing is there."""
    part = sound(solid.trim_by_plane((0.0, 0.0, 1.0), above))
    loops = () if part.is_empty() else part.project().to_polygons()
    return tuple(np.asarray(loop, dtype=np.float64) for loop in loops)


def without(solid: Solid, parts: Sequence[Solid]) -> Solid:
    """The solid less all of the parts."""
    return manifold3d.Manifold.batch_boolean([solid, *parts], manifold3d.OpType.Subtract)


def lumps(bodies: Bodies, i: int, j: int) -> tuple[tuple[Solid, float], ...]:
    """The separate pieces of what two boards share, with their volumes, greatest first.

    The pieces are those of twins eroded by a hair, the volumes add up to that of the true bodies,
    shared out in proportion. Only asked of boards whose twins meet; InternalError otherwise.
    """
    hair = thresholds.LUMP_INSET
    pieces = sound(bodies.twin(i, hair) ^ bodies.twin(j, hair)).decompose()
    pieces.sort(key=lambda piece: (-volume(piece), bounds(piece)))
    if not pieces:
        raise InternalError("two twins meet and their boards share nothing")
    scale = volume(bodies.true(i) ^ bodies.true(j)) / sum(volume(piece) for piece in pieces)
    return tuple((piece, volume(piece) * scale) for piece in pieces)


def facets(body: Body) -> Facets:
    """The body's triangles as plain arrays, in the board's own coordinates."""
    mesh = sound(body.solid).to_mesh64()
    triangles = np.asarray(mesh.tri_verts, dtype=np.int64)
    cut = np.full(len(triangles), -1, dtype=np.int64)
    starts = np.asarray(mesh.run_index, dtype=np.int64) // 3
    for run, original in enumerate(mesh.run_original_id):
        cut[starts[run] : starts[run + 1]] = body.ids.index(int(original)) - 1
    return Facets(np.asarray(mesh.vert_properties, dtype=np.float64)[:, :3], triangles, cut)


def surface(solid: Solid) -> tuple[Points, Indices]:
    """Points (n, 3), mm, and triangles (m, 3), counterclockwise from outside."""
    mesh = sound(solid).to_mesh64()
    points = np.asarray(mesh.vert_properties, dtype=np.float64)[:, :3]
    return points, np.asarray(mesh.tri_verts, dtype=np.int64)


Shape: TypeAlias = tuple[Box, tuple[tuple[Side, Region, Region | None, float | None], ...]]
"""All that decides the solid of a board in its own coordinates."""


def shape_of(plan: BoardPlan) -> Shape:
    """The shape of a board: boards that share it have the same body."""
    cuts = tuple((cut.side, cut.region, cut.floor, cut.depth) for cut in plan.cuts)
    return plan.board.box, cuts


class Bodies:
    """The bodies of a plan, each made once, when first asked for.

    Boards of one shape share their bodies, and pairs of shapes that lie alike share the answer
    whether they meet: a row of equal drawers costs as much as one. One of these lasts as long as
    one check or one round of measuring; `kept` holds what outlasts it.
    """

    def __init__(
        self, plan: CutPlan, chord: float = thresholds.CHECK_CHORD, kept: Kept | None = None
    ) -> None:
        self.plan = plan
        self.kept = kept or Kept()
        self.made = 0
        """How many solids have been made so far."""
        self._chord = chord
        self._index = {board.board.name: i for i, board in enumerate(plan.boards)}
        self._kinds: dict[int, int] = {}
        self._true: Table[tuple[int], Body] = self.kept.table(("true bodies", chord))
        self._volumes: Table[tuple[int], float] = self.kept.table(("volumes", chord))
        self._twins: Table[tuple[int, float], Body] = self.kept.table(("twins", chord))
        self._placed: Table[tuple[int, float, tuple[Move, ...]], Solid] = self.kept.table(
            ("twins put down", chord)
        )
        self._faces: Table[tuple[int, float, tuple[Move, ...]], Faces] = self.kept.table(
            ("faces", chord)
        )
        self._met: Table[tuple[int, int, tuple[Move, ...], tuple[Move, ...]], bool] = (
            self.kept.table(("twins that meet", chord), 2)
        )

    @cached_property
    def boxes(self) -> Boxes:
        """The box round each blank in the finished piece."""
        return world_boxes([one.board for one in self.plan.boards])

    def index(self, name: str) -> int | None:
        """Where the board stands in the plan; None when it is not there or was left out."""
        return self._index.get(name)

    def body(self, index: int) -> Body:
        """The true body in the board's own coordinates."""
        key = (self.kind(index),)
        if key not in self._true:
            self._true[key] = true_body(self.plan.boards[index], self._chord)
            self.made += 1
        return replace(self._true[key], plan=self.plan.boards[index])

    def volume(self, index: int) -> float:
        """The wood left of a board, cubic mm."""
        key = (self.kind(index),)
        if key not in self._volumes:
            self._volumes[key] = volume(self.body(index).solid)
        return self._volumes[key]

    def true(self, index: int) -> Solid:
        """The true body, put down in the finished piece."""
        return in_world(self.plan.boards[index].board, self.body(index).solid)

    def twin(self, index: int, inset: float = thresholds.TWIN_INSET) -> Solid:
        """The twin, put down in the finished piece."""
        return self._put_down(index, inset, self.plan.boards[index].board.pose)

    def meet(self, i: int, j: int) -> bool:
        """Whether the twins of two boards share any space.

        Moves that both boards make last are left out: they change nothing between the two.
        """
        one, other = (self.plan.boards[k].board.pose for k in (i, j))
        one, other = without_shared_end(one, other)
        key = (self.kind(i), self.kind(j), one, other)
        if key not in self._met:
            inset = thresholds.TWIN_INSET
            self._met[key] = meet(self._put_down(i, inset, one), self._put_down(j, inset, other))
        return self._met[key]

    def kind(self, index: int) -> int:
        """The number of a board's shape: boards of one shape have the same, for as long as `kept`
        lasts."""
        if index not in self._kinds:
            self._kinds[index] = self.kept.number(shape_of(self.plan.boards[index]))
        return self._kinds[index]

    def _put_down(self, index: int, inset: float, pose: tuple[Move, ...]) -> Solid:
        key = (self.kind(index), inset, pose)
        if key not in self._placed:
            self._placed[key] = placed(self.twin_body(index, inset).solid, pose)
        return self._placed[key]

    def twin_body(self, index: int, inset: float = thresholds.TWIN_INSET) -> Body:
        """The twin in the board's own coordinates."""
        key = (self.kind(index), inset)
        if key not in self._twins:
            self._twins[key] = twin(self.plan.boards[index], inset, self._chord)
            self.made += 1
        return replace(self._twins[key], plan=self.plan.boards[index])

    def faces(
        self,
        index: int,
        pose: tuple[Move, ...] | None = None,
        inset: float = thresholds.TWIN_INSET,
    ) -> Faces:
        """The twin's triangles, put down in the finished piece, or by another pose."""
        body = self.twin_body(index, inset)
        moves = body.plan.board.pose if pose is None else pose
        key = (self.kind(index), inset, moves)
        if key not in self._faces:
            seen = facets(body)
            corners = seen.corners
            if moves:
                matrix = pose_matrix(moves)
                corners = corners @ matrix[:3, :3].T + matrix[:3, 3]
            self._faces[key] = Faces(corners, seen.cut, inset)
        return self._faces[key]
