"""What do all mesh files of a piece share?

Each board gives a `Part`: its mesh in its flat frame, the triangles each cut made, and the matrix
that puts it down in the finished piece. In the flat frame the board lies as on the bench: length
along x, width along y, thickness along z, the blank's lower corner at the origin. Where length,
width and thickness would make a left-handed frame, the width is counted from the far edge, so that
a part is never its own mirror image. Lengths are mm and doubles; files round on their own.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from ..board import Axis, Box, Run, Span
from ..cuts import Cut
from ..frames import pose_matrix
from ..plan import BoardPlan, CutPlan
from ..region import Point2, Region, moved
from ..solids import Shape, facets, shape_of, true_body
from ..stock import Stock

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class CutFaces:
    """Triangles `first` to `first + count`; `cut` counts the plan's cuts, None for the blank."""

    cut: int | None
    first: int
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A board as a mesh: `points` (n, 3) in the flat frame, `triangles` (m, 3) outward by the right
    hand, in the order of `faces`; `put` (4, 4) takes flat to finished coordinates."""

    plan: BoardPlan
    stock: Stock
    points: Floats
    triangles: Ints
    faces: tuple[CutFaces, ...]
    put: Floats

    @property
    def sizes(self) -> tuple[float, float, float]:
        """Length, width and thickness of the blank, mm."""
        run = self.plan.run
        length, width, thick = (
            float(self.plan.board.box[axis].size) for axis in (run.length, run.width, run.thick)
        )
        return length, width, thick

    @property
    def put_points(self) -> Floats:
        """The points in the finished piece's coordinates."""
        placed: Floats = self.points @ self.put[:3, :3].T + self.put[:3, 3]
        return placed


@dataclass(frozen=True, slots=True)
class Part32:
    """A part's mesh as viewers and slicers hold it; fields as in `Part`."""

    points: NDArray[np.float32]
    triangles: Ints
    faces: tuple[CutFaces, ...]


@dataclass(frozen=True, slots=True)
class Meshed:
    """A body's mesh along its board's own axes, the blank's lower corner at the origin; fields as
    in `Part`."""

    points: Floats
    triangles: Ints
    faces: tuple[CutFaces, ...]


class Meshes:
    """The meshes of boards, one for all boards of one shape, kept from one plan to the next.

    Whoever shows a design again and again as it changes keeps one of these: only boards whose
    shape is new are cut anew, wherever they stand. What a plan does not use is forgotten with the
    next.
    """

    def __init__(self, chord: float) -> None:
        self.chord = chord
        self.made = 0
        self._known: dict[Shape, tuple[Shape, Meshed]] = {}

    def of(self, plan: CutPlan) -> tuple[Meshed, ...]:
        """The mesh of each board of the plan, in its order."""
        shapes = [shape_of(board) for board in plan.boards]
        by_form = dict(self._known.values())
        kept: dict[Shape, tuple[Shape, Meshed]] = {}
        for board, shape in zip(plan.boards, shapes, strict=True):
            if shape not in kept:
                kept[shape] = self._known.get(shape) or self._formed(board, by_form)
        self._known = kept
        return tuple(kept[shape][1] for shape in shapes)

    def _formed(self, board: BoardPlan, by_form: dict[Shape, Meshed]) -> tuple[Shape, Meshed]:
        """A board's shape at the origin, and its mesh; noted in `by_form` where it is new."""
        cornered = _at_origin(board)
        form = shape_of(cornered)
        if form not in by_form:
            self.made += 1
            by_form[form] = _meshed(cornered, self.chord)
        return form, by_form[form]


def _at_origin(plan: BoardPlan) -> BoardPlan:
    """The board with its blank's lower corner at the origin of its own coordinates: one that only
    stands elsewhere comes out the same. Cuts are drawn to 1e-9 mm, within which the sums of their
    doubles differ from place to place."""
    box = plan.board.box
    low = [float(box[axis].lo) for axis in Axis]

    def cornered(cut: Cut) -> Cut:
        u, v = low[(cut.side.axis + 1) % 3], low[(cut.side.axis + 2) % 3]

        def point(p: Point2) -> Point2:
            return round(p[0] - u, 9) + 0.0, round(p[1] - v, 9) + 0.0

        def region(old: Region) -> Region:
            return moved(old, point, mirrored=False)

        floor = None if cut.floor is None else region(cut.floor)
        return replace(cut, region=region(cut.region), asked=region(cut.asked), floor=floor)

    blank = Box(*(Span(Fraction(0), box[axis].size) for axis in Axis))
    board = replace(plan.board, box=blank)
    return replace(plan, board=board, cuts=tuple(cornered(cut) for cut in plan.cuts))


