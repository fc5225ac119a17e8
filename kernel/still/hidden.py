"""Which part of every face of a scene does a viewer see?

In come triangle meshes in view coordinates: u to the right, v up, w towards the viewer, mm. Out
come the faces turned towards the viewer, each with the flat region of it that nothing nearer
covers. Nothing is sorted by depth: for each pair of faces the plane of the one is compared with the
plane of the other, and the farther one loses the region where the other is nearer. So faces that
overlap in a ring, and boards that wrongly run into each other, come out right too.

Faces whose meeting edge is a step of a curve are told apart from true edges, so that a drawing can
leave such steps out. Nothing here chooses a colour, a line or a scale.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .flats import Flat, flat_area, flat_both, flat_less, flat_loops, flat_of

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

COPLANAR = 1e-3
"""Sine of the angle up to which two neighbouring triangles are one flat face: twelve times less
than the step between chords on a circle of 1 m radius."""

SMOOTH = math.cos(math.radians(25))
"""Cosine of the angle up to which two neighbouring faces are steps of one curve. Arcs are drawn in
steps of 22.5 degrees or less; a relief disc meets its wall at 45 degrees."""

SLIVER = 1e-5
"""Triangles lower than this, mm, have no direction worth reading and join their neighbour."""

NEARER = 1e-4
"""How much nearer, mm, a face must be to hide another one; closer than this they are flush."""

EDGE_ON = 1e-4
"""Least cosine between a face and the line of sight; a face seen narrower has no drawn width."""


@dataclass(frozen=True, slots=True)
class Mesh:
    """One body in view coordinates: `points` (n, 3); `triangles` (m, 3), counterclockwise from
    outside."""

    points: Floats
    triangles: Ints


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """A flat face turned towards the viewer.

    `body` counts the meshes; `normal` points out, in view coordinates; `whole` is its projection;
    `slope` gives its depth, w = slope[0] u + slope[1] v + slope[2]; `steps` are the projected edges
    it shares with a neighbouring step of the same curve, each (u0, v0, u1, v1).
    """

    body: int
    normal: tuple[float, float, float]
    whole: Flat
    box: tuple[float, float, float, float]
    slope: tuple[float, float, float]
    steps: tuple[tuple[float, float, float, float], ...]


@dataclass(frozen=True, slots=True)
class Seen:
    """What is seen of a face: closed loops, outer ones counterclockwise, holes clockwise."""

    face: Face
    loops: tuple[Floats, ...]
    region: Flat


def seen_faces(meshes: tuple[Mesh, ...]) -> tuple[Seen, ...]:
    """The visible region of each face turned to the viewer, faces wholly hidden left out."""
    faces = tuple(face for body, mesh in enumerate(meshes) for face in front_faces(mesh, body))
    if not faces:
        return ()
    boxes = np.array([face.box for face in faces])
    slopes = np.array([face.slope for face in faces])
    seen = []
    for index, face in enumerate(faces):
        region = _uncovered(index, faces, boxes, slopes)
        loops = tuple(loop for loop in flat_loops(region) if _has_width(loop))
        if loops:
            seen.append(Seen(face, loops, region))
    return tuple(seen)


def front_faces(mesh: Mesh, body: int = 0) -> tuple[Face, ...]:
    """The flat faces of one mesh turned towards the viewer, in the order of their triangles."""
    pairs, crosses = _neighbours(mesh.triangles), _crosses(mesh)
    lengths = np.linalg.norm(crosses, axis=1)
    normals = crosses / np.maximum(lengths, 1e-300)[:, None]
    labels = _connected(len(mesh.triangles), _same_plane(mesh, pairs, normals, lengths))
    names, labels = np.unique(labels, return_inverse=True)
    sums = np.zeros((len(names), 3))
    np.add.at(sums, labels, crosses)
    units = sums / np.maximum(np.linalg.norm(sums, axis=1), 1e-300)[:, None]
    front = units[:, 2] > EDGE_ON
    steps = _steps(mesh, pairs, labels, units, front)
    order = np.argsort(labels, kind="stable")
    starts = np.searchsorted(labels[order], np.arange(len(names) + 1))
    faces = []
    for name in np.flatnonzero(front):
        triangles = mesh.triangles[order[starts[name] : starts[name + 1]]]
        faces.append(_face(mesh, body, triangles, units[name], steps.get(int(name), ())))
    return tuple(faces)


def _face(
    mesh: Mesh,
    body: int,
    triangles: Ints,
    normal: Floats,
    steps: tuple[tuple[float, float, float, float], ...],
) -> Face:
    corners = mesh.points[triangles]
    flat = corners[:, :, :2]
    points = flat.reshape(-1, 2)
    n_u, n_v, n_w = (float(c) for c in normal)
    level = float(np.mean(corners.reshape(-1, 3) @ normal))
    low, high = points.min(axis=0), points.max(axis=0)
    return Face(
        body=body,
        normal=(n_u, n_v, n_w),
        whole=flat_of(tuple(flat)),
        box=(float(low[0]), float(low[1]), float(high[0]), float(high[1])),
        slope=(-n_u / n_w, -n_v / n_w, level / n_w),
        steps=steps,
    )


def _crosses(mesh: Mesh) -> Floats:
    """For every triangle its outward normal as long as twice its area."""
    a, b, c = (mesh.points[mesh.triangles[:, k]] for k in range(3))
    crosses: Floats = np.cross(b - a, c - a)
    return crosses


def _neighbours(triangles: Ints) -> Ints:
    """Rows (triangle, triangle, from, to) for every edge two triangles share, each once."""
    count = len(triangles)
    tails, heads = triangles.T.reshape(-1), triangles[:, [1, 2, 0]].T.reshape(-1)
    owner = np.tile(np.arange(count), 3)
    there = np.lexsort((owner, heads, tails))
    back = np.lexsort((owner, tails, heads))
    left, right = owner[there], owner[back]
    rows = np.stack([left, right, tails[there], heads[there]], axis=1)
    paired = (tails[there] == heads[back]) & (heads[there] == tails[back])
    once = rows[:, 2] < rows[:, 3]
    kept: Ints = rows[paired & once].astype(np.int64)
    return kept


def _same_plane(mesh: Mesh, pairs: Ints, normals: Floats, lengths: Floats) -> Ints:
    """The neighbours that lie in one plane, slivers tied to the neighbour on their longest edge."""
    left, right = pairs[:, 0], pairs[:, 1]
    turn = np.linalg.norm(np.cross(normals[left], normals[right]), axis=1)
    alike = (turn < COPLANAR) & (np.sum(normals[left] * normals[right], axis=1) > 0)
    run = np.linalg.norm(mesh.points[pairs[:, 2]] - mesh.points[pairs[:, 3]], axis=1)
    longest = np.zeros(len(mesh.triangles))
    np.maximum.at(longest, left, run)
    np.maximum.at(longest, right, run)
    thin = lengths < SLIVER * longest
    tied = (thin[left] & (run >= longest[left])) | (thin[right] & (run >= longest[right]))
    sound = ~thin[left] & ~thin[right]
    linked: Ints = pairs[(alike & sound) | tied][:, :2]
    return linked


def _connected(count: int, links: Ints) -> Ints:
    """For each of `count` things the least index it is linked with, directly or not."""
    labels = np.arange(count)
    while True:
        lower = labels.copy()
        np.minimum.at(lower, links[:, 0], labels[links[:, 1]])
        np.minimum.at(lower, links[:, 1], labels[links[:, 0]])
        lower = lower[lower]
        if np.array_equal(lower, labels):
            return labels
        labels = lower


def _steps(
    mesh: Mesh, pairs: Ints, labels: Ints, units: Floats, front: NDArray[np.bool_]
) -> dict[int, tuple[tuple[float, float, float, float], ...]]:
    """For each face its projected edges that are a step of a curve and not a true edge."""
    left, right = labels[pairs[:, 0]], labels[pairs[:, 1]]
    smooth = (left != right) & front[left] & front[right]
    smooth &= np.sum(units[left] * units[right], axis=1) > SMOOTH
    found: dict[int, list[tuple[float, float, float, float]]] = {}
    for a, b, tail, head in zip(
        left[smooth], right[smooth], pairs[smooth, 2], pairs[smooth, 3], strict=True
    ):
        (u0, v0), (u1, v1) = mesh.points[tail, :2], mesh.points[head, :2]
        for name in (int(a), int(b)):
            found.setdefault(name, []).append((float(u0), float(v0), float(u1), float(v1)))
    return {name: tuple(edges) for name, edges in found.items()}


def _uncovered(index: int, faces: tuple[Face, ...], boxes: Floats, slopes: Floats) -> Flat:
    """The face's projection less everything nearer; covers are taken off in growing handfuls, so
    that a face soon hidden costs little."""
    region = faces[index].whole
    covers = _covers(index, faces, boxes, slopes)
    taken, step = 0, 4
    while taken < len(covers) and flat_area(region) > 0:
        handful = covers[taken : taken + step]
        parts = tuple(_nearer_part(faces[c.face], faces[index], c.box, c.whole) for c in handful)
        region = flat_less(region, parts)
        taken, step = taken + step, step * 4
    return region


@dataclass(frozen=True, slots=True)
class Cover:
    """A face that may hide another within `box`; `whole` when it is nearer all over the box."""

    face: int
    box: tuple[float, float, float, float]
    whole: bool


def _covers(
    index: int, faces: tuple[Face, ...], boxes: Floats, slopes: Floats
) -> tuple[Cover, ...]:
    """The faces nearer than a face somewhere in the box they share, the largest box first.

    Of two flush faces that wrongly share space the one of the earlier body counts as nearer.
    """
    box = boxes[index]
    meets = (boxes[:, 0] < box[2]) & (boxes[:, 2] > box[0])
    meets &= (boxes[:, 1] < box[3]) & (boxes[:, 3] > box[1])
    meets[index] = False
    others = np.flatnonzero(meets)
    low = np.maximum(boxes[others, :2], box[:2])
    high = np.minimum(boxes[others, 2:], box[2:])
    ahead = _leads(slopes[others] - slopes[index], low, high)
    flush = np.all(np.abs(ahead) <= NEARER, axis=1)
    bodies = np.array([faces[other].body for other in others], dtype=np.int64)
    counts = (np.max(ahead, axis=1) > NEARER) | (flush & (bodies < faces[index].body))
    size = np.prod(high - low, axis=1)
    ranked = sorted(np.flatnonzero(counts), key=lambda k: (-size[k], k))
    return tuple(
        Cover(
            int(others[k]),
            (float(low[k, 0]), float(low[k, 1]), float(high[k, 0]), float(high[k, 1])),
            bool(np.min(ahead[k]) >= -NEARER),
        )
        for k in ranked
    )


def _leads(difference: Floats, low: Floats, high: Floats) -> Floats:
    """How much nearer each other plane is at the four corners of each box, (n, 4)."""
    corners = [(low[:, 0], low[:, 1]), (high[:, 0], low[:, 1])]
    corners += [(high[:, 0], high[:, 1]), (low[:, 0], high[:, 1])]
    return np.stack(
        [difference[:, 0] * u + difference[:, 1] * v + difference[:, 2] for u, v in corners],
        axis=1,
    )


def _nearer_part(
    cover: Face, face: Face, box: tuple[float, float, float, float], whole: bool
) -> Flat:
    """The part of `cover` inside `box` that lies nearer than the plane of `face`."""
    if whole:
        return cover.whole
    slope = tuple(a - b for a, b in zip(cover.slope, face.slope, strict=True))
    u0, v0, u1, v1 = box
    corners = [(u0, v0), (u1, v0), (u1, v1), (u0, v1)]
    leads = [slope[0] * u + slope[1] * v + slope[2] for u, v in corners]
    kept: list[tuple[float, float]] = []
    for k, (point, lead) in enumerate(zip(corners, leads, strict=True)):
        after, lead_after = corners[(k + 1) % 4], leads[(k + 1) % 4]
        if lead > 0:
            kept.append(point)
        if (lead > 0) != (lead_after > 0):
            t = lead / (lead - lead_after)
            kept.append(
                (point[0] + t * (after[0] - point[0]), point[1] + t * (after[1] - point[1]))
            )
    return flat_both(cover.whole, flat_of((np.array(kept),)))


def _has_width(loop: Floats) -> bool:
    """Whether a loop is more than the thread of width that rounding leaves between two faces."""
    after = np.roll(loop, -1, axis=0)
    area = abs(float(np.sum(loop[:, 0] * after[:, 1] - after[:, 0] * loop[:, 1]))) / 2
    around = float(np.sum(np.linalg.norm(after - loop, axis=1)))
    return area > NEARER * around
