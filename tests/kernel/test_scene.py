"""What all mesh files share: the flat frame and the rounding to 32 bits."""

from collections import Counter
from dataclasses import replace
from itertools import permutations

import numpy as np
import pytest
from dryfit.kernel.export.scene import Part, flat_matrix, parts, single_precision
from handmade import PLY, bench_plan, board_plan, plan_of

SIZES = (300.0, 80.0, 12.0)


@pytest.mark.parametrize("axes", list(permutations(range(3))))
def test_a_board_lies_flat_whichever_way_it_stood_and_is_never_mirrored(
    axes: tuple[int, int, int],
) -> None:
    spans = [(0.0, 0.0)] * 3
    for axis, size in zip(axes, SIZES, strict=True):
        spans[axis] = (7.0 * axis, 7.0 * axis + size)
    (part,) = parts(plan_of("One", board_plan("one", PLY, (spans[0], spans[1], spans[2]))), 0.01)
    assert part.sizes == SIZES
    assert np.linalg.det(flat_matrix(part.plan)[:3, :3]) == pytest.approx(1)
    assert part.points.min(axis=0) == pytest.approx(np.zeros(3))
    assert part.points.max(axis=0) == pytest.approx(np.array(SIZES))
    assert part.put_points.min(axis=0) == pytest.approx(np.array([low for low, _ in spans]))
    assert part.put_points.max(axis=0) == pytest.approx(np.array([high for _, high in spans]))


def edges_used_once_each_way(triangles: np.ndarray) -> bool:
    edges = Counter(map(tuple, triangles[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2).tolist()))
    return all(count == 1 and edges[b, a] == 1 for (a, b), count in edges.items())


def test_rounding_keeps_runs_and_closes_what_it_shrinks() -> None:
    right = parts(bench_plan(), 0.005)[1]
    whole = single_precision(right, right.points)
    assert len(whole.triangles) == len(right.triangles)
    assert whole.faces == right.faces

    near = split_at_an_edge(right)
    rounded = single_precision(near, near.points)
    assert len(rounded.triangles) == len(right.triangles)
    assert edges_used_once_each_way(near.triangles)
    assert edges_used_once_each_way(rounded.triangles)
    assert [face.count for face in rounded.faces] == [face.count for face in right.faces]


def split_at_an_edge(part: Part) -> Part:
    """The part with a new corner 1e-9 mm from an old one, on an edge inside the first run."""
    first = part.triangles[: part.faces[0].count]
    edges = {
        (a, b): k
        for k, t in enumerate(first.tolist())
        for a, b in zip(t, [*t[1:], t[0]], strict=True)
    }
    (a, b), one = next((edge, k) for edge, k in edges.items() if edge[::-1] in edges)
    other = edges[b, a]
    along = part.points[b] - part.points[a]
    new = len(part.points)
    points = np.concatenate([part.points, [part.points[a] + 1e-9 * along / np.linalg.norm(along)]])
    made = []
    for k, (start, end) in ((one, (a, b)), (other, (b, a))):
        (apex,) = set(first[k].tolist()) - {a, b}
        made += [(start, new, apex), (new, end, apex)]
    kept = np.delete(part.triangles, [one, other], axis=0)
    faces = (
        replace(part.faces[0], count=part.faces[0].count + 2),
        *(replace(face, first=face.first + 2) for face in part.faces[1:]),
    )
    return replace(part, points=points, triangles=np.concatenate([made, kept]), faces=faces)
