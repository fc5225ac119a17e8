"""What is seen, held against rays: for points of random scenes, the body whose polygon covers the
point is the body that the first triangle on the line of sight belongs to (plain numpy, every
triangle tried, no polygons)."""

import math

import numpy as np
import pytest
from dryfit.kernel.still.flats import flat_area, flat_union
from dryfit.kernel.still.hidden import Mesh, Seen, front_faces, seen_faces
from numpy.typing import NDArray
from shapely import Polygon, union_all
from shapely.geometry import Point

Floats = NDArray[np.float64]

BOX = np.array(
    [
        (0, 2, 1), (0, 3, 2), (4, 5, 6), (4, 6, 7), (0, 1, 5), (0, 5, 4),
        (1, 2, 6), (1, 6, 5), (2, 3, 7), (2, 7, 6), (3, 0, 4), (3, 4, 7),
    ]
)  # fmt: skip


def box(low: tuple[float, ...], high: tuple[float, ...], turn: Floats | None = None) -> Mesh:
    (x0, y0, z0), (x1, y1, z1) = low, high
    flat = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    points = np.array([(x, y, z) for z in (z0, z1) for x, y in flat], dtype=float)
    return Mesh(points if turn is None else points @ turn.T, BOX.astype(np.int64))


def turned(random: np.random.Generator) -> Floats:
    q, r = np.linalg.qr(random.normal(size=(3, 3)))
    q = q * np.sign(np.diag(r))
    return q if np.linalg.det(q) > 0 else -q


def body_by_rays(meshes: tuple[Mesh, ...], point: Floats) -> tuple[int, float]:
    """(nearest body or -1, by how much it is nearer than the next or how near an edge is)."""
    hits: list[tuple[float, int]] = []
    doubt = math.inf
    for body, mesh in enumerate(meshes):
        a, b, c = (mesh.points[mesh.triangles[:, k]] for k in range(3))
        u, v = b - a, c - a
        area = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
        off = point - a[:, :2]
        flat = np.abs(area) < 1e-9
        area = np.where(flat, 1.0, area)
        s = (off[:, 0] * v[:, 1] - off[:, 1] * v[:, 0]) / area
        t = (u[:, 0] * off[:, 1] - u[:, 1] * off[:, 0]) / area
        inside = np.minimum(np.minimum(s, t), 1 - s - t)
        doubt = min(doubt, float(np.abs(inside[~flat]).min()))
        depth = a[:, 2] + s * u[:, 2] + t * v[:, 2]
        hits += [(float(depth[k]), body) for k in np.flatnonzero(~flat & (inside > 0))]
    if not hits:
        return -1, doubt
    hits.sort(reverse=True)
    others = [depth for depth, body in hits if body != hits[0][1]]
    return hits[0][1], min(doubt, hits[0][0] - others[0]) if others else doubt


def body_by_polygons(seen: tuple[Seen, ...], point: Floats) -> set[int]:
    """The bodies whose visible loops go round the point an odd number of times."""
    found = []
    for s in seen:
        rings = [Polygon(loop) for loop in s.loops]
        if sum(ring.contains(Point(*point)) for ring in rings) % 2:
            found.append(s.face.body)
    return set(found) or {-1}


def check_against_rays(meshes: tuple[Mesh, ...], random: np.random.Generator, count: int) -> int:
    seen = seen_faces(meshes)
    every = np.concatenate([mesh.points for mesh in meshes])
    low, high = every[:, :2].min(axis=0), every[:, :2].max(axis=0)
    compared = 0
    for point in random.uniform(low, high, size=(count, 2)):
        body, doubt = body_by_rays(meshes, point)
        if doubt > 1e-3:
            assert body_by_polygons(seen, point) == {body}, point
            compared += 1
    return compared


@pytest.mark.parametrize("seed", range(6))
def test_boards_in_any_pose_even_run_into_each_other(seed: int) -> None:
    random = np.random.default_rng(seed)
    meshes = tuple(
        box(
            tuple(low := random.uniform(-60, 20, 3)),
            tuple(low + random.uniform(8, 90, 3)),
            turned(random),
        )
        for _ in range(9)
    )
    assert check_against_rays(meshes, random, 120) > 90


@pytest.mark.parametrize("seed", range(3))
def test_boards_square_to_each_other_and_flush(seed: int) -> None:
    """A grid of boxes with faces in common planes, seen askew, some left out."""
    random = np.random.default_rng(100 + seed)
    view = turned(random)
    meshes = tuple(
        box((i * 20, j * 20, k * 20), (i * 20 + 20, j * 20 + 20, k * 20 + 20), view)
        for i in range(3)
        for j in range(3)
        for k in range(3)
        if random.random() < 0.6
    )
    assert check_against_rays(meshes, random, 120) > 60