def parts(plan: CutPlan, chord: float, meshes: Meshes | None = None) -> tuple[Part, ...]:
    """The meshes of all boards in the order written, arcs at most `chord` mm off their chords.

    `meshes`, made for the same chord, gives those it still knows.
    """
    stocks = {stock.name: stock for stock in plan.design.stocks}
    made = (meshes or Meshes(chord)).of(plan)
    return tuple(
        _part(board, stocks[board.board.stock], mesh)
        for board, mesh in zip(plan.boards, made, strict=True)
    )


def _meshed(plan: BoardPlan, chord: float) -> Meshed:
    own = facets(true_body(plan, chord))
    order = np.argsort(own.cut, kind="stable")
    points, triangles = _in_order_of_use(own.points, own.triangles[order])
    return Meshed(points, triangles, _cut_faces(own.cut[order]))


def _part(plan: BoardPlan, stock: Stock, mesh: Meshed) -> Part:
    lay = flat_matrix(plan)
    corner = lay @ [*(float(plan.board.box[axis].lo) for axis in Axis), 1.0]
    return Part(
        plan=plan,
        stock=stock,
        points=mesh.points @ lay[:3, :3].T + corner[:3],
        triangles=mesh.triangles,
        faces=mesh.faces,
        put=pose_matrix(plan.board.pose) @ np.linalg.inv(lay),
    )


def flat_matrix(plan: BoardPlan) -> Floats:
    """The 4x4 matrix from a board's own coordinates to its flat frame; entries 0, 1, -1 and mm."""
    run, box = plan.run, plan.board.box
    mirrored = _is_odd(run)
    matrix = np.eye(4)
    matrix[:3, :3] = 0.0
    for row, axis in enumerate((run.length, run.width, run.thick)):
        far = mirrored and axis == run.width
        matrix[row, axis] = -1.0 if far else 1.0
        matrix[row, 3] = float(box[axis].hi if far else -box[axis].lo)
    return matrix


def _is_odd(run: Run) -> bool:
    """Whether length, width, thickness in this order make a left-handed frame."""
    return (run.width - run.length) % 3 != 1


def _in_order_of_use(points: Floats, triangles: Ints) -> tuple[Floats, Ints]:
    """Points numbered as the triangles first use them, unused ones dropped."""
    used, first, names = np.unique(triangles.reshape(-1), return_index=True, return_inverse=True)
    by_use = np.argsort(first, kind="stable")
    number = np.empty(len(used), dtype=np.int64)
    number[by_use] = np.arange(len(used))
    return points[used[by_use]], number[names].reshape(-1, 3)


def _cut_faces(cuts: Ints) -> tuple[CutFaces, ...]:
    names, first, count = np.unique(cuts, return_index=True, return_counts=True)
    return tuple(
        CutFaces(None if name < 0 else int(name), int(at), int(number))
        for name, at, number in zip(names, first, count, strict=True)
    )


def single_precision(part: Part, points: Floats) -> Part32:
    """The part's mesh with `points` (its own, or put down) as 32-bit floats, whole 1e-6 mm.

    Triangles with an edge that rounding shrinks to nothing are dropped and their corners run
    together, so that the mesh stays watertight; points that only happen to fall on one place stay
    apart.
    """
    rounded = (np.round(points, 6) + 0.0).astype(np.float32)
    merged = _merged_ends(rounded, part.triangles)
    triangles = merged[part.triangles]
    a, b, c = triangles.T
    kept = (a != b) & (b != c) & (c != a)
    before = np.concatenate([[0], np.cumsum(kept)])
    faces = tuple(
        CutFaces(f.cut, int(before[f.first]), int(before[f.first + f.count] - before[f.first]))
        for f in part.faces
    )
    used, numbers = np.unique(triangles[kept], return_inverse=True)
    return Part32(rounded[used], numbers.reshape(-1, 3), faces)


def _merged_ends(points: NDArray[np.float32], triangles: Ints) -> Ints:
    """For each point the least one it falls together with along edges."""
    edges = triangles[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
    shrunk = edges[np.all(points[edges[:, 0]] == points[edges[:, 1]], axis=1)]
    merged = np.arange(len(points))
    while np.any(merged[shrunk[:, 0]] != merged[shrunk[:, 1]]):
        np.minimum.at(merged, shrunk[:, 0], merged[shrunk[:, 1]])
        np.minimum.at(merged, shrunk[:, 1], merged[shrunk[:, 0]])
    return merged