def test_a_ring_of_three_boards_each_over_the_next() -> None:
    def bar(angle: float, tilt: float) -> Mesh:
        c, s = math.cos(angle), math.sin(angle)
        ct, st = math.cos(tilt), math.sin(tilt)
        tip = np.array([(ct, 0, -st), (0, 1, 0), (st, 0, ct)])
        spin = np.array([(c, -s, 0), (s, c, 0), (0, 0, 1)])
        flat = box((-60, 16, -3), (60, 28, 3), tip)
        return Mesh(flat.points @ spin.T, flat.triangles)

    meshes = tuple(bar(k * 2 * math.pi / 3, 0.25) for k in range(3))
    random = np.random.default_rng(7)
    assert check_against_rays(meshes, random, 300) > 250
    seen = seen_faces(meshes)
    tops = [s for s in seen if s.face.normal[2] > 0.9]
    assert {s.face.body for s in tops} == {0, 1, 2}
    assert all(flat_area(s.region) < flat_area(s.face.whole) - 50 for s in tops)


@pytest.mark.parametrize("seed", range(4))
def test_what_is_seen_adds_up_to_the_silhouette(seed: int) -> None:
    """The silhouette by shapely's union of every triangle, no facing asked."""
    random = np.random.default_rng(40 + seed)
    meshes = tuple(
        box(
            tuple(low := random.uniform(-60, 20, 3)),
            tuple(low + random.uniform(8, 90, 3)),
            turned(random),
        )
        for _ in range(12)
    )
    triangles = [Polygon(m.points[t][:, :2]) for m in meshes for t in m.triangles]
    silhouette = union_all([t for t in triangles if t.area > 1e-9]).area
    seen = seen_faces(meshes)
    assert sum(flat_area(s.region) for s in seen) == pytest.approx(silhouette, rel=1e-6)
    assert flat_area(flat_union(tuple(s.region for s in seen))) == pytest.approx(
        silhouette, rel=1e-6
    )


def test_a_box_behind_a_box_is_hidden() -> None:
    front = box((-20, -20, 0), (20, 20, 10))
    behind = box((-10, -10, -30), (10, 10, -20))
    assert {s.face.body for s in seen_faces((behind, front))} == {1}


def test_a_box_under_a_box_shows_where_it_sticks_out() -> None:
    front = box((0, 0, 0), (20, 20, 10))
    behind = box((10, 0, -10), (40, 20, 0))
    areas = {s.face.body: flat_area(s.region) for s in seen_faces((front, behind))}
    assert areas == {0: pytest.approx(400), 1: pytest.approx(400)}


def test_equal_depth_goes_to_the_first_body() -> None:
    one = box((0, 0, 0), (20, 20, 10))
    two = box((10, 0, 0), (30, 20, 10))
    areas = {s.face.body: flat_area(s.region) for s in seen_faces((one, two))}
    assert areas == {0: pytest.approx(400), 1: pytest.approx(200)}


def test_triangles_of_one_plane_are_one_face() -> None:
    tilt = np.array([(1, 0, 0), (0, 0.8, -0.6), (0, 0.6, 0.8)])
    faces = front_faces(box((0, 0, 0), (20, 30, 10), tilt))
    assert len(faces) == 2
    assert sorted(round(flat_area(f.whole)) for f in faces) == [120, 480]
    assert all(f.steps == () for f in faces)


def test_steps_of_a_curve_are_no_edges() -> None:
    count = 32
    angles = np.arange(count) * 2 * math.pi / count
    ring = np.stack([np.zeros(count), 10 * np.cos(angles), 10 * np.sin(angles)], axis=1)
    points = np.concatenate([ring, ring + np.array([50.0, 0, 0])])
    triangles = []
    for k in range(count):
        after = (k + 1) % count
        triangles += [(k, after, after + count), (k, after + count, k + count)]
        if 0 < k < count - 1:
            triangles += [(0, k + 1, k), (count, count + k, count + k + 1)]
    mesh = Mesh(points, np.array(triangles))
    faces = front_faces(mesh)
    # 16 strips lie towards the viewer; between them are 15 steps, each known to both sides
    assert len(faces) == 16
    assert sum(len(face.steps) for face in faces) == 30
